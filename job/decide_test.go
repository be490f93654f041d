package job_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

func TestWholeJobToRelease(t *testing.T) {
	b := openBay(t)
	b.toRelease()
	b.sign(quill, "release")
	if b.card.Released == nil || !b.card.Released.Independent {
		t.Fatalf("released = %+v, want an independent release", b.card.Released)
	}
	b.enter(ninna, "hand-over", "to", "", "depot driver", "")
	b.sign(ninna, "hand-over")
	b.refused(ninna, job.Enter{Stage: ref("pedal"), Check: "firm", Value: "yes"}, job.CodeReleased)
	b.refused(ninna, job.Again{Stage: ref("bolts/left"), Reason: "doubt"}, job.CodeReleased)
}

func TestStagesWaitForWhatComesBefore(t *testing.T) {
	b := openBay(t)
	b.refused(ninna, job.Enter{Stage: ref("raise"), Check: "stands", Value: "2"}, job.CodeBefore, "Reception")
	b.refused(ninna, job.Sign{Stage: ref("pedal")}, job.CodeBefore)
	b.refused(ninna, job.Enter{Stage: ref("caliper-off/left"), Check: "hook", Value: "yes"}, job.CodeUndecided)
	// Measuring may begin early, signing may not.
	b.enter(ninna, "pads/left", "pins", "", "free", "")
	b.refused(ninna, job.Sign{Stage: ref("pads/left")}, job.CodeBefore)
}

func TestDecisionLeavesOut(t *testing.T) {
	b := openBay(t)
	b.toDecision("measure only")
	if got := b.card.Stage(ref("bolts/left")).Status; got != job.LeftOut {
		t.Errorf("guide bolts are %v after measuring only, want left out", got)
	}
	b.enter(ninna, "lower", "stands", "", "2", "")
	b.sign(ninna, "lower")
	if len(b.card.Open) != 0 {
		t.Errorf("states open after lowering: %+v", b.card.Open)
	}
}

func TestFindingAddsAStageOnItsSideOnly(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	for side, want := range map[string]job.Status{"left": job.LeftOut, "right": job.LeftOut} {
		if got := b.card.Stage(ref("pins-service/" + side)).Status; got != want {
			t.Errorf("pins service %s = %v, want %v", side, got, want)
		}
	}
	b.must(ninna, job.Again{Stage: ref("pads/left"), Reason: "felt stiff after all"})
	for _, p := range []string{"inner leading", "inner trailing", "outer leading", "outer trailing"} {
		b.enter(ninna, "pads/left", "thickness", p, "6.1", "PG1")
	}
	b.enter(ninna, "pads/left", "pins", "", "seized", "")
	b.sign(ninna, "pads/left")
	if got := b.card.Stage(ref("pins-service/left")).Status; got != job.Waiting {
		t.Errorf("pins service left = %v, want waiting", got)
	}
	if got := b.card.Stage(ref("pins-service/right")).Status; got != job.LeftOut {
		t.Errorf("pins service right = %v, want left out", got)
	}
}

// Limits are inclusive: 30.0 and 36.0 pass 30..36 by simple acceptance, and a wrench that cannot
// prove them says so.
func TestTorqueVerdicts(t *testing.T) {
	for _, c := range []struct {
		with, value string
		want        quantity.Verdict
	}{
		{"W3", "33", quantity.Inside},      // 31.43 to 34.57
		{"W3", "31", quantity.NotProven},   // 29.51: may be below
		{"W3", "36", quantity.NotProven},   // inside, at the limit
		{"W3", "29.5", quantity.Outside},   // below
		{"W4", "33.5", quantity.Inside},    // 32.245 to 34.755
		{"W4", "35.5", quantity.NotProven}, // 36.815
		{"W4", "24.5", quantity.Outside},   // lbf·ft figure of 33 read as N·m
	} {
		b := openBay(t)
		b.toDecision("replace")
		b.enter(ninna, "caliper-off/left", "hook", "", "yes", "")
		b.sign(ninna, "caliper-off/left")
		b.disc("left")
		b.enter(ninna, "bolts/left", "torque", procedures.ItemNew, "2", "")
		b.enter(ninna, "bolts/left", "torque", "upper", c.value, c.with)
		e := b.card.Stage(ref("bolts/left")).Current().Entry("torque", "upper")
		if e.Verdict != c.want {
			t.Errorf("%s with %s = %v, want %v", c.value, c.with, e.Verdict, c.want)
		}
		if e.Window == nil || e.Window.Document != "Invented sheet" || e.Window.Revision != "4" || e.Instrument == nil || e.Instrument.Certificate == "" {
			t.Errorf("the reading lost its window or instrument: %+v", e.Entered)
		}
	}
}

