package bay

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// hand types a whole job at the screen: the walker says what a careful crew does next, and the hand
// finds the keys for it.
type hand struct {
	*run
	walker walk.Walker
	job    uint64
}

// bench is every instrument the shipped procedures ask for (invented).
func bench() []register.Instrument {
	tool := func(id, kind, low, high, step, limit string) register.Instrument {
		q := quantity.MustParse
		return register.Instrument{ID: id, Kind: kind, Serial: "S-" + id, Scales: []quantity.Unit{q(low).Unit}, Low: q(low), High: q(high),
			Resolution: q(step), Error: q(limit), Certificate: "C-" + id, Calibrated: "2025-10-01", Due: "2026-10-01", Status: register.InUse}
	}
	return []register.Instrument{
		tool("W5", register.SettingWrench, "2 N·m", "20 N·m", "0.1 N·m", "4 %"), tool("W3", register.SettingWrench, "10 N·m", "60 N·m", "0.5 N·m", "4 %"),
		tool("W8", register.SettingWrench, "40 N·m", "200 N·m", "1 N·m", "4 %"), tool("AG1", register.AngleGauge, "0 °", "360 °", "1 °", "1 °"),
		tool("MIC1", register.Micrometer, "0 mm", "300 mm", "0.001 mm", "0.002 mm"), tool("CAL1", register.SlidingCaliper, "0 mm", "300 mm", "0.05 mm", "0.05 mm"),
		tool("DEP1", register.DepthGauge, "0 mm", "100 mm", "0.05 mm", "0.05 mm"), tool("DG1", register.DialGauge, "0 mm", "10 mm", "0.01 mm", "0.004 mm"),
		tool("PG1", register.PadGauge, "0 mm", "25 mm", "0.1 mm", "0.1 mm"), tool("FT1", register.FluidTester, "60 °C", "320 °C", "1 °C", "1 °C"),
		tool("RT1", register.RollerTester, "0 kN", "20 kN", "0.01 kN", "0.02 kN"), tool("RT2", register.RollerTester, "0 %", "100 %", "0.1 %", "1 %"),
		tool("TH1", register.Thermometer, "0 °C", "600 °C", "1 °C", "2 °C"), tool("TAPE", register.Tape, "0 mm", "3000 mm", "1 mm", "1 mm"),
	}
}

// quick is a folder in memory where there is such a place: a typed job is hundreds of writes.
func quick(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("/dev/shm", "pawl-test-")
	if err != nil {
		return t.TempDir()
	}
	t.Cleanup(func() { must(t, os.RemoveAll(dir)) })
	return dir
}

// handOn is handAt with a shipped procedure and the first sheet that serves it.
func handOn(t *testing.T, id string) (*hand, *procedures.Procedure) {
	t.Helper()
	ps, err := procedures.Library()
	must(t, err)
	ss, err := procedures.Sheets()
	must(t, err)
	p := ps[slices.IndexFunc(ps, func(p *procedures.Procedure) bool { return p.ID == id })]
	return handAt(t, p, ss[slices.IndexFunc(ss, func(s *procedures.Sheet) bool { return s.ServesProcedure(id) })], tarik), p
}

// handAt is a file with one procedure and sheet in use and job 1 open on them, and the doer signed in.
func handAt(t *testing.T, p *procedures.Procedure, sheet *procedures.Sheet, doer register.Person) *hand {
	t.Helper()
	now := time.Date(2026, 3, 2, 8, 15, 0, 0, time.UTC)
	f := open(t, filepath.Join(quick(t), "workshop.pawl"), &now)
	t.Cleanup(func() { must(t, f.Close()) })
	drives := []register.Qualification{{ID: "driving licence", Until: "2030-12-31"}}
	crew := []register.Person{frida, tarik, ylva, nils}
	for i := range crew[:3] {
		crew[i].Qualifications = drives
	}
	must(t, f.SetUp(store.Workshop{Name: "Test workshop", Demo: true, Palette: "mono"}, crew[0], codes["fh"]))
	for _, one := range crew[1:] {
		must(t, f.AddPerson(frida, one, codes[one.ID]))
	}
	for _, in := range bench() {
		must(t, f.PutInstrument(frida, in))
	}
	must(t, f.Install(frida, p))
	must(t, f.InstallSheet(frida, sheet))
	must(t, f.PutVehicle(frida, register.Vehicle{ID: "V-9", Name: "Invented vehicle", Sheet: sheet.ID, Demo: true}))
	_, err := f.OpenJob(store.Actor{Person: crew[1]}, store.NewJob{Vehicle: "V-9", Complaint: "noise", Odometer: "61430", Procedure: p.ID})
	must(t, err)
	at := slices.IndexFunc(crew, func(x register.Person) bool { return x.ID == doer.ID })
	h := &hand{run: start(t, f, &now), job: 1,
		walker: walk.Walker{Register: f.Register(), Choose: walk.Most, Crew: walk.Crew{Doer: crew[at], Second: crew[2], Foreman: crew[0]}}}
	h.signIn(crew[at])
	h.keys("Enter")
	return h
}

