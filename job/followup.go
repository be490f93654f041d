package job

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// LookAgainDays is when an opened circuit is looked at again (common practice, no source).
const LookAgainDays = 1

// ReminderDays is when advice put off or refused is brought up again (common practice, no source).
const ReminderDays = 90

// FollowUpState says where something promised stands.
type FollowUpState string

// The states of a follow-up.
const (
	FollowNotYet FollowUpState = "not yet"
	FollowDue    FollowUpState = "due"
	FollowLate   FollowUpState = "late"
	FollowEnded  FollowUpState = "ended"
)

// Promise is one thing promised at hand-over.
type Promise struct {
	Key      string            `json:"key"`
	What     string            `json:"what"`
	DueDate  string            `json:"due_date"` // ISO date
	DueAt    quantity.Quantity `json:"due_at"`   // odometer, where distance counts
	LateAt   quantity.Quantity `json:"late_at"`
	Ended    string            `json:"ended"` // FollowDone and the like; empty while open
	Acts     []FollowUpAct     `json:"-"`
	LastWord string            `json:"last_word"`
}

// Keys of the promises the program makes by itself. Advice is "advice/N" with its event number.
const (
	KeyRetorque  = "wheel-re-torque"
	KeyLookAgain = "look-again"
)

// Promises lists everything promised when the vehicle left: the wheel re-torque when a wheel was
// off, a second look when the circuit was opened, advice put off or refused. It is empty before the
// release. A promise is moved or ended, never deleted.
func (c *Card) Promises() []Promise {
	if c.Released == nil || c.Released.Outcome == OutcomeRecovery {
		return nil
	}
	left := c.Released.At
	day := func(n int) string { return left.AddDate(0, 0, n).Format(time.DateOnly) }
	var out []Promise
	odo := c.Odometer()
	if c.wheelWasOff() {
		rule := brakes.DemoRetorqueRule()
		p := Promise{Key: KeyRetorque, What: phrase.Of("job.followup.wheel-fasteners-re-torqued"), DueDate: day(rule.Days)}
		if plan, err := brakes.PlanRetorque(odo, left, rule); err == nil { // without an odometer the date alone counts
			p.DueAt, p.LateAt = plan.DueAt, plan.LateAfter
		}
		out = append(out, p)
	}
	for i := range c.Stages {
		for _, st := range c.Stages[i].Node.Sets {
			if st.State == "circuit-open" && c.Stages[i].begun() && !slices.ContainsFunc(out, func(p Promise) bool { return p.Key == KeyLookAgain }) {
				out = append(out, Promise{Key: KeyLookAgain, What: phrase.Of("job.followup.hydraulic-joints-looked-at-again-dry"), DueDate: day(LookAgainDays)})
			}
		}
	}
	for _, a := range c.Advice {
		if a.Decided != nil && a.Decided.Answer != "accepted" {
			out = append(out, Promise{Key: fmt.Sprintf("advice/%d", a.Seq), What: phrase.Of("job.followup.advice", phrase.Word(a.Decided.Answer), a.Text), DueDate: day(ReminderDays)})
		}
	}
	for i := range out {
		c.follow(&out[i])
	}
	return out
}

// follow applies what was done with a promise, and the re-torque stage where the procedure has one.
func (c *Card) follow(p *Promise) {
	for _, a := range c.Acts {
		if a.Key != p.Key {
			continue
		}
		p.Acts = append(p.Acts, a)
		p.LastWord = phrase.Of("job.followup.by", phrase.Word(a.Act), a.By.Name, a.Words)
		if a.Act == FollowMoved {
			p.DueDate = a.Until
		} else {
			p.Ended = a.Act
		}
	}
	if p.Key != KeyRetorque || p.Ended != "" {
		return
	}
	moved := p.LastWord
	for i := range c.Stages {
		s := &c.Stages[i]
		if c.Plan.Before(c.Plan.ReleaseRef(), s.Node.Ref) && tightens(s.Node) && s.Status == Complete {
			p.Ended, p.LastWord = FollowDone, phrase.Of("job.followup.re-torqued-by", s.Current().Signed.By.Name)
		} else if c.Plan.Before(c.Plan.ReleaseRef(), s.Node.Ref) && tightens(s.Node) && s.Status != LeftOut {
			p.Ended, p.LastWord = "", moved
			return
		}
	}
}

