package bay

import (
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// TestRealCannotBecomeASlip: after "real: it stays" the reason "typing slip" is off, with the way out,
// and who said so stands in the record.
func TestRealCannotBecomeASlip(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.type_("52")
	r.keys("Enter")
	r.sees("Slip of the keys, or real?")
	r.keys("2")
	r.sees("It stays")
	c, err := r.f.Load(1)
	must(t, err)
	x := c.Stage(procedures.Ref{Stage: "bolts", Side: procedures.Left}).Current().Entry("torque", "lower")
	if x == nil || x.Real == nil || x.Real.By.ID != tarik.ID {
		t.Fatalf("not recorded as real: %+v", x)
	}
	r.keys("Up 3 3 Enter")
	r.sees("Why is it corrected?")
	before := events(t, r)
	r.keys("1")
	r.sees("Tarik Sand called it real")
	if n := events(t, r) - before; n != 0 {
		t.Errorf("%d events for a slip of what is real", n)
	}
	r.keys("Esc A")
	r.sees("A new attempt")
	r.keys("1")
	c, err = r.f.Load(1)
	must(t, err)
	if b, ok := c.Last().Body.(job.Reopened); !ok {
		t.Errorf("no new attempt, but %T", b)
	}
}
