package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// procedureText is a small invented procedure: receive, measure, release, close.
const procedureText = `format = 1
id = "small-check"
title = "%s"
revision = "%s"
demo = true

[[phase]]
id = "all"
title = "All of it"

[[state]]
id = "raised"
title = "Vehicle raised"
danger = "It can fall."
label = "Raised"
if_stopped = "Lower it."

[[stage]]
id = "measure"
title = "Measure"
phase = "all"
why = "To know. Nothing else tells."
good = "A number."
who = "apprentice"
second = "never"
sets = ["raised"]
[[stage.check]]
id = "number"
kind = "count"
title = "Number"
[[stage.check]]
id = "depth"
kind = "thickness"
title = "Depth"
window = "depth"
num_points = 2
optional = true
tools = ["depth gauge"]
[[stage.check]]
id = "note"
kind = "text"
title = "Note"
optional = true

[[stage]]
id = "lower"
title = "Lower"
phase = "all"
why = "To drive. It stands on its wheels."
good = "All wheels on the ground."
who = "mechanic"
after = ["measure"]
second = "never"
[[stage.clears]]
state = "raised"
proof = ["down"]
[[stage.check]]
id = "down"
kind = "confirm"
title = "All wheels on the ground"
[[stage.check]]
id = "plug"
kind = "torque"
title = "Plug of the jacking point"
group = "plug"
window = "plug"
optional = true
tools = ["dial wrench"]

[[stage]]
id = "release"
title = "Release"
phase = "all"
why = "Somebody answers for it. That is the foreman."
good = "Signed."
who = "foreman"
after = ["lower"]
second = "never"
act = "release"

[[stage]]
id = "close"
title = "Close"
phase = "all"
why = "The papers go. The job ends."
good = "Filed."
who = "mechanic"
after = ["release"]
second = "never"
act = "close"
`

const sheetText = `format = 1
id = "demo-type"
title = "Invented demo type"
revision = "%s"
author = "The pawl project"
date = "2026-03-02"
demo = true

[traits]

[[source]]
id = "book"
document = "Demo book (invented)"
revision = "1"

[[window]]
id = "depth"
value = ">= 2.0 mm"
source = "book"

[[window]]
id = "plug"
value = "90..110 N·m"
source = "book"

[[group]]
id = "plug"
title = "Plug"
names = ["plug"]
source = "book"
`

func loadProcedure(t testing.TB, title, revision string) *procedures.Procedure {
	t.Helper()
	p, err := procedures.LoadProcedure("small-check.toml", fmt.Appendf(nil, procedureText, title, revision))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func loadSheet(t testing.TB, revision string) *procedures.Sheet {
	t.Helper()
	s, err := procedures.LoadSheet("demo-type.toml", fmt.Appendf(nil, sheetText, revision))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// cheap keeps hashing out of the time a test takes.
var cheap = Cost{Memory: 8, Passes: 1, Lanes: 1}

var (
	foreman    = register.Person{ID: "ida", Name: "Ida Foreman", Role: procedures.Foreman}
	mechanic   = register.Person{ID: "mo", Name: "Mo Mechanic", Role: procedures.Mechanic}
	apprentice = register.Person{ID: "al", Name: "Al Apprentice", Role: procedures.Apprentice}
	gauge      = register.Instrument{ID: "D1", Kind: register.DepthGauge, Serial: "DG-100", Scales: []quantity.Unit{quantity.Millimetre},
		Low: quantity.MustParse("0 mm"), High: quantity.MustParse("150 mm"), Resolution: quantity.MustParse("0.01 mm"), Error: quantity.MustParse("0.02 mm"),
		Certificate: "C-7", Calibrated: "2026-01-05", Due: "2027-01-05", Status: register.InUse}
	wrench = register.Instrument{ID: "W7", Kind: register.DialWrench, Serial: "DW-7", Scales: []quantity.Unit{quantity.NewtonMetre},
		Low: quantity.MustParse("40 N·m"), High: quantity.MustParse("200 N·m"), Resolution: quantity.MustParse("1 N·m"), Error: quantity.MustParse("3 %"),
		Certificate: "C-70", Calibrated: "2026-03-09", Due: "2027-03-08", CycleLimit: 5000, Status: register.InUse}
	vehicle1 = register.Vehicle{ID: "V1", Name: "Demo van", Sheet: "demo-type", Demo: true}
)

const (
	foremanCode    = "48151"
	mechanicCode   = "16234"
	apprenticeCode = "2042"
)

// clock is a clock that a test sets.
type clock struct{ at time.Time }

func (c *clock) now() time.Time          { return c.at }
func (c *clock) forward(d time.Duration) { c.at = c.at.Add(d) }

func newClock() *clock {
	return &clock{time.Date(2026, 3, 9, 8, 0, 0, 0, time.FixedZone("", 3600))}
}

func options(c *clock) Options {
	return Options{Now: c.now, Station: "bay-1", HashCost: cheap, Timeout: 300 * time.Millisecond}
}

func newPath(t testing.TB) string {
	return filepath.Join(t.TempDir(), "shop", "workshop.pawl")
}

// open opens a file for a test; when the test ends the file is closed and checked.
func open(t testing.TB, path string, c *clock) *File {
	t.Helper()
	f, err := Open(path, options(c))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
		checkConsistent(t, path)
	})
	return f
}

