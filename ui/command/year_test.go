package command

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/paper"
)

// visit is one job of the year of the invented depot.
type visit struct {
	vehicle, procedure string
	day                int // after the first
	km                 int
	doer               string
	mishap             string // what does not go straight
	pads               string // thinnest friction; empty: straight values
	uneven             bool   // the inner pads of the left side are much thinner
	practice           bool
	celsius            string // where the fluid boils
}

// yearVisits has a case for every question: what is asked after happens, and something beside it that
// must not be in the answer.
var yearVisits = []visit{
	{vehicle: "9", procedure: "rear-discs-pads", day: 0, km: 61000, doer: "M04", mishap: "off nominal", pads: "5.0", uneven: true},
	{vehicle: "4", procedure: "inspection", day: 5, km: 90000, doer: "A11", pads: "8.0", celsius: "214"},
	{vehicle: "9", procedure: "wheel-refit", day: 20, km: 62000, doer: "M04", mishap: "broken pass"},
	{vehicle: "12", procedure: "wheel-refit", day: 30, km: 45000, doer: "M04", mishap: "recheck"},
	{vehicle: "4", procedure: "inspection", day: 60, km: 98000, doer: "M07", pads: "6.5", mishap: "advice refused"},
	{vehicle: "9", procedure: "rear-discs-pads", day: 80, km: 80000, doer: "A11", mishap: "again", pads: "4.5", uneven: true},
	{vehicle: "4", procedure: "brake-fluid", day: 100, km: 101000, doer: "M04", mishap: "withheld", celsius: "162"},
	{vehicle: "9", procedure: "wheel-refit", day: 110, km: 81000, doer: "A11", practice: true},
	{vehicle: "12", procedure: "wheel-refit", day: 120, km: 46000, doer: "M04", mishap: "cancelled"},
	{vehicle: "4", procedure: "inspection", day: 150, km: 109000, doer: "M04", pads: "4.0", mishap: "advice accepted"},
	{vehicle: "9", procedure: "wheel-refit", day: 160, km: 84000, doer: "F02", mishap: "alone"},
	{vehicle: "4", procedure: "wheel-refit", day: 180, km: 111000, doer: "M07", mishap: "corrected"},
	{vehicle: "9", procedure: "rear-discs-pads", day: 190, km: 99000, doer: "M07", pads: "6.0"},
	{vehicle: "12", procedure: "wheel-refit", day: 195, km: 51000, doer: "M04", mishap: "not back"},
	{vehicle: "12", procedure: "wheel-refit", day: 200, km: 52000, doer: "M04", mishap: "left raised"},
}

// playedYear is the year with everything the answers are held against.
type playedYear struct {
	path    string
	end     time.Time
	jobs    []paper.Export // oldest first, as pawl export wrote them
	library map[string]*procedures.Procedure
}

// yearPlayer plays the visits, each through the same rules as the bay.
type yearPlayer struct {
	t  testing.TB
	f  *store.File
	at time.Time
	visit
	done map[string]bool // mishaps of the visit that have happened
}

func (y *yearPlayer) person(id string) register.Person {
	p, ok := y.f.Register().Person(id)
	if !ok {
		y.t.Fatalf("nobody is %s", id)
	}
	return p
}

// do is one intent of somebody; what the rules refuse returns false.
func (y *yearPlayer) do(c **job.Card, by string, want job.Intent) bool {
	y.t.Helper()
	next, _, err := y.f.Do((*c).Number(), store.Actor{Person: y.person(by), CodeGiven: true}, want)
	var refused job.Refused
	switch {
	case err == nil:
		*c = next
	case !errors.As(err, &refused):
		y.t.Fatal(err)
	}
	return err == nil
}

func (y *yearPlayer) play() {
	y.t.Helper()
	y.done = map[string]bool{}
	c, err := y.f.OpenJob(store.Actor{Person: y.person("F02")}, store.NewJob{Vehicle: y.vehicle, Complaint: "it grinds", Customer: "the depot", Odometer: fmt.Sprint(y.km),
		Procedure: y.procedure, Practice: y.practice})
	if err != nil {
		y.t.Fatal(err)
	}
	second := "M07"
	if y.doer == second {
		second = "M04"
	}
	if y.mishap == "alone" {
		second = "F02"
	}
	w := walk.Walker{Crew: walk.Crew{Doer: y.person(y.doer), Second: y.person(second), Foreman: y.person("F02")}, Register: y.f.Register(), Choose: y.choose}
	for range 3000 {
		y.at = y.at.Add(70 * time.Second)
		if y.happen(&c) {
			return
		}
		m, more, err := w.Next(c, y.f.Context(store.Actor{Person: w.Crew.Doer, CodeGiven: true}))
		if err != nil {
			y.t.Fatalf("job %d: %v", c.Number(), err)
		}
		if !more {
			return
		}
		next, _, err := y.f.Do(c.Number(), store.Actor{Person: m.By, CodeGiven: true}, m.Want)
		if err != nil {
			y.t.Fatalf("job %d: %+v by %s: %v", c.Number(), m.Want, m.By.ID, err)
		}
		c = next
		if e, ok := m.Want.(job.Enter); ok {
			y.entered(&c, m.By.ID, e)
		}
	}
	y.t.Fatalf("job %d runs in circles", c.Number())
}

