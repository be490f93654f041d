package procedures

import (
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"bay.example/pawl/job/quantity"
)

// shippedPair is the procedure for rear discs and pads with one of its sheets.
func shippedPair(t testing.TB, sheet string) (*Procedure, *Sheet) {
	t.Helper()
	p, err := LoadProcedure("rear-discs-pads.toml", readFile(t, "library", "rear-discs-pads.toml"))
	if err == nil {
		_, err = p.Check()
	}
	if err != nil {
		t.Fatal(err)
	}
	s, err := LoadSheet(sheet+".toml", readFile(t, "sheets", sheet+".toml"))
	if err == nil {
		err = s.Check()
	}
	if err != nil {
		t.Fatal(err)
	}
	return p, s
}

func TestEveryShippedFileIsSound(t *testing.T) {
	ps, err := Library()
	if err != nil || len(ps) == 0 {
		t.Fatalf("%d procedures: %v", len(ps), err)
	}
	ss, err := Sheets()
	if err != nil || len(ss) == 0 {
		t.Fatalf("%d sheets: %v", len(ss), err)
	}
	for _, s := range ss {
		if !s.Demo || !strings.Contains(strings.ToLower(s.Title), "invented") {
			t.Errorf("sheet %s does not say that it is invented", s.ID)
		}
	}
	for _, p := range ps {
		if p.Notice == "" {
			t.Errorf("%s has no notice of its limits", p.ID)
		}
		for _, st := range p.Stages {
			// A hold is a moment to ask; an apprentice learns from the usual slip.
			if st.Hold && st.Question == "" {
				t.Errorf("%s: hold point %s has no question", p.ID, st.ID)
			}
			if st.Mistake == "" || st.WayOut == "" || st.Task == "" || len(st.Steps) == 0 && st.Act == NoAct {
				t.Errorf("%s: stage %s lacks a mistake, a way out, a task or steps", p.ID, st.ID)
			}
			if n := strings.Count(st.Why, ". ") + strings.Count(st.Why, "? "); n > 2 {
				t.Errorf("%s: stage %s: why runs to %d sentences", p.ID, st.ID, n+1)
			}
			for _, ck := range st.Checks {
				if n := utf8.RuneCountInString(ck.Title); n > 74 {
					t.Errorf("%s: %s.%s: the title has %d characters", p.ID, st.ID, ck.ID, n)
				}
				if st.Early && ck.Kind != Thickness && ck.Kind != RunOut && ck.Kind != Reading && ck.Kind != Choice {
					t.Errorf("%s: %s may be entered early, but %s is no measurement", p.ID, st.ID, ck.ID)
				}
				if ck.Kind == Torque && ck.Optional {
					t.Errorf("%s: torque %s.%s is optional", p.ID, st.ID, ck.ID)
				}
			}
		}
	}
}

