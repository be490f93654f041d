package job_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
)

func TestWithheldVehicleIsLiftedOnlyByCure(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("leak-and-drag/left"))
	b.refused(b.person("A11"), job.Withhold{Class: "leak", Words: "wet at the hose", Told: "depot, by telephone"}, job.CodeRole)
	b.refused(b.person("M04"), job.Withhold{Class: "bad", Words: "wet", Told: "depot"}, job.CodeValue)
	b.must(b.person("M04"), job.Withhold{Class: "leak", Words: "wet at the hose, left", Told: "depot, by telephone: do not drive"})
	b.refused(b.person("M07"), job.Lift{Cure: ref("leak-and-drag/left"), Words: "dry now"}, job.CodeRole)
	b.refused(b.person("M04"), job.Lift{Cure: ref("pedal-pumped"), Words: "dry now"}, job.CodeWithheld, "was not signed after")
	b.walk(w, at("released"))
	b.walk(w, func(c *job.Card) bool {
		missing := 0
		for _, res := range c.Results(ref("released")) {
			if !res.Check.Optional {
				missing += len(res.Missing)
			}
		}
		return missing == 0
	})
	b.refused(b.person("F02"), job.Sign{Stage: ref("released")}, job.CodeWithheld, "wet at the hose")
	b.must(b.person("F02"), job.Lift{Cure: ref("leak-and-drag/left"), Words: "new seals, dry after a minute at full pressure"})
	b.sign(b.person("F02"), "released")
	if b.card.Outcome() != job.OutcomeReleased {
		t.Errorf("outcome %q", b.card.Outcome())
	}
}

func TestAbandonedJobIsMadeSafe(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("disc-on/left"))
	b.refused(b.person("M04"), job.Abandon{Reason: "owner wants it back"}, job.CodeRole)
	b.refused(b.person("F02"), job.Cancel{Reason: "owner wants it back"}, job.CodeEnded)
	b.must(b.person("F02"), job.Abandon{Reason: "parts cannot be had; the owner wants the vehicle back"})
	branch := b.card.MakeSafe()
	has := func(stage string) bool {
		for _, r := range branch {
			if r == ref(stage) {
				return true
			}
		}
		return false
	}
	for _, owed := range []string{"caliper-on/left", "wheel-final-pass/left", "lowered", "pedal-pumped", "parking-motor-restored", "pedal-check", "released"} {
		if !has(owed) {
			t.Errorf("the make-safe branch lacks %s: %v", owed, branch)
		}
	}
	if has("installed-runout/left") || has("road-test") {
		t.Errorf("the make-safe branch asks for work that no longer matters: %v", branch)
	}
	b.walk(w, func(c *job.Card) bool { return c.Released != nil })
	if b.card.Outcome() != job.OutcomeMadeSafe || len(b.card.Open) > 0 {
		t.Errorf("outcome %q with %d states open", b.card.Outcome(), len(b.card.Open))
	}
}

func TestWithheldAndAbandonedLeavesOnARecoveryVehicleOnly(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("pedal-check"))
	b.must(b.person("M04"), job.Withhold{Class: "parking brake", Words: "does not hold on the slope", Told: "depot: recovery only"})
	chocks := procedures.StateRef{State: "chocks-only"}
	b.refused(b.person("F02"), job.Declare{State: chocks, Words: "parking brake defective"}, job.CodeStateOpen)
	b.must(b.person("F02"), job.Abandon{Reason: "no actuator to be had"})
	b.refused(b.person("M04"), job.Declare{State: chocks, Words: "parking brake defective"}, job.CodeRole)
	b.must(b.person("F02"), job.Declare{State: chocks, Words: "parking brake defective, chocked on the recovery vehicle"})
	b.walk(w, func(c *job.Card) bool { return c.Released != nil })
	if b.card.Outcome() != job.OutcomeRecovery {
		t.Errorf("outcome %q", b.card.Outcome())
	}
	if p := b.card.Promises(); len(p) != 0 {
		t.Errorf("a vehicle that leaves on a recovery vehicle is promised %v", p)
	}
}

func TestJobIsCancelledOnlyBeforeWork(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("secured"))
	b.must(b.person("M04"), job.Cancel{Reason: "customer did not leave the key"})
	b.refused(b.person("M04"), job.Enter{Stage: ref("secured"), Check: "chocks", Value: "2"}, job.CodeEnded)
	if !b.card.Finished() || b.card.Outcome() != job.OutcomeCancelled {
		t.Errorf("outcome %q", b.card.Outcome())
	}
}

