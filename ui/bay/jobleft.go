package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// left is the stage itself in h lines: the parts that matter most take their room first, the steps
// get what is left.
func (s *jobScreen) left(e *Env, w, h int) []string {
	t := e.Theme
	st := s.stage().Node.Stage
	top := s.head(e, w)
	for _, c := range st.Cautions {
		for i, row := range t.Wrap(t.Plain(c), w-6) {
			m := "!"
			if i > 0 {
				m = " "
			}
			top = append(top, t.Style(draw.Caution, " "+m+" "+draw.Pad(row, w-4)+" "))
		}
	}
	input := s.input(e, w)
	items := s.items()
	notes := append(s.coverLines(e, w), s.remarkLines(t, w)...)
	room := h - len(top) - len(input) - len(notes)
	least := min(len(items), 3)
	if len(items) > least {
		least++ // the line that says how many there are more
	}
	extra := s.exceptionLines(t, w)
	steps := s.steps(t, w)
	// One blank line between the parts where there is room for it.
	blank := 0
	if room > least+len(steps)+2 {
		blank = 1
	}
	free := room - least - 2*blank
	if len(steps) > free {
		if free == 0 && least > 2 {
			least, free = least-1, 1 // the line that says where the steps are is worth a row of the items
		}
		if free > 0 {
			steps = append(steps[:free-1], t.Style(draw.Faint, phrase.Of("bay.jobleft.more-lines-of-steps-w", t.Glyphs.Cut, len(steps)-free+1)))
		} else {
			steps = nil
		}
	}
	out := top
	if len(steps) > 0 {
		out = append(append(out, steps...), make([]string, blank)...)
	}
	rows := s.rows(e, w, max(room-len(steps)-2*blank-len(extra), least))
	out = append(append(out, rows...), notes...)
	if free := h - len(out) - len(input); len(extra) > 0 && free > 1 {
		if len(extra) > free {
			extra = append(extra[:free-1:free-1], t.Style(draw.Warn, phrase.Of("bay.jobleft.more-lines-e-reads-them-all", t.Glyphs.Cut, len(extra)-free+1)))
		}
		out = append(out, extra...)
	}
	out = append(out, s.picture(e, w, h-len(out)-len(input))...)
	big := s.big(e, w, h-len(out)-len(input))
	for len(out)+len(big)+len(input) < h {
		out = append(out, "")
	}
	if len(big) > 0 {
		input = append(append(big, ""), input...)
		out = out[:len(out)-1]
	}
	return append(out, input...)
}

// steps are what to do, numbered.
func (s *jobScreen) steps(t *draw.Theme, w int) []string {
	var out []string
	for i, step := range s.stage().Node.Stage.Steps {
		out = append(out, drawLines(t, []line{{text: fmt.Sprintf("%d %s", i+1, step), indent: 2}}, w)...)
	}
	return out
}

// exceptionLines are what the foreman reads before the release.
func (s *jobScreen) exceptionLines(t *draw.Theme, w int) []string {
	if s.stage().Node.Stage.Act != procedures.Release {
		return nil
	}
	return append([]string{""}, drawLines(t, s.exceptionText(), w)...)
}

// exceptionText is the list of exceptions with its heading.
func (s *jobScreen) exceptionText() []line {
	list := s.card.Exceptions()
	if len(list) == 0 {
		return []line{{role: draw.Good, text: phrase.Of("bay.jobleft.nothing-in-this-job-was-out-of")}}
	}
	out := []line{{role: draw.Warn, text: phrase.Of("bay.jobleft.read-first-exceptions", len(list))}}
	for _, x := range list {
		role, mark := draw.Text, "-"
		if x.Strong {
			role, mark = draw.Title, "!"
		}
		text := x.Text
		if title := s.title(x.Stage); x.Stage != (procedures.Ref{}) && !strings.HasPrefix(text, title) {
			text = title + ": " + text
		}
		out = append(out, line{role: role, head: mark, indent: 3, text: text})
	}
	return out
}

// rows are the items in n lines, those around the one in focus.
func (s *jobScreen) rows(e *Env, w, n int) []string {
	t := e.Theme
	items := s.items()
	if len(items) == 0 {
		return []string{t.Style(draw.Text, phrase.Of("bay.jobleft.this-stage-asks-for-no-value-s"))}
	}
	names := s.names(e, items, w)
	var all []string
	at := 0
	for i, it := range items {
		if i == s.item {
			at = len(all)
		}
		all = append(all, s.row(e, it, i == s.item, names, w))
		if i+1 == len(items) || items[i+1].check.ID != it.check.ID {
			all = append(all, s.figureRows(e, it.check, names)...)
		}
	}
	n = max(n, 1)
	if len(all) <= n {
		return all
	}
	n = max(n-1, 1)
	first := inView(max(at-n/2, 0), at, n, len(all))
	return append(all[first:first+n:first+n], t.Style(draw.Faint, phrase.Of("bay.jobleft.above-below", t.Glyphs.Cut, first, len(all)-first-n)))
}

