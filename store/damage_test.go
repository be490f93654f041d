package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
)

// closedFile makes a filled file with a job of some events, and returns its path.
func closedFile(t *testing.T, events int) (string, *clock) {
	t.Helper()
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	fill(t, f)
	openJob(t, f, "V1", "100")
	for i := 1; i < events; i++ {
		do(t, f, 1, apprentice, number(i))
	}
	must(t, f.Close())
	return path, c
}

func TestFilesThatAreNone(t *testing.T) {
	whole, c := closedFile(t, 30)
	good, err := os.ReadFile(whole)
	must(t, err)
	foreign := filepath.Join(t.TempDir(), "foreign.db")
	raw(t, foreign, func(tx *bolt.Tx) error {
		b, err := tx.CreateBucket([]byte("other"))
		return errors.Join(err, b.Put([]byte("k"), []byte("v")))
	})
	other, err := os.ReadFile(foreign)
	must(t, err)
	cases := map[string][]byte{"empty": nil, "zeros": make([]byte, 1<<16), "garbage": bytes.Repeat([]byte("garbage "), 5000),
		"short": good[:100], "foreign": other}
	for cut := os.Getpagesize(); cut < len(good)-os.Getpagesize(); cut += os.Getpagesize() {
		cases[fmt.Sprintf("cut at %d of %d", cut, len(good))] = good[:cut]
	}
	for name, data := range cases {
		path := filepath.Join(t.TempDir(), "file")
		must(t, os.WriteFile(path, data, 0o600))
		f, err := Open(path, options(c))
		var d Damaged
		if err == nil {
			// bbolt grows its file ahead of use, so that a cut can miss what is in use.
			if err := errors.Join(f.Verify(1), f.Close()); err != nil {
				t.Errorf("%s: opened, then %v", name, err)
			}
			checkConsistent(t, path)
			continue
		}
		if !errors.As(err, &d) {
			t.Errorf("%s: %v; want Damaged", name, err)
		}
		if now, _ := os.ReadFile(path); !bytes.Equal(now, data) {
			t.Errorf("%s: the refused file was changed", name)
		}
		if _, err := os.Stat(holderPath(path)); err == nil {
			t.Errorf("%s: the refused file has a side file", name)
		}
	}
	if _, err := Open(t.TempDir(), options(c)); err == nil {
		t.Error("a folder was opened")
	} else {
		asDamaged(t, err, "not a file but a folder")
	}
	must(t, os.Chmod(whole, 0o644))
	must(t, open(t, whole, c).Close())
	if info, _ := os.Stat(whole); info.Mode().Perm() != 0o600 {
		t.Errorf("a file open to all keeps the mode %v", info.Mode())
	}
}

func TestNewerFormat(t *testing.T) {
	path, c := closedFile(t, 2)
	raw(t, path, func(tx *bolt.Tx) error { return putRow(tx, meta, keyFormat, Format+1) })
	_, err := Open(path, options(c))
	var newer Newer
	if !errors.As(err, &newer) || newer.Format != Format+1 {
		t.Fatalf("error %v; want Newer", err)
	}
	wantError(t, err, "has format 2; this program reads format 1")
	raw(t, path, func(tx *bolt.Tx) error { return putRow(tx, meta, keyFormat, 0) })
	_, err = Open(path, options(c))
	asDamaged(t, err, "its format is 0")
}

