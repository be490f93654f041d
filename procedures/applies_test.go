package procedures

import (
	"testing"
)

// answers are given by "stage/side.check"; what is not there has not been answered.
func answers(m map[string]string) Answer {
	return func(r Ref, check string) (string, bool) {
		v, ok := m[r.String()+"."+check]
		return v, ok
	}
}

func TestApplicability(t *testing.T) {
	plan := resolved(t, "demo-minibus", nil)
	full := func(more map[string]string) map[string]string {
		m := map[string]string{"scope-decided.scope": "discs and pads", "first-look.pedal": "firm", "first-look.leaks": "none seen", "first-look.judder": "no", "first-look.fit": "yes", "first-look.tester": "usable"}
		for k, v := range more {
			m[k] = v
		}
		return m
	}
	for _, c := range []struct {
		name string
		say  map[string]string
		want map[string]Applies
	}{
		{"nothing known", nil, map[string]Applies{"job-opened": Applicable, "test-before": Undecided, "disc-off/left": Undecided, "old-disc-kept/left": Undecided, "wheel-first-pass/left": Applicable, "released": Applicable, "stud-replaced/left": Undecided}},
		{"discs and pads", full(nil), map[string]Applies{"disc-off/left": Applicable, "old-disc-kept/left": NotApplicable, "old-pads-kept/right": NotApplicable, "test-before": Applicable, "old-disc-runout/left": NotApplicable, "decelerometer-test": NotApplicable, "hub-runout/left": Undecided, "bled": Undecided}},
		{"pads only", full(map[string]string{"scope-decided.scope": "pads only"}), map[string]Applies{"disc-off/left": NotApplicable, "hub-runout/left": NotApplicable, "disc-on/right": NotApplicable, "carrier-bolts/left": NotApplicable, "discs-checked/left": NotApplicable, "pads-checked": Applicable, "second-look": Applicable, "pedal-pumped": Applicable, "old-disc-kept/left": Applicable, "old-pads-kept/left": NotApplicable, "road-test": Applicable}},
		{"measuring only", full(map[string]string{"scope-decided.scope": "measuring only"}), map[string]Applies{"pads-checked": NotApplicable, "parking-motor-opened": NotApplicable, "caliper-off/left": NotApplicable, "second-look": NotApplicable, "pedal-pumped": NotApplicable, "leak-and-drag/left": NotApplicable, "bled": NotApplicable, "wheel-first-pass/left": Applicable, "lowered": Applicable, "wheel-final-pass/right": Applicable, "height-driving": Applicable, "fluid-level": Applicable, "pedal-check": Applicable, "parking-brake-check": Applicable, "tools-counted": Applicable, "look-over/left": Applicable, "old-pads-kept/left": Applicable, "caliper-kept/right": Applicable, "worn-disc-kept/left": Applicable, "old-disc-kept/left": NotApplicable, "danger-cured": NotApplicable, "re-torque/left": Applicable}},
		{"withheld", full(map[string]string{"scope-decided.scope": "withhold"}), map[string]Applies{"caliper-off/left": NotApplicable, "old-pads-kept/left": NotApplicable, "wheel-final-pass/left": Applicable}},
		{"unfit", full(map[string]string{"first-look.fit": "no"}), map[string]Applies{"test-before": NotApplicable, "roller-test": Applicable}},
		{"pedal sinks", full(map[string]string{"first-look.pedal": "sinking"}), map[string]Applies{"test-before": NotApplicable, "roller-test": Applicable, "danger-cured": Applicable}},
		{"no tester", full(map[string]string{"first-look.tester": "out of order"}), map[string]Applies{"test-before": NotApplicable, "roller-test": NotApplicable, "decelerometer-test": Applicable}},
		{"left slide seized", full(map[string]string{"caliper-condition/left.slides": "seized", "caliper-condition/right.slides": "free"}), map[string]Applies{"slide-pins-renewed/left": Applicable, "slide-pins-renewed/right": NotApplicable}},
		{"left stud damaged", map[string]string{"wheel-off/left.stud": "damaged"}, map[string]Applies{"stud-replaced/left": Applicable, "stud-replaced/right": Undecided}},
		{"bleed screw opened on the left only", full(map[string]string{"pistons-set-back/left.bleeding": "needed", "pistons-set-back/right.bleeding": "not needed"}), map[string]Applies{"bled": Applicable}},
		{"nothing opened", full(map[string]string{"caliper-condition/left.caliper": "sound", "caliper-condition/right.caliper": "sound", "caliper-condition/left.hose": "sound", "caliper-condition/right.hose": "sound", "pistons-set-back/left.bleeding": "not needed", "pistons-set-back/right.bleeding": "not needed", "bleeding-decided.bleeding": "not needed"}), map[string]Applies{"bled": NotApplicable, "caliper-replaced/left": NotApplicable, "hose-replaced/right": NotApplicable}},
		{"hub covered", full(map[string]string{"disc-off/left.face": "covered", "disc-off/right.face": "in reach of a dial gauge"}), map[string]Applies{"hub-runout/left": NotApplicable, "hub-runout/right": Applicable}},
		{"old answer of a stage left out", full(map[string]string{"scope-decided.scope": "measuring only", "pistons-set-back/left.bleeding": "needed"}), map[string]Applies{"bled": NotApplicable}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := plan.Applicability(answers(c.say))
			for r, want := range c.want {
				i := plan.Index(ParseRef(r))
				if i < 0 {
					t.Fatalf("no stage %s", r)
				}
				if got[i] != want {
					t.Errorf("%s: %d, want %d (0 undecided, 1 applicable, 2 not)", r, got[i], want)
				}
			}
		})
	}
}
