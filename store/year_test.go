package store

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
)

// depotYear plays the year of an invented depot through Decide, from a seed: the shipped procedures
// and sheets, careful crews, and now and then a slip, a stop, a new attempt, advice, a withholding or
// a vehicle that does not come back. Nothing in it belongs to anybody.
type depotYear struct {
	t   testing.TB
	f   *File
	c   *clock
	rng *rand.Rand
	km  map[string]int
	n   int // visits played
	// leave ends the work of a job where it stands, with the vehicle raised.
	leave bool
}

var (
	drives = []register.Qualification{{ID: "driving licence", Until: "2026-09-30"}}
	chief  = register.Person{ID: "F02", Name: "Quill", Role: procedures.Foreman, Qualifications: []register.Qualification{{ID: "driving licence", Until: "2030-12-31"}}}
	crew   = []register.Person{
		{ID: "M04", Name: "Ninna", Role: procedures.Mechanic, Qualifications: drives},
		{ID: "M07", Name: "Tavo", Role: procedures.Mechanic, Qualifications: []register.Qualification{{ID: "driving licence", Until: "2030-12-31"}}},
		{ID: "A11", Name: "Jory", Role: procedures.Apprentice},
	}
	batches = []string{"B-2217", "B-2231", "B-2240"}
)

func yearTool(id, kind, low, high, resolution, limit string) register.Instrument {
	q := quantity.MustParse
	return register.Instrument{ID: id, Kind: kind, Serial: "DEMO-" + id, Scales: []quantity.Unit{q(low).Unit}, Low: q(low), High: q(high), Resolution: q(resolution),
		Error: q(limit), Certificate: "DEMO-C-" + id, Calibrated: "2026-01-02", Due: "2027-12-31", Status: register.InUse}
}

func yearTools() []register.Instrument {
	return []register.Instrument{
		yearTool("W3", register.SettingWrench, "10 N·m", "60 N·m", "0.5 N·m", "4 %"),
		yearTool("W5", register.DialWrench, "1 N·m", "20 N·m", "0.1 N·m", "3 %"),
		yearTool("W8", register.SettingWrench, "40 N·m", "320 N·m", "1 N·m", "4 %"),
		yearTool("W10", register.DialWrench, "20 N·m", "320 N·m", "1 N·m", "3 %"),
		yearTool("W11", register.ElectronicWrench, "5 N·m", "340 N·m", "0.1 N·m", "1 %"),
		yearTool("AG1", register.AngleGauge, "0 °", "360 °", "1 °", "1 °"),
		yearTool("MIC1", register.Micrometer, "0 mm", "50 mm", "0.001 mm", "0.004 mm"),
		yearTool("DG1", register.DialGauge, "0 mm", "10 mm", "0.01 mm", "0.004 mm"),
		yearTool("CAL1", register.SlidingCaliper, "0 mm", "300 mm", "0.05 mm", "0.05 mm"),
		yearTool("DP1", register.DepthGauge, "0 mm", "150 mm", "0.01 mm", "0.02 mm"),
		yearTool("PG1", register.PadGauge, "0 mm", "25 mm", "0.1 mm", "0.1 mm"),
		yearTool("RT1", register.RollerTester, "0 kN", "20 kN", "0.01 kN", "2 %"),
		yearTool("RT2", register.RollerTester, "0 %", "100 %", "0.1 %", "1 %"),
		yearTool("TH1", register.Thermometer, "0 °C", "600 °C", "1 °C", "2 %"),
		yearTool("FT1", register.FluidTester, "60 °C", "320 °C", "1 °C", "3 %"),
		yearTool("TAPE", register.Tape, "0 mm", "3000 mm", "1 mm", "1 mm"),
	}
}

