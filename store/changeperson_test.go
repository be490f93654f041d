package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

func TestChangePerson(t *testing.T) {
	f, c := filled(t)
	p, ok := f.Register().Person(mechanic.ID)
	if !ok {
		t.Fatal("the mechanic is not on the register")
	}
	p.Name, p.Absent = p.Name+" Junior", true
	p.Qualifications = []register.Qualification{{ID: "driving licence", Until: "2027-01-31"}}
	must(t, f.ChangePerson(foreman, p))
	if got, _ := f.Register().Person(p.ID); cmp.Diff(p, got) != "" {
		t.Errorf("changed: %s", cmp.Diff(p, got))
	}
	must(t, f.CheckCode(p.ID, mechanicCode)) // the code is not touched

	wantError(t, f.ChangePerson(mechanic, p), "only a foreman changes people")
	nobody := p
	nobody.ID = "nobody"
	wantError(t, f.ChangePerson(foreman, nobody), "nobody on the register")
	unnamed := p
	unnamed.Name = " "
	wantError(t, f.ChangePerson(foreman, unnamed), "has no name")
	lower := foreman
	lower.Role = procedures.Mechanic
	wantError(t, f.ChangePerson(foreman, lower), "is the only foreman")
	gone := p
	gone.Closed = true
	wantError(t, f.ChangePerson(foreman, gone), "does not change")
	must(t, f.ClosePerson(foreman, p.ID))
	wantError(t, f.ChangePerson(foreman, p), "is closed")

	path := f.Path()
	must(t, f.Close())
	checkConsistent(t, path)
	f = open(t, path, c)
	if got, _ := f.Register().Person(p.ID); got.Name != p.Name || !got.Closed {
		t.Errorf("after reopening: %+v", got)
	}
}
