package job_test

import (
	"slices"
	"strings"
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// anglePlan is the small procedure with its guide bolts tightened to snug and then by angle.
// Invented figures of the workshop paper: 50 N·m (47..53), then 60° (55..65).
func anglePlan(t *testing.T) *procedures.Plan {
	t.Helper()
	text := strings.Replace(smallProcedure, `window = "guide"
tools = ["setting wrench", "dial wrench", "electronic wrench"]
`, `window = "snug"
pass_no = 1
tools = ["setting wrench", "dial wrench", "electronic wrench"]
[[stage.check]]
id = "angle"
kind = "torque"
title = "guide bolts, angle"
group = "guide"
window = "turn"
pass_no = 2
tools = ["angle gauge"]
`, 1)
	sheet := strings.Replace(smallSheet, `[[group]]`, `[[window]]
id = "snug"
value = "47..53 N·m"
source = "doc"
[[window]]
id = "turn"
value = "55..65 °"
source = "doc"
simple = true
[[group]]`, 1)
	p, err := procedures.LoadProcedure("angle.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Check(); err != nil {
		t.Fatal(err)
	}
	s, err := procedures.LoadSheet("sheet.toml", []byte(sheet))
	if err != nil {
		t.Fatal(err)
	}
	plan, err := procedures.Resolve(p, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// toBolts opens a job on a plan of the small shape and goes to the left guide bolts.
func toBolts(t *testing.T, plan *procedures.Plan) *bay {
	t.Helper()
	b := openBay(t)
	b.plan, b.card = plan, nil
	b.reg.Instruments = append(b.reg.Instruments, instrument("AG1", register.AngleGauge, "0 °", "360 °", "1 °", "1 °"))
	b.must(quill, job.Open{Number: 7, Vehicle: register.Vehicle{ID: "9"}, Complaint: "squeal", Odometer: "61430", Plan: plan})
	b.toDecision("replace")
	b.enter(ninna, "caliper-off/left", "hook", "", "yes", "")
	b.sign(ninna, "caliper-off/left")
	b.disc("left")
	b.enter(ninna, "bolts/left", "torque", procedures.ItemNew, "2", "")
	return b
}

func TestAngleComesAfterEveryFastenerIsSnug(t *testing.T) {
	b := toBolts(t, anglePlan(t))
	b.enter(ninna, "bolts/left", "torque", "upper", "50", "W4")
	b.refused(ninna, job.Enter{Stage: ref("bolts/left"), Check: "angle", Item: "upper", Value: "60", With: "AG1"}, job.CodeOrder, "lower is missing")
	b.enter(ninna, "bolts/left", "torque", "lower", "50", "W4")
	b.enter(ninna, "bolts/left", "angle", "upper", "60", "AG1")
	b.enter(ninna, "bolts/left", "angle", "lower", "54", "AG1")
	b.refused(ninna, job.Sign{Stage: ref("bolts/left")}, job.CodeOutside, "54°, outside 55..65 °")
}

func TestAngleUnknownAfterAnInterruptionMeansNewBolts(t *testing.T) {
	b := toBolts(t, anglePlan(t))
	b.enter(ninna, "bolts/left", "torque", "upper", "50", "W4")
	b.enter(ninna, "bolts/left", "torque", "lower", "50", "W4")
	b.enter(ninna, "bolts/left", "angle", "upper", "60", "AG1")
	b.must(ninna, job.Pause{Note: "power cut"})
	b.must(ninna, job.Resume{})
	b.refused(ninna, job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "upper", Value: "50", With: "W4"}, job.CodeNewOnes, "single-use")
	b.enter(ninna, "bolts/left", "torque", procedures.ItemNew, "2", "")
	b.enter(ninna, "bolts/left", "torque", "upper", "50", "W4")
}

func TestSwappedTorqueAndAngleAreRecognised(t *testing.T) {
	b := toBolts(t, anglePlan(t))
	b.enter(ninna, "bolts/left", "torque", "upper", "60", "W4")
	b.enter(ninna, "bolts/left", "torque", "lower", "50", "W4")
	b.enter(ninna, "bolts/left", "angle", "upper", "50", "AG1")
	if text := remarks(b.card); !strings.Contains(text, "swapped") {
		t.Errorf("60 N·m and 50° where 50 N·m and 60° were meant: %s", text)
	}
}

func TestTightenedOutOfOrderIsRemarked(t *testing.T) {
	b := toBolts(t, smallPlan(t))
	b.enter(ninna, "bolts/left", "torque", "lower", "33", "W3")
	b.enter(ninna, "bolts/left", "torque", "upper", "33", "W3")
	if text := remarks(b.card); !strings.Contains(text, "lower was tightened out of its order") {
		t.Errorf("remarks: %s", text)
	}
	if !slices.ContainsFunc(b.card.Exceptions(), func(x job.Exception) bool { return x.Kind == job.ExOrder }) {
		t.Error("not on the exceptions page")
	}
}

func TestAdapterRemarkShowsTheUncorrectedError(t *testing.T) {
	b := toBolts(t, smallPlan(t))
	// Worked example of the workshop paper: L 300 mm, a 40 mm; uncorrected the bolt is off by 13.3 %.
	b.must(ninna, job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "upper", Value: "29", With: "W4", Adapter: &job.AdapterUse{Length: q("300 mm"), Offset: q("40 mm")}})
	if text := remarks(b.card); !strings.Contains(text, "off by 13.3 %") || !strings.Contains(text, "the fastener 32.9 N·m") {
		t.Errorf("remarks: %s", text)
	}
	b = toBolts(t, smallPlan(t))
	b.must(ninna, job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "upper", Value: "33", With: "W4", Adapter: &job.AdapterUse{Length: q("300 mm"), Offset: q("40 mm"), Angle: q("90 °")}})
	if text := remarks(b.card); !strings.Contains(text, "changes nothing at this angle; the fastener gets the 33 N·m") {
		t.Errorf("at a right angle: %s", text)
	}
}