// choose gives the values of the visit.
func (y *yearPlayer) choose(c *job.Card, at procedures.Ref, pc *procedures.PlanCheck, item string) string {
	switch {
	case item == procedures.PartBatch:
		return map[bool]string{true: "B-2217", false: "B-2240"}[y.day < 50]
	case pc.Finding == "rear-method":
		return "wheels off"
	case pc.Reckon == "pads" && y.uneven && at.Side == procedures.Left && (item == "outer leading" || item == "outer trailing"):
		return "8.0"
	case pc.Reckon == "pads" && y.pads != "":
		return y.pads
	case pc.Reckon == "fluid-boiling" && y.celsius != "":
		return y.celsius
	case pc.Reckon == "odometer":
		return fmt.Sprint(y.km + 4)
	case pc.ID == "moved" && y.mishap == "broken pass":
		return "one, by less than thirty degrees"
	}
	return walk.Most(c, at, pc, item)
}

// entered is what goes wrong right after an entry.
func (y *yearPlayer) entered(c **job.Card, by string, e job.Enter) {
	pc := (*c).Plan.Node(e.Stage).Check(e.Check)
	slip := func(value, reason string) {
		wrong := e
		wrong.Value, wrong.Reason = value, reason
		if y.do(c, by, wrong) {
			y.at = y.at.Add(3 * time.Minute)
			e.Reason = "it was read upside down"
			y.done[y.mishap] = y.do(c, by, e)
		}
	}
	switch {
	case y.done[y.mishap]:
	case y.mishap == "off nominal" && pc.Nominal != nil:
		slip("3.0 mm", "read again, wrong line")
	case y.mishap == "corrected" && pc.Kind == procedures.Torque && e.Item != procedures.ItemNew:
		slip("41 N·m", "read again, wrong line")
	}
}

// happen is what comes in between; true says that nobody goes on with the job.
func (y *yearPlayer) happen(c **job.Card) bool {
	stages := func(do func(procedures.Ref) bool) {
		for i := range (*c).Stages {
			if do((*c).Stages[i].Node.Ref) {
				return
			}
		}
	}
	switch y.mishap {
	case "cancelled":
		return len((*c).Events) > 3 && y.do(c, "F02", job.Cancel{Reason: "the customer needed the vehicle"})
	case "left raised":
		return slices.ContainsFunc((*c).Open, func(s job.Standing) bool { return s.Ref.State == "raised" })
	case "not back":
		s := (*c).Stage(procedures.Ref{Stage: "handed-over"})
		return (*c).Released != nil && s.Status == job.Complete
	case "broken pass":
		if !y.done[y.mishap] && len((*c).HalfDone()) > 0 && y.do(c, "F02", job.Pause{Note: "called away"}) {
			y.at = y.at.Add(40 * time.Minute)
			y.done[y.mishap] = y.do(c, "F02", job.Resume{Read: (*c).ReadBack()})
		}
	case "again":
		if y.done[y.mishap] {
			break
		}
		stages(func(r procedures.Ref) bool {
			s := (*c).Stage(r)
			y.done[y.mishap] = s.Status == job.Complete && r.Stage == "caliper-off" && y.do(c, "F02", job.Again{Stage: r, Reason: "the seat was not clean"})
			return y.done[y.mishap]
		})
	case "advice refused", "advice accepted":
		if !y.done[y.mishap] && len((*c).Events) > 12 && y.do(c, "F02", job.Advise{Text: "front hoses cracked", Urgency: "soon"}) {
			answer := y.mishap[len("advice "):]
			y.done[y.mishap] = y.do(c, "F02", job.DecideAdvice{Advice: (*c).Seq(), Answer: answer, Words: "sells it in spring", ByWhom: "the depot, by telephone"})
		}
	case "withheld":
		switch {
		case !y.done[y.mishap] && len((*c).Events) > 25:
			y.done[y.mishap] = y.do(c, "F02", job.Withhold{Class: "leak", Words: "hose damp", Told: "the depot, by telephone"})
		case (*c).Withheld != nil && len((*c).Events)%5 == 0:
			stages(func(r procedures.Ref) bool {
				return y.do(c, "F02", job.Lift{Cure: r, Words: "hose renewed, dry after ten pumps"})
			})
		}
	}
	if y.procedure == "rear-discs-pads" && len((*c).Events)%10 == 0 && len((*c).Deviations) == 0 {
		for _, d := range (*c).Plan.Procedure.Deviations {
			stages(func(r procedures.Ref) bool {
				return len((*c).Deviations) > 0 || y.do(c, "F02", job.Deviate{Deviation: d.ID, Stage: r, Reason: "goes to scrap anyway"})
			})
		}
	}
	return false
}

