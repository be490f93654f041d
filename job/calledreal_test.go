package job_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// TestRealIsNoSlip: what was called real is never corrected as a typing slip. Other words stay open,
// are read first, and say that it had been called real; a new attempt is the way out.
func TestRealIsNoSlip(t *testing.T) {
	b := openBay(t)
	b.toDecision("replace")
	b.enter(ninna, "caliper-off/left", "hook", "", "yes", "")
	b.sign(ninna, "caliper-off/left")
	b.disc("left")
	at := ref("bolts/left")
	real := job.CallReal{Stage: at, Check: "torque", Item: "upper"}
	b.refused(ninna, real, job.CodeUnknown)
	b.enter(ninna, "bolts/left", "torque", procedures.ItemNew, "2", "")
	b.enter(ninna, "bolts/left", "torque", "upper", "33", "W3")
	b.refused(ninna, real, job.CodeUnknown, "no value outside")
	b.enter(ninna, "bolts/left", "torque", "lower", "40", "W3")
	real.Item = "lower"
	b.refused(esk, real, job.CodeRole)
	b.must(ninna, real)
	b.refused(ninna, real, job.CodeFilled)
	again := job.Enter{Stage: at, Check: "torque", Item: "lower", Value: "33", With: "W3", Reason: job.ReasonSlip}
	b.refused(ninna, again, job.CodeReason, "called real", "new attempt")
	again.Second = &tavo
	b.refused(ninna, again, job.CodeReason)
	again.Reason, again.Second = "the wrench stood on another scale", nil
	b.must(ninna, again)
	if !slices.ContainsFunc(b.card.Exceptions(), func(x job.Exception) bool {
		return x.Kind == job.ExOutsideInside && x.Strong && strings.Contains(x.Text, "had called it real")
	}) {
		t.Errorf("exceptions: %+v", b.card.Exceptions())
	}
	// The event reads back as written, and a fold of the whole says the same.
	for _, e := range b.card.Events {
		if _, ok := e.Body.(job.CalledReal); !ok {
			continue
		}
		data, err := job.Encode(e)
		if err != nil {
			t.Fatal(err)
		}
		back, err := job.Decode(data)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(e, back, sameTime); diff != "" {
			t.Errorf("-written +read:\n%s", diff)
		}
	}
	whole, err := job.Fold(b.plan, b.card.Events)
	if err != nil || whole.Head != b.card.Head {
		t.Errorf("folded anew: %v", err)
	}
	// A new attempt starts clean.
	b.must(ninna, job.Again{Stage: at, Reason: "new bolts"})
	b.enter(ninna, "bolts/left", "torque", procedures.ItemNew, "2", "")
	b.enter(ninna, "bolts/left", "torque", "upper", "40", "W3")
	b.must(ninna, job.Enter{Stage: at, Check: "torque", Item: "upper", Value: "33", With: "W3", Reason: job.ReasonSlip})
}
