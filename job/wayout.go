package job

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// Withhold says the vehicle must not be driven.
type Withhold struct{ Class, Words, Told string }

// Lift takes a withholding back, naming the stage at which its cause was cured.
type Lift struct {
	Cure  procedures.Ref
	Words string
}

// Abandon ends the work unfinished; what is left is the make-safe branch.
type Abandon struct{ Reason string }

// Declare names a standing state that cannot be put back on a withheld vehicle.
type Declare struct {
	State procedures.StateRef
	Words string
}

// Cancel ends a job before anything was done to the vehicle.
type Cancel struct{ Reason string }

func (c *Card) decideWithhold(w Withhold, ctx Context) ([]Body, error) {
	var out Refused
	at := procedures.Ref{}
	if !slices.Contains(WithheldClasses(), w.Class) {
		out = append(out, Blocker{Code: CodeValue, Text: phrase.Of("job.wayout.is-no-class-of-reason-expected-one", w.Class, strings.Join(phrase.Words(WithheldClasses()), ", ")), WayOut: phrase.Of("job.decide.choose-one-by-its-number")})
	}
	if c.Withheld != nil {
		out = append(out, Blocker{Code: CodeWithheld, Text: phrase.Of("job.wayout.the-vehicle-is-withheld-already", c.Withheld.Words), WayOut: phrase.Of("job.wayout.go-on-or-lift-it")})
	}
	if !ctx.By.Qualified() {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.wayout.is-a-mechanic-or-the-foreman-withholds", nameOf(ctx.By.Name), roleWords(ctx)), WayOut: phrase.Of("job.wayout.press-not-sure-it-stops-the-stage")})
	}
	out = append(out, words(at, w.Words, phrase.Of("job.wayout.say-what-was-measured-or-seen"))...)
	out = append(out, words(at, w.Told, phrase.Of("job.wayout.say-who-was-told-and-in-what"))...)
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Withheld{w.Class, strings.TrimSpace(w.Words), strings.TrimSpace(w.Told)}}, nil
}

func (c *Card) decideLift(w Lift, ctx Context) ([]Body, error) {
	if c.Withheld == nil {
		return nil, refuse(CodeWithheld, w.Cure, phrase.Of("job.wayout.the-vehicle-is-not-withheld"), phrase.Of("job.wayout.go-on"))
	}
	var out Refused
	if !ctx.By.MayDo(procedures.Foreman) && ctx.By.ID != c.Withheld.By.ID {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.wayout.withheld-it-only-or-the-foreman-lifts", c.Withheld.By.Name, c.Withheld.By.Name), WayOut: phrase.Of("job.decidepeople.fetch-one-of-them")})
	}
	if !ctx.CodeGiven {
		out = append(out, Blocker{Code: CodeCode, Text: phrase.Of("job.wayout.lifting-takes-the-personal-code"), WayOut: phrase.Of("job.wayout.type-your-code")})
	}
	s := c.Stage(w.Cure)
	switch {
	case s == nil:
		out = append(out, Blocker{Code: CodeUnknown, Stage: w.Cure, Text: phrase.Of("job.decide.this-vehicle-has-no-stage", w.Cure), WayOut: phrase.Of("job.wayout.name-the-stage-at-which-the-cause")})
	case s.Status != Complete || s.Current().Signed.Seq <= c.Withheld.Seq:
		out = append(out, Blocker{Code: CodeWithheld, Stage: w.Cure, Text: phrase.Of("job.wayout.was-not-signed-after-the-vehicle-was", c.title(w.Cure)), WayOut: phrase.Of("job.wayout.cure-the-cause-do-the-stage-again")})
	}
	out = append(out, words(w.Cure, w.Words, phrase.Of("job.wayout.say-how-the-cause-was-cured"))...)
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Lifted{w.Cure, strings.TrimSpace(w.Words)}}, nil
}

func (c *Card) decideAbandon(w Abandon, ctx Context) ([]Body, error) {
	var out Refused
	if !ctx.By.MayDo(procedures.Foreman) {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.wayout.is-the-foreman-ends-the-work", nameOf(ctx.By.Name), roleWords(ctx)), WayOut: phrase.Of("job.wayout.fetch-the-foreman")})
	}
	switch {
	case c.Abandoned != nil:
		out = append(out, Blocker{Code: CodeEnded, Text: phrase.Of("job.wayout.the-work-has-been-ended-already"), WayOut: phrase.Of("job.wayout.make-the-vehicle-safe")})
	case c.Released != nil:
		out = append(out, Blocker{Code: CodeReleased, Text: phrase.Of("job.adopt.the-vehicle-has-been-released"), WayOut: phrase.Of("job.wayout.go-on-with-the-hand-over")})
	}
	out = append(out, words(procedures.Ref{}, w.Reason, phrase.Of("job.wayout.say-why-the-work-ends-here"))...)
	if len(out) > 0 {
		return nil, out
	}
	var bodies []Body
	for _, b := range c.HalfDone() {
		bodies = append(bodies, b)
	}
	return append(bodies, Abandoned{strings.TrimSpace(w.Reason)}), nil
}

