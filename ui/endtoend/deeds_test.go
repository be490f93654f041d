package endtoend

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// openJob begins a job from the list of jobs, filling the rows of the page in whatever order they
// come.
func (w *worker) openJob(l line, procedure string) {
	w.t.Helper()
	w.awaitText("Jobs in the bay")
	w.chars("n")
	w.awaitText("Which vehicle has come in?")
	w.types(l.Vehicle)
	w.keys("Enter")
	w.awaitText("New job for " + l.Vehicle)
	rows := map[string]string{"Complaint": l.Complaint, "Ordered by": l.Customer, "Odometer": l.Odometer, "Procedure": procedure}
	for range 20 {
		f := w.look()
		label, stands, _ := strings.Cut(f.marked(), "  ")
		text, ok := rows[label]
		switch {
		case ok && label == "Procedure":
			w.turnTo(text)
		case ok:
			w.replace(label, strings.TrimSpace(stands), text)
		case len(rows) == 0 && strings.Contains(f.keyBar(), "F  finish"):
			w.chars("f")
			w.await("the job ahead", func(f frame) bool { return strings.Contains(f.keyBar(), "open the job") })
			w.keys("Enter")
			w.await("the job", func(f frame) bool {
				return strings.HasPrefix(f.status(), "Job ") && strings.Contains(f.status(), " is open")
			})
			return
		}
		delete(rows, label)
		f = w.look()
		if len(rows) > 0 || !strings.Contains(f.keyBar(), "F  finish") {
			w.keys("Enter")
			w.await("the row after "+label, func(f frame) bool { return !strings.HasPrefix(f.marked(), label) })
		}
	}
	w.t.Fatalf("the page of the new job comes to no end\n%s", w.look())
}

// replace types text in the place of what stands in the field of a row.
func (w *worker) replace(label, stands, text string) {
	w.t.Helper()
	if stands = strings.TrimSuffix(stands, "_"); stands != "" {
		w.keys(slices.Repeat([]string{"BSpace"}, len([]rune(stands)))...)
		w.await("the row to be empty", func(f frame) bool {
			_, stands, _ := strings.Cut(f.marked(), "  ")
			return strings.TrimSpace(stands) == "_"
		})
	}
	w.types(text)
}

// turnTo turns the answers of a row until it stands at one that begins so.
func (w *worker) turnTo(answer string) {
	w.t.Helper()
	for range 30 {
		f := w.look()
		_, stands, _ := strings.Cut(f.marked(), "  ")
		if strings.HasPrefix(strings.TrimSpace(stands), answer) {
			return
		}
		w.keys("Right")
		w.await("another answer", func(g frame) bool { return !g.same(f) })
	}
	w.t.Fatalf("the row does not come to %q\n%s", answer, w.look())
}

// outcome is what the screen answered to an entry.
type outcome string

const (
	recorded    outcome = "recorded"
	notRecorded outcome = "not recorded"
)

// enter enters one value at the item in focus and follows the questions that come up until the
// screen says what became of it.
func (w *worker) enter(it item, l line, raw string) (outcome, frame) {
	w.t.Helper()
	w.real = false
	before := w.look()
	if strings.Contains(before.keyBar(), "back into the field") {
		w.keys("Enter")
		before = w.await("the field to take text", func(f frame) bool { return !strings.Contains(f.keyBar(), "back into the field") })
	}
	switch it.check.Kind {
	case procedures.Confirm:
		w.chars(map[string]string{"yes": "1", "no": "2"}[raw])
	case procedures.Choice:
		n := slices.Index(it.check.Options, raw)
		if n < 0 {
			w.t.Fatalf("%q is no answer of %s", raw, it.label())
		}
		w.chars(strconv.Itoa(n + 1))
	default:
		switch {
		case l.All:
			w.chars("*")
		case l.Clicked:
			w.chars("+")
		default:
			w.types(raw)
			before = w.look()
			w.keys("Enter")
		}
	}
	for range 12 {
		f := w.await("an answer to "+it.label()+" "+raw, func(f frame) bool {
			return !f.same(before) && (!f.bare() || strings.HasPrefix(f.status(), "Recorded") || strings.HasPrefix(f.status(), "Not recorded") || strings.HasPrefix(f.status(), "It stays"))
		})
		title, _, open := f.dialog()
		switch {
		case strings.HasPrefix(title, "Exceptions of this job"): // they are read before anything else
			w.close()
			return w.enter(it, l, raw)
		case !open && strings.HasPrefix(f.status(), "Not recorded"):
			return notRecorded, f
		case !open:
			return recorded, f
		case strings.HasPrefix(title, "Every fastener left clicked?"):
			w.sudden("yes", func() { w.chars("1") })
		case strings.HasPrefix(title, "Why is it corrected?"):
			w.sudden("own words", func() { w.pick("own words") })
			w.await("room for own words", func(f frame) bool { return f.titled("Why is it corrected?") && f.has("_") })
			w.types(l.Reason)
			f = w.look()
			w.keys("Enter")
		case f.has("Slip of the keys, or real?"):
			w.sudden("real", func() { w.pick("real: it stays") })
			w.real = true
		case f.has(" Recorded: "):
			w.sudden("close", func() { w.keys("Escape") })
			return recorded, f
		case f.has("Not recorded"):
			return notRecorded, f
		default:
			w.t.Fatalf("nobody expects this question at %s\n%s", it.label(), f)
		}
		before = f
	}
	w.t.Fatalf("%s %s comes to no end\n%s", it.label(), raw, w.look())
	return "", frame{}
}

