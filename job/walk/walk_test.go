package walk_test

import (
	"errors"
	"fmt"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
)

// raced says that the race detector is on. It makes the whole proof take many minutes and finds nothing
// in code without goroutines, so that it walks each procedure on one sheet only; .ci/run runs the whole
// without it.
var raced = func() bool {
	info, ok := debug.ReadBuildInfo()
	return ok && slices.Contains(info.Settings, debug.BuildSetting{Key: "-race", Value: "true"})
}()

var morning = time.Date(2026, 3, 3, 7, 0, 0, 0, time.UTC)

// depot is everybody and everything the shipped procedures need. All invented.
func depot() register.Register {
	drive := []register.Qualification{{ID: "driving licence", Until: "2030-12-31"}}
	tool := func(id, kind, low, high, step, limit string) register.Instrument {
		q := quantity.MustParse
		return register.Instrument{ID: id, Kind: kind, Serial: "DEMO-" + id, Scales: []quantity.Unit{q(low).Unit}, Low: q(low), High: q(high),
			Resolution: q(step), Error: q(limit), Certificate: "C-" + id, Calibrated: "2026-01-09", Due: "2027-01-09", Status: register.InUse}
	}
	return register.Register{
		People: []register.Person{
			{ID: "F02", Name: "Quill", Role: procedures.Foreman, Qualifications: drive},
			{ID: "M04", Name: "Ninna", Role: procedures.Mechanic, Qualifications: drive},
			{ID: "M07", Name: "Tavo", Role: procedures.Mechanic, Qualifications: drive},
		},
		Instruments: []register.Instrument{
			tool("W5", register.SettingWrench, "2 N·m", "20 N·m", "0.1 N·m", "4 %"), tool("W3", register.SettingWrench, "10 N·m", "60 N·m", "0.5 N·m", "4 %"),
			tool("W8", register.SettingWrench, "40 N·m", "200 N·m", "1 N·m", "4 %"), tool("AG1", register.AngleGauge, "0 °", "360 °", "1 °", "1 °"),
			tool("MIC1", register.Micrometer, "0 mm", "300 mm", "0.001 mm", "0.002 mm"), tool("CAL1", register.SlidingCaliper, "0 mm", "300 mm", "0.05 mm", "0.05 mm"),
			tool("DEP1", register.DepthGauge, "0 mm", "100 mm", "0.05 mm", "0.05 mm"), tool("DG1", register.DialGauge, "0 mm", "10 mm", "0.01 mm", "0.004 mm"),
			tool("PG1", register.PadGauge, "0 mm", "25 mm", "0.1 mm", "0.1 mm"), tool("FT1", register.FluidTester, "60 °C", "320 °C", "1 °C", "1 °C"),
			tool("RT1", register.RollerTester, "0 kN", "20 kN", "0.01 kN", "0.02 kN"), tool("RT2", register.RollerTester, "0 %", "100 %", "0.1 %", "1 %"),
			tool("TH1", register.Thermometer, "0 °C", "600 °C", "1 °C", "2 °C"), tool("TAPE", register.Tape, "0 mm", "3000 mm", "1 mm", "1 mm"),
		},
	}
}

// bay is one job played, with a ledger kept apart from the card.
type bay struct {
	t      *testing.T
	name   string
	reg    register.Register
	plan   *procedures.Plan
	card   *job.Card
	now    time.Time
	walker *walk.Walker
	ledger *walk.Ledger
	tried  map[string]int // how often what was refused
}

func open(t *testing.T, name string, plan *procedures.Plan, answers map[string]string) *bay {
	t.Helper()
	reg := depot()
	b := &bay{t: t, name: name, reg: reg, plan: plan, now: morning, ledger: walk.NewLedger(plan), tried: map[string]int{}}
	b.walker = &walk.Walker{Crew: walk.Crew{Doer: reg.People[1], Second: reg.People[2], Foreman: reg.People[0]}, Register: reg,
		Choose: func(_ *job.Card, at procedures.Ref, pc *procedures.PlanCheck, _ string) string {
			return answers[at.String()+"."+pc.ID]
		}}
	events, err := job.Decide(nil, job.Open{Number: 1, Vehicle: register.Vehicle{ID: "9", Demo: true}, Complaint: "noise", Odometer: "61430", Plan: plan}, b.ctx(reg.People[0]))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if b.card, err = job.Fold(plan, events); err != nil {
		t.Fatal(err)
	}
	return b
}

