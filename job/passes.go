package job

import (
	"fmt"
	"slices"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// passBefore refuses a pass while the one before it on the same group of the stage is not complete:
// every fastener to snug, then every fastener by angle.
func (a *asking) passBefore() error {
	if a.check.PassNo < 2 {
		return nil
	}
	for i := range a.stage.Node.Checks {
		pc := &a.stage.Node.Checks[i]
		if pc.Kind != procedures.Torque || pc.Group.ID != a.check.Group.ID || pc.PassNo != a.check.PassNo-1 {
			continue
		}
		if res := a.card.result(a.stage, pc); len(res.Missing) > 0 {
			return a.refuse(CodeOrder, phrase.Of("job.passes.finish-that-pass-first"), "%s", phrase.Of("job.passes.is-not-finished-is-missing", pc.Title, res.Missing[0]))
		}
	}
	return nil
}

// byAngle reports whether a stage turns a group by angle after snugging it.
func byAngle(n *procedures.Node, group string) bool {
	return slices.ContainsFunc(n.Checks, func(pc procedures.PlanCheck) bool {
		return pc.Kind == procedures.Torque && pc.Group.ID == group && pc.Window != nil && pc.Window.Window.Dimension() == quantity.Angle
	})
}

// breakPass marks what an interruption makes void. A torque pass is begun again; where the group is
// turned by angle nobody knows how far each fastener got, so that all its passes are void and the
// fasteners have to be counted in as new again.
func (a *Attempt) breakPass(n *procedures.Node, check string) {
	pc := n.Check(check)
	if pc == nil || pc.Group == nil {
		return
	}
	angle := byAngle(n, pc.Group.ID)
	for i := range a.Entries {
		e := &a.Entries[i]
		other := n.Check(e.Check)
		switch {
		case e.Check == check && (e.Item != procedures.ItemNew || angle):
			e.Broken = true
		case angle && other != nil && other.Group != nil && other.Group.ID == pc.Group.ID:
			e.Broken = true
		}
	}
}

// OutOfOrder returns the first fastener of a torque check that was tightened before one that comes
// earlier in its order, or "" when the order was kept.
func (a *Attempt) OutOfOrder(pc *procedures.PlanCheck) string {
	if pc.Kind != procedures.Torque || a == nil {
		return ""
	}
	last := uint32(0)
	for _, item := range pc.Items {
		first := uint32(0)
		for _, e := range a.Entries { // a correction does not change when the fastener was tightened
			if e.Check == pc.ID && e.Item == item && !e.Broken {
				first = e.Seq
				break
			}
		}
		if item == procedures.ItemNew || first == 0 {
			continue
		}
		if first < last {
			return item
		}
		last = first
	}
	return ""
}

// torqueRemarks says what the torque entries mean beyond their window: an adapter that was not
// allowed for, an order not kept, torque and angle that do not go together.
func (c *Card) torqueRemarks() []Remark {
	var out []Remark
	for i := range c.Stages {
		s := &c.Stages[i]
		a := s.Current()
		if a == nil || a.stale || s.Status == LeftOut {
			continue
		}
		for k := range s.Node.Checks {
			pc := &s.Node.Checks[k]
			if pc.Kind != procedures.Torque {
				continue
			}
			if item := a.OutOfOrder(pc); item != "" {
				out = append(out, Remark{Key: fmt.Sprintf("order/%s/%s", s.Node.Ref, pc.ID), Stage: s.Node.Ref,
					Text: phrase.Of("job.passes.was-tightened-out-of-its-order", pc.Title, item)})
			}
			out = append(out, adapterRemarks(s.Node.Ref, pc, a)...)
			out = append(out, angleRemarks(s, pc, a)...)
		}
	}
	return out
}

func adapterRemarks(at procedures.Ref, pc *procedures.PlanCheck, a *Attempt) []Remark {
	var out []Remark
	for _, item := range pc.Items {
		e := a.Entry(pc.ID, item)
		if e == nil || e.Adapter == nil || pc.Window == nil {
			continue
		}
		off, err := e.Adapter.fastening().UncorrectedError()
		if err != nil {
			continue
		}
		text := phrase.Of("job.passes.at-a-right-angle-the-adapter-changes", pc.Title, item, e.Value)
		if bolt, err := e.Bolt.Convert(e.Bolt.Unit, 1); off.Rat().Sign() != 0 && err == nil {
			text = phrase.Of("job.passes.set-with-the-adapter-gives-the-fastener", pc.Title, item, e.Value, bolt, quantity.FromRat(off.Rat(), off.Unit, 1))
		}
		out = append(out, Remark{Key: fmt.Sprintf("adapter/%s/%s", at, pc.ID), Stage: at, Text: text})
		return out // one line a group is enough
	}
	return out
}

// reckonEnd marks a check that reads the torque at the end of the angle.
const reckonEnd = "end-torque"

// angleRemarks judges torque plus angle fastener by fastener, from the angle check of a group.
func angleRemarks(s *StageCard, angle *procedures.PlanCheck, a *Attempt) []Remark {
	if angle.Window == nil || angle.Window.Window.Dimension() != quantity.Angle {
		return nil
	}
	spec := fastening.AngleSpec{Angle: angle.Window.Window}
	var snug, end *procedures.PlanCheck
	for i := range s.Node.Checks {
		pc := &s.Node.Checks[i]
		if pc.Kind != procedures.Torque || pc.Group.ID != angle.Group.ID || pc.Window == nil || pc.Window.Window.Dimension() != quantity.Torque {
			continue
		}
		if pc.Reckon == reckonEnd {
			end, spec.End = pc, pc.Window.Window
		} else {
			snug, spec.Snug = pc, pc.Window.Window
		}
	}
	if snug == nil {
		return nil
	}
	var out []Remark
	for _, item := range angle.Group.Names {
		t, d := a.Entry(snug.ID, item), a.Entry(angle.ID, item)
		if t == nil || d == nil {
			continue
		}
		r := fastening.AngleReading{Snug: t.Value, Angles: []quantity.Quantity{d.Value}}
		if end != nil {
			if e := a.Entry(end.ID, item); e != nil {
				r.End = e.Value
			}
		}
		text := ""
		if j, err := spec.Judge(r); err != nil {
			text = err.Error()
		} else {
			text = j.Remark
		}
		if text != "" {
			out = append(out, Remark{Key: fmt.Sprintf("angle/%s/%s/%s", s.Node.Ref, angle.ID, item), Stage: s.Node.Ref, Text: fmt.Sprintf("%s, %s: %s", angle.Title, item, text)})
		}
	}
	return out
}
