package store

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

func TestFirstRun(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	if w, ok := f.Workshop(); ok {
		t.Fatalf("a new file has the workshop %v", w)
	}
	for _, p := range []struct {
		path string
		mode os.FileMode
	}{{path, 0o600}, {filepath.Dir(path), 0o700}} {
		info, err := os.Stat(p.path)
		must(t, err)
		if info.Mode().Perm() != p.mode {
			t.Errorf("%s has mode %v, want %v", p.path, info.Mode().Perm(), p.mode)
		}
	}
	wantError(t, f.SaveWorkshop(Workshop{Name: "X"}), "not been set up yet")
	wantError(t, f.SetUp(Workshop{Name: " "}, foreman, foremanCode), "no name")
	wantError(t, f.SetUp(Workshop{Name: "X"}, mechanic, foremanCode), "begins with a foreman")
	wantError(t, f.SetUp(Workshop{Name: "X"}, foreman, "123"), "4 to 12 digits; this one has 3")
	fill(t, f)
	wantError(t, f.SetUp(Workshop{Name: "X"}, foreman, foremanCode), "already")

	w, ok := f.Workshop()
	want := Workshop{Name: "Demo bay", Demo: true, Created: c.at, Palette: "dark"}
	if !ok || cmp.Diff(want, w) != "" {
		t.Fatalf("workshop: %s", cmp.Diff(want, w))
	}
	c.forward(time.Hour)
	want.Palette, want.DecimalComma, want.ASCII, want.TorqueUnit = "bright", true, true, quantity.PoundFoot
	change := want
	change.Created, change.Demo = c.at, false // neither can be changed
	wrong := change
	wrong.TorqueUnit = quantity.Millimetre
	wantError(t, f.SaveWorkshop(wrong), "is no unit of torque")
	must(t, f.SaveWorkshop(change))
	must(t, f.Close())
	f = open(t, path, c)
	if w, _ := f.Workshop(); cmp.Diff(want, w) != "" {
		t.Fatalf("workshop after reopening: %s", cmp.Diff(want, w))
	}
}

func TestPeople(t *testing.T) {
	f, _ := filled(t)
	for _, c := range []struct {
		err  error
		part string
	}{
		{f.AddPerson(foreman, register.Person{ID: "mo", Name: "Other", Role: procedures.Mechanic}, "9999"), `"mo" belongs to Mo Mechanic`},
		{f.AddPerson(foreman, register.Person{ID: "zoe", Name: "Zoe", Role: "boss"}, "9999"), "is no role"},
		{f.AddPerson(foreman, register.Person{ID: "zoe", Name: " ", Role: procedures.Mechanic}, "9999"), "no name"},
		{f.AddPerson(foreman, register.Person{ID: "", Name: "Zoe", Role: procedures.Mechanic}, "9999"), "no number or short name"},
		{f.AddPerson(foreman, register.Person{ID: "zoe", Name: "Z\x1b[2J", Role: procedures.Mechanic}, "9999"), "U+001B"},
		{f.AddPerson(foreman, register.Person{ID: "zoe", Name: "Zoe", Role: procedures.Mechanic}, "99"), "this one has 2"},
		{f.AddPerson(foreman, register.Person{ID: "zoe", Name: "Zoe", Role: procedures.Mechanic}, "1234567890123"), "this one has 13"},
		{f.AddPerson(foreman, register.Person{ID: "zoe", Name: "Zoe", Role: procedures.Mechanic}, "12a4"), "other characters"},
		{f.AddPerson(mechanic, register.Person{ID: "zoe", Name: "Zoe", Role: procedures.Mechanic}, "9999"), "Mo Mechanic is mechanic; only a foreman"},
		{f.AddPerson(register.Person{ID: "mo", Role: procedures.Foreman}, register.Person{ID: "zoe", Name: "Zoe", Role: procedures.Mechanic}, "9999"), "only a foreman"},
		{f.AddPerson(register.Person{ID: "no", Role: procedures.Foreman}, register.Person{ID: "zoe", Name: "Zoe", Role: procedures.Mechanic}, "9999"), "nobody on the register"},
		{f.ClosePerson(foreman, "ida"), "only foreman"},
		{f.ClosePerson(foreman, "nobody"), "nobody on the register"},
		{f.SetCode(mechanic, "al", "7777"), "only a foreman sets"},
	} {
		wantError(t, c.err, c.part)
	}
	must(t, f.ClosePerson(foreman, "al"))
	wantError(t, f.ClosePerson(foreman, "al"), "closed already")
	wantError(t, f.CheckCode("al", apprenticeCode), "no longer on the register")
	closed := apprentice
	closed.Closed = true
	want := register.Register{People: []register.Person{closed, foreman, mechanic}, Instruments: []register.Instrument{gauge, wrench}}
	if d := cmp.Diff(want, f.Register()); d != "" {
		t.Fatal(d)
	}
	var acts []string
	must(t, f.view(func(tx *bolt.Tx) error {
		all, err := allRows[logged](tx, registerLog)
		for _, l := range all {
			acts = append(acts, l.By.ID+" "+l.Act+" "+l.Table+" "+l.Key)
		}
		return err
	}))
	wantLog := []string{"ida set up people ida", "ida added people mo", "ida added people al", "ida certificate added certificates D1/2026-01-05/C-7", "ida added instruments D1",
		"ida certificate added certificates W7/2026-03-09/C-70", "ida added instruments W7",
		"ida put in use in-use sdemo-type", "ida put in use in-use psmall-check", "mo added vehicles V1", "ida closed people al"}
	if d := cmp.Diff(wantLog, acts); d != "" {
		t.Fatal(d)
	}
}

