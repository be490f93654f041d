package bay

import (
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// TestDecisionShowsWhatWasMeasured: on the decision about shoes and drums the diameters stand there to
// be read, answers are not cut while there is room, and the signature repeats what is decided.
func TestDecisionShowsWhatWasMeasured(t *testing.T) {
	h, _ := handOn(t, "rear-drum-shoes")
	at := procedures.Ref{Stage: "scope-decided"}
	h.walker.Choose = func(_ *job.Card, _ procedures.Ref, pc *procedures.PlanCheck, _ string) string {
		if pc.ID == "cylinders" {
			return "wet, both are replaced"
		}
		return ""
	}
	for range 3000 {
		c := h.card()
		move, more, err := h.walker.Next(c, h.f.Context(store.Actor{Person: h.walker.Crew.Doer}))
		if err != nil || !more {
			t.Fatalf("the decision never came: %v", err)
		}
		if c.Stage(at).Current() != nil && len(c.Stage(at).Current().Entries) == 5 {
			break
		}
		_, _, err = h.f.Do(h.job, store.Actor{Person: move.By, CodeGiven: true}, move.Want)
		must(t, err)
	}
	h.keys("Esc Enter")
	h.by(frida)
	h.stage(at)
	r := h.run
	r.sees("  wet, both are replaced")
	h.out()
	r.keys("R")
	r.sees("LEFT Inside diameter of the drum: ")
	r.sees("RIGHT Inside diameter of the drum: ")
	r.keys("Esc S")
	r.sees("Scope: ")
	r.sees("Wheel cylinders: wet, both are replaced")
}
