package bay

import (
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// TestJobListAgreesWithTheJob: the list names the stage that Enter opens, its side uncut, also when a
// second person is owed or a decision is made again.
func TestJobListAgreesWithTheJob(t *testing.T) {
	f, now := toBolts(t)
	*now = now.Add(time.Minute)
	r := start(t, f, now)
	r.signIn(tarik)
	r.sees("LEFT Caliper on, guide bolts")
	doer{t, f}.do(frida, job.Again{Stage: procedures.Ref{Stage: "decide"}, Reason: "another scope"})
	r.keys("R Esc")
	r.seesNot("LEFT Caliper on")
	r.sees("  Scope of the work")
	r.keys("Enter")
	r.sees("ATTEMPT 2")

	f, now = workshop(t)
	openJob(t, f)
	d := doer{t, f}
	d.enter(tarik, procedures.Ref{Stage: "reception"}, "seen", "", "yes", "")
	d.enter(tarik, procedures.Ref{Stage: "reception"}, "words", "", "grinds", "")
	d.do(tarik, job.Sign{Stage: procedures.Ref{Stage: "reception"}})
	d.enter(nils, procedures.Ref{Stage: "raise"}, "stands", "", "4", "")
	d.do(nils, job.Sign{Stage: procedures.Ref{Stage: "raise"}})
	r = start(t, f, now)
	r.signIn(tarik)
	r.sees("Raise and support")
	r.sees("1 countersign owed")
}