func TestAfterReleaseOnlyAddenda(t *testing.T) {
	b, w := openReal(t, nil)
	b.refused(b.person("M04"), job.Append{Text: "note"}, job.CodeReleased)
	b.walk(w, nil)
	b.must(b.person("M04"), job.Append{Text: "customer rang: no noise"})
	if len(b.card.Addenda) != 1 {
		t.Errorf("addenda %v", b.card.Addenda)
	}
}

func TestAdviceIsDecidedBeforeRelease(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("road-test"))
	b.must(b.person("M04"), job.Advise{Text: "front pads at 3.5 mm", Urgency: "soon"})
	line := b.card.Advice[0].Seq
	b.refused(b.person("F02"), job.Sign{Stage: ref("released")}, job.CodeAdvice, "front pads")
	b.refused(b.person("F02"), job.DecideAdvice{Advice: line, Answer: "perhaps", Words: "w", ByWhom: "x"}, job.CodeValue)
	b.must(b.person("F02"), job.DecideAdvice{Advice: line, Answer: "refused", Words: "not before the summer", ByWhom: "depot manager, by telephone"})
	b.walk(w, func(c *job.Card) bool { return c.Released != nil })
	found := false
	for _, p := range b.card.Promises() {
		found = found || strings.Contains(p.What, "front pads")
	}
	if !found {
		t.Error("refused advice is not brought up again")
	}
}

func TestRetorquePromiseIsDueLateAndEnded(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, func(c *job.Card) bool { return c.Released != nil })
	i := 0
	p := b.card.Promises()
	for k := range p {
		if p[k].Key == job.KeyRetorque {
			i = k
		}
	}
	left := b.card.Released.At
	for _, c := range []struct {
		on   time.Time
		km   string
		want job.FollowUpState
	}{
		{left, "61445 km", job.FollowNotYet},
		{left.AddDate(0, 0, 1), "61495 km", job.FollowDue},
		{left.AddDate(0, 0, 1), "61560 km", job.FollowLate},
		{left.AddDate(0, 0, 7), "", job.FollowDue},
		{left.AddDate(0, 0, 8), "", job.FollowLate},
	} {
		at := q("1 km")
		if c.km != "" {
			at = q(c.km)
		}
		if got := p[i].State(c.on, at); got != c.want {
			t.Errorf("on %s at %s: %s, want %s", c.on.Format(time.DateOnly), c.km, got, c.want)
		}
	}
	b.refused(b.person("M04"), job.Follow{Key: job.KeyRetorque, Act: job.FollowNotShown, Words: "sold"}, job.CodeRole)
	b.refused(b.person("M04"), job.Follow{Key: job.KeyRetorque, Act: job.FollowMoved, Until: "soon", Words: "on holiday"}, job.CodeValue)
	b.must(b.person("M04"), job.Follow{Key: job.KeyRetorque, Act: job.FollowMoved, Until: "2026-03-20", Words: "driver on holiday"})
	b.walk(w, nil)
	for _, p := range b.card.Promises() {
		if p.Key == job.KeyRetorque && (p.Ended != job.FollowDone || len(p.Acts) != 1) {
			t.Errorf("promise %+v", p)
		}
	}
}

func TestDeviationsAreAClosedList(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("test-before"))
	if len(b.card.Plan.Procedure.Deviations) == 0 || len(b.card.Plan.Procedure.Never) == 0 {
		t.Fatal("the procedure lists nothing that may or may never be granted")
	}
	b.refused(b.person("F02"), job.Deviate{Deviation: "skip-torque", Stage: ref("carrier-bolts/left"), Reason: "in a hurry"}, job.CodeDeviation)
	for _, d := range b.card.Plan.Procedure.Deviations {
		stage, _, _ := strings.Cut(d.Excuses[0], ".")
		var at procedures.Ref
		for _, n := range b.card.Plan.Nodes {
			if n.Ref.Stage == stage {
				at = n.Ref
				break
			}
		}
		if at.Stage == "" || b.card.Stage(at).Status == job.Complete || b.card.Stage(at).Status == job.LeftOut {
			continue
		}
		b.refused(b.person("M04"), job.Deviate{Deviation: d.ID, Stage: at, Reason: "no camera"}, job.CodeRole)
		b.must(b.person("F02"), job.Deviate{Deviation: d.ID, Stage: at, Reason: "broken since Monday"})
	}
	if len(b.card.Deviations) == 0 {
		t.Fatal("no deviation could be granted")
	}
	if b.card.Exceptions()[0].Kind != job.ExDeviation {
		t.Errorf("the deviation is not first on the exceptions page: %+v", b.card.Exceptions()[0])
	}
}

