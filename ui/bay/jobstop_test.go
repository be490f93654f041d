package bay

import "testing"

func TestCodeInATextFieldIsAskedAbout(t *testing.T) {
	r := onJob(t, tarik)
	r.keys("1")
	before := events(t, r)
	r.type_("S2002")
	r.keys("Enter")
	r.sees("Is this really the text?")
	r.keys("2")
	if events(t, r) != before {
		t.Error("a code stands in the record")
	}
	r.keys("Enter 1")
	r.sees("Recorded: S2002")
}

func TestPauseAndResume(t *testing.T) {
	r := atBolts(t)
	r.keys("P")
	r.sees("As the vehicle stands")
	r.both("stop-kinds")
	r.keys("1 Enter")
	r.sees("is empty; type it")
	r.type_("phone")
	r.keys("Enter")
	r.sees("PAUSED")
	r.both("paused")
	r.keys("1")
	r.sees("The job is paused")
	r.keys("P")
	r.sees("Go on with the job?")
	r.keys("Enter")
	r.sees("Enter answers nothing here")
	r.keys("1")
	r.sees("The job goes on")
}

func TestStopSheetIsReadBack(t *testing.T) {
	r := atBolts(t)
	r.keys("P 4")
	for _, v := range []string{"pads", "shelf 3", "board", "ext 12"} {
		r.type_(v)
		r.keys("Enter")
	}
	r.sees("PAUSED")
	r.keys("P")
	r.sees("Read at the vehicle: 1 of 5")
	r.both("read-back")
	r.keys("1 1 2")
	r.sees("PAUSED")
	r.keys("P 1 1 1 1 1")
	r.sees("The job goes on")
}

// TestSets enters a run-out set: the curve, the figure worked out of it, and the big digits.
func TestSets(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.keys("* 1 Esc Up")
	for range 7 {
		r.keys("Up")
	}
	r.sees("Run-out of the disc, 1   1 of 8")
	for i, v := range []string{"0", "0.02", "0.04", "0.05", "0.04", "0.02", "0.01", "-0.02"} {
		if i == 4 {
			r.both("run-out-half")
		}
		r.type_(v)
		r.keys("Enter")
		if i == 0 {
			r.keys("1")
		}
	}
	r.sees("0.07 mm")
	for r.m.focus() != FocusNumber {
		r.keys("Up")
	}
	r.both("run-out")
}