func TestInstrumentGates(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.enter(ninna, "caliper-off/left", "hook", "", "yes", "")
	b.sign(ninna, "caliper-off/left")
	b.disc("left")
	at := func(value, with string) job.Enter {
		return job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "upper", Value: value, With: with}
	}
	b.refused(ninna, at("33", "W3"), job.CodeNewOnes, "single-use")
	b.enter(ninna, "bolts/left", "torque", procedures.ItemNew, "2", "")
	b.refused(ninna, at("33", ""), job.CodeInstrument, "no instrument")
	b.refused(ninna, at("33", "W99"), job.CodeInstrument, "not in the register")
	b.refused(ninna, at("33", "W7"), job.CodeInstrument, "ran out on 2026-03-01", "use W3")
	b.refused(ninna, at("33", "W8"), job.CodeInstrument, "below the range")
	b.refused(ninna, at("33", "MIC1"), job.CodeInstrument, "is a micrometer")
	b.refused(ninna, at("33.2", "W3"), job.CodeInstrument, "finer than W3 resolves")
	b.refused(ninna, at("24 lbf·ft", "W3"), job.CodeInstrument, "no lbf·ft scale")
	b.refused(ninna, at("4006381333931", "W3"), job.CodeValue, "barcode")
	b.refused(ninna, at("1e3", "W3"), job.CodeValue, "1e3")
	b.refused(ninna, job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "upper", With: "W3", Clicked: true}, job.CodeMissing)
	// Due on the day itself is valid.
	b.reg.Instruments[1].Due = "2026-03-03"
	b.enter(ninna, "bolts/left", "torque", "upper", "33", "W7")
}

func TestMissingFastenerIsNamed(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.enter(ninna, "caliper-off/left", "hook", "", "yes", "")
	b.sign(ninna, "caliper-off/left")
	b.disc("left")
	b.enter(ninna, "bolts/left", "torque", procedures.ItemNew, "2", "")
	b.enter(ninna, "bolts/left", "torque", "upper", "33", "W3")
	b.refused(ninna, job.Sign{Stage: ref("bolts/left")}, job.CodeMissing, "2 of 3", "missing: lower")
}

func TestOutsideIsKeptAndBlocks(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.enter(ninna, "caliper-off/left", "hook", "", "yes", "")
	b.sign(ninna, "caliper-off/left")
	b.disc("left")
	b.enter(ninna, "bolts/left", "torque", procedures.ItemNew, "2", "")
	b.enter(ninna, "bolts/left", "torque", "upper", "40", "W3")
	b.must(ninna, job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "lower", Value: "33", With: "W3"})
	b.refused(ninna, job.Sign{Stage: ref("bolts/left")}, job.CodeOutside, "40 N·m, outside 30..36 N·m", "new bolts and a new attempt")
	b.refused(ninna, job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "upper", Value: "33", With: "W3"}, job.CodeFilled)
	// A slip is corrected with a reason; the first value stays on record.
	b.must(ninna, job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "upper", Value: "34", With: "W3", Reason: job.ReasonSlip})
	a := b.card.Stage(ref("bolts/left")).Current()
	var kept []string
	for _, e := range a.Entries {
		if e.Item == "upper" {
			kept = append(kept, e.Value.String())
		}
	}
	if diff := cmp.Diff([]string{"40 N·m", "34 N·m"}, kept); diff != "" {
		t.Errorf("record of the upper bolt (-want +got):\n%s", diff)
	}
	// The second slip on the same fastener needs a second person.
	slip := job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "upper", Value: "33", With: "W3", Reason: job.ReasonSlip}
	b.refused(ninna, slip, job.CodeSecond)
	slip.Second = &ninna
	b.refused(ninna, slip, job.CodeSecond)
	slip.Second = &tavo
	b.must(ninna, slip)
	b.sign(ninna, "bolts/left")
}