// newYear sets a depot up in a file that does not wait for the disk: what is tested is not that.
func newYear(t testing.TB, seed uint64) *depotYear {
	t.Helper()
	y := &depotYear{t: t, c: &clock{time.Date(2026, 1, 5, 7, 30, 0, 0, time.FixedZone("", 3600))}, rng: rand.New(rand.NewPCG(seed, 7)), km: map[string]int{}}
	y.f = open(t, newPath(t), y.c)
	y.f.db.NoSync = true
	must(t, y.f.SetUp(Workshop{Name: "Hollin Bay (invented)", Demo: true}, chief, "41021"))
	for i, p := range crew {
		must(t, y.f.AddPerson(chief, p, fmt.Sprint(73519+i)))
	}
	for _, in := range yearTools() {
		must(t, y.f.PutInstrument(chief, in))
	}
	ps, err := procedures.Library()
	must(t, err)
	ss, err := procedures.Sheets()
	must(t, err)
	for _, p := range ps {
		must(t, y.f.Install(chief, p))
	}
	for _, s := range ss {
		must(t, y.f.InstallSheet(chief, s))
	}
	for n := range 8 {
		v := register.Vehicle{ID: fmt.Sprint(n + 1), Name: fmt.Sprintf("Tarnholt %d minibus", n+1), Sheet: []string{"demo-minibus", "demo-minibus-plain"}[n%2], Owner: "Ullisgarth Dale Community Transport", Demo: true}
		must(t, y.f.PutVehicle(chief, v))
		y.km[v.ID] = 30000 + 7000*n
	}
	return y
}

// visit plays one job from open to its end.
func (y *depotYear) visit(procedure string) uint64 {
	y.t.Helper()
	y.n++
	id := fmt.Sprint(y.n*3%8 + 1)
	y.km[id] += 1500 + y.rng.IntN(6000)
	complaint := []string{"squeal from the rear", "pulls to one side", "pedal soft", "yearly look", "shakes when braking"}[y.rng.IntN(5)]
	practice := y.n%13 == 7
	c, err := y.f.OpenJob(Actor{Person: chief}, NewJob{Vehicle: id, Complaint: complaint, Customer: "the depot", Odometer: fmt.Sprint(y.km[id]), Procedure: procedure, Practice: practice})
	var refused job.Refused
	if errors.As(err, &refused) && refused[0].Code == job.CodeFilled {
		return 0 // it stands in another bay still
	}
	must(y.t, err)
	return y.play(c, id)
}

// play works on a job until it ends or nobody goes on with it.
func (y *depotYear) play(c *job.Card, vehicle string) uint64 {
	y.t.Helper()
	reg := y.f.Register()
	y.rng.Shuffle(len(reg.Instruments), func(i, k int) { reg.Instruments[i], reg.Instruments[k] = reg.Instruments[k], reg.Instruments[i] })
	doer, second := crew[y.rng.IntN(3)], crew[1]
	if doer.ID == second.ID {
		second = crew[0]
	}
	w := &walk.Walker{Crew: walk.Crew{Doer: doer, Second: second, Foreman: chief}, Register: reg}
	batch := batches[y.n%len(batches)]
	w.Choose = func(c *job.Card, at procedures.Ref, pc *procedures.PlanCheck, item string) string {
		return y.choose(c, at, pc, item, batch)
	}
	n := c.Number()
	fate := y.n % 11
	var refused job.Refused
	for steps := 0; steps < 3000; steps++ {
		y.c.forward(time.Duration(20+y.rng.IntN(200)) * time.Second)
		if y.mishap(&c, fate, steps) {
			return n
		}
		if y.leave && slices.ContainsFunc(c.Open, func(s job.Standing) bool { return s.Ref.State == "raised" }) {
			return n
		}
		ctx := y.f.Context(Actor{Person: doer, CodeGiven: true})
		m, more, err := w.Next(c, ctx)
		if err != nil {
			y.t.Fatalf("job %d: %v", n, err)
		}
		if !more {
			return n
		}
		m.Want = y.slip(m.Want)
		if rc, ok := m.Want.(job.Recheck); ok {
			if next, ok := y.recheck(n, m.By, rc); ok {
				c = next
				continue
			}
		}
		next, _, err := y.f.Do(n, Actor{Person: m.By, CodeGiven: true}, m.Want)
		if cs, ok := m.Want.(job.Countersign); ok && errors.As(err, &refused) && refused[0].Code == job.CodeShift {
			next, _, err = y.f.Do(n, Actor{Person: m.By, CodeGiven: true}, job.Again{Stage: cs.Stage, Reason: "not countersigned in the same shift"})
			m.Want = nil
		}
		if err != nil {
			y.t.Fatalf("job %d: %+v by %s: %v", n, m.Want, m.By.ID, err)
		}
		c = y.corrected(next, m)
		if c.Released != nil && fate == 10 && c.Stage(procedures.Ref{Stage: "handed-over"}) != nil {
			return n // never comes back for the re-torque
		}
	}
	y.t.Fatalf("job %d runs in circles at %s", n, c.Next())
	return n
}

