package paper

import (
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Record is the whole job on paper: the customer's page and the part for the file.
func Record(c *job.Card, in Info) Document {
	d := newDocument(c, in, phrase.Of("paper.record.record-of-job", c.Number()))
	d.customer(c, in)
	d.add(turn{}, heading{phrase.Of("paper.record.for-the-file"), 1})
	d.torque(c)
	d.measured(c)
	d.entries(c)
	d.statesPart(c)
	d.corrections(c)
	d.attempts(c)
	d.seconds(c)
	d.stops(c)
	d.exceptions(c)
	d.meaning(c)
	d.rules(c)
	d.followUps(c)
	d.addenda(c)
	d.basis(c, in)
	return d
}

// section adds a heading and blocks, or a sentence where there is nothing.
func (d *Document) section(title, none string, full bool, blocks ...block) {
	d.add(heading{title, 2})
	if !full {
		d.add(para{text: none})
		return
	}
	d.add(blocks...)
}

// torque prints every pull, also those that do not count, with what was set, reached and checked
// apart.
func (d *Document) torque(c *job.Card) {
	gs := groups(c, isTorque)
	d.section(phrase.Of("paper.record.torque"), phrase.Of("paper.record.no-fastener-was-tightened-in-this-job"), len(gs) > 0,
		para{small: true, text: phrase.Of("paper.record.set-is-the-mark-on-the-wrench")})
	for _, g := range gs {
		k := kept{heading{g.title(), 3}}
		w := g.check.Window
		for _, e := range g.entries {
			if e.Window != nil && e.Item != procedures.ItemNew {
				w = e.Window // as it was then
			}
		}
		day := g.entries[0].At
		k = append(k, para{text: phrase.Of("paper.record.window", day.Format(time.DateOnly), orNone(windowWords(w), phrase.Of("paper.record.none"))), small: true, lead: true})
		for _, in := range toolsOf(g) {
			k = append(k, para{text: toolLine(in), small: true, lead: true})
		}
		t := table{close: true, head: []string{phrase.Of("paper.record.fastener"), phrase.Of("paper.record.set"), phrase.Of("paper.record.reached"), phrase.Of("paper.record.checked"), "ev.", phrase.Of("paper.record.wrench"), phrase.Of("paper.record.verdict"), phrase.Of("paper.record.time-by")},
			wide: []int{19, 11, 18, 16, 5, 8, 11, 12}}
		for _, e := range g.entries {
			t.rows = append(t.rows, pullRow(g, e, day))
		}
		k = append(k, t)
		if f, ok := gaugesOf(g); ok && g.last() {
			k = append(k, figures{f})
		}
		d.add(k)
	}
}

// toolsOf are the instruments of a group, each once, as they were then.
func toolsOf(g group) []*register.Instrument {
	var out []*register.Instrument
	add := func(in *register.Instrument) {
		if in != nil && !slices.ContainsFunc(out, func(x *register.Instrument) bool { return x.ID == in.ID && x.Certificate == in.Certificate }) {
			out = append(out, in)
		}
	}
	for _, e := range g.entries {
		add(e.Instrument)
	}
	for _, k := range g.attempt.Checks {
		if k.Check == g.check.ID {
			add(k.Instrument)
		}
	}
	return out
}

func toolLine(in *register.Instrument) string {
	return phrase.Of("paper.record.with-tool", toolFacts(in))
}

func toolFacts(in *register.Instrument) string {
	return phrase.Of("paper.record.tool", in.ID, phrase.Word(in.Kind), in.Serial, in.Certificate, in.Calibrated, in.Due, in.Error, in.Resolution)
}

func pullRow(g group, e *job.Entry, day time.Time) []string {
	tool, level := toolWords(e), e.Evidence.Level()
	name := e.Item
	if e.Item == procedures.ItemNew {
		name = phrase.Of("paper.record.new-counted-in")
	}
	if r := remarksOn(e); r != "" {
		name += " (" + r + ")"
	}
	return []string{name, setValue(e), reachedValue(e), checkedValue(g.attempt, g.check.ID, e.Item), level, tool, verdictWord(e.Verdict), clock(e.Mark, day)}
}

// measured prints every set with its instrument and what was worked out of it, and the pictures.
func (d *Document) measured(c *job.Card) {
	gs := groups(c, isMeasured)
	d.section(phrase.Of("paper.record.measurements"), phrase.Of("paper.record.nothing-was-measured-in-this-job"), len(gs) > 0)
	single := table{close: true, lined: true, head: []string{phrase.Of("paper.record.stage"), phrase.Of("paper.record.readings")}, wide: []int{26, 74}}
	var last *job.Attempt
	for _, g := range gs {
		if g.check.Kind != procedures.Reading {
			continue
		}
		if g.attempt != last {
			last = g.attempt
			single.rows = append(single.rows, []string{lines([]string{stageCell(g.stage, g.attempt) + ", " + g.entries[0].At.Format(time.DateOnly)}), ""})
		}
		cell := &single.rows[len(single.rows)-1][1]
		*cell = strings.TrimPrefix(*cell+"\n"+lines(readingLines(c, g)), "\n")
	}
	d.add(single)
	for _, g := range gs {
		if g.check.Kind != procedures.Reading {
			d.set(c, g)
		}
	}
}

// readingLines are the values of a single reading with window, verdict and instrument, and the
// figures worked out of them.
func readingLines(c *job.Card, g group) []string {
	var out []string
	for _, e := range g.entries {
		text := g.check.Title + ": " + e.Value.Shown()
		if v := verdictWord(e.Verdict); v != "" {
			text += " " + v
		}
		if e.Window != nil {
			text += phrase.Of("paper.record.window-2", e.Window.Window.Shown())
		}
		if in := e.Instrument; in != nil {
			text += phrase.Of("paper.record.with-certificate", in.ID, in.Certificate)
		}
		if r := remarksOn(e); r != "" {
			text += " (" + r + ")"
		}
		out = append(out, text+"  ["+clock(e.Mark, g.entries[0].At)+"]")
	}
	for _, r := range worked(c, g) {
		out = append(out, phrase.Of("paper.record.window-3", r.name, r.value, r.verdict, r.window))
	}
	return out
}

func toolWords(e *job.Entry) string {
	if e.Instrument == nil {
		return ""
	}
	return e.Instrument.ID
}

// figured is one figure worked out of a set, in words.
type figured struct{ name, value, window, verdict string }

func figuredOf(name string, v quantity.Quantity, w *procedures.PlanWindow, verdict quantity.Verdict) figured {
	f := figured{name, v.Shown(), phrase.Of("paper.record.none"), verdictWord(verdict)}
	if w != nil {
		f.window = w.Window.Shown()
	}
	return f
}

// worked are the figures worked out of an attempt.
func worked(c *job.Card, g group) []figured {
	if !g.last() {
		return earlier(g)
	}
	var out []figured
	for _, r := range c.Results(g.stage.Node.Ref) {
		for _, v := range r.Values {
			if r.Check.ID == g.check.ID && v.Entry == nil {
				out = append(out, figuredOf(v.Name, v.Value, v.Window, v.Verdict))
			}
		}
	}
	return out
}

// earlier is the spread of an attempt that no longer counts, judged by the window of the plan: what
// its failure rests on.
func earlier(g group) []figured {
	name, w := job.FigureSpread, g.check.Spread
	if g.check.Kind == procedures.RunOut {
		name, w = job.FigureRunOut, g.check.Window
	}
	var set brakes.RunOut
	for _, e := range g.counting() {
		if e.Item != procedures.ItemReturn {
			set.Readings = append(set.Readings, e.Value)
		}
	}
	v, err := set.TIR()
	if err != nil || w == nil || g.check.Kind == procedures.Reading {
		return nil
	}
	verdict, err := w.Window.Judge(v)
	if err != nil {
		return nil
	}
	return []figured{figuredOf(name, v, w, verdict)}
}

func (d *Document) set(c *job.Card, g group) {
	first := g.entries[0]
	facts := pairs{{phrase.Of("paper.record.taken"), who(&first.Mark)}}
	if first.Instrument != nil {
		in := first.Instrument
		facts = append(facts, [2]string{phrase.Of("paper.record.with"), toolFacts(in)})
	}
	var values []string
	for _, e := range g.entries {
		text := e.Item + ": " + e.Value.Shown()
		if r := remarksOn(e); r != "" {
			text += " (" + r + ")"
		}
		if e.Verdict != quantity.Unjudged && e.Verdict != quantity.Inside {
			text += " " + verdictWord(e.Verdict)
		}
		values = append(values, text)
	}
	facts = append(facts, [2]string{phrase.Of("paper.record.values"), strings.Join(values, "; ")})
	if w := first.Window; w != nil {
		facts = append(facts, [2]string{phrase.Of("paper.record.window-4"), windowWords(w)})
	}
	for _, r := range worked(c, g) {
		text := r.value
		if r.verdict != "" {
			text += phrase.Of("paper.record.window-5", r.verdict, r.window)
		}
		facts = append(facts, [2]string{r.name, text})
	}
	for _, b := range g.attempt.Blinds {
		if b.Check == g.check.ID {
			diff, agree := c.Agreement(b)
			word := phrase.Of("paper.record.no-agreement")
			if agree {
				word = phrase.Of("paper.record.agreement")
			}
			facts = append(facts, [2]string{phrase.Of("paper.record.blind-second-measurement"), phrase.Of("paper.record.by-difference", b.Item, b.Value, b.By.Name, diff, word)})
		}
	}
	k := kept{heading{g.title(), 3}, facts}
	if f := picturesOf(c, g); len(f) > 0 {
		k = append(k, f)
	}
	d.add(k)
}

// picturesOf draws a set: ring, curve, and wear where there are earlier visits.
func picturesOf(c *job.Card, g group) figures {
	var out figures
	add := func(f figure, ok bool) {
		if ok {
			out = append(out, f)
		}
	}
	switch {
	case g.check.Reckon == "disc":
		add(ringOf(g))
		add(wearOf(c, g, "disc-min"))
	case g.check.Reckon == "pads":
		add(wearOf(c, g, "pad-min"))
	case g.check.Kind == procedures.RunOut:
		add(curveOf(c, g))
	}
	return out
}
