package bay

import "testing"

// TestSignSaysWhatWasJudged: "none outside" is said of values a window judges only.
func TestSignSaysWhatWasJudged(t *testing.T) {
	r := onJob(t, tarik)
	r.keys("1")
	r.type_("grinds")
	r.keys("Enter R")
	r.sees("Nothing is worked out of the values")
	r.keys("Esc S")
	r.sees("2 of 2 values, none with a window.")
	r.seesNot("none outside")
	r = atBolts(t)
	r.inHand()
	for _, v := range []string{"33", "34", "35", "DEMO-4711", "lot 1", "E-mark 7"} {
		if r.m.focus() == FocusNone {
			break
		}
		r.type_(v)
		r.keys("Enter")
	}
	r.keys("S")
	r.sees("8 of 16 values, 6 with a")
}
