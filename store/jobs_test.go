package store

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

func TestJobFromOpenToClose(t *testing.T) {
	f, c := filled(t)
	opened := openJob(t, f, "V1", "61430")
	if opened.Number() != 1 || opened.Seq() != 1 || opened.Opened.Procedure.Revision != "1" {
		t.Fatalf("opened: %+v", opened.Opened)
	}
	var refused job.Refused
	if _, err := f.OpenJob(Actor{Person: mechanic}, NewJob{Vehicle: "V1", Complaint: "again", Odometer: "61500", Procedure: "small-check"}); !errors.As(err, &refused) {
		t.Fatalf("a second job for the vehicle: %v", err)
	}
	if v, _ := f.Vehicle("V1"); len(v.Odometer) != 1 {
		t.Fatal("a refused job left its odometer reading")
	}
	line := func() Summary {
		t.Helper()
		all, err := f.Jobs()
		must(t, err)
		if len(all) != 1 {
			t.Fatalf("%d jobs", len(all))
		}
		return all[0]
	}
	want := Summary{Number: 1, Vehicle: job.VehicleRef{ID: "V1", Name: "Demo van"}, Procedure: "Small check", Complaint: "It grinds",
		Opened: c.at, Last: c.at, LastBy: job.Who{ID: "mo", Name: "Mo Mechanic", Role: procedures.Mechanic}, Status: InBay, Of: 4, Stage: "Measure", Demo: true}
	if d := cmp.Diff(want, line()); d != "" {
		t.Fatal(d)
	}
	c.forward(time.Minute)
	do(t, f, 1, apprentice, number(4))
	if l := line(); cmp.Diff([]string{"Vehicle raised"}, l.Open) != "" || l.LastBy.ID != "al" || !l.Last.Equal(c.at) {
		t.Fatalf("after the first entry: %+v", l)
	}
	do(t, f, 1, mechanic, job.Pause{Note: "lunch"})
	if l := line(); l.Status != Paused {
		t.Fatalf("paused: %+v", l)
	}
	do(t, f, 1, mechanic, job.Resume{})
	do(t, f, 1, apprentice, job.Sign{Stage: measure})
	do(t, f, 1, mechanic, job.Enter{Stage: procedures.Ref{Stage: "lower"}, Check: "down", Value: "yes"})
	do(t, f, 1, mechanic, job.Sign{Stage: procedures.Ref{Stage: "lower"}})
	do(t, f, 1, foreman, job.Sign{Stage: procedures.Ref{Stage: "release"}})
	if l := line(); l.Status != Released || l.Done != 3 || len(l.Open) != 0 || l.Stage != "Close" {
		t.Fatalf("released: %+v", l)
	}
	do(t, f, 1, mechanic, job.Sign{Stage: procedures.Ref{Stage: "close"}})
	if l := line(); l.Status != Closed || l.Done != 4 || l.Stage != "" {
		t.Fatalf("closed: %+v", l)
	}
	if c := openJob(t, f, "V1", "61500"); c.Number() != 2 {
		t.Fatalf("the next job has number %d", c.Number())
	}
	if all, _ := f.Jobs(); len(all) != 2 || all[0].Number != 2 {
		t.Fatalf("the list begins with %+v", all)
	}
	must(t, f.Verify(1))
	must(t, f.Verify(2))
}

// What comes back from the file is what Do returned.
func TestReopenedJobIsTheSame(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	fill(t, f)
	openJob(t, f, "V1", "61430")
	do(t, f, 1, apprentice, number(1))
	before, events, err := f.Do(1, Actor{Person: apprentice}, job.Enter{Stage: measure, Check: "depth", Item: "1", Value: "3.10", With: "D1"})
	must(t, err)
	if len(events) != 1 || events[0].Seq != before.Seq() {
		t.Fatalf("events %+v", events)
	}
	must(t, f.Close())
	f = open(t, path, c)
	after, err := f.Load(1)
	must(t, err)
	if before.Head != after.Head {
		t.Fatalf("head %s became %s", before.Head, after.Head)
	}
	same := cmp.Comparer(func(a, b time.Time) bool {
		return a.Equal(b) && a.Format(time.RFC3339Nano) == b.Format(time.RFC3339Nano)
	})
	if d := cmp.Diff(before.Events, after.Events, same); d != "" {
		t.Fatal(d)
	}
	if again, _ := f.Load(1); again != after {
		t.Error("a loaded card is read twice")
	}
}