// quiet is longer than a dialog that opened by itself takes no key.
const quiet = 500 * time.Millisecond

// sudden presses a key in a dialog that may have opened by itself and has been seen. Such a dialog
// takes no key for a moment, so that one meant for the screen before is not an answer. The key is
// pressed once, after that moment: another one might fall into what comes after the dialog.
func (w *worker) sudden(what string, press func()) {
	w.t.Helper()
	f := w.look()
	time.Sleep(quiet)
	press()
	w.await("the dialog to take "+strconv.Quote(what), func(g frame) bool { return !g.same(f) })
}

// sign signs the stage shown.
func (w *worker) sign() {
	w.t.Helper()
	w.letter("s")
	w.readExceptions("s")
	w.await("the code to be asked for", func(f frame) bool { return f.titled("Sign: ") })
	w.code(w.person)
	w.await("the signature", func(f frame) bool {
		return f.bare() && (strings.HasPrefix(f.status(), "Signed") || strings.HasPrefix(f.status(), "Released"))
	})
}

// readExceptions reads the page of exceptions where the screen puts it before everything else, and
// presses the key again.
func (w *worker) readExceptions(key string) {
	w.t.Helper()
	f := w.await("a dialog", func(f frame) bool { return !f.bare() || strings.HasPrefix(f.status(), "Recorded") })
	if f.titled("Exceptions of this job") {
		w.close()
		w.chars(key)
	}
}

// refusedSign presses S and reads why the stage cannot be signed.
func (w *worker) refusedSign() []string {
	w.t.Helper()
	w.letter("s")
	w.await("what blocks", func(f frame) bool { return f.titled("What blocks: ") })
	text := w.paneText()
	w.close()
	return text
}

// countersign has another person sign under the stage shown; the doer stays signed in. Wrench and
// value are for one who has to put the own wrench on it first. Whoever countersigns sooner than the
// rules believe anybody can look is sent back to look, and comes again.
func (w *worker) countersign(id, wrench, value string) {
	w.t.Helper()
	for range 90 {
		w.letter("c")
		f := w.await("who countersigns", func(f frame) bool { return f.titled("Countersign: ") })
		if f.titled("Countersign: who looks?") {
			w.pick(names[id] + ",")
			f = w.await("the own wrench or the code", func(f frame) bool {
				return f.titled("The own wrench of ") || f.has("Personal code of "+names[id])
			})
			if f.titled("The own wrench of ") {
				w.fill(wrench, value)
				w.keys("Enter")
			}
		} else {
			w.chooses(id)
		}
		w.code(id)
		f = w.await("the countersignature", func(f frame) bool {
			return f.bare() && strings.HasPrefix(f.status(), "Countersigned") || f.titled("Please read")
		})
		if f.bare() {
			return
		}
		if !f.has("within a minute") {
			w.t.Fatalf("the countersignature is refused\n%s", f)
		}
		w.close()
		time.Sleep(time.Second)
	}
	w.t.Fatalf("the minute of countersignatures does not end\n%s", w.look())
}

// owesOwnWrench reads that somebody cannot countersign without the own wrench.
func (w *worker) owesOwnWrench(id string) []string {
	w.t.Helper()
	w.letter("c")
	w.await("who countersigns", func(f frame) bool { return f.titled("Countersign: who looks?") })
	w.pick(names[id] + ",")
	f := w.await("the own wrench to be asked for", func(f frame) bool { return f.titled("The own wrench of " + names[id]) })
	_, rows, _ := f.dialog()
	w.close()
	return rows
}

