package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime/debug"
	"slices"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// raced says that the race detector is on. It makes everything several times slower.
var raced = func() bool {
	info, ok := debug.ReadBuildInfo()
	return ok && slices.Contains(info.Settings, debug.BuildSetting{Key: "-race", Value: "true"})
}()

// scaled is a number of rounds, and a smaller one under the race detector.
func scaled(full, under int) int {
	if raced {
		return under
	}
	return full
}

// How many flips of a byte are tried, and how many visits the played year has.
var mostFlips, yearVisits = scaled(1000, 400), scaled(30, 6)

// everything reads all a file holds and returns its digest, or the first error.
func everything(path string, o Options) (sum string, err error) {
	f, err := Open(path, o)
	if err != nil {
		return "", err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	h := sha256.New()
	say := func(v ...any) { fmt.Fprintf(h, "%+v\n", v) }
	w, ok := f.Workshop()
	d, draftOK := f.Draft()
	say(w, ok, d, draftOK, f.Register(), f.Vehicles())
	for _, p := range f.Procedures() {
		_, digest, err := p.Pin()
		say(digest, err)
	}
	for _, s := range f.Sheets() {
		_, digest, err := s.Pin()
		say(digest, err)
	}
	list, err := f.Jobs()
	if err != nil {
		return "", err
	}
	for _, s := range list {
		say(s)
		c, err := f.Load(s.Number)
		if err != nil {
			return "", err
		}
		say(c.Head, len(c.Events))
		if err := f.Verify(s.Number); err != nil {
			return "", err
		}
	}
	v, err := f.VerifyAll(context.Background())
	if err == nil && !v.Whole() {
		err = v.Faults[0].Err
	}
	if err != nil {
		return "", err
	}
	for _, t := range tables {
		err := f.view(func(tx *bolt.Tx) error {
			return t.each(tx, func(k, v []byte) error { say(t, k, v); return nil })
		})
		if err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("%x", h.Sum(nil)), nil
}

// The child flips bits of the file one after the other, as the lines on its input say, and answers
// each with what came of it.
func init() {
	children["flip"] = func(path string) {
		data, err := os.ReadFile(path)
		die(err)
		copied := path + ".flipped"
		for {
			var at, bit int
			if _, err := fmt.Scan(&at, &bit); err != nil {
				os.Remove(copied)
				return
			}
			data[at] ^= 1 << bit
			die(os.WriteFile(copied, data, 0o600))
			data[at] ^= 1 << bit
			sum, err := everything(copied, options(newClock()))
			var damaged Damaged
			var newer Newer
			switch {
			case err == nil:
				fmt.Println("read", sum)
			case errors.As(err, &damaged), errors.As(err, &newer):
				fmt.Println("noticed")
			default:
				fmt.Println("other", err)
			}
		}
	}
}

// flipFile makes a file with something in every table and several pages in the larger ones.
func flipFile(t testing.TB) string {
	t.Helper()
	c := newClock()
	path := newPath(t)
	f, err := Open(path, options(c))
	must(t, err)
	fill(t, f)
	must(t, f.SaveDraft(Draft{Job: 1, Text: "11,"}))
	if err := f.CheckCode("al", "0000"); !errors.Is(err, ErrWrongCode) {
		t.Fatal(err)
	}
	for n := range 12 {
		v := vehicle1
		v.ID = fmt.Sprintf("V%02d", n)
		must(t, f.PutVehicle(mechanic, v))
		c := openJob(t, f, v.ID, "100")
		for k := range 5 {
			do(t, f, c.Number(), apprentice, number(k+1))
		}
		if n%2 == 0 {
			do(t, f, c.Number(), apprentice, job.Sign{Stage: measure})
			do(t, f, c.Number(), mechanic, job.Enter{Stage: lower, Check: "down", Value: "yes"})
			do(t, f, c.Number(), mechanic, plug("100", ""))
			do(t, f, c.Number(), mechanic, job.Sign{Stage: lower})
			do(t, f, c.Number(), foreman, job.Sign{Stage: procedures.Ref{Stage: "release"}})
		}
	}
	must(t, f.Close())
	return path
}

// One flipped bit anywhere in a file is noticed or changes nothing that is read, and never ends
// the program. bbolt by itself would hand on most of them as wrong data.
func TestFlippedBits(t *testing.T) {
	t.Parallel()
	path := flipFile(t)
	want, err := everything(path, options(newClock()))
	must(t, err)
	data, err := os.ReadFile(path)
	must(t, err)
	seed := uint64(time.Now().UnixNano())
	r := rand.New(rand.NewPCG(seed, 0))
	type flip struct{ at, bit int }
	var flips []flip
	for at := range 96 { // the whole of the first page that matters
		flips = append(flips, flip{at, r.IntN(8)})
	}
	for len(flips) < mostFlips {
		// Most of a small file is room for growth: every second flip goes where something is written.
		if at := r.IntN(len(data)); data[at] != 0 || len(flips)%2 == 0 {
			flips = append(flips, flip{at, r.IntN(8)})
		}
	}
	noticed, harmless := 0, 0
	for _, answer := range answers(t, path, len(flips), func(i int) (int, int) { return flips[i].at, flips[i].bit }) {
		switch answer.line {
		case "noticed":
			noticed++
		case "read " + want:
			harmless++
		default:
			f := flips[answer.i]
			t.Errorf("seed %d: byte %d bit %d: %s", seed, f.at, f.bit, answer.line)
		}
	}
	t.Logf("%d flipped bits: %d noticed, %d in places not used", len(flips), noticed, harmless)
	if noticed < 50 {
		t.Errorf("only %d flips were noticed; the test misses the file", noticed)
	}
}

type answer struct {
	i    int
	line string
}

// answers has a child try every flip. A child that dies or hangs over one is a failure of its own.
func answers(t *testing.T, path string, n int, flip func(i int) (at, bit int)) []answer {
	t.Helper()
	in, out, err := os.Pipe()
	must(t, err)
	ch := startWith(t, "flip", path, in)
	in.Close()
	defer out.Close()
	var got []answer
	for i := range n {
		at, bit := flip(i)
		fmt.Fprintln(out, at, bit)
		hung := time.AfterFunc(20*time.Second, func() { ch.cmd.Process.Kill() })
		line, ok := ch.line()
		hung.Stop()
		if !ok {
			t.Fatalf("byte %d bit %d: the child died or hung", at, bit)
		}
		got = append(got, answer{i, line})
	}
	must(t, out.Close())
	must(t, ch.cmd.Wait())
	return got
}

// FuzzPages gives any bytes to the check that stands before bbolt: it answers, and never panics.
func FuzzPages(f *testing.F) {
	data, err := os.ReadFile(flipFile(f))
	must(f, err)
	f.Add(uint32(0), uint8(1), uint32(40), uint8(1))
	f.Add(uint32(4096*3+8), uint8(255), uint32(4096*4+12), uint8(3))
	f.Fuzz(func(t *testing.T, at1 uint32, x1 uint8, at2 uint32, x2 uint8) {
		b := append([]byte(nil), data...)
		b[int(at1)%len(b)] ^= x1
		b[int(at2)%len(b)] ^= x2
		var d Damaged
		if err := checkPages(bytes.NewReader(b), int64(len(b))); err != nil && !errors.As(err, &d) {
			t.Fatalf("error %v; want Damaged", err)
		}
	})
}

// FuzzRow takes any content through a row and reads any content as the head of a job.
func FuzzRow(f *testing.F) {
	f.Add([]byte("key"), []byte{0xa0}, uint16(3))
	f.Fuzz(func(t *testing.T, key, content []byte, at uint16) {
		if len(key) > 1000 {
			return
		}
		row := heads.withSum(key, content)
		got, err := heads.withoutSum(key, row)
		if err != nil || string(got) != string(content) {
			t.Fatalf("%x comes back as %x, %v", content, got, err)
		}
		row[int(at)%len(row)] ^= 0x04
		if _, err := heads.withoutSum(key, row); err == nil {
			t.Fatal("a flipped bit goes unnoticed")
		}
		if _, err := decodeRow[head](heads, key, content); err != nil {
			var d Damaged
			if !errors.As(err, &d) {
				t.Fatalf("error %v; want Damaged", err)
			}
		}
	})
}