func TestNotSureFetchesSomebodyWithoutBlame(t *testing.T) {
	b := openBay(t)
	b.enter(ninna, "reception", "seen", "", "yes", "")
	b.sign(ninna, "reception")
	b.must(jory, job.NotSure{Stage: ref("raise"), Note: "which lifting point?"})
	b.refused(jory, job.Enter{Stage: ref("raise"), Check: "stands", Value: "2"}, job.CodeUnsure, "asked for somebody")
	b.refused(jory, job.Help{Stage: ref("raise"), Note: "the front one"}, job.CodeRole)
	b.must(ninna, job.Help{Stage: ref("raise"), Note: "shown: the boxed point before the arch"})
	b.enter(jory, "raise", "stands", "", "2", "")
}

func TestLevelsOfAnApprentice(t *testing.T) {
	b := openBay(t)
	b.enter(ninna, "reception", "seen", "", "yes", "")
	b.sign(ninna, "reception")
	watching := jory
	watching.Levels = map[string]register.Level{"": register.LevelWatch}
	b.refused(watching, job.Enter{Stage: ref("raise"), Check: "stands", Value: "2"}, job.CodeRole, "watches")
	alone := jory
	alone.Levels = map[string]register.Level{"": register.LevelAlone}
	b.enter(alone, "raise", "stands", "", "2", "")
	b.sign(alone, "raise")
	if got := b.card.Stage(ref("raise")).Status; got != job.Complete {
		t.Errorf("an ordinary stage of an apprentice who works alone is %v, want complete", got)
	}
	for _, n := range b.plan.Nodes {
		if n.Ref == ref("bolts/left") && !job.SecondOwedBy(&n, alone) {
			t.Error("a torque group of an apprentice who works alone is not countersigned")
		}
		if n.Ref == ref("pedal") && !job.SecondOwedBy(&n, alone) {
			t.Error("a hold of an apprentice who works alone is not countersigned")
		}
	}
}

func TestQualificationRunsOut(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("road-test"))
	late := b.person("M04")
	late.Qualifications = []register.Qualification{{ID: "driving licence", Until: "2026-03-02"}}
	b.refused(late, job.Enter{Stage: ref("road-test"), Check: "first-stop", Value: "yes"}, job.CodeQualification, "ran out on 2026-03-02")
	none := b.person("M04")
	none.Qualifications = nil
	b.refused(none, job.Enter{Stage: ref("road-test"), Check: "first-stop", Value: "yes"}, job.CodeQualification)
}

func TestCountersignInBurstsIsRefused(t *testing.T) {
	small := openBay(t)
	small.toDecision("measure only")
	small.enter(jory, "lower", "stands", "", "2", "")
	small.sign(jory, "lower")
	ctx := small.context(ninna)
	ctx.At = small.now
	for range job.BurstMost {
		// Three countersignatures of the same minute stand on the card already.
		small.card.Stages[0].Attempts = append(small.card.Stages[0].Attempts, job.Attempt{Countersigned: &job.Mark{By: job.Who{ID: ninna.ID}, At: ctx.At}})
	}
	got := small.card.SecondBlockers(ref("lower"), ctx)
	found := false
	for _, x := range got {
		found = found || x.Code == job.CodeBurst
	}
	if !found {
		t.Errorf("four countersignatures in a minute were let through: %v", got)
	}
}

func TestCountersignBelongsToTheSameShift(t *testing.T) {
	b := openBay(t)
	b.enter(ninna, "reception", "seen", "", "yes", "")
	b.sign(ninna, "reception")
	b.enter(jory, "raise", "stands", "", "2", "")
	b.sign(jory, "raise")
	b.now = b.now.Add(13 * time.Hour)
	b.refused(ninna, job.Countersign{Stage: ref("raise")}, job.CodeShift)
}

