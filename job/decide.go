package job

import (
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Decide turns what a person wants into new events, or into a Refused error with every reason
// against it. It is the only way events come about. The card is nil for Open and needed for all
// else; it is not changed.
func Decide(c *Card, want Intent, ctx Context) ([]Event, error) {
	if open, ok := want.(Open); ok {
		return decideOpen(open, ctx)
	}
	if c == nil {
		return nil, refuse(CodeUnknown, procedures.Ref{}, phrase.Of("job.decide.there-is-no-such-job"), phrase.Of("job.decide.choose-a-job-from-the-list"))
	}
	if r := c.standstill(want, ctx); len(r) > 0 {
		return nil, r
	}
	var bodies []Body
	var err error
	switch w := want.(type) {
	case Enter:
		bodies, err = c.decideEnter(w, ctx)
	case Sign:
		bodies, err = c.decideSign(w, ctx)
	case Countersign:
		bodies, err = c.decideCountersign(w, ctx)
	case Again:
		bodies, err = c.decideAgain(w, ctx)
	case Interrupted:
		bodies, err = c.decideInterrupted(w)
	case Pause:
		bodies, err = c.decidePause(w)
	case Resume:
		bodies, err = c.decideResume(w, ctx)
	default:
		bodies, err = c.decidePeople(want, ctx)
	}
	if err != nil {
		return nil, err
	}
	return stamp(c.Seq(), bodies, ctx), nil
}

// stamp puts number, time and person on the bodies.
func stamp(after uint32, bodies []Body, ctx Context) []Event {
	events := make([]Event, len(bodies))
	for i, b := range bodies {
		events[i] = Event{Seq: after + uint32(i) + 1, At: ctx.At.Truncate(time.Millisecond),
			By: Who{ctx.By.ID, ctx.By.Name, ctx.By.Role}, Station: ctx.Station, Body: b}
	}
	return events
}

// standstill holds what stops everything but reading: no person, a paused job.
func (c *Card) standstill(want Intent, ctx Context) Refused {
	var out Refused
	if !ctx.By.MayDo(procedures.Apprentice) {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.decide.is-and-makes-no-entries", nameOf(ctx.By.Name), roleWords(ctx)), WayOut: phrase.Of("job.decide.hand-over-to-somebody-who-works-in")})
	}
	_, resume := want.(Resume)
	if c.Cancelled != nil {
		return append(out, Blocker{Code: CodeEnded, Text: phrase.Of("job.decide.the-job-was-cancelled", c.CancelledFor), WayOut: phrase.Of("job.decide.open-a-new-job")})
	}
	switch {
	case resume && c.Paused == nil:
		out = append(out, Blocker{Code: CodeNotPaused, Text: phrase.Of("job.decide.the-job-is-not-paused"), WayOut: phrase.Of("job.decide.go-on-with-the-next-stage")})
	case !resume && c.Paused != nil && !whilePaused(want):
		out = append(out, Blocker{Code: CodePaused, Text: phrase.Of("job.decide.the-job-is-paused", c.PauseFor), WayOut: phrase.Of("job.decide.resume-it-at-the-vehicle-first")})
	}
	return out
}

func nameOf(name string) string {
	if name == "" {
		return "nobody"
	}
	return name
}

func roleWords(ctx Context) string {
	if ctx.By.Closed {
		return phrase.Of("job.decide.no-longer-on-the-register")
	}
	if ctx.By.Role == "" {
		return phrase.Of("job.decide.not-signed-in")
	}
	return withArticle(ctx.By.Role)
}

func decideOpen(o Open, ctx Context) ([]Event, error) {
	var out Refused
	add := func(code Code, text, wayOut string) {
		out = append(out, Blocker{Code: code, Text: text, WayOut: wayOut})
	}
	if !ctx.By.MayDo(procedures.Mechanic) {
		add(CodeRole, phrase.Of("job.decide.cannot-open-a-job-a-mechanic-or", nameOf(ctx.By.Name)), phrase.Of("job.decide.hand-over-to-a-mechanic-or-the"))
	}
	if o.Plan == nil {
		add(CodeUnknown, phrase.Of("job.decide.no-procedure-was-chosen"), phrase.Of("job.decide.choose-one-from-the-list"))
	}
	if len(o.Planted) > 0 && !o.Practice {
		add(CodeValue, phrase.Of("job.decide.faults-are-planted-in-practice-jobs-only"), phrase.Of("job.decide.make-it-a-practice-job"))
	}
	if len(o.OpenJobs) > 0 && !o.Practice {
		add(CodeFilled, phrase.Of("job.decide.vehicle-has-job-open-already", o.Vehicle.ID, o.OpenJobs[0]), phrase.Of("job.decide.go-on-with-that-job"))
	}
	if strings.TrimSpace(o.Complaint) == "" {
		add(CodeMissing, phrase.Of("job.decide.the-complaint-is-empty"), phrase.Of("job.decide.write-what-the-customer-said-or-what"))
	}
	for _, text := range []string{o.Complaint, o.Customer} {
		if err := plainText(text); err != nil {
			add(CodeValue, err.Error(), phrase.Of("job.decide.type-it-again"))
		}
	}
	odo, err := quantity.Parse(o.Odometer, quantity.Kilometre)
	switch {
	case err != nil:
		add(CodeValue, phrase.Of("job.decide.odometer", err.Error()), phrase.Of("job.decide.type-what-the-instrument-shows"))
	case odo.Unit.Dimension() != quantity.Distance || odo.Negative() || !odo.Rat().IsInt() || odo.Rat().Sign() == 0 || len(odo.Number) > 7:
		add(CodeValue, phrase.Of("job.decide.is-no-odometer-reading-expected-whole", o.Odometer), phrase.Of("job.decide.type-what-the-instrument-shows"))
	default:
		out = append(out, odometerOwed(o, odo, ctx)...)
	}
	if len(out) > 0 {
		return nil, out
	}
	return stamp(0, []Body{Opened{Number: o.Number, Vehicle: VehicleRef{o.Vehicle.ID, o.Vehicle.Name, o.Vehicle.VIN},
		Complaint: strings.TrimSpace(o.Complaint), Customer: strings.TrimSpace(o.Customer), Odometer: odo, Traits: o.Plan.Traits,
		Procedure: o.Procedure, Sheet: o.Sheet, Demo: o.Vehicle.Demo || o.Plan.Sheet.Demo || o.Plan.Procedure.Demo,
		Practice: o.Practice, Planted: o.Planted, History: withOdometer(o), OdometerWhy: strings.TrimSpace(o.OdometerWhy)}}, ctx), nil
}

func (c *Card) decideEnter(in Enter, ctx Context) ([]Body, error) {
	s := c.Stage(in.Stage)
	if s == nil {
		return nil, refuse(CodeUnknown, in.Stage, phrase.Of("job.decide.this-vehicle-has-no-stage", in.Stage), phrase.Of("job.decide.choose-a-stage-from-the-list"))
	}
	pc := s.Node.Check(in.Check)
	if pc == nil {
		return nil, refuse(CodeUnknown, in.Stage, phrase.Of("job.decide.asks-for-no", s.Node.Stage.Title, in.Check), phrase.Of("job.decide.choose-one-of-its-checks"))
	}
	if out := c.mayWork(s, ctx); len(out) > 0 {
		return nil, out
	}
	if in.All {
		return c.enterAll(s, pc, in, ctx)
	}
	var bodies []Body
	attempt := 1
	if a := s.Current(); a != nil {
		attempt = a.No
		if a.stale {
			attempt++
			bodies = append(bodies, Reopened{Stage: in.Stage, Attempt: attempt, Reason: c.staleReason(in.Stage)})
		}
	}
	e, err := c.enterOne(s, pc, in, ctx, attempt, len(bodies) > 0)
	if err != nil {
		return nil, err
	}
	return append(bodies, e), nil
}

// mayWork returns what stops that person from making entries on a stage now.
func (c *Card) mayWork(s *StageCard, ctx Context) Refused {
	var out Refused
	r := s.Node.Ref
	add := func(code Code, text, wayOut string) {
		out = append(out, Blocker{Code: code, Stage: r, Text: text, WayOut: wayOut})
	}
	switch {
	case s.Status == LeftOut:
		add(CodeLeftOut, phrase.Of("job.decide.is-not-part-of-this-job", c.title(r)), phrase.Of("job.decide.go-on-with-the-next-stage"))
	case s.Status == Undecided:
		add(CodeUndecided, phrase.Of("job.decide.depends-on-a-decision-or-finding-not", c.title(r)), phrase.Of("job.decide.finish-the-stages-before-it"))
	case s.Status == Complete || s.Status == SecondOwed:
		add(CodeSigned, phrase.Of("job.decide.is-signed", c.title(r)), phrase.Of("job.decide.begin-a-new-attempt-with-a-reason"))
	}
	if c.Released != nil && !c.Plan.Before(c.Plan.ReleaseRef(), r) {
		add(CodeReleased, phrase.Of("job.decide.the-vehicle-has-been-released-the-record"), phrase.Of("job.decide.open-a-new-job-for-new-work"))
	}
	if !ctx.By.MayDo(s.Node.Stage.Who) {
		add(CodeRole, phrase.Of("job.decide.is-for-a-is", c.title(r), fromOn(s.Node.Stage.Who), ctx.By.Name, roleWords(ctx)), phrase.Of("job.decide.hand-over-to-a", fromOn(s.Node.Stage.Who)))
	}
	out = append(out, c.supervised(s, ctx)...)
	if !s.Node.Stage.Early {
		out = append(out, c.unsettled(s)...)
	}
	return append(out, c.stateGates(s)...)
}

func atLeast(who procedures.Role) string {
	if who == procedures.Mechanic {
		return phrase.Of("job.decide.mechanic-or-foreman")
	}
	return phrase.Word(who)
}

// withArticle is a role as a sentence needs it: "an apprentice".
func withArticle(who procedures.Role) string {
	switch who {
	case procedures.Auditor:
		return phrase.Of("job.decide.an-auditor")
	case procedures.Apprentice:
		return phrase.Of("job.decide.an-apprentice")
	case procedures.Mechanic:
		return phrase.Of("job.decide.a-mechanic")
	}
	return phrase.Of("job.decide.a-foreman")
}

// fromOn is whom a stage is for, from a role on.
func fromOn(who procedures.Role) string {
	if who == procedures.Mechanic {
		return phrase.Of("job.decide.a-mechanic-or-foreman")
	}
	return withArticle(who)
}

// title names a stage with its side spelled out.
func (c *Card) title(r procedures.Ref) string {
	if s := c.Stage(r); s != nil {
		return Title(s.Node)
	}
	return r.String()
}

// Title is the title of a stage with its side spelled out.
func Title(n *procedures.Node) string {
	if n.Ref.Side == procedures.NoSide {
		return n.Stage.Title
	}
	return n.Stage.Title + ", " + phrase.Word(n.Ref.Side)
}

func (c *Card) enterOne(s *StageCard, pc *procedures.PlanCheck, in Enter, ctx Context, attempt int, fresh bool) (Body, error) {
	a := &asking{card: c, stage: s, check: pc, intent: in, ctx: ctx}
	a.entry = Entered{Stage: in.Stage, Attempt: attempt, Check: in.Check, Item: in.Item, Source: in.Source, AllAtOnce: in.All}
	if !contains(pc.Items, in.Item) {
		return nil, a.refuse(CodeUnknown, phrase.Of("job.decide.choose-one-of-its-items"), "%s", phrase.Of("job.decide.has-no-item", pc.Title, in.Item))
	}
	var old *Entry
	if !fresh {
		old = s.Current().Entry(in.Check, in.Item)
	} else {
		empty := *s
		empty.Attempts = nil
		a.stage = &empty // a stale attempt's values say nothing about the new one
	}
	if old != nil {
		if err := a.correction(old); err != nil {
			return nil, err
		}
	}
	if err := a.understand(); err != nil {
		return nil, err
	}
	return a.entry, nil
}

// correction checks that a standing value may be replaced: with a reason, and from the second slip
// on the same fastener with a second person.
func (a *asking) correction(old *Entry) error {
	reason := strings.TrimSpace(a.intent.Reason)
	if reason == "" {
		return a.refuse(CodeFilled, phrase.Of("job.decide.correct-it-with-a-reason-or-begin"), "%s", phrase.Of("job.decide.has-the-value-already", itemName(a.check, a.intent.Item), shown(old)))
	}
	if err := plainText(reason); err != nil {
		return a.refuse(CodeReason, phrase.Of("job.decide.type-it-again"), "%v", err)
	}
	if reason == ReasonSlip && old.Real != nil {
		return a.refuse(CodeReason, phrase.Of("job.real.begin-a-new-attempt-or-say-what"), "%s", phrase.Of("job.real.was-called-real-by-so-it-is", itemName(a.check, a.intent.Item), shown(old), old.Real.By.Name))
	}
	a.entry.Replaces, a.entry.Reason = old.Seq, reason
	if reason != ReasonSlip || a.slips() == 0 {
		return nil
	}
	p := a.intent.Second
	if p == nil || p.ID == a.ctx.By.ID || !p.Qualified() {
		return a.refuse(CodeSecond, phrase.Of("job.decide.have-another-mechanic-or-the-foreman-confirm"), "%s", phrase.Of("job.decide.this-is-the-second-slip-on", itemName(a.check, a.intent.Item)))
	}
	a.entry.Confirmed = &Who{p.ID, p.Name, p.Role}
	return nil
}

// slips counts the corrections of this item in this attempt that were called slips.
func (a *asking) slips() int {
	n := 0
	for _, e := range a.stage.Current().Entries {
		if e.Check == a.intent.Check && e.Item == a.intent.Item && e.Reason == ReasonSlip {
			n++
		}
	}
	return n
}

func itemName(pc *procedures.PlanCheck, item string) string {
	if item == "" {
		return pc.Title
	}
	return pc.Title + ", " + item
}

// shown is the value of an entry in words.
func shown(e *Entry) string {
	if !e.Value.IsZero() {
		return e.Value.Shown()
	}
	return e.Answer
}

func contains(list []string, x string) bool {
	for _, v := range list {
		if v == x {
			return true
		}
	}
	return false
}

// enterAll confirms the clicks on every fastener left of a group at once; the record says so.
func (c *Card) enterAll(s *StageCard, pc *procedures.PlanCheck, in Enter, ctx Context) ([]Body, error) {
	if pc.Kind != procedures.Torque || !in.Clicked || in.Value != "" {
		return nil, refuse(CodeUnknown, in.Stage, phrase.Of("job.decide.only-the-clicks-of-a-setting-wrench"), phrase.Of("job.decide.type-the-value-of-each"))
	}
	var bodies []Body
	for _, item := range c.result(s, pc).Missing {
		if item == procedures.ItemNew {
			return nil, refuse(CodeNewOnes, in.Stage, phrase.Of("job.decide.the-are-single-use-and-have-not", pc.Group.Title), phrase.Of("job.decide.count-the-new-ones-in-first"))
		}
		one := in
		one.Item = item
		attempt := 1
		if a := s.Current(); a != nil {
			attempt = a.No
		}
		e, err := c.enterOne(s, pc, one, ctx, attempt, false)
		if err != nil {
			return nil, err
		}
		bodies = append(bodies, e)
	}
	if len(bodies) == 0 {
		return nil, refuse(CodeFilled, in.Stage, phrase.Of("job.decide.every-one-of-the-has-its-value", pc.Group.Title), phrase.Of("job.decide.sign-the-stage"))
	}
	return bodies, nil
}

func (c *Card) decideAgain(w Again, ctx Context) ([]Body, error) {
	s := c.Stage(w.Stage)
	if s == nil {
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decide.this-vehicle-has-no-stage", w.Stage), phrase.Of("job.decide.choose-a-stage-from-the-list"))
	}
	var out Refused
	reason := strings.TrimSpace(w.Reason)
	targets := []procedures.Ref{w.Stage}
	mark := ""
	if w.Rework != "" {
		targets = nil
		for _, rw := range s.Node.Stage.Reworks {
			if rw.ID == w.Rework {
				mark = w.Stage.Stage + ":" + rw.ID
				if reason == "" {
					reason = rw.Title
				}
				targets = c.reworkTargets(w.Stage, rw)
			}
		}
		if targets == nil {
			out = append(out, Blocker{Code: CodeUnknown, Stage: w.Stage, Text: phrase.Of("job.decide.has-no-way-out-called", c.title(w.Stage), w.Rework), WayOut: phrase.Of("job.decide.choose-one-of-those-listed")})
		}
	}
	if reason == "" {
		out = append(out, Blocker{Code: CodeReason, Stage: w.Stage, Text: phrase.Of("job.decide.a-new-attempt-needs-a-reason"), WayOut: phrase.Of("job.decide.say-in-a-few-words-why-it")})
	} else if err := plainText(reason); err != nil {
		out = append(out, Blocker{Code: CodeReason, Stage: w.Stage, Text: err.Error(), WayOut: phrase.Of("job.decide.type-it-again")})
	}
	var bodies []Body
	for _, r := range targets {
		t := c.Stage(r)
		a := t.Current()
		if c.Released != nil && !c.Plan.Before(c.Plan.ReleaseRef(), r) {
			out = append(out, Blocker{Code: CodeReleased, Stage: r, Text: phrase.Of("job.decide.the-vehicle-has-been-released-the-record"), WayOut: phrase.Of("job.decide.open-a-new-job-for-new-work")})
			continue
		}
		if a == nil || (a.Signed == nil && len(a.Entries) == 0) {
			if len(targets) == 1 {
				out = append(out, Blocker{Code: CodeNotSigned, Stage: r, Text: phrase.Of("job.decide.has-nothing-to-do-again", c.title(r)), WayOut: phrase.Of("job.decide.make-the-entries")})
			}
			continue
		}
		if a.Signed != nil && !ctx.By.MayDo(procedures.Mechanic) {
			out = append(out, Blocker{Code: CodeRole, Stage: r, Text: phrase.Of("job.decide.is-signed-a-mechanic-or-the-foreman", c.title(r)), WayOut: phrase.Of("job.decide.fetch-a-mechanic-or-the-foreman")})
		}
		bodies = append(bodies, Reopened{Stage: r, Attempt: a.No + 1, Reason: reason, Rework: mark})
	}
	if len(out) > 0 {
		return nil, out
	}
	if len(bodies) == 0 {
		return nil, refuse(CodeNotSigned, w.Stage, phrase.Of("job.decide.none-of-those-stages-has-anything-to"), phrase.Of("job.decide.make-the-entries"))
	}
	return bodies, nil
}

// reworkTargets resolves the stages of a way out for the side it is taken on.
func (c *Card) reworkTargets(at procedures.Ref, rw procedures.Rework) []procedures.Ref {
	out := []procedures.Ref{}
	for _, id := range rw.Again {
		for _, side := range []procedures.Side{at.Side, procedures.NoSide, procedures.Left, procedures.Right} {
			r := procedures.Ref{Stage: id, Side: side}
			if c.Stage(r) == nil || (side != at.Side && at.Side != procedures.NoSide && side != procedures.NoSide) || containsRef(out, r) {
				continue
			}
			out = append(out, r)
		}
	}
	return out
}

func containsRef(list []procedures.Ref, r procedures.Ref) bool {
	for _, x := range list {
		if x == r {
			return true
		}
	}
	return false
}

// halfDone finds the torque checks of a stage's present attempt that have some fasteners but not all.
func (c *Card) halfDone(s *StageCard) []Broken {
	a := s.Current()
	if a == nil || a.Signed != nil || a.stale {
		return nil
	}
	var out []Broken
	for i := range s.Node.Checks {
		pc := &s.Node.Checks[i]
		if pc.Kind != procedures.Torque {
			continue
		}
		last, missing := "", false
		for _, item := range pc.Items {
			if item == procedures.ItemNew {
				continue
			}
			if e := a.Entry(pc.ID, item); e != nil {
				last = item
			} else {
				missing = true
			}
		}
		if last != "" && missing {
			out = append(out, Broken{Stage: s.Node.Ref, Attempt: a.No, Check: pc.ID, Last: last})
		}
	}
	return out
}

// HalfDone lists every torque pass of the job that is begun and not finished.
func (c *Card) HalfDone() []Broken {
	var out []Broken
	for i := range c.Stages {
		out = append(out, c.halfDone(&c.Stages[i])...)
	}
	return out
}

func (c *Card) decideInterrupted(w Interrupted) ([]Body, error) {
	for _, b := range c.HalfDone() {
		if b.Stage == w.Stage && b.Check == w.Check {
			return []Body{b}, nil
		}
	}
	return nil, refuse(CodeOrder, w.Stage, phrase.Of("job.decide.has-no-pass-that-was-broken-off", c.title(w.Stage)), phrase.Of("job.decide.go-on"))
}

func (c *Card) decidePause(w Pause) ([]Body, error) {
	note := strings.TrimSpace(w.Note)
	if w.Kind != "" && !contains(StopKinds(), w.Kind) {
		return nil, refuse(CodeValue, procedures.Ref{}, phrase.Of("job.decide.is-no-kind-of-stop-expected-one", w.Kind, strings.Join(StopKinds(), ", ")), phrase.Of("job.decide.choose-one-by-its-number"))
	}
	if note == "" {
		return nil, refuse(CodeReason, procedures.Ref{}, phrase.Of("job.decide.a-pause-needs-a-few-words"), phrase.Of("job.decide.say-why-the-job-stops"))
	}
	for _, text := range []string{note, w.PartsAt, w.KeyAt, w.Call} {
		if err := plainText(text); err != nil {
			return nil, refuse(CodeReason, procedures.Ref{}, err.Error(), phrase.Of("job.decide.type-it-again"))
		}
	}
	if c.Released != nil {
		return nil, refuse(CodeReleased, procedures.Ref{}, phrase.Of("job.decide.the-vehicle-has-been-released-there-is"), phrase.Of("job.decide.finish-the-hand-over"))
	}
	var bodies []Body
	for _, b := range c.HalfDone() {
		bodies = append(bodies, b)
	}
	return append(bodies, Paused{Note: note, Kind: w.Kind, PartsAt: w.PartsAt, KeyAt: w.KeyAt, Call: w.Call}), nil
}