// checkConsistent lets bbolt's own check and ours look at a closed file.
func checkConsistent(t testing.TB, path string) {
	t.Helper()
	db, err := bolt.Open(path, 0o600, &bolt.Options{ReadOnly: true, Timeout: time.Second})
	if err != nil {
		t.Errorf("open for the check: %v", err)
		return
	}
	err = db.View(func(tx *bolt.Tx) error {
		var all []error
		for err := range tx.Check() {
			all = append(all, err)
		}
		return errors.Join(all...)
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Errorf("bbolt's check: %v", err)
	}
	file, err := os.Open(path)
	if err != nil {
		t.Error(err)
		return
	}
	defer file.Close()
	info, err := file.Stat()
	if err == nil {
		err = checkPages(file, info.Size())
	}
	if err != nil {
		t.Errorf("our check: %v", err)
	}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// wantError checks that an error says what it should, in one line.
func wantError(t testing.TB, err error, part string) {
	t.Helper()
	if err == nil {
		t.Fatalf("no error; want one with %q", part)
	}
	if !strings.Contains(err.Error(), part) || strings.Contains(err.Error(), "\n") {
		t.Fatalf("error %q; want one line with %q", err, part)
	}
}

// fill sets up a workshop with three people, an instrument, a vehicle, a procedure and a sheet.
func fill(t testing.TB, f *File) {
	t.Helper()
	must(t, f.SetUp(Workshop{Name: "Demo bay", Demo: true, Palette: "dark"}, foreman, foremanCode))
	must(t, f.AddPerson(foreman, mechanic, mechanicCode))
	must(t, f.AddPerson(foreman, apprentice, apprenticeCode))
	must(t, f.PutInstrument(foreman, gauge))
	must(t, f.PutInstrument(foreman, wrench))
	must(t, f.InstallSheet(foreman, loadSheet(t, "1")))
	must(t, f.Install(foreman, loadProcedure(t, "Small check", "1")))
	must(t, f.PutVehicle(mechanic, vehicle1))
}

func filled(t testing.TB) (*File, *clock) {
	t.Helper()
	c := newClock()
	f := open(t, newPath(t), c)
	fill(t, f)
	return f, c
}

func openJob(t testing.TB, f *File, vehicle, odometer string) *job.Card {
	t.Helper()
	c, err := f.OpenJob(Actor{Person: mechanic}, NewJob{Vehicle: vehicle, Complaint: "It grinds", Odometer: odometer, Procedure: "small-check"})
	must(t, err)
	return c
}

var measure = procedures.Ref{Stage: "measure"}

var lower = procedures.Ref{Stage: "lower"}

// plug tightens the plug with the wrench.
func plug(value, reason string) job.Enter {
	return job.Enter{Stage: lower, Check: "plug", Item: "plug", Value: value, With: "W7", Reason: reason}
}

// finish plays an open job to its close.
func finish(t testing.TB, f *File, n uint64) {
	t.Helper()
	do(t, f, n, apprentice, number(4))
	do(t, f, n, apprentice, job.Sign{Stage: measure})
	do(t, f, n, mechanic, job.Enter{Stage: lower, Check: "down", Value: "yes"})
	do(t, f, n, mechanic, plug("100", ""))
	do(t, f, n, mechanic, job.Sign{Stage: lower})
	do(t, f, n, foreman, job.Sign{Stage: procedures.Ref{Stage: "release"}})
	do(t, f, n, mechanic, job.Sign{Stage: procedures.Ref{Stage: "close"}})
}

// number enters the n-th number, as a correction from the second on.
func number(n int) job.Enter {
	e := job.Enter{Stage: measure, Check: "number", Value: fmt.Sprint(n)}
	if n > 1 {
		e.Reason = "counted again"
	}
	return e
}

func do(t testing.TB, f *File, n uint64, who register.Person, want job.Intent) *job.Card {
	t.Helper()
	c, _, err := f.Do(n, Actor{Person: who, CodeGiven: true}, want)
	must(t, err)
	return c
}

// enterUntil enters numbers until one fails, and returns the last event acknowledged.
func enterUntil(f *File, n uint64, from uint32, most int) (uint32, error) {
	seq := from
	for range most {
		_, events, err := f.Do(n, Actor{Person: apprentice}, number(int(seq)))
		if err != nil {
			return seq, err
		}
		seq = events[0].Seq
	}
	return seq, nil
}

// raw changes a closed file behind the back of this package.
func raw(t testing.TB, path string, do func(tx *bolt.Tx) error) {
	t.Helper()
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second})
	must(t, err)
	must(t, errors.Join(db.Update(do), db.Close()))
}

func asDamaged(t testing.TB, err error, part string) {
	t.Helper()
	var d Damaged
	if !errors.As(err, &d) {
		t.Fatalf("error %v; want Damaged", err)
	}
	wantError(t, err, part)
}

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	must(t, err)
	return data
}

func writeFile(t testing.TB, path string, data []byte) {
	t.Helper()
	must(t, os.MkdirAll(filepath.Dir(path), 0o700))
	must(t, os.WriteFile(path, data, 0o600))
}