func (h *hand) screen() *jobScreen {
	h.t.Helper()
	s, ok := h.m.top().(*jobScreen)
	if !ok {
		h.t.Fatalf("the job is not on the screen:\n%s", h.frame())
	}
	return s
}

func (h *hand) card() *job.Card {
	h.t.Helper()
	c, err := h.f.Load(h.job)
	must(h.t, err)
	return c
}

// play types the job to its end.
func (h *hand) play() {
	h.t.Helper()
	for range 3000 {
		c := h.card()
		move, more, err := h.walker.Next(c, h.f.Context(store.Actor{Person: h.walker.Crew.Doer}))
		if err != nil {
			h.t.Fatalf("the crew is stuck: %v\n%s", err, h.frame())
		}
		if !more {
			return
		}
		h.move(move)
		if after := h.card(); after.Seq() == c.Seq() {
			h.t.Fatalf("%s: %+v was not recorded:\n%s", move.By.Name, move.Want, h.frame())
		}
	}
	h.t.Fatal("the job has no end")
}

// move types one move.
func (h *hand) move(m walk.Move) {
	h.t.Helper()
	switch want := m.Want.(type) {
	case job.Enter:
		h.by(m.By)
		h.stage(want.Stage)
		h.enter(want)
	case job.Sign:
		h.by(m.By)
		h.stage(want.Stage)
		h.out()
		h.keys("S")
		if h.m.dialog != nil && h.m.dialog.name == "exceptions" {
			h.keys("Esc S")
		}
		h.code(m.By)
	case job.Countersign:
		h.wait(2 * time.Minute) // looking takes its time
		h.stage(want.Stage)
		h.keys("C")
		h.type_(m.By.ID)
		h.keys("Enter")
		h.code(m.By)
	case job.Recheck:
		h.wait(2 * time.Minute)
		h.stage(want.Stage)
		h.recheck(m.By, want)
	case job.AnswerQuestion:
		h.by(m.By)
		h.out()
		h.keys("R 1")
		h.type_(want.Answer)
		h.keys("Enter")
	default:
		h.t.Fatalf("no keys are known for %T", want)
	}
}

// recheck has the second person put the own wrench on, and countersign.
func (h *hand) recheck(by register.Person, want job.Recheck) {
	h.t.Helper()
	h.keys("C")
	i := slices.IndexFunc(h.screen().checkers, func(p register.Person) bool { return p.ID == by.ID })
	if i < 0 {
		h.t.Fatalf("%s is not offered:\n%s", by.Name, h.frame())
	}
	h.keys(string(rune('1' + i)))
	for i := 0; h.m.dialog != nil && h.m.dialog.name == checkName; i++ {
		if i == 6 {
			h.t.Fatalf("the checks have no end:\n%s", h.frame())
		}
		h.type_(want.With)
		h.keys("Enter")
		h.type_(strings.Fields(want.Value)[0])
		h.keys("Enter Enter")
	}
	h.code(by)
}

// out steps out of a text field, so that letters are commands.
func (h *hand) out() {
	if h.screen().Focus() == FocusText {
		h.keys("Esc")
	}
}

func (h *hand) code(p register.Person) {
	h.t.Helper()
	h.type_(codes[p.ID])
	h.keys("Enter")
	if h.m.dialog != nil {
		h.t.Fatalf("the code of %s was not taken:\n%s", p.Name, h.frame())
	}
}

// by hands over to the person who does the next thing.
func (h *hand) by(p register.Person) {
	h.t.Helper()
	if h.m.env.Person.ID == p.ID {
		return
	}
	h.out()
	h.keys("H")
	h.type_(p.ID)
	h.keys("Enter")
	h.code(p)
	if h.m.env.Person.ID != p.ID {
		h.t.Fatalf("%s did not take over:\n%s", p.Name, h.frame())
	}
	if h.screen().broken() != nil {
		h.t.Fatalf("the hand-over broke a pass off:\n%s", h.frame())
	}
}

// stage goes to a stage with the arrows.
func (h *hand) stage(r procedures.Ref) {
	h.t.Helper()
	for s := h.screen(); s.at != r; {
		key := "Right"
		if s.card.Plan.Index(r) < s.card.Plan.Index(s.at) {
			key = "Left"
		}
		was := s.at
		h.keys(key)
		if s.at == was {
			h.t.Fatalf("%s is not reached from %s:\n%s", r, was, h.frame())
		}
	}
}