func TestRefusalsWriteNothing(t *testing.T) {
	f, _ := filled(t)
	openJob(t, f, "V1", "61430")
	do(t, f, 1, apprentice, number(1))
	_, events, err := f.Do(1, Actor{Person: apprentice}, number(1)) // the same once more
	var refused job.Refused
	if !errors.As(err, &refused) || events != nil || refused[0].Code != job.CodeFilled {
		t.Fatalf("a double entry: %v", err)
	}
	if _, _, err := f.Do(1, Actor{Person: apprentice}, job.Sign{Stage: measure}); !errors.As(err, &refused) || refused[0].Code != job.CodeCode {
		t.Fatalf("a signature without the code: %v", err)
	}
	for _, who := range []register.Person{{}, {ID: "ghost", Name: "Ghost", Role: procedures.Foreman}} {
		if _, _, err := f.Do(1, Actor{Person: who, CodeGiven: true}, number(2)); !errors.As(err, &refused) || refused[0].Code != job.CodeRole {
			t.Fatalf("somebody not on the register: %v", err)
		}
	}
	must(t, f.ClosePerson(foreman, "al"))
	if _, _, err := f.Do(1, Actor{Person: apprentice}, number(2)); !errors.As(err, &refused) {
		t.Fatalf("somebody closed: %v", err)
	}
	if _, _, err := f.Do(7, Actor{Person: mechanic}, number(1)); !errors.Is(err, ErrNoJob) {
		t.Fatalf("a job that is not there: %v", err)
	}
	if _, _, err := f.Do(1, Actor{Person: mechanic}, job.Open{}); err == nil {
		t.Fatal("Do opens a job")
	}
	if c, _ := f.Load(1); c.Seq() != 2 {
		t.Fatalf("the job stands at event %d", c.Seq())
	}
	if ctx := f.Context(Actor{Person: apprentice}); !ctx.By.Closed || len(ctx.Register.People) != 3 {
		t.Fatalf("context %+v", ctx)
	}
	for _, n := range []NewJob{
		{Vehicle: "V9", Complaint: "x", Odometer: "1", Procedure: "small-check"},
		{Vehicle: "V1", Complaint: "x", Odometer: "1", Procedure: "other"},
	} {
		if _, err := f.OpenJob(Actor{Person: mechanic}, n); err == nil {
			t.Fatalf("opened %+v", n)
		}
	}
}

// An append that rests on an older state of the job is refused.
func TestStaleCardIsRefused(t *testing.T) {
	f, c := filled(t)
	openJob(t, f, "V1", "61430")
	old := do(t, f, 1, apprentice, number(1))
	other := func(by register.Person, n int) *job.Card {
		ctx := job.Context{At: c.at, Station: "bay-2", By: by, Register: f.Register()}
		events, err := job.Decide(old, number(n), ctx)
		must(t, err)
		after, err := job.Fold(old.Plan, append(old.Events[:len(old.Events):len(old.Events)], events...))
		must(t, err)
		return after
	}
	theirs := other(mechanic, 9)
	mine := do(t, f, 1, apprentice, number(2))
	if _, err := f.commit(old, theirs, nil); !errors.Is(err, ErrStale) {
		t.Fatalf("a stale append: %v", err)
	}
	if _, err := f.commit(nil, old, nil); !errors.Is(err, ErrStale) {
		t.Fatalf("opening a job that is there: %v", err)
	}
	got, err := f.Load(1)
	must(t, err)
	if got.Head != mine.Head {
		t.Fatal("the refused append changed the job")
	}
	must(t, f.Verify(1))
}

