package store

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// The pulls since calibration are those job.Card.Pulls counts, over all jobs, also rejected and
// corrected ones; those before the calibration and those of practice count none.
func TestCycles(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	fill(t, f)
	openJob(t, f, "V1", "100")
	do(t, f, 1, apprentice, number(1))
	do(t, f, 1, apprentice, job.Sign{Stage: measure})
	do(t, f, 1, mechanic, plug("95", ""))
	do(t, f, 1, mechanic, plug("96", "read again"))
	c.forward(24 * time.Hour)
	do(t, f, 1, mechanic, plug("97", job.ReasonSlip))
	p, err := f.OpenJob(Actor{Person: mechanic}, NewJob{Vehicle: "V1", Complaint: "exercise", Odometer: "100", Procedure: "small-check", Practice: true, Planted: []string{"wrong plug"}})
	must(t, err)
	do(t, f, p.Number(), apprentice, number(1))
	do(t, f, p.Number(), apprentice, job.Sign{Stage: measure})
	do(t, f, p.Number(), mechanic, plug("95", ""))
	check := func(calibrated string, want int) {
		t.Helper()
		w := wrench
		w.Calibrated = calibrated
		must(t, f.PutInstrument(foreman, w))
		since := map[string]string{"W7": calibrated}
		sum := 0
		for n := range uint64(2) {
			card, err := f.Load(n + 1)
			must(t, err)
			sum += card.Pulls(since)["W7"]
		}
		if got := f.Context(Actor{Person: mechanic}).Cycles["W7"]; got != want || got != sum {
			t.Errorf("since %s: %d pulls, the jobs count %d, want %d", calibrated, got, sum, want)
		}
	}
	check("2026-03-09", 3)
	check("2026-03-10", 1)
	must(t, f.Close())
	f = open(t, path, c)
	check("2026-03-09", 3)
	check("2026-03-10", 1)
	if v, _ := f.Vehicle("V1"); len(v.Odometer) != 1 {
		t.Errorf("a practice job left its odometer reading: %+v", v.Odometer)
	}
}

// wearProcedure measures pads and a new disc; what later visits see of it is history.
const wearStage = `
[[stage]]
id = "pads"
title = "Pads"
phase = "all"
why = "To know. Nothing else tells."
good = "A number."
who = "mechanic"
second = "never"
sided = true
[[stage.check]]
id = "thickness"
kind = "thickness"
title = "Friction left"
points = ["inner leading", "inner trailing", "outer leading", "outer trailing"]
unit = "mm"
reckon = "pads"
tools = ["depth gauge"]
[[stage.check]]
id = "new"
kind = "thickness"
title = "New disc"
num_points = 2
unit = "mm"
optional = true
reckon = "disc-new"
tools = ["depth gauge"]
`

func TestHistory(t *testing.T) {
	f, c := filled(t)
	p, err := procedures.LoadProcedure("wear.toml", fmt.Appendf(nil, procedureText+wearStage, "Wear", "1"))
	must(t, err)
	for i := range p.Stages {
		if p.Stages[i].ID == "measure" {
			p.Stages[i].After = []string{"pads"}
		}
	}
	p.ID = "wear"
	must(t, f.Install(foreman, p))
	left, right := procedures.Ref{Stage: "pads", Side: procedures.Left}, procedures.Ref{Stage: "pads", Side: procedures.Right}
	play := func(n NewJob, leftValues [4]string, all bool) *job.Card {
		t.Helper()
		n.Vehicle, n.Procedure, n.Complaint = "V1", "wear", "squeal"
		card, err := f.OpenJob(Actor{Person: mechanic}, n)
		must(t, err)
		for i, item := range []string{"inner leading", "inner trailing", "outer leading", "outer trailing"} {
			do(t, f, card.Number(), mechanic, job.Enter{Stage: left, Check: "thickness", Item: item, Value: leftValues[i], With: "D1"})
			if i < 3 || all {
				do(t, f, card.Number(), mechanic, job.Enter{Stage: right, Check: "thickness", Item: item, Value: "5.00", With: "D1"})
			}
		}
		do(t, f, card.Number(), mechanic, job.Enter{Stage: left, Check: "new", Item: "1", Value: "22.01", With: "D1"})
		do(t, f, card.Number(), mechanic, job.Enter{Stage: left, Check: "new", Item: "2", Value: "22.03", With: "D1"})
		return card
	}
	end := func(n uint64) {
		t.Helper()
		do(t, f, n, mechanic, job.Sign{Stage: left})
		do(t, f, n, mechanic, job.Sign{Stage: right})
		finish(t, f, n)
	}
	play(NewJob{Odometer: "1000"}, [4]string{"4.31", "4.10", "4.22", "4.35"}, true)
	end(1)
	c.forward(48 * time.Hour)
	play(NewJob{Odometer: "1000", Practice: true}, [4]string{"4.01", "4.02", "4.03", "4.04"}, true)
	end(2)
	second := play(NewJob{Odometer: "2000"}, [4]string{"4.00", "4.00", "4.00", "4.00"}, false)
	mm := func(n string) quantity.Quantity { return quantity.Quantity{Number: n, Unit: quantity.Millimetre} }
	km := quantity.MustParse("1000 km")
	want := []job.PastValue{
		{Figure: "odometer", Job: 1, Date: "2026-03-09", Odometer: km, Value: km},
		{Figure: "pads/left", Job: 1, Date: "2026-03-09", Odometer: km, Value: mm("4.10"), Within: mm("0.02")},
		{Figure: "pads/right", Job: 1, Date: "2026-03-09", Odometer: km, Value: mm("5.00"), Within: mm("0.02")},
		{Figure: "disc/left", Job: 1, Date: "2026-03-09", Odometer: km, Value: mm("22.01"), New: true, Within: mm("0.02")},
	}
	if d := cmp.Diff(want, second.Opened.History); d != "" {
		t.Error(d)
	}
	var refused job.Refused
	if _, err := f.OpenJob(Actor{Person: mechanic}, NewJob{Vehicle: "V1", Complaint: "x", Odometer: "2000", Procedure: "wear"}); !errors.As(err, &refused) {
		t.Errorf("a second open job: %v", err)
	}
}