// figureRows are the values worked out of a check, such as the run-out, with their verdict.
func (s *jobScreen) figureRows(e *Env, pc *procedures.PlanCheck, names int) []string {
	t := e.Theme
	var out []string
	for _, f := range s.figures(pc.ID) {
		text := "  " + t.Style(draw.Text, draw.Pad(t.Truncate(t.Plain("= "+f.Name), names), names)) + "  " +
			t.Style(draw.Title, draw.PadLeft(t.Plain(e.number(f.Value)), 11)) + " " + t.Badge(verdictState(f.Verdict))
		if f.Window != nil {
			text += t.Style(draw.Faint, " "+e.decimals(windowWords(f.Window.Window)))
		}
		out = append(out, text)
	}
	return out
}

// hasNumbers reports whether the stage asks for a value in figures.
func (s *jobScreen) hasNumbers() bool {
	for i := range s.stage().Node.Checks {
		if numeric(s.stage().Node.Checks[i].Kind) {
			return true
		}
	}
	return false
}

// windowWords is a window as one says it.
func windowWords(w quantity.Window) string {
	switch {
	case !w.Target.IsZero():
		return w.Shown()
	case w.High.IsZero():
		return phrase.Of("bay.jobleft.at-least", w.Low.Shown())
	case w.Low.IsZero():
		return phrase.Of("bay.jobleft.at-most", w.High.Shown())
	case w.Low.Number == w.High.Number:
		return w.Low.Shown()
	}
	return phrase.Of("bay.jobleft.to", phrase.Decimal(w.Low.Number), w.High.Shown())
}

func verdictState(v quantity.Verdict) draw.State {
	switch v {
	case quantity.Inside:
		return draw.Inside
	case quantity.Outside:
		return draw.Outside
	case quantity.NotProven:
		return draw.NotProven
	}
	return draw.NoState
}

// input is the field with its window, and the gauge of the reading.
func (s *jobScreen) input(e *Env, w int) []string {
	t := e.Theme
	if b := s.broken(); b != nil {
		return append(drawLines(t, []line{{role: draw.Warn, text: " " + s.brokenWords(b) + " "}}, w), t.Style(draw.Title, phrase.Of("bay.jobleft.enter-starts-the-pass-again")))
	}
	it, ok := s.current()
	if !ok || s.closed() != "" {
		return s.closedLines(t, w)
	}
	line := t.Style(draw.Title, label(it))
	if n := len(it.check.Items); n > 1 {
		line += t.Style(draw.Faint, phrase.Of("bay.jobleft.of", it.no, n))
	}
	if before := s.before(); before != "" && it.entry == nil && s.field.text == "" {
		before = t.Truncate(t.Plain(phrase.Of("bay.jobleft.below-just-recorded", before)), max(w-draw.Width(line)-2, 0))
		line += strings.Repeat(" ", max(w-draw.Width(line)-draw.Width(before), 0)) + t.Style(draw.Faint, before)
	}
	out := []string{line}
	if text := s.rejudged(e, it); text != "" {
		out = append(out, t.Style(draw.Warn, " "+t.Truncate(t.Plain(text), w-2)+" "))
	}
	switch it.check.Kind {
	case procedures.Confirm:
		return append(out, t.Style(draw.Key, " 1 ")+t.Style(draw.Text, phrase.Of("bay.jobleft.yes"))+t.Style(draw.Key, " 2 ")+t.Style(draw.Text, phrase.Of("bay.jobleft.no-which-blocks")))
	case procedures.Choice:
		return append(out, options(t, it.check.Options, w)...)
	case procedures.Text, procedures.Part:
		out = append(out, s.field.draw(t, w, !s.out))
		if it.check.Part != nil && it.name == procedures.PartNumber {
			out = append(out, t.Style(draw.Faint, phrase.Of("bay.jobleft.parts-list-says-scan-or-type-it", it.check.Part.Number)))
		}
		return out
	}
	return append(out, s.numberLines(e, it, w)...)
}

func (s *jobScreen) closedLines(t *draw.Theme, w int) []string {
	why := s.closed()
	if why == "" {
		return nil
	}
	return drawLines(t, []line{{role: draw.Text, text: why + "."}}, w)
}

// options are the answers of a choice, beside each other where they fit.
func options(t *draw.Theme, opts []string, w int) []string {
	total, wide := 0, 0
	for _, o := range opts {
		n := draw.Width(t.Plain(o)) + 7
		total += n
		wide = max(wide, n)
	}
	per := 1
	if total <= w {
		per = len(opts)
	} else if 2*wide <= w {
		per = 2
	}
	var out []string
	row := ""
	for i, o := range opts {
		cell := t.Style(draw.Key, fmt.Sprintf(" %d ", i+1)) + t.Style(draw.Text, " "+o)
		if per == len(opts) {
			row += cell + "   "
		} else {
			row += draw.Pad(cell, w/per)
		}
		if (i+1)%per == 0 || i == len(opts)-1 {
			out = append(out, strings.TrimRight(row, " "))
			row = ""
		}
	}
	return out
}

// figures are the values worked out of a check, such as the run-out.
func (s *jobScreen) figures(check string) []job.Valued {
	var out []job.Valued
	for _, res := range s.card.Results(s.at) {
		if res.Check.ID != check {
			continue
		}
		for _, v := range res.Values {
			if v.Entry == nil {
				out = append(out, v)
			}
		}
	}
	return out
}
