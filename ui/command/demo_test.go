package command

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/reckon"
)

// recorded is the file of the recorded job, played once for all tests that only read it.
var recorded = sync.OnceValues(func() ([]byte, error) {
	return kept(func(p *Program, path string) error { return p.demoText(path) })
})

// kept has a file written in a scratch folder and returns its bytes.
func kept(write func(p *Program, path string) error) ([]byte, error) {
	dir, err := scratchFolder()
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "kept.pawl")
	p, _, _ := program("")
	if err := write(p, path); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
}

// copied puts the bytes of a file into a scratch folder of the test.
func copied(t testing.TB, bytesOf func() ([]byte, error)) string {
	t.Helper()
	data, err := bytesOf()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(scratch(t), "copy.pawl")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// played is a copy of the recorded job.
func played(t testing.TB) string { return copied(t, recorded) }

func TestDemoWithoutTerminal(t *testing.T) {
	path := filepath.Join(scratch(t), "demo.pawl")
	code, out, messages := pawl(t, "", "demo", "--file", path)
	if code != exitFine || messages != "" {
		t.Fatalf("exit %d: %s", code, messages)
	}
	golden(t, "demo.text", normal(out))
	for n, line := range strings.Split(out, "\n") {
		if width(line) > textWidth {
			t.Errorf("line %d is %d cells wide: %s", n+1, width(line), line)
		}
	}
	headings := 0
	for line := range strings.Lines(out) {
		if strings.HasPrefix(line, "DEMO: ") || strings.Contains(line, "DEMO, invented") {
			headings++
		}
	}
	if headings < 80 {
		t.Errorf("only %d headings say that it is a demo", headings)
	}
	code, out, messages = pawl(t, "", "verify", "1", "--file", path)
	if code != exitFine || !strings.Contains(out, load(t, path, 1).Head.String()) {
		t.Errorf("verify: exit %d, %q, %q", code, out, messages)
	}
}

// The refusals the demo has to show, each by a line of its script.
func TestDemoShowsEveryRefusal(t *testing.T) {
	data, err := scripts.ReadFile("demo/" + scriptMain)
	if err != nil {
		t.Fatal(err)
	}
	expected := map[string]bool{}
	for line := range strings.Lines(string(data)) {
		if blank([]byte(line)) {
			continue
		}
		l, err := parseLine([]byte(line))
		if err != nil {
			t.Fatal(err)
		}
		if l.expect != "" {
			at, _ := l.intent.FieldByName("Stage").Interface().(procedures.Ref)
			expected[string(l.expect)+" at "+at.String()] = true
		}
	}
	for what, want := range map[string]string{
		"a torque out of window refused at signing": "outside at wheel-final-pass/left",
		"a stale stage after a disc comes off":      "stale at pads-in/left",
		"an apprentice's stage waiting":             "second at test-before",
		"a look without a tool in hand":             "unchecked at caliper-on/left",
		"an interrupted pass that is not complete":  "missing at wheel-final-pass/right",
		"a release while a state is open":           "state-open at released",
		"a wrench out of date":                      "instrument at installed-runout/left",
		"a window its wrench cannot prove":          "instrument at carrier-bolts/left",
		"a wrong new disc":                          "outside at discs-checked/left",
		"a run-out to be cured":                     "outside at installed-runout/left",
		"a seized-slide question not answered":      "question at scope-decided",
	} {
		if !expected[want] {
			t.Errorf("the demo does not show %s (%s)", what, want)
		}
	}
}

func TestDemoRecord(t *testing.T) {
	c := load(t, played(t), 1)
	if c.Released == nil || !c.Released.Independent || len(c.Open) != 0 || c.Paused != nil {
		t.Fatalf("not released cleanly: %+v, open %v", c.Released, c.Open)
	}
	at := func(ref string) *job.StageCard {
		s := c.Stage(procedures.ParseRef(ref))
		if s == nil {
			t.Fatalf("no stage %s", ref)
		}
		return s
	}
	if n := len(at("discs-checked/left").Attempts); n != 2 {
		t.Errorf("new disc left: %d attempts, want 2", n)
	}
	if n := len(at("installed-runout/left").Attempts); n != 3 {
		t.Errorf("run-out left: %d attempts, want 3 (outside, indexed, disc off again)", n)
	}
	if e := at("disc-on/left").Current().Entry("position", ""); e == nil || e.Value.Number != "3" {
		t.Errorf("the disc on the left stands at %+v, want position 3", e)
	}
	upper := at("carrier-bolts/right").Current().Entry("bolts", "upper bolt")
	if upper == nil || upper.Adapter == nil || reckon.Round(upper.Bolt, 2).String() != "94.44 N·m" || upper.Verdict != quantity.Inside {
		t.Errorf("the adapter setting: %+v", upper)
	}
	broken := 0
	for _, e := range at("wheel-final-pass/right").Current().Entries {
		if e.Broken {
			broken++
		}
	}
	if broken != 4 {
		t.Errorf("%d nuts of the broken pass are kept as evidence, want 4", broken)
	}
	hint := ""
	for i := range at("wheel-final-pass/left").Current().Entries {
		hint += job.Hint(&at("wheel-final-pass/left").Current().Entries[i])
	}
	if !strings.Contains(hint, "118 lbf·ft") {
		t.Errorf("no wrong-scale hint: %q", hint)
	}
	said := ""
	for _, m := range c.Remarks() {
		said += accents.Off(m.Text) + "\n"
	}
	for _, words := range []string{"will overflow", "inner pad 4.4 mm thinner"} {
		if !strings.Contains(said, words) {
			t.Errorf("no remark says %q:\n%s", words, said)
		}
	}
}

func TestDemoTwiceIsTheSame(t *testing.T) {
	path := filepath.Join(scratch(t), "again.pawl")
	if code, _, messages := pawl(t, "", "demo", "--file", path); code != exitFine {
		t.Fatal(messages)
	}
	a, b := load(t, played(t), 1), load(t, path, 1)
	if withoutTimes(t, a) != withoutTimes(t, b) {
		t.Error("the same script gave two records")
	}
	if a.Head != b.Head {
		t.Error("with one clock even the digests with times must be equal")
	}
}

// The depot of the screen: one finished job, one in the bay, everything behind the clock.
func TestDemoScreen(t *testing.T) {
	p, _, _ := program("")
	p.Terminal = true
	var notice string
	var jobs []store.Summary
	p.Screen = func(_ context.Context, f *store.File, n string) error {
		notice = n
		var err error
		jobs, err = f.Jobs()
		for _, j := range jobs {
			if j.Last.After(f.Now()) {
				t.Errorf("job %d has entries from the future", j.Number)
			}
		}
		c, err2 := f.Load(jobs[0].Number)
		if err2 != nil {
			t.Error(err2)
		} else if s := c.Stage(procedures.ParseRef("discs-checked/left")); s.Status != job.SecondOwed {
			t.Errorf("Jory's disc is %s, want it to wait for a second person", s.Status)
		}
		return err
	}
	path := filepath.Join(scratch(t), "kept.pawl")
	if code := p.Run(context.Background(), []string{"demo", "--file", path}); code != exitFine {
		t.Fatalf("exit %d: %s", code, p.Err.(*bytes.Buffer))
	}
	if len(jobs) != 2 || jobs[0].Status != store.InBay || jobs[1].Status != store.Closed {
		t.Errorf("jobs: %+v", jobs)
	}
	for _, person := range depotPeople("") {
		if !regexp.MustCompile(`^[0-9]{4}$`).MatchString(person.code) || !strings.Contains(notice, person.Name) || !strings.Contains(notice, person.code) {
			t.Errorf("the notice %q lacks %s %s", notice, person.Name, person.code)
		}
	}
	if _, err := os.Stat(path); err != nil {
		t.Error("the file asked for was not kept")
	}
	if code := p.Run(context.Background(), []string{"demo", "--file", path}); code != exitRefused {
		t.Errorf("a demo over a file that is there: exit %d", code)
	}
}

// Without --file nothing stays behind; and the demo runs on any day, for its clock and its due dates
// go with it.
func TestDemoLeavesNothing(t *testing.T) {
	dir := scratch(t)
	t.Setenv("XDG_RUNTIME_DIR", dir)
	p, _, messages := program("")
	p.Now = func() time.Time { return time.Date(2031, 12, 31, 23, 59, 0, 0, time.UTC) }
	if code := p.Run(context.Background(), []string{"demo"}); code != exitFine {
		t.Fatal(messages)
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// The depot alone: people, instruments and vehicles, no job, and the codes said once.
func TestDemoDepotOnly(t *testing.T) {
	path := filepath.Join(scratch(t), "depot.pawl")
	code, out, messages := pawl(t, "", "demo", "--depot-only", "--file", path)
	if code != exitFine || messages != "" || !strings.Contains(strings.Join(strings.Fields(out), " "), depotNotice()) {
		t.Fatalf("exit %d, %q, %q", code, out, messages)
	}
	f, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	jobs, err := f.Jobs()
	if w, known := f.Workshop(); err != nil || len(jobs) != 0 || !known || !w.Demo || len(f.Vehicles()) == 0 {
		t.Errorf("%d jobs, workshop %+v, %d vehicles, %v", len(jobs), w, len(f.Vehicles()), err)
	}
	if code, _, _ := pawl(t, "", "demo", "--depot-only"); code != exitMisuse {
		t.Errorf("without --file: exit %d", code)
	}
}
