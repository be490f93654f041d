package bay

import (
	"testing"

	"bay.example/pawl/job/register"
	"bay.example/pawl/store"
)

// openJob begins a job on the test vehicle.
func openJob(t testing.TB, f *store.File) {
	t.Helper()
	_, err := f.OpenJob(store.Actor{Person: tarik}, store.NewJob{Vehicle: "V-7", Complaint: "grinds at the rear when braking", Customer: "the laundry", Odometer: "61430", Procedure: "small"})
	must(t, err)
}

// onJob is the program on a fresh job, signed in.
func onJob(t testing.TB, p register.Person) *run {
	t.Helper()
	f, now := workshop(t)
	openJob(t, f)
	r := start(t, f, now)
	r.signIn(p)
	r.keys("Enter")
	return r
}

// sign signs the stage shown with the code of the person signed in.
func (r *run) sign() {
	r.t.Helper()
	r.keys("S")
	r.sees("Sign: ")
	r.type_(codes[r.m.env.Person.ID])
	r.keys("Enter")
}

// second countersigns the stage shown.
func (r *run) second(p register.Person) {
	r.t.Helper()
	r.keys("C")
	r.type_(p.ID)
	r.keys("Enter")
	r.type_(codes[p.ID])
	r.keys("Enter")
}

// recheck has a second person put the own wrench on the fasteners and countersign; n is the number
// in the list.
func (r *run) recheck(p register.Person, n int) {
	r.t.Helper()
	r.keys("C")
	r.sees(p.Name)
	r.keys(string(rune('0' + n)))
	r.sees("The own wrench of " + p.Name)
	for _, v := range []string{"W1", "34", ""} {
		r.type_(v)
		r.keys("Enter")
	}
	r.sees("4 fasteners checked with W1 at 34")
	r.type_(codes[p.ID])
	r.keys("Enter")
}

// handTo hands over to somebody.
func (r *run) handTo(p register.Person) {
	r.t.Helper()
	r.keys("H")
	r.type_(p.ID)
	r.keys("Enter")
	r.type_(codes[p.ID])
	r.keys("Enter")
	if r.m.env.Person.ID != p.ID {
		r.t.Fatalf("%s did not take over:\n%s", p.Name, r.frame())
	}
}

// TestWalk is a whole small job by three people, typed.
func TestWalk(t *testing.T) {
	r := onJob(t, tarik)
	r.both("reception")
	r.keys("1")
	r.type_("grinds")
	r.keys("Enter")
	r.sign()
	r.sees("Raise and support")
	r.both("raise")
	r.handTo(nils)
	r.keys("4 Enter")
	r.sign()
	r.sees("SECOND PERSON OWED")
	r.both("second-owed")
	r.second(tarik)
	r.sees("Countersigned")

	// Pads on both sides: the tool is asked for once.
	r.sees("LEFT SIDE")
	r.sees("Pads measured")
	r.type_("8.4")
	r.keys("Enter")
	r.sees("Which one is in your hand?")
	r.both("tool")
	r.keys("1")
	r.sees("8.4 mm")
	for _, v := range []string{"8.1", "7.9", "7.2"} {
		r.type_(v)
		r.keys("Enter")
	}
	r.both("pads")
	r.sign()
	r.sees("RIGHT SIDE")
	for _, v := range []string{"8.4", "8.1", "2.0", "1.6"} {
		r.type_(v)
		r.keys("Enter")
		if v == "2.0" {
			r.sees("NOT PROVEN")
		}
	}
	r.sees("Slip of the keys, or real?")
	r.both("doubt")
	r.keys("1")
	r.type_("5.6")
	r.keys("Enter Up")
	r.type_("5.1")
	r.keys("Enter")
	r.sees("Why is it corrected?")
	r.both("reason")
	r.keys("3")
	r.sees("Ready to sign")
	r.sees("corrected")
	r.both("pads-corrected")
	r.sign()

	// The decision is the foreman's.
	r.sees("foreman, stage 5 of")
	r.handTo(frida)
	r.both("decide")
	r.keys("1")
	r.sign()
	r.handTo(nils)
	r.sees("Caliper off and hung")
	r.keys("1")
	r.sign()
	r.keys("1")
	r.sign()
	r.sees("Caliper on, guide bolts")
	r.sees("STILL OPEN 3")
	r.both("bolts")

	// Torque: count in, set, click, click, outside, real, again.
	r.keys("4 Enter")
	r.keys("3 4 Enter")
	r.sees("Which one is in your hand?")
	r.sees("dropped")
	r.both("wrenches")
	r.keys("4")
	r.sees("ran out")
	r.keys("1")
	r.sees("34 N·m")
	r.keys("+")
	r.keys("K Enter")
	r.type_("52")
	r.keys("Enter")
	r.sees("12 N·m over 40 N·m")
	r.both("torque-outside")
	r.keys("2")
	r.keys("Esc S")
	r.sees("What blocks")
	r.both("blocks")
	r.keys("Esc")
	r.keys("A")
	r.both("again")
	r.keys("1")
	r.sees("ATTEMPT 2")
	r.keys("4 Enter 3 4 Enter *")
	r.sees("Every fastener left clicked?")
	r.keys("1")
	r.sees("3 fasteners confirmed at once")
	r.both("torque-done")
	r.sees("Pads fitted, number")
	r.burst("DEMO-4711")
	r.burst("LOT 17 B")
	r.type_("E11-90R")
	r.keys("Enter")
	r.sees("Ready to sign")
	r.both("bolts-ready")
	r.sign()
	r.recheck(ylva, 3)
	r.sees("Countersigned")

	// The other side, without the way through the tools again.
	r.sees("RIGHT SIDE")
	r.keys("4 Enter 3 4 Enter *")
	r.keys("1")
	for _, part := range []string{"DEMO-4711", "LOT 17 B", "E11-90R"} {
		r.burst(part)
	}
	r.sign()
	r.recheck(ylva, 3)
	r.sees("Lower the vehicle")
	r.keys("4 Enter")
	r.sign()
	r.second(tarik)
	r.sees("Nothing stands open")
	r.handTo(ylva)
	r.keys("1")
	r.sign()
	r.second(tarik)
	r.handTo(frida)
	r.sees("READ FIRST")
	r.both("release")
	// Nothing is confirmed before the page was opened.
	r.keys("1")
	r.sees("Exceptions of this job")
	r.both("exceptions")
	r.keys("Esc 1")
	r.sign()
	r.sees("RELEASED")
	r.both("released")

	jobs, err := r.f.Jobs()
	must(t, err)
	if len(jobs) != 1 || jobs[0].Status == store.InBay {
		t.Errorf("the job stands as %+v", jobs)
	}
	must(t, r.f.Verify(1))
}