// playYear plays the year, closes the file, and exports every job as pawl export does.
func playYear(t *testing.T) *playedYear {
	t.Helper()
	dir := scratch(t)
	y := &playedYear{path: filepath.Join(dir, "year.pawl"), library: map[string]*procedures.Procedure{}}
	first := newDemoClock(testDay).day
	p := &yearPlayer{t: t, at: first}
	var err error
	p.f, err = store.Open(y.path, store.Options{Now: func() time.Time { return p.at }, Station: "bay 2 (demo)", HashCost: demoCost})
	if err != nil {
		t.Fatal(err)
	}
	if err := setUpDepot(p.f, first); err != nil {
		t.Fatal(err)
	}
	absent := func(yes bool) {
		for _, id := range []string{"M04", "M07"} {
			if err := p.f.SetAbsent(p.person("F02"), id, yes); err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, v := range yearVisits {
		p.visit = v
		if day := first.AddDate(0, 0, v.day); day.After(p.at) {
			p.at = day
		}
		absent(v.mishap == "alone")
		p.play()
	}
	absent(false)
	p.at = first.AddDate(0, 0, 205)
	yearEnd(t, p)
	y.end = p.at
	for _, x := range p.f.Procedures() {
		y.library[x.ID] = x
	}
	if err := p.f.Close(); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(dir, "export")
	y.run(t, "export", "--all", "--as", "json", "--to", to)
	for n := range yearVisits {
		data, err := os.ReadFile(filepath.Join(to, fmt.Sprintf("job-%d.json", n+1)))
		if err != nil {
			t.Fatal(err)
		}
		x, err := paper.ReadJSON(data)
		if err != nil {
			t.Fatal(err)
		}
		y.jobs = append(y.jobs, x)
	}
	return y
}

// yearEnd is what the office does at the end: a licence that had run out in spring is entered, and a
// new revision of a sheet leaves only the lower limit of the wheel fasteners right.
func yearEnd(t testing.TB, p *yearPlayer) {
	t.Helper()
	chief := p.person("F02")
	err := p.f.SetQualification(chief, "M04", "driving licence", "2026-04-01")
	for _, s := range p.f.Sheets() {
		i := slices.IndexFunc(s.Windows, func(w procedures.SpecWindow) bool { return w.ID == "wheel-nut-final" })
		if s.ID != "demo-minibus" || i < 0 {
			continue
		}
		s.Revision += "+1"
		s.Windows[i].Value = "20..21 N·m"
		err = errors.Join(err, p.f.InstallSheet(chief, s))
	}
	if err != nil {
		t.Fatal(err)
	}
}

// run runs a command line at the end of the year.
func (y *playedYear) run(t testing.TB, args ...string) []byte {
	t.Helper()
	var out, messages bytes.Buffer
	p := &Program{Out: &out, Err: &messages, Now: func() time.Time { return y.end }, Cost: demoCost}
	if code := p.Run(context.Background(), append(args, "--file", y.path)); code != exitFine {
		t.Fatalf("pawl %q: exit %d: %s", args, code, messages.String())
	}
	return out.Bytes()
}

// ask asks a question by its name and reads the answer back.
func (y *playedYear) ask(t testing.TB, name string, args ...string) (questions.Answer, string) {
	t.Helper()
	var x struct {
		Found  string
		Answer questions.Answer
	}
	if err := json.Unmarshal(y.run(t, append([]string{"find", name, "--as", "json"}, args...)...), &x); err != nil {
		t.Fatal(err)
	}
	return x.Answer, x.Found
}
