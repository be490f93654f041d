package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/seal"
)

// The benchmarks of a file with the jobs of many years. PAWL_BENCH_JOBS says how many (60000 is twenty
// years of a large workshop; 2000 without it). PAWL_BENCH_FILE keeps the file for a second run, and
// for the comparison in the module benchsqlite.
//
// The jobs are made in a way nothing but a benchmark may use: a few are played through Decide like any
// other, and the rest are their events again with another number, vehicle and day, sealed straight
// into the file.

func benchJobs(b *testing.B) int {
	if s := os.Getenv("PAWL_BENCH_JOBS"); s != "" {
		n, err := strconv.Atoi(s)
		must(b, err)
		return n
	}
	return 2000
}

var archive struct {
	once sync.Once
	path string
}

// archiveFile returns the closed file, made once.
func archiveFile(b *testing.B) string {
	b.Helper()
	archive.once.Do(func() {
		path := os.Getenv("PAWL_BENCH_FILE")
		if path == "" {
			dir, err := os.MkdirTemp("", "pawl-bench-*") // outlives the first benchmark
			must(b, err)
			path = filepath.Join(dir, "workshop.pawl")
		}
		if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
			makeArchive(b, path, benchJobs(b))
		}
		archive.path = path
	})
	return archive.path
}

func makeArchive(b *testing.B, path string, jobs int) {
	b.Helper()
	y := newYear(b, 3)
	var played []*job.Card
	for _, kind := range []string{"wheel-refit", "inspection", "brake-fluid", "wheel-refit", "brake-fluid"} {
		n := y.visit(kind)
		c, err := y.f.Load(n)
		must(b, err)
		if c.Outcome() != "" && !c.Opened.Practice {
			played = append(played, c)
		}
	}
	must(b, y.f.db.Sync())
	must(b, y.f.Close())
	writeFile(b, path, readFile(b, y.f.Path()))
	f, err := Open(path, options(y.c))
	must(b, err)
	f.db.NoSync = true
	events := 0
	next := uint64(len(f.list)) + 1
	for next <= uint64(jobs) {
		must(b, f.update(func(tx *bolt.Tx) error {
			for range min(500, jobs-int(next)+1) {
				c := played[int(next)%len(played)]
				n, err := sealAgain(tx, c, next)
				if err != nil {
					return err
				}
				events += n
				next++
			}
			return nil
		}))
	}
	must(b, f.db.Sync())
	must(b, f.Close())
	info, err := os.Stat(path)
	must(b, err)
	b.Logf("%d jobs of %d events on average, %d MiB", jobs, events/jobs, info.Size()>>20)
}

// sealAgain seals the events of a played job under another number.
func sealAgain(tx *bolt.Tx, c *job.Card, number uint64) (int, error) {
	v := job.VehicleRef{ID: fmt.Sprint("K", number%3000), Name: fmt.Sprintf("Tarnholt %d minibus", number%3000), VIN: fmt.Sprintf("DEMXUD%011d", number%3000)}
	shift := time.Duration(number) * 2 * time.Hour
	if number <= 3000 {
		row := register.Vehicle{ID: v.ID, Name: v.Name, VIN: v.VIN, Sheet: c.Opened.Sheet.ID, Demo: true}
		if err := putRow(tx, vehicles, []byte(v.ID), row); err != nil {
			return 0, err
		}
	}
	at := job.Origin(number)
	rows := make([]row, len(c.Events))
	for i, e := range c.Events {
		e.At = e.At.Add(shift)
		if o, ok := e.Body.(job.Opened); ok {
			o.Number, o.Vehicle = number, v
			o.Complaint = fmt.Sprintf("%s, case %05d", o.Complaint, number)
			e.Body = o
		}
		data, err := job.Encode(e)
		if err != nil {
			return 0, err
		}
		rows[i] = row{append([]byte(nil), at[:]...), data}
		at = job.Link(at, data)
	}
	s := summarize(c)
	s.Number, s.Vehicle, s.Opened, s.Last = number, v, s.Opened.Add(shift), s.Last.Add(shift)
	s.Complaint = fmt.Sprintf("%s, case %05d", s.Complaint, number)
	t := questions.TagsOf(c)
	t.Text = strings.NewReplacer(fmt.Sprintf("job %d", c.Number()), fmt.Sprintf("job %d", number), strings.ToLower(c.Opened.Vehicle.Name), strings.ToLower(v.Name)+"\n"+strings.ToLower(v.VIN),
		strings.ToLower(c.Opened.Complaint), s.Complaint).Replace(t.Text)
	_, err := addSeal(tx, seal.Seal{Job: number, Events: uint32(len(rows)), Head: at, At: c.Last().At.Add(shift), Ended: c.Outcome()})
	return len(rows), errors.Join(err,
		sealed.put(tx, uintKey(number), pack(rows)),
		putRow(tx, heads, uintKey(number), head{Seq: uint32(len(rows)), Digest: at, Summary: s, Kept: uint32(len(rows))}),
		putRow(tx, tagged, uintKey(number), t))
}

