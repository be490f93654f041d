package bay

import (
	"testing"

	"bay.example/pawl/ui/draw"
)

// atBench is the list of the calculators.
func atBench(t *testing.T) *run {
	t.Helper()
	f, now := workshop(t)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("B")
	return r
}

// asked fills in a calculator from its first line; an empty text leaves what stands there.
func asked(t *testing.T, name string, texts ...string) *run {
	t.Helper()
	r := atBench(t)
	r.type_(name)
	r.keys("Enter")
	r.fillIn(texts...)
	return r
}

func (r *run) fillIn(texts ...string) {
	r.t.Helper()
	for _, text := range texts {
		for _, c := range text {
			if c == ' ' {
				r.press("Space")
			} else {
				r.press(string(c))
			}
			r.wait(450e6)
		}
		r.keys("Enter")
	}
}

// benchAsked are answers with a picture, with the worked numbers of the trade paper.
var benchAsked = []struct {
	name, form string
	texts      []string
	sees       string
}{
	{"window", "window", []string{">= 16.00 mm", "16,004", "", "", "0.005"}, "not proven"},
	{"able", "able", []string{"27..29 N·m", "28", "4", "0.5", "", "", ""}, "Error that would do"},
	{"disc", "disc", []string{"16.421 16.415 16.418 16.427 16.436 16.441 16.433 16.426", "16.00", "16.50", "0.015", "0.004", "0.001", "", "", "", ""}, "16.415"},
	{"runout", "runout", []string{"0 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07 -.04", "0", "0.08", "", "", "", "", ""}, "0.12"},
	{"index", "index", []string{"6", "0 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07 -.04", "2 = 0 .01 .01 .01 .02 .01 0 -.01 -.01 -.01 -.02 -.01", "", "2", "", "0.08"}, "turned by 3"},
	{"pads", "pads", []string{"", "3.1 3.0", "7.4 7.5", "6.2 6.1", "6.4 6.3", "11.5", "", "", "", "", ""}, "Likely cause"},
	{"wear", "wear", []string{"2,0", "42180 = 11,5", "61430 = 7,9", "", "", "0.2", "20000"}, "cautiously"},
	{"conform", "conform", []string{">= 16.00 mm", "16.004", "0.005", ""}, "probability"},
}

var _ = func() bool {
	show(
		state{"bench", atBench},
		state{"bench, window", func(t *testing.T) *run { return asked(t, "window") }},
		state{"bench, pads", func(t *testing.T) *run { return asked(t, "pads") }},
	)
	for _, b := range benchAsked {
		show(state{"bench, answer " + b.name, func(t *testing.T) *run { return asked(t, b.form, b.texts...) }})
	}
	return true
}()

// inASCII compares the screen drawn with ASCII characters only.
func (r *run) inASCII(name string) {
	r.t.Helper()
	before := r.m.theme
	theme, err := draw.NewTheme(draw.Options{Palette: "mono", ASCII: true})
	must(r.t, err)
	r.m.theme, r.m.env.Theme = theme, theme
	r.both(name + "-ascii")
	r.m.theme, r.m.env.Theme = before, before
}

// TestBenchFrames shows the list, forms and answers.
func TestBenchFrames(t *testing.T) {
	r := atBench(t)
	r.sees("Nothing of the bench is recorded")
	r.both("bench")
	r.inASCII("bench")
	for _, name := range []string{"able", "index", "balance"} {
		r := asked(t, name)
		r.both("bench-form-" + name)
		r.inASCII("bench-form-" + name)
	}
	for _, b := range benchAsked {
		r := asked(t, b.form, b.texts...)
		if !containsText(r.frame(), b.sees) {
			t.Errorf("%s: %q is not on the screen:\n%s", b.name, b.sees, r.frame())
		}
		r.both("bench-answer-" + b.name)
		r.inASCII("bench-answer-" + b.name)
	}
	r.coloured("bench-list", "dark")
	asked(t, "disc", benchAsked[2].texts...).coloured("bench-answer-disc", "bright")
}

// TestBenchWalk makes mistakes on the way to an answer: each is said at its line, what was typed
// stays, and nothing reaches the file.
func TestBenchWalk(t *testing.T) {
	r := atBench(t)
	r.type_("3")
	r.keys("Enter")
	r.sees("Setting of a wrench with an adapter")
	r.sees("Nothing of the bench is recorded")
	r.fillIn("28 mm")
	r.sees("28 mm is no torque")
	r.sees("28 mm_")
	r.keys("Backspace Backspace Backspace Enter")
	r.fillIn("24.5", "300", "40", "", "26..30 N·m")
	r.sees("Give one of Wanted at the bolt")
	r.sees("28_")
	r.keys("Down Backspace Backspace Backspace Backspace")
	r.keys("Enter Enter Enter Enter Enter")
	r.sees("Set the wrench to 24.71 N·m")
	r.keys("Esc")
	r.sees("26..30")
	r.keys("Esc")
	r.sees("Bench calculators: 17")
	r.type_("adapter")
	r.keys("Enter")
	r.sees("26..30")
	r.keys("Esc Esc")
	r.sees("Jobs in the bay")
	r.keys("B")
	r.type_("adapter")
	r.keys("Enter")
	r.seesNot("26..30 N·m_")
	r.seesNot("300_")
	if n := events(t, r); n != 0 {
		t.Errorf("the bench wrote %d events", n)
	}
}

// TestBenchGauge adds what a gauge sends to a list, and takes a scan for a single value.
func TestBenchGauge(t *testing.T) {
	r := asked(t, "disc")
	r.type_("16.42")
	r.burst("16.43")
	r.burst("16.44")
	r.sees("16.42 16.43 16.44_")
	r = asked(t, "vin")
	r.burst("1M8GDM9AXKP042788")
	r.keys("Enter")
	r.sees("The check digit fits")
}