// fork is a bay that goes another way from here.
func (b *bay) fork(name string) *bay {
	next := *b
	next.name, next.ledger = b.name+", "+name, b.ledger.Copy()
	return &next
}

func (b *bay) ctx(by register.Person) job.Context {
	return job.Context{At: b.now, Station: "bay 1", By: by, CodeGiven: true, Register: b.reg}
}

// do decides and applies one intent, and checks what must hold after every event.
func (b *bay) do(by register.Person, want job.Intent) error {
	b.now = b.now.Add(time.Minute)
	events, err := job.Decide(b.card, want, b.ctx(by))
	if err != nil {
		return err
	}
	if why := b.ledger.Forbids(want); why != "" {
		b.t.Errorf("%s: %+v was let through although %s", b.name, want, why)
	}
	next, err := b.card.With(events)
	if err != nil {
		b.t.Fatalf("%s: %v", b.name, err)
	}
	b.card = next
	for _, e := range events {
		b.ledger.Note(e)
		b.atRelease(e)
	}
	return nil
}

// atRelease looks at what must hold once the vehicle is released.
func (b *bay) atRelease(e job.Event) {
	switch e.Body.(type) {
	case job.Released:
		if open := b.ledger.Open(); len(open) != 0 || len(b.card.Open) != 0 {
			b.t.Errorf("%s: released with %v standing by the ledger and %v by the card", b.name, open, b.card.Open)
		}
		for i := range b.card.Stages {
			s := &b.card.Stages[i]
			if b.plan.Before(s.Node.Ref, b.plan.ReleaseRef()) && s.Status != job.Complete && s.Status != job.LeftOut {
				b.t.Errorf("%s: released while %s is %s", b.name, s.Node.Ref, s.Status)
			}
		}
	}
}

// gates are the reasons that order and standing states give.
var gates = []job.Code{job.CodeBefore, job.CodeSecond, job.CodeStale, job.CodeUndecided, job.CodeLeftOut, job.CodeStateOpen, job.CodeStateShut, job.CodeWithheld}

// tries tries what the ledger forbids here, the release and an entry at some other stage: each is
// refused by a gate.
func (b *bay) tries(step int) {
	b.t.Helper()
	if b.card.Paused != nil || b.card.Finished() || b.card.Abandoned != nil {
		return
	}
	b.mustRefuse("release", b.walker.Crew.Foreman, job.Sign{Stage: b.plan.ReleaseRef()})
	for i := range b.plan.Nodes {
		n := &b.plan.Nodes[(step*7+i)%len(b.plan.Nodes)]
		if len(n.Checks) == 0 {
			continue
		}
		want := job.Enter{Stage: n.Ref, Check: n.Checks[0].ID, Item: n.Checks[0].Items[0], Value: "yes"}
		if b.card.Stage(n.Ref).Status != job.Complete && b.mustRefuse("entry", b.walker.Crew.Foreman, want) {
			return
		}
	}
}

// mustRefuse tries an intent that the ledger forbids, and reports whether it does.
func (b *bay) mustRefuse(what string, by register.Person, want job.Intent) bool {
	b.t.Helper()
	why := b.ledger.Forbids(want)
	if why == "" {
		return false
	}
	b.tried[what]++
	_, err := job.Decide(b.card, want, b.ctx(by))
	var refused job.Refused
	if !errors.As(err, &refused) || !slices.ContainsFunc(refused, func(x job.Blocker) bool { return slices.Contains(gates, x.Code) }) {
		b.t.Fatalf("%s: %s; %+v gives %v", b.name, why, want, err)
	}
	return true
}

