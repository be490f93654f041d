package walk_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// danger is an answer that makes a vehicle unfit, and a scope that does not repair it.
type danger struct{ stage, check, answer, scope string }

// Every shipped procedure, with a danger written down and a scope that leaves it on the vehicle: as
// long as nobody says otherwise there is no way to the release. Where the stage that stops it offers
// to decide again, withholding is the way out.
func TestARecordedDangerIsNeverReleased(t *testing.T) {
	const left = "/left"
	measuring := func(at, check string, answers ...string) []danger {
		var out []danger
		for _, v := range answers {
			out = append(out, danger{at, check, v, "measuring only"})
		}
		return out
	}
	discs := slices.Concat(
		measuring("caliper-condition"+left, "slides", "seized"),
		measuring("caliper-condition"+left, "caliper", "to be replaced"),
		measuring("caliper-condition"+left, "hose", "to be replaced"),
		measuring("caliper-condition"+left, "bearing", "play"),
		measuring("pads-measured"+left, "surface", "cracked", "oily"),
		measuring("disc-measured"+left, "surface", "cracked"),
		[]danger{
			{"caliper-condition" + left, "bearing", "play", "pads only"},
			{"caliper-condition" + left, "bearing", "play", "discs and pads"},
			{"disc-measured" + left, "surface", "cracked", "pads only"},
			{"disc-off" + left, "hub", "to be replaced", "discs and pads"},
		})
	dangers := map[string][]danger{
		"rear-discs-pads":  discs,
		"front-discs-pads": discs,
		"caliper-actuator": slices.Concat(
			measuring("fault-proved"+left, "caliper", "to be replaced"),
			measuring("fault-proved"+left, "motor", "to be replaced"),
			[]danger{{"fault-proved" + left, "caliper", "to be replaced", "motors only"}}),
		"rear-drum-shoes": slices.Concat(
			measuring("cylinder-looked-at"+left, "boots", "wet"),
			measuring("cylinder-looked-at"+left, "axle-seal", "wet"),
			measuring("cylinder-looked-at"+left, "levers", "frayed"),
			measuring("shoes-measured"+left, "surface", "greasy", "coming loose"),
			[]danger{
				{"cylinder-looked-at" + left, "boots", "wet", "shoes only"},
				{"cylinder-looked-at" + left, "axle-seal", "wet", "shoes and drums"},
				{"cylinder-looked-at" + left, "levers", "frayed", "shoes only"},
			}),
	}
	ps, _ := library(t)
	for _, p := range ps {
		if raced && p.ID != "rear-drum-shoes" {
			continue
		}
		list := append(dangers[p.ID], danger{"first-look", "pedal", "sinking", ""}, danger{"first-look", "leaks", "dripping", ""})
		t.Run(p.ID, func(t *testing.T) {
			t.Parallel()
			p, s := shipped(t, p.ID)
			plan, err := procedures.Resolve(p, s, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range list {
				name := strings.Join([]string{d.stage, d.check, d.answer, d.scope}, ", ")
				if plan.Node(procedures.ParseRef(d.stage)) == nil {
					t.Errorf("%s: there is no such stage", name)
					continue
				}
				staysOut(t, name, plan, d)
			}
		})
	}
}

// staysOut plays a job in which the danger is said again wherever the same thing is asked, and
// withholds the vehicle once it is stopped.
func staysOut(t *testing.T, name string, plan *procedures.Plan, d danger) {
	t.Helper()
	scope := map[string]string{"scope-decided.scope": d.scope}
	b := open(t, name, plan, scope)
	at := procedures.ParseRef(d.stage)
	straight := b.walker.Choose
	b.walker.Choose = func(c *job.Card, r procedures.Ref, pc *procedures.PlanCheck, item string) string {
		switch {
		case pc.Kind == procedures.Choice && pc.ID == d.check && r.Side == at.Side && slices.Contains(pc.Options, d.answer):
			return d.answer
		case pc.ID == "play" && d.check == "bearing" && r.Side == at.Side:
			return "0.40 mm"
		case r.Stage == "test-before" && d.stage == "first-look":
			t.Errorf("%s: it was driven onto the tester", name)
		}
		return straight(c, r, pc, item)
	}
	var stop job.Refused
	for n := 0; n < 4000 && stop == nil; n++ {
		m, more, err := b.walker.Next(b.card, b.ctx(b.walker.Crew.Doer))
		if err != nil || !more {
			t.Errorf("%s: nothing stopped it: %q, %v", name, b.card.Outcome(), err)
			return
		}
		if err = b.do(m.By, m.Want); err != nil && !errors.As(err, &stop) {
			t.Fatalf("%s: %v", name, err)
		}
	}
	if len(stop) == 0 || stop[0].Code != job.CodeOutside {
		t.Errorf("%s: stopped by %v", name, stop)
		return
	}
	s := b.card.Stage(stop[0].Stage)
	foreman := b.walker.Crew.Foreman
	for _, w := range s.Node.Stage.Reworks {
		if w.ID != "decide-again" {
			continue
		}
		if err := b.do(foreman, job.Again{Stage: s.Node.Ref, Rework: w.ID, Reason: "it does not stay"}); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		scope["scope-decided.scope"] = "withhold"
	}
	if scope["scope-decided.scope"] != "withhold" {
		b.withhold()
		if err := b.do(foreman, job.Abandon{Reason: "not repaired today"}); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	b.run(nil)
	if b.card.Outcome() != job.OutcomeRecovery {
		t.Errorf("%s: ended %q", name, b.card.Outcome())
	}
}

// A caliper is being replaced when the work ends: the circuit stands open, and nobody has said yet
// that it needs bleeding. Bleeding is owed all the same, and the vehicle comes to its end.
func TestAnOpenCircuitIsBledWithoutTheAnswer(t *testing.T) {
	p, s := shipped(t, "front-discs-pads")
	plan, err := procedures.Resolve(p, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	b := open(t, "circuit open", plan, map[string]string{"caliper-condition/left.caliper": "to be replaced"})
	at := procedures.Ref{Stage: "caliper-replaced", Side: procedures.Left}
	ended := false
	b.run(func(int) {
		if ended || b.card.Stage(at).Status != job.Begun {
			return
		}
		ended = true
		b.withhold()
		if err := b.do(b.walker.Crew.Foreman, job.Abandon{Reason: "the part does not fit"}); err != nil {
			t.Fatal(err)
		}
	})
	if bled := b.card.Stage(procedures.Ref{Stage: "bled"}); !ended || bled.Status != job.Complete || b.card.Outcome() != job.OutcomeRecovery {
		t.Errorf("ended %v, bled is %s, outcome %q", ended, bled.Status, b.card.Outcome())
	}
}