func TestPersonChanges(t *testing.T) {
	f, c := filled(t)
	wantError(t, f.SetLevel(foreman, "al", "measuring", register.LevelAtHolds), "0 times on the left and 0 times on the right")
	wantError(t, f.SetLevel(mechanic, "al", "measuring", register.LevelWatch), "only a foreman")
	wantError(t, f.SetLevel(foreman, "mo", "measuring", register.LevelWatch), "only apprentices")
	wantError(t, f.SetLevel(foreman, "al", "measuring", 9), "no level")
	must(t, f.SetLevel(foreman, "al", "measuring", register.LevelWatch))
	must(t, f.SetQualification(foreman, "mo", "driving licence", "2026-03-09"))
	must(t, f.SetQualification(foreman, "mo", "driving licence", "2026-03-10"))
	wantError(t, f.SetQualification(foreman, "mo", "driving licence", "10.3.2026"), "year-month-day")
	wantError(t, f.SetQualification(mechanic, "mo", "driving licence", "2026-03-10"), "only a foreman")
	must(t, f.SetAbsent(mechanic, "mo", true))
	wantError(t, f.SetAbsent(mechanic, "ida", true), "only a foreman")
	r := f.Register()
	al, _ := r.Person("al")
	mo, _ := r.Person("mo")
	if al.Level("measuring") != register.LevelWatch || !mo.Absent || len(mo.Qualifications) != 1 || mo.QualifiedFor("driving licence", c.at.AddDate(0, 0, 1)) != nil {
		t.Errorf("after the changes: %+v and %+v", al, mo)
	}
	must(t, f.SetAbsent(foreman, "mo", false))
	log, err := f.RegisterLog()
	must(t, err)
	var acts []string
	for _, l := range log[:5] {
		acts = append(acts, fmt.Sprint(l.By.ID, " ", l.Act, " ", l.Table, " ", l.Key))
	}
	want := []string{"ida noted as present people mo", "mo noted as absent people mo", "ida set the driving licence of people mo", "ida set the driving licence of people mo", "ida set the level of measuring of people al"}
	if d := cmp.Diff(want, acts); d != "" {
		t.Error(d)
	}
	if n := len(log); log[0].Number != uint64(n) || log[n-1].Number != 1 || log[n-1].Act != "set up" {
		t.Errorf("the log of %d entries runs from %d to %d", n, log[0].Number, log[n-1].Number)
	}
}

// The level rises once the record is long enough: three times on each side without rework.
func TestRaiseLevel(t *testing.T) {
	f, _ := filled(t)
	p, err := procedures.LoadProcedure("task.toml", fmt.Appendf(nil, procedureText, "Task", "1"))
	must(t, err)
	p.ID, p.Stages[0].Task = "task", "measuring"
	must(t, f.Install(foreman, p))
	for n := range uint64(job.RaiseAfter) {
		wantError(t, f.SetLevel(foreman, "al", "measuring", register.LevelAtHolds), "are needed before the level is raised")
		_, err := f.OpenJob(Actor{Person: mechanic}, NewJob{Vehicle: "V1", Complaint: "x", Odometer: "1", Procedure: "task"})
		must(t, err)
		finish(t, f, n+1)
	}
	must(t, f.SetLevel(foreman, "al", "measuring", register.LevelAtHolds))
}
