package bay

import (
	"errors"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// blind takes a second measurement without sight of the first, and then shows both beside each
// other. It is a screen of its own so that the first values are not in view.
type blind struct {
	card  *job.Card
	at    procedures.Ref
	check *procedures.PlanCheck
	by    register.Person // who measures; the one signed in, or another whose code was right
	with  string
	tools []string
	form  *form
	done  bool
}

// Names of the dialogs of the second measurement.
const (
	blindWho  = "blind-who"
	blindTool = "blind-tool"
)

func newBlind(c *job.Card, at procedures.Ref, pc *procedures.PlanCheck) *blind {
	return &blind{card: c, at: at, check: pc}
}

// first is who took the first measurement.
func (b *blind) first() job.Who {
	if x := b.card.Stage(b.at).Current().Entry(b.check.ID, b.check.Items[0]); x != nil {
		return x.By
	}
	return job.Who{}
}

// Head is the job.
func (b *blind) Head(*Env) string {
	return phrase.Of("bay.jobblind.job-second-measurement", practiceMark(b.card), b.card.Number())
}

// Focus is the line of the form.
func (b *blind) Focus() Focus {
	if b.form != nil && !b.done {
		return FocusText
	}
	return FocusNone
}

// Keys are those of the form.
func (b *blind) Keys(e *Env) []Binding {
	if b.form != nil && !b.done {
		return b.form.Keys(e)
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.jobblind.go-on"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.jobblind.back-to-the-stage"), Bar: true}}
}

// Update goes through who, tool and values.
func (b *blind) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return b.next(e)
	case Answer:
		return b.answer(e, in)
	case Result:
		return b.result(in)
	case Key:
		if in.Sym == Esc {
			return Pop{}
		}
		if b.form == nil && in.Sym == Enter {
			return b.next(e)
		}
	}
	if b.done {
		if k, ok := in.(Key); ok && k.Sym == Enter {
			return Pop{}
		}
		return ignore(in)
	}
	if b.form == nil {
		return ignore(in)
	}
	act := b.form.Update(e, in)
	if d, ok := act.(Done); ok {
		return b.record(d.Value.([]string))
	}
	return act
}

// next asks for what is missing: who measures, with what.
func (b *blind) next(e *Env) Action {
	if b.done || b.form != nil {
		return nil
	}
	if b.by.ID == "" && e.Person.ID != b.first().ID {
		b.by = e.Person
	}
	if b.by.ID == "" {
		return Ask{Name: blindWho, Dialog: newWho(phrase.Of("bay.jobblind.who-measures-the-second-time"), []line{{text: phrase.Of("bay.jobblind.measured-first-and-does-not-look", b.first().Name)}}, working(e.Register, b.first().ID), nil)}
	}
	if b.with == "" {
		b.tools = nil
		var opts []option
		for _, in := range e.Register.Instruments {
			if slices.Contains(b.check.Tools, in.Kind) {
				b.tools = append(b.tools, in.ID)
				opts = append(opts, option{text: instrumentWords(in), off: unfit(e, b.check, in, nil)})
			}
		}
		if len(opts) == 0 {
			return Say{Text: phrase.Of("bay.jobblind.the-register-has-no", kinds(b.check)), Role: draw.Warn}
		}
		return Ask{Name: blindTool, Dialog: newChooser(phrase.Of("bay.jobblind.tool-of", b.by.Name), nil, opts)}
	}
	var fields []formField
	for _, name := range b.check.Items {
		label := name
		if label == "" {
			label = b.check.Title
		}
		fields = append(fields, formField{label: label, hint: "in " + b.unit(), check: func(text string) error {
			_, err := quantity.Parse(text, quantity.Unit(b.unit()))
			return err
		}})
	}
	b.form = newForm("", nil, fields)
	return nil
}

func (b *blind) unit() string {
	for _, w := range []*procedures.PlanWindow{b.check.Nominal, b.check.Window} {
		if w != nil {
			return string(w.Window.Unit())
		}
	}
	return b.check.Unit
}