func TestApprenticeNeedsASecondPerson(t *testing.T) {
	b := openBay(t)
	b.enter(ninna, "reception", "seen", "", "yes", "")
	b.sign(ninna, "reception")
	b.enter(jory, "raise", "stands", "", "2", "")
	b.sign(jory, "raise")
	if got := b.card.Stage(ref("raise")).Status; got != job.SecondOwed {
		t.Fatalf("status = %v, want second person owed", got)
	}
	b.refused(ninna, job.Sign{Stage: ref("decide")}, job.CodeBefore)
	b.refused(jory, job.Countersign{Stage: ref("raise")}, job.CodeRole)
	b.refused(esk, job.Countersign{Stage: ref("raise")}, job.CodeRole)
	b.must(ninna, job.Countersign{Stage: ref("raise")})
	if got := b.card.Stage(ref("raise")).Status; got != job.Complete {
		t.Fatalf("status = %v, want complete", got)
	}
	b.refused(tavo, job.Countersign{Stage: ref("raise")}, job.CodeNotOwed)
	b.refused(jory, job.Enter{Stage: ref("disc/left"), Check: "nominal", Item: "1", Value: "18", With: "MIC1"}, job.CodeRole)
}

func TestNobodyCountersignsHimself(t *testing.T) {
	b := openBay(t)
	b.toDecision("measure only")
	b.enter(ninna, "lower", "stands", "", "2", "")
	b.sign(ninna, "lower")
	b.enter(ninna, "pedal", "firm", "", "yes", "")
	b.sign(tavo, "pedal") // Tavo signs what Ninna entered: both are doers
	b.refused(ninna, job.Countersign{Stage: ref("pedal")}, job.CodeSamePerson)
	b.refused(tavo, job.Countersign{Stage: ref("pedal")}, job.CodeSamePerson)
	b.must(quill, job.Countersign{Stage: ref("pedal")})
}

func TestLookIsNotForWhoTightened(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.build("left")
	b.build("right")
	b.enter(ninna, "look", "marks", "", "yes", "")
	b.refused(ninna, job.Sign{Stage: ref("look")}, job.CodeSamePerson, "Ninna did")
	b.sign(tavo, "look")
}

func TestForemanWhoDidTheWorkDoesNotRelease(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.build("left")
	b.enter(quill, "caliper-off/right", "hook", "", "yes", "")
	b.sign(quill, "caliper-off/right")
	b.disc("right")
	b.bolts("right")
	b.enter(tavo, "look", "marks", "", "yes", "")
	b.sign(tavo, "look")
	b.enter(ninna, "lower", "stands", "", "2", "")
	b.sign(ninna, "lower")
	b.enter(ninna, "pedal", "firm", "", "yes", "")
	b.sign(ninna, "pedal")
	b.must(tavo, job.Countersign{Stage: ref("pedal")})
	b.enter(quill, "release", "read", "", "yes", "")
	other := quill
	other.ID, other.Name = "F03", "Hild"
	b.reg.People = append(b.reg.People, other)
	b.refused(quill, job.Sign{Stage: ref("release")}, job.CodeSamePerson, "another foreman")
	b.reg.People = b.reg.People[:len(b.reg.People)-1]
	b.sign(quill, "release")
	if b.card.Released.Independent {
		t.Error("the record calls the release independent; the foreman did part of the work and nobody else could release")
	}
}

func TestReleaseRefusedWhileAStateStands(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.build("left")
	b.refused(quill, job.Sign{Stage: ref("release")}, job.CodeStateOpen, "vehicle raised", "Lower the vehicle")
}

// A disc that comes off again makes what rests on it stale on its own side; measurements stay.
func TestStale(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.build("left")
	b.build("right")
	b.enter(tavo, "look", "marks", "", "yes", "")
	b.sign(tavo, "look")
	b.must(ninna, job.Again{Stage: ref("disc/left"), Reason: "rocked on its seat"})
	want := map[string]job.Status{"pads/left": job.Complete, "disc/left": job.Waiting, "bolts/left": job.Stale, "look": job.Stale,
		"bolts/right": job.Complete, "disc/right": job.Complete, "caliper-off/left": job.Complete}
	want["disc/left"] = job.Ready
	got := map[string]job.Status{}
	for r := range want {
		got[r] = b.card.Stage(ref(r)).Status
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("statuses (-want +got):\n%s", diff)
	}
	hung := false
	for _, st := range b.card.Open {
		hung = hung || st.Ref == (procedures.StateRef{State: "hung", Side: procedures.Left})
	}
	if !hung {
		t.Error("the stale guide bolts still count as proof that the caliper is back")
	}
	b.refused(tavo, job.Sign{Stage: ref("look")}, job.CodeStale)
	b.disc("left")
	b.refused(ninna, job.Sign{Stage: ref("bolts/left")}, job.CodeStale, "New disc on, left")
	b.bolts("left") // the first entry begins the new attempt by itself
	if n := len(b.card.Stage(ref("bolts/left")).Attempts); n != 2 {
		t.Errorf("%d attempts at the guide bolts, want 2", n)
	}
}

