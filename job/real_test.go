package job_test

import (
	"sync"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
)

// shipped loads the library once; plans are resolved anew for each test.
var shipped = func() func() ([]*procedures.Procedure, []*procedures.Sheet, error) {
	var once sync.Once
	var ps []*procedures.Procedure
	var ss []*procedures.Sheet
	var err error
	return func() ([]*procedures.Procedure, []*procedures.Sheet, error) {
		once.Do(func() {
			if ps, err = procedures.Library(); err == nil {
				ss, err = procedures.Sheets()
			}
		})
		return ps, ss, err
	}
}()

// minibus is the demo procedure and sheet resolved for vehicle 9, with some traits changed.
func minibus(t testing.TB, traits map[string]string) *procedures.Plan {
	t.Helper()
	ps, ss, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	var p *procedures.Procedure
	var s *procedures.Sheet
	for _, x := range ps {
		if x.ID == "rear-discs-pads" {
			p = x
		}
	}
	for _, x := range ss {
		if x.ID == "demo-minibus" {
			s = x
		}
	}
	plan, err := procedures.Resolve(p, s, traits)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// workshop is everybody and everything the whole procedure needs. All invented.
func workshop() register.Register {
	drive := []register.Qualification{{ID: "driving licence", Until: "2030-12-31"}}
	reg := depot()
	for i := range reg.People {
		if reg.People[i].Role != procedures.Apprentice {
			reg.People[i].Qualifications = drive
		}
	}
	reg.Instruments = append(reg.Instruments,
		instrument("W5", register.DialWrench, "2 N·m", "20 N·m", "0.1 N·m", "3 %"),
		instrument("CAL1", register.SlidingCaliper, "0 mm", "300 mm", "0.05 mm", "0.05 mm"),
		instrument("ROLL", register.RollerTester, "0 kN", "10 kN", "0.01 kN", "0.02 kN"),
		instrument("ROLLP", register.RollerTester, "0 %", "100 %", "1 %", "1 %"),
		instrument("TEMP", register.Thermometer, "0 °C", "400 °C", "1 °C", "2 °C"),
		instrument("TAPE", register.Tape, "0 mm", "2000 mm", "1 mm", "1 mm"),
		instrument("BOIL", register.FluidTester, "60 °C", "320 °C", "1 °C", "3 °C"),
	)
	for i := range reg.Instruments {
		reg.Instruments[i].Due = "2027-01-09"
	}
	return reg
}

// openReal opens a job on the real procedure.
func openReal(t testing.TB, traits map[string]string) (*bay, *walk.Walker) {
	t.Helper()
	b := &bay{t: t, plan: minibus(t, traits), reg: workshop(), now: time.Date(2026, 3, 3, 8, 0, 0, 0, time.FixedZone("", 3600))}
	b.must(b.person("F02"), job.Open{Number: 7, Vehicle: register.Vehicle{ID: "9", Name: "Tarnholt 9 (invented)", Demo: true},
		Complaint: "squeal and pull", Odometer: "61430", Plan: b.plan})
	return b, &walk.Walker{Crew: walk.Crew{Doer: b.person("M04"), Second: b.person("M07"), Foreman: b.person("F02")}, Register: b.reg}
}

func (b *bay) person(id string) register.Person {
	p, ok := b.reg.Person(id)
	if !ok {
		b.t.Fatalf("nobody has the id %s", id)
	}
	return p
}

// walk plays on until stop says so or the job ends.
func (b *bay) walk(w *walk.Walker, stop func(*job.Card) bool) {
	b.t.Helper()
	for n := 0; ; n++ {
		if stop != nil && stop(b.card) {
			return
		}
		m, more, err := w.Next(b.card, b.context(w.Crew.Doer))
		if err != nil {
			b.t.Fatal(err)
		}
		if !more {
			return
		}
		if n > 3000 {
			b.t.Fatalf("the job runs in circles at %s", b.card.Next())
		}
		b.must(m.By, m.Want)
	}
}

// at stops a walk when a stage is the next to work on.
func at(stage string) func(*job.Card) bool {
	return func(c *job.Card) bool { return c.Next() == ref(stage) }
}

func TestRealProcedureWalksToItsEnd(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, nil)
	if b.card.Released == nil || !b.card.Released.Independent || !b.card.Finished() {
		t.Fatalf("released %+v, finished %v", b.card.Released, b.card.Finished())
	}
	t.Logf("%d events", b.card.Seq())
}