// The order of work people get wrong, from the list of traps in the trade notes: common practice,
// no source.
func TestOrderTrapsAreHeld(t *testing.T) {
	p, s := shippedPair(t, "demo-minibus")
	plan, err := Resolve(p, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, pair := range [][2]string{
		{"pedal-pumped", "parking-motor-restored"},
		{"height-lifting", "raise-and-support"},
		{"lowered", "height-driving"},
		{"discs-checked/left", "parking-motor-opened"},
		{"tools-ready", "parking-motor-opened"},
		{"carrier-bolts/right", "caliper-on/right"},
		{"pedal-check", "road-test"},
		{"road-test", "roller-test"},
		{"hub-runout/left", "disc-on/left"},
		{"wheel-first-pass/left", "wheel-final-pass/left"},
		{"lowered", "wheel-final-pass/right"},
		{"caliper-on/left", "second-look"},
		{"caliper-on/right", "second-look"},
		{"released", "handed-over"},
		{"handed-over", "re-torque/left"},
	} {
		if a, b := ParseRef(pair[0]), ParseRef(pair[1]); !plan.Before(a, b) || plan.Before(b, a) {
			t.Errorf("%s does not come before %s", a, b)
		}
	}
	for _, pair := range [][2]string{{"caliper-off/left", "caliper-off/right"}, {"disc-on/right", "pads-in/left"}} {
		a, b := ParseRef(pair[0]), ParseRef(pair[1])
		if plan.Before(b, a) {
			t.Errorf("%s waits for %s; the sides are independent", a, b)
		}
	}
}

// Torque actions of the whole job on both sides without rework: 48, counted in the demo data set
// (4 disc screws, 12 clamping, 4 carrier, 4 guide, 12 first pass, 12 final pass).
func TestFastenerActions(t *testing.T) {
	p, s := shippedPair(t, "demo-minibus")
	plan, err := Resolve(p, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	got := 0
	for _, id := range []string{"disc-on", "installed-runout", "carrier-bolts", "caliper-on", "wheel-first-pass", "wheel-final-pass"} {
		for _, side := range []Side{Left, Right} {
			for _, ck := range plan.Node(Ref{id, side}).Checks {
				if ck.Kind == Torque {
					got += len(ck.Group.Names)
				}
			}
		}
	}
	if got != 48 {
		t.Errorf("%d fastener actions, want 48", got)
	}
}

// A taken-off disc undoes what rests on it on that side and the looks and tests of the vehicle,
// and no measurement of the other side.
func TestDiscOffAgainDisturbs(t *testing.T) {
	p, s := shippedPair(t, "demo-minibus")
	plan, err := Resolve(p, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]bool{}
	for _, r := range plan.Node(Ref{"disc-off", Left}).Disturbs {
		got[r.String()] = true
		if r.Side == Right {
			t.Errorf("disc off on the left undoes %s", r)
		}
	}
	for _, want := range []string{"disc-on/left", "installed-runout/left", "carrier-bolts/left", "pads-in/left", "caliper-on/left",
		"wheel-first-pass/left", "wheel-final-pass/left", "second-look", "pedal-pumped", "pedal-check", "road-test", "roller-test", "look-over/left", "released"} {
		if !got[want] {
			t.Errorf("disc off on the left does not undo %s", want)
		}
	}
	if got["pads-measured/left"] || got["wheel-off/left"] {
		t.Error("disc off undoes what was done before it")
	}
	raise := plan.Node(Ref{Stage: "raise-and-support"})
	if len(raise.Disturbs) == 0 || raise.Disturbs[0] != (Ref{Stage: "lowered"}) {
		t.Errorf("raising again undoes %v, want the lowering first", raise.Disturbs)
	}
	secured := plan.Node(Ref{Stage: "secured"})
	for _, want := range []string{"faults-and-lamps", "tools-counted", "parking-brake-check"} {
		found := false
		for _, r := range secured.Disturbs {
			found = found || r.Stage == want
		}
		if !found {
			t.Errorf("securing again leaves %s signed, which put its state back", want)
		}
	}
}

// Tightening torque at 90 % of yield by VDI 2230, from preload_torque_fine_thread.csv: no window of
// the demo sheet reaches past what its thread and class bear.
func TestDemoTorquesBelowYield(t *testing.T) {
	r := csv.NewReader(strings.NewReader(string(readFile(t, "..", "testdata", "reference", "preload_torque_fine_thread.csv"))))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	_, s := shippedPair(t, "demo-minibus")
	tried := 0
	for group, window := range map[string]string{"carrier-bolts": "carrier-bolt-torque", "guide-bolts": "guide-bolt-torque", "wheel-nuts": "wheel-nut-final"} {
		g, _ := s.Group(group)
		w, err := s.planWindow(window)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows[1:] {
			if row[column["thread"]] != g.Thread || row[column["mu"]] != g.Friction {
				continue
			}
			tried++
			limit := quantity.MustParse(row[column["T_"+g.Class]] + " N·m")
			if c, err := w.Window.High.Cmp(limit); err != nil || c > 0 {
				t.Errorf("%s: %s is more than %s of %s %s (%v)", window, w.Window.High, limit, g.Thread, g.Class, err)
			}
		}
	}
	if tried != 3 {
		t.Errorf("%d of 3 threads found in the table", tried)
	}
}

// The orders of tightening_order.csv hold for the demo wheel.
func TestWheelOrder(t *testing.T) {
	r := csv.NewReader(strings.NewReader(string(readFile(t, "..", "testdata", "reference", "tightening_order.csv"))))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	_, s := shippedPair(t, "demo-minibus")
	for _, id := range []string{"wheel-nuts", "clamp-nuts"} {
		g, _ := s.Group(id)
		var got []string
		for _, name := range g.Ordered() {
			got = append(got, strings.TrimPrefix(name, "nut "))
		}
		want := ""
		for _, row := range rows[1:] {
			if row[0] == strconv.Itoa(len(g.Names)) {
				want = row[1]
				break
			}
		}
		if strings.Join(got, "-") != want || want == "" {
			t.Errorf("%s is tightened %v, want %s", id, got, want)
		}
	}
}

// Each sheet serves every procedure it lists, and each procedure is served by a sheet.
func TestSheetsServeWhatTheyList(t *testing.T) {
	ps, err := Library()
	if err != nil {
		t.Fatal(err)
	}
	ss, err := Sheets()
	if err != nil {
		t.Fatal(err)
	}
	served := map[string]int{}
	for _, s := range ss {
		if len(s.Serves) == 0 {
			t.Errorf("sheet %s lists no procedures", s.ID)
		}
		for _, p := range ps {
			if !s.ServesProcedure(p.ID) {
				continue
			}
			served[p.ID]++
			if err := CheckPair(p, s); err != nil {
				t.Errorf("%s does not serve %s:\n%v", s.ID, p.ID, err)
			}
		}
		for _, id := range s.Serves {
			if served[id] == 0 {
				t.Errorf("sheet %s lists %q, which is not shipped", s.ID, id)
			}
		}
	}
	for _, p := range ps {
		if served[p.ID] == 0 {
			t.Errorf("no sheet serves %s", p.ID)
		}
	}
}

// Where the parking brake is released the chocks alone hold the vehicle: they go only after it has
// shown on the ground that it holds and lets go. Common practice, no source.
func TestReleasedParkingBrakeIsProved(t *testing.T) {
	ps, err := Library()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ps {
		released := 0
		for _, s := range p.Stages {
			said := strings.ToLower(strings.Join(s.Steps, " "))
			for _, ck := range s.Checks {
				said += " " + strings.ToLower(ck.Title)
			}
			sets := slices.Contains(s.Sets, "chocks-only")
			if sets {
				released++
			}
			if strings.Contains(said, "parking brake released") && !sets {
				t.Errorf("%s: %s releases the parking brake and no state says so", p.ID, s.ID)
			}
			if s.ID == "secured" && !sets && !strings.Contains(said, "parking brake applied") {
				t.Errorf("%s: %s neither releases the parking brake nor applies it", p.ID, s.ID)
			}
		}
		if released == 0 {
			continue
		}
		proofs := 0
		for _, s := range p.Stages {
			for _, cl := range s.Clears {
				if cl.State == "chocks-only" && slices.Contains(cl.Proof, "holds") && slices.Contains(cl.Proof, "releases") && slices.Contains(s.NeedsShut, "raised") {
					proofs++
				}
			}
		}
		if counted := p.Stage("tools-counted"); proofs != 1 || counted == nil || !slices.Contains(counted.NeedsShut, "chocks-only") {
			t.Errorf("%s: the chocks go without a proof of the parking brake", p.ID)
		}
	}
}

// Whoever opens a line owes the torque of its joints, also when the work ends for good before they
// are tight: the stage with the torque puts the circuit back or is owed from the opening on.
func TestOpenedLinesOweTheirTorque(t *testing.T) {
	joints := []string{"union-nut-torque", "hose-bolt-torque", "pipe-nut-torque", "bleed-screw-torque"}
	ps, err := Library()
	if err != nil {
		t.Fatal(err)
	}
	ss, err := Sheets()
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, p := range ps {
		for _, s := range ss {
			if !s.ServesProcedure(p.ID) {
				continue
			}
			plan, err := Resolve(p, s, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, opens := range plan.Nodes {
				if !slices.Contains(opens.Stage.Sets, "circuit-open") {
					continue
				}
				for _, n := range plan.Nodes {
					torque := slices.ContainsFunc(n.Checks, func(k PlanCheck) bool { return k.Kind == Torque && slices.Contains(joints, k.Check.Window) })
					if !torque || !plan.Before(opens.Ref, n.Ref) || slices.Contains(n.Stage.Sets, "circuit-open") { // the last opens a joint of its own
						continue
					}
					tried++
					if len(n.Clears) == 0 && !slices.Contains(n.Stage.MakeSafeAfter, opens.Ref.Stage) {
						t.Errorf("%s on %s: with the circuit opened at %s nobody owes the torque of %s", p.ID, s.ID, opens.Ref, n.Ref)
					}
				}
			}
		}
	}
	if tried == 0 {
		t.Error("no procedure opens a line and tightens it again")
	}
}

// A stage that opens something and tightens it itself is owed once it was begun, however the job ends:
// half of it done leaves a joint that nobody would tighten. Common practice, no source.
func TestBegunTighteningIsOwed(t *testing.T) {
	ps, err := Library()
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, p := range ps {
		for _, s := range p.Stages {
			torque := slices.ContainsFunc(s.Checks, func(k Check) bool { return k.Kind == Torque })
			opens := slices.Contains(s.Sets, "circuit-open") || s.ID == "actuator-replaced"
			if !torque || !opens || len(s.Clears) > 0 {
				continue
			}
			tried++
			if !slices.Contains(s.MakeSafeAfter, s.ID) {
				t.Errorf("%s: %s was begun, the job ends, and nobody owes its torque", p.ID, s.ID)
			}
		}
	}
	if tried < 6 {
		t.Errorf("%d such stages were found", tried)
	}
}

// What can only be done raised is not done again from the ground without raising it: a way out of a
// stage behind the lowering that asks for such work, or undoes it, raises the vehicle first. Common
// practice, no source.
func TestWaysOutRaiseWhatIsWorkedOnRaised(t *testing.T) {
	ps, err := Library()
	if err != nil {
		t.Fatal(err)
	}
	ss, err := Sheets()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ps {
		for _, s := range ss {
			if !s.ServesProcedure(p.ID) || p.State("raised") == nil {
				continue
			}
			plan, err := Resolve(p, s, nil)
			if err != nil {
				t.Fatal(err)
			}
			lowered := plan.closer("raised")
			for _, n := range plan.Nodes {
				for _, w := range n.Stage.Reworks {
					if !plan.Before(lowered, n.Ref) || slices.ContainsFunc(w.Again, func(id string) bool { return slices.Contains(p.Stage(id).Sets, "raised") }) {
						continue
					}
					for _, id := range w.Again {
						for _, side := range []Side{NoSide, Left, Right} {
							if m := plan.Node(Ref{id, side}); m != nil {
								for _, r := range append([]Ref{m.Ref}, m.Disturbs...) {
									if slices.Contains(plan.Node(r).Stage.NeedsOpen, "raised") && !plan.Before(n.Ref, r) {
										t.Errorf("%s: %s, way out %s: %s is done again on the ground", p.ID, n.Ref, w.ID, r)
									}
								}
							}
						}
					}
				}
			}
		}
	}
}

// closer is the last stage that puts a state back.
func (p *Plan) closer(state string) Ref {
	var out Ref
	for _, n := range p.Nodes {
		if slices.ContainsFunc(n.Clears, func(c PlanClear) bool { return c.State.State == state }) {
			out = n.Ref
		}
	}
	return out
}

// A sheet names as many screws as its trait counts, and the plain minibus is the other one without
// height control and with its sensor on the other side.
func TestDemoSheetsAgreeWithThemselves(t *testing.T) {
	ss, err := Sheets()
	if err != nil {
		t.Fatal(err)
	}
	traits := map[string]map[string]string{}
	for _, s := range ss {
		traits[s.ID] = s.Traits
		for _, id := range []string{"disc-screws", "front-disc-screws", "drum-screws"} {
			if n := s.Traits[id]; n != "" && n != "0" {
				if g, _ := s.Group(id); strconv.Itoa(len(g.Names)) != n {
					t.Errorf("%s: trait %s is %s, the group names %q", s.ID, id, n, g.Names)
				}
			}
		}
	}
	for id, v := range traits["demo-minibus"] {
		if w := traits["demo-minibus-plain"][id]; (v != w) != (id == "height-control" || id == "wear-sensor") {
			t.Errorf("trait %s is %q on the minibus and %q on the plain one", id, v, w)
		}
	}
}