func TestReworkByName(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.build("left")
	b.refused(ninna, job.Again{Stage: ref("disc/left"), Rework: "hammer"}, job.CodeUnknown)
	b.must(ninna, job.Again{Stage: ref("disc/left"), Rework: "index"})
	if got := b.card.Stage(ref("disc/left")).Current(); got.No != 2 || got.Reason != "turned to another stud position" {
		t.Errorf("attempt = %d %q", got.No, got.Reason)
	}
	b.refused(jory, job.Again{Stage: ref("pads/left"), Reason: "again"}, job.CodeRole)
	b.refused(ninna, job.Again{Stage: ref("pads/left")}, job.CodeReason)
}

func TestBrokenPassStartsAgain(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.enter(ninna, "caliper-off/left", "hook", "", "yes", "")
	b.sign(ninna, "caliper-off/left")
	b.disc("left")
	b.enter(ninna, "bolts/left", "torque", procedures.ItemNew, "2", "")
	b.enter(ninna, "bolts/left", "torque", "upper", "33", "W3")
	b.must(ninna, job.Pause{Note: "telephone"})
	b.refused(ninna, job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "lower", Value: "33", With: "W3"}, job.CodePaused)
	b.must(tavo, job.Resume{})
	b.refused(tavo, job.Resume{}, job.CodeNotPaused)
	b.refused(tavo, job.Sign{Stage: ref("bolts/left")}, job.CodeMissing, "upper, lower")
	b.enter(tavo, "bolts/left", "torque", "upper", "33", "W3")
	b.must(tavo, job.Enter{Stage: ref("bolts/left"), Check: "torque", With: "W3", Clicked: true, All: true})
	b.sign(tavo, "bolts/left")
	a := b.card.Stage(ref("bolts/left")).Current()
	if n := len(a.Entries); n != 4 || !a.Entries[1].Broken {
		t.Errorf("%d entries, broken %v; the first pull stays as evidence", n, a.Entries[1].Broken)
	}
}

func TestRunOutFigures(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.enter(ninna, "caliper-off/left", "hook", "", "yes", "")
	b.sign(ninna, "caliper-off/left")
	b.enter(ninna, "disc/left", "nominal", "1", "17.98", "MIC1")
	b.enter(ninna, "disc/left", "nominal", "2", "18.12", "MIC1")
	// Worked example of the workshop paper, invented values: 0.12 over one turn.
	for i, v := range []string{"0", ".02", ".02", ".01", "-.04", "-.08", "-.10", "-.07"} {
		b.enter(ninna, "disc/left", "run-out", string(rune('1'+i)), v, "DG1")
	}
	b.enter(ninna, "disc/left", "run-out", procedures.ItemReturn, "-0.02", "DG1")
	b.refused(ninna, job.Sign{Stage: ref("disc/left")}, job.CodeOutside,
		"thickness of the new disc, 2 is 18.12 mm, outside 18.00 ± 0.10 mm", "run-out, run-out is 0.12 mm", "return to start is 0.02 mm")
}

func TestPersonalCodeAndClock(t *testing.T) {
	b := openBay(t)
	b.enter(ninna, "reception", "seen", "", "yes", "")
	ctx := b.context(ninna)
	ctx.CodeGiven = false
	if _, err := job.Decide(b.card, job.Sign{Stage: ref("reception")}, ctx); err == nil {
		t.Error("signed without a code")
	}
	b.now = b.now.AddDate(-26, 0, 0)
	b.refused(ninna, job.Sign{Stage: ref("reception")}, job.CodeClock)
}

func TestDecideNeverChangesTheCard(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	before := b.card.Head
	n := len(b.card.Events)
	if _, err := job.Decide(b.card, job.Enter{Stage: ref("caliper-off/left"), Check: "hook", Value: "yes"}, b.context(ninna)); err != nil {
		t.Fatal(err)
	}
	if b.card.Head != before || len(b.card.Events) != n || b.card.Stage(ref("caliper-off/left")).Current() != nil {
		t.Error("Decide changed the card it was given")
	}
}