func (b *blind) answer(e *Env, a Answer) Action {
	switch v := a.Value.(type) {
	case vouched:
		b.by = v.Person
	case int:
		b.with = b.tools[v]
	}
	return b.next(e)
}

// record writes every point of the second measurement.
func (b *blind) record(values []string) Action {
	n, at, pc, with, who := b.card.Number(), b.at, b.check, b.with, store.Actor{Person: b.by}
	return Call{Name: "blind", Do: func(f *store.File) (any, error) {
		var c *job.Card
		for i, item := range pc.Items {
			after, _, err := f.Do(n, who, job.MeasureBlind{Stage: at, Check: pc.ID, Item: item, Value: values[i], With: with})
			if after != nil {
				c = after
			}
			if err != nil {
				return c, err
			}
		}
		return c, nil
	}}
}

func (b *blind) result(r Result) Action {
	if c, ok := r.Value.(*job.Card); ok && c != nil {
		b.card = c
	}
	var refused job.Refused
	if errors.As(r.Err, &refused) {
		return Ask{Name: "refused", Dialog: newPane(phrase.Of("bay.jobblind.not-recorded"), blockerLines(refused)...)}
	}
	if r.Err != nil {
		return Say{Text: phrase.Of("bay.jobblind.not-recorded-2", r.Err.Error()), Role: draw.Bad}
	}
	b.done = true
	return Say{Text: phrase.Of("bay.jobblind.recorded-now-look-at-both-together"), Role: draw.Good}
}

// View shows the empty lines, and after the last one both measurements.
func (b *blind) View(e *Env, w, h int) string {
	t := e.Theme
	out := []string{"", t.Style(draw.Title, job.Title(b.card.Stage(b.at).Node)+": "+b.check.Title)}
	if !b.done {
		out = append(out, t.Style(draw.Text, phrase.Of("bay.jobblind.measured-first-by-those-values-are-hidden", b.first().Name)))
	}
	if b.by.ID != "" && b.with != "" {
		out = append(out, t.Style(draw.Text, phrase.Of("bay.jobblind.measures-with", b.by.Name, b.with)))
	}
	out = append(out, "")
	switch {
	case b.done:
		out = append(out, b.agreement(e, w-4, h-len(out)))
	case b.form != nil:
		out = append(out, b.form.View(e, min(w-4, 72), h-len(out)))
	default:
		out = append(out, t.Style(draw.Text, phrase.Of("bay.jobblind.enter-goes-on")))
	}
	return indent(strings.Split(strings.Join(out, "\n"), "\n"))
}

// agreement is the table of both measurements with the verdict in words.
func (b *blind) agreement(e *Env, w, h int) string {
	tb := draw.Table{Selected: -1, Headings: []draw.Heading{{Title: phrase.Of("bay.jobblind.point")}, {Title: phrase.Of("bay.jobblind.first"), Right: true}, {Title: phrase.Of("bay.jobblind.second"), Right: true}, {Title: phrase.Of("bay.jobblind.apart"), Right: true}, {Title: phrase.Of("bay.jobblind.do-they-agree")}}}
	a := b.card.Stage(b.at).Current()
	agreed, n := 0, 0
	for _, item := range b.check.Items {
		x := a.Entry(b.check.ID, item)
		for i := len(a.Blinds) - 1; i >= 0; i-- {
			v := a.Blinds[i]
			if v.Check != b.check.ID || v.Item != item || x == nil {
				continue
			}
			d, ok := b.card.Agreement(v)
			word := phrase.Of("bay.jobblind.no-measure-both-again-together")
			if ok {
				word = phrase.Of("bay.jobblind.yes-within-the-two-instruments")
				agreed++
			}
			n++
			tb.Rows = append(tb.Rows, cells(item, e.number(x.Value), e.number(v.Value), e.number(d), word))
			break
		}
	}
	sum := phrase.Of("bay.jobblind.of-agree-the-first-values-stand-nothing", agreed, n)
	return tb.Draw(e.Theme, w, max(h-2, 3)) + "\n" + e.Theme.Style(draw.Title, sum)
}
