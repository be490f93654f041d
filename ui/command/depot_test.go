package command

import (
	"path/filepath"
	"slices"
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// Whoever opens the depot of the demonstration can do every shipped procedure on some vehicle of it,
// to the release, with its people and its instruments.
func TestDepotCanDoEveryProcedure(t *testing.T) {
	path := filepath.Join(scratch(t), "depot.pawl")
	clock := newDemoClock(testDay)
	f, err := store.Open(path, store.Options{Now: clock.now, HashCost: demoCost})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := setUpDepot(f, clock.day); err != nil {
		t.Fatal(err)
	}
	reg := f.Register()
	person := func(id string) register.Person {
		p, _ := reg.Person(id)
		return p
	}
	served := map[string]bool{}
	for _, sheet := range f.Sheets() {
		vehicles := f.Vehicles()
		at := slices.IndexFunc(vehicles, func(v register.Vehicle) bool { return v.Sheet == sheet.ID })
		if at < 0 {
			t.Errorf("no vehicle of the depot has the sheet %s", sheet.ID)
			continue
		}
		for _, p := range f.Procedures() {
			if !sheet.ServesProcedure(p.ID) {
				continue
			}
			served[p.ID] = true
			plan, err := procedures.Resolve(p, sheet, nil)
			if err != nil {
				t.Fatal(err)
			}
			w := walk.Walker{Crew: walk.Crew{Doer: person("M04"), Second: person("M07"), Foreman: person("F02")}, Register: reg, Choose: walk.Most}
			ctx := job.Context{At: clock.now(), Station: "bay 2 (demo)", CodeGiven: true, Register: reg, By: w.Crew.Foreman}
			events, err := job.Decide(nil, job.Open{Number: 1, Vehicle: vehicles[at], Complaint: "noise", Odometer: "99000", Plan: plan}, ctx)
			if err != nil {
				t.Fatal(err)
			}
			c, err := job.Fold(plan, events)
			for n := 0; err == nil && n < 4000; n++ {
				ctx.At = ctx.At.Add(demoPace)
				ctx.By = w.Crew.Doer
				m, more, stuck := w.Next(c, ctx)
				if err = stuck; !more || err != nil {
					break
				}
				ctx.By = m.By
				if events, err = job.Decide(c, m.Want, ctx); err == nil {
					c, err = c.With(events)
				}
			}
			if err != nil || c.Released == nil || len(c.Open) != 0 {
				t.Errorf("%s on vehicle %s: %v", p.ID, vehicles[at].ID, err)
			}
		}
	}
	for _, p := range f.Procedures() {
		if !served[p.ID] {
			t.Errorf("%s can be done on no vehicle of the depot", p.ID)
		}
	}
}
