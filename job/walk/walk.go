// Package walk plays a job by the rules: it looks at a card, and names the next thing a careful
// crew would do and who does it. Everything it proposes goes through job.Decide like any other
// intent. It fills the invented depot of the demonstration and walks every procedure to its ends in
// tests. It imports no clock, disk or terminal.
package walk

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Crew is who works on the job.
type Crew struct {
	Doer    register.Person // does what his role allows
	Second  register.Person // countersigns, and does what must be independent of the doer
	Foreman register.Person
}

// Walker plays jobs. Its zero choices are the straight ones: the first answer that passes, the
// middle of every window.
type Walker struct {
	Crew     Crew
	Register register.Register
	// Choose overrides an answer, a count or a value: for a stage, check and item it returns what to
	// type, or "" for the straight choice.
	Choose func(c *job.Card, at procedures.Ref, check *procedures.PlanCheck, item string) string
}

// Move is one thing to do next.
type Move struct {
	By   register.Person
	Want job.Intent
}

// Next returns the next move, and false when the job has come to its end. An error says why a
// careful crew would be stuck.
func (w *Walker) Next(c *job.Card, ctx job.Context) (Move, bool, error) {
	if c.Finished() || c.Cancelled != nil {
		return Move{}, false, nil
	}
	if c.Paused != nil {
		return Move{w.Crew.Foreman, job.Resume{Read: c.ReadBack()}}, true, nil
	}
	if half := c.HalfDone(); len(half) > 0 && broken(c, half[0]) {
		return Move{w.Crew.Second, job.Interrupted{Stage: half[0].Stage, Check: half[0].Check}}, true, nil
	}
	for _, a := range c.Advice {
		if a.Decided == nil {
			return Move{w.Crew.Foreman, job.DecideAdvice{Advice: a.Seq, Answer: "accepted", Words: "do it", ByWhom: "customer, by telephone"}}, true, nil
		}
	}
	at := c.Next()
	if at == (procedures.Ref{}) {
		return Move{}, false, fmt.Errorf("nothing is left to do and the job has not ended: %v", firstOpen(c))
	}
	return w.at(c, at, ctx)
}

// broken reports whether the pass was left by somebody and so has to begin again.
func broken(c *job.Card, b job.Broken) bool {
	return c.Stage(b.Stage).Current().Entry(b.Check, b.Last) == nil
}

func firstOpen(c *job.Card) string {
	for i := range c.Stages {
		if s := &c.Stages[i]; s.Status != job.Complete && s.Status != job.LeftOut {
			return fmt.Sprintf("%s is %s", s.Node.Ref, s.Status)
		}
	}
	return "every stage is complete"
}

func (w *Walker) at(c *job.Card, at procedures.Ref, ctx job.Context) (Move, bool, error) {
	s := c.Stage(at)
	if s.Status == job.SecondOwed {
		return w.countersign(c, s, ctx)
	}
	by := w.who(c, s, ctx)
	if s.Status == job.Stale && len(s.Node.Checks) == 0 {
		return Move{by, job.Again{Stage: at, Reason: "rests on what was done again"}}, true, nil
	}
	for _, res := range c.Results(at) {
		if len(res.Missing) == 0 || (res.Check.Optional && len(res.Values) == 0) {
			continue
		}
		want, err := w.enter(c, s, res.Check, res.Missing[0], ctx)
		return Move{by, want}, true, err
	}
	for _, m := range c.RemarksAt(at) {
		if m.Ask != "" && c.Answer(m.Key) == nil {
			return Move{w.Crew.Second, job.AnswerQuestion{Key: m.Key, Answer: "looked at: pins free, piston springs back"}}, true, nil
		}
	}
	return Move{by, job.Sign{Stage: at}}, true, nil
}

// who picks the person for a stage: the doer where his role reaches and independence allows, else
// the second, else the foreman.
func (w *Walker) who(c *job.Card, s *job.StageCard, ctx job.Context) register.Person {
	for _, p := range []register.Person{w.Crew.Doer, w.Crew.Second, w.Crew.Foreman} {
		ctx.By = p
		if !p.MayDo(s.Node.Stage.Who) || blocked(c, s, ctx) {
			continue
		}
		return p
	}
	return w.Crew.Foreman
}