// State tells where the promise stands on a day, at an odometer reading when one is known.
func (p Promise) State(on time.Time, odometer quantity.Quantity) FollowUpState {
	if p.Ended != "" {
		return FollowEnded
	}
	reached := func(at quantity.Quantity) bool {
		if at.IsZero() || odometer.IsZero() {
			return false
		}
		cmp, err := odometer.Cmp(at)
		return err == nil && cmp >= 0
	}
	day := on.Format(time.DateOnly)
	switch {
	case day > p.DueDate, reached(p.LateAt):
		return FollowLate
	case day == p.DueDate, reached(p.DueAt):
		return FollowDue
	}
	return FollowNotYet
}

// Odometer is the newest odometer reading of the job: at the end of the road test when one was
// recorded, else at reception.
func (c *Card) Odometer() quantity.Quantity {
	newest, at := c.Opened.Odometer, uint32(1)
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Node.Checks {
			pc := &s.Node.Checks[k]
			if pc.Reckon != reckonOdometer {
				continue
			}
			if e := s.Current().Entry(pc.ID, ""); e != nil && e.Seq > at && e.Value.Unit.Same(newest.Unit) {
				newest, at = e.Value, e.Seq
			}
		}
	}
	return newest
}

// wheelWasOff reports whether fasteners were tightened that are re-torqued after the release.
func (c *Card) wheelWasOff() bool {
	for i := range c.Stages {
		s := &c.Stages[i]
		if c.Plan.Before(c.Plan.ReleaseRef(), s.Node.Ref) && tightens(s.Node) && s.Status != LeftOut {
			return true
		}
	}
	return false
}

func (c *Card) decideFollow(w Follow, ctx Context) ([]Body, error) {
	var out Refused
	i := slices.IndexFunc(c.Promises(), func(p Promise) bool { return p.Key == w.Key })
	switch {
	case i < 0:
		out = append(out, Blocker{Code: CodeUnknown, Item: w.Key, Text: phrase.Of("job.followup.nothing-called-was-promised", w.Key), WayOut: phrase.Of("job.decide.choose-one-from-the-list")})
	case c.Promises()[i].Ended != "":
		out = append(out, Blocker{Code: CodeFilled, Item: w.Key, Text: phrase.Of("job.followup.that-is-ended", c.Promises()[i].LastWord), WayOut: phrase.Of("job.decide.open-a-new-job-for-new-work")})
	}
	if !slices.Contains(FollowUpActs(), w.Act) {
		out = append(out, Blocker{Code: CodeValue, Text: phrase.Of("job.followup.cannot-be-done-with-it-expected-one", w.Act, strings.Join(FollowUpActs(), ", ")), WayOut: phrase.Of("job.decidepeople.choose-one-of-them")})
	}
	if _, err := time.Parse(time.DateOnly, w.Until); w.Act == FollowMoved && err != nil {
		out = append(out, Blocker{Code: CodeValue, Text: phrase.Of("job.followup.is-no-date-expected-year-month-day", w.Until), WayOut: phrase.Of("job.followup.type-the-new-date")})
	}
	if w.Act == FollowNotShown && !ctx.By.MayDo(procedures.Foreman) {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.followup.only-the-foreman-ends-a-promise-as"), WayOut: phrase.Of("job.followup.fetch-the-foreman")})
	}
	out = append(out, words(procedures.Ref{}, w.Words, phrase.Of("job.followup.say-why-or-by-what-proof"))...)
	if len(out) > 0 {
		return nil, out
	}
	until := ""
	if w.Act == FollowMoved {
		until = w.Until
	}
	return []Body{FollowUp{w.Key, w.Act, until, strings.TrimSpace(w.Words)}}, nil
}
