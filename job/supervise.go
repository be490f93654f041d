package job

import (
	"slices"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Shift is how long after the doer's signature a second person may still sign for an apprentice's
// work (common practice, no source: the same shift).
const Shift = 12 * time.Hour

// A person who countersigns more than BurstMost stages of a job within BurstTime cannot have looked
// (common practice, no source).
const (
	BurstMost = 3
	BurstTime = time.Minute
)

// SecondOwedBy reports whether a stage signed by that person needs a second person's signature. For
// an apprentice it depends on how far he has come in the stage's task; a torque group and a hold
// point are always countersigned.
func SecondOwedBy(n *procedures.Node, p register.Person) bool {
	st := n.Stage
	if st.Second == procedures.SecondAlways {
		return true
	}
	if p.Role.Rank() >= procedures.Mechanic.Rank() {
		return false
	}
	if st.Hold || tightens(n) {
		return true
	}
	if st.Second == procedures.SecondNever {
		return false
	}
	return p.Level(st.Task) <= register.LevelBeside
}

// tightens reports whether a stage has a torque group.
func tightens(n *procedures.Node) bool {
	for i := range n.Checks {
		if n.Checks[i].Kind == procedures.Torque {
			return true
		}
	}
	return false
}

// supervised returns what the levels and qualifications hold against that person at this stage.
func (c *Card) supervised(s *StageCard, ctx Context) Refused {
	var out Refused
	st, r := s.Node.Stage, s.Node.Ref
	if ctx.By.Role == procedures.Apprentice && ctx.By.Level(st.Task) == register.LevelWatch {
		out = append(out, Blocker{Code: CodeRole, Stage: r, Text: phrase.Of("job.supervise.watches-at-and-makes-no-entries-yet", ctx.By.Name, c.title(r)), WayOut: phrase.Of("job.supervise.a-mechanic-does-it-the-foreman-raises")})
	}
	if st.Qualification != "" {
		if err := ctx.By.QualifiedFor(st.Qualification, ctx.At); err != nil {
			out = append(out, Blocker{Code: CodeQualification, Stage: r, Text: err.Error(), WayOut: phrase.Of("job.supervise.somebody-with-a-valid-one-does-it")})
		}
	}
	if a := s.Current(); a != nil && a.Unsure != nil && !ctx.By.Qualified() {
		out = append(out, Blocker{Code: CodeUnsure, Stage: r, Text: phrase.Of("job.supervise.was-not-sure-here-and-asked-for", a.Unsure.By.Name), WayOut: phrase.Of("job.supervise.a-mechanic-or-the-foreman-comes-and")})
	}
	return out
}

// apprentices returns the apprentices among the doers of an attempt.
func (a *Attempt) apprentices() []Who {
	var out []Who
	for _, w := range a.Doers() {
		if w.Role == procedures.Apprentice {
			out = append(out, w)
		}
	}
	return out
}

// lookedAt returns what a second person still owes before he may countersign an apprentice's stage:
// his own tool on every fastener, the same shift, and time enough to have looked.
func (c *Card) lookedAt(s *StageCard, ctx Context) Refused {
	var out Refused
	a, r := s.Current(), s.Node.Ref
	if len(a.apprentices()) > 0 {
		for _, item := range c.unchecked(s, ctx.By.ID) {
			out = append(out, Blocker{Code: CodeChecked, Stage: r, Check: item.Check, Item: item.Item,
				Text: phrase.Of("job.supervise.has-not-been-checked-with-a-tool", item.Title, item.Item, ctx.By.Name), WayOut: phrase.Of("job.supervise.put-your-wrench-on-it-and-enter")})
		}
		if ctx.At.Sub(a.Signed.At) > Shift {
			out = append(out, Blocker{Code: CodeShift, Stage: r, Text: phrase.Of("job.supervise.was-signed-at-more-than-a-shift", c.title(r), a.Signed.At.Format("2006-01-02 15:04")), WayOut: phrase.Of("job.supervise.begin-a-new-attempt-and-do-it")})
		}
	}
	for _, k := range a.Checks {
		if k.Moved {
			out = append(out, Blocker{Code: CodeOutside, Stage: r, Check: k.Check, Item: k.Item, Text: phrase.Of("job.supervise.moved-when-checked-it", k.Item, k.By.Name), WayOut: c.wayOut(s)})
		}
	}
	n := 0
	for i := range c.Stages {
		for _, b := range c.Stages[i].Attempts {
			if m := b.Countersigned; m != nil && m.By.ID == ctx.By.ID && ctx.At.Sub(m.At) < BurstTime {
				n++
			}
		}
	}
	if n >= BurstMost {
		out = append(out, Blocker{Code: CodeBurst, Stage: r, Text: phrase.Of("job.supervise.countersigned-stages-within-a-minute-nobody", ctx.By.Name, n), WayOut: phrase.Of("job.supervise.go-and-look-then-sign")})
	}
	return out
}

// Pull names one fastener of a torque check.
type Pull struct{ Check, Title, Item string }

// unchecked lists the fasteners of a stage which that person has not checked in the present attempt.
func (c *Card) unchecked(s *StageCard, by string) []Pull {
	a := s.Current()
	var out []Pull
	for i := range s.Node.Checks {
		pc := &s.Node.Checks[i]
		if pc.Kind != procedures.Torque {
			continue
		}
		for _, item := range pc.Items {
			if item == procedures.ItemNew || slices.ContainsFunc(a.Checks, func(k CheckedPull) bool { return k.Check == pc.ID && k.Item == item && k.By.ID == by }) {
				continue
			}
			out = append(out, Pull{pc.ID, pc.Title, item})
		}
	}
	return out
}

// Unchecked lists the fasteners that person still has to check with his own tool before he may
// countersign the stage: those of an apprentice's torque groups.
func (c *Card) Unchecked(r procedures.Ref, by string) []Pull {
	s := c.Stage(r)
	if s == nil || s.Status != SecondOwed || len(s.Current().apprentices()) == 0 {
		return nil
	}
	return c.unchecked(s, by)
}
