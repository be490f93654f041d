package bay

import (
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// inRegister signs somebody in and goes to a list of the register.
func inRegister(t *testing.T, p register.Person, tab string) *run {
	t.Helper()
	f, now := workshop(t)
	r := start(t, f, now)
	r.signIn(p)
	r.keys("R " + tab)
	return r
}

// clear erases what a row begins with.
func (r *run) clear(n int) {
	r.t.Helper()
	for range n {
		r.press("Backspace")
	}
}

// confirm gives the code of the person signed in.
func (r *run) confirm() {
	r.t.Helper()
	r.sees("Personal code of " + r.m.env.Person.Name)
	r.type_(codes[r.m.env.Person.ID])
	r.keys("Enter")
}

func registerState(name string, p register.Person, keys string) state {
	return state{name, func(t *testing.T) *run { r := inRegister(t, p, "1"); r.keys(keys); return r }}
}

var _ = show(
	registerState("register, people", frida, "1"),
	registerState("register, people, apprentice", nils, "1"),
	registerState("register, instruments", tarik, "2 Down"),
	registerState("register, vehicles", tarik, "3"),
	registerState("register, odometer", tarik, "3 Enter"),
	registerState("register, workshop", frida, "4"),
	registerState("register, new person", frida, "1 A"),
	registerState("register, apprentice's levels", frida, "1 Down E"),
	registerState("register, close person", frida, "1 Down X"),
	registerState("register, new code", frida, "1 C"),
	registerState("register, new instrument", tarik, "2 A"),
	registerState("register, instrument", tarik, "2 E"),
	registerState("register, dropped", tarik, "2 D"),
	registerState("register, vehicle", tarik, "3 E"),
	registerState("register, settings", frida, "4 E Down"),
)

// TestRegisterPeople adds, changes and closes people, each with the foreman's code.
func TestRegisterPeople(t *testing.T) {
	r := inRegister(t, frida, "1")
	r.both("register-people")
	r.coloured("register-people", "bright")
	r.keys("A")
	r.type_("Edda Bern")
	r.keys("Enter")
	r.type_("TS")
	r.keys("Enter")
	r.sees("The short id ts belongs to Tarik Sand and is never given again")
	r.clear(2)
	r.type_("eb")
	r.keys("Enter 2 Enter")
	r.type_("5005")
	r.keys("Enter")
	r.type_("5006")
	r.keys("Enter")
	r.sees("The two codes are not the same")
	r.keys("Backspace 5")
	r.both("register-newperson")
	r.keys("Enter")
	r.type_("9")
	r.keys("Enter")
	r.sees("wrong")
	if _, ok := r.f.Register().Person("eb"); ok {
		t.Fatal("somebody was added without the foreman's code")
	}
	r.wait(10e9) // the delay after a wrong try
	r.confirm()
	r.sees("Edda Bern is on the register")
	if p, ok := r.f.Register().Person("eb"); !ok || p.Role != procedures.Mechanic || r.f.CheckCode("eb", "5005") != nil {
		t.Errorf("the new person is %+v", p)
	}

	// Close her: asked, then the code.
	r.keys("X")
	r.sees("Close Edda Bern?")
	r.keys("2")
	r.keys("X 1")
	r.confirm()
	r.sees("Edda Bern is closed")
	if p, _ := r.f.Register().Person("eb"); !p.Closed {
		t.Error("the person is not closed")
	}
	r.keys("X")
	r.sees("Edda Bern is closed already")
	r.keys("Down X 1")
	r.confirm()
	r.sees("Frida Holm is the only foreman")
}

// TestRegisterAbsent notes who is here: everybody of himself, the foreman of all.
func TestRegisterAbsent(t *testing.T) {
	r := inRegister(t, frida, "1")
	r.keys("Down H")
	r.sees("Is Nils Karg absent today?")
	r.keys("1")
	r.sees("Nils Karg is noted as absent")
	r.sees("Absent: not on duty today")
	if p, _ := r.f.Register().Person("nk"); !p.Absent {
		t.Error("the apprentice is not absent")
	}
	r.keys("H 1")
	r.sees("Nils Karg is noted as here again")

	r = inRegister(t, nils, "1")
	r.keys("H")
	r.sees("Only a foreman says of others whether they are here")
	r.keys("Down H 1")
	r.sees("Nils Karg is noted as absent")
}

// TestRegisterQualification writes a licence of the shipped procedure down, with the foreman's code,
// and raises a level only when the practice record allows it.
func TestRegisterQualification(t *testing.T) {
	f, now := workshop(t)
	lib, err := procedures.Library()
	must(t, err)
	must(t, f.Install(frida, lib[0]))
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("R 1 Down E")
	r.sees("Driving licence until")
	r.both("person-page")
	r.keys("F")
	r.keys("Esc") // F is a letter in a text row
	r.keys("1 E")
	r.type_("2027-13-01")
	r.keys("Enter")
	r.sees("is no date")
	r.clear(5)
	r.type_("12-01")
	r.keys("Enter F")
	r.sees("1 change in what the register says of Nils Karg.")
	r.confirm()
	r.sees("The register says so of Nils Karg now")
	r.sees("Driving licence until 2027-12-01")
	r.keys("E Down F")
	r.sees("Nothing is changed on this page")
	r.keys("3 F")
	r.confirm()
	r.sees("without rework")
	p, _ := r.f.Register().Person("nk")
	if len(p.Qualifications) != 1 || p.Qualifications[0].Until != "2027-12-01" || len(p.Levels) != 0 {
		t.Errorf("the apprentice is %+v", p)
	}
}

// TestRegisterCodes lets everybody change the own code, and the foreman every code.
func TestRegisterCodes(t *testing.T) {
	r := inRegister(t, tarik, "1")
	r.keys("C") // the first of the list is Frida
	r.sees("Only a foreman gives somebody else a new code")
	r.keys("A")
	r.sees("Only a foreman adds, changes and closes people; Tarik Sand is mechanic")
	r.keys("Down Down C")
	r.sees("New code for Tarik Sand")
	r.type_("77")
	r.keys("Enter")
	r.sees("4 to 12 digits")
	r.type_("77")
	r.keys("Enter")
	r.type_("7778")
	r.keys("Enter")
	r.sees("The two codes were not the same")
	r.keys("C")
	r.type_("7777")
	r.keys("Enter")
	r.type_("7777")
	r.keys("Enter")
	r.sees("the code that has been right until now")
	r.confirm()
	r.sees("Tarik Sand has a new code")
	if r.f.CheckCode("ts", "7777") != nil {
		t.Error("the new code is not right")
	}
}

// TestRegisterInstruments adds a wrench with the mistakes on the way, marks it and brings it back.
func TestRegisterInstruments(t *testing.T) {
	r := inRegister(t, tarik, "2")
	r.both("register-instruments")
	for _, want := range []string{"RAN OUT", "DROPPED", "valid"} {
		r.sees(want)
	}
	r.keys("A")
	r.type_("W9")
	r.keys("Enter 1 Enter")
	r.type_("S-W1")
	r.keys("Enter Enter")
	r.type_("Nmm, lb")
	r.keys("Enter")
	r.sees("Nmm")
	r.clear(7)
	r.type_("Nm, lbf-ft")
	r.keys("Enter")
	r.type_("20")
	r.keys("Enter")
	r.type_("10")
	r.keys("Enter")
	r.type_("0,5")
	r.keys("Enter")
	r.type_("4")
	r.keys("Enter")
	r.sees("4")
	r.type_(" %")
	r.keys("Enter")
	r.type_("C-9")
	r.keys("Enter")
	r.type_("1.3.2026")
	r.keys("Enter")
	r.sees("is no date; expected year-month-day")
	r.clear(8)
	r.type_("2026-02-20")
	r.keys("Enter")
	r.type_("2026-03-20")
	r.both("register-newinstrument")
	r.keys("Enter Enter Enter Enter")
	r.sees("the range 20 N·m to 10 N·m is empty")
	if r.m.dialog != nil {
		r.keys("Esc")
	}
	r.keys("Up Up Up Up Up Up Up Up")
	r.clear(2)
	r.type_("200")
	r.keys("Down Down Down Down Down Down Down Down Enter")
	r.sees("The serial number S-W1 belongs to W1 already")
	r.keys(strings.Repeat("Up ", 12))
	r.clear(4)
	r.type_("S-W9")
	r.keys(strings.Repeat("Down ", 12) + "Enter")
	r.sees("W9 is on the register as typed")
	r.keys("Down Down Down Down Down Down Down")
	r.sees("Valid today; the certificate ends in 18 days")
	in, ok := r.f.Register().Instrument("W9")
	if !ok || in.High != quantity.MustParse("200 N·m") || in.Resolution != quantity.MustParse("0.5 N·m") || len(in.Scales) != 2 {
		t.Errorf("the instrument is %+v", in)
	}

	r.keys("D Enter")
	r.sees("Say in a few words what happened")
	r.type_("fell from the cart")
	r.keys("Enter")
	r.sees("W9 is dropped and may not be used")
	r.sees("W9 is dropped (fell from the cart)")
	r.keys("D")
	r.sees("W9 is marked as dropped already")
	r.keys("E " + strings.Repeat("Down ", 10))
	r.keys("1 F")
	r.sees("comes back into use with a new certificate")
	r.keys("Esc 1")
	r.keys("W")
	r.type_("worn out")
	r.keys("Enter")
	r.sees("WITHDRAWN")
}

// TestRegisterVehicles shows the odometer and changes a vehicle.
func TestRegisterVehicles(t *testing.T) {
	f, now := workshop(t)
	v, _ := f.Vehicle("V-7")
	v.Odometer = []register.OdometerReading{{Date: "2025-06-01", Job: 1, Value: quantity.MustParse("42180 km")}, {Date: "2026-01-05", Job: 3, Value: quantity.MustParse("61430 km")}}
	must(t, f.PutVehicle(frida, v))
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("R 3")
	r.both("register-vehicles")
	r.keys("Enter")
	r.sees("2026-01-05 61430 km for job 3 (19250 km since)")
	r.both("register-odometer")
	r.keys("Esc E")
	r.sees("as its sheet says  which is 2")
	r.keys("Down Down Down Down 2 F")
	r.sees("Traits: Disc screws: 0")
	if v, _ := r.f.Vehicle("V-7"); v.Traits["screws"] != "0" || len(v.Odometer) != 2 {
		t.Errorf("the vehicle is %+v", v)
	}
}

// TestRegisterScan marks what was scanned on the list it stands on.
func TestRegisterScan(t *testing.T) {
	r := inRegister(t, tarik, "1")
	r.burst("S-W2")
	r.sees("The scan is instrument S-W2")
	r.sees("W2  setting wrench")
	r.burst("S-W99")
	r.sees("is no instrument and no vehicle of the register")
}

// TestSettings changes the palette, the characters, the decimal mark, the unit beside torques and how long somebody stays signed in; Esc takes the palette back.
func TestSettings(t *testing.T) {
	r := inRegister(t, frida, "4")
	r.sees("Test workshop")
	r.keys("E Down 1")
	r.both("settings")
	r.keys("Esc 1")
	r.sees("Palette: mono")
	r.keys("E Enter 2 Enter 2 Enter 2 Enter 3 Enter 2 Enter")
	r.sees("The settings are written down")
	if w, _ := r.f.Workshop(); w.Palette != draw2(t) || !w.DecimalComma || !w.Demo || w.IdleMinutes != 5 || !w.ASCII || w.TorqueUnit != "lbf·ft" {
		t.Errorf("the workshop is %+v", w)
	}
	for _, c := range r.frame() {
		if c >= 0x80 {
			t.Fatalf("%q is no ASCII character:\n%s", c, r.frame())
		}
	}
	r.keys("2")
	r.sees("0,1 mm")
	r.keys("4 E Down Down 1")
	r.sees("·")
	r.keys("Esc 1")
	r.seesNot("·")
	r = inRegister(t, tarik, "4")
	r.keys("E")
	r.sees("Only a foreman changes the settings of the workshop")
}

// draw2 is the second palette.
func draw2(t *testing.T) string {
	t.Helper()
	return draw.Palettes()[1]
}
