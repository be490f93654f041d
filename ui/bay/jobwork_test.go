package bay

import (
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// doer enters and signs through the store, to get a job to where a test begins.
type doer struct {
	t testing.TB
	f *store.File
}

func (d doer) do(p register.Person, want job.Intent) *job.Card {
	d.t.Helper()
	c, _, err := d.f.Do(1, store.Actor{Person: p, CodeGiven: true}, want)
	must(d.t, err)
	return c
}

func (d doer) enter(p register.Person, at procedures.Ref, check, item, value, with string) {
	d.t.Helper()
	d.do(p, job.Enter{Stage: at, Check: check, Item: item, Value: value, With: with})
}

// toBolts opens a job and brings it to the guide bolts, by the mechanic and the foreman.
func toBolts(t testing.TB) (*store.File, *time.Time) {
	t.Helper()
	f, now := workshop(t)
	openJob(t, f)
	d := doer{t, f}
	at := func(id string) procedures.Ref { return procedures.Ref{Stage: id} }
	left, right := procedures.Left, procedures.Right
	d.enter(tarik, at("reception"), "seen", "", "yes", "")
	d.enter(tarik, at("reception"), "words", "", "grinds", "")
	d.do(tarik, job.Sign{Stage: at("reception")})
	d.enter(tarik, at("raise"), "stands", "", "4", "")
	d.do(tarik, job.Sign{Stage: at("raise")})
	for _, side := range []procedures.Side{left, right} {
		r := procedures.Ref{Stage: "pads", Side: side}
		for _, p := range padPoints {
			d.enter(tarik, r, "thickness", p, "8.4", "P1")
		}
		d.do(tarik, job.Sign{Stage: r})
	}
	d.enter(frida, at("decide"), "scope", "", "replace", "")
	d.do(frida, job.Sign{Stage: at("decide")})
	for _, side := range []procedures.Side{left, right} {
		r := procedures.Ref{Stage: "caliper-off", Side: side}
		d.enter(tarik, r, "hook", "", "yes", "")
		d.do(tarik, job.Sign{Stage: r})
	}
	return f, now
}

// atBolts is the program at the guide bolts on the left.
func atBolts(t testing.TB) *run {
	t.Helper()
	f, now := toBolts(t)
	*now = now.Add(time.Minute)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter")
	r.sees("Caliper on, guide bolts")
	r.sees("LEFT SIDE")
	return r
}

// inHand chooses wrench W1 and sets it to 34 N·m on the first bolt.
func (r *run) inHand() {
	r.t.Helper()
	r.keys("4 Enter 3 4 Enter 1")
	r.sees("Recorded: 34 N·m INSIDE")
}

func TestDoubleEnterRecordsOnce(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.type_("33")
	before := events(t, r)
	// The answer of the store is kept back while Enter is pressed again and a digit follows.
	r.hold = true
	r.press("Enter")
	r.wait(60 * time.Millisecond)
	r.press("Enter")
	r.wait(200 * time.Millisecond)
	r.sees("writing")
	r.seesNot("33 N·m  ✓")
	r.answer()
	r.wait(time.Second)
	if n := events(t, r) - before; n != 1 {
		t.Errorf("%d events recorded, want 1", n)
	}
	r.sees("33 N·m")
}

func TestTypingAheadIsNotLost(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.type_("33")
	r.hold = true
	r.press("Enter")
	r.wait(100 * time.Millisecond)
	r.type_("34.5")
	r.answer()
	r.sees("34.5_")
	r.keys("Enter")
	r.sees("Recorded: 34.5 N·m INSIDE")
}

func TestTypingAheadAnswersNoQuestion(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.type_("52")
	r.hold = true
	r.press("Enter")
	r.wait(100 * time.Millisecond)
	r.type_("1")
	r.answer()
	r.sees("Slip of the keys, or real?")
	// Also a key just after the question opened by itself was meant for the field.
	r.press("2")
	r.wait(100 * time.Millisecond)
	r.sees("Slip of the keys, or real?")
	r.wait(time.Second)
	r.keys("2")
	r.seesNot("Slip of the keys, or real?")
}

func TestScanIntoNumberFieldIsRefused(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.type_("3")
	before := events(t, r)
	r.burst("DEMO-4711")
	r.sees("is a scan, not a measurement")
	r.sees(" 3_")
	if events(t, r) != before {
		t.Error("a scan was recorded")
	}
}

func TestToolByScan(t *testing.T) {
	r := atBolts(t)
	r.keys("4 Enter")
	r.burst("S-W1")
	r.sees("W1 is in hand now")
	r.burst("S-W3")
	r.sees("ran out")
	r.sees("with W1")
}

func TestGaugeReadingIsRecorded(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.burst("33.5")
	r.sees("Recorded: 33.5 N·m INSIDE")
}

func TestWrongKeySaysSo(t *testing.T) {
	r := atBolts(t)
	for key, want := range map[string]string{"x": "X does nothing", "/": "/ does nothing", "C": "No second person is asked for", "A": "nothing to do again"} {
		r.keys(key)
		r.sees(want)
	}
}

func TestEnterNeverSigns(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.keys("* 1")
	for _, p := range []string{"DEMO-4711", "LOT 17 B", "E11-90R"} {
		r.burst(p)
	}
	r.sees("Ready to sign")
	before := events(t, r)
	for range 6 {
		r.keys("Enter")
	}
	if events(t, r) != before {
		t.Error("Enter wrote something")
	}
	r.keys("S Enter")
	r.sees("Type the personal code first")
	r.keys("Esc")
	r.sees("Ready to sign")
	r.keys("S")
	r.type_("9999")
	r.keys("Enter")
	r.sees("Personal code of")
	if events(t, r) != before {
		t.Error("a wrong code signed")
	}
	r.keys("Esc S")
	r.burst("2002")
	r.sees("typed, never scanned")
	if events(t, r) != before {
		t.Error("a scanned code signed")
	}
}

func TestDraftSurvivesRestart(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.type_("33.")
	r.wait(time.Second)
	// The program is killed here: nothing is told to it.
	again := start(t, r.f, r.now)
	again.sees("Job 1 was left open")
	again.signIn(tarik)
	again.sees("Interrupted after upper (1 of 4): the pass starts again at upper")
	again.both("interrupted")
	again.keys("5")
	again.seesNot("5_")
	again.keys("Enter")
	again.sees("starts again at the first fastener")
	again.keys("3 4 Enter")
	again.sees("Recorded: 34 N·m INSIDE")
}

// TestNewJobSurvivesRestart stops the program while the page of a new job is half filled in.
func TestNewJobSurvivesRestart(t *testing.T) {
	f, now := workshop(t)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("N Enter")
	r.type_("grinds on the left")
	r.keys("Enter Enter Enter")
	r.type_("6201")
	r.wait(time.Second)
	// The program is killed here: nothing is told to it.
	again := start(t, f, now)
	again.sees("A new job for V-7 was half typed; it comes back for Tarik Sand.")
	again.both("newjob-left")
	other := start(t, f, now)
	other.signIn(ylva)
	other.seesNot("grinds on the left")
	other.sees("Jobs in the bay")
	again.signIn(tarik)
	again.sees("New job for V-7")
	again.sees("grinds on the left")
	again.sees("6201")
	again.keys("Enter Enter Enter")
	again.type_("0")
	again.sees("62010_")
	// What is dropped does not come back.
	again.keys("Esc 1")
	again.seesNot("grinds on the left")
	again.wait(time.Second)
	if d, ok := f.Draft(); ok {
		t.Errorf("the file keeps %+v", d)
	}
	start(t, f, now).seesNot("half typed")
}

func TestDraftOfATextSurvivesRestart(t *testing.T) {
	f, now := workshop(t)
	openJob(t, f)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter 1")
	r.type_("grinds on the le")
	r.wait(time.Second)
	again := start(t, f, now)
	again.signIn(tarik)
	again.sees("grinds on the le_")
	again.type_("ft")
	again.keys("Enter")
	again.sees("Recorded: grinds on the left")

	// Another person gets the place, not the text.
	again.keys("Right")
	r = start(t, f, now)
	r.signIn(nils)
	r.seesNot("grinds on the le_")
}

func TestPanicIsLoggedAndShown(t *testing.T) {
	r := atBolts(t)
	r.do(r.m.call(r.m.top(), Call{Name: "boom", Do: func(*store.File) (any, error) { panic("out of cheese") }}))
	r.sees("out of cheese")
	log, err := os.ReadFile(r.f.Path() + ".log")
	must(t, err)
	if !strings.Contains(string(log), "out of cheese") || !strings.Contains(string(log), "jobwork_test.go") {
		t.Errorf("the log says %q", log)
	}
	if r.m.pending != nil {
		t.Error("the keys stay locked")
	}
}

func TestLateAnswerIsDropped(t *testing.T) {
	r := atBolts(t)
	gone := newNotice("gone", "gone")
	r.send(resultMsg{id: 99, owner: gone, Result: Result{Name: "late", Err: errors.New("late")}})
	r.seesNot("late")
}

func TestSecondSlipNeedsSecondPerson(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	for range 2 {
		r.keys("Up 3 3 Enter 1")
	}
	r.sees("Second slip: who confirms?")
	r.both("second-slip")
	r.type_("ym")
	r.keys("Enter")
	r.type_(codes["ym"])
	r.keys("Enter")
	r.sees("Recorded: 33 N·m")
	if r.m.env.Person.ID != tarik.ID {
		t.Error("the doer is not signed in any more")
	}
}

func TestPanes(t *testing.T) {
	r := atBolts(t)
	for key, name := range map[string]string{"W": "why", "O": "open", "L": "stages", "B": "blocked", "?": "keys"} {
		r.keys(key)
		r.both("pane-" + name)
		r.keys("Esc")
	}
	r.keys("L Up Up Enter")
	r.sees("Caliper off and hung")
}

func TestLeaving(t *testing.T) {
	r := atBolts(t)
	r.keys("3 Esc")
	r.sees("Letters are commands")
	r.keys("Esc")
	r.sees("Jobs in the bay")
	r.keys("Esc")
	r.sees("Leave pawl?")
	r.keys("2")
	r.sees("Jobs in the bay")
	r.keys("Enter")
	r.sees(" 3_") // what was half typed is there again
	r.press("CtrlC")
	r.sees("Leave pawl?")
	r.keys("1")
	if !r.ended {
		t.Error("the program does not end")
	}
}

func TestColours(t *testing.T) {
	r := atBolts(t)
	r.inHand()
	r.type_("52")
	r.keys("Enter")
	r.wait(time.Second)
	for _, palette := range []string{"bright", "dark", "mono"} {
		r.coloured("outside", palette)
	}
	r.keys("2")
	for _, palette := range []string{"bright", "dark", "mono"} {
		r.coloured("job", palette)
	}
}

func TestViewBeforeSize(t *testing.T) {
	f, _ := workshop(t)
	m, err := newModel(f, Options{Theme: "bright"})
	must(t, err)
	if v := m.View(); v != "" {
		t.Errorf("a frame without a size: %q", v)
	}
	if _, err := newModel(f, Options{Theme: "pink"}); err == nil || !strings.Contains(err.Error(), "pink") {
		t.Errorf("an unknown palette gives %v", err)
	}
}

var _ = show(
	state{"job, reception", func(t *testing.T) *run { return onJob(t, tarik) }},
	state{"job, bolts", func(t *testing.T) *run { return atBolts(t) }},
	state{"job, code", func(t *testing.T) *run {
		r := onJob(t, tarik)
		r.keys("1 g Enter S")
		return r
	}},
	state{"job, outside", func(t *testing.T) *run {
		r := atBolts(t)
		r.inHand()
		r.keys("5 2 Enter")
		r.wait(time.Second)
		return r
	}},
	state{"job, tools", func(t *testing.T) *run {
		r := atBolts(t)
		r.keys("4 Enter T")
		return r
	}},
	state{"job, paused", func(t *testing.T) *run {
		r := atBolts(t)
		r.keys("P 1 x Enter")
		return r
	}},
	state{"job, why", func(t *testing.T) *run {
		r := atBolts(t)
		r.keys("W")
		return r
	}},
	state{"job, open", func(t *testing.T) *run {
		r := atBolts(t)
		r.keys("O")
		return r
	}},
	state{"job, stages", func(t *testing.T) *run {
		r := atBolts(t)
		r.keys("L")
		return r
	}},
	state{"job, hand over", func(t *testing.T) *run {
		r := atBolts(t)
		r.keys("H")
		return r
	}},
	state{"job, adapter", func(t *testing.T) *run {
		r := atBolts(t)
		r.keys("4 Enter T 5")
		return r
	}},
)

// TestAdapter works out the torque at the fastener: with 450 mm to the hand point and a 50 mm adapter
// straight ahead, 34 N·m set give 34 × 500/450 = 37.8 N·m (the lever rule), inside 28 to 40.
func TestAdapter(t *testing.T) {
	r := atBolts(t)
	r.keys("4 Enter T 5")
	r.type_("450")
	r.keys("Enter")
	r.type_("nonsense")
	r.keys("Enter")
	r.sees("nonsense")
	for range 8 {
		r.keys("Backspace")
	}
	r.type_("50")
	r.keys("Enter Enter")
	r.sees("Adapter taken")
	r.keys("3 4 Enter 1")
	c, err := r.f.Load(1)
	must(t, err)
	e, ok := c.Last().Body.(job.Entered)
	if !ok || e.Adapter == nil || e.Bolt.IsZero() || !strings.HasPrefix(e.Bolt.Number, "37.7") {
		t.Fatalf("recorded %+v", c.Last().Body)
	}
}