// run walks to the end of the job. Each step is looked at before it is taken.
func (b *bay) run(each func(step int)) {
	b.t.Helper()
	foreman := b.walker.Crew.Foreman
	for n := 0; ; n++ {
		b.tries(n)
		if each != nil {
			each(n)
		}
		m, more, err := b.walker.Next(b.card, b.ctx(b.walker.Crew.Doer))
		if err != nil {
			b.t.Fatalf("%s: stuck: %v", b.name, err)
		}
		if !more {
			return
		}
		if n > 4000 {
			b.t.Fatalf("%s: the job runs in circles at %s", b.name, b.card.Next())
		}
		err = b.do(m.By, m.Want)
		var refused job.Refused
		if errors.As(err, &refused) && refused[0].Code == job.CodeWithheld && b.card.Withheld == nil {
			b.withhold() // the decision was to withhold: the only way out
			if b.card.Abandoned == nil {
				if err := b.do(foreman, job.Abandon{Reason: "not repaired today"}); err != nil {
					b.t.Fatalf("%s: %v", b.name, err)
				}
			}
			continue
		}
		if err != nil {
			b.t.Fatalf("%s: %s cannot %+v: %v", b.name, m.By.Name, m.Want, err)
		}
	}
}

func (b *bay) withhold() {
	b.t.Helper()
	if err := b.do(b.walker.Crew.Foreman, job.Withhold{Class: job.WithheldClasses()[0], Words: "below its limit", Told: "owner, by telephone: not driven"}); err != nil {
		b.t.Fatalf("%s: %v", b.name, err)
	}
}

// question is a choice that shapes the job, and the answers with which its stage can be signed.
type question struct {
	name    string // "stage/side.check"
	id      string // of the finding or decision
	answers []string
	decides bool
}

func questions(plan *procedures.Plan) []question {
	var out []question
	for _, n := range plan.Nodes {
		for _, k := range n.Checks {
			if k.Finding == "" && k.Decision == "" {
				continue
			}
			pass := k.Pass
			if len(pass) == 0 {
				pass = k.Options
			}
			out = append(out, question{n.Ref.String() + "." + k.ID, k.Finding + k.Decision, pass, k.Decision != ""})
		}
	}
	return out
}

// pairwise returns rows of answers such that every pair of answers of every two questions stands in
// one row at least.
func pairwise(qs []question) []map[string]string {
	type pair struct{ a, x, b, y int }
	left := map[pair]bool{}
	for a := range qs {
		for b := a + 1; b < len(qs); b++ {
			for x := range qs[a].answers {
				for y := range qs[b].answers {
					left[pair{a, x, b, y}] = true
				}
			}
		}
	}
	var rows []map[string]string
	for len(left) > 0 || len(rows) == 0 {
		row := make([]int, len(qs))
		for a := range qs {
			best, most := 0, -1
			for x := range qs[a].answers {
				n := 0
				for b := range a {
					if left[pair{b, row[b], a, x}] {
						n += len(qs) // pairs closed now weigh more than pairs still possible
					}
				}
				for b := a + 1; b < len(qs); b++ {
					for y := range qs[b].answers {
						if left[pair{a, x, b, y}] {
							n++
						}
					}
				}
				if n > most {
					best, most = x, n
				}
			}
			row[a] = best
		}
		gone, out := 0, map[string]string{}
		for a := range qs {
			out[qs[a].name] = qs[a].answers[row[a]]
			for b := a + 1; b < len(qs); b++ {
				if p := (pair{a, row[a], b, row[b]}); left[p] {
					delete(left, p)
					gone++
				}
			}
		}
		if gone == 0 && len(left) > 0 { // force the first pair left into a row of its own
			for a := range qs {
				for b := a + 1; b < len(qs); b++ {
					for x := range qs[a].answers {
						for y := range qs[b].answers {
							if p := (pair{a, x, b, y}); left[p] {
								out[qs[a].name], out[qs[b].name] = qs[a].answers[x], qs[b].answers[y]
								delete(left, p)
							}
						}
					}
				}
			}
		}
		rows = append(rows, out)
	}
	return rows
}