// blocked reports whether something about the person himself speaks against him.
func blocked(c *job.Card, s *job.StageCard, ctx job.Context) bool {
	for _, b := range c.Blockers(s.Node.Ref, ctx) {
		switch b.Code {
		case job.CodeSamePerson, job.CodeRole, job.CodeQualification, job.CodeUnsure:
			return true
		}
	}
	return false
}

func (w *Walker) countersign(c *job.Card, s *job.StageCard, ctx job.Context) (Move, bool, error) {
	at := s.Node.Ref
	for _, p := range []register.Person{w.Crew.Second, w.Crew.Foreman, w.Crew.Doer} {
		if !p.Qualified() || slices.ContainsFunc(s.Current().Doers(), func(x job.Who) bool { return x.ID == p.ID }) {
			continue
		}
		if owed := c.Unchecked(at, p.ID); len(owed) > 0 {
			pc := s.Node.Check(owed[0].Check)
			ctx.By = p
			with, value, err := w.tool(pc, ctx)
			return Move{p, job.Recheck{Stage: at, Check: owed[0].Check, Item: owed[0].Item, Value: value, With: with, All: true}}, true, err
		}
		return Move{p, job.Countersign{Stage: at}}, true, nil
	}
	return Move{}, false, fmt.Errorf("nobody can countersign %s", at)
}

// tool picks an instrument of the register for a torque check, and the value to use it at.
func (w *Walker) tool(pc *procedures.PlanCheck, ctx job.Context) (with, value string, err error) {
	for _, in := range w.Register.Instruments {
		if !slices.Contains(pc.Tools, in.Kind) {
			continue
		}
		if in.Wrench() {
			q, err := job.SettingFor(in, pc, ctx)
			if err == nil {
				return in.ID, q.String(), nil
			}
			continue
		}
		if in.UsableAt(ctx.At) != nil {
			continue
		}
		for _, u := range in.Scales {
			if !u.Same(expected(pc)) {
				continue
			}
			q := w.middle(pc, u, in.Resolution.Places())
			if in.Reads(q) == nil {
				return in.ID, q.String(), nil
			}
		}
	}
	return "", "", fmt.Errorf("no instrument of the register can give %q (%v)", pc.Title, pc.Tools)
}

// expected is the unit a check is read in.
func expected(pc *procedures.PlanCheck) quantity.Unit {
	switch {
	case pc.Nominal != nil:
		return pc.Nominal.Window.Unit()
	case pc.Window != nil:
		return pc.Window.Window.Unit()
	}
	return quantity.Unit(pc.Unit)
}

// middle is a value inside the check's window: its target, the middle, or well on the right side of
// a single limit. Without a window it is a plausible value of that unit.
func (w *Walker) middle(pc *procedures.PlanCheck, u quantity.Unit, places int) quantity.Quantity {
	win := pc.Window
	if pc.Nominal != nil {
		win = pc.Nominal
	}
	if win == nil || pc.Kind == procedures.RunOut {
		return quantity.FromRat(plausible(u).Rat(), u, places)
	}
	x := win.Window
	low, high := x.Low, x.High
	var r *big.Rat
	var err error
	switch {
	case !x.Target.IsZero():
		r, err = x.Target.In(u)
	case low.IsZero():
		r, err = high.In(u)
		if err == nil {
			r.Mul(r, big.NewRat(1, 4))
		}
	case high.IsZero():
		r, err = low.In(u)
		if err == nil {
			r.Mul(r, big.NewRat(5, 4))
		}
	default:
		r, err = low.In(u)
		if err == nil {
			var h *big.Rat
			if h, err = high.In(u); err == nil {
				r.Add(r, h).Mul(r, big.NewRat(1, 2))
			}
		}
	}
	if err != nil {
		return plausible(u)
	}
	return quantity.FromRat(r, u, places)
}

// plausible is an invented value of a unit, for readings that are only kept.
func plausible(u quantity.Unit) quantity.Quantity {
	n := map[quantity.Unit]string{quantity.Millimetre: "6.1", quantity.Percent: "70", quantity.Kilonewton: "2.1", quantity.Newton: "2100",
		quantity.Kilogram: "2280", quantity.Kilometre: "61442", quantity.Millilitre: "20", quantity.Celsius: "210", quantity.Volt: "12.8",
		quantity.Second: "3", quantity.Degree: "60", quantity.Bar: "1.8", quantity.NewtonMetre: "100"}[u]
	if n == "" {
		n = "1"
	}
	return quantity.Quantity{Number: n, Unit: u}
}

