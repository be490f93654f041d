package job

import (
	"slices"
	"sync"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// The meanings of Check.Reckon that Remarks works with.
const (
	reckonPads        = "pads"
	reckonPadsNew     = "pads-new"
	reckonDisc        = "disc"
	reckonDiscNew     = "disc-new"
	reckonRunOut      = "run-out"
	reckonHubRunOut   = "hub-run-out"
	reckonPosition    = "position"
	reckonLevel       = "fluid-level"
	reckonLevelBefore = "fluid-before"
	reckonBoiling     = "fluid-boiling"
	reckonBrakeLeft   = "brake-left"
	reckonBrakeRight  = "brake-right"
	reckonParkLeft    = "parking-left"
	reckonParkRight   = "parking-right"
	reckonMass        = "mass"
)

// The conventional ids by which Remarks finds figures in a spec sheet.
const (
	sheetDiscMin   = "disc-min"
	sheetDiscRefit = "disc-refit"
	sheetDiscVar   = "disc-variation"
	sheetDiscNew   = "disc-new"
	sheetPadNew    = "pad-new"
	sheetPadMin    = "pad-min"
	factPiston     = "piston-diameter"
	factReservoir  = "reservoir-volume"
	factPlate      = "pad-plate"
	factHubRadius  = "hub-radius"
	factDiscRadius = "disc-radius"
	countStuds     = "wheel-nuts"
	traitScrews    = "disc-screws"
)

// Remarks works out everything the recorded values mean, in the order of the graph. Values that are
// incomplete or stale say nothing. It is worked out once for a card.
func (c *Card) Remarks() []Remark {
	c.meant.once.Do(func() { c.meant.remarks = c.workOut() })
	return c.meant.remarks
}

// meant keeps the remarks of a card, which does not change once it is folded.
type meant struct {
	once    sync.Once
	remarks []Remark
}

func (c *Card) workOut() []Remark {
	var out []Remark
	for _, a := range c.axles() {
		out = append(out, a.padRemarks()...)
		out = append(out, a.discRemarks()...)
		out = append(out, a.runOutRemarks()...)
	}
	out = append(out, c.axle().fluidRemarks()...)
	out = append(out, c.rollerRemarks()...)
	out = append(out, c.torqueRemarks()...)
	out = append(out, c.odometerRemarks()...)
	out = append(out, c.odometerReadings()...)
	out = append(out, c.decimalSlips()...)
	slices.SortStableFunc(out, func(a, b Remark) int { return c.Plan.Index(a.Stage) - c.Plan.Index(b.Stage) })
	return out
}

// RemarksAt returns the remarks that belong to one stage.
func (c *Card) RemarksAt(r procedures.Ref) []Remark {
	var out []Remark
	for _, m := range c.Remarks() {
		if m.Stage == r || (m.Ask != "" && c.Answer(m.Key) == nil && c.owedAt(m.Stage) == r) {
			out = append(out, m)
		}
	}
	return out
}

// measured is one complete set or value with a meaning.
type measured struct {
	at     procedures.Ref
	check  *procedures.PlanCheck
	values []quantity.Quantity // in the order of the check's items
	seq    uint32              // of its first entry
	last   uint32              // of its newest entry
	tool   *Entry
}

// axle is a card with the figures of one axle: those of the stages that share a prefix.
type axle struct {
	*Card
	figures string
}

// axle is the axle of the procedure.
func (c *Card) axle() axle { return axle{c, c.Plan.Procedure.Figures} }

// axles lists the axle of the procedure and those of stages with figures of their own.
func (c *Card) axles() []axle {
	out := []axle{c.axle()}
	for i := range c.Stages {
		f := c.Plan.Figures(c.Stages[i].Node.Ref)
		if !slices.ContainsFunc(out, func(a axle) bool { return a.figures == f }) {
			out = append(out, axle{c, f})
		}
	}
	return out
}

// key is the key of a remark about a side of the axle.
func (a axle) key(text string) string {
	if a.figures == a.Plan.Procedure.Figures {
		return text
	}
	return a.figures + text
}

// figuresOf returns every complete set of the axle with that meaning in the attempts that count, left
// before right.
func (a axle) figuresOf(reckon string) []measured {
	var out []measured
	for i := range a.Stages {
		s := &a.Stages[i]
		now := s.Current()
		if now == nil || now.stale || s.Status == LeftOut || a.Plan.Figures(s.Node.Ref) != a.figures {
			continue
		}
		out = append(out, s.measuredIn(now, reckon)...)
	}
	return out
}

func (s *StageCard) measuredIn(a *Attempt, reckon string) []measured {
	var out []measured
	for k := range s.Node.Checks {
		pc := &s.Node.Checks[k]
		if pc.Reckon != reckon {
			continue
		}
		m := measured{at: s.Node.Ref, check: pc}
		for _, item := range pc.Items {
			e := a.Entry(pc.ID, item)
			if e == nil || e.Value.IsZero() {
				m.values = nil
				break
			}
			m.values = append(m.values, e.Value)
			if m.seq == 0 || e.Seq < m.seq {
				m.seq = e.Seq
			}
			m.last = max(m.last, e.Seq)
			m.tool = e
		}
		if m.values != nil {
			out = append(out, m)
		}
	}
	return out
}

// within is the uncertainty of the readings, from the instrument that gave the last of them.
func (m *measured) within() quantity.Quantity {
	if m.tool == nil || m.tool.Instrument == nil {
		return quantity.Quantity{}
	}
	return m.tool.Instrument.Uncertainty(m.tool.Value)
}

// onSide picks the set of one side.
func onSide(ms []measured, side procedures.Side) *measured {
	for i := range ms {
		if ms[i].at.Side == side {
			return &ms[i]
		}
	}
	return nil
}

// first is the first set, or nil when there is none.
func first(ms []measured) *measured {
	if len(ms) == 0 {
		return nil
	}
	return &ms[0]
}

func (c axle) sheetWindow(id string) (quantity.Window, bool) {
	w, ok := c.Plan.SheetWindow(c.figures, id)
	if !ok {
		return quantity.Window{}, false
	}
	parsed, err := quantity.ParseWindow(w.Value)
	return parsed, err == nil
}

func (c axle) sheetFact(id string) (quantity.Quantity, bool) {
	text, ok := c.Plan.SheetFact(c.figures, id)
	if !ok {
		return quantity.Quantity{}, false
	}
	q, err := quantity.Parse(text, "")
	return q, err == nil
}

// nominal is the size a new part is made to: the target of its window, or the middle of it.
func nominal(w quantity.Window) quantity.Quantity {
	if !w.Target.IsZero() {
		return w.Target
	}
	return w.High
}

// past returns the earlier values of a figure on a side, oldest first.
func (c axle) past(figure string, side procedures.Side) []PastValue {
	return c.Past(procedures.Ref{Stage: c.figures + figure, Side: side}.String())
}

// FigureKey names a figure that a stage measures, as PastValue.Figure has it: "pads/left", or
// "front-pads/left" where its figures have a prefix.
func (c *Card) FigureKey(reckon string, at procedures.Ref) string {
	return procedures.Ref{Stage: c.Plan.Figures(at) + reckon, Side: at.Side}.String()
}

// Past returns the earlier values of a figure, oldest first, as they were known when the job was
// opened.
func (c *Card) Past(key string) []PastValue {
	var out []PastValue
	for _, v := range c.Opened.History {
		if v.Figure == key {
			out = append(out, v)
		}
	}
	return out
}

func sideWords(side procedures.Side) string {
	if side == procedures.NoSide {
		return ""
	}
	return phrase.Word(side) + ": "
}
