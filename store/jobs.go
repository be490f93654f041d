package store

import (
	"bytes"
	"encoding/binary"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// maxCards bounds the number of cards held in memory.
const maxCards = 64

// Load returns a job as it stands. The first time it checks the chain of digests from the bytes in
// the file, decodes every event strictly and folds them. The card is shared: treat it as read only.
func (f *File) Load(number uint64) (*job.Card, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.load(number)
}

func (f *File) load(number uint64) (*job.Card, error) {
	if c := f.cards[number]; c != nil && f.broken == nil {
		return c, nil
	}
	c, err := f.read(number)
	if err != nil {
		return nil, err
	}
	f.remember(c)
	return c, nil
}

func (f *File) remember(c *job.Card) {
	if len(f.cards) >= maxCards {
		clear(f.cards)
	}
	f.cards[c.Number()] = c
}

// read reads a job from the file, whatever is remembered of it.
func (f *File) read(number uint64) (*job.Card, error) {
	h, rows, err := f.rows(number)
	if err != nil {
		return nil, err
	}
	if err := checkChain(number, h, rows); err != nil {
		return nil, f.named(err)
	}
	events := make([]job.Event, len(rows))
	for i, r := range rows {
		if events[i], err = job.Decode(r.event); err != nil {
			return nil, Damaged{f.path, fmt.Sprintf("event %d of job %d: %v", i+1, number, err)}
		}
	}
	opened, ok := events[0].Body.(job.Opened)
	if !ok || opened.Number != number {
		return nil, Damaged{f.path, fmt.Sprintf("event 1 of job %d does not open that job", number)}
	}
	plan, err := f.plan(opened)
	if err != nil {
		return nil, fmt.Errorf("job %d: %w", number, err)
	}
	c, err := job.Fold(plan, events)
	if err != nil {
		return nil, Damaged{f.path, fmt.Sprintf("job %d: %v", number, err)}
	}
	return c, nil
}

// plan resolves what a job has pinned.
func (f *File) plan(o job.Opened) (*procedures.Plan, error) {
	p, err := f.procedure(o.Procedure.Digest)
	if err != nil {
		return nil, err
	}
	s, err := f.sheet(o.Sheet.Digest)
	if err != nil {
		return nil, err
	}
	return procedures.Resolve(p, s, o.Traits)
}

// row is one event as it stands in the file.
type row struct {
	prev  job.Digest // the digest before it
	event []byte
}

// rows copies the head and every event of a job out of the file.
func (f *File) rows(number uint64) (h head, rows []row, err error) {
	err = f.view(func(tx *bolt.Tx) error {
		var ok bool
		if h, ok, err = getRow[head](tx, heads, uintKey(number)); err != nil {
			return err
		}
		if !ok {
			return fmt.Errorf("job %d is not in %s: %w", number, f.path, ErrNoJob)
		}
		rows, err = eventRows(tx, number, h.Seq)
		return err
	})
	return h, rows, err
}

func eventRows(tx *bolt.Tx, number uint64, last uint32) ([]row, error) {
	b, err := bucket(tx, bucketJobs)
	if err != nil {
		return nil, err
	}
	var rows []row
	prefix := uintKey(number)
	c := b.Cursor()
	for k, v := c.Seek(eventKey(number, 0)); bytes.HasPrefix(k, prefix); k, v = c.Next() {
		next := uint32(len(rows) + 1)
		if len(k) != 12 || binary.BigEndian.Uint32(k[8:]) != next {
			return nil, Damaged{What: fmt.Sprintf("event %d of job %d is missing", next, number)}
		}
		if len(v) <= len(job.Digest{}) {
			return nil, Damaged{What: fmt.Sprintf("event %d of job %d is cut short", next, number)}
		}
		r := row{event: bytes.Clone(v[len(job.Digest{}):])}
		copy(r.prev[:], v)
		rows = append(rows, r)
	}
	if len(rows) != int(last) || last == 0 {
		return nil, Damaged{What: fmt.Sprintf("job %d has %d events where %d were written; the first that does not fit is event %d", number, len(rows), last, min(len(rows), int(last))+1)}
	}
	return rows, nil
}

// checkChain recomputes the digests from the stored bytes and names the first event that does not
// fit. Where two neighbours disagree, the one that the rest of the chain vouches for is right.
func checkChain(number uint64, h head, rows []row) error {
	at := job.Origin(number)
	for i, r := range rows {
		if r.prev != at {
			after := h.Digest // what the chain says follows this event
			if i+1 < len(rows) {
				after = rows[i+1].prev
			}
			bad := i + 1
			if i > 0 && job.Link(r.prev, r.event) == after {
				bad = i // this event and what follows vouch for the digest it names
			}
			return Damaged{What: fmt.Sprintf("event %d of job %d is not what was written", bad, number)}
		}
		at = job.Link(at, r.event)
	}
	if at != h.Digest {
		return Damaged{What: fmt.Sprintf("event %d of job %d is not what was written", len(rows), number)}
	}
	return nil
}

// Verify recomputes the chain of a job from the stored bytes and reads it anew. The error is
// Damaged and names the first event that does not fit.
func (f *File) Verify(number uint64) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	_, err := f.read(number)
	return err
}
