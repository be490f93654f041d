package procedures

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func resolved(t testing.TB, sheet string, traits map[string]string) *Plan {
	t.Helper()
	p, s := shippedPair(t, sheet)
	plan, err := Resolve(p, s, traits)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func TestResolveLeavesOutWhatTheVehicleHasNot(t *testing.T) {
	for _, c := range []struct {
		name        string
		traits      map[string]string
		gone, there []string
	}{
		{"as delivered", nil,
			[]string{"sensor-unplugged/left", "sensor-fitted/left", "parking-cable-slackened", "parking-cable-adjusted"},
			[]string{"height-lifting", "height-driving", "sensor-unplugged/right", "sensor-fitted/right", "parking-motor-opened", "carrier-bolts/left", "carrier-bolts/right"}},
		{"no height control", map[string]string{"height-control": "none"},
			[]string{"height-lifting", "height-driving"}, []string{"raise-and-support", "fluid-level"}},
		{"sensor left", map[string]string{"wear-sensor": "left"},
			[]string{"sensor-unplugged/right", "sensor-fitted/right"}, []string{"sensor-unplugged/left", "sensor-fitted/left"}},
		{"sensor both", map[string]string{"wear-sensor": "both"},
			nil, []string{"sensor-unplugged/left", "sensor-unplugged/right", "sensor-fitted/left", "sensor-fitted/right"}},
		{"no sensor", map[string]string{"wear-sensor": "none"},
			[]string{"sensor-unplugged/left", "sensor-unplugged/right", "sensor-fitted/left", "sensor-fitted/right"}, []string{"pads-in/left"}},
		{"carrier stays", map[string]string{"carrier-off": "no"},
			[]string{"carrier-removed/left", "carrier-bolts/left", "threads-made-good/right", "carrier-bolts/right"}, []string{"disc-off/left", "disc-on/right"}},
		{"cable and lever", map[string]string{"parking-brake": "cable and lever"},
			[]string{"parking-motor-opened", "parking-motor-restored", "actuator-replaced"}, []string{"parking-cable-slackened", "parking-cable-adjusted"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan := resolved(t, "demo-minibus", c.traits)
			for _, r := range c.gone {
				if plan.Index(ParseRef(r)) >= 0 {
					t.Errorf("%s exists", r)
				}
			}
			for _, r := range c.there {
				if plan.Node(ParseRef(r)) == nil {
					t.Errorf("%s is missing", r)
				}
			}
			for i, n := range plan.Nodes {
				for _, a := range n.After {
					if k := plan.Index(a); k < 0 || k >= i {
						t.Errorf("%s comes after %s, which is at %d of %d", n.Ref, a, k, i)
					}
				}
			}
		})
	}
}

func TestResolveHandsThrough(t *testing.T) {
	plan := resolved(t, "demo-minibus-plain", nil)
	if diff := cmp.Diff([]Ref{{Stage: "secured"}}, plan.Node(Ref{Stage: "raise-and-support"}).After); diff != "" {
		t.Errorf("raise and support after (-want +got):\n%s", diff)
	}
	plan = resolved(t, "demo-minibus", nil)
	if diff := cmp.Diff([]Ref{{Stage: "secured"}, {Stage: "height-lifting"}}, plan.Node(Ref{Stage: "raise-and-support"}).After); diff != "" {
		t.Errorf("raise and support after (-want +got):\n%s", diff)
	}
	// The carrier stays: pads wait for what the carrier bolts waited for.
	plan = resolved(t, "demo-minibus", map[string]string{"carrier-off": "no"})
	if after := plan.Node(Ref{"pads-in", Left}).After; !slices.Contains(after, Ref{"installed-runout", Left}) {
		t.Errorf("pads in come after %v", after)
	}
}

func TestResolveFillsInTheSheet(t *testing.T) {
	plan := resolved(t, "demo-minibus", nil)
	bolts := plan.Node(Ref{"carrier-bolts", Left}).Check("bolts")
	if diff := cmp.Diff([]string{ItemNew, "upper bolt", "lower bolt"}, bolts.Items); diff != "" {
		t.Errorf("items (-want +got):\n%s", diff)
	}
	if w := bolts.Window; w.Window.Text != "90..100 N·m" || !w.Guarded || w.Document == "" || w.Revision == "" {
		t.Errorf("window %+v", w)
	}
	wheel := plan.Node(Ref{"wheel-final-pass", Right}).Check("final")
	if diff := cmp.Diff([]string{"nut 1", "nut 4", "nut 2", "nut 5", "nut 3", "nut 6"}, wheel.Items); diff != "" {
		t.Errorf("items (-want +got):\n%s", diff)
	}
	runout := plan.Node(Ref{"installed-runout", Right}).Check("runout")
	if n := len(runout.Items); n != 13 || runout.Items[12] != ItemReturn || runout.Spread == nil {
		t.Errorf("run-out items %v", runout.Items)
	}
	if c := plan.Node(Ref{"wheel-off", Left}).Check("fasteners"); c.Expect == nil || *c.Expect != 6 {
		t.Errorf("fasteners taken off: %+v", c.Expect)
	}
	disc := plan.Node(Ref{"discs-checked", Left}).Check("disc")
	if disc.Part == nil || disc.Part.Number != "UD-DISC-R18" || !slices.Equal(disc.Items, []string{PartNumber, PartBatch, PartMark}) {
		t.Errorf("disc part %+v %v", disc.Part, disc.Items)
	}
}

func TestChecksFollowTraits(t *testing.T) {
	with := resolved(t, "demo-minibus", nil)
	without := resolved(t, "demo-minibus", map[string]string{"locking-fastener": "no", "disc-screws": "0", "auto-pressure": "no"})
	for _, c := range []struct {
		ref   Ref
		check string
	}{{Ref{Stage: "tools-counted"}, "locking-key"}, {Ref{"disc-on", Left}, "screws"}, {Ref{Stage: "secured"}, "at-rest"}} {
		if with.Node(c.ref).Check(c.check) == nil {
			t.Errorf("%s.%s is missing on a vehicle that has it", c.ref, c.check)
		}
		if without.Node(c.ref).Check(c.check) != nil {
			t.Errorf("%s.%s is asked on a vehicle that has not", c.ref, c.check)
		}
	}
}

func TestResolveRefusesUnknownTraits(t *testing.T) {
	p, s := small(t)
	if _, err := Resolve(p, s, map[string]string{"springs": "rubber"}); err == nil || !strings.Contains(err.Error(), `"steel", "air"`) {
		t.Errorf("a trait value nobody knows: %v", err)
	}
	delete(s.Traits, "springs")
	if _, err := Resolve(p, s, nil); err == nil || !strings.Contains(err.Error(), "has no value") {
		t.Errorf("a trait without value: %v", err)
	}
	if plan, err := Resolve(p, s, map[string]string{"springs": "air"}); err != nil || plan.Traits["springs"] != "air" {
		t.Errorf("a trait given by hand: %v", err)
	}
}

func TestPlanFindsStages(t *testing.T) {
	plan := resolved(t, "demo-minibus", nil)
	if r := plan.ReleaseRef(); r != (Ref{Stage: "released"}) {
		t.Errorf("released by %s", r)
	}
	if plan.Node(Ref{Stage: "no-such"}) != nil || plan.Before(Ref{Stage: "no-such"}, Ref{Stage: "released"}) {
		t.Error("an unknown stage was found")
	}
	for _, r := range []Ref{{Stage: "released"}, {"disc-on", Left}} {
		if got := ParseRef(r.String()); got != r {
			t.Errorf("%s reads back as %s", r, got)
		}
	}
	if Left.Other() != Right || Right.Other() != Left || NoSide.Other() != NoSide {
		t.Error("the sides do not swap")
	}
	if st := plan.Procedure.State("raised"); st == nil || st.Sided {
		t.Errorf("state raised is %+v", st)
	}
	if n := plan.Node(Ref{"caliper-on", Left}); n.Clears[0].State != (StateRef{"caliper-hung", Left}) {
		t.Errorf("caliper on clears %v", n.Clears)
	}
	if n := plan.Node(Ref{"pistons-set-back", Left}); n.Sets[0] != (StateRef{State: "pistons-back"}) {
		t.Errorf("pistons set back sets %v", n.Sets)
	}
}
