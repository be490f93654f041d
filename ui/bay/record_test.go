package bay

import (
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// walked plays a job of the test van to its end, an apprentice with two mechanics and the foreman.
// On the way a value is mistyped and corrected, a stage is done again, and the job is paused.
func walked(t testing.TB, f *store.File, now *time.Time) uint64 {
	t.Helper()
	openJob(t, f)
	all, err := f.Jobs()
	must(t, err)
	n := all[0].Number
	do := func(by store.Actor, want job.Intent) {
		*now = now.Add(2 * time.Minute)
		if _, _, err := f.Do(n, by, want); err != nil {
			t.Fatalf("%s: %#v: %v", by.Person.Name, want, err)
		}
	}
	left, right := procedures.Ref{Stage: "pads", Side: procedures.Left}, procedures.Ref{Stage: "pads", Side: procedures.Right}
	w := walk.Walker{Crew: walk.Crew{Doer: nils, Second: ylva, Foreman: frida}, Register: f.Register()}
	w.Choose = func(_ *job.Card, at procedures.Ref, pc *procedures.PlanCheck, item string) string {
		if at == left && pc.ID == "thickness" && item == "outer leading" {
			return "1.6 mm"
		}
		return ""
	}
	corrected, again, paused := false, false, false
	for range 400 {
		c, err := f.Load(n)
		must(t, err)
		m, more, err := w.Next(c, f.Context(store.Actor{Person: frida}))
		must(t, err)
		if !more {
			return n
		}
		by := store.Actor{Person: m.By, CodeGiven: true}
		if in, ok := m.Want.(job.Enter); ok && in.Stage == left && in.Item == "outer trailing" && !corrected {
			corrected = true
			do(by, job.Enter{Stage: left, Check: "thickness", Item: "outer leading", Value: "6.1 mm", With: "P1", Reason: job.ReasonSlip})
			continue
		}
		do(by, m.Want)
		if sig, ok := m.Want.(job.Sign); ok && sig.Stage == right && !again {
			again = true
			do(store.Actor{Person: ylva}, job.Again{Stage: right, Reason: "the gauge had been knocked"})
		}
		if sig, ok := m.Want.(job.Sign); ok && sig.Stage.Stage == "decide" && !paused {
			paused = true
			do(store.Actor{Person: ylva}, job.Pause{Note: "dinner"})
		}
	}
	t.Fatal("the job does not end")
	return 0
}

// recordOf is the record of a walked job on the screen.
func recordOf(t *testing.T) *run {
	t.Helper()
	f, now := workshop(t)
	n := walked(t, f, now)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("F")
	r.type_("laundry")
	r.sees("Van of the laundry")
	r.keys("Enter")
	c, err := f.Load(n)
	must(t, err)
	if !c.Finished() {
		t.Fatal("the job is not finished")
	}
	return r
}

var _ = show(
	state{"finished", func(t *testing.T) *run {
		f, now := workshop(t)
		walked(t, f, now)
		r := start(t, f, now)
		r.signIn(tarik)
		r.keys("F")
		return r
	}},
	state{"finished, none", func(t *testing.T) *run {
		f, now := workshop(t)
		r := start(t, f, now)
		r.signIn(tarik)
		r.keys("F")
		return r
	}},
	state{"record", recordOf},
	state{"record, in the middle", func(t *testing.T) *run { r := recordOf(t); r.keys("Right Right Right Right Down"); return r }},
)

// TestRecord reads a whole job: exceptions first, then every part in order, to the digest.
func TestRecord(t *testing.T) {
	r := recordOf(t)
	r.both("record-head")
	r.coloured("record-head", "dark")
	r.sees("READ FIRST")
	r.sees("grinds at the rear when braking")
	seen := r.frame()
	for range 60 {
		r.keys("Right")
		seen += r.frame()
	}
	r.sees("The record ends here")
	r.both("record-end")
	r.keys(strings.Repeat("PageUp ", 20))
	for range 30 {
		r.keys("PageDown")
		seen += r.frame()
	}
	c, err := r.f.Load(1)
	must(t, err)
	for _, want := range []string{
		"READ FIRST", "CORRECTION of entry", "which was 1.6 mm OUTSIDE: typing slip", "REPLACED by entry", "Attempt 2 of 2: the gauge had been knocked",
		"Tool P1, pad gauge, serial number S-P1", "certificate C-P1", "window at least 2.0 mm, from Test workshop book (invented), issue 2",
		"Countersigned: Ylva Moor, mechanic", "evidence C click confirmed", "LEFT Caliper on, guide bolts", "Caliper hung, RIGHT  put back",
		"stopped: dinner", "went on", "Released by Frida Holm", c.Head.String()[:24],
	} {
		if !containsText(seen, want) {
			t.Errorf("the record does not show %q", want)
		}
	}
	r.keys(strings.Repeat("PageUp ", 20) + "Left")
	r.sees("The record begins here")
	r.keys("5")
	r.sees("5 does nothing here")
}

// TestRecordIsReadOnly presses everything: the record stays as it is.
func TestRecordIsReadOnly(t *testing.T) {
	r := recordOf(t)
	before := events(t, r)
	r.keys("S C A T K 1 2 Enter Enter + * Backspace Tab")
	if events(t, r) != before {
		t.Error("something was written from the record")
	}
	r.keys("Esc")
	r.sees("Finished jobs: 1")
}

// TestRecordWidths writes the record narrow and wide: no line is longer than it may be, and every
// part begins in it.
func TestRecordWidths(t *testing.T) {
	r := recordOf(t)
	c, err := r.f.Load(1)
	must(t, err)
	for _, w := range []int{58, 78, 118, 198} {
		b := newRecordText(&r.m.env, c, w)
		for i, l := range b.out {
			if draw.Width(l) > w {
				t.Errorf("%d wide: line %d is %d: %q", w, i+1, draw.Width(l), l)
			}
		}
		for _, m := range b.marks {
			if m.line >= len(b.out) {
				t.Errorf("part %q begins after the end", m.title)
			}
		}
	}
}