// choose gives the values that make one job differ from another: pads wear with the distance, the
// left a little faster, and fluid ages.
func (y *depotYear) choose(c *job.Card, at procedures.Ref, pc *procedures.PlanCheck, item, batch string) string {
	driven := c.Opened.Odometer.Float() - 30000
	switch {
	case item == procedures.PartBatch:
		return batch
	case pc.Reckon == "pads" && at.Side == procedures.Left:
		return fmt.Sprintf("%.1f", max(2.5, 9.9-0.00008*driven))
	case pc.Reckon == "pads":
		return fmt.Sprintf("%.1f", max(2.5, 9.9-0.00007*driven))
	case pc.Reckon == "fluid-boiling":
		return fmt.Sprint(170 + y.n%20*4)
	case pc.ID == "moved" && y.n%4 == 1:
		return "one, by less than thirty degrees"
	case pc.Reckon == "odometer":
		return fmt.Sprint(int(c.Opened.Odometer.Float()) + 4)
	}
	return ""
}

// slip types a torque a little off the middle, as people do.
func (y *depotYear) slip(want job.Intent) job.Intent {
	e, ok := want.(job.Enter)
	if !ok || e.With != "W10" && e.With != "W11" {
		return want
	}
	q, err := quantity.Parse(e.Value, "")
	if err != nil || q.Unit != quantity.NewtonMetre || q.Float() < 30 {
		return want
	}
	e.Value = fmt.Sprintf("%d N·m", int(q.Float())+y.rng.IntN(3)-1)
	return e
}

// recheck puts another wrench on a fastener than tightened it, where one can be read.
func (y *depotYear) recheck(n uint64, by register.Person, rc job.Recheck) (*job.Card, bool) {
	rc.With, rc.All = []string{"W11", "W10"}[y.rng.IntN(2)], false
	q, err := quantity.Parse(rc.Value, "")
	if err != nil || q.Unit != quantity.NewtonMetre || q.Float() < 30 {
		return nil, false
	}
	rc.Value = fmt.Sprintf("%d N·m", int(q.Float())+y.rng.IntN(5)-2)
	c, _, err := y.f.Do(n, Actor{Person: by, CodeGiven: true}, rc)
	return c, err == nil
}

// corrected now and then types a torque or a thickness wrong, and corrects it.
func (y *depotYear) corrected(c *job.Card, m walk.Move) *job.Card {
	e, ok := m.Want.(job.Enter)
	if !ok {
		return c
	}
	right := e.Value
	switch {
	case (e.With == "W10" || e.With == "W11") && y.rng.IntN(60) == 0:
		e.Value = "39 N·m"
	case e.With == "MIC1" && y.rng.IntN(12) == 0:
		q, err := quantity.Parse(right, quantity.Millimetre)
		must(y.t, err)
		e.Value = fmt.Sprintf("%.3f mm", q.Float()-3)
	default:
		return c
	}
	e.Reason = "read again, wrong line"
	if _, _, err := y.f.Do(c.Number(), Actor{Person: m.By, CodeGiven: true}, e); err != nil {
		return c // that wrench or fastener does not take it
	}
	y.c.forward(2 * time.Minute)
	e.Value, e.Reason = right, "it was read upside down"
	return do(y.t, y.f, c.Number(), m.By, e)
}

