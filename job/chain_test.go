package job_test

import (
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// One side is stripped and built at a time; what is stripped again disturbs the building, and that
// disturbs the look at both. Stripping does not name the look.
const chainProcedure = `
format = 1
id = "chain"
title = "One side at a time (invented)"
revision = "1"
demo = true

[[phase]]
id = "work"
title = "work"

[[state]]
id = "bare"
title = "side stripped"
danger = "nobody knows how it went together"
label = "stripped"
if_stopped = "leave the parts in their order"
sided = true

[[stage]]
id = "strip"
title = "Stripped"
phase = "work"
why = "to renew it"
good = "every part lies in order"
who = "mechanic"
sided = true
sets = ["bare"]
other_shut = ["bare"]
disturbs = ["build"]
[[stage.check]]
id = "done"
kind = "confirm"
title = "stripped"

[[stage]]
id = "measure"
title = "Measured"
phase = "work"
why = "it is seen only while it is stripped"
good = "nothing is worn"
who = "mechanic"
sided = true
after = ["strip"]
needs_open = ["bare"]
[[stage.check]]
id = "done"
kind = "confirm"
title = "measured"

[[stage]]
id = "build"
title = "Built"
phase = "work"
why = "it has to hold"
good = "as the other side was"
who = "mechanic"
sided = true
after = ["measure"]
clears = [{ state = "bare", proof = ["done"] }]
disturbs = ["look"]
[[stage.check]]
id = "done"
kind = "confirm"
title = "built"

[[stage]]
id = "look"
title = "Looked at"
phase = "work"
why = "both sides must be alike"
good = "they are alike"
who = "mechanic"
after = ["build"]
[[stage.check]]
id = "done"
kind = "confirm"
title = "alike"

[[stage]]
id = "let-go"
title = "Released"
phase = "work"
why = "one answers for it"
good = "all is put back"
who = "foreman"
act = "release"
after = ["look"]
[[stage.check]]
id = "ok"
kind = "confirm"
title = "all put back"
`

func openChain(t *testing.T) *bay {
	t.Helper()
	p, err := procedures.LoadProcedure("chain.toml", []byte(chainProcedure))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Check(); err != nil {
		t.Fatal(err)
	}
	plan, err := procedures.Resolve(p, &procedures.Sheet{ID: "none", Demo: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	b := &bay{t: t, plan: plan, reg: depot(), now: time.Date(2026, 3, 3, 8, 0, 0, 0, time.UTC)}
	b.must(quill, job.Open{Number: 7, Vehicle: register.Vehicle{ID: "9", Name: "Tarnholt 9 (invented)", Demo: true},
		Complaint: "squeal", Odometer: "61430", Plan: plan})
	return b
}

// done confirms a stage and signs it.
func (b *bay) done(stage string) {
	b.t.Helper()
	b.enter(ninna, stage, "done", "", "yes", "")
	b.sign(ninna, stage)
}

func TestOneSideWaitsForTheOther(t *testing.T) {
	b := openChain(t)
	b.enter(ninna, "strip/left", "done", "", "yes", "")
	right := job.Enter{Stage: ref("strip/right"), Check: "done", Value: "yes"}
	b.refused(ninna, right, job.CodeStateOpen, "one side at a time", "Built, left")
	b.sign(ninna, "strip/left")
	b.refused(ninna, right, job.CodeStateOpen, "one side at a time")
	b.done("measure/left")
	b.enter(ninna, "build/left", "done", "", "yes", "")
	b.refused(ninna, right, job.CodeStateOpen, "one side at a time")
	b.sign(ninna, "build/left")
	b.must(ninna, right)
	b.sign(ninna, "strip/right")
}

// Staleness goes on from what rests on a stage to what rests on that.
func TestStaleIsHandedOn(t *testing.T) {
	b := openChain(t)
	for _, stage := range []string{"strip/left", "measure/left", "build/left", "strip/right", "measure/right", "build/right", "look"} {
		b.done(stage)
	}
	b.must(ninna, job.Again{Stage: ref("strip/left"), Reason: "a spring is missing"})
	for stage, want := range map[string]job.Status{"strip/left": job.Ready, "build/left": job.Stale, "look": job.Stale,
		"strip/right": job.Complete, "build/right": job.Complete} {
		if got := b.card.Stage(ref(stage)).Status; got != want {
			t.Errorf("%s is %s, want %s", stage, got, want)
		}
	}
	b.refused(quill, job.Sign{Stage: ref("let-go")}, job.CodeStale, "Looked at")
	b.done("strip/left")
	b.done("build/left")
	b.refused(quill, job.Sign{Stage: ref("let-go")}, job.CodeStale, "Looked at")
	b.done("look")
	b.enter(quill, "let-go", "ok", "", "yes", "")
	b.sign(quill, "let-go")
}

// What is measured again on a side that is built up is refused: it can only be seen while stripped.
func TestNeedsOpen(t *testing.T) {
	b := openChain(t)
	b.done("strip/left")
	b.done("measure/left")
	b.done("build/left")
	b.must(ninna, job.Again{Stage: ref("measure/left"), Reason: "read on the wrong scale"})
	b.refused(ninna, job.Enter{Stage: ref("measure/left"), Check: "done", Value: "yes"}, job.CodeStateShut, "side stripped")
	b.must(ninna, job.Again{Stage: ref("build/left"), Reason: "measured again"})
	b.done("measure/left")
	b.done("build/left")
}
