package bay

import (
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// toolName is the dialog of the tool.
const toolName = "tool"

// toolPick is the chooser of instruments with what its rows stand for.
type toolPick struct {
	*chooser
	ids []string // the instrument of each row; empty for the adapter
}

// askTool lists the instruments of the kinds the check takes.
func (s *jobScreen) askTool(e *Env) Action {
	it, ok := s.current()
	if !ok {
		return nil
	}
	if why := s.closed(); why != "" {
		return Say{Text: why, Role: draw.Warn}
	}
	text := line{text: phrase.Of("bay.jobtool.which-one-is-in-your-hand-expected", kinds(it.check))}
	p := &toolPick{}
	var opts []option
	wrench := false
	for _, in := range s.toolOrder(e, it) {
		off := unfit(e, it.check, in, s.adapter(it))
		wrench = wrench || off == "" && in.Wrench()
		opts = append(opts, option{text: instrumentWords(in), off: off})
		p.ids = append(p.ids, in.ID)
	}
	if len(opts) == 0 {
		return Say{Text: phrase.Of("bay.jobtool.the-register-has-no-the-foreman-enters", kinds(it.check)), Role: draw.Warn}
	}
	if it.check.Kind == procedures.Torque && wrench {
		words := phrase.Of("bay.jobtool.with-an-open-end-or-crow-foot")
		switch {
		case it.check.Adapter:
			words = phrase.Of("bay.jobtool.the-measures-of-the-adapter")
		case s.adapter(it) != nil:
			words = phrase.Of("bay.jobtool.without-the-adapter")
		}
		opts = append(opts, option{text: words})
		p.ids = append(p.ids, "")
	}
	if it.check.Adapter {
		text.text += phrase.Of("bay.jobtool.only-an-adapter-beside-the-wrench-reaches")
	}
	p.chooser = newChooser(phrase.Of("bay.jobtool.tool-for", it.check.Title), []line{text}, opts)
	if in := s.tool(e, it.check); in != "" {
		p.at = slices.Index(p.ids, in)
	}
	return Ask{Name: toolName, Dialog: p}
}

// toolOrder is the instruments of the kinds the check takes, the usable ones first.
func (s *jobScreen) toolOrder(e *Env, it item) []register.Instrument {
	var good, bad []register.Instrument
	for _, in := range e.Register.Instruments {
		switch {
		case !slices.Contains(it.check.Tools, in.Kind):
		case unfit(e, it.check, in, s.adapter(it)) == "":
			good = append(good, in)
		default:
			bad = append(bad, in)
		}
	}
	return append(good, bad...)
}

// Update chooses an instrument by its row.
func (p *toolPick) Update(e *Env, in Input) Action {
	if scan, ok := in.(Scan); ok {
		for i, id := range p.ids {
			if id != "" && strings.EqualFold(id, string(scan)) {
				return p.choose(i)
			}
		}
		return Say{Text: phrase.Of("bay.jobtool.is-no-instrument-of-this-list", string(scan)), Role: draw.Warn}
	}
	act := p.chooser.Update(e, in)
	if d, ok := act.(Done); ok {
		return Done{Value: p.ids[d.Value.(int)]}
	}
	return act
}

// scaleOff says why there is no other scale to read.
func (s *jobScreen) scaleOff(e *Env, it item) string {
	in, ok := e.Register.Instrument(s.tool(e, it.check))
	if !ok || len(in.Scales) < 2 {
		return phrase.Of("bay.jobtool.the-tool-in-hand-has-one-scale")
	}
	return ""
}

// otherScale takes bare numbers in the next unit of the tool in hand.
func (s *jobScreen) otherScale(e *Env) Action {
	it, ok := s.current()
	if !ok {
		return Unknown{}
	}
	if off := s.scaleOff(e, it); off != "" {
		return Say{Text: off, Role: draw.Warn}
	}
	in, _ := e.Register.Instrument(s.tool(e, it.check))
	at := slices.Index(in.Scales, s.unitOf(e, it))
	s.units[in.ID] = in.Scales[(at+1)%len(in.Scales)]
	return Say{Text: phrase.Of("bay.jobtool.numbers-are-taken-in-now-the-scale", s.units[in.ID], in.ID), Role: draw.Warn}
}

// unfit says why an instrument cannot be used for a check now, or nothing. Beside an adapter a wrench
// is set to what gives the window at the fastener.
func unfit(e *Env, pc *procedures.PlanCheck, in register.Instrument, beside *job.AdapterUse) string {
	if !slices.Contains(pc.Tools, in.Kind) {
		return phrase.Of("bay.jobtool.is-a-expected-a", in.ID, phrase.Word(in.Kind), strings.Join(phrase.Words(pc.Tools), phrase.Of("bay.jobtool.or")))
	}
	if err := in.UsableAt(e.Now); err != nil {
		return err.Error()
	}
	if pc.Window == nil {
		return ""
	}
	w := pc.Window.Window
	low, high := rangeOf(w)
	if beside != nil && in.Wrench() && w.Dimension() == quantity.Torque {
		low, high = setFor(beside, low), setFor(beside, high)
	}
	if apart(in, low, high) {
		return phrase.Of("bay.jobtool.the-range-of-to-does-not-reach", in.ID, in.Low, in.High, windowWords(w))
	}
	return ""
}

// rangeOf is the window's two ends; an end that is not limited is the other one.
func rangeOf(w quantity.Window) (low, high quantity.Quantity) {
	low, high = w.Low, w.High
	if low.IsZero() {
		low = high
	}
	if high.IsZero() {
		high = low
	}
	return low, high
}

// apart reports whether the range of an instrument and a window have nothing in common.
func apart(in register.Instrument, low, high quantity.Quantity) bool {
	a, err1 := in.High.Cmp(low)
	b, err2 := in.Low.Cmp(high)
	return err1 != nil || err2 != nil || a < 0 || b > 0
}

// instrumentWords is an instrument in one line.
func instrumentWords(in register.Instrument) string {
	title := in.Title
	if title == "" {
		title = in.Kind
	}
	return phrase.Of("bay.jobtool.to-due", in.ID, title, in.Low, in.High, in.Due)
}

// toolChosen takes the tool up and goes on with what waited for it.
func (s *jobScreen) toolChosen(e *Env, id string) Action {
	it, ok := s.current()
	if !ok {
		return nil
	}
	if id == "" {
		if s.adapter(it) != nil && !it.check.Adapter {
			s.with = nil
			return Say{Text: phrase.Of("bay.jobtool.the-wrench-is-taken-without-an-adapter")}
		}
		return s.askAdapter(it)
	}
	s.tools[kinds(it.check)], s.toolBy[kinds(it.check)] = id, e.Person.ID
	if it.check.Adapter && s.adapter(it) == nil && s.wrenchInHand(e, it) {
		return s.askAdapter(it)
	}
	if s.want != nil {
		want := *s.want
		return s.prepare(e, it, want)
	}
	return Say{Text: phrase.Of("bay.jobenter.is-in-hand-now", id), Role: draw.Good}
}