// The delays are 1, 2, 4 … 60 s and a try within one is not counted.
func TestCodeDelays(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	fill(t, f)
	must(t, f.CheckCode("mo", mechanicCode))
	for _, seconds := range []int{1, 2, 4, 8, 16, 32, 60, 60} {
		err := f.CheckCode("mo", "0000")
		if !errors.Is(err, ErrWrongCode) {
			t.Fatalf("error %v; want ErrWrongCode", err)
		}
		delay := time.Duration(seconds) * time.Second
		must(t, f.Close())
		f = open(t, path, c) // the count outlives the program
		var w Wait
		if err := f.CheckCode("mo", mechanicCode); !errors.As(err, &w) || w.For != delay {
			t.Fatalf("after %d s expected, error %v", seconds, err)
		}
		must(t, f.CheckCode("ida", foremanCode)) // the others do not wait
		c.forward(delay - time.Millisecond)
		if err := f.CheckCode("mo", mechanicCode); !errors.As(err, &w) || w.For != time.Millisecond {
			t.Fatalf("just before %d s, error %v", seconds, err)
		}
		wantError(t, w, "has to wait 1 s")
		c.forward(time.Millisecond)
	}
	must(t, f.CheckCode("mo", mechanicCode))
	if err := f.CheckCode("mo", "0000"); !errors.Is(err, ErrWrongCode) {
		t.Fatal(err)
	}
	wantError(t, f.CheckCode("mo", mechanicCode), "wait 1 s") // a right code began the count anew

	c.forward(-time.Hour) // a clock set back neither frees nor locks for good
	wantError(t, f.CheckCode("mo", mechanicCode), "wait 1 s")
	c.forward(time.Second)
	must(t, f.CheckCode("mo", mechanicCode))

	must(t, errOnly(f.CheckCode("mo", "0000"), ErrWrongCode))
	must(t, f.SetCode(foreman, "mo", "555555")) // a new code ends the waiting
	must(t, f.CheckCode("mo", "555555"))
	must(t, f.SetCode(mechanic, "mo", "666666"))
	must(t, f.CheckCode("mo", "666666"))
	wantError(t, f.CheckCode("nobody", "0000"), "nobody on the register")
}

func errOnly(err, want error) error {
	if errors.Is(err, want) {
		return nil
	}
	return errors.Join(errors.New("another error was expected"), err)
}

