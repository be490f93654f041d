package endtoend

import (
	"fmt"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// interruptedLine is what the screen records after the program was killed in the middle of the final
// pass on the right; the script of the demo, which is never killed, has no such line.
const interruptedLine = `{"do":"interrupted","by":"M04","stage":"wheel-final-pass/right","check":"final"}`

// The recorded job of the demo, typed by its people at 80×24, and the same lines given to pawl
// enter, make the same record but for the times. On the way the program is killed twice.
func TestDemoJobByHandAndByLines(t *testing.T) {
	t.Parallel()
	needTmux(t)
	lines := append(readScript(t, "main.jsonl"), readScript(t, "after.jsonl")...)
	d := startBoth(t, nil, lines[0])
	d.halve = true
	for _, l := range lines {
		if l.Do == "pause" {
			d.pulledPlugInAPass()
		}
		d.play(l)
	}
	for _, want := range []string{"outside wheel-final-pass/left", "stale pads-in/left", "second test-before", "state-open released",
		"missing wheel-final-pass/right", "unchecked caliper-on/left", "instrument installed-runout/left", "instrument carrier-bolts/left", "draft", "killed in a pass"} {
		if !d.shown[want] {
			t.Errorf("the run did not show %q", want)
		}
	}
	c := d.compare()
	if c.Released == nil || len(c.Open) != 0 {
		t.Errorf("released: %+v; open: %v", c.Released, c.Open)
	}
}

// both plays lines on the screen, and each of them to pawl enter on another file.
type both struct {
	*worker
	path  string
	lines *companion
	other string                    // the file of pawl enter
	shown map[string]bool           // what the run has shown
	asked map[string]procedures.Ref // where a question of the figures is asked
	own   line                      // the check with the own wrench that the next countersignature brings
	halve bool                      // pull the plug once in the middle of a value
}

// startBoth sets up the depot twice, with what happened before, and opens the screen on one of them.
// The first line opens the job.
func startBoth(t *testing.T, before []line, open line) *both {
	t.Helper()
	base := depot(t)
	job := "new"
	if len(before) > 0 {
		playLines(t, base, job, before)
		job = "1"
	}
	d := &both{path: copied(t, base), other: copied(t, base), shown: map[string]bool{}, asked: map[string]procedures.Ref{}}
	d.worker = screenOn(t, d.path, 80, 24)
	d.lines = startCompanion(t, d.other, job)
	d.plan = planOf(t, depot(t), open)
	return d
}

// compare ends both programs and holds one record against the other.
func (d *both) compare() *job.Card {
	d.t.Helper()
	d.lines.end()
	d.t.Logf("%v went by waiting for the minute of countersignatures", d.lines.wait)
	d.kill(syscall.SIGTERM)
	hand, lined := record(d.t, d.path, 1), record(d.t, d.other, 1)
	if diff := cmp.Diff(told(d.t, lined), told(d.t, hand)); diff != "" {
		d.t.Errorf("by lines (-) and by hand (+) differ:\n%s", diff)
	}
	if a, b := withoutTimes(d.t, lined), withoutTimes(d.t, hand); a != b {
		d.t.Errorf("the digests without times differ: %s by lines, %s by hand", a, b)
	}
	return hand
}

// play does one line on the screen and has pawl enter do it, and compares what both say.
func (d *both) play(l line) {
	d.t.Helper()
	if len(l.Values) > 1 && l.Expect == "" {
		// One value at a time: the screen may ask about each, and the answer is recorded after it.
		for _, v := range l.Values {
			d.play(l.withValue(d.t, v))
		}
		return
	}
	if d.person == "" {
		d.begins(l)
	}
	r := d.lines.tell(l)
	switch l.Do {
	case "recheck", "countersign": // the doer stays signed in
	default:
		d.handOver(l.By)
	}
	if l.Stage != "" {
		d.goTo(l.ref())
	}
	for _, b := range r.Refused {
		if b.Code == "question" {
			d.asked[b.Item] = procedures.ParseRef(b.Stage)
		}
	}
	switch l.Do {
	case "open":
		d.openJob(l, d.plan.Procedure.Title)
	case "enter":
		d.enters(l, r)
	case "sign":
		if l.Expect == "" {
			d.sign()
			return
		}
		d.expects(l, r, d.refusedSign())
	case "recheck":
		d.own = l
	case "countersign":
		if l.Expect == "" {
			d.countersign(l.By, d.own.With, d.own.Value)
			d.own = line{}
			return
		}
		rows := d.owesOwnWrench(l.By)
		for _, b := range r.Refused {
			if !reads(rows, b.Item) {
				d.t.Errorf("the own wrench on %s is not asked for in %q", b.Item, rows)
			}
		}
		d.shown[l.Expect+" "+l.Stage] = true
	case "again":
		d.again(l)
	case "pause":
		d.pause(l)
	case "resume":
		if n := d.resume(); l.Read > 0 && n != l.Read {
			d.t.Errorf("%d lines of the stop sheet are read back, want %d", n, l.Read)
		}
	case "sign_safe":
		d.safeToLeave()
	case "withhold":
		d.withhold(l)
	case "abandon":
		d.endWork(l)
	case "answer_question":
		d.goTo(d.asked[l.Key])
		d.answerQuestion(l.Answer)
	default:
		d.t.Fatalf("this test does not know how to do %s", l.raw)
	}
}

// begins signs in who does the first line, and opens the job where there is one.
func (d *both) begins(l line) {
	d.t.Helper()
	d.signIn(l.By)
	if l.Do != "open" {
		d.awaitText("Jobs in the bay: 1")
		d.keys("Enter")
		d.await("the job", func(f frame) bool {
			return strings.Contains(f.row(0), "job 1 ") && strings.Contains(f.row(3), "stage ")
		})
	}
}

// expects compares the reasons the screen gave with those of pawl enter.
func (d *both) expects(l line, r reply, text []string) {
	d.t.Helper()
	found := false
	for _, b := range r.Refused {
		if !reads(text, b.Text) {
			d.t.Errorf("%s: the screen does not say %q; it says\n%s", l.raw, b.Text, strings.Join(text, "\n"))
		}
		found = found || b.Code == l.Expect
	}
	if !found {
		d.t.Errorf("%s: no reason is a %q", l.raw, l.Expect)
	}
	d.shown[l.Expect+" "+l.Stage] = true
}

// enters enters what pawl enter recorded, one item after the other.
func (d *both) enters(l line, r reply) {
	d.t.Helper()
	if l.Expect != "" {
		d.refusedEntry(l, r)
		return
	}
	if len(r.Recorded) == 0 {
		d.t.Fatalf("pawl enter recorded nothing for %s", l.raw)
	}
	for _, e := range r.Recorded {
		if e.Event == "reopened" {
			continue // the first value at a stale stage begins its new attempt
		}
		it := d.goItem(e.Check, e.Item)
		if l.With != "" {
			var on *adapter
			if l.Adapter != nil {
				on = &adapter{number(l.Adapter.Length), number(l.Adapter.Offset)}
			}
			d.take(l.With, on)
		}
		raw := l.Value
		if l.Values != nil {
			raw = l.Values[0]
			if it.no == 4 && len(raw) > 4 && d.halve {
				d.halfTyped(it, raw)
				raw = raw[3:]
			}
		}
		if what, f := d.enter(it, l, raw); what != recorded {
			d.t.Fatalf("%s is not recorded\n%s", l.raw, f)
		}
		if d.real {
			d.lines.tell(parseLine(d.t, fmt.Sprintf(`{"do":"call_real","by":%q,"stage":%q,"check":%q,"item":%q}`, l.By, l.Stage, e.Check, e.Item)))
		}
		if l.All {
			break // one answer for all of them
		}
	}
}

// number is a value without its unit.
func number(text string) string {
	n, _, _ := strings.Cut(text, " ")
	return n
}

// refusedEntry tries a value that is refused: where the stage is closed, the reasons are read;
// where the tool does not serve, the screen says so on choosing it, or on entering.
func (d *both) refusedEntry(l line, r reply) {
	d.t.Helper()
	if f := d.look(); f.has("A stage before this one is not complete; B names it") {
		d.letter("b")
		d.await("what blocks", func(f frame) bool { return f.titled("What blocks: ") })
		text := d.paneText()
		d.close()
		d.expects(l, r, text)
		return
	}
	it := d.goItem(l.Check, l.Item)
	if l.With == "" {
		what, f := d.enter(it, l, l.Value)
		d.refusalRead(what, f, l, r)
		return
	}
	d.letter("t")
	d.await("the tools", func(f frame) bool { return f.titled("Tool for") })
	d.pick(l.With)
	f := d.await("the tool to be taken or refused", func(f frame) bool { return !f.titled("Tool for") || f.status() != "" })
	if f.titled("Tool for") {
		_, rows, _ := f.dialog()
		d.close()
		d.expects(l, r, append(rows, f.status()))
		return
	}
	what, f := d.enter(it, l, l.Value)
	d.refusalRead(what, f, l, r)
	if f := d.look(); f.has(" " + l.Value + "_") {
		d.keys(slices.Repeat([]string{"BSpace"}, len(l.Value))...)
		d.await("the field to be empty", func(f frame) bool { return !f.has(l.Value + "_") })
	}
}

// refusalRead reads why an entry was not recorded.
func (d *both) refusalRead(what outcome, f frame, l line, r reply) {
	d.t.Helper()
	if what != notRecorded {
		d.t.Errorf("%s is recorded\n%s", l.raw, f)
	}
	text := []string{f.status()}
	if !f.bare() {
		text = d.paneText()
		d.close()
	}
	d.expects(l, r, text)
}

// halfTyped kills the program with half a value typed: after the next start the same person finds
// the same item with the same half of it.
func (d *both) halfTyped(it item, raw string) {
	d.t.Helper()
	d.halve = false
	d.types(raw[:3])
	d.killAndReturn(it, raw[:3])
	d.await("the half of a value that was typed at "+it.label(), func(f frame) bool {
		i := d.focus(f)
		return i >= 0 && d.items()[i].label() == it.label() && f.has(" "+raw[:3]+"_")
	})
	d.shown["draft"] = true
}

// morningAs ends the program as at the end of a day and starts it anew for somebody else.
func (d *both) morningAs(id string) {
	d.t.Helper()
	d.kill(syscall.SIGTERM)
	d.restart(screenCommand(d.t, d.path))
	d.awaitText("was left open: it comes back after you signed in.")
	d.signIn(id)
	d.await("the job", func(f frame) bool { return strings.Contains(f.row(0), "job 1 ") && f.has(" PAUSED ") })
}

// killAndReturn pulls the plug when the file has the place and what is half typed there, starts the
// program anew and signs the same person in.
func (d *both) killAndReturn(it item, typed string) {
	d.t.Helper()
	at := d.at
	awaitDraft(d.t, d.path, func(k store.Draft) bool {
		return k.Stage == at && k.Check == it.check.ID && k.Item == it.name && k.Text == typed
	})
	d.kill(syscall.SIGKILL)
	d.restart(screenCommand(d.t, d.path))
	d.awaitText("was left open: it comes back after you signed in.")
	d.signIn(d.person)
	d.await("the stage of before", func(f frame) bool { return d.shows(f, at) })
}

// pulledPlugInAPass kills the program between two nuts of a wheel. The next start comes back to the
// stage and begins the pass again at the first nut.
func (d *both) pulledPlugInAPass() {
	d.t.Helper()
	was := d.focused()
	if was.check.ID != "final" || was.no != 5 {
		d.t.Fatalf("the focus is on %s, not on the fifth nut", was.label())
	}
	d.killAndReturn(was, "")
	d.await("the interrupted pass", func(f frame) bool {
		return f.has("Interrupted after nut 5 (4 of 6): the pass starts again at nut 1") && strings.Contains(f.keyBar(), "start the pass again")
	})
	r := d.lines.tell(parseLine(d.t, interruptedLine))
	if len(r.Recorded) != 1 || r.Recorded[0].Event != "broken" {
		d.t.Fatalf("pawl enter recorded %+v", r.Recorded)
	}
	d.keys("Enter")
	d.await("the pass to begin again", func(f frame) bool {
		return strings.HasPrefix(f.status(), "The pass starts again at the first fastener")
	})
	if it := d.focused(); it.name != "nut 1" {
		d.t.Errorf("the pass begins again at %s", it.label())
	}
	d.shown["killed in a pass"] = true
}

// record reads a job of a file that no program has open, and verifies its chain.
func record(t testing.TB, path string, number uint64) *job.Card {
	t.Helper()
	f, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.Verify(number); err != nil {
		t.Error(err)
	}
	c, err := f.Load(number)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// withoutTimes is the digest of the record with every time taken out, linked anew.
func withoutTimes(t testing.TB, c *job.Card) job.Digest {
	t.Helper()
	at := job.Origin(c.Number())
	for _, e := range c.Events {
		at = job.Link(at, timeless(t, e))
	}
	return at
}

// timeless is the stored form of an event without its time.
func timeless(t testing.TB, e job.Event) []byte {
	t.Helper()
	e.At = time.Unix(0, 0).UTC()
	data, err := job.Encode(e)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// told is every event in a line of text, to find the first that differs.
func told(t testing.TB, c *job.Card) []string {
	t.Helper()
	out := make([]string, len(c.Events))
	for i, e := range c.Events {
		out[i] = describe(e)
	}
	return out
}
