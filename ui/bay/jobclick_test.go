package bay

import (
	"slices"
	"testing"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
)

// TestNothingClicksWithAToolThatIsRead: with a dial wrench in hand the keys of the click are off, before
// any question.
func TestNothingClicksWithAToolThatIsRead(t *testing.T) {
	f, now := toBolts(t)
	q := quantity.MustParse
	must(t, f.PutInstrument(frida, register.Instrument{ID: "W9", Kind: register.DialWrench, Serial: "S-W9", Scales: []quantity.Unit{quantity.NewtonMetre}, Low: q("10 N·m"), High: q("60 N·m"),
		Resolution: q("0.5 N·m"), Error: q("4 %"), Certificate: "C-W9", Calibrated: "2025-10-01", Due: "2026-10-01", Status: register.InUse}))
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter 4 Enter 3 4 Enter")
	pick := r.m.dialog.Dialog.(*toolPick)
	for range slices.Index(pick.ids, "W9") + 1 {
		r.keys("Down")
	}
	r.keys("Enter")
	r.sees("Recorded: 34 N·m")
	before := events(t, r)
	for _, key := range []string{"*", "+", "K"} {
		r.keys(key)
		r.sees("W9, a dial wrench, is read and does not click")
	}
	if r.m.dialog != nil || events(t, r) != before {
		t.Errorf("a question or an event:\n%s", r.frame())
	}
}
