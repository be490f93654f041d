package store

import (
	"errors"
	"maps"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Actor is who acts, and whether the person's own code was checked for this very act.
type Actor struct {
	Person    register.Person
	CodeGiven bool
}

// NewJob is what is asked when a vehicle comes in. The sheet is that of the vehicle's type.
type NewJob struct {
	Vehicle   string // id
	Complaint string
	Customer  string
	Odometer  string // as typed; km unless it names a unit
	// OdometerWhy is the foreman's word for a reading lower than the last one.
	OdometerWhy string
	Traits      map[string]string // those that differ from the vehicle's and the sheet's
	Procedure   string            // id of one in use
	Practice    bool              // an exercise: kept out of the vehicle's history and the cycle counts
	Planted     []string          // practice: the faults put there to be found
}

// Context is what the rules may know of this moment, for asking them without writing.
func (f *File) Context(who Actor) job.Context {
	f.mu.Lock()
	defer f.mu.Unlock()
	ctx, err := f.context(who)
	if err != nil {
		return job.Context{At: f.Now(), Station: f.station} // nobody may do anything
	}
	return ctx
}

// context takes the person as the register has him now, so that somebody closed a minute ago makes
// no more entries.
func (f *File) context(who Actor) (job.Context, error) {
	r, err := f.register()
	if err != nil {
		return job.Context{}, err
	}
	cycles, err := f.cycles(r)
	if err != nil {
		return job.Context{}, err
	}
	ctx := job.Context{At: f.Now(), Station: f.station, CodeGiven: who.CodeGiven, Register: r, Cycles: cycles}
	if p, ok := r.Person(who.Person.ID); ok {
		ctx.By = p
	}
	return ctx, nil
}

// OpenJob begins a job with the next number and notes the odometer reading with the vehicle, both
// or neither. A practice job leaves the vehicle alone. A job.Refused comes back unchanged.
func (f *File) OpenJob(who Actor, n NewJob) (*job.Card, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	ctx, err := f.context(who)
	if err != nil {
		return nil, err
	}
	open, err := f.openIntent(n)
	if err != nil {
		return nil, err
	}
	events, err := job.Decide(nil, open, ctx)
	if err != nil {
		return nil, err
	}
	c, err := job.Fold(open.Plan, events)
	if err != nil {
		return nil, phrase.Error("store.do.open-a-job-for", n.Vehicle, err)
	}
	reading := register.OdometerReading{Date: ctx.At.Format(time.DateOnly), Job: open.Number, Value: c.Opened.Odometer}
	if n.Practice {
		return f.commit(nil, c, nil)
	}
	return f.commit(nil, c, func(tx *bolt.Tx) error {
		v, ok, err := getRow[register.Vehicle](tx, vehicles, []byte(n.Vehicle))
		if err != nil {
			return err
		}
		if !ok {
			return phrase.Error("store.do.vehicle-has-gone-from-the-register", n.Vehicle)
		}
		v.Odometer = append(v.Odometer, reading)
		return putRow(tx, vehicles, []byte(v.ID), v)
	})
}

// openIntent gathers what opening a job takes.
func (f *File) openIntent(n NewJob) (job.Open, error) {
	v, ok, err := f.vehicle(n.Vehicle)
	if err != nil {
		return job.Open{}, err
	}
	if !ok {
		return job.Open{}, phrase.Error("store.do.no-vehicle-is-on-the-register-add", n.Vehicle)
	}
	open := job.Open{Number: 1, Vehicle: v, Complaint: n.Complaint, Customer: n.Customer, Odometer: n.Odometer, OdometerWhy: n.OdometerWhy,
		Practice: n.Practice, Planted: n.Planted}
	p, pin, err := f.inUseProcedure(n.Procedure)
	if err != nil {
		return job.Open{}, err
	}
	s, sheetPin, err := f.inUseSheet(v.Sheet)
	if err != nil {
		return job.Open{}, err
	}
	open.Procedure, open.Sheet = pin, sheetPin
	traits := maps.Clone(v.Traits)
	if traits == nil {
		traits = map[string]string{}
	}
	maps.Copy(traits, n.Traits)
	if open.Plan, err = procedures.Resolve(p, s, traits); err != nil {
		return job.Open{}, phrase.Error("store.do.the-procedure-does-not-fit-the-sheet", p.ID, s.ID, err)
	}
	all, err := f.jobs()
	if err != nil {
		return job.Open{}, err
	}
	for _, j := range all {
		open.Number = max(open.Number, j.Number+1)
		if j.Vehicle.ID == v.ID && !j.Practice && j.Status != Closed && j.Status != Released { // what is only waiting for its re-torque is no longer in the bay
			open.OpenJobs = append(open.OpenJobs, j.Number)
		}
	}
	open.History, err = f.history(v.ID, all)
	return open, err
}

// Do decides what that person wants now and appends the events in one transaction. It returns the
// card after them and the events themselves once they are on the disk. A job.Refused comes back
// unchanged and nothing is written. With the error Unsure the card and the events come back too.
func (f *File) Do(number uint64, who Actor, want job.Intent) (*job.Card, []job.Event, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if _, ok := want.(job.Open); ok {
		return nil, nil, phrase.Error("store.do.a-job-is-opened-with-openjob")
	}
	before, err := f.load(number)
	if err != nil {
		return nil, nil, err
	}
	ctx, err := f.context(who)
	if err != nil {
		return nil, nil, err
	}
	events, err := job.Decide(before, want, ctx)
	if err != nil {
		return nil, nil, err
	}
	after, err := before.With(events)
	if err != nil { // Decide and Fold disagree: nothing of it may reach the file
		return nil, nil, phrase.Error("store.do.job", number, err)
	}
	c, err := f.commit(before, after, nil)
	if c == nil {
		return nil, nil, err
	}
	return c, events, err
}

// commit writes the events that after has and before has not, together with what also writes. The
// job must stand in the file as before says, or not at all where before is nil.
func (f *File) commit(before, after *job.Card, also func(*bolt.Tx) error) (*job.Card, error) {
	number := after.Number()
	seq, at := uint32(0), job.Origin(number)
	if before != nil {
		seq, at = before.Seq(), before.Head
	}
	h := head{Seq: after.Seq(), Digest: after.Head, Summary: summarize(after)}
	var tags *questions.Tags
	if after.Outcome() != "" {
		t := questions.TagsOf(after)
		tags = &t
	}
	err := f.update(func(tx *bolt.Tx) error {
		old, ok, err := getRow[head](tx, heads, uintKey(number))
		if err != nil {
			return err
		}
		if ok != (before != nil) || (ok && (old.Seq != seq || old.Digest != at)) {
			return phrase.Error("store.do.job-stands-at-event-not-look-at", number, old.Seq, seq, ErrStale)
		}
		if err := appendEvents(tx, number, at, after.Events[seq:], after.Head); err != nil {
			return err
		}
		h.Kept = old.Kept
		if sealDue(before, after) {
			if err := sealJob(tx, after, &h); err != nil {
				return err
			}
		}
		if err := putRow(tx, heads, uintKey(number), h); err != nil {
			return err
		}
		if tags != nil {
			if err := putRow(tx, tagged, uintKey(number), tags); err != nil {
				return err
			}
		}
		if err := f.countPulls(tx, after, after.Events[seq:]); err != nil {
			return err
		}
		if also != nil {
			return also(tx)
		}
		return nil
	})
	var unsure Unsure
	switch {
	case err == nil:
		if after.Outcome() != "" && (before == nil || before.Outcome() == "") {
			f.backUpBeside()
		}
		f.remember(after)
		f.listed(h.Summary)
		f.typed = typing{}
		if delete(f.tags, number); tags != nil {
			f.tags[number] = f.newFound(*tags)
		}
		return after, nil
	case errors.As(err, &unsure):
		now, readErr := f.read(number) // what really stands there
		if readErr != nil {
			return nil, errors.Join(err, readErr)
		}
		f.remember(now)
		return now, phrase.Error("store.do.job-stands-at-event", number, now.Seq(), err)
	}
	delete(f.cards, number)
	return nil, err
}

// appendEvents writes events behind the digest at and makes sure that they end in the digest end.
func appendEvents(tx *bolt.Tx, number uint64, at job.Digest, events []job.Event, end job.Digest) error {
	b, err := bucket(tx, bucketJobs)
	if err != nil {
		return err
	}
	for _, e := range events {
		data, err := job.Encode(e)
		if err != nil {
			return err
		}
		if err := b.Put(eventKey(number, e.Seq), append(at[:len(at):len(at)], data...)); err != nil {
			return phrase.Error("store.do.write-event-of-job", e.Seq, number, err)
		}
		at = job.Link(at, data)
	}
	if at != end {
		return phrase.Error("store.do.the-events-of-job-do-not-end", number, end)
	}
	return nil
}