// A code is kept as argon2id with its own salt and its cost, and checked with the cost it has.
func TestCodesAreHashed(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	fill(t, f)
	must(t, f.SetCode(foreman, "mo", foremanCode)) // the same code as the foreman's
	read := func(id string) (h hashed) {
		must(t, f.view(func(tx *bolt.Tx) (err error) {
			h, _, err = getRow[hashed](tx, codes, []byte(id))
			return err
		}))
		return h
	}
	a, b := read("ida"), read("mo")
	if string(a.Salt) == string(b.Salt) || string(a.Hash) == string(b.Hash) || a.Cost != cheap || !a.valid() {
		t.Fatalf("two people with one code: %+v, %+v", a, b)
	}
	must(t, f.Close())
	o := options(c)
	o.HashCost = Cost{Memory: 16, Passes: 2, Lanes: 1}
	f, err := Open(path, o)
	must(t, err)
	defer f.Close()
	must(t, f.CheckCode("mo", foremanCode))
	must(t, f.SetCode(foreman, "mo", mechanicCode))
	must(t, f.CheckCode("mo", mechanicCode))
	if got := read("mo").Cost; got != o.HashCost {
		t.Fatalf("new code has the cost %v", got)
	}
	if DefaultCost != (Cost{65536, 3, 4}) { // RFC 9106, section 4, second recommended option
		t.Fatalf("default cost %v", DefaultCost)
	}
}

func TestInstruments(t *testing.T) {
	f, _ := filled(t)
	with := func(change func(*register.Instrument)) register.Instrument {
		i := gauge
		change(&i)
		return i
	}
	for _, c := range []struct {
		by   register.Person
		i    register.Instrument
		part string
	}{
		{foreman, with(func(i *register.Instrument) { i.ID = "D2" }), "DG-100 belongs to D1 already"},
		{foreman, with(func(i *register.Instrument) { i.Serial = "DG-101" }), "D1 is the depth gauge with serial number DG-100"},
		{foreman, with(func(i *register.Instrument) { i.ID, i.Serial = "D2", "" }), "no serial number"},
		{foreman, with(func(i *register.Instrument) { i.Due = "soon" }), "a date reads"},
		{foreman, with(func(i *register.Instrument) { i.Status = "lent" }), `the status "lent"`},
		{apprentice, gauge, "only a mechanic or foreman"},
	} {
		wantError(t, f.PutInstrument(c.by, c.i), c.part)
	}
	dropped := with(func(i *register.Instrument) { i.Status, i.StatusNote = register.Dropped, "fell on 2026-03-09" })
	must(t, f.PutInstrument(mechanic, dropped))
	if got, _ := f.Register().Instrument("D1"); cmp.Diff(dropped, got) != "" {
		t.Fatal(cmp.Diff(dropped, got))
	}
}

func TestVehicles(t *testing.T) {
	f, _ := filled(t)
	wantError(t, f.PutVehicle(apprentice, vehicle1), "only a mechanic or foreman")
	wantError(t, f.PutVehicle(mechanic, register.Vehicle{ID: "V2", Name: "X"}), "no spec sheet")
	wantError(t, f.PutVehicle(mechanic, register.Vehicle{ID: " V2", Name: "X", Sheet: "s"}), "begins or ends with a space")
	wantError(t, f.PutVehicle(mechanic, register.Vehicle{ID: "V2", Sheet: "s"}), "no name")
	openJob(t, f, "V1", "61430")
	v, ok := f.Vehicle("V1")
	if !ok || len(v.Odometer) != 1 || v.Odometer[0].Value.String() != "61430 km" || v.Odometer[0].Job != 1 || v.Odometer[0].Date != "2026-03-09" {
		t.Fatalf("vehicle after its first job: %+v", v)
	}
	wantError(t, f.PutVehicle(mechanic, vehicle1), "1 odometer readings that are kept")
	v.Owner = "Demo carrier"
	must(t, f.PutVehicle(mechanic, v))
	if d := cmp.Diff([]register.Vehicle{v}, f.Vehicles()); d != "" {
		t.Fatal(d)
	}
	if _, ok := f.Vehicle("V9"); ok {
		t.Fatal("a vehicle that nobody added")
	}
}