// mishap is what does not go straight; true says that the job is over.
func (y *depotYear) mishap(c **job.Card, fate, step int) bool {
	n := (*c).Number()
	say := func(by register.Person, want job.Intent) bool {
		next, _, err := y.f.Do(n, Actor{Person: by, CodeGiven: true}, want)
		if err == nil {
			*c = next
		}
		return err == nil
	}
	switch {
	case fate == 0 && step == 0:
		return say(chief, job.Cancel{Reason: "the customer needed the vehicle"})
	case fate == 1 && step == 40:
		if say(crew[0], job.Pause{Note: "waiting for parts", Kind: job.StopParts, PartsAt: "box 3", KeyAt: "board", Call: "the depot"}) {
			say(chief, job.SignSafe{})
			y.c.forward(26 * time.Hour)
			say(chief, job.Resume{Read: (*c).ReadBack()})
		}
	case fate == 2 && step == 60:
		y.again(c)
	case fate == 3 && step == 30:
		y.advise(c, "refused", "sells it in spring")
	case fate == 4 && step == 20:
		y.advise(c, "accepted", "go on")
	case fate == 5 && step == 25:
		if say(chief, job.Withhold{Class: "leak", Words: "hose damp", Told: "the depot, by telephone"}) {
			y.c.forward(time.Hour)
		}
	}
	if fate == 6 && len((*c).HalfDone()) > 0 && y.rng.IntN(4) == 0 && say(chief, job.Pause{Note: "called away"}) {
		y.c.forward(40 * time.Minute)
		say(chief, job.Resume{Read: (*c).ReadBack()})
	}
	if (*c).Opened.Procedure.ID == "rear-discs-pads" && step%10 == 0 && len((*c).Deviations) == 0 {
		y.deviate(c)
	}
	if (*c).Withheld != nil && step%10 == 0 {
		y.lift(c)
	}
	return false
}

func (y *depotYear) again(c **job.Card) {
	for i := range (*c).Stages {
		s := &(*c).Stages[i]
		if s.Status == job.Complete && s.Node.Stage.Sided {
			if next, _, err := y.f.Do((*c).Number(), Actor{Person: chief, CodeGiven: true}, job.Again{Stage: s.Node.Ref, Reason: "the seat was not clean"}); err == nil {
				*c = next
				return
			}
		}
	}
}

// deviate grants the first deviation of the procedure's list that the job takes now.
func (y *depotYear) deviate(c **job.Card) {
	for _, d := range (*c).Plan.Procedure.Deviations {
		for i := range (*c).Stages {
			next, _, err := y.f.Do((*c).Number(), Actor{Person: chief, CodeGiven: true}, job.Deviate{Deviation: d.ID, Stage: (*c).Stages[i].Node.Ref, Reason: "goes to scrap anyway"})
			if err == nil {
				*c = next
				return
			}
		}
	}
}

func (y *depotYear) advise(c **job.Card, answer, words string) {
	n := (*c).Number()
	next := do(y.t, y.f, n, chief, job.Advise{Text: "front hoses cracked", Urgency: "soon"})
	*c = do(y.t, y.f, n, chief, job.DecideAdvice{Advice: next.Seq(), Answer: answer, Words: words, ByWhom: "the depot, by telephone"})
}

// lift takes a withholding back at the first stage that may cure it.
func (y *depotYear) lift(c **job.Card) {
	for i := range (*c).Stages {
		if next, _, err := y.f.Do((*c).Number(), Actor{Person: chief, CodeGiven: true}, job.Lift{Cure: (*c).Stages[i].Node.Ref, Words: "hose renewed, dry after ten pumps"}); err == nil {
			*c = next
			return
		}
	}
}

// fill plays so many visits spread over a year, and leaves one more vehicle standing raised.
func (y *depotYear) fill(visits int) {
	y.t.Helper()
	kinds := []string{"wheel-refit", "inspection", "rear-discs-pads", "wheel-refit", "brake-fluid", "inspection"}
	start := y.c.at
	for i := range visits {
		y.c.at = later(y.c.at, start.AddDate(0, 0, i*350/visits))
		y.visit(kinds[i%len(kinds)])
	}
	y.leave = true
	for y.visit("wheel-refit") == 0 {
	}
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// cards loads every job.
func (y *depotYear) cards() []*job.Card {
	y.t.Helper()
	all, err := y.f.Jobs()
	must(y.t, err)
	var out []*job.Card
	for _, s := range slices.Backward(all) {
		c, err := y.f.Load(s.Number)
		must(y.t, err)
		out = append(out, c)
	}
	return out
}