// again begins a new attempt at the stage shown, by one of its ways out or in own words.
func (w *worker) again(l line) {
	w.t.Helper()
	w.letter("a")
	w.await("the ways out", func(f frame) bool { return f.titled("A new attempt") })
	if l.Rework != "" {
		for _, rw := range w.stage(l.ref()).Stage.Reworks {
			if rw.ID == l.Rework {
				w.pick(rw.Title)
			}
		}
	} else {
		w.pick("only this stage again, in own words")
		w.await("room for own words", func(f frame) bool { return f.titled("Why is it done again?") })
		w.types(l.Reason)
		w.keys("Enter")
	}
	w.await("the new attempt", func(f frame) bool { return f.bare() && strings.HasPrefix(f.status(), "Attempt ") })
}

// pause stops the job; a stop longer than a pause is written down with where everything is.
func (w *worker) pause(l line) {
	w.t.Helper()
	w.letter("p")
	w.await("the kinds of stop", func(f frame) bool { return f.titled("Why does the job stop?") })
	w.pick(l.Kind)
	w.await("room for words", func(f frame) bool { return f.titled("Stop: " + l.Kind) })
	if l.Kind == job.StopPause {
		w.fill(l.Note)
	} else {
		w.fill(l.Note, l.PartsAt, l.KeyAt, l.Call)
	}
	w.await("the job to be paused", func(f frame) bool { return f.bare() && f.has(" PAUSED ") })
}

// more opens a row of the menu of everything else, and a row of the menu behind it.
func (w *worker) more(row, then string) {
	w.t.Helper()
	w.letter("m")
	w.await("the menu", func(f frame) bool { return f.titled("More") })
	w.pick(row)
	w.await("the menu behind "+row, func(f frame) bool { return !f.titled("More") && !f.bare() })
	w.pick(then)
}

// safeToLeave signs that the stopped vehicle may stand overnight.
func (w *worker) safeToLeave() {
	w.t.Helper()
	w.more("Stop sheet, safe to leave overnight", "sign: safe to leave overnight")
	w.code(w.person)
	w.await("the signature", func(f frame) bool {
		return f.bare() && strings.HasPrefix(f.status(), "Signed: the vehicle may stand as the stop sheet says")
	})
}

// withhold says that the vehicle must not be driven.
func (w *worker) withhold(l line) {
	w.t.Helper()
	w.more("The vehicle stays, or the work ends", "withhold the vehicle")
	w.await("the classes", func(f frame) bool { return f.titled("Withhold the vehicle: why?") })
	w.pick(l.Class)
	w.await("room for words", func(f frame) bool { return f.titled("Withhold: " + l.Class) })
	w.fill(l.Words, l.Told)
	w.await("the vehicle to be withheld", func(f frame) bool { return f.bare() && strings.HasPrefix(f.status(), "WITHHELD") })
}

// endWork ends the work unfinished and goes to the first stage that makes the vehicle safe.
func (w *worker) endWork(l line) {
	w.t.Helper()
	w.more("The vehicle stays, or the work ends", "end the work unfinished")
	w.await("room for words", func(f frame) bool { return f.titled("End the work unfinished: why?") })
	w.types(l.Reason)
	w.keys("Enter")
	w.code(w.person)
	w.await("what is left to do", func(f frame) bool { return f.titled("To make it safe: ") })
	w.sudden("the first stage", func() { w.chars("1") })
	w.await("the first stage", frame.bare)
}

// resume goes on, reading the stop sheet back line by line where one is owed.
func (w *worker) resume() (lines int) {
	w.t.Helper()
	w.letter("p")
	f := w.await("the way back", func(f frame) bool { return f.titled("Go on with the job?") || f.titled("Read at the vehicle:") })
	goesOn := func(g frame) bool { return g.bare() && strings.HasPrefix(g.status(), "The job goes on") }
	for !goesOn(f) {
		title, _, _ := f.dialog()
		w.chars("1")
		lines++
		// Each line has its number in the title; a key more would be typed into the job.
		f = w.await("the next line", func(g frame) bool {
			next, _, open := g.dialog()
			return open && next != title || goesOn(g)
		})
	}
	return lines
}

// answerQuestion answers what the figures of the stage shown ask.
func (w *worker) answerQuestion(answer string) {
	w.t.Helper()
	w.letter("r")
	w.await("the questions", func(f frame) bool { return f.titled("The figures ask") })
	w.chars("1")
	w.await("room for the answer", func(f frame) bool { return f.titled("Answer") })
	w.types(answer)
	f := w.look()
	w.keys("Enter")
	w.await("the answer to be taken", func(g frame) bool { return g.bare() && !g.same(f) && g.status() != "" })
}
