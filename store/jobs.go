package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
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
	return f.fold(number, h, rows, false, f.plan)
}

// fold checks and reads what was copied out of the file. Jobs read by the thousand are vouched for by
// the digest just checked and not looked at for their form as well.
func (f *File) fold(number uint64, h head, rows []row, vouched bool, plan func(job.Opened) (*procedures.Plan, error)) (*job.Card, error) {
	if err := checkChain(number, h, rows, nil); err != nil {
		return nil, f.named(err)
	}
	stored := make([][]byte, len(rows))
	for i, r := range rows {
		stored[i] = r.event
	}
	var planErr error
	c, err := job.Read(stored, vouched, func(o job.Opened) (p *procedures.Plan, err error) {
		if o.Number != number {
			return nil, phrase.Error("store.jobs.event-1-opens-another-job")
		}
		p, planErr = plan(o)
		return p, planErr
	})
	switch {
	case planErr != nil:
		return nil, phrase.Error("store.jobs.job", number, planErr)
	case err != nil:
		return nil, Damaged{f.path, phrase.Of("store.jobs.job-2", number, err)}
	}
	return c, nil
}

// maxPlans bounds the number of resolved plans held in memory; vehicles of one type share one.
const maxPlans = 64

// plan resolves what a job has pinned.
func (f *File) plan(o job.Opened) (*procedures.Plan, error) {
	key := o.Procedure.Digest + o.Sheet.Digest + fmt.Sprint(o.Traits) // fmt sorts the keys of a map
	if p := f.plans[key]; p != nil {
		return p, nil
	}
	p, err := f.procedure(o.Procedure.Digest)
	if err != nil {
		return nil, err
	}
	s, err := f.sheet(o.Sheet.Digest)
	if err != nil {
		return nil, err
	}
	plan, err := procedures.Resolve(p, s, o.Traits)
	if err != nil {
		return nil, err
	}
	if len(f.plans) >= maxPlans {
		clear(f.plans)
	}
	f.plans[key] = plan
	return plan, nil
}

// row is one event as it stands in the file.
type row struct {
	prev  []byte // the digest before it, or the first bytes of it
	event []byte
}

// rows copies the head and every event of a job out of the file.
func (f *File) rows(number uint64) (h head, rows []row, err error) {
	err = f.view(func(tx *bolt.Tx) error {
		h, rows, err = jobRows(tx, number)
		return err
	})
	if errors.Is(err, ErrNoJob) {
		err = phrase.Error("store.jobs.job-is-not-in", number, f.path, ErrNoJob)
	}
	return h, rows, err
}

// jobRows returns the head and every event of a job: those sealed, then those that stand in rows of
// their own.
func jobRows(tx *bolt.Tx, number uint64) (head, []row, error) {
	h, value, rows, err := rawRows(tx, number)
	if err != nil {
		return h, nil, err
	}
	rows, err = joinRows(number, h, value, rows)
	return h, rows, err
}

// rawRows copies what the file holds of a job: the head, the sealed value and the rows behind it.
func rawRows(tx *bolt.Tx, number uint64) (h head, value []byte, rows []row, err error) {
	h, ok, err := getRow[head](tx, heads, uintKey(number))
	if err == nil && !ok {
		err = ErrNoJob
	}
	if err != nil {
		return h, nil, nil, err
	}
	if h.Kept > 0 {
		if value, err = sealed.get(tx, uintKey(number)); err != nil {
			return h, nil, nil, err
		}
	}
	rows, err = eventRows(tx, number, h.Kept)
	return h, value, rows, err
}

// eventRows returns the events that stand in rows of their own; the first follows those kept.
func eventRows(tx *bolt.Tx, number uint64, kept uint32) ([]row, error) {
	b, err := bucket(tx, bucketJobs)
	if err != nil {
		return nil, err
	}
	var rows []row
	prefix := uintKey(number)
	c := b.Cursor()
	for k, v := c.Seek(eventKey(number, 0)); bytes.HasPrefix(k, prefix); k, v = c.Next() {
		next := kept + uint32(len(rows)) + 1
		if len(k) != 12 || binary.BigEndian.Uint32(k[8:]) != next {
			return nil, Damaged{What: phrase.Of("store.jobs.event-of-job-is-missing", next, number)}
		}
		if len(v) <= len(job.Digest{}) {
			return nil, Damaged{What: phrase.Of("store.jobs.event-of-job-is-cut-short", next, number)}
		}
		v = bytes.Clone(v)
		rows = append(rows, row{v[:len(job.Digest{})], v[len(job.Digest{}):]})
	}
	return rows, nil
}

// joinRows puts the sealed events before the others.
func joinRows(number uint64, h head, value []byte, rows []row) ([]row, error) {
	if h.Kept > 0 {
		kept, err := unpackJob(number, h.Kept, value)
		if err != nil {
			return nil, err
		}
		rows = append(kept, rows...)
	}
	if len(rows) != int(h.Seq) || h.Seq == 0 {
		return nil, Damaged{What: phrase.Of("store.jobs.job-has-events-where-were-written-the", number, len(rows), h.Seq, min(len(rows), int(h.Seq))+1)}
	}
	return rows, nil
}

// checkChain recomputes the digests from the stored bytes and names the first event that does not
// fit. Where the digest kept with an event does not fit, the rest of the chain tells which is wrong:
// that note, or the event before it. It calls each, when there is one, with every digest in turn.
func checkChain(number uint64, h head, rows []row, each func(seq uint32, at job.Digest)) error {
	at := job.Origin(number)
	for i, r := range rows {
		next := job.Link(at, r.event)
		if !bytes.HasPrefix(at[:], r.prev) {
			after := h.Digest[:] // what the chain says follows this event
			if i+1 < len(rows) {
				after = rows[i+1].prev
			}
			bad := i + 1
			switch {
			case i == 0 || bytes.HasPrefix(next[:], after): // only the note is wrong
			case len(r.prev) < len(at):
				bad = i
			default:
				if vouched := job.Link(job.Digest(r.prev), r.event); bytes.HasPrefix(vouched[:], after) {
					bad = i // this event and what follows vouch for the digest it names
				}
			}
			return Damaged{What: phrase.Of("store.jobs.event-of-job-is-not-what-was", bad, number)}
		}
		at = next
		if each != nil {
			each(uint32(i+1), at)
		}
	}
	if at != h.Digest {
		return Damaged{What: phrase.Of("store.jobs.event-of-job-is-not-what-was", len(rows), number)}
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