// Every change to the events of a job is found and the event named.
func TestDamagedEvents(t *testing.T) {
	const last = 9
	edit := func(seq uint32, change func(v []byte) []byte) func(*bolt.Tx) error {
		return func(tx *bolt.Tx) error {
			b := tx.Bucket(bucketJobs)
			k := eventKey(1, seq)
			return b.Put(k, change(bytes.Clone(b.Get(k))))
		}
	}
	flip := func(at int) func([]byte) []byte {
		return func(v []byte) []byte {
			if at < 0 {
				at += len(v)
			}
			v[at] ^= 0x10
			return v
		}
	}
	prev := len(job.Digest{})
	cases := []struct {
		name   string
		change func(*bolt.Tx) error
		part   string
	}{
		{"bytes of the first", edit(1, flip(prev+5)), "event 1 of job 1 is not what was written"},
		{"bytes in the middle", edit(4, flip(prev+20)), "event 4 of job 1 is not what was written"},
		{"last byte in the middle", edit(4, flip(-1)), "event 4 of job 1 is not what was written"},
		{"bytes of the last", edit(last, flip(prev+5)), "event 9 of job 1 is not what was written"},
		{"digest of the first", edit(1, flip(0)), "event 1 of job 1 is not what was written"},
		{"digest in the middle", edit(4, flip(3)), "event 4 of job 1 is not what was written"},
		{"digest of the last", edit(last, flip(31)), "event 9 of job 1 is not what was written"},
		{"cut", edit(4, func(v []byte) []byte { return v[:len(v)-1] }), "event 4 of job 1 is not what was written"},
		{"cut to the digest", edit(4, func(v []byte) []byte { return v[:prev] }), "event 4 of job 1 is cut short"},
		{"longer", edit(4, func(v []byte) []byte { return append(v, 0) }), "event 4 of job 1 is not what was written"},
		{"one missing", func(tx *bolt.Tx) error { return tx.Bucket(bucketJobs).Delete(eventKey(1, 4)) }, "event 4 of job 1 is missing"},
		{"the last missing", func(tx *bolt.Tx) error { return tx.Bucket(bucketJobs).Delete(eventKey(1, last)) }, "has 8 events where 9 were written; the first that does not fit is event 9"},
		{"one too many", func(tx *bolt.Tx) error {
			b := tx.Bucket(bucketJobs)
			return b.Put(eventKey(1, last+1), bytes.Clone(b.Get(eventKey(1, last))))
		}, "has 10 events where 9 were written; the first that does not fit is event 10"},
		{"two exchanged", func(tx *bolt.Tx) error {
			b := tx.Bucket(bucketJobs)
			x, y := bytes.Clone(b.Get(eventKey(1, 4))), bytes.Clone(b.Get(eventKey(1, 5)))
			return errors.Join(b.Put(eventKey(1, 4), y), b.Put(eventKey(1, 5), x))
		}, "event 4 of job 1 is not what was written"},
		{"the newest cut off, the head fitted to it", func(tx *bolt.Tx) error {
			h, _, err := getRow[head](tx, heads, uintKey(1))
			h.Seq--
			return errors.Join(err, tx.Bucket(bucketJobs).Delete(eventKey(1, last)), putRow(tx, heads, uintKey(1), h))
		}, "event 8 of job 1 is not what was written"},
	}
	path, c := closedFile(t, last)
	good, err := os.ReadFile(path)
	must(t, err)
	for _, x := range cases {
		must(t, os.WriteFile(path, good, 0o600))
		raw(t, path, x.change)
		f, err := Open(path, options(c))
		if err != nil {
			t.Errorf("%s: open: %v", x.name, err)
			continue
		}
		_, loadErr := f.Load(1)
		for what, err := range map[string]error{"Load": loadErr, "Verify": f.Verify(1)} {
			var d Damaged
			if !errors.As(err, &d) || d.Path != path || !bytes.Contains([]byte(d.What), []byte(x.part)) {
				t.Errorf("%s: %s: %v; want %q", x.name, what, err, x.part)
			}
		}
		if _, _, err := f.Do(1, Actor{Person: apprentice}, number(99)); err == nil {
			t.Errorf("%s: a damaged job goes on", x.name)
		}
		must(t, f.Close())
	}
	must(t, os.WriteFile(path, good, 0o600))
}

