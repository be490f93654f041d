package store

import (
	"errors"
	"fmt"
	"testing"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
)

// benchEvents is how many events a job gets before the benchmark opens the next one; a real job has
// about as many.
const benchEvents = 200

// BenchmarkAppend is one entry from Do to its return, that is with rules, digests, summary and a
// commit that is on the disk. Hold it against BenchmarkBareCommit of the same run.
func BenchmarkAppend(b *testing.B) {
	f, _ := filled(b)
	n, seq := uint64(0), uint32(benchEvents)
	for b.Loop() {
		if seq >= benchEvents {
			b.StopTimer()
			n, seq = nextJob(b, f, n)
			b.StartTimer()
		}
		_, events, err := f.Do(n, Actor{Person: apprentice}, number(int(seq)))
		must(b, err)
		seq = events[0].Seq
	}
}

func nextJob(b *testing.B, f *File, n uint64) (uint64, uint32) {
	v := vehicle1
	v.ID = fmt.Sprint("B", n+1)
	must(b, f.PutVehicle(mechanic, v))
	return openJob(b, f, v.ID, "1").Number(), 1
}

// BenchmarkBareCommit writes the bytes of BenchmarkAppend to the same places with bbolt alone.
func BenchmarkBareCommit(b *testing.B) {
	f, _ := filled(b)
	n, seq := nextJob(b, f, 0)
	_, events, err := f.Do(n, Actor{Person: apprentice}, number(int(seq)))
	must(b, err)
	card, err := f.Load(n)
	must(b, err)
	event, err := job.Encode(events[0])
	must(b, err)
	value := append(card.Head[:], event...)
	content, err := encMode.Marshal(head{Seq: 2, Digest: card.Head, Summary: summarize(card)})
	must(b, err)
	row := heads.withSum(uintKey(n), content)
	count := make([]byte, 8+32+sumSize)
	for b.Loop() {
		if seq++; seq > benchEvents {
			n, seq = n+1, 1
		}
		must(b, f.db.Update(func(tx *bolt.Tx) error {
			return errors.Join(tx.Bucket(bucketJobs).Put(eventKey(n, seq), value), tx.Bucket([]byte(heads)).Put(uintKey(n), row),
				tx.Bucket(bucketTally).Put([]byte("bench"), count))
		}))
	}
}

// longJob makes a closed file whose job 1 has so many events.
func longJob(b *testing.B, events int) (string, *clock) {
	b.Helper()
	c := newClock()
	path := newPath(b)
	f := open(b, path, c)
	fill(b, f)
	openJob(b, f, "V1", "1")
	for i := 1; i < events; i++ {
		do(b, f, 1, apprentice, number(i))
	}
	must(b, f.Close())
	return path, c
}

// BenchmarkLoad300 is the first look at a job of 300 events: read, check the chain, decode, fold.
func BenchmarkLoad300(b *testing.B) {
	path, c := longJob(b, 300)
	f := open(b, path, c)
	for b.Loop() {
		must(b, f.Verify(1))
	}
}

// BenchmarkOpenToFirstList is the start of the program: check the pages and every table, and list
// the jobs. The file has 100 jobs of 20 events.
func BenchmarkOpenToFirstList(b *testing.B) {
	f, c := filled(b)
	n, seq := uint64(0), uint32(0)
	for range 100 {
		n, seq = nextJob(b, f, n)
		_, err := enterUntil(f, n, seq, 19)
		must(b, err)
	}
	path := f.Path()
	must(b, f.Close())
	for b.Loop() {
		f, err := Open(path, options(c))
		must(b, err)
		all, err := f.Jobs()
		must(b, err)
		if len(all) != 100 {
			b.Fatalf("%d jobs", len(all))
		}
		must(b, f.Close())
	}
}
