package job

import (
	"math/big"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Names of the figures worked out of a set.
const (
	FigureSpread  = "thickness variation"
	FigureRunOut  = "run-out"
	FigureReturn  = "return to start"
	FigureCompare = "left against right"
)

// Results works out what every check of a stage amounts to in the attempt that counts.
func (c *Card) Results(r procedures.Ref) []Result {
	s := c.Stage(r)
	if s == nil {
		return nil
	}
	out := make([]Result, len(s.Node.Checks))
	for i := range s.Node.Checks {
		out[i] = c.result(s, &s.Node.Checks[i])
	}
	return out
}

func (c *Card) result(s *StageCard, pc *procedures.PlanCheck) Result {
	a := s.Current()
	if a != nil && a.stale {
		a = nil // what was entered before it went stale proves nothing now
	}
	return c.resultIn(s, a, pc)
}

// resultIn works out a check in one attempt, also in one that no longer counts.
func (c *Card) resultIn(s *StageCard, a *Attempt, pc *procedures.PlanCheck) Result {
	res := Result{Check: pc}
	for _, item := range pc.Items {
		e := a.Entry(pc.ID, item)
		if e == nil {
			res.Missing = append(res.Missing, item)
			continue
		}
		res.Values = append(res.Values, Valued{Name: item, Entry: e, Value: e.Value, Window: e.Window, Verdict: e.Verdict})
	}
	if len(res.Missing) == 0 {
		res.Values = append(res.Values, c.figures(s, pc, res.Values)...)
		res.Verdict = worst(res.Values)
	}
	return res
}

// worst is the verdict of a whole check: outside before not proven before inside. Values no window
// judges count as inside.
func worst(values []Valued) quantity.Verdict {
	v := quantity.Inside
	for _, x := range values {
		switch x.Verdict {
		case quantity.Outside:
			return quantity.Outside
		case quantity.NotProven:
			v = quantity.NotProven
		}
	}
	return v
}

func (c *Card) figures(s *StageCard, pc *procedures.PlanCheck, values []Valued) []Valued {
	var out []Valued
	switch pc.Kind {
	case procedures.Thickness:
		if pc.Spread != nil {
			if v, ok := spread(values); ok {
				out = append(out, figure(FigureSpread, v, pc.Spread, values))
			}
		}
	case procedures.RunOut:
		points := values
		if pc.Spread != nil {
			points = values[:len(values)-1]
			back := values[len(values)-1]
			if d, err := back.Value.Sub(values[0].Value); err == nil {
				out = append(out, figure(FigureReturn, abs(d), pc.Spread, nil))
			}
		}
		if v, ok := spread(points); ok {
			w := pc.Window
			out = append(out, figure(FigureRunOut, v, w, values))
		}
	}
	if pc.Compare != nil {
		if v, ok := c.compare(s, pc, values); ok {
			out = append(out, figure(FigureCompare, v, pc.Compare, nil))
		}
	}
	return out
}

// figure judges a worked-out value by simple acceptance: a difference of two readings of one
// instrument at one setting, where its constant error falls out.
func figure(name string, v quantity.Quantity, w *procedures.PlanWindow, from []Valued) Valued {
	f := Valued{Name: name, Value: v, Window: w}
	if w == nil {
		return f
	}
	verdict, err := w.Window.Judge(v)
	if err != nil {
		verdict = quantity.NotProven
	}
	if verdict == quantity.Inside && tooCoarse(w, from) {
		verdict = quantity.NotProven
	}
	f.Verdict = verdict
	return f
}

// tooCoarse reports whether an instrument of the set resolves no finer than the limit itself, so
// that a variation that size would not show.
func tooCoarse(w *procedures.PlanWindow, from []Valued) bool {
	limit := w.Window.High
	for _, x := range from {
		if x.Entry == nil || x.Entry.Instrument == nil || limit.IsZero() {
			continue
		}
		if cmp, err := x.Entry.Instrument.Resolution.Cmp(limit); err != nil || cmp > 0 {
			return true
		}
	}
	return false
}

// spread is the largest value less the smallest.
func spread(values []Valued) (quantity.Quantity, bool) {
	if len(values) == 0 {
		return quantity.Quantity{}, false
	}
	low, high := values[0].Value, values[0].Value
	for _, x := range values[1:] {
		if cmp, err := x.Value.Cmp(low); err != nil {
			return quantity.Quantity{}, false
		} else if cmp < 0 {
			low = x.Value
		}
		if cmp, err := x.Value.Cmp(high); err == nil && cmp > 0 {
			high = x.Value
		}
	}
	d, err := high.Sub(low)
	return d, err == nil
}

// Minimum is the smallest value of a set, or the zero quantity when it is empty.
func Minimum(values []Valued) quantity.Quantity {
	var low quantity.Quantity
	for _, x := range values {
		if x.Entry == nil {
			continue
		}
		if cmp, err := x.Value.Cmp(low); low.IsZero() || (err == nil && cmp < 0) {
			low = x.Value
		}
	}
	return low
}

// compare is the difference between a check's value and the one it is held against: the check named
// in the same stage, or the same check on the other side. For a set the smallest values compare.
func (c *Card) compare(s *StageCard, pc *procedures.PlanCheck, values []Valued) (quantity.Quantity, bool) {
	at, check := s.Node.Ref, pc.Against
	if check == "" {
		at, check = procedures.Ref{Stage: at.Stage, Side: at.Side.Other()}, pc.ID
	}
	o := c.Stage(at)
	if o == nil || o.Node.Ref.Side != at.Side || (at == s.Node.Ref && check == pc.ID) {
		return quantity.Quantity{}, false
	}
	a := o.Current()
	if a == nil || a.stale {
		return quantity.Quantity{}, false
	}
	var other []Valued
	for i := range a.Entries {
		if e := &a.Entries[i]; e.Check == check && e.Counts() {
			other = append(other, Valued{Entry: e, Value: e.Value})
		}
	}
	mine, theirs := Minimum(values), Minimum(other)
	if mine.IsZero() || theirs.IsZero() {
		return quantity.Quantity{}, false
	}
	d, err := mine.Sub(theirs)
	return abs(d), err == nil
}

func abs(q quantity.Quantity) quantity.Quantity {
	if !q.Negative() {
		return q
	}
	return quantity.FromRat(new(big.Rat).Abs(q.Rat()), q.Unit, q.Places())
}
