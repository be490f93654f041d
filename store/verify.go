package store

import (
	"context"
	"encoding/binary"
	"errors"
	"runtime"
	"slices"
	"sync"

	bolt "go.etcd.io/bbolt"
	"golang.org/x/mod/sumdb/tlog"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/seal"
)

// Verified is what VerifyAll found.
type Verified struct {
	Jobs, Events, Seals int
	Checkpoint          Checkpoint // the log of seals as it was found
	Faults              []Fault    // the first event that does not fit of every job that has one, by number
}

// Whole reports whether everything fits.
func (v Verified) Whole() bool { return len(v.Faults) == 0 }

// Fault is something that does not hold what was written.
type Fault struct {
	Job uint64 // 0 where it is no job
	Err error  // Damaged
}

// verifyChunk is how many jobs are read in one transaction: others may write in between.
const verifyChunk = 64

// VerifyAll recomputes every digest from the stored bytes, on all processors: the chain of each job,
// the seals against the jobs, the hashes of the log of seals, and every table. Work in the bay goes
// on meanwhile. The error is that of ctx, or of a file that cannot be read at all; what does not fit
// is listed in Faults. It does not fold the jobs: Verify does that for one.
func (f *File) VerifyAll(ctx context.Context) (Verified, error) {
	var v Verified
	log, err := f.sealLog()
	if err != nil {
		return v, err
	}
	v.Seals, v.Checkpoint, v.Faults = len(log.all), log.now, log.faults
	numbers, err := f.allNumbers(nil)
	if err != nil {
		return v, err
	}
	tell := make(chan verdict)
	chunks := make(chan []uint64)
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for chunk := range chunks {
				for _, d := range f.verifyJobs(chunk, &log) {
					tell <- d
				}
			}
		})
	}
	go func() {
		defer close(tell)
		for chunk := range slices.Chunk(numbers, verifyChunk) {
			if ctx.Err() != nil {
				break
			}
			chunks <- chunk
		}
		close(chunks)
		workers.Wait()
	}()
	for d := range tell {
		v.Jobs++
		v.Events += d.events
		if d.err != nil {
			v.Faults = append(v.Faults, Fault{d.job, f.named(d.err)})
		}
	}
	slices.SortFunc(v.Faults, func(a, b Fault) int { return int(int64(a.Job) - int64(b.Job)) })
	return v, ctx.Err()
}

type verdict struct {
	job    uint64
	events int
	err    error
}

// sealLogRead is the log of seals, checked in itself.
type sealLogRead struct {
	all    []seal.Seal
	of     map[uint64][]seal.Seal
	now    Checkpoint
	faults []Fault
}

// sealLog reads and checks the log, and every table with it.
func (f *File) sealLog() (sealLogRead, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	log := sealLogRead{of: map[uint64][]seal.Seal{}}
	fault := func(err error) error {
		var d Damaged
		if errors.As(err, &d) {
			d.Path = f.path
			log.faults = append(log.faults, Fault{Err: d})
			return nil
		}
		return err
	}
	err := f.view(func(tx *bolt.Tx) error {
		for _, t := range tables {
			if err := fault(t.each(tx, func(_, _ []byte) error { return nil })); err != nil {
				return err
			}
		}
		err := eachSeal(tx, func(_ uint64, s seal.Seal) error {
			log.all = append(log.all, s)
			log.of[s.Job] = append(log.of[s.Job], s)
			return nil
		})
		if err == nil {
			err = checkNodes(tx, log.all)
		}
		if err == nil {
			log.now, err = checkpointNow(tx)
		}
		return fault(err)
	})
	return log, err
}

// checkNodes recomputes every hash of the log from the seals.
func checkNodes(tx *bolt.Tx, all []seal.Seal) error {
	var stored memoryNodes
	for i, s := range all {
		var err error
		if stored, err = stored.grow(int64(i), s); err != nil {
			return err
		}
	}
	next := 0
	err := sealNodes.each(tx, func(key, content []byte) error {
		if next >= len(stored) || len(key) != 8 || binary.BigEndian.Uint64(key) != uint64(next) || string(content) != string(stored[next][:]) {
			return Damaged{What: phrase.Of("store.verify.hash-of-the-log-of-seals-is", next)}
		}
		next++
		return nil
	})
	if err == nil && next != len(stored) {
		err = Damaged{What: phrase.Of("store.seallog.hash-of-the-log-of-seals-is", next)}
	}
	return err
}

// memoryNodes are the hashes of a log in memory.
type memoryNodes []tlog.Hash

// grow adds the hashes that the seal in that place completes.
func (m memoryNodes) grow(place int64, s seal.Seal) (memoryNodes, error) {
	hashes, err := tlog.StoredHashes(place, s.Text(), m)
	return append(m, hashes...), err
}

// ReadHashes is what tlog asks for.
func (m memoryNodes) ReadHashes(indexes []int64) ([]tlog.Hash, error) {
	out := make([]tlog.Hash, len(indexes))
	for i, x := range indexes {
		out[i] = m[x]
	}
	return out, nil
}

// copied is one job's bytes as they stand in the file.
type copied struct {
	h     head
	value []byte // the sealed events, packed
	rows  []row  // the others
	err   error
}

// verifyJobs copies some jobs out of the file and checks them.
func (f *File) verifyJobs(numbers []uint64, log *sealLogRead) []verdict {
	copies := make([]copied, len(numbers))
	since := map[uint64][]seal.Seal{} // sealed since the log was read
	f.mu.Lock()
	err := f.view(func(tx *bolt.Tx) error {
		now, err := sealCount(tx)
		if err != nil {
			return err
		}
		for place := int64(len(log.all)); place < now; place++ {
			s, err := readSeal(tx, place)
			if err != nil {
				return err
			}
			since[s.Job] = append(since[s.Job], s)
		}
		for i, n := range numbers {
			copies[i].h, copies[i].value, copies[i].rows, copies[i].err = rawRows(tx, n)
		}
		return nil
	})
	f.mu.Unlock()
	out := make([]verdict, len(numbers))
	for i, n := range numbers {
		c := &copies[i]
		if c.err == nil {
			c.err = err
		}
		if c.err == nil {
			c.rows, c.err = joinRows(n, c.h, c.value, c.rows)
		}
		if c.err == nil {
			c.err = checkSealed(n, c, slices.Concat(log.of[n], since[n]))
		}
		out[i] = verdict{n, len(c.rows), c.err}
	}
	return out
}

// checkSealed checks a job's chain and its seals against it.
func checkSealed(number uint64, c *copied, of []seal.Seal) error {
	at := map[uint32]job.Digest{}
	wanted := map[uint32]bool{}
	for _, s := range of {
		wanted[s.Events] = true
	}
	err := checkChain(number, c.h, c.rows, func(seq uint32, d job.Digest) {
		if wanted[seq] {
			at[seq] = d
		}
	})
	if err != nil {
		return err
	}
	last := uint32(0)
	for _, s := range of {
		d, ok := at[s.Events]
		switch {
		case !ok && s.Events > uint32(len(c.rows)):
			return Damaged{What: phrase.Of("store.verify.event-of-job-is-missing-its-seal", len(c.rows)+1, number, s.Events)}
		case d != s.Head:
			return Damaged{What: phrase.Of("store.verify.one-of-the-events-to-of-job", last+1, s.Events, number)}
		}
		last = s.Events
	}
	if last < c.h.Kept || (last == 0 && c.h.Summary.Outcome != "") {
		return Damaged{What: phrase.Of("store.verify.event-of-job-was-sealed-and-its", last+1, number)}
	}
	return nil
}
