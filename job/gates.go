package job

import (
	"fmt"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Blockers returns every reason why that person cannot sign the stage now, or nil. The screen, the
// command line and Decide read this one list; nothing skips it. A missing personal code is not in
// it: Decide asks for that last.
func (c *Card) Blockers(r procedures.Ref, ctx Context) Refused {
	s := c.Stage(r)
	if s == nil {
		return refuse(CodeUnknown, r, phrase.Of("job.decide.this-vehicle-has-no-stage", r), phrase.Of("job.decide.choose-a-stage-from-the-list"))
	}
	out := c.standstill(Sign{}, ctx)
	if ctx.At.Before(c.Last().At) {
		out = append(out, Blocker{Code: CodeClock, Stage: r, Text: phrase.Of("job.gates.the-clock-says-earlier-than-the-newest", ctx.At.Format("2006-01-02 15:04"), c.Last().At.Format("2006-01-02 15:04")), WayOut: phrase.Of("job.gates.have-the-clock-of-this-computer-set")})
	}
	out = append(out, c.mayWork(s, ctx)...)
	if s.Status == Complete || s.Status == SecondOwed || s.Status == LeftOut {
		return out
	}
	if s.Node.Stage.Early {
		out = append(out, c.unsettled(s)...)
	}
	if s.Status == Stale {
		out = append(out, Blocker{Code: CodeStale, Stage: r, Text: phrase.Of("job.gates.is-stale", c.title(r), c.StaleWhy(r)),
			WayOut: phrase.Of("job.gates.do-it-again-and-enter-new-values")})
	}
	out = append(out, c.entriesOwed(s)...)
	out = append(out, c.questionsOwed(s)...)
	out = append(out, c.independence(s, ctx)...)
	if s.Node.Stage.Act == procedures.Release {
		out = append(out, c.releaseOwed(s, ctx)...)
	}
	return out
}

// unsettled names the stages before this one that are not complete: the nearest that still want
// something, on every branch.
func (c *Card) unsettled(s *StageCard) Refused {
	var out Refused
	seen := map[procedures.Ref]bool{}
	var walk func(n *procedures.Node)
	walk = func(n *procedures.Node) {
		for _, r := range n.After {
			t := c.Stage(r)
			if seen[r] || t.Settled {
				continue
			}
			seen[r] = true
			switch t.Status {
			case Complete, LeftOut:
				walk(t.Node)
			case Stale:
				out = append(out, Blocker{Code: CodeStale, Stage: r, Text: phrase.Of("job.gates.is-stale", c.title(r), c.StaleWhy(r)), WayOut: phrase.Of("job.gates.do-it-again-first")})
			case SecondOwed:
				out = append(out, Blocker{Code: CodeSecond, Stage: r, Text: phrase.Of("job.gates.waits-for-a-second-person", c.title(r)), WayOut: phrase.Of("job.gates.have-another-mechanic-or-the-foreman-look")})
			default:
				out = append(out, Blocker{Code: CodeBefore, Stage: r, Text: phrase.Of("job.gates.comes-before-and-is", c.title(r), t.Status), WayOut: phrase.Of("job.gates.do-that-first")})
			}
		}
	}
	walk(s.Node)
	return out
}

// stateGates names the standing states in the way of this stage and those it needs.
func (c *Card) stateGates(s *StageCard) Refused {
	var out Refused
	for _, id := range s.Node.Stage.NeedsShut {
		for _, st := range c.Open {
			if st.Ref.State == id && !c.declared(st.Ref) && (st.Ref.Side == procedures.NoSide || s.Node.Ref.Side == procedures.NoSide || st.Ref.Side == s.Node.Ref.Side) {
				out = append(out, Blocker{Code: CodeStateOpen, Stage: s.Node.Ref, Item: st.Ref.String(), Text: phrase.Of("job.gates.still-stands-open", stateText(st)), WayOut: c.putBack(st)})
			}
		}
	}
	for _, id := range s.Node.Stage.OtherShut {
		for _, st := range c.Open {
			if st.Ref.State == id && st.Ref.Side == s.Node.Ref.Side.Other() && !c.declared(st.Ref) {
				out = append(out, Blocker{Code: CodeStateOpen, Stage: s.Node.Ref, Item: st.Ref.String(), Text: phrase.Of("job.gates.one-side-at-a-time", stateText(st)), WayOut: c.putBack(st)})
			}
		}
	}
	for _, id := range s.Node.Stage.NeedsOpen {
		if !c.standsOpen(id, s.Node.Ref.Side) {
			out = append(out, Blocker{Code: CodeStateShut, Stage: s.Node.Ref, Item: id, Text: phrase.Of("job.gates.must-stand-before-this-is-done-and", c.Plan.Procedure.State(id).Title), WayOut: phrase.Of("job.gates.do-the-stage-that-sets-it-first")})
		}
	}
	return out
}

// Barred reports whether a standing state is in the way of a stage, or one it needs does not stand: it
// is ready by what comes before it, and cannot be worked on yet.
func (c *Card) Barred(r procedures.Ref) bool {
	s := c.Stage(r)
	return s != nil && len(c.stateGates(s)) > 0
}

func (c *Card) standsOpen(id string, side procedures.Side) bool {
	for _, st := range c.Open {
		if st.Ref.State == id && (st.Ref.Side == procedures.NoSide || side == procedures.NoSide || st.Ref.Side == side) {
			return true
		}
	}
	return false
}

func stateText(st Standing) string {
	if st.Ref.Side == procedures.NoSide {
		return fmt.Sprintf("%q", st.State.Title)
	}
	return fmt.Sprintf("%q, %s,", st.State.Title, phrase.Word(st.Ref.Side))
}

func (c *Card) putBack(st Standing) string {
	if len(st.PutBackAt) == 0 {
		return phrase.Of("job.gates.ask-the-foreman-no-stage-of-this")
	}
	names := make([]string, len(st.PutBackAt))
	for i, r := range st.PutBackAt {
		names[i] = fmt.Sprintf("%q", c.title(r))
	}
	return phrase.Of("job.gates.put-it-back-at", strings.Join(names, phrase.Of("job.gates.or")))
}

// entriesOwed names what is missing, outside or not proven on the stage.
func (c *Card) entriesOwed(s *StageCard) Refused {
	var out Refused
	r := s.Node.Ref
	for _, res := range c.Results(r) {
		if len(res.Missing) > 0 {
			if !c.excused(r, res.Check.ID) && (!res.Check.Optional || len(res.Values) > 0) {
				out = append(out, missing(r, res))
			}
		}
		for _, v := range res.Values {
			name := itemName(res.Check, v.Name)
			switch {
			case v.Verdict == quantity.Outside:
				out = append(out, Blocker{Code: CodeOutside, Stage: r, Check: res.Check.ID, Item: v.Name, Text: outsideText(res.Check, v, name), WayOut: c.wayOut(s)})
			case v.Verdict == quantity.NotProven:
				out = append(out, Blocker{Code: CodeNotProven, Stage: r, Check: res.Check.ID, Item: v.Name,
					Text: phrase.Of("job.gates.is-inside-but-the-instrument-cannot-tell", name, v.Value, windowText(v.Window.Window)), WayOut: phrase.Of("job.gates.measure-or-tighten-again-with-a-finer")})
			case v.Entry != nil && v.Entry.Evidence == ToldLater && s.Node.Stage.Hold:
				out = append(out, Blocker{Code: CodeEvidence, Stage: r, Check: res.Check.ID, Item: v.Name,
					Text: phrase.Of("job.gates.was-told-later-that-never-closes-a", name), WayOut: phrase.Of("job.gates.check-it-at-the-vehicle-and-enter")})
			}
		}
	}
	return out
}

// missing names what a check still wants: one item by name, several as a count with their names.
func missing(r procedures.Ref, res Result) Blocker {
	b := Blocker{Code: CodeMissing, Stage: r, Check: res.Check.ID, Item: res.Missing[0], WayOut: phrase.Of("job.gates.enter-it")}
	total := len(res.Check.Items)
	switch {
	case total == 1:
		b.Text = phrase.Of("job.gates.is-missing", res.Check.Title)
	case len(res.Missing) == 1:
		b.Text = phrase.Of("job.gates.of-of-are-recorded-missing", total-1, total, res.Check.Title, res.Missing[0])
	default:
		b.Text = phrase.Of("job.gates.of-of-are-recorded-missing", total-len(res.Missing), total, res.Check.Title, strings.Join(res.Missing, ", "))
	}
	return b
}

// windowText is a window in a sentence: one limit alone is said in words.
func windowText(w quantity.Window) string {
	switch {
	case w.Text != "" && !w.Low.IsZero() && !w.High.IsZero():
	case !w.Low.IsZero() && w.High.IsZero():
		return phrase.Of("job.gates.at-least", w.Low)
	case !w.High.IsZero() && w.Low.IsZero():
		return phrase.Of("job.gates.at-most", w.High)
	}
	return w.Shown()
}

func outsideText(pc *procedures.PlanCheck, v Valued, name string) string {
	switch {
	case v.Entry == nil || !v.Value.IsZero():
		if v.Entry != nil && !v.Entry.Bolt.IsZero() {
			return phrase.Of("job.gates.set-gives-the-fastener-outside", name, v.Value, v.Entry.Bolt, windowText(v.Window.Window))
		}
		if v.Window == nil {
			return phrase.Of("job.gates.is-which-does-not-pass", name, v.Value)
		}
		return phrase.Of("job.gates.is-outside", name, v.Value, windowText(v.Window.Window))
	case pc.Part != nil && v.Name == procedures.PartNumber:
		return phrase.Of("job.gates.is-the-parts-list-says", name, v.Entry.Answer, pc.Part.Number)
	}
	return phrase.Of("job.gates.the-answer-does-not-pass", name, v.Entry.Answer)
}

func (c *Card) wayOut(s *StageCard) string {
	if s.Node.Stage.WayOut != "" {
		return s.Node.Stage.WayOut
	}
	return phrase.Of("job.gates.put-it-right-and-begin-a-new")
}

// independence holds the signer to the stages he must have had no hand in.
func (c *Card) independence(s *StageCard, ctx Context) Refused {
	st := s.Node.Stage
	if len(st.IndependentOf) == 0 || !ctx.By.MayDo(st.Who) {
		return nil
	}
	done := c.handIn(s, ctx.By.ID)
	if len(done) == 0 || !c.anotherMayDo(st.Who, s, ctx) {
		return nil
	}
	return Refused{{Code: CodeSamePerson, Stage: s.Node.Ref, Text: phrase.Of("job.gates.did-himself", ctx.By.Name, c.title(done[0])),
		WayOut: phrase.Of("job.gates.another-signs-this", atLeast(st.Who))}}
}

// handIn lists the stages a stage must be independent of in which that person had a hand.
func (c *Card) handIn(s *StageCard, id string) []procedures.Ref {
	st := s.Node.Stage
	all := len(st.IndependentOf) == 1 && st.IndependentOf[0] == "all"
	var out []procedures.Ref
	for i := range c.Stages {
		t := &c.Stages[i]
		if t.Node.Stage == st || (all && !work(t.Node)) || (!all && !contains(st.IndependentOf, t.Node.Stage.ID)) {
			continue
		}
		a := t.Current()
		if a == nil || t.Status == LeftOut {
			continue
		}
		for _, w := range a.Doers() {
			if w.ID == id {
				out = append(out, t.Node.Ref)
				break
			}
		}
	}
	return out
}

// work reports whether a stage is work on the vehicle: it tightens, measures, fits a part, or sets
// or puts back a state. Opening the job, deciding and looking are not.
func work(n *procedures.Node) bool {
	if len(n.Sets) > 0 || len(n.Clears) > 0 {
		return true
	}
	for _, k := range n.Checks {
		switch k.Kind {
		case procedures.Torque, procedures.Thickness, procedures.RunOut, procedures.Part:
			return true
		}
	}
	return false
}

// anotherMayDo reports whether the register has somebody else with that role who had no hand in it.
func (c *Card) anotherMayDo(who procedures.Role, s *StageCard, ctx Context) bool {
	for _, p := range ctx.Register.People {
		if p.ID != ctx.By.ID && p.OnDuty() && p.MayDo(who) && len(c.handIn(s, p.ID)) == 0 {
			return true
		}
	}
	return false
}

// releaseOwed names what keeps the vehicle here: standing states and stages not complete.
func (c *Card) releaseOwed(s *StageCard, ctx Context) Refused {
	var out Refused
	out = append(out, c.wordsOwed(s.Node.Ref)...)
	if name := c.decidedAgainst(); name != "" && c.Withheld == nil {
		out = append(out, Blocker{Code: CodeWithheld, Stage: s.Node.Ref, Text: phrase.Of("job.gates.was-decided-so-the-vehicle-is-not", name), WayOut: phrase.Of("job.gates.withhold-it-and-end-the-work-or")})
	}
	for _, st := range c.Open {
		if c.declared(st.Ref) {
			continue
		}
		out = append(out, Blocker{Code: CodeStateOpen, Stage: s.Node.Ref, Item: st.Ref.String(),
			Text: phrase.Of("job.gates.still-stands-open-since", stateText(st), st.Since.At.Format("15:04")), WayOut: c.putBack(st)})
	}
	named := map[procedures.Ref]bool{}
	for _, b := range c.unsettled(s) {
		named[b.Stage] = true // already in the list as what comes before
	}
	for i := range c.Stages {
		t := &c.Stages[i]
		r := t.Node.Ref
		if r == s.Node.Ref || named[r] || c.Plan.Before(s.Node.Ref, r) || t.Status == LeftOut || t.Status == Complete {
			continue
		}
		if t.Status == Waiting || t.Status == Undecided {
			continue // something before it is named
		}
		out = append(out, Blocker{Code: CodeBefore, Stage: r, Text: phrase.Of("job.gates.is", c.title(r), t.Status), WayOut: phrase.Of("job.gates.finish-it-first")})
	}
	return out
}

// decidedAgainst names the decision, as it stands, that keeps the vehicle from being released, or "".
func (c *Card) decidedAgainst() string {
	for _, q := range c.Plan.Procedure.Decisions {
		if len(q.Withholds) == 0 {
			continue
		}
		for i := range c.Stages {
			s := &c.Stages[i]
			if s.Status == LeftOut {
				continue
			}
			for _, k := range s.Node.Checks {
				if k.Decision != q.ID {
					continue
				}
				if v, ok := c.answer(s.Node.Ref, k.ID); ok && contains(q.Withholds, v) {
					return fmt.Sprintf("%q: %s", q.Title, v)
				}
			}
		}
	}
	return ""
}

func (c *Card) decideSign(w Sign, ctx Context) ([]Body, error) {
	out := c.Blockers(w.Stage, ctx)
	if len(out) == 0 && !ctx.CodeGiven {
		out = append(out, Blocker{Code: CodeCode, Stage: w.Stage, Text: phrase.Of("job.gates.a-signature-takes-the-personal-code"), WayOut: phrase.Of("job.gates.type-your-code")})
	}
	if err := plainText(w.Note); err != nil {
		out = append(out, Blocker{Code: CodeValue, Stage: w.Stage, Text: err.Error(), WayOut: phrase.Of("job.gates.type-it-again")})
	}
	if len(out) > 0 {
		return nil, out
	}
	s := c.Stage(w.Stage)
	a := s.Current()
	no := 1
	if a != nil {
		no = a.No
	}
	sig := Signed{Stage: w.Stage, Attempt: no, Owed: SecondOwedBy(s.Node, ctx.By)}
	if sig.Owed && ctx.By.Qualified() && !c.secondAvailable(s, ctx) {
		sig.Owed, sig.NoSecond = false, true
	}
	bodies := []Body{sig}
	if s.Node.Stage.Act == procedures.Release {
		bodies = append(bodies, Released{Independent: len(c.handIn(s, ctx.By.ID)) == 0, Note: strings.TrimSpace(w.Note), Outcome: c.outcome()})
	}
	return bodies, nil
}

// secondAvailable reports whether the register has anybody who could countersign the stage.
func (c *Card) secondAvailable(s *StageCard, ctx Context) bool {
	doers := map[string]bool{ctx.By.ID: true}
	if a := s.Current(); a != nil {
		for _, w := range a.Doers() {
			doers[w.ID] = true
		}
	}
	for _, p := range ctx.Register.People {
		if p.Qualified() && p.OnDuty() && !doers[p.ID] {
			return true
		}
	}
	return false
}

// SecondBlockers returns every reason why that person cannot countersign the stage now, or nil.
func (c *Card) SecondBlockers(r procedures.Ref, ctx Context) Refused {
	s := c.Stage(r)
	if s == nil {
		return refuse(CodeUnknown, r, phrase.Of("job.decide.this-vehicle-has-no-stage", r), phrase.Of("job.decide.choose-a-stage-from-the-list"))
	}
	out := c.standstill(Countersign{}, ctx)
	if ctx.At.Before(c.Last().At) {
		out = append(out, Blocker{Code: CodeClock, Stage: r, Text: phrase.Of("job.gates.the-clock-stands-earlier-than-the-newest"), WayOut: phrase.Of("job.gates.have-the-clock-of-this-computer-set")})
	}
	switch s.Status {
	case SecondOwed:
	case Complete:
		return append(out, Blocker{Code: CodeNotOwed, Stage: r, Text: phrase.Of("job.gates.is-complete-no-second-person-is-asked", c.title(r)), WayOut: phrase.Of("job.gates.go-on")})
	default:
		return append(out, Blocker{Code: CodeNotSigned, Stage: r, Text: phrase.Of("job.gates.is-there-is-no-signature-to-look", c.title(r), s.Status), WayOut: phrase.Of("job.decidepeople.the-doer-signs-first")})
	}
	if !ctx.By.Qualified() {
		out = append(out, Blocker{Code: CodeRole, Stage: r, Text: phrase.Of("job.gates.is-a-mechanic-or-the-foreman-countersigns", nameOf(ctx.By.Name), roleWords(ctx)), WayOut: phrase.Of("job.decide.fetch-a-mechanic-or-the-foreman")})
	}
	for _, w := range s.Current().Doers() {
		if w.ID == ctx.By.ID {
			out = append(out, Blocker{Code: CodeSamePerson, Stage: r, Text: phrase.Of("job.gates.did-himself-and-cannot-be-his-own", w.Name, c.title(r)), WayOut: phrase.Of("job.gates.another-mechanic-or-the-foreman-looks-and")})
		}
	}
	return append(out, c.lookedAt(s, ctx)...)
}

func (c *Card) decideCountersign(w Countersign, ctx Context) ([]Body, error) {
	out := c.SecondBlockers(w.Stage, ctx)
	if len(out) == 0 && !ctx.CodeGiven {
		out = append(out, Blocker{Code: CodeCode, Stage: w.Stage, Text: phrase.Of("job.gates.a-countersignature-takes-the-personal-code"), WayOut: phrase.Of("job.gates.type-your-code")})
	}
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Countersigned{Stage: w.Stage, Attempt: c.Stage(w.Stage).Current().No}}, nil
}

// StaleWhy says in words why a stage is stale, or is empty when it is not.
func (c *Card) StaleWhy(r procedures.Ref) string {
	s := c.Stage(r)
	switch {
	case s == nil || s.StaleBy == nil:
		return ""
	case *s.StaleBy == r:
		return phrase.Of("job.gates.the-spec-sheet-in-use-now-judges")
	}
	return phrase.Of("job.gates.it-rests-on-which-was-done-again", c.title(*s.StaleBy))
}

// staleReason is the reason that the record gives for a new attempt that staleness asks for. It is the
// program's, so it reads the same whatever language the program speaks.
func (c *Card) staleReason(r procedures.Ref) string {
	s := c.Stage(r)
	switch {
	case s == nil || s.StaleBy == nil:
		return ""
	case *s.StaleBy == r:
		return "the spec sheet in use now judges it otherwise"
	}
	title := c.Stage(*s.StaleBy).Node.Stage.Title
	if s.StaleBy.Side != procedures.NoSide {
		title += ", " + string(s.StaleBy.Side)
	}
	return fmt.Sprintf("it rests on %q, which was done again", title)
}
