package store

import (
	"cmp"
	"encoding/binary"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// JobStatus says where a job stands as a whole.
type JobStatus string

// The statuses of a job.
const (
	InBay    JobStatus = "in the bay"
	Paused   JobStatus = "paused"
	Released JobStatus = "released"
	Closed   JobStatus = "closed"
)

// Summary is one line of the list of jobs. It is written with every event, so that the list needs
// no job to be read.
type Summary struct {
	Number     uint64         `cbor:"1,keyasint"`
	Vehicle    job.VehicleRef `cbor:"2,keyasint"`
	Procedure  string         `cbor:"3,keyasint"` // title
	Complaint  string         `cbor:"4,keyasint"`
	Opened     time.Time      `cbor:"5,keyasint"`
	Last       time.Time      `cbor:"6,keyasint"` // newest event
	LastBy     job.Who        `cbor:"7,keyasint"`
	Status     JobStatus      `cbor:"8,keyasint"`
	Done       int            `cbor:"9,keyasint"`            // stages complete
	Of         int            `cbor:"10,keyasint"`           // stages that are part of the job for certain
	Open       []string       `cbor:"11,keyasint,omitempty"` // titles of the standing states, oldest first
	Stage      string         `cbor:"12,keyasint,omitempty"` // title of the present stage
	SecondOwed int            `cbor:"13,keyasint,omitempty"` // stages waiting for a second person
	Demo       bool           `cbor:"14,keyasint,omitempty"`
	Practice   bool           `cbor:"15,keyasint,omitempty"`
	Outcome    string         `cbor:"16,keyasint,omitempty"` // how the work ended; empty while it goes on
}

// summarize makes the line of a job from its card. The present stage is the one the screen opens at.
func summarize(c *job.Card) Summary {
	last := c.Last()
	s := Summary{Number: c.Number(), Vehicle: c.Opened.Vehicle, Procedure: c.Opened.Procedure.Title, Complaint: c.Opened.Complaint,
		Opened: c.OpenedAt, Last: last.At, LastBy: last.By, Status: InBay, Demo: c.Demo(),
		Practice: c.Opened.Practice, Outcome: c.Outcome()}
	for i := range c.Stages {
		st := &c.Stages[i]
		if st.Applicable() {
			s.Of++
		}
		switch st.Status {
		case job.Complete:
			s.Done++
		case job.SecondOwed:
			s.SecondOwed++
		}
	}
	if st := c.Stage(c.Next()); st != nil {
		s.Stage = job.Title(st.Node)
	}
	for _, o := range c.Open {
		title := o.State.Title
		if o.Ref.Side != procedures.NoSide {
			title += ", " + string(o.Ref.Side)
		}
		s.Open = append(s.Open, title)
	}
	switch {
	case c.Finished():
		s.Status = Closed
	case c.Paused != nil:
		s.Status = Paused
	case c.Released != nil:
		s.Status = Released
	}
	return s
}

// Jobs returns the line of every job, newest first.
func (f *File) Jobs() ([]Summary, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.jobs()
}

// jobs returns the lines of all jobs, newest first, in a slice of the caller's own.
func (f *File) jobs() ([]Summary, error) {
	if err := f.readList(); err != nil {
		return nil, err
	}
	out := slices.Clone(f.list)
	slices.Reverse(out)
	return out, nil
}

// readList makes sure that the lines of all jobs are in memory, oldest first.
func (f *File) readList() error {
	if f.broken != nil {
		return f.broken
	}
	if f.list != nil {
		return nil
	}
	return f.view(func(tx *bolt.Tx) error {
		list := []Summary{}
		err := heads.each(tx, func(key, content []byte) error {
			h, err := decodeRow[head](heads, key, content)
			if err == nil && (len(key) != 8 || binary.BigEndian.Uint64(key) != h.Summary.Number) {
				err = Damaged{What: phrase.Of("store.rebuild.an-entry-of-the-list-of-jobs")}
			}
			list = append(list, h.Summary)
			return err
		})
		if err == nil {
			f.list = list
		}
		return err
	})
}

// listed keeps the line of a job that was written.
func (f *File) listed(s Summary) {
	if f.list == nil {
		return
	}
	i, ok := slices.BinarySearchFunc(f.list, s.Number, func(x Summary, n uint64) int { return cmp.Compare(x.Number, n) })
	if ok {
		f.list[i] = s
	} else {
		f.list = slices.Insert(f.list, i, s)
	}
}
