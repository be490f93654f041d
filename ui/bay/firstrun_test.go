package bay

import (
	"strings"
	"testing"
)

var _ = show(state{"first run", func(t *testing.T) *run {
	f, now := emptyFile(t)
	return startWith(t, f, now, Options{Theme: "mono"}, 80, 24)
}})

// TestFirstRun sets a workshop up with one mistake at every row: each is said, nothing is lost.
func TestFirstRun(t *testing.T) {
	f, now := emptyFile(t)
	r := start(t, f, now)
	r.both("firstrun")
	r.coloured("firstrun", "bright")
	r.keys("Enter")
	r.sees("Name of the workshop is empty; type it")
	r.type_("Brake bay 1")
	r.keys("Enter Enter")
	r.sees("Name of the foreman is empty")
	r.type_("Frida Holm")
	r.keys("Enter")
	r.type_("f h")
	r.keys("Enter")
	r.sees("has a blank in it")
	r.keys("Backspace Backspace")
	r.type_("h")
	r.keys("Enter")
	r.type_("12")
	r.keys("Enter")
	r.sees("4 to 12 digits")
	r.type_("x")
	r.sees("A code is digits only")
	r.type_("34")
	r.keys("Enter")
	r.type_("1243")
	r.keys("Enter")
	r.sees("The two codes are not the same")
	r.both("firstrun-code")
	r.seesNot("1234")
	r.keys("Backspace Backspace 3 4 Enter")
	r.keys("3 Enter")
	r.keys("Enter")
	r.sees("nothing is chosen")
	r.keys("Esc")
	r.sees("Nothing has been set up yet")
	r.keys("2")
	r.keys("2 Enter")
	r.sees("Who is working?")
	r.sees("DEMO")
	w, known := f.Workshop()
	if !known || w.Name != "Brake bay 1" || w.Palette != "mono" || !w.Demo {
		t.Errorf("the workshop is %+v", w)
	}
	if len(f.Procedures()) == 0 || len(f.Sheets()) == 0 {
		t.Error("nothing of what comes with the program is in use")
	}
	r.type_("fh")
	r.keys("Enter 1 2 3 4 Enter")
	r.sees("Frida Holm, foreman")
}

// TestFirstRunEmpty starts without the invented sheets: nothing is marked as demo.
func TestFirstRunEmpty(t *testing.T) {
	f, now := emptyFile(t)
	r := start(t, f, now)
	for _, text := range strings.Split("Bay two|Frida Holm|fh|4711|4711", "|") {
		r.type_(text)
		r.keys("Enter")
	}
	r.keys("1 Enter 1 Enter")
	r.sees("Who is working?")
	r.seesNot("DEMO")
	if w, _ := f.Workshop(); w.Demo || w.Palette != "bright" || len(f.Sheets()) != 0 || len(f.Procedures()) == 0 {
		t.Errorf("the workshop is %+v with %d sheets", w, len(f.Sheets()))
	}
}