func openArchive(b *testing.B) *File {
	b.Helper()
	f, err := Open(archiveFile(b), options(&clock{time.Date(2040, 1, 1, 0, 0, 0, 0, time.UTC)}))
	must(b, err)
	b.Cleanup(func() { f.Close() })
	return f
}

func BenchmarkArchiveOpenAndList(b *testing.B) {
	path := archiveFile(b)
	for b.Loop() {
		f, err := Open(path, options(newClock()))
		must(b, err)
		_, err = f.Jobs()
		must(b, err)
		must(b, f.Close())
	}
}

// BenchmarkArchiveFirstFind is the first search after the start, which reads what jobs are found by.
func BenchmarkArchiveFirstFind(b *testing.B) {
	f := openArchive(b)
	for b.Loop() {
		clear(f.tags)
		_, err := f.Find(Query{Text: "case 01234", Limit: 50})
		must(b, err)
	}
}

func BenchmarkArchiveFind(b *testing.B) {
	f := openArchive(b)
	for _, text := range []string{"0", "case 01234", "w10 tavo", "demxud00000000042", "zz99zzz"} {
		b.Run(strings.ReplaceAll(text, " ", "_"), func(b *testing.B) {
			for b.Loop() {
				_, err := f.Find(Query{Text: text, Limit: 50})
				must(b, err)
			}
		})
	}
}

func BenchmarkArchiveLoad(b *testing.B) {
	f := openArchive(b)
	n := uint64(0)
	for b.Loop() {
		n = n%uint64(len(f.list)) + 1
		_, err := f.read(n)
		must(b, err)
	}
}

func BenchmarkArchiveVerify(b *testing.B) {
	f := openArchive(b)
	for b.Loop() {
		v, err := f.VerifyAll(context.Background())
		must(b, err)
		if !v.Whole() {
			b.Fatal(v.Faults[0].Err)
		}
	}
}

// BenchmarkArchiveAsk asks about one wrench over a year, which reads the jobs of that year.
func BenchmarkArchiveAsk(b *testing.B) {
	f := openArchive(b)
	for _, q := range []struct {
		name string
		args map[string]string
	}{
		{"signatures", map[string]string{"job": "1500"}},
		{"roller", map[string]string{"vehicle": "K42"}},
		{"withheld", map[string]string{"from": "2027-01-01", "to": "2027-12-31"}},
		{"stage-times", map[string]string{"from": "2027-01-01", "to": "2027-12-31"}},
	} {
		b.Run(q.name, func(b *testing.B) {
			for b.Loop() {
				_, err := f.Ask(context.Background(), q.name, q.args)
				must(b, err)
			}
		})
	}
}

// BenchmarkArchiveSeal is the release of a job in a file with the jobs of many years: the signature
// with its seal, its compressed events and the index entries, on the disk.
func BenchmarkArchiveSeal(b *testing.B) {
	data := readFile(b, archiveFile(b))
	path := newPath(b)
	writeFile(b, path, data)
	f, err := Open(path, options(&clock{time.Date(2040, 1, 1, 0, 0, 0, 0, time.UTC)}))
	must(b, err)
	defer f.Close()
	c, err := f.Load(1)
	must(b, err)
	h, rows, err := f.rows(1)
	must(b, err)
	for b.Loop() {
		must(b, f.update(func(tx *bolt.Tx) error {
			_, err := addSeal(tx, sealOf(c))
			return errors.Join(err, sealed.put(tx, uintKey(1), pack(rows)), putRow(tx, heads, uintKey(1), h), putRow(tx, tagged, uintKey(1), questions.TagsOf(c)))
		}))
	}
}
