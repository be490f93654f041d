package paper

import (
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
)

// bay plays a job on the shipped procedure with an invented crew.
type bay struct {
	t    testing.TB
	plan *procedures.Plan
	card *job.Card
	reg  register.Register
	now  time.Time
	w    *walk.Walker
}

func q(text string) quantity.Quantity { return quantity.MustParse(text) }

func tool(id, kind, low, high, res, limit string) register.Instrument {
	return register.Instrument{ID: id, Kind: kind, Serial: "S-" + id, Scales: []quantity.Unit{q(low).Unit}, Low: q(low), High: q(high),
		Resolution: q(res), Error: q(limit), Certificate: "C-" + id, Calibrated: "2026-01-10", Due: "2027-01-09", Status: register.InUse}
}

// demoPlan is the shipped procedure resolved for the invented minibus.
func demoPlan(t testing.TB) *procedures.Plan {
	t.Helper()
	ps, err := procedures.Library()
	if err != nil {
		t.Fatal(err)
	}
	ss, err := procedures.Sheets()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ps {
		for _, s := range ss {
			if p.ID == "rear-discs-pads" && s.ID == "demo-minibus" {
				plan, err := procedures.Resolve(p, s, nil)
				if err != nil {
					t.Fatal(err)
				}
				return plan
			}
		}
	}
	t.Fatal("the shipped procedure or sheet is gone")
	return nil
}

func openBay(t testing.TB, practice bool) *bay {
	t.Helper()
	drive := []register.Qualification{{ID: "driving licence", Until: "2030-12-31"}}
	b := &bay{t: t, plan: demoPlan(t), now: time.Date(2026, 3, 3, 8, 0, 0, 0, time.FixedZone("", 3600)), reg: register.Register{
		People: []register.Person{
			{ID: "M04", Name: "Ninna", Role: procedures.Mechanic, Qualifications: drive},
			{ID: "M07", Name: "Tavo", Role: procedures.Mechanic, Qualifications: drive},
			{ID: "A11", Name: "Jory", Role: procedures.Apprentice, Levels: map[string]register.Level{"wheels": register.LevelAtHolds}},
			{ID: "F02", Name: "Quill", Role: procedures.Foreman, Qualifications: drive},
		},
		Instruments: []register.Instrument{
			tool("W3", register.SettingWrench, "10 N·m", "50 N·m", "0.5 N·m", "4 %"),
			tool("W5", register.DialWrench, "2 N·m", "20 N·m", "0.1 N·m", "3 %"),
			tool("W8", register.SettingWrench, "40 N·m", "200 N·m", "1 N·m", "3 %"),
			tool("MIC1", register.Micrometer, "0 mm", "25 mm", "0.001 mm", "0.004 mm"),
			tool("DG1", register.DialGauge, "0 mm", "10 mm", "0.01 mm", "0.002 mm"),
			tool("PG1", register.PadGauge, "0 mm", "20 mm", "0.1 mm", "0.2 mm"),
			tool("CAL1", register.SlidingCaliper, "0 mm", "300 mm", "0.05 mm", "0.05 mm"),
			tool("ROLL", register.RollerTester, "0 kN", "10 kN", "0.01 kN", "0.02 kN"),
			tool("ROLLP", register.RollerTester, "0 %", "100 %", "1 %", "1 %"),
			tool("TEMP", register.Thermometer, "0 °C", "400 °C", "1 °C", "2 °C"),
			tool("TAPE", register.Tape, "0 mm", "2000 mm", "1 mm", "1 mm"),
			tool("BOIL", register.FluidTester, "60 °C", "320 °C", "1 °C", "3 °C"),
		}}}
	b.w = &walk.Walker{Crew: walk.Crew{Doer: b.person("M04"), Second: b.person("M07"), Foreman: b.person("F02")}, Register: b.reg, Choose: choices}
	b.must("F02", job.Open{Number: 214, Vehicle: register.Vehicle{ID: "9", Name: "Tarnholt 9 (invented)", VIN: "DEMXUD00000000009", Demo: true},
		Complaint: "Squeals at the back and pulls to the left when braking downhill", Customer: "Ullisgarth Dale Community Transport (invented), Brake desk",
		Odometer: "61430", Plan: b.plan, Practice: practice, History: []job.PastValue{
			{Figure: "pads/left", Job: 120, Date: "2025-05-02", Odometer: q("32550 km"), Value: q("11.5 mm"), New: true, Within: q("0.2 mm")},
			{Figure: "pads/right", Job: 120, Date: "2025-05-02", Odometer: q("32550 km"), Value: q("11.5 mm"), New: true, Within: q("0.2 mm")},
			{Figure: "disc/left", Job: 31, Date: "2023-02-11", Odometer: q("4900 km"), Value: q("18.00 mm"), New: true, Within: q("0.004 mm")},
			{Figure: "disc/right", Job: 31, Date: "2023-02-11", Odometer: q("4900 km"), Value: q("18.00 mm"), New: true, Within: q("0.004 mm")},
		}})
	return b
}

