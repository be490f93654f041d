package endtoend

import (
	"path/filepath"
	"slices"
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// until are the lines of a script before the first at a stage.
func until(t *testing.T, lines []line, stage string) []line {
	t.Helper()
	i := slices.IndexFunc(lines, func(l line) bool { return l.Stage == stage })
	if i < 0 {
		t.Fatalf("the script has no stage %s", stage)
	}
	return lines[:i]
}

func ownScript(t *testing.T, name string) []line {
	t.Helper()
	return readLines(t, filepath.Join("testdata", name))
}

// A day of an apprentice: two of his stages wait for a mechanic's countersignature, and a stage that
// is not his to do refuses his entry and his signature.
func TestApprenticesDay(t *testing.T) {
	t.Parallel()
	needTmux(t)
	lines := ownScript(t, "apprentice.jsonl")
	d := startBoth(t, nil, lines[0])
	for _, l := range lines {
		d.play(l)
	}
	c := d.compare()
	for _, id := range []string{"first-look", "tools-ready"} {
		a := c.Stage(procedures.ParseRef(id)).Current()
		if a.Signed == nil || a.Countersigned == nil || a.Signed.By.ID != "A11" || a.Countersigned.By.ID != "M04" {
			t.Errorf("%s is signed %+v and countersigned %+v", id, a.Signed, a.Countersigned)
		}
	}
	if !d.shown["role wheels-named"] {
		t.Error("nothing was refused to the apprentice")
	}
	for _, e := range c.Events {
		if b, ok := e.Body.(job.Entered); ok && b.Stage.Stage == "wheels-named" && e.By.ID == "A11" {
			t.Errorf("event %d is an apprentice's entry at a mechanic's stage", e.Seq)
		}
	}
}

// A pass broken off in the evening is taken over by another mechanic in the morning: the stop sheet
// is read back line by line, and the pass begins again at the first nut.
func TestInterruptedPassTakenOverNextMorning(t *testing.T) {
	t.Parallel()
	needTmux(t)
	refit := ownScript(t, "refit.jsonl")
	at := procedures.ParseRef("rear-wheel-final-pass/left")
	d := startBoth(t, until(t, refit, at.String()), refit[0])
	for _, l := range ownScript(t, "takeover.jsonl") {
		if l.Do == "resume" {
			d.morningAs(l.By)
		}
		d.play(l)
		if l.Do == "resume" {
			d.goTo(at)
			if it := d.focused(); it.name != "nut 1" {
				t.Errorf("the pass goes on at %s", it.label())
			}
		}
	}
	c := d.compare()
	a := c.Stage(at).Current()
	broken := 0
	for _, e := range a.Entries {
		if e.Broken {
			broken++
		}
	}
	if broken != 3 || a.Signed == nil || a.Signed.By.ID != "M07" || a.Countersigned == nil {
		t.Errorf("%d entries of the broken pass are kept, want 3; signed %+v, countersigned %+v", broken, a.Signed, a.Countersigned)
	}
	takenOver := slices.ContainsFunc(c.Events, func(e job.Event) bool { b, ok := e.Body.(job.Resumed); return ok && b.TakenOver && b.Lines == 5 })
	if !takenOver {
		t.Error("the record does not say that the job was taken over and the stop sheet read back")
	}
}

// A withheld vehicle whose work has ended is made safe in the order of the graph, and leaves on a
// recovery vehicle only.
func TestWithheldVehicleIsMadeSafeAndHandedToRecovery(t *testing.T) {
	t.Parallel()
	needTmux(t)
	refit := ownScript(t, "refit.jsonl")
	d := startBoth(t, until(t, refit, "faces-cleaned"), refit[0])
	for _, l := range ownScript(t, "recovery.jsonl") {
		d.play(l)
	}
	c := d.compare()
	if c.Released == nil || c.Released.Outcome != job.OutcomeRecovery || len(c.Open) != 0 || c.Withheld == nil {
		t.Errorf("released %+v, withheld %+v, open %v", c.Released, c.Withheld, c.Open)
	}
}

// Back for the re-torque: one nut that moved a little is recorded; more of them refuse the
// signature until the wheel has been off and a new attempt shows nothing.
func TestReTorqueVisitWhereNutsMoved(t *testing.T) {
	t.Parallel()
	needTmux(t)
	refit := ownScript(t, "refit.jsonl")
	before := until(t, refit, "returned")
	d := startBoth(t, before, refit[0])
	// The first lines of everybody in this run of pawl enter need the code.
	for _, l := range withCodes(t, refit[len(before):]) {
		d.play(l)
	}
	c := d.compare()
	left, right := c.Stage(procedures.ParseRef("rear-re-torque/left")), c.Stage(procedures.ParseRef("rear-re-torque/right"))
	if e := left.Current().Entry("moved", ""); e == nil || e.Answer != "one, by less than thirty degrees" {
		t.Errorf("what moved on the left: %+v", e)
	}
	if len(right.Attempts) != 2 || right.Attempts[0].Signed != nil || right.Current().Signed == nil || !d.shown["outside rear-re-torque/right"] {
		t.Errorf("the right side has %d attempts: %+v", len(right.Attempts), right.Attempts)
	}
}
