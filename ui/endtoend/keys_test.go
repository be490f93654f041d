package endtoend

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// atThePads is a screen on which Ninna is about to measure the first pad of the job that the demo
// leaves half done.
func atThePads(t *testing.T) (w *worker, path string) {
	t.Helper()
	lines := readScript(t, "part.jsonl")
	to := slices.IndexFunc(lines, func(l line) bool { return l.Stage == "pads-measured/left" })
	path = depot(t)
	playLines(t, path, "new", lines[:to])
	w = screenOn(t, path, 80, 24)
	w.plan = planOf(t, depot(t), lines[0])
	w.signIn("M04")
	w.awaitText("Jobs in the bay: 1")
	w.keys("Enter")
	w.await("the job", func(f frame) bool { return w.shows(f, procedures.ParseRef("pads-measured/left")) })
	w.at = procedures.ParseRef("pads-measured/left")
	w.take("PG1", nil)
	return w, path
}

// playLines has pawl enter do lines on a file.
func playLines(t *testing.T, path, job string, lines []line) {
	t.Helper()
	c := startCompanion(t, path, job)
	for _, l := range lines {
		c.tell(l)
	}
	c.end()
}

// thicknesses are the values recorded for the pads on the left, as typed.
func thicknesses(t *testing.T, path string) []string {
	t.Helper()
	var out []string
	for _, e := range record(t, path, 1).Events {
		if b, ok := e.Body.(job.Entered); ok && b.Stage == procedures.ParseRef("pads-measured/left") {
			out = append(out, b.Raw)
		}
	}
	return out
}

// timely is how long a try waits for keys to be understood.
const timely = 10 * time.Second

func (w *worker) inFocus(label string) func(frame) bool {
	return func(f frame) bool { i := w.focus(f); return i >= 0 && w.items()[i].label() == label }
}

// A keypad in application mode works like the digits, a paste never records, and a scan is no
// measurement.
func TestKeypadPasteAndScanAtANumber(t *testing.T) {
	t.Parallel()
	for tries := 1; ; tries++ {
		why := keypadPasteAndScan(t)
		if why == "" {
			return
		}
		if tries == 3 {
			t.Fatal(why)
		}
		t.Log(why)
	}
}

// keypadPasteAndScan says what was not understood. The program tells the halves of a keypad key and
// the characters of a scan by their times, so a machine that stands still for a moment between two of
// them makes something else of them: that alone is tried again.
func keypadPasteAndScan(t *testing.T) (why string) {
	w, path := atThePads(t)
	first, second := w.items()[0].label(), w.items()[1].label()
	for _, key := range []string{"\x1bOs", "\x1bOn", "\x1bOq"} { // 3 . 1
		w.bytes(key)
		time.Sleep(betweenKeys)
	}
	if !w.within(timely, func(f frame) bool { return f.has(" 3.1_") }) {
		return fmt.Sprintf("3.1 from the keypad is not in the field\n%s", w.look())
	}
	w.bytes("\x1bOM") // Enter
	if !w.within(timely, func(f frame) bool { return w.inFocus(second)(f) && strings.HasPrefix(f.status(), "Recorded: 3.1 mm") }) {
		return fmt.Sprintf("3.1 is not recorded by Enter of the keypad\n%s", w.look())
	}

	w.do(`set-buffer -b pasted "3.0\n9.9\n"`)
	w.do("paste-buffer -b pasted -p -t e")
	f := w.await("the pasted text", func(f frame) bool { return f.has(" 3.0 9.9_") })
	if !w.inFocus(second)(f) || strings.HasPrefix(f.status(), "Recorded") {
		t.Errorf("a paste records\n%s", f)
	}
	w.keys("Enter")
	w.await("the pasted text to be refused", func(f frame) bool { return f.has("Not recorded") })
	if f := w.look(); !f.bare() {
		w.close()
	}
	w.keys(slices.Repeat([]string{"BSpace"}, len("3.0 9.9"))...)
	w.await("the field to be empty", func(f frame) bool { return f.has("  _ ") && w.inFocus(second)(f) })

	w.types("3.")
	w.bytes("UD-PAD-R\r")
	if !w.within(timely, func(f frame) bool { return f.has("is a scan, not a measurement") }) {
		return fmt.Sprintf("the scan is not refused\n%s", w.look())
	}
	if f := w.look(); !f.bare() {
		w.close()
	}
	w.await("the half typed value to be as it was", func(f frame) bool { return w.inFocus(second)(f) && f.has(" 3._") })
	w.chars("0")
	w.awaitText(" 3.0_")
	w.keys("Enter")
	w.await("3.0 to be recorded", func(f frame) bool { return strings.HasPrefix(f.status(), "Recorded: 3.0 mm") })
	w.kill(15)
	if got := thicknesses(t, path); !slices.Equal(got, []string{"3.1", "3.0"}) {
		t.Errorf("%s and the next are recorded as %q", first, got)
	}
	return ""
}

// Another size of the window changes neither the place nor what is half typed; one too small says so
// and keeps both.
func TestResizeKeepsThePlace(t *testing.T) {
	t.Parallel()
	w, path := atThePads(t)
	w.chars("3.1")
	w.awaitText("3.1_")
	w.keys("Enter")
	second := w.items()[1].label()
	w.await("3.1 to be recorded", func(f frame) bool { return strings.HasPrefix(f.status(), "Recorded: 3.1 mm") })
	w.types("2.9")
	half := func(f frame) bool { return w.inFocus(second)(f) && f.has(" 2.9_") && len(f.rows) == w.rows }
	w.await("2.9 half typed", half)
	w.resize(60, 18)
	w.await("the same at 60×18", half)
	w.resize(50, 10)
	w.await("a sentence at 50×10", func(f frame) bool {
		return strings.Contains(squeeze(strings.Join(f.rows, " ")), "This window is too small for pawl: it needs 60 columns and 18 rows. Nothing is lost; make it larger.")
	})
	w.resize(120, 40)
	w.await("the same at 120×40", half)
	w.keys("Enter")
	w.await("2.9 to be recorded", func(f frame) bool { return strings.HasPrefix(f.status(), "Recorded: 2.9 mm") })
	w.kill(15)
	if got := thicknesses(t, path); !slices.Equal(got, []string{"3.1", "2.9"}) {
		t.Errorf("recorded are %q", got)
	}
}