func TestBlindSecondMeasurement(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("disc-measured/left"))
	b.enter(b.person("M04"), "disc-measured/left", "thickness", "1", "16.425", "MIC1")
	blind := job.MeasureBlind{Stage: ref("disc-measured/left"), Check: "thickness", Item: "1", Value: "16.430", With: "MIC1"}
	b.refused(b.person("M04"), blind, job.CodeSamePerson)
	b.must(b.person("M07"), blind)
	a := b.card.Stage(ref("disc-measured/left")).Current()
	if d, agree := b.card.Agreement(a.Blinds[0]); d.String() != "0.005 mm" || !agree {
		t.Errorf("difference %s, agree %v; 0.004 + 0.004 mm of error explain 0.005", d, agree)
	}
	blind.Value = "16.440"
	b.must(b.person("M07"), blind)
	a = b.card.Stage(ref("disc-measured/left")).Current()
	if d, agree := b.card.Agreement(a.Blinds[1]); agree {
		t.Errorf("difference %s counts as agreement", d)
	}
}

func TestSwapOfAWholeSet(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("pads-measured/left"))
	pads(b, "left", "6.2", "6.1", "6.4", "6.3")
	pads(b, "right", "3.1", "3.0", "7.4", "7.5")
	b.refused(b.person("M04"), job.SwapSides{Stage: "pads-measured", Check: "friction"}, job.CodeReason)
	b.must(b.person("M04"), job.SwapSides{Stage: "pads-measured", Check: "friction", Reason: "read out from the wrong side"})
	if e := b.card.Stage(ref("pads-measured/left")).Current().Entry("friction", "inner leading"); e == nil || e.Value.String() != "3.1 mm" {
		t.Errorf("left inner leading is %v after the exchange", e)
	}
	if n := len(b.card.Stage(ref("pads-measured/left")).Current().Entries); n != 8 {
		t.Errorf("%d entries on the left, want the four old and the four new", n)
	}
}

func TestQuestionAtAHoldGoesIntoThePracticeRecord(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("raise-and-support"))
	jory := b.person("A11")
	st := b.card.Plan.Node(ref("raise-and-support")).Stage
	if st.Question == "" || st.Task == "" {
		t.Fatal("the hold has no question or task")
	}
	b.refused(b.person("M04"), job.Ask{Stage: ref("raise-and-support"), Whom: "A11", Result: "badly"}, job.CodeValue)
	b.refused(jory, job.Ask{Stage: ref("raise-and-support"), Whom: "A11", Result: job.AskedKnew}, job.CodeSamePerson)
	b.must(b.person("M04"), job.Ask{Stage: ref("raise-and-support"), Whom: "A11", Result: job.AskedHelp})
	rec := job.PracticeRecord("A11", []*job.Card{b.card})
	if len(rec) != 1 || rec[0].WithHelp != 1 || rec[0].MayRaise() {
		t.Errorf("record %+v", rec)
	}
}

func TestOnePersonWorkshopNeverFakesASecond(t *testing.T) {
	b := openBay(t)
	b.reg.People = []register.Person{quill}
	b.enter(quill, "reception", "seen", "", "yes", "")
	b.sign(quill, "reception")
	b.enter(quill, "raise", "stands", "", "2", "")
	b.sign(quill, "raise")
	for _, side := range []string{"/left", "/right"} {
		for _, p := range []string{"inner leading", "inner trailing", "outer leading", "outer trailing"} {
			b.enter(quill, "pads"+side, "thickness", p, "6.1", "PG1")
		}
		b.enter(quill, "pads"+side, "pins", "", "free", "")
		b.sign(quill, "pads"+side)
	}
	b.enter(quill, "decide", "scope", "", "measure only", "")
	b.sign(quill, "decide")
	b.enter(quill, "lower", "stands", "", "2", "")
	b.sign(quill, "lower")
	b.enter(quill, "pedal", "firm", "", "yes", "")
	b.sign(quill, "pedal")
	if a := b.card.Stage(ref("pedal")).Current(); !a.NoSecond || b.card.Stage(ref("pedal")).Status != job.Complete {
		t.Errorf("pedal check: no second person %v, %v", a.NoSecond, b.card.Stage(ref("pedal")).Status)
	}
	b.enter(quill, "release", "read", "", "yes", "")
	b.sign(quill, "release")
	if b.card.Released.Independent {
		t.Error("the record claims an independent release")
	}
}