// A chain that fits and an event that could not have come about is still no job.
func TestEventsThatCannotBe(t *testing.T) {
	path, c := closedFile(t, 3)
	raw(t, path, func(tx *bolt.Tx) error {
		h, _, err := getRow[head](tx, heads, uintKey(1))
		must(t, err)
		e := job.Event{Seq: 4, At: c.at, By: h.Summary.LastBy, Station: "bay-1", Body: job.Released{}}
		e2 := job.Event{Seq: 5, At: c.at, By: h.Summary.LastBy, Station: "bay-1", Body: job.Released{}}
		at := h.Digest
		for _, e := range []job.Event{e, e2} {
			data, err := job.Encode(e)
			must(t, err)
			must(t, tx.Bucket(bucketJobs).Put(eventKey(1, e.Seq), append(at[:len(at):len(at)], data...)))
			at = job.Link(at, data)
		}
		h.Seq, h.Digest = 5, at
		return putRow(tx, heads, uintKey(1), h)
	})
	f := open(t, path, c)
	asDamaged(t, f.Verify(1), "event 5: releases the vehicle a second time")
}

// Rows changed, lost or added behind the back of this package keep the file from opening, or those
// of the tables that are not read then are found by VerifyAll.
func TestDamagedRows(t *testing.T) {
	path, c := closedFile(t, 1)
	full := open(t, path, c)
	finish(t, full, 1)
	must(t, full.Close())
	good, err := os.ReadFile(path)
	must(t, err)
	for _, table := range tables {
		if table == draft || table == tries || table == recalls {
			continue // empty in this file
		}
		for name, change := range map[string]func(b *bolt.Bucket, k, v []byte) error{
			"changed": func(b *bolt.Bucket, k, v []byte) error { v[len(v)-1] ^= 1; return b.Put(k, v) },
			"short":   func(b *bolt.Bucket, k, v []byte) error { return b.Put(k, v[:2]) },
			"lost":    func(b *bolt.Bucket, k, _ []byte) error { return b.Delete(k) },
			"added": func(b *bolt.Bucket, k, v []byte) error {
				return b.Put([]byte("zz"), table.withSum([]byte("zz"), v[sumSize:]))
			},
			"moved": func(b *bolt.Bucket, k, v []byte) error { return errors.Join(b.Delete(k), b.Put(append(k, 'x'), v)) },
		} {
			must(t, os.WriteFile(path, good, 0o600))
			raw(t, path, func(tx *bolt.Tx) error {
				b := tx.Bucket([]byte(table))
				k, v := b.Cursor().Last()
				return change(b, bytes.Clone(k), bytes.Clone(v))
			})
			f, err := Open(path, options(c))
			if err == nil {
				if v, verifyErr := f.VerifyAll(context.Background()); verifyErr != nil || !v.Whole() {
					err = v.Faults[0].Err
				}
				must(t, f.Close())
			}
			var d Damaged
			if !errors.As(err, &d) {
				t.Errorf("%s %s: %v; want Damaged", table, name, err)
			}
		}
	}
	for _, name := range []string{"people", "jobs", "tally", "meta"} {
		must(t, os.WriteFile(path, good, 0o600))
		raw(t, path, func(tx *bolt.Tx) error { return tx.DeleteBucket([]byte(name)) })
		f, err := Open(path, options(c))
		var d Damaged
		if !errors.As(err, &d) {
			t.Errorf("without %s: %v; want Damaged", name, err)
		}
		if err == nil {
			must(t, f.Close())
		}
	}
	must(t, os.WriteFile(path, good, 0o600))
}

// A file that gets shorter while it is open is a bus error for bbolt and Damaged here.
func TestFileCutWhileOpen(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f, err := Open(path, options(c))
	must(t, err)
	fill(t, f)
	openJob(t, f, "V1", "1")
	for i := range 40 {
		do(t, f, 1, apprentice, number(i+1))
	}
	clear(f.cards)
	must(t, os.Truncate(path, 2*int64(os.Getpagesize())))
	_, err = f.Load(1)
	asDamaged(t, err, "cannot be read in one place")
	if _, err := f.Jobs(); err == nil {
		t.Error("the list comes out of a file that is gone")
	}
	if err := f.SaveDraft(Draft{Job: 1}); err == nil {
		t.Error("a file that is gone was written")
	}
	if err := f.Close(); err != nil {
		t.Logf("close: %v", err)
	}
}