func (w *Walker) enter(c *job.Card, s *job.StageCard, pc *procedures.PlanCheck, item string, ctx job.Context) (job.Enter, error) {
	in := job.Enter{Stage: s.Node.Ref, Check: pc.ID, Item: item}
	if w.Choose != nil {
		in.Value = w.Choose(c, s.Node.Ref, pc, item)
	}
	chosen := in.Value != ""
	var err error
	straight := func(v string) {
		if !chosen {
			in.Value = v
		}
	}
	switch pc.Kind {
	case procedures.Confirm:
		straight(job.Yes)
	case procedures.Choice:
		straight(straightAnswer(pc))
	case procedures.Count:
		straight(w.countFor(c, s, pc))
	case procedures.Text:
		straight("as found, in order")
	case procedures.Part:
		straight(partValue(pc, item))
	case procedures.RunOut:
		err = w.measure(c, &in, pc, ctx, "0.00", chosen)
	case procedures.Torque:
		if item == procedures.ItemNew {
			straight(strconv.Itoa(len(pc.Group.Names)))
			break
		}
		err = w.measure(c, &in, pc, ctx, "", chosen)
	default:
		err = w.measure(c, &in, pc, ctx, "", chosen)
	}
	return in, err
}

// measure fills in the instrument, and the value unless one was chosen.
func (w *Walker) measure(c *job.Card, in *job.Enter, pc *procedures.PlanCheck, ctx job.Context, value string, chosen bool) error {
	if len(pc.Tools) == 0 {
		if !chosen {
			u := quantity.Unit(pc.Unit)
			if pc.Window != nil {
				u = pc.Window.Window.Unit()
			}
			in.Value = w.middle(pc, u, 2).String()
			if u == quantity.Kilometre {
				in.Value = odometer(c)
			}
		}
		return nil
	}
	with, v, err := w.tool(pc, ctx)
	if err != nil {
		return err
	}
	in.With = with
	if pc.Adapter {
		in.Adapter = squareAdapter()
	}
	switch {
	case chosen:
	case value != "":
		in.Value = value
	default:
		in.Value = v
	}
	return nil
}

// odometer is what the instrument shows during a job: a few kilometres more than when it was opened
// where that is known to fit, else the same.
func odometer(c *job.Card) string {
	v, was := plausible(quantity.Kilometre), c.Opened.Odometer
	if on, err := v.Sub(was); err != nil || on.Negative() || on.Float() > 100 {
		return was.Number
	}
	return v.Number
}

// squareAdapter stands at a right angle to the handle, where it changes nothing: the setting is the
// torque.
func squareAdapter() *job.AdapterUse {
	return &job.AdapterUse{Length: quantity.MustParse("300 mm"), Offset: quantity.MustParse("40 mm"), Angle: quantity.MustParse("90 °")}
}

// straightAnswer is the first answer that passes. For a finding that is the one a sound vehicle
// gives, which procedures list first.
func straightAnswer(pc *procedures.PlanCheck) string {
	if len(pc.Pass) > 0 {
		return pc.Pass[0]
	}
	return pc.Options[0]
}

func (w *Walker) countFor(c *job.Card, s *job.StageCard, pc *procedures.PlanCheck) string {
	if pc.Expect != nil {
		return strconv.Itoa(*pc.Expect)
	}
	if n, ok := c.CountOf(pc.Same, s.Node.Ref.Side); pc.Same != "" && ok {
		return strconv.Itoa(n)
	}
	if pc.Window != nil {
		return w.middle(pc, quantity.Count, 0).Number
	}
	return "0"
}

func partValue(pc *procedures.PlanCheck, item string) string {
	switch item {
	case procedures.PartNumber:
		if pc.Check.Part != "" {
			return pc.Part.Number
		}
		return "DEMO-1"
	case procedures.PartBatch:
		return "B-2231"
	}
	return "E0 90R-DEMO"
}
