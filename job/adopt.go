package job

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// TraitChanged corrects a trait of the vehicle in the middle of a job.
type TraitChanged struct {
	Trait  string `cbor:"1,keyasint"`
	Was    string `cbor:"2,keyasint"`
	Value  string `cbor:"3,keyasint"`
	Reason string `cbor:"4,keyasint"`
}

// SheetAdopted goes on by another revision of the spec sheet. It carries the canonical bytes of the
// sheet, so that the job reads the same in ten years.
type SheetAdopted struct {
	Sheet  Pinned `cbor:"1,keyasint"`
	Data   []byte `cbor:"2,keyasint"`
	Reason string `cbor:"3,keyasint"`
}

func (TraitChanged) kind() kind { return kindTraitChanged }
func (SheetAdopted) kind() kind { return kindSheetAdopted }

// TraitChange is a trait corrected, with its mark.
type TraitChange struct {
	Mark
	TraitChanged
}

// Adoption is a sheet revision adopted, with its mark.
type Adoption struct {
	Mark
	SheetAdopted
	before *procedures.Plan // what was in use until then
}

// ChangeTrait corrects a trait. Only the foreman does, and never so that something begun loses its
// stage or something open the stage that puts it back.
type ChangeTrait struct{ Trait, Value, Reason string }

// AdoptSheet goes on by another revision of the spec sheet.
type AdoptSheet struct {
	Sheet  *procedures.Sheet
	Reason string
}

func (ChangeTrait) intent() {}
func (AdoptSheet) intent()  {}

func (c *Card) applyTrait(mark Mark, b TraitChanged) error {
	traits := maps.Clone(c.Plan.Traits)
	traits[b.Trait] = b.Value
	plan, err := procedures.Resolve(c.Plan.Procedure, c.Plan.Sheet, traits)
	if err != nil {
		return err
	}
	c.Traits = append(c.Traits, TraitChange{mark, b})
	return c.replan(plan)
}

func (c *Card) applySheet(mark Mark, b SheetAdopted) error {
	sheet, err := procedures.LoadSheet(phrase.Of("job.adopt.adopted-sheet"), b.Data)
	if err != nil {
		return err
	}
	plan, err := procedures.Resolve(c.Plan.Procedure, sheet, c.Plan.Traits)
	if err != nil {
		return err
	}
	c.Sheets = append(c.Sheets, Adoption{mark, b, c.Plan})
	if err := c.replan(plan); err != nil {
		return err
	}
	for _, r := range c.Rejudged() {
		s := c.Stage(r.Stage)
		if a := s.Current(); r.Last && r.Turned() && !a.stale {
			a.stale, a.staleBy = true, r.Stage
			c.disturb(s.Node, r.Stage)
		}
	}
	return nil
}

// replan moves the stage cards over to another plan of the same procedure.
func (c *Card) replan(plan *procedures.Plan) error {
	stages := make([]StageCard, len(plan.Nodes))
	for i := range plan.Nodes {
		stages[i].Node = &plan.Nodes[i]
	}
	for i := range c.Stages {
		old := &c.Stages[i]
		if len(old.Attempts) == 0 {
			continue
		}
		k := plan.Index(old.Node.Ref)
		if k < 0 {
			return phrase.Error("job.adopt.leaves-out-which-was-begun", old.Node.Ref)
		}
		stages[k].Attempts = old.Attempts
	}
	c.Plan, c.Stages = plan, stages
	return nil
}

