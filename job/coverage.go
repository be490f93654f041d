package job

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Cover says which wrenches of the register can prove one torque window of the job today.
type Cover struct {
	Stage  procedures.Ref
	Title  string
	Window quantity.Window
	Pulls  int      // fasteners to tighten, on this side
	Able   []string // instrument ids
	Why    []string // for each wrench of the right kind that cannot: one sentence
}

// Coverage tells, before stripping starts, whether the register's wrenches cover every torque window
// of the job, and whether each has the cycles left that the job would take if it were used for all
// it can do. Stages left out are left out here too.
func (c *Card) Coverage(ctx Context) []Cover {
	var out []Cover
	for i := range c.Stages {
		s := &c.Stages[i]
		if s.Status == LeftOut || s.Status == Complete {
			continue
		}
		for k := range s.Node.Checks {
			pc := &s.Node.Checks[k]
			if pc.Kind != procedures.Torque || pc.Window == nil || pc.Window.Window.Dimension() != quantity.Torque {
				continue
			}
			out = append(out, cover(s.Node.Ref, pc, ctx))
		}
	}
	return out
}

func cover(at procedures.Ref, pc *procedures.PlanCheck, ctx Context) Cover {
	cv := Cover{Stage: at, Title: pc.Title, Window: pc.Window.Window, Pulls: len(pc.Group.Names)}
	for _, in := range ctx.Register.Instruments {
		if !slices.Contains(pc.Tools, in.Kind) || !in.Wrench() {
			continue
		}
		if _, err := SettingFor(in, pc, ctx); err != nil {
			cv.Why = append(cv.Why, err.Error())
			continue
		}
		cv.Able = append(cv.Able, in.ID)
	}
	return cv
}

// SettingFor returns what to set a wrench to, or aim for, to prove the window of a torque check
// today, on the first of its scales that can; or why it cannot. It is the mark nearest the middle of
// the window.
func SettingFor(in register.Instrument, pc *procedures.PlanCheck, ctx Context) (quantity.Quantity, error) {
	if err := in.UsableAt(ctx.At); err != nil {
		return quantity.Quantity{}, err
	}
	if left := in.CycleLimit - ctx.Cycles[in.ID]; in.CycleLimit > 0 && left < len(pc.Group.Names) {
		return quantity.Quantity{}, phrase.Error("job.coverage.has-cycles-left-before-it-must-be", in.ID, max(0, left), len(pc.Group.Names))
	}
	var last error
	for _, u := range in.Scales {
		aim, err := middle(pc.Window.Window, u, in.Resolution)
		if err == nil {
			err = in.Reads(aim)
		}
		var p fastening.Proof
		if err == nil {
			p, err = fastening.Prove(aim, pc.Window.Window, accuracy(in, aim), fastening.Adapter{})
		}
		switch {
		case err != nil:
			last = err
		case p.Able():
			return aim, nil
		case !p.SettingLow.IsZero():
			return p.SettingLow, nil
		default:
			last = fmt.Errorf("%s", strings.TrimSuffix(p.Sentence(in.ID), "."))
		}
	}
	return quantity.Quantity{}, last
}

// middle is the mark of a scale nearest the middle of a window.
func middle(w quantity.Window, u quantity.Unit, step quantity.Quantity) (quantity.Quantity, error) {
	low, err := w.Low.In(u)
	if err != nil {
		return quantity.Quantity{}, err
	}
	high, err := w.High.In(u)
	if err != nil {
		return quantity.Quantity{}, err
	}
	mid := low.Add(low, high)
	mid.Quo(mid, two)
	if s, err := step.In(u); err == nil && s.Sign() > 0 {
		marks := mid.Quo(mid, s)
		whole := quantity.FromRat(marks, quantity.Count, 0)
		mid = whole.Rat()
		mid.Mul(mid, s)
	}
	return quantity.FromRat(mid, u, step.Places()+2), nil
}

// Pulls counts, by instrument, the torque actions the record of this job holds since a day (ISO
// date): tightening, rejected pulls, pulls done again and checks alike. Practice jobs count none.
func (c *Card) Pulls(since map[string]string) map[string]int {
	out := map[string]int{}
	if c.Opened.Practice {
		return out
	}
	count := func(in *register.Instrument, day string) {
		if in != nil && in.Wrench() && day >= since[in.ID] {
			out[in.ID]++
		}
	}
	for _, e := range c.Events {
		switch b := e.Body.(type) {
		case Entered:
			count(b.Instrument, e.At.Format("2006-01-02"))
		case Checked:
			count(b.Instrument, e.At.Format("2006-01-02"))
		}
	}
	return out
}