// values are what is typed besides the straight choice: the worked examples of the demo data.
var values = map[string][]string{
	"pads-measured/left.friction":   {"3.1", "3.0", "7.4", "7.5"},
	"pads-measured/right.friction":  {"6.2", "6.1", "6.4", "6.3"},
	"disc-measured/left.thickness":  {"16.721", "16.715", "16.718", "16.727", "16.736", "16.741", "16.733", "16.726"},
	"disc-measured/right.thickness": {"16.421", "16.415", "16.418", "16.427", "16.436", "16.441", "16.433", "16.426"},
	"installed-runout/left.runout":  {"0", "0.01", "0.02", "0.02", "0.02", "0.01", "0", "-0.01", "-0.02", "-0.02", "-0.02", "-0.01", "0"},
	"hub-runout/left.runout":        {"0", "0.01", "0.01", "0", "-0.01", "-0.01", "0"},
	"hub-runout/right.runout":       {"0", "0", "0.01", "0.01", "0", "0", "0"},
}

// turned are the dial readings of the right disc in the positions 0 and 3.
var turned = [][]string{
	{"0", "0.02", "0.02", "0.01", "-0.01", "-0.04", "-0.08", "-0.10", "-0.10", "-0.09", "-0.07", "-0.04", "0"},
	{"0", "-0.01", "-0.01", "-0.02", "-0.04", "-0.04", "-0.04", "-0.03", "-0.03", "-0.02", "0", "0", "0"},
}

