package job

import (
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Hint is one sentence about a value that does not fit its window: the slip that would explain it,
// with the figure that would fit. It is empty when nothing explains it. A hint converts nothing;
// the value is typed again.
func Hint(e *Entry) string {
	if e == nil || e.Window == nil || e.Verdict != quantity.Outside || e.Value.IsZero() || e.Window.Window.IsZero() {
		return ""
	}
	typed := e.Value
	if !e.Bolt.IsZero() {
		typed = e.Bolt
	}
	var h fastening.Hint
	var ok bool
	switch e.Window.Window.Dimension() {
	case quantity.Torque:
		h, ok = fastening.HintTorque(typed, e.Window.Window)
	case quantity.Length:
		h, ok = fastening.HintLength(typed, e.Window.Window, quantity.Window{})
	case quantity.Force:
		h, ok = fastening.HintForce(typed, e.Window.Window, quantity.Window{})
	case quantity.Temperature:
		h, ok = fastening.HintTemperature(typed, e.Window.Window, quantity.Window{})
	}
	if !ok {
		return ""
	}
	return h.Text
}

// Next returns the first stage to work on: begun before ready, in the order of the plan, then those
// that only wait for a second person, then those a standing state is in the way of. It is the zero Ref
// when nothing is left.
func (c *Card) Next() procedures.Ref {
	best, rank := procedures.Ref{}, 0
	for i := range c.Stages {
		s := &c.Stages[i]
		r := 0
		switch {
		case s.Status == SecondOwed:
			r = 2
		case s.Status != Begun && s.Status != Stale && s.Status != Ready || !c.afterSettled(s):
			continue
		case len(c.stateGates(s)) > 0:
			r = 1
		case s.Status == Begun:
			r = 5
		case s.Status == Stale:
			r = 4
		default:
			r = 3
		}
		if r > rank {
			best, rank = s.Node.Ref, r
		}
	}
	return best
}

func (c *Card) afterSettled(s *StageCard) bool {
	for _, r := range s.Node.After {
		if !c.Stage(r).Settled {
			return false
		}
	}
	return true
}

// Progress counts the stages complete and those that are part of the job as far as is known.
func (c *Card) Progress() (done, of int) {
	for i := range c.Stages {
		switch c.Stages[i].Status {
		case LeftOut:
		case Complete:
			done++
			of++
		default:
			of++
		}
	}
	return done, of
}