// A procedure or sheet that changes leaves the jobs alone that rest on the version before.
func TestPinning(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	fill(t, f)
	must(t, f.PutVehicle(mechanic, register.Vehicle{ID: "V2", Name: "Demo bus", Sheet: "demo-type"}))
	first := openJob(t, f, "V1", "100")
	must(t, f.Install(foreman, loadProcedure(t, "Changed check", "2")))
	must(t, f.InstallSheet(foreman, loadSheet(t, "2")))
	second := openJob(t, f, "V2", "100")
	must(t, f.Close())
	f = open(t, path, c)
	for _, x := range []struct {
		card            *job.Card
		title, revision string
	}{{first, "Small check", "1"}, {second, "Changed check", "2"}} {
		got, err := f.Load(x.card.Number())
		must(t, err)
		if got.Plan.Procedure.Title != x.title || got.Plan.Sheet.Revision != x.revision || got.Opened.Procedure.Title != x.title {
			t.Errorf("job %d rests on %q, sheet revision %s", got.Number(), got.Plan.Procedure.Title, got.Plan.Sheet.Revision)
		}
		p, err := f.Procedure(got.Opened.Procedure.Digest)
		if err != nil || p.Title != x.title {
			t.Errorf("pinned procedure of job %d: %v", got.Number(), err)
		}
	}
	if ps, ss := f.Procedures(), f.Sheets(); len(ps) != 1 || ps[0].Revision != "2" || len(ss) != 1 || ss[0].Revision != "2" {
		t.Fatalf("in use: %d procedures, %d sheets", len(ps), len(ss))
	}
	if _, err := f.Procedure(first.Opened.Sheet.Digest); err == nil {
		t.Error("a sheet comes back as a procedure")
	}
	if _, err := f.Sheet(strings.Repeat("0", 64)); err == nil {
		t.Error("a sheet that nobody pinned")
	}
	wantError(t, f.Install(mechanic, loadProcedure(t, "Mine", "3")), "only a foreman")
	broken := loadProcedure(t, "Broken", "3")
	broken.Stages[0].After = []string{"close"}
	if err := f.Install(foreman, broken); err == nil {
		t.Error("a procedure with a loop is in use")
	}
	logs := 0
	count := func() (n int) {
		must(t, f.view(func(tx *bolt.Tx) error {
			return registerLog.each(tx, func(_, _ []byte) error { n++; return nil })
		}))
		return n
	}
	logs = count()
	must(t, f.Install(foreman, loadProcedure(t, "Changed check", "2"))) // in use already
	if count() != logs {
		t.Error("installing what is in use was logged as a change")
	}
}

// A procedure and its sheet come into use together: where one is refused, the other is not in use.
func TestInstallAllOrNone(t *testing.T) {
	f, _ := filled(t)
	bad := loadSheet(t, "2")
	bad.Author = "over\x1bwritten"
	for name, sheets := range map[string][]*procedures.Sheet{"a bad sheet": {bad}, "a bad sheet behind a good one": {loadSheet(t, "2"), bad}} {
		if err := f.InstallAll(foreman, []*procedures.Procedure{loadProcedure(t, "Changed check", "2")}, sheets); err == nil {
			t.Errorf("%s is taken", name)
		}
		if ps, ss := f.Procedures(), f.Sheets(); ps[0].Revision != "1" || ss[0].Revision != "1" {
			t.Errorf("with %s revision %s of the procedure and %s of the sheet are in use", name, ps[0].Revision, ss[0].Revision)
		}
	}
	must(t, f.InstallAll(foreman, []*procedures.Procedure{loadProcedure(t, "Changed check", "2")}, []*procedures.Sheet{loadSheet(t, "2")}))
	if ps, ss := f.Procedures(), f.Sheets(); ps[0].Revision != "2" || ss[0].Revision != "2" {
		t.Errorf("revision %s of the procedure and %s of the sheet are in use", ps[0].Revision, ss[0].Revision)
	}
}

func TestDraft(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	if _, ok := f.Draft(); ok {
		t.Fatal("a new file has a draft")
	}
	must(t, f.ClearDraft())
	want := Draft{Job: 3, Stage: procedures.Ref{Stage: "s", Side: procedures.Left}, Check: "c", Item: "i", Text: "11,", With: "W1", Person: "al"}
	must(t, f.SaveDraft(Draft{Job: 1}))
	must(t, f.SaveDraft(want))
	must(t, f.Close())
	f = open(t, path, c)
	if got, ok := f.Draft(); !ok || got != want {
		t.Fatalf("draft %+v", got)
	}
	must(t, f.ClearDraft())
	if _, ok := f.Draft(); ok {
		t.Fatal("a cleared draft is there")
	}
}

// Readers and writers may come from several goroutines.
func TestGoroutines(t *testing.T) {
	f, _ := filled(t)
	openJob(t, f, "V1", "1")
	do(t, f, 1, apprentice, number(1))
	errs := make(chan error)
	for g := range 4 {
		go func() {
			var err error
			for k := range 5 {
				_, _, e1 := f.Do(1, Actor{Person: apprentice}, number(2+10*g+k))
				_, e2 := f.Jobs()
				_, e3 := f.Load(1)
				f.Register()
				err = errors.Join(err, e1, e2, e3, f.SaveDraft(Draft{Job: 1}))
			}
			errs <- err
		}()
	}
	for range 4 {
		must(t, <-errs)
	}
	if c, _ := f.Load(1); c.Seq() != 22 {
		t.Fatalf("the job stands at event %d, want 22", c.Seq())
	}
	must(t, f.Verify(1))
}