func (c *Card) decideTrait(w ChangeTrait, ctx Context) ([]Body, error) {
	out := foremanOnly(ctx, phrase.Of("job.adopt.changes-a-trait-of-the-vehicle"))
	add := func(code Code, wayOut, format string, args ...any) {
		out = append(out, Blocker{Code: code, Item: w.Trait, Text: fmt.Sprintf(format, args...), WayOut: wayOut})
	}
	out = append(out, words(procedures.Ref{}, w.Reason, phrase.Of("job.adopt.a-changed-trait-needs-a-reason"))...)
	was, ok := c.Plan.Traits[w.Trait]
	switch {
	case !ok:
		add(CodeUnknown, phrase.Of("job.adopt.choose-one-of-its-traits"), "%s", phrase.Of("job.adopt.this-procedure-asks-for-no-trait", w.Trait))
		return nil, out
	case was == w.Value:
		add(CodeFilled, phrase.Of("job.adopt.go-on"), "%s", phrase.Of("job.adopt.is-already", w.Trait, was))
	case c.Released != nil:
		add(CodeReleased, phrase.Of("job.adopt.correct-it-for-the-next-visit"), "%s", phrase.Of("job.adopt.the-vehicle-has-been-released"))
	}
	traits := maps.Clone(c.Plan.Traits)
	traits[w.Trait] = w.Value
	plan, err := procedures.Resolve(c.Plan.Procedure, c.Plan.Sheet, traits)
	if err != nil {
		add(CodeValue, phrase.Of("job.adopt.choose-one-of-its-values"), "%v", err)
		return nil, out
	}
	for i := range c.Stages {
		if s := &c.Stages[i]; s.begun() && plan.Index(s.Node.Ref) < 0 {
			add(CodeEnded, phrase.Of("job.adopt.finish-what-was-begun-first"), "%s", phrase.Of("job.adopt.was-begun-and-would-be-left-out", c.title(s.Node.Ref)))
		}
	}
	for _, st := range c.Open {
		if !slices.ContainsFunc(plan.Nodes, func(n procedures.Node) bool {
			return slices.ContainsFunc(n.Clears, func(cl procedures.PlanClear) bool { return cl.State == st.Ref })
		}) {
			add(CodeStateOpen, phrase.Of("job.adopt.put-it-back-first"), "%s", phrase.Of("job.adopt.stands-open-and-no-stage-would-be", stateText(st)))
		}
	}
	if len(out) > 0 {
		return nil, out
	}
	return []Body{TraitChanged{w.Trait, was, w.Value, strings.TrimSpace(w.Reason)}}, nil
}

func (c *Card) decideAdopt(w AdoptSheet, ctx Context) ([]Body, error) {
	out := foremanOnly(ctx, phrase.Of("job.adopt.adopts-another-revision-of-the-spec-sheet"))
	out = append(out, words(procedures.Ref{}, w.Reason, phrase.Of("job.adopt.another-revision-needs-a-reason"))...)
	if c.Released != nil {
		out = append(out, Blocker{Code: CodeReleased, Text: phrase.Of("job.adopt.the-vehicle-has-been-released"), WayOut: phrase.Of("job.adopt.judge-the-record-again-with-a-recall")})
	}
	if w.Sheet == nil || w.Sheet.ID != c.Plan.Sheet.ID {
		return nil, append(out, Blocker{Code: CodeUnknown, Text: phrase.Of("job.adopt.that-is-a-sheet-of-another-vehicle"), WayOut: phrase.Of("job.adopt.choose-a-revision-of-the-sheet-in")})
	}
	data, digest, err := w.Sheet.Pin()
	if err != nil {
		return nil, append(out, Blocker{Code: CodeValue, Text: err.Error(), WayOut: phrase.Of("job.adopt.have-the-sheet-put-right")})
	}
	if err := procedures.CheckPair(c.Plan.Procedure, w.Sheet); err != nil {
		out = append(out, Blocker{Code: CodeValue, Text: err.Error(), WayOut: phrase.Of("job.adopt.have-the-sheet-put-right")})
	}
	if _, now, err := c.Plan.Sheet.Pin(); err == nil && now == digest {
		out = append(out, Blocker{Code: CodeFilled, Text: phrase.Of("job.adopt.that-revision-is-in-use-already"), WayOut: phrase.Of("job.adopt.go-on")})
	}
	if len(out) > 0 {
		return nil, out
	}
	return []Body{SheetAdopted{Pinned{w.Sheet.ID, w.Sheet.Title, w.Sheet.Revision, digest}, data, strings.TrimSpace(w.Reason)}}, nil
}

func foremanOnly(ctx Context, does string) Refused {
	var out Refused
	if !ctx.By.MayDo(procedures.Foreman) {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.adopt.only-the-foreman-is", does, nameOf(ctx.By.Name), roleWords(ctx)), WayOut: phrase.Of("job.adopt.fetch-the-foreman")})
	}
	if !ctx.CodeGiven {
		out = append(out, Blocker{Code: CodeCode, Text: phrase.Of("job.adopt.this-takes-the-personal-code"), WayOut: phrase.Of("job.adopt.type-your-code")})
	}
	return out
}