// enter types one value into its item.
func (h *hand) enter(want job.Enter) {
	h.t.Helper()
	s := h.screen()
	to := slices.IndexFunc(s.items(), func(it item) bool { return it.check.ID == want.Check && it.name == want.Item })
	if to < 0 {
		h.t.Fatalf("%s %q is no item of %s:\n%s", want.Check, want.Item, want.Stage, h.frame())
	}
	for s.item != to {
		key := "Down"
		if to < s.item {
			key = "Up"
		}
		was := s.item
		h.keys(key)
		if s.item == was {
			h.t.Fatalf("item %s %q is not reached:\n%s", want.Check, want.Item, h.frame())
		}
	}
	it, _ := s.current()
	if want.With != "" {
		h.tool(it, want)
	}
	switch it.check.Kind {
	case procedures.Confirm:
		h.keys(map[string]string{job.Yes: "1", job.No: "2"}[want.Value])
	case procedures.Choice:
		h.keys(string(rune('1' + slices.Index(it.check.Options, want.Value))))
	case procedures.Text, procedures.Part:
		if s.out {
			h.keys("Enter")
		}
		h.type_(want.Value)
		h.keys("Enter")
	default:
		number, unit, _ := strings.Cut(want.Value, " ")
		if u := s.unitOf(&h.m.env, it); unit != "" && string(u) != unit {
			h.t.Fatalf("%s is asked in %q, the value is %s:\n%s", want.Check, u, want.Value, h.frame())
		}
		h.type_(number)
		h.keys("Enter")
	}
	if h.m.dialog != nil && h.m.dialog.name == "exceptions" { // read before anything at the release
		h.keys("Esc")
		h.enter(want)
		return
	}
	if h.m.dialog != nil {
		h.t.Fatalf("%+v raised a question:\n%s", want, h.frame())
	}
	e := h.card().Stage(want.Stage).Current().Entry(want.Check, want.Item)
	if e == nil || (e.Verdict != quantity.Inside && it.check.Window != nil && it.check.Kind != procedures.RunOut) {
		h.t.Fatalf("%+v came to %+v:\n%s", want, e, h.frame())
	}
}

// tool takes the instrument up, and the adapter where only one reaches.
func (h *hand) tool(it item, want job.Enter) {
	h.t.Helper()
	s := h.screen()
	if s.tool(&h.m.env, it.check) == want.With && (want.Adapter == nil || s.adapter(it) != nil) {
		return
	}
	h.out()
	h.keys("T")
	pick, ok := h.m.dialog.Dialog.(*toolPick)
	if !ok {
		h.t.Fatalf("T lists no tools for %s:\n%s", want.Check, h.frame())
	}
	for i := slices.Index(pick.ids, want.With); pick.at != i; {
		key := "Down"
		if i < pick.at {
			key = "Up"
		}
		was := pick.at
		h.keys(key)
		if pick.at == was {
			h.t.Fatalf("%s is not on the list:\n%s", want.With, h.frame())
		}
	}
	h.keys("Enter")
	if want.Adapter == nil {
		return
	}
	if h.m.dialog == nil || h.m.dialog.name != adapterName {
		h.t.Fatalf("the adapter is not asked for:\n%s", h.frame())
	}
	f := h.m.dialog.Dialog.(*form)
	for i, q := range []quantity.Quantity{want.Adapter.Length, want.Adapter.Offset, want.Adapter.Angle} {
		for range f.typed[i].text {
			h.keys("Backspace")
		}
		h.type_(q.Number)
		h.keys("Enter")
	}
}

// TestEveryProcedureByHand types every shipped procedure with the first sheet that serves it, from
// reception to the end, and two of them once more by an apprentice, whose work is checked with the
// own wrench of a second person. Of every decision and finding the answer is taken that asks for most.
func TestEveryProcedureByHand(t *testing.T) {
	ps, err := procedures.Library()
	must(t, err)
	ss, err := procedures.Sheets()
	must(t, err)
	for _, p := range ps {
		for _, doer := range []register.Person{tarik, nils} {
			i := slices.IndexFunc(ss, func(s *procedures.Sheet) bool { return s.ServesProcedure(p.ID) })
			if i < 0 {
				t.Errorf("%s is served by no sheet", p.ID)
				continue
			}
			if doer.ID == nils.ID && p.ID != "hub-bearing" && p.ID != "wheel-refit" {
				continue
			}
			t.Run(p.ID+" by "+string(doer.Role), func(t *testing.T) {
				t.Parallel()
				h := handAt(t, p, ss[i], doer)
				h.play()
				c := h.card()
				if !c.Finished() || c.Released == nil || len(c.Open) != 0 {
					t.Errorf("the job ended %q with %d states open:\n%s", c.Outcome(), len(c.Open), h.frame())
				}
			})
		}
	}
}