func (c *Card) decideDeclare(w Declare, ctx Context) ([]Body, error) {
	var out Refused
	if c.Withheld == nil || c.Abandoned == nil {
		out = append(out, Blocker{Code: CodeStateOpen, Text: phrase.Of("job.wayout.a-state-is-declared-open-only-on"), WayOut: phrase.Of("job.wayout.put-it-back")})
	}
	if !c.standsOpen(w.State.State, w.State.Side) {
		out = append(out, Blocker{Code: CodeStateShut, Text: phrase.Of("job.wayout.does-not-stand-open", w.State), WayOut: phrase.Of("job.wayout.go-on")})
	}
	if !ctx.By.MayDo(procedures.Foreman) {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.wayout.only-the-foreman-declares-a-state-open"), WayOut: phrase.Of("job.wayout.fetch-the-foreman")})
	}
	if !ctx.CodeGiven {
		out = append(out, Blocker{Code: CodeCode, Text: phrase.Of("job.adopt.this-takes-the-personal-code"), WayOut: phrase.Of("job.wayout.type-your-code")})
	}
	out = append(out, words(procedures.Ref{}, w.Words, phrase.Of("job.wayout.say-why-it-cannot-be-put-back"))...)
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Declared{w.State, strings.TrimSpace(w.Words)}}, nil
}

func (c *Card) declared(ref procedures.StateRef) bool {
	return slices.ContainsFunc(c.Declared, func(d Declaration) bool { return d.State == ref })
}

// untouched reports whether nothing has been done to the vehicle: no state was ever set.
func (c *Card) untouched() bool {
	for i := range c.Stages {
		s := &c.Stages[i]
		for _, a := range s.Attempts {
			if len(a.Entries) > 0 && len(s.Node.Sets) > 0 {
				return false
			}
		}
	}
	return true
}

func (c *Card) decideCancel(w Cancel, ctx Context) ([]Body, error) {
	var out Refused
	if !c.untouched() {
		out = append(out, Blocker{Code: CodeEnded, Text: phrase.Of("job.wayout.work-on-the-vehicle-has-begun-so"), WayOut: phrase.Of("job.wayout.end-the-work-and-make-the-vehicle")})
	}
	if !ctx.By.Qualified() {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.wayout.is-a-mechanic-or-the-foreman-cancels", nameOf(ctx.By.Name), roleWords(ctx)), WayOut: phrase.Of("job.decidepeople.fetch-one-of-them")})
	}
	out = append(out, words(procedures.Ref{}, w.Reason, phrase.Of("job.wayout.say-why-the-job-is-cancelled"))...)
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Cancelled{strings.TrimSpace(w.Reason)}}, nil
}

// outcome is what the release stage's signature says of the vehicle.
func (c *Card) outcome() string {
	switch {
	case c.Withheld != nil:
		return OutcomeRecovery
	case c.Abandoned != nil:
		return OutcomeMadeSafe
	}
	return OutcomeReleased
}

// makeSafe marks the stages of the make-safe branch: those that put back what stands open and is not
// declared so, those still owed because what they undo was begun, and the release; nil while the
// work goes on. It is worked out anew with every event, in the order of the graph.
func (c *Card) makeSafe() map[procedures.Ref]bool {
	if c.Abandoned == nil {
		return nil
	}
	keep := map[procedures.Ref]bool{}
	for i := range c.Stages {
		s := &c.Stages[i]
		n := s.Node
		for _, cl := range n.Clears {
			keep[n.Ref] = keep[n.Ref] || c.everSet(cl.State) && !c.declared(cl.State)
		}
		for _, id := range n.Stage.MakeSafeAfter {
			for _, side := range []procedures.Side{n.Ref.Side, procedures.NoSide, procedures.Left, procedures.Right} {
				if side != n.Ref.Side && side != procedures.NoSide && n.Ref.Side != procedures.NoSide {
					continue
				}
				if t := c.Stage(procedures.Ref{Stage: id, Side: side}); t != nil && t.begun() {
					keep[n.Ref] = true
				}
			}
		}
		if n.Stage.Act != procedures.NoAct {
			keep[n.Ref] = true
		}
	}
	return keep
}

func (c *Card) everSet(ref procedures.StateRef) bool {
	for i := range c.Stages {
		s := &c.Stages[i]
		if slices.Contains(s.Node.Sets, ref) && s.begun() {
			return true
		}
	}
	return false
}

func (s *StageCard) begun() bool {
	return slices.ContainsFunc(s.Attempts, func(a Attempt) bool { return len(a.Entries) > 0 })
}

// MakeSafe lists the stages of the make-safe branch that are still to do, in the order of the graph.
func (c *Card) MakeSafe() []procedures.Ref {
	if c.Abandoned == nil {
		return nil
	}
	var out []procedures.Ref
	for i := range c.Stages {
		if s := &c.Stages[i]; s.Status != LeftOut && s.Status != Complete {
			out = append(out, s.Node.Ref)
		}
	}
	return out
}