func TestPracticeCountsNoCyclesAndKnowsItsPlantedFaults(t *testing.T) {
	b := openBay(t)
	events, err := job.Decide(nil, job.Open{Number: 9, Vehicle: register.Vehicle{ID: "bench"}, Complaint: "practice", Odometer: "1", Plan: b.plan,
		Practice: true, Planted: []string{"wrong disc"}}, b.context(quill))
	if err != nil {
		t.Fatal(err)
	}
	card, err := job.Fold(b.plan, events)
	if err != nil {
		t.Fatal(err)
	}
	b.card = card
	b.must(jory, job.FindFault{Fault: "wrong disc"})
	if len(b.card.Finds) != 1 || len(b.card.Pulls(nil)) != 0 {
		t.Errorf("finds %v, pulls %v", b.card.Finds, b.card.Pulls(nil))
	}
	real := openBay(t)
	real.refused(jory, job.FindFault{Fault: "wrong disc"}, job.CodeUnknown)
}

// From any state a random crew leaves a job in, a legal way to an end exists: released, made safe or
// cancelled.
func TestFromAnywhereThereIsAWayToAnEnd(t *testing.T) {
	plan := smallPlan(t)
	ends := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		p := &player{plan: plan, reg: depot(), now: time.Date(2026, 3, 3, 7, 0, 0, 0, time.UTC)}
		open, err := job.Decide(nil, job.Open{Number: 1, Vehicle: register.Vehicle{ID: "9"}, Complaint: "noise", Odometer: "1000", Plan: plan}, job.Context{At: p.now, By: ninna, Register: p.reg})
		if err != nil {
			rt.Fatal(err)
		}
		p.card = fold(rt, plan, open)
		for range rapid.IntRange(0, 150).Draw(rt, "moves") {
			events, err := job.Decide(p.card, p.intent(rt), p.ctx(rt))
			if err != nil {
				continue
			}
			if p.card, err = p.card.With(events); err != nil {
				rt.Fatal(err)
			}
		}
		w := &walk.Walker{Crew: walk.Crew{Doer: ninna, Second: tavo, Foreman: quill}, Register: p.reg}
		if rapid.Bool().Draw(rt, "abandon") && p.card.Released == nil && p.card.Paused == nil {
			step(rt, p, quill, job.Abandon{Reason: "owner takes it"})
		}
		for n := 0; !p.card.Finished() && p.card.Released == nil; n++ {
			p.now = p.now.Add(time.Minute)
			ctx := job.Context{At: p.now, Station: "bay 2", By: ninna, CodeGiven: true, Register: p.reg}
			m, more, err := w.Next(p.card, ctx)
			if n > 500 {
				rt.Fatal("no way to an end")
			}
			if err != nil { // everybody had a hand in it: the way out is to do it again
				m, more = walk.Move{By: quill, Want: job.Again{Stage: p.card.Next(), Reason: "nobody is left to countersign"}}, true
			}
			if !more {
				break
			}
			ctx.By = m.By
			events, err := job.Decide(p.card, m.Want, ctx)
			if err != nil {
				m, events, err = again(p, m, ctx, err)
				if err != nil {
					rt.Fatalf("%s: %+v: %v", m.By.Name, m.Want, err)
				}
			}
			if p.card, err = p.card.With(events); err != nil {
				rt.Fatal(err)
			}
		}
		if len(p.card.Open) > 0 {
			rt.Fatalf("ended with %v standing", p.card.Open[0].Ref)
		}
		ends[p.card.Outcome()]++
	})
	if ends[job.OutcomeReleased] == 0 || ends[job.OutcomeMadeSafe] == 0 {
		t.Errorf("ends reached: %v", ends)
	}
}

// again takes the way out a refusal names when values stand in the way: a new attempt.
func again(p *player, m walk.Move, ctx job.Context, err error) (walk.Move, []job.Event, error) {
	var r job.Refused
	if s, ok := m.Want.(job.Sign); ok && errors.As(err, &r) {
		ctx.By = quill
		m = walk.Move{By: quill, Want: job.Again{Stage: s.Stage, Reason: "did not pass"}}
		events, err := job.Decide(p.card, m.Want, ctx)
		return m, events, err
	}
	return m, nil, err
}

func step(t *rapid.T, p *player, by register.Person, want job.Intent) {
	events, err := job.Decide(p.card, want, job.Context{At: p.now, By: by, CodeGiven: true, Register: p.reg})
	if err != nil {
		t.Fatalf("%+v: %v", want, err)
	}
	if p.card, err = p.card.With(events); err != nil {
		t.Fatal(err)
	}
}
