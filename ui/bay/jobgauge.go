package bay

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// numberLines are the number field, its window with the document, and the gauge.
func (s *jobScreen) numberLines(e *Env, it item, w int) []string {
	t := e.Theme
	unit := s.unitOf(e, it)
	field := s.field.draw(t, 16, !s.out)
	if s.click {
		field = drawField(t, phrase.Of("bay.jobgauge.clicked"), 16, true)
	}
	line := field
	if unit != quantity.Count && unit != "" {
		line += " " + t.Style(draw.Title, string(unit))
	}
	if also := s.typedAlso(e, it, unit); also != "" {
		line += t.Style(draw.Text, " = "+also)
	}
	if len(it.check.Tools) > 0 && it.name != procedures.ItemNew {
		if tool := s.tool(e, it.check); tool != "" {
			in, _ := e.Register.Instrument(tool)
			line += t.Style(draw.Text, phrase.Of("bay.jobgauge.with")) + t.Style(draw.Title, tool) + t.Style(draw.Text, " "+phrase.Word(in.Kind))
			if s.adapter(it) != nil {
				line += t.Style(draw.Warn, phrase.Of("bay.jobgauge.and-adapter"))
			}
		} else {
			line += t.Style(draw.Text, phrase.Of("bay.jobgauge.with-no-tool-chosen-yet-t"))
		}
	}
	if s.reason != "" {
		line += t.Style(draw.Warn, phrase.Of("bay.jobgauge.corrects", s.reason)+" ")
	}
	out := []string{line}
	if words := s.adapterWords(e, it); words != "" && it.name != procedures.ItemNew {
		out = append(out, t.Style(draw.Caution, t.Truncate(t.Plain(words), w)))
	}
	if it.name == procedures.ItemNew {
		return append(out, t.Style(draw.Text, phrase.Of("bay.jobgauge.single-use-count-the-new-ones-in", len(it.check.Group.Names), it.check.Group.Title)))
	}
	win := it.check.Window
	if it.check.Nominal != nil {
		win = it.check.Nominal
	}
	if win == nil {
		if it.check.Expect != nil {
			out = append(out, t.Style(draw.Text, phrase.Of("bay.jobgauge.must-be-how-many", *it.check.Expect)))
		}
		return out
	}
	words := phrase.Of("bay.jobgauge.window")
	if it.check.Kind == procedures.RunOut {
		words = phrase.Of("bay.jobgauge.run-out-of-the-whole-set")
	}
	if s.adapter(it) != nil {
		words = phrase.Of("bay.jobgauge.window-at-the-fastener")
	}
	out = append(out, t.Truncate(t.Style(draw.Text, words)+t.Style(draw.Title, e.decimals(windowWords(win.Window)))+t.Style(draw.Faint, "   "+win.Document+", "+win.Revision), w))
	if also := e.torqueAlso(win.Window); also != "" {
		out = append(out, t.Style(draw.Faint, "       "+also))
	}
	if g, ok := s.gauge(e, it, win); ok {
		out = append(out, strings.Split(g.Draw(t, w), "\n")...)
	}
	return out
}

// typedAlso is what is typed, in the unit of the window where the scale in hand has another.
func (s *jobScreen) typedAlso(e *Env, it item, unit quantity.Unit) string {
	win := it.check.Window
	if it.check.Nominal != nil {
		win = it.check.Nominal
	}
	if win == nil || s.field.text == "" {
		return ""
	}
	q, err := quantity.Parse(s.field.text, unit)
	if err != nil {
		return ""
	}
	return e.alsoIn(q, win.Window.Unit(), 2)
}

// lastOf is the newest entry above the item in focus, of the same check.
func (s *jobScreen) lastOf() (item, bool) {
	items := s.items()
	for i := s.item - 1; i >= 0 && i < len(items) && items[i].check.ID == items[s.item].check.ID; i-- {
		if items[i].entry != nil && items[i].name != procedures.ItemNew {
			return items[i], true
		}
	}
	return item{}, false
}

// before is the name of the item whose reading the gauge shows while the field is empty.
func (s *jobScreen) before() string {
	it, ok := s.lastOf()
	if !ok || it.check.Window == nil && it.check.Nominal == nil || it.check.Kind == procedures.RunOut {
		return ""
	}
	return it.name
}

// gauge is the reading in its window: what is typed, else what stands, else the one before.
func (s *jobScreen) gauge(e *Env, it item, win *procedures.PlanWindow) (draw.Gauge, bool) {
	w := win.Window
	g := draw.Gauge{Low: amount(e, w.Low), High: amount(e, w.High), Aim: amount(e, w.Target), Unit: string(w.Unit())}
	if it.check.Kind == procedures.RunOut {
		return g, false
	}
	if s.field.text != "" {
		v, err := quantity.Parse(s.field.text, s.unitOf(e, it))
		if err != nil || !v.Unit.Same(w.Unit()) {
			return g, true
		}
		s.fill(e, &g, s.atFastener(it, v), w)
		if in, ok := e.Register.Instrument(s.tool(e, it.check)); ok {
			g.Uncertainty = in.Uncertainty(v).Float()
		}
		return g, true
	}
	x := it.entry
	if x == nil {
		last, ok := s.lastOf()
		if !ok {
			return g, true
		}
		x = last.entry
	}
	v := x.Value
	if !x.Bolt.IsZero() {
		v = x.Bolt
	}
	s.fill(e, &g, v, w)
	g.State = verdictState(x.Verdict)
	if x.Instrument != nil && v.Unit.Same(w.Unit()) {
		g.Uncertainty = x.Instrument.Uncertainty(v).Float()
	}
	return g, true
}

// big is the value typed or recorded in digits for two metres, where there is room for it.
func (s *jobScreen) big(e *Env, w, room int) []string {
	it, ok := s.current()
	if !ok || room < 5 || s.Focus() != FocusNumber || it.check.Kind == procedures.Count {
		return nil
	}
	text := s.field.text
	if x := it.entry; text == "" && x != nil {
		text = x.Value.Number
	} else if last, ok := s.lastOf(); text == "" && ok {
		text = last.entry.Value.Number
	}
	if text == "" {
		return nil
	}
	text = e.decimals(strings.ReplaceAll(text, ",", "."))
	return append([]string{""}, strings.Split(e.Theme.BigText(draw.Title, text, w, 3), "\n")...)
}

// fill puts a value on the gauge in the unit of its window.
func (s *jobScreen) fill(e *Env, g *draw.Gauge, v quantity.Quantity, w quantity.Window) {
	if v.Unit != w.Unit() {
		c, err := v.Convert(w.Unit(), 2)
		if err != nil {
			return
		}
		v = c
	}
	g.Value = amount(e, v)
}

// amount is a value to be drawn, written as the workshop writes decimals.
func amount(e *Env, q quantity.Quantity) draw.Amount {
	if q.IsZero() {
		return draw.Amount{}
	}
	return draw.Amount{At: q.Float(), Text: e.decimals(q.Number)}
}
