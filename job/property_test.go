package job_test

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
)

// player throws intents at a job, sensible and not, as anybody of the depot.
type player struct {
	plan *procedures.Plan
	reg  register.Register
	card *job.Card
	now  time.Time
}

func (p *player) ctx(t *rapid.T) job.Context {
	p.now = p.now.Add(time.Duration(rapid.IntRange(1, 600).Draw(t, "seconds")) * time.Second)
	return job.Context{At: p.now, Station: "bay 2", By: rapid.SampledFrom(p.reg.People).Draw(t, "by"), CodeGiven: true, Register: p.reg}
}

// intent is mostly what a mechanic would do next, and now and then anything at all.
func (p *player) intent(t *rapid.T) job.Intent {
	next := p.plan.Node(p.card.Next())
	if next == nil || rapid.IntRange(0, 9).Draw(t, "wild") == 0 {
		at := rapid.SampledFrom(p.plan.Nodes).Draw(t, "stage")
		switch rapid.IntRange(0, 5).Draw(t, "act") {
		case 0:
			return job.Again{Stage: at.Ref, Reason: "because"}
		case 1:
			return job.Pause{Note: "telephone"}
		case 2:
			return job.Countersign{Stage: at.Ref}
		case 3:
			return job.Sign{Stage: at.Ref}
		case 4:
			if half := p.card.HalfDone(); len(half) > 0 {
				return job.Interrupted{Stage: half[0].Stage, Check: half[0].Check}
			}
		}
		return p.enter(t, at)
	}
	if p.card.Paused != nil {
		return job.Resume{}
	}
	if p.card.Stage(next.Ref).Status == job.SecondOwed {
		return job.Countersign{Stage: next.Ref}
	}
	for _, res := range p.card.Results(next.Ref) {
		if len(res.Missing) > 0 {
			return p.enter(t, *next)
		}
		if res.Verdict != quantity.Inside {
			return job.Again{Stage: next.Ref, Reason: "did not pass"}
		}
	}
	return job.Sign{Stage: next.Ref}
}

func (p *player) enter(t *rapid.T, at procedures.Node) job.Intent {
	s := p.card.Stage(at.Ref)
	check := rapid.SampledFrom(at.Checks).Draw(t, "check")
	item := rapid.SampledFrom(check.Items).Draw(t, "item")
	for _, res := range p.card.Results(s.Node.Ref) {
		if len(res.Missing) > 0 && rapid.IntRange(0, 9).Draw(t, "fill") > 0 {
			check, item = *res.Check, res.Missing[0]
			break
		}
	}
	in := job.Enter{Stage: at.Ref, Check: check.ID, Item: item}
	switch check.Kind {
	case procedures.Confirm:
		in.Value = rapid.SampledFrom([]string{"yes", "yes", "yes", "yes", "yes", "no"}).Draw(t, "answer")
	case procedures.Choice:
		in.Value = rapid.SampledFrom(check.Options).Draw(t, "answer")
	case procedures.Count:
		in.Value = rapid.SampledFrom([]string{"2", "2", "2", "2", "2", "3"}).Draw(t, "count")
	case procedures.Torque:
		in.Value, in.With = rapid.SampledFrom([]string{"33", "33", "33", "33.5", "33", "33", "40", "31"}).Draw(t, "torque"), rapid.SampledFrom([]string{"W3", "W4", "W7"}).Draw(t, "wrench")
		if item == procedures.ItemNew {
			in.Value, in.With = "2", ""
		}
	case procedures.Thickness:
		in.Value, in.With = "6.1", "PG1"
		if check.Nominal != nil {
			in.Value, in.With = rapid.SampledFrom([]string{"18.00", "17.99", "17.98", "18.01", "20.02"}).Draw(t, "disc"), "MIC1"
		}
	case procedures.RunOut:
		in.Value, in.With = rapid.SampledFrom([]string{"0", "0.01", "0", "0.02", "0.01", "0", "-0.01", "0.01", "0.02", "0.09"}).Draw(t, "dial"), "DG1"
		if item == procedures.ItemReturn {
			in.Value = "0"
		}
	default:
		in.Value = "words"
	}
	if rapid.IntRange(0, 3).Draw(t, "correct") == 0 {
		in.Reason = "wrong side"
	}
	return in
}

