package store

import (
	"bytes"
	"context"
	"sync"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/seal"
)

// Rebuilt says what Rebuild went through and how much of what is derived was not as it should be.
type Rebuilt struct {
	Jobs    int
	Changed int // rows written, removed or corrected
}

// derivedRows is everything of the file that follows from events and seals, by table and key.
type derivedRows map[table]map[string][]byte

func (d derivedRows) put(t table, key []byte, v any) error {
	content, err := encMode.Marshal(v)
	if err != nil {
		return phrase.Error("store.rebuild.write", t, err)
	}
	d[t][string(key)] = content
	return nil
}

// Rebuild works out anew what is derived from the events and the seals: the lines of the list of
// jobs, what jobs are found by, the counts of pulls and the hashes of the log of seals. Run on a
// whole file it changes nothing. The error names the first job that cannot be read.
func (f *File) Rebuild(ctx context.Context) (Rebuilt, error) {
	numbers, err := f.headNumbers()
	if err != nil {
		return Rebuilt{}, err
	}
	d := derivedRows{tagged: {}, pulls: {}, sealNodes: {}}
	lines := map[uint64]head{}
	counts := map[string]int{}
	var mu sync.Mutex
	err = f.eachCard(ctx, numbers, func(i int, c *job.Card, err error) error {
		if err != nil {
			return err
		}
		h := head{Seq: c.Seq(), Digest: c.Head, Summary: summarize(c)}
		ended := c.Outcome() != ""
		var tags questions.Tags
		if ended {
			tags = questions.TagsOf(c)
		}
		mu.Lock()
		defer mu.Unlock()
		lines[c.Number()] = h
		for key, n := range pullsOf(c, c.Events) {
			counts[key] += n
		}
		if ended {
			return d.put(tagged, uintKey(c.Number()), tags)
		}
		return nil
	})
	if err != nil {
		return Rebuilt{}, err
	}
	for key, n := range counts {
		if err := d.put(pulls, []byte(key), n); err != nil {
			return Rebuilt{}, err
		}
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	r := Rebuilt{Jobs: len(lines)}
	err = f.update(func(tx *bolt.Tx) error {
		r.Changed = 0
		if err := d.nodes(tx); err != nil {
			return err
		}
		for t, rows := range d {
			n, err := t.become(tx, rows)
			if err != nil {
				return err
			}
			r.Changed += n
		}
		return rebuildLines(tx, lines, &r)
	})
	f.forget()
	return r, err
}

// headNumbers lists the jobs by their keys, whatever their lines say.
func (f *File) headNumbers() ([]uint64, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var out []uint64
	err := f.view(func(tx *bolt.Tx) error {
		return heads.each(tx, func(key, content []byte) error {
			h, err := decodeRow[head](heads, key, content)
			if err == nil && !bytes.Equal(key, uintKey(h.Summary.Number)) {
				err = Damaged{What: phrase.Of("store.rebuild.an-entry-of-the-list-of-jobs")}
			}
			out = append(out, h.Summary.Number)
			return err
		})
	})
	return out, err
}

// nodes works out the hashes of the log of seals.
func (d derivedRows) nodes(tx *bolt.Tx) error {
	var stored memoryNodes
	err := eachSeal(tx, func(place uint64, s seal.Seal) (err error) {
		stored, err = stored.grow(int64(place), s)
		return err
	})
	for i, h := range stored {
		d[sealNodes][string(uintKey(uint64(i)))] = bytes.Clone(h[:])
	}
	return err
}

// rebuildLines corrects the lines of the list of jobs. A job that went on since it was read stays as
// it is: its line was written with its newest event.
func rebuildLines(tx *bolt.Tx, lines map[uint64]head, r *Rebuilt) error {
	for n, h := range lines {
		old, ok, err := getRow[head](tx, heads, uintKey(n))
		if err != nil {
			return err
		}
		if !ok || old.Seq != h.Seq || old.Digest != h.Digest {
			return phrase.Error("store.rebuild.job-went-on-while-the-lists-were", n, ErrStale)
		}
		h.Kept = old.Kept
		content, err := encMode.Marshal(h)
		if err != nil {
			return phrase.Error("store.rebuild.write", heads, err)
		}
		have, err := heads.get(tx, uintKey(n))
		if err != nil {
			return err
		}
		if bytes.Equal(have, content) {
			continue
		}
		r.Changed++
		if err := heads.put(tx, uintKey(n), content); err != nil {
			return err
		}
	}
	return nil
}

// become makes a table hold exactly those rows and returns how many differed. What stands in it may
// be damaged.
func (t table) become(tx *bolt.Tx, rows map[string][]byte) (int, error) {
	changed := 0
	have := map[string][]byte{}
	err := t.each(tx, func(key, content []byte) error {
		have[string(key)] = content
		return nil
	})
	if err != nil { // damaged: begin anew
		if err := tx.DeleteBucket([]byte(t)); err != nil {
			return 0, phrase.Error("store.rebuild.rebuild", t, err)
		}
		if _, err := tx.CreateBucket([]byte(t)); err != nil {
			return 0, phrase.Error("store.rebuild.rebuild", t, err)
		}
		if err := new(tally).write(tx, t); err != nil {
			return 0, err
		}
		clear(have)
	}
	for key := range have {
		if _, ok := rows[key]; !ok {
			changed++
			if err := t.remove(tx, []byte(key)); err != nil {
				return changed, err
			}
		}
	}
	for key, content := range rows {
		if old, ok := have[key]; ok && bytes.Equal(old, content) {
			continue
		}
		changed++
		if err := t.put(tx, []byte(key), content); err != nil {
			return changed, err
		}
	}
	return changed, nil
}