func choices(c *job.Card, at procedures.Ref, pc *procedures.PlanCheck, item string) string {
	key := at.String() + "." + pc.ID
	list := values[key]
	if key == "installed-runout/right.runout" {
		list = turned[min(len(c.Stage(at).Attempts), 2)-1+boolInt(len(c.Stage(at).Attempts) == 0)]
	}
	for i, it := range pc.Items {
		if it == item && i < len(list) {
			return list[i]
		}
	}
	switch {
	case at.Stage == "disc-on" && pc.ID == "position" && len(c.Stage(at).Attempts) > 1:
		return "3"
	case key == "first-look.judder":
		return "no"
	case key == "scope-decided.cause":
		return "Slide pins seized on the left, the inner pad dragged; both discs varied"
	case key == "scope-decided.authority":
		return "Brake desk by telephone at 09:40: discs and pads on both sides, slide pins left"
	case key == "caliper-condition/left.slides":
		return "seized"
	case key == "handed-over.receiver":
		return "driver Oshen (invented)"
	case pc.Reckon == "odometer" && at.Stage == "returned":
		return "61490"
	}
	return ""
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (b *bay) person(id string) register.Person {
	p, ok := b.reg.Person(id)
	if !ok {
		b.t.Fatalf("nobody has the id %s", id)
	}
	return p
}

func (b *bay) try(id string, want job.Intent) error {
	b.t.Helper()
	b.now = b.now.Add(90 * time.Second)
	events, err := job.Decide(b.card, want, job.Context{At: b.now, Station: "bay 2", By: b.person(id), CodeGiven: true, Register: b.reg})
	if err != nil {
		return err
	}
	var old []job.Event
	if b.card != nil {
		old = b.card.Events
	}
	card, err := job.Fold(b.plan, append(append([]job.Event{}, old...), events...))
	if err != nil {
		b.t.Fatalf("Decide wrote what Fold refuses: %v", err)
	}
	b.card = card
	return nil
}

func (b *bay) must(id string, want job.Intent) {
	b.t.Helper()
	if err := b.try(id, want); err != nil {
		b.t.Fatalf("%s: %+v refused: %v", id, want, err)
	}
}

// walk plays on until the stage is the next to work on, or to the end for "".
func (b *bay) walk(stage string) {
	b.t.Helper()
	for n := 0; n < 3000; n++ {
		if stage != "" && b.card.Next() == procedures.ParseRef(stage) {
			return
		}
		m, more, err := b.w.Next(b.card, job.Context{At: b.now.Add(time.Minute), Station: "bay 2", By: b.w.Crew.Doer, Register: b.reg})
		if err != nil {
			b.t.Fatal(err)
		}
		if !more {
			return
		}
		if err := b.try(m.By.ID, m.Want); err != nil {
			if s, ok := m.Want.(job.Sign); ok && s.Stage.Stage == "installed-runout" {
				b.must("M04", job.Again{Stage: s.Stage, Rework: "index-disc", Reason: "run-out outside"})
				continue
			}
			b.t.Fatalf("%s: %+v refused: %v", m.By.ID, m.Want, err)
		}
	}
	b.t.Fatalf("the job runs in circles at %s", b.card.Next())
}

// played is the job of the golden files: a disc turned after a run-out outside, a slip corrected, a
// night's stop, advice refused, an apprentice at the wheels, an addendum.
func played(t testing.TB) *bay {
	t.Helper()
	if once == nil {
		once = play(t)
	}
	return once
}

var once *bay // the job is only read after it was played

func play(t testing.TB) *bay {
	t.Helper()
	b := openBay(t, false)
	b.walk("caliper-on/left")
	ref := procedures.ParseRef("caliper-on/left")
	b.must("M04", job.Enter{Stage: ref, Check: "bolts", Item: procedures.ItemNew, Value: "2"})
	b.must("M04", job.Enter{Stage: ref, Check: "bolts", Item: "upper bolt", Value: "45", With: "W3"})
	b.must("M04", job.Enter{Stage: ref, Check: "bolts", Item: "upper bolt", Value: "33", With: "W3", Reason: job.ReasonSlip})
	b.walk("caliper-on/right")
	b.must("M04", job.Pause{Kind: job.StopStands, Note: "end of the shift", PartsAt: "tray 4, bay 2", KeyAt: "foreman's box", Call: "Quill, inside line 12 (invented)"})
	b.must("F02", job.SignSafe{})
	b.now = b.now.Add(14 * time.Hour)
	b.must("M07", job.Resume{Read: b.card.ReadBack()})
	b.walk("wheel-first-pass/right")
	b.w.Crew.Doer = b.person("A11")
	b.walk("height-driving")
	b.w.Crew.Doer = b.person("M04")
	b.walk("released")
	b.must("M04", job.Advise{Text: "Brake fluid boils at 168 °C: renew it", Urgency: "soon"})
	b.must("F02", job.DecideAdvice{Advice: b.card.Seq(), Answer: "later", Words: "at the next inspection", ByWhom: "brake desk, by telephone"})
	b.walk("returned")
	b.must("F02", job.Append{Text: "The driver calls: no noise any more"})
	return b
}

var printInfo = Info{Workshop: "Hollin Bay (invented)", Printed: time.Date(2026, 3, 6, 9, 0, 0, 0, time.FixedZone("", 3600)),
	Seal: "K7QXM-2P9RD-HB4WC-T", Backup: "2026-03-06 07:58 to the stick, verified"}