// decided returns a row per value of every decision, all else straight.
func decided(qs []question) []map[string]string {
	var rows []map[string]string
	for _, q := range qs {
		for _, v := range q.answers {
			if q.decides {
				rows = append(rows, map[string]string{q.name: v})
			}
		}
	}
	if len(rows) == 0 {
		rows = append(rows, map[string]string{})
	}
	return rows
}

// Every shipped procedure, on every sheet that serves it, is played to its end for every value of its
// decisions; on the first sheet also for every pair of findings. On the way the work is ended at many
// places, withheld or not, and the vehicle made safe.
// TestDrumsAreDoneOneSideAtATime tries the second side while the shoes of the first are off: it is
// refused until they are on again, and the refusal says where.
func TestDrumsAreDoneOneSideAtATime(t *testing.T) {
	p, s := shipped(t, "rear-drum-shoes")
	plan, err := procedures.Resolve(p, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	b := open(t, "drums", plan, nil)
	right := procedures.Ref{Stage: "shoes-off", Side: procedures.Right}
	tried := 0
	b.run(func(int) {
		if b.card.Released != nil || !b.ledger.Open()[procedures.StateRef{State: "shoes-out", Side: procedures.Left}] {
			return
		}
		tried++
		_, err := job.Decide(b.card, job.Enter{Stage: right, Check: "held", Value: "yes"}, b.ctx(b.walker.Crew.Doer))
		var refused job.Refused
		if !errors.As(err, &refused) || !slices.ContainsFunc(refused, func(x job.Blocker) bool {
			return x.Code == job.CodeStateOpen && x.Item == "shoes-out/left" && strings.Contains(x.Text, "one side at a time") && strings.Contains(x.WayOut, "left")
		}) {
			t.Fatalf("with the shoes off on the left the right side may be stripped: %v", err)
		}
	})
	if tried == 0 || b.card.Released == nil || b.card.Stage(right).Status != job.Complete {
		t.Errorf("tried %d times; the right side is %s", tried, b.card.Stage(right).Status)
	}
}

// TestInspectionForecastsBothAxles measures front and rear in one job: each axle has its own limits,
// its own earlier visits and its own forecast, and leaves its own figures for the next visit.
func TestInspectionForecastsBothAxles(t *testing.T) {
	p, s := shipped(t, "inspection")
	i := slices.IndexFunc(s.Windows, func(w procedures.SpecWindow) bool { return w.ID == "front-pad-min" })
	s.Windows[i].Value = ">= 3.0 mm" // the shipped limit is that of the rear
	plan, err := procedures.Resolve(p, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	b := open(t, "inspection", plan, map[string]string{"method-chosen.front": "wheels off", "method-chosen.rear": "wheels off"})
	b.card.Opened.History = []job.PastValue{
		{Figure: "front-pads/left", Date: "2025-03-01", Odometer: quantity.MustParse("40000 km"), Value: quantity.MustParse("11.0 mm")},
		{Figure: "pads/left", Date: "2025-03-01", Odometer: quantity.MustParse("40000 km"), Value: quantity.MustParse("10.0 mm")},
	}
	measured := map[string]string{"front-measured/left.friction": "8.0", "front-measured/right.friction": "8.1", "rear-measured/left.friction": "5.0", "rear-measured/right.friction": "5.1"}
	straight := b.walker.Choose
	b.walker.Choose = func(c *job.Card, at procedures.Ref, pc *procedures.PlanCheck, item string) string {
		if v := measured[at.String()+"."+pc.ID]; v != "" {
			return v
		}
		return straight(c, at, pc, item)
	}
	remarks := map[string]string{}
	b.run(func(int) {
		for _, m := range b.card.Remarks() {
			remarks[m.Key] = m.Text
		}
	})
	// From 40000 km to 61430 km 3.0 mm went at the front and 5.0 mm at the rear. What is left is
	// (8.0 − 3.0)/3.0 and (5.0 − 2.0)/5.0 of that distance: 35717 km and 12858 km, cut to two figures.
	for key, want := range map[string]string{
		"wear/pads/front-measured/left": "pads to 3.0 mm: about 35 000 km left",
		"wear/pads/rear-measured/left":  "pads to 2.0 mm: about 12 000 km left",
	} {
		if got := remarks[key]; !strings.Contains(got, want) {
			t.Errorf("%s says %q, want %q", key, got, want)
		}
	}
	left := map[string]string{}
	for _, v := range b.card.PastValues() {
		left[v.Figure] = v.Value.String()
	}
	for figure, want := range map[string]string{"front-pads/left": "8.0 mm", "front-pads/right": "8.1 mm", "pads/left": "5.0 mm", "pads/right": "5.1 mm"} {
		if left[figure] != want {
			t.Errorf("the next visit begins with %s %s, want %s", figure, left[figure], want)
		}
	}
}

// toBlock plays until a signature is refused, and returns the refusal; nil when the job ended.
func (b *bay) toBlock() job.Refused {
	b.t.Helper()
	for range 4000 {
		m, more, err := b.walker.Next(b.card, b.ctx(b.walker.Crew.Doer))
		if err != nil {
			b.t.Fatalf("%s: stuck: %v", b.name, err)
		}
		if !more {
			return nil
		}
		var refused job.Refused
		if err := b.do(m.By, m.Want); errors.As(err, &refused) {
			return refused
		} else if err != nil {
			b.t.Fatalf("%s: %v", b.name, err)
		}
	}
	b.t.Fatalf("%s: the job runs in circles at %s", b.name, b.card.Next())
	return nil
}

// TestInspectionKeepsNothingPastItsLimit gives each part that stays one reading at or past its limit:
// the stage that holds it against the limit is not signed, so no class is written and nothing is
// released, and the vehicle can be made safe with a drum off.
func TestInspectionKeepsNothingPastItsLimit(t *testing.T) {
	ps, ss := library(t)
	p := ps[slices.IndexFunc(ps, func(p *procedures.Procedure) bool { return p.ID == "inspection" })]
	off := map[string]string{"method-chosen.front": "wheels off", "method-chosen.rear": "wheels off"}
	through := map[string]string{"method-chosen.front": "through the wheel", "method-chosen.rear": "through the wheel"}
	for _, c := range []struct {
		sheet   string
		answers map[string]string
		at      string
		check   string
		value   string
		code    job.Code
	}{
		{"demo-minibus", off, "front-kept/left", "friction", "1.9", job.CodeOutside},
		{"demo-minibus", off, "front-kept/right", "disc", "22.400", job.CodeNotProven}, // at the limit, and the micrometer errs by 0.002
		{"demo-minibus", off, "rear-kept/left", "disc", "15.990", job.CodeOutside},
		{"demo-van", off, "rear-drum-kept/left", "lining", "1.4", job.CodeOutside},
		{"demo-van", off, "rear-drum-kept/left", "widest", "204.05", job.CodeOutside},
		{"demo-minibus", through, "front-seen/left", "outer", "1.5", job.CodeOutside},
		{"demo-minibus", through, "rear-seen/left", "outer", "1.5", job.CodeOutside},
	} {
		plan, err := procedures.Resolve(p, ss[slices.IndexFunc(ss, func(s *procedures.Sheet) bool { return s.ID == c.sheet })], nil)
		if err != nil {
			t.Fatal(err)
		}
		b := open(t, c.at+"."+c.check, plan, c.answers)
		straight := b.walker.Choose
		b.walker.Choose = func(k *job.Card, at procedures.Ref, pc *procedures.PlanCheck, item string) string {
			if at.String() == c.at && pc.ID == c.check {
				return c.value
			}
			return straight(k, at, pc, item)
		}
		refused := b.toBlock()
		if !slices.ContainsFunc(refused, func(x job.Blocker) bool {
			return x.Code == c.code && x.Stage.String() == c.at && x.Check == c.check && strings.Contains(x.WayOut, map[job.Code]string{job.CodeOutside: "ithhold", job.CodeNotProven: "finer"}[c.code])
		}) {
			t.Errorf("%s on %s: refused with %v", b.name, c.sheet, refused)
		}
		if s := b.card.Stage(procedures.Ref{Stage: "judged"}); s.Settled {
			t.Errorf("%s on %s: a class was written", b.name, c.sheet)
		}
		if got := b.end(0, true); got != job.OutcomeRecovery {
			t.Errorf("%s on %s: ended %q", b.name, c.sheet, got)
		}
	}
}

// TestOpenedLineIsTightBeforeItIsSafe ends the work as soon as a line is open: what makes the vehicle
// safe holds every joint of that side and the bleed screws.
func TestOpenedLineIsTightBeforeItIsSafe(t *testing.T) {
	for _, c := range []struct {
		procedure, opened string
		answers           map[string]string
		tight             []string
	}{
		{"hose-pipe", "line-opened/left", map[string]string{"line-looked-at/left.line": "to be replaced", "line-looked-at/left.kind": "hose"}, []string{"line-made/left", "unions-hose/left", "unions/left", "bled", "joints-dry"}},
		{"hose-pipe", "line-opened/right", map[string]string{"line-looked-at/right.line": "to be replaced", "line-looked-at/right.kind": "pipe"}, []string{"line-made/right", "unions-pipe/right", "bled", "joints-dry"}},
		{"brake-fluid", "reservoir-filled", nil, []string{"bled-round", "control-unit-bled", "circuit-closed"}},
	} {
		p, _ := shipped(t, c.procedure)
		_, ss := library(t)
		plan, err := procedures.Resolve(p, ss[slices.IndexFunc(ss, func(s *procedures.Sheet) bool { return s.ID == "demo-minibus" })], nil)
		if err != nil {
			t.Fatal(err)
		}
		b := open(t, c.procedure, plan, c.answers)
		b.run(func(int) {
			if b.card.Abandoned == nil && b.card.Stage(procedures.ParseRef(c.opened)).Status == job.Complete {
				if err := b.do(b.walker.Crew.Foreman, job.Abandon{Reason: "the owner takes it"}); err != nil {
					t.Fatal(err)
				}
			}
		})
		for _, id := range c.tight {
			if s := b.card.Stage(procedures.ParseRef(id)); s.Status != job.Complete {
				t.Errorf("%s, %s: made safe with %s %s", c.procedure, c.opened, id, s.Status)
			}
		}
		if got := b.card.Outcome(); got != job.OutcomeMadeSafe {
			t.Errorf("%s: ended %q", c.procedure, got)
		}
	}
}

// library is every shipped procedure and sheet.
func library(t *testing.T) ([]*procedures.Procedure, []*procedures.Sheet) {
	t.Helper()
	ps, err := procedures.Library()
	if err != nil {
		t.Fatal(err)
	}
	ss, err := procedures.Sheets()
	if err != nil {
		t.Fatal(err)
	}
	return ps, ss
}

// shipped is a procedure of the library with the first sheet that serves it.
func shipped(t *testing.T, id string) (*procedures.Procedure, *procedures.Sheet) {
	t.Helper()
	ps, ss := library(t)
	p := ps[slices.IndexFunc(ps, func(p *procedures.Procedure) bool { return p.ID == id })]
	return p, ss[slices.IndexFunc(ss, func(s *procedures.Sheet) bool { return s.ServesProcedure(id) })]
}

func TestEveryProcedureReachesItsEnds(t *testing.T) {
	ps, ss := library(t)
	for _, p := range ps {
		first := true
		for _, s := range ss {
			if !s.ServesProcedure(p.ID) {
				continue
			}
			all := first
			first = false
			if raced && !all {
				continue
			}
			t.Run(p.ID+"/"+s.ID, func(t *testing.T) {
				t.Parallel()
				plan, err := procedures.Resolve(p, s, nil)
				if err != nil {
					t.Fatal(err)
				}
				qs := questions(plan)
				rows := decided(qs)
				if raced {
					rows = rows[:1]
				}
				if all && !(testing.Short() || raced) {
					rows = append(rows, pairwise(qs)...)
				}
				ends, done, tried := map[string]int{}, map[procedures.Ref]bool{}, map[string]int{}
				if all && !(testing.Short() || raced) {
					for i := range plan.Nodes {
						if row := toward(plan, &plan.Nodes[i]); !slices.ContainsFunc(rows, func(r map[string]string) bool { return holds(r, row) }) {
							rows = append(rows, row)
						}
					}
				}
				for i, row := range rows {
					b := open(t, fmt.Sprintf("row %d %v", i, row), plan, row)
					b.tried = tried
					every, both := 151, true
					if i < len(decided(qs)) {
						every, both = 61, false
					}
					b.run(func(step int) {
						if b.card.Released != nil || b.card.Abandoned != nil || b.card.Paused != nil {
							return
						}
						if step%every == 17 {
							ends[b.end(step, step%2 == 0)]++
						}
						if !both && step > 0 && b.answered(row) {
							both = true
							b.endsBothWays(step, withholds(plan, qs, row))
						}
					})
					ends[b.card.Outcome()]++
					if i < len(decided(qs)) {
						want := job.OutcomeReleased
						if withholds(plan, qs, row) {
							want = job.OutcomeRecovery
						}
						if got := b.card.Outcome(); got != want {
							t.Errorf("%s: ended %q, want %q", b.name, got, want)
						}
						if !both {
							t.Errorf("%s: the work was never ended behind the decision", b.name)
						}
					}
					for k := range b.card.Stages {
						if s := &b.card.Stages[k]; s.Status == job.Complete {
							done[s.Node.Ref] = true
						}
					}
				}
				for _, n := range plan.Nodes {
					if all && !(testing.Short() || raced) && !done[n.Ref] {
						t.Errorf("no walk ever completed %s", n.Ref)
					}
				}
				t.Logf("%d rows: %v, refused %v", len(rows), ends, tried)
				for _, what := range []string{"release", "entry"} {
					if tried[what] == 0 {
						t.Errorf("no forbidden %s was ever tried", what)
					}
				}
				for _, want := range []string{job.OutcomeReleased, job.OutcomeMadeSafe, job.OutcomeRecovery} {
					if ends[want] == 0 {
						t.Errorf("no walk ended %q: %v", want, ends)
					}
				}
			})
		}
	}
}

// answered reports whether the stages of a row's answers are complete.
func (b *bay) answered(row map[string]string) bool {
	for name := range row {
		at, _, _ := strings.Cut(name, ".")
		if b.card.Stage(procedures.ParseRef(at)).Status != job.Complete {
			return false
		}
	}
	return true
}

// endsBothWays ends the work here, withheld by the foreman and not. A vehicle that the decision
// withholds leaves on a recovery vehicle either way.
func (b *bay) endsBothWays(step int, withheld bool) {
	b.t.Helper()
	for _, withhold := range []bool{false, true} {
		want := job.OutcomeMadeSafe
		if withhold || withheld {
			want = job.OutcomeRecovery
		}
		if got := b.end(step, withhold); got != want {
			b.t.Errorf("%s: the work ended at step %d, withheld %v, came to %q, want %q", b.name, step, withhold, got, want)
		}
	}
}

// withholds reports whether a decision of a row is one after which the vehicle must not be driven.
func withholds(plan *procedures.Plan, qs []question, row map[string]string) bool {
	for _, q := range qs {
		for _, d := range plan.Procedure.Decisions {
			if d.ID == q.id && slices.Contains(d.Withholds, row[q.name]) {
				return true
			}
		}
	}
	return false
}

// toward answers what makes a stage part of the job, all else straight.
func toward(plan *procedures.Plan, n *procedures.Node) map[string]string {
	row := map[string]string{}
	var ask func(n *procedures.Node)
	ask = func(n *procedures.Node) {
		for _, c := range n.Stage.When {
			for i := range plan.Nodes {
				r := &plan.Nodes[i]
				for _, k := range r.Checks {
					id, want := k.Finding+k.Decision, ""
					if c.Trait != "" || id != c.Finding+c.Decision || (r.Ref.Side != n.Ref.Side && r.Ref.Side != "" && n.Ref.Side != "") || !plan.Before(r.Ref, n.Ref) {
						continue
					}
					for _, v := range k.Options {
						if (len(c.Is) == 0 || slices.Contains(c.Is, v)) && !slices.Contains(c.Not, v) && (len(k.Pass) == 0 || slices.Contains(k.Pass, v)) {
							want = v
							break
						}
					}
					if name := r.Ref.String() + "." + k.ID; want != "" && row[name] == "" {
						row[name] = want
						ask(r)
					}
				}
			}
		}
	}
	ask(n)
	return row
}

// holds reports whether a row answers all that another one answers, alike.
func holds(row, part map[string]string) bool {
	for k, v := range part {
		if row[k] != v {
			return false
		}
	}
	return true
}

// An apprentice does what he may: every torque of his is checked by somebody else's tool and every
// stage that asks for it countersigned.
func TestApprenticeWalksEveryProcedure(t *testing.T) {
	ps, ss := library(t)
	for _, p := range ps {
		for _, s := range ss {
			if !s.ServesProcedure(p.ID) {
				continue
			}
			t.Run(p.ID+"/"+s.ID, func(t *testing.T) {
				t.Parallel()
				plan, err := procedures.Resolve(p, s, nil)
				if err != nil {
					t.Fatal(err)
				}
				b := open(t, "apprentice", plan, nil)
				jory := register.Person{ID: "A11", Name: "Jory", Role: procedures.Apprentice}
				b.reg.People = append(b.reg.People, jory)
				b.walker.Crew = walk.Crew{Doer: jory, Second: b.walker.Crew.Doer, Foreman: b.walker.Crew.Foreman}
				b.run(nil)
				if b.card.Outcome() != job.OutcomeReleased {
					t.Errorf("ended %q", b.card.Outcome())
				}
				for i := range b.card.Stages {
					s := &b.card.Stages[i]
					a := s.Current()
					if s.Status != job.Complete || a.Signed == nil || a.Signed.By.ID != jory.ID {
						continue
					}
					for _, k := range s.Node.Checks {
						if k.Kind == procedures.Torque && (a.Countersigned == nil || len(a.Checks) == 0) {
							t.Errorf("%s has a torque of an apprentice that nobody checked", s.Node.Ref)
						}
					}
				}
			})
			if raced {
				break
			}
		}
	}
}

// end ends the work here on a fork, withheld or not, walks it to the make-safe end and says how it
// ended.
func (b *bay) end(step int, withhold bool) string {
	b.t.Helper()
	f := b.fork(fmt.Sprintf("ended at step %d before %s, withheld %v", step, b.card.Next(), withhold))
	if withhold && f.card.Withheld == nil {
		f.withhold()
	}
	if err := f.do(f.walker.Crew.Foreman, job.Abandon{Reason: "the owner takes it"}); err != nil {
		b.t.Fatalf("%s: %v", f.name, err)
	}
	f.run(nil)
	if open := f.ledger.Open(); len(open) != 0 {
		b.t.Errorf("%s: %v still stands", f.name, open)
	}
	return f.card.Outcome()
}

// The covering rows hold every pair: counted without the generator.
func TestPairwiseHoldsEveryPair(t *testing.T) {
	qs := []question{{name: "a", answers: []string{"1", "2", "3"}}, {name: "b", answers: []string{"1", "2"}}, {name: "c", answers: []string{"1", "2"}}, {name: "d", answers: []string{"1", "2", "3", "4"}}}
	rows := pairwise(qs)
	for i, a := range qs {
		for _, b := range qs[i+1:] {
			for _, x := range a.answers {
				for _, y := range b.answers {
					if !slices.ContainsFunc(rows, func(r map[string]string) bool { return r[a.name] == x && r[b.name] == y }) {
						t.Errorf("%s = %s with %s = %s is in no row", a.name, x, b.name, y)
					}
				}
			}
		}
	}
	if len(rows) > 24 {
		t.Errorf("%d rows for at most 12 needed pairs of the two largest questions", len(rows))
	}
}
