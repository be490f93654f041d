package bay

import (
	"os"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// visitShop is the test workshop with the procedure that ends in a re-torque visit, and its vehicle.
func visitShop(t testing.TB) (*store.File, *time.Time) {
	t.Helper()
	f, now := workshop(t)
	data, err := os.ReadFile("testdata/visit-procedure.toml")
	must(t, err)
	p, err := procedures.LoadProcedure("visit-procedure.toml", data)
	must(t, err)
	must(t, f.Install(frida, p))
	putSheet(t, f, "", "")
	must(t, f.PutVehicle(frida, register.Vehicle{ID: "V-8", Name: "Cart of the dairy", Sheet: "test-cart", Demo: true,
		Odometer: []register.OdometerReading{{Date: "2025-09-01", Value: quantity.MustParse("40000 km")}}}))
	mic := register.Instrument{ID: "M1", Kind: register.Micrometer, Serial: "S-M1", Scales: []quantity.Unit{quantity.Millimetre}, Low: quantity.MustParse("0 mm"),
		High: quantity.MustParse("25 mm"), Resolution: quantity.MustParse("0.01 mm"), Error: quantity.MustParse("0.01 mm"), Certificate: "C-M1", Calibrated: "2025-10-01", Due: "2026-10-01", Status: register.InUse}
	must(t, f.PutInstrument(frida, mic))
	both := register.Instrument{ID: "W6", Kind: register.SettingWrench, Serial: "S-W6", Scales: []quantity.Unit{quantity.NewtonMetre, quantity.MustParse("1 lbf·ft").Unit}, Low: quantity.MustParse("40 N·m"),
		High: quantity.MustParse("200 N·m"), Resolution: quantity.MustParse("1 N·m"), Error: quantity.MustParse("4 %"), Certificate: "C-W6", Calibrated: "2025-10-01", Due: "2026-10-01", Status: register.InUse}
	must(t, f.PutInstrument(frida, both))
	return f, now
}

// putSheet puts the sheet of the cart in use, with one text of it replaced.
func putSheet(t testing.TB, f *store.File, old, new string) {
	t.Helper()
	putRevision(t, f, "visit-sheet.toml", old, new)
}

// putRevision puts a sheet in use, or its next revision with one text in place of another.
func putRevision(t testing.TB, f *store.File, file, old, new string) {
	t.Helper()
	data, err := os.ReadFile("testdata/" + file)
	must(t, err)
	text := string(data)
	if old != "" {
		next := strings.NewReplacer(`revision = "1"`, `revision = "2"`, `revision = "2"`, `revision = "3"`)
		text = strings.ReplaceAll(next.Replace(text), old, new)
	}
	s, err := procedures.LoadSheet(file, []byte(text))
	must(t, err)
	must(t, f.InstallSheet(frida, s))
}

// openVisit begins the job with the re-torque visit.
func openVisit(t testing.TB, f *store.File, practice bool, planted ...string) {
	t.Helper()
	_, err := f.OpenJob(store.Actor{Person: frida}, store.NewJob{Vehicle: "V-8", Complaint: "winter wheels", Customer: "the dairy", Odometer: "41230", Procedure: "visit", Practice: practice, Planted: planted})
	must(t, err)
}

// onVisit is the program on that job, signed in.
func onVisit(t testing.TB, p register.Person) *run {
	t.Helper()
	f, now := visitShop(t)
	openVisit(t, f, false)
	r := start(t, f, now)
	r.signIn(p)
	r.keys("Enter")
	return r
}

// discs measures both sides through the store and signs them.
func (d doer) discs(p register.Person, values ...string) {
	d.t.Helper()
	for _, side := range []procedures.Side{procedures.Left, procedures.Right} {
		r := procedures.Ref{Stage: "look", Side: side}
		for i, item := range []string{"1", "2", "3", "4"} {
			d.enter(p, r, "disc", item, values[i], "M1")
		}
		d.do(p, job.Sign{Stage: r})
	}
}

// wheels puts both wheels on and tightens them, countersigned by the other mechanic.
func (d doer) wheels(p register.Person) {
	d.t.Helper()
	for _, side := range []procedures.Side{procedures.Left, procedures.Right} {
		on, final := procedures.Ref{Stage: "wheel-on", Side: side}, procedures.Ref{Stage: "final", Side: side}
		d.enter(p, on, "by-hand", "", "yes", "")
		d.do(p, job.Sign{Stage: on})
		for _, item := range []string{"1", "2", "3"} {
			d.enter(p, final, "nuts", item, "160", "W2")
		}
		d.do(p, job.Sign{Stage: final})
		if c, err := d.f.Load(1); err == nil && c.Stage(final).Status == job.SecondOwed {
			d.do(ylva, job.Countersign{Stage: final})
		}
	}
}

// fill types each text followed by Enter.
func (r *run) fill(texts ...string) {
	r.t.Helper()
	for _, text := range texts {
		r.type_(text)
		r.keys("Enter")
	}
}

// code types the code of somebody and Enter.
func (r *run) code(p register.Person) {
	r.t.Helper()
	r.fill(codes[p.ID])
}

// by names somebody and types the code.
func (r *run) by(p register.Person) {
	r.t.Helper()
	r.fill(p.ID)
	r.code(p)
}

// TestApprenticesDay: Nils measures, is not sure, is refused once, and has two stages countersigned;
// he is never signed out.
func TestApprenticesDay(t *testing.T) {
	r := onVisit(t, nils)
	r.sees("Disc looked at")
	r.fill("10.42")
	r.keys("1")
	r.fill("10.40", "10.41", "10.44")
	r.sign()

	// He is not sure: one key, one number; the stage waits and says who waits.
	r.keys("N")
	r.both("not-sure")
	r.keys("1")
	r.sees("Good that you say so")
	r.sees("NOT SURE: Nils Karg fetched somebody")
	r.both("not-sure-standing")
	r.type_("10.4")
	r.keys("Enter")
	r.sees("asked for somebody")
	r.sees("Not recorded")
	r.keys("Esc Backspace Backspace Backspace Backspace N")
	r.fill("measure inside the worn edge")
	r.sees("Who came?")
	r.by(tarik)
	r.sees("Answered: the stage goes on")
	r.fill("10.42", "10.40", "10.41", "10.44")
	// The question, asked aloud by the mechanic who stands beside.
	r.keys("M 3 1")
	r.sees("Why is the disc measured at four points?")
	r.both("asked")
	r.keys("2")
	r.by(tarik)
	r.sees("Question asked: Nils Karg with help")
	r.sign()

	for _, side := range []string{"LEFT", "RIGHT"} {
		r.sees(side + " SIDE")
		r.keys("1")
		r.sign()
	}
	// Final pass, left: the refusal is a nut under the window that he must not sign.
	r.sees("Final pass")
	r.fill("120")
	r.keys("1")
	r.sees("Slip of the keys, or real?")
	r.keys("2 S")
	r.sees("What blocks")
	r.sees("outside 150..170")
	r.keys("Esc A")
	r.keys("1")
	r.fill("wrench was set wrong")
	r.fill("160")
	r.keys("* 1")
	r.sign()
	r.sees("SECOND PERSON OWED")
	r.countersigned(ylva, "W2", "160")
	for range 3 {
		r.seesNot("Ylva Moor, mechanic")
	}
	r.sees("RIGHT SIDE")
	r.fill("160")
	r.keys("* 1")
	r.sign()
	r.countersigned(tarik, "W2", "160")
	r.sees("Review and release")
	if r.m.env.Person.ID != nils.ID {
		t.Errorf("%s is signed in", r.m.env.Person.Name)
	}

	// The foreman's list and the practice record know the day.
	r.keys("Esc P")
	r.sees("Practice record of Nils Karg")
	r.sees("measuring")
	r.both("progress")
	r.keys("Enter")
	r.sees("Only a foreman sets the level")
	c, err := r.f.Load(1)
	must(t, err)
	if c.Stage(procedures.Ref{Stage: "final", Side: procedures.Left}).Current().Countersigned.By.ID != ylva.ID {
		t.Error("the left wheel is not countersigned by Ylva")
	}
}

// countersigned has somebody check the fasteners with a wrench and countersign.
func (r *run) countersigned(p register.Person, wrench, value string) {
	r.t.Helper()
	r.keys("C")
	for i, line := range strings.Split(r.frame(), "\n") {
		if at := strings.Index(line, p.Name+", "); at > 4 && i > 3 {
			r.keys(strings.TrimSpace(line[at-4 : at]))
			break
		}
	}
	r.sees("The own wrench of " + p.Name)
	r.fill(wrench, value, "")
	r.code(p)
	r.sees("Countersigned")
}

// TestPassTakenOverNextMorning: Tarik stops inside a pass and signs the vehicle safe to leave; Ylva
// reads the sheet back in the morning, takes over, and the pass begins again at the first nut.
func TestPassTakenOverNextMorning(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	d := doer{t, f}
	d.discs(tarik, "10.42", "10.40", "10.41", "10.44")
	d.enter(tarik, procedures.Ref{Stage: "wheel-on", Side: procedures.Left}, "by-hand", "", "yes", "")
	d.do(tarik, job.Sign{Stage: procedures.Ref{Stage: "wheel-on", Side: procedures.Left}})
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter L")
	for !strings.Contains(r.frame(), "> ► LEFT Final pass") {
		r.keys("Down")
	}
	r.keys("Enter")
	r.sees("Final pass")
	r.fill("160")
	r.keys("1")
	r.keys("P 5")
	r.fill("going home, one nut done", "bench", "board", "Tarik, ext 12")
	r.sees("PAUSED")
	r.keys("M 6")
	r.both("stop-menu")
	r.keys("1")
	r.sees("Nobody has signed that it may stand overnight")
	r.both("stop-sheet")
	r.keys("Esc M 6 3")
	r.both("safe-to-leave")
	r.code(tarik)
	r.sees("the vehicle may stand as the stop sheet says")
	r.keys("M 6 2")
	r.sees("Written for the printer")
	r.keys("Esc Esc W")
	r.sees("STOPPED")
	r.sees("safe to leave: Tarik Sand")
	r.keys("Esc")

	r.wait(10 * time.Hour) // the night; whoever was signed in is not any more
	r.sees("was signed out")
	r.by(ylva)
	r.keys("Enter")
	r.sees("PAUSED")
	r.keys("P")
	r.sees("Stopped by Tarik Sand")
	c, err := r.f.Load(1)
	must(t, err)
	for range c.ReadBack() {
		r.keys("1")
	}
	r.sees("The job goes on")
	r.sees("broken off")
	r.both("taken-over")
	r.fill("160")
	r.keys("1")
	r.sees("INSIDE")
	c, err = r.f.Load(1)
	must(t, err)
	if n := len(c.Stage(procedures.Ref{Stage: "final", Side: procedures.Left}).Current().Entries); n != 2 {
		t.Errorf("%d entries, want the broken-off one and the new one", n)
	}
}

// TestWithheldMadeSafeAndRecovered: a vehicle is withheld, the work ends, what cannot be put back is
// declared, and it leaves on a recovery vehicle with a notice instead of a release.
func TestWithheldMadeSafeAndRecovered(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	d := doer{t, f}
	d.discs(tarik, "10.42", "10.40", "10.41", "10.44")
	for _, side := range []procedures.Side{procedures.Left, procedures.Right} {
		d.enter(tarik, procedures.Ref{Stage: "wheel-on", Side: side}, "by-hand", "", "yes", "")
	}
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("Enter M 7")
	r.both("end-menu")
	r.keys("1")
	r.both("withhold-class")
	r.keys("4")
	r.both("withhold")
	r.fill("stud torn, right", "the dairy, by telephone: not to be driven")
	r.sees("WITHHELD (wheel security): stud torn, right")
	r.both("withheld")
	r.keys("M 7 2")
	r.sees("Nothing has been signed since")
	r.keys("Esc M 7 5")
	r.sees("Only on a withheld vehicle whose work has ended")
	r.keys("Esc M 7 3")
	r.fill("no stud to be had this week")
	r.both("abandon")
	r.by(frida)
	r.sees("To make it safe")
	r.both("make-safe")
	r.keys("Esc")
	r.sees("WORK ENDED")

	// The left wheel is tightened; the right one cannot be and is declared.
	final := procedures.Ref{Stage: "final", Side: procedures.Left}
	for _, item := range []string{"1", "2", "3"} {
		d.enter(tarik, final, "nuts", item, "160", "W2")
	}
	d.do(tarik, job.Sign{Stage: final})
	r.keys("Esc Enter M 7 5 1")
	r.fill("stud torn, wheel strapped")
	r.by(frida)
	r.sees("Declared open")
	r.keys("M 9 5")
	r.sees("not-roadworthy")
	r.keys("Esc")
	r.handTo(frida)
	r.goTo("Review and release")
	r.keys("1")
	r.sees("Exceptions of this job")
	r.keys("Esc 1 S")
	r.both("release-recovery")
	r.code(frida)
	r.sees("NOT ROADWORTHY")
	r.both("released-recovery")
	r.keys("Enter")
	c, err := r.f.Load(1)
	must(t, err)
	if c.Outcome() != job.OutcomeRecovery || len(c.Promises()) != 0 {
		t.Errorf("outcome %q with the promises %v", c.Outcome(), c.Promises())
	}
	r.keys("Esc")
	r.handTo(tarik)
	r.keys("Enter")
	r.fill("driver of the recovery vehicle")
	r.sign()
	c, err = r.f.Load(1)
	must(t, err)
	if !c.Finished() {
		t.Error("the job has not come to its end")
	}
}

// goTo goes to a stage through the list of stages.
func (r *run) goTo(title string) {
	r.t.Helper()
	if r.m.focus() == FocusText {
		r.keys("Esc")
	}
	r.keys("L")
	for range 20 {
		r.press("Up")
	}
	for range 40 {
		s, ok := r.m.holder().(*stageList)
		if !ok {
			r.t.Fatalf("the list of stages is not open:\n%s", r.frame())
		}
		if accents.Off(job.Title(s.card.Stages[s.at].Node)) == title {
			r.keys("Enter")
			return
		}
		r.keys("Down")
	}
	r.t.Fatalf("there is no stage %q", title)
}

// TestRetorqueVisit: released and handed over, the cart comes back at the distance promised; on the
// left two nuts move, so the wheel comes off and the distance begins again.
func TestRetorqueVisit(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	d := doer{t, f}
	d.discs(tarik, "10.42", "10.40", "10.41", "10.44")
	d.wheels(tarik)
	at := procedures.Ref{Stage: "free"}
	d.enter(frida, at, "read", "", "yes", "")
	d.do(frida, job.Sign{Stage: at})
	at = procedures.Ref{Stage: "handed-over"}
	d.enter(tarik, at, "receiver", "", "the dairy's driver", "")
	d.do(tarik, job.Sign{Stage: at})
	*now = now.AddDate(0, 0, 3)

	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("U")
	r.sees("NOT YET")
	r.sees("O takes it")
	r.both("follow-ups")
	r.keys("O")
	r.fill("41290")
	r.sees("DUE")
	r.keys("Enter")
	r.both("follow-up-act")
	r.keys("5")
	r.sees("Only a foreman ends a promise")
	r.keys("2")
	r.fill("soon")
	r.sees("is no date")
	r.keys("Backspace Backspace Backspace Backspace")
	r.fill("2026-03-13", "rang, comes on Friday")
	r.sees("Moved by Tarik Sand: rang, comes on Friday")
	r.keys("W")
	r.both("follow-up-story")
	r.keys("Esc Enter 1")

	r.sees("Back for the re-torque")
	r.fill("41290")
	r.sign()
	r.sees("LEFT SIDE")
	r.sees("Wheel nuts re-torqued")
	r.fill("160")
	r.keys("1")
	r.keys("* 1")
	r.keys("3")
	r.sees("it blocks the signature")
	r.both("nut-moved")
	r.keys("S")
	r.sees("does not pass")
	r.keys("Esc A 1")
	r.sees("ATTEMPT 2")
	r.fill("160")
	r.keys("* 1 1")
	r.sign()
	r.sees("RIGHT SIDE")
	r.fill("160")
	r.keys("* 1 1")
	r.sign()
	c, err := r.f.Load(1)
	must(t, err)
	if p := c.Promises()[0]; p.Ended != job.FollowDone || !strings.Contains(p.LastWord, "Tarik Sand") {
		t.Errorf("the promise stands as %+v", p)
	}
	r.keys("Esc")
	if _, ok := r.m.top().(*followUps); !ok {
		r.keys("Esc U")
	}
	r.sees("ENDED")
}
