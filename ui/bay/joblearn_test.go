package bay

import (
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// TestBlindSecond: the first values are not on the screen while the second are taken; then both are.
func TestBlindSecond(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	d := doer{t, f}
	at := procedures.Ref{Stage: "look", Side: procedures.Left}
	for i, item := range []string{"1", "2", "3", "4"} {
		d.enter(nils, at, "disc", item, []string{"10.42", "10.40", "10.41", "10.44"}[i], "M1")
	}
	r := start(t, f, now)
	r.signIn(nils)
	r.keys("Enter")
	r.goTo("Disc looked at, left")
	r.keys("M 3 2")
	r.sees("Who measures the second time?")
	r.seesNot("10.42")
	r.by(tarik)
	r.sees("Tool of Tarik Sand")
	r.keys("1")
	r.seesNot("10.42")
	r.both("blind")
	r.fill("10.42", "10.41", "10.40", "10.10")
	r.sees("3 of 4 agree")
	r.sees("no: measure both again, together")
	r.both("blind-agreement")
	r.keys("Enter")
	r.sees("Disc looked at")
	if a := r.card().Stage(at).Current(); len(a.Blinds) != 4 || a.Blinds[0].By.ID != tarik.ID || a.Entry("disc", "4").Value.String() != "10.44 mm" {
		t.Errorf("blind values %+v", a.Blinds)
	}
}

// TestPlantedFaults: opened by the foreman with planted faults, marked everywhere, debriefed.
func TestPlantedFaults(t *testing.T) {
	f, now := visitShop(t)
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("P N")
	r.sees("Practice: which vehicle or bench axle?")
	r.both("practice-vehicle")
	r.keys("2 2 1 2")
	r.sees("new disc of another size; wrench whose calibration ran out")
	r.both("practice-faults")
	r.keys("7")
	r.fill("stud with a torn thread")
	r.keys("8")
	r.sees("PRACTICE job 1")
	r.both("practice-stage")
	r.handTo(nils)
	r.keys("M 3 4")
	r.sees("Only a foreman opens the debrief")
	r.keys("3")
	r.fill("the disc does not fit the sheet")
	r.sees("Found: the disc does not fit the sheet")
	r.handTo(frida)
	r.keys("M 3 4")
	r.sees("NOT FOUND")
	r.both("debrief")
	r.keys("1 1")
	r.keys("M 3 4")
	if n := strings.Count(r.frame(), "NOT FOUND"); n != 2 {
		t.Errorf("%d faults not found, want 2:\n%s", n, r.frame())
	}
	r.keys("Esc Esc Esc")
	r.sees("PRACTICE, in the bay")
	jobs, err := f.Jobs()
	must(t, err)
	if !jobs[0].Practice || len(f.Vehicles()[1].Odometer) != 1 {
		t.Error("the practice job reached the vehicle's history")
	}
}

// TestLevels: a level is raised by the foreman only after the count, one at a time, and always
// lowered.
func TestLevels(t *testing.T) {
	f, now := visitShop(t)
	for n := uint64(1); n <= 3; n++ {
		_, err := f.OpenJob(store.Actor{Person: frida}, store.NewJob{Vehicle: "V-8", Complaint: "practice", Odometer: "41230", Procedure: "visit", Practice: true})
		must(t, err)
		for _, side := range []procedures.Side{procedures.Left, procedures.Right} {
			at := procedures.Ref{Stage: "look", Side: side}
			for i, item := range []string{"1", "2", "3", "4"} {
				_, _, err := f.Do(n, store.Actor{Person: nils, CodeGiven: true}, job.Enter{Stage: at, Check: "disc", Item: item, Value: []string{"10.42", "10.40", "10.41", "10.44"}[i], With: "M1"})
				must(t, err)
			}
			_, _, err := f.Do(n, store.Actor{Person: nils, CodeGiven: true}, job.Sign{Stage: at})
			must(t, err)
		}
		if n == 2 {
			r := start(t, f, now)
			r.signIn(frida)
			r.keys("P Enter 3")
			r.sees("Raised only after 3 times")
		}
	}
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("P")
	r.sees("the foreman may raise the level")
	r.keys("Enter")
	r.both("level")
	r.keys("4")
	r.sees("One level at a time")
	r.keys("Enter Esc Enter 3")
	r.code(frida)
	if p, _ := f.Register().Person("nk"); p.Level("measuring") != register.LevelAtHolds {
		t.Errorf("the level is %s", p.Level("measuring"))
	}
	r.sees("measuring is")
	r.keys("G Enter Enter")
	r.sees("Written for the printer")
	r.keys("Esc D")
	r.sees("practice-record")
}

// TestIdleLock signs the person out and leaves the stage in view; Esc does not get past it, and what
// was half typed is there again.
func TestIdleLock(t *testing.T) {
	r := onVisit(t, tarik)
	r.type_("10.4")
	r.wait(9 * time.Minute)
	r.seesNot("was signed out")
	r.wait(2 * time.Minute)
	r.sees("Tarik Sand was signed out after 10 minutes")
	r.sees("LEFT SIDE")
	r.sees("nobody signed in")
	r.both("idle")
	before := events(t, r)
	r.keys("Esc")
	r.sees("Somebody signs in before anything goes on")
	r.press("CtrlC")
	r.sees("Leave pawl?")
	r.keys("2")
	r.sees("was signed out")
	r.by(tarik)
	r.sees("10.4_")
	if events(t, r) != before {
		t.Error("the lock wrote something")
	}

	// A dialog comes back for the same person, and is gone for another.
	r.keys("M 7")
	r.wait(11 * time.Minute)
	r.by(tarik)
	r.sees("withhold the vehicle")
	r.wait(11 * time.Minute)
	r.by(ylva)
	r.seesNot("withhold the vehicle")
	if r.m.env.Person.ID != ylva.ID {
		t.Error("Ylva is not signed in")
	}
}

// TestIdleTimeIsASetting follows the workshop's own time.
func TestIdleTimeIsASetting(t *testing.T) {
	f, now := visitShop(t)
	w, _ := f.Workshop()
	w.IdleMinutes = 3
	must(t, f.SaveWorkshop(w))
	r := start(t, f, now)
	r.signIn(tarik)
	r.wait(4 * time.Minute)
	r.sees("after 3 minutes")
}

// TestWhoWaits lists who waits for help, what is withheld and what stands open, and leads there.
func TestWhoWaits(t *testing.T) {
	f, now := visitShop(t)
	openVisit(t, f, false)
	d := doer{t, f}
	d.do(nils, job.NotSure{Stage: procedures.Ref{Stage: "look", Side: procedures.Right}, Note: "where is point 1?"})
	d.do(tarik, job.Withhold{Class: "below minimum", Words: "9.8 mm", Told: "the dairy"})
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("W")
	r.sees("FETCH")
	r.sees("where is point 1?")
	r.both("who-waits")
	r.keys("Enter")
	r.sees("job 1  V-8")
}