// No sequence of intents gets past what a ledger of the plan and the events forbids, or reaches a
// release with a blocker true, a standing state, an apprentice's
// work uncountersigned, or one person as doer and countersigner; and the fold of every prefix
// agrees with the fold of the whole.
func TestNoWayAroundTheGates(t *testing.T) {
	released := 0
	plan := smallPlan(t)
	rapid.Check(t, func(t *rapid.T) {
		p := &player{plan: plan, reg: depot(), now: time.Date(2026, 3, 3, 7, 0, 0, 0, time.UTC)}
		open, err := job.Decide(nil, job.Open{Number: 1, Vehicle: register.Vehicle{ID: "9"}, Complaint: "noise", Odometer: "1000", Plan: plan}, job.Context{At: p.now, By: ninna, Register: p.reg})
		if err != nil {
			t.Fatal(err)
		}
		p.card = fold(t, plan, open)
		ledger := walk.NewLedger(plan)
		for range 600 {
			ctx := p.ctx(t)
			want := p.intent(t)
			events, err := job.Decide(p.card, want, ctx)
			if err != nil {
				var r job.Refused
				if !errors.As(err, &r) {
					t.Fatalf("%+v: %v is no refusal", want, err)
				}
				continue
			}
			if why := ledger.Forbids(want); why != "" {
				t.Fatalf("%+v was let through although %s", want, why)
			}
			for _, e := range events {
				ledger.Note(e)
			}
			before := p.card.Head
			next, err := p.card.With(events)
			if err != nil {
				t.Fatalf("Decide wrote what the card refuses: %v", err)
			}
			if rapid.IntRange(0, 39).Draw(t, "compare") == 0 {
				whole := fold(t, plan, append(append([]job.Event{}, p.card.Events...), events...))
				if diff := cmp.Diff(stand(whole), stand(next), cmpopts.EquateEmpty()); diff != "" {
					t.Fatalf("With and Fold disagree (-fold +with):\n%s", diff)
				}
			}
			if p.card.Head != before || len(p.card.Events)+len(events) != len(next.Events) {
				t.Fatal("With changed the card it was given")
			}
			p.card = next
			if p.card.Released != nil {
				released++
				checkReleased(t, p.card)
				break
			}
		}
		checkPrefix(t, p.card, rapid.IntRange(1, len(p.card.Events)).Draw(t, "cut"))
	})
	if released == 0 {
		t.Error("no random job ever reached its release; the test looks at nothing")
	}
	t.Logf("%d random jobs reached their release", released)
}

// stand puts into words where a job stands, for comparing two ways of getting there.
func stand(c *job.Card) []string {
	out := []string{c.Head.String()}
	for i := range c.Stages {
		s := &c.Stages[i]
		out = append(out, fmt.Sprintf("%s %v settled %v attempts %d stale by %v", s.Node.Ref, s.Status, s.Settled, len(s.Attempts), s.StaleBy))
		for _, a := range s.Attempts {
			for _, e := range a.Entries {
				out = append(out, fmt.Sprintf("%s %d %s %s %v replaced %d broken %v", s.Node.Ref, a.No, e.Check, e.Item, e.Verdict, e.ReplacedBy, e.Broken))
			}
		}
	}
	for _, st := range c.Open {
		out = append(out, fmt.Sprintf("%s since %d", st.Ref, st.Since.Seq))
	}
	return out
}

func fold(t *rapid.T, plan *procedures.Plan, events []job.Event) *job.Card {
	card, err := job.Fold(plan, events)
	if err != nil {
		t.Fatalf("Decide wrote what Fold refuses: %v", err)
	}
	return card
}

func checkReleased(t *rapid.T, c *job.Card) {
	if len(c.Open) > 0 {
		t.Fatalf("released with %v standing", c.Open[0].Ref)
	}
	for i := range c.Stages {
		s := &c.Stages[i]
		if s.Status == job.LeftOut || c.Plan.Before(c.Plan.ReleaseRef(), s.Node.Ref) {
			continue
		}
		if s.Status != job.Complete {
			t.Fatalf("released with %s %v", s.Node.Ref, s.Status)
		}
		a := s.Current()
		if a.Signed.By.Role == procedures.Apprentice && s.Node.Stage.Second != procedures.SecondNever && a.Countersigned == nil {
			t.Fatalf("released with an apprentice's %s uncountersigned", s.Node.Ref)
		}
		for _, w := range a.Doers() {
			if a.Countersigned != nil && a.Countersigned.By.ID == w.ID {
				t.Fatalf("%s countersigned his own %s", w.Name, s.Node.Ref)
			}
		}
		for _, res := range c.Results(s.Node.Ref) {
			if len(res.Missing) > 0 || res.Verdict != quantity.Inside {
				t.Fatalf("released with %s.%s %v, missing %v", s.Node.Ref, res.Check.ID, res.Verdict, res.Missing)
			}
		}
	}
}

// checkPrefix compares what a prefix says of the past with what the whole says of it.
func checkPrefix(t *rapid.T, whole *job.Card, n int) {
	part := fold(t, whole.Plan, whole.Events[:n])
	head := job.Origin(whole.Number())
	for _, e := range whole.Events[:n] {
		data, err := job.Encode(e)
		if err != nil {
			t.Fatal(err)
		}
		head = job.Link(head, data)
	}
	if part.Head != head {
		t.Fatalf("digest after %d events differs", n)
	}
	for i := range part.Stages {
		for k, a := range part.Stages[i].Attempts {
			b := whole.Stages[i].Attempts[k]
			if len(b.Entries) < len(a.Entries) {
				t.Fatalf("%s attempt %d lost entries", part.Stages[i].Node.Ref, a.No)
			}
			for j := range a.Entries {
				if diff := cmp.Diff(a.Entries[j].Entered, b.Entries[j].Entered); diff != "" {
					t.Fatalf("an entry changed afterwards:\n%s", diff)
				}
			}
			if a.Signed != nil && (b.Signed == nil || a.Signed.Seq != b.Signed.Seq) {
				t.Fatal(fmt.Sprintf("%s lost its signature", part.Stages[i].Node.Ref))
			}
		}
	}
}