func TestOdometerOfAReplacedInstrumentNeedsTheForeman(t *testing.T) {
	b := openBay(t)
	v := register.Vehicle{ID: "9", Odometer: []register.OdometerReading{{Date: "2026-02-01", Job: 3, Value: q("61430 km")}}}
	open := job.Open{Number: 8, Vehicle: v, Complaint: "c", Odometer: "12", Plan: b.plan, OdometerWhy: "instrument replaced, 61 600 on the old one"}
	b.card = nil
	b.refused(ninna, open, job.CodeRole, "lower than 61430 km")
	b.must(quill, open)
	open.Odometer, open.OdometerWhy = "161430", ""
	b.card = nil
	b.must(ninna, open)
	if text := remarks(b.card); !strings.Contains(text, "over 1500 km a day") {
		t.Errorf("100 000 km in a month was not asked about: %s", text)
	}
}

func TestAdapterIsOwedWhereTheProcedureSaysSo(t *testing.T) {
	plan := smallPlan(t)
	plan.Node(ref("bolts/left")).Check("torque").Adapter = true
	b := toBolts(t, plan)
	pull := job.Enter{Stage: ref("bolts/left"), Check: "torque", Item: "upper", Value: "29", With: "W4"}
	b.refused(ninna, pull, job.CodeInstrument, "only reached with an adapter")
	pull.Adapter = &job.AdapterUse{Length: q("300 mm"), Offset: q("40 mm")}
	b.must(ninna, pull)
	if e := b.card.Stage(ref("bolts/left")).Current().Entry("torque", "upper"); e.Adapter == nil || e.Bolt.IsZero() {
		t.Errorf("the adapter is not with the entry: %+v", e.Entered)
	}
}

func TestDecisionToWithholdKeepsTheVehicle(t *testing.T) {
	plan := smallPlan(t)
	plan.Procedure.Decisions[0].Withholds = []string{"measure only"}
	b := openBay(t)
	b.plan, b.card = plan, nil
	b.must(quill, job.Open{Number: 7, Vehicle: register.Vehicle{ID: "9"}, Complaint: "squeal", Odometer: "61430", Plan: plan})
	b.toDecision("measure only")
	release := job.Sign{Stage: plan.ReleaseRef()}
	b.refused(quill, release, job.CodeWithheld, "measure only")
	b.must(quill, job.Withhold{Class: job.WithheldClasses()[0], Words: "thin", Told: "owner"})
	for _, x := range b.card.Blockers(plan.ReleaseRef(), b.context(quill)) {
		if strings.Contains(x.Text, "was decided") {
			t.Errorf("still named once it is withheld: %v", x)
		}
	}
}
