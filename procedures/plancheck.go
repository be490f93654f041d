package procedures

import (
	"slices"
	"strconv"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// ItemNew is the item of a torque check on single-use fasteners that counts the new ones.
const ItemNew = "new"

// ItemReturn is the last item of a run-out set: the dial read again at the first point.
const ItemReturn = "back at start"

// The items of a part check.
const (
	PartNumber = "number"
	PartBatch  = "batch"
	PartMark   = "mark"
)

// PlanCheck is a check with what the sheet says about it.
type PlanCheck struct {
	*Check
	Items   []string    // what is entered, in order; one empty string where there is a single value
	Window  *PlanWindow // nil when the check has none
	Spread  *PlanWindow
	Compare *PlanWindow
	Nominal *PlanWindow
	Group   *Group
	Expect  *int // count: the number it must equal
	Part    *SpecPart
}

func resolveCheck(c *Check, s *Sheet) (PlanCheck, error) {
	pc := PlanCheck{Check: c}
	for _, w := range []struct {
		id string
		to **PlanWindow
	}{{c.Window, &pc.Window}, {c.Spread, &pc.Spread}, {c.Compare, &pc.Compare}, {c.Nominal, &pc.Nominal}} {
		if w.id == "" {
			continue
		}
		pw, err := s.planWindow(w.id)
		if err != nil {
			return pc, err
		}
		*w.to = pw
	}
	if c.Count != "" {
		v, ok := s.Count(c.Count)
		if !ok {
			return pc, phrase.Error("procedures.plancheck.the-sheet-has-no-count", c.Count)
		}
		pc.Expect = &v
	}
	return pc, pc.items(s)
}

func (pc *PlanCheck) items(s *Sheet) error {
	switch pc.Kind {
	case Torque:
		g, ok := s.Group(pc.Check.Group)
		if !ok {
			return phrase.Error("procedures.plancheck.the-sheet-has-no-fastener-group", pc.Check.Group)
		}
		pc.Group = &g
		if g.SingleUse && pc.PassNo <= 1 {
			pc.Items = append(pc.Items, ItemNew)
		}
		pc.Items = append(pc.Items, g.Ordered()...)
	case Thickness, RunOut:
		pc.Items = slices.Clone(pc.Points)
		for i := len(pc.Items); i < pc.NumPoints; i++ {
			pc.Items = append(pc.Items, strconv.Itoa(i+1))
		}
		if pc.Kind == RunOut && pc.Spread != nil {
			pc.Items = append(pc.Items, ItemReturn)
		}
	case Part:
		pc.Items = []string{PartNumber, PartBatch, PartMark}
		if id := pc.Check.Part; id != "" {
			part, ok := s.Part(id)
			if !ok {
				return phrase.Error("procedures.plancheck.the-sheet-has-no-part", id)
			}
			pc.Part = &part
		}
	case Reading:
		if pc.Check.Group == "" {
			pc.Items = []string{""}
			break
		}
		g, ok := s.Group(pc.Check.Group)
		if !ok {
			return phrase.Error("procedures.plancheck.the-sheet-has-no-group", pc.Check.Group)
		}
		pc.Group, pc.Items = &g, g.Ordered()
	default:
		pc.Items = []string{""}
	}
	return nil
}

// Ordered returns the names of the fasteners in the order of tightening.
func (g Group) Ordered() []string {
	if len(g.Order) != len(g.Names) {
		return slices.Clone(g.Names)
	}
	out := make([]string, 0, len(g.Names))
	for _, i := range g.Order {
		if i >= 1 && i <= len(g.Names) {
			out = append(out, g.Names[i-1])
		}
	}
	return out
}

func (s *Sheet) planWindow(id string) (*PlanWindow, error) {
	w, ok := s.Window(id)
	if !ok {
		return nil, phrase.Error("procedures.plancheck.the-sheet-has-no-window", id)
	}
	parsed, err := quantity.ParseWindow(w.Value)
	if err != nil {
		return nil, phrase.Error("procedures.plancheck.window", id, err)
	}
	src, ok := s.Source(w.Source)
	if !ok {
		return nil, phrase.Error("procedures.plancheck.window-has-no-source", id)
	}
	return &PlanWindow{ID: id, Window: parsed, Document: src.Document, Revision: src.Revision, Guarded: !w.Simple}, nil
}
