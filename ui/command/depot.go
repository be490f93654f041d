package command

import (
	"errors"
	"fmt"
	"time"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// The invented depot of the demo. No name, number or figure in it belongs to anybody.

// depotPerson is somebody of the depot with the code that is printed on the screen.
type depotPerson struct {
	register.Person
	code string
}

// depotPeople are the people of the depot, the foreman first. Whoever drives has a licence until
// the day given.
func depotPeople(until string) []depotPerson {
	drives := []register.Qualification{{ID: "driving licence", Until: until}}
	return []depotPerson{
		{register.Person{ID: "F02", Name: "Quill", Role: procedures.Foreman, Qualifications: drives}, "4102"},
		{register.Person{ID: "M04", Name: "Ninna", Role: procedures.Mechanic, Qualifications: drives}, "4104"},
		{register.Person{ID: "M07", Name: "Tavo", Role: procedures.Mechanic, Qualifications: drives}, "4107"},
		{register.Person{ID: "A11", Name: "Jory", Role: procedures.Apprentice}, "4111"},
		{register.Person{ID: "Q01", Name: "Esk", Role: procedures.Auditor}, "4101"},
	}
}

// depotNotice tells whoever signs in to the demo the codes of its people.
func depotNotice() string {
	s := "Codes of the demo: "
	for i, p := range depotPeople("") {
		if i > 0 {
			s += ", "
		}
		s += fmt.Sprintf("%s %s (%s) %s", p.ID, p.Name, p.Role, p.code)
	}
	return s
}

// depotInstruments are the instruments, in date on the day given but for W7.
func depotInstruments(day time.Time) []register.Instrument {
	on := func(days int) string { return day.AddDate(0, 0, days).Format(time.DateOnly) }
	tool := func(id, kind, title, low, high, resolution, limit string) register.Instrument {
		q := quantity.MustParse
		return register.Instrument{ID: id, Kind: kind, Title: title, Serial: "DEMO-" + id, Scales: []quantity.Unit{q(low).Unit},
			Low: q(low), High: q(high), Resolution: q(resolution), Error: q(limit), Certificate: "DEMO-C-" + id,
			Calibrated: on(-120), Due: on(240), Status: register.InUse}
	}
	late := tool("W7", register.SettingWrench, "wrench 40 to 200, was dropped in spring", "40 N·m", "200 N·m", "1 N·m", "4 %")
	late.Calibrated, late.Due = on(-366), on(-1)
	worn := tool("W6", register.SettingWrench, "old wrench, certificate 6 %", "20 N·m", "120 N·m", "1 N·m", "6 %")
	return []register.Instrument{
		tool("W3", register.SettingWrench, "wrench 10 to 50", "10 N·m", "50 N·m", "0.5 N·m", "4 %"),
		tool("W5", register.SettingWrench, "wrench 2 to 10", "2 N·m", "10 N·m", "0.1 N·m", "6 %"),
		worn, late,
		tool("W8", register.SettingWrench, "wrench 40 to 200", "40 N·m", "200 N·m", "1 N·m", "4 %"),
		tool("W9", register.SettingWrench, "wrench with a lbf·ft scale only", "20 lbf·ft", "150 lbf·ft", "1 lbf·ft", "4 %"),
		tool("W10", register.DialWrench, "dial wrench", "20 N·m", "200 N·m", "1 N·m", "3 %"),
		tool("MIC1", register.Micrometer, "micrometer 0 to 25", "0 mm", "25 mm", "0.001 mm", "0.004 mm"),
		tool("MIC2", register.Micrometer, "micrometer for the yard", "0 mm", "25 mm", "0.01 mm", "0.008 mm"),
		tool("DG1", register.DialGauge, "dial gauge with stand", "0 mm", "10 mm", "0.01 mm", "0.004 mm"),
		tool("CAL1", register.SlidingCaliper, "sliding caliper", "0 mm", "150 mm", "0.05 mm", "0.05 mm"),
		tool("MIC3", register.Micrometer, "micrometer 0 to 50", "0 mm", "50 mm", "0.001 mm", "0.004 mm"),
		tool("CAL2", register.SlidingCaliper, "sliding caliper to 300, drum jaws", "0 mm", "300 mm", "0.05 mm", "0.05 mm"),
		tool("DEP1", register.DepthGauge, "depth gauge", "0 mm", "100 mm", "0.05 mm", "0.05 mm"),
		tool("AG1", register.AngleGauge, "angle gauge", "0 °", "360 °", "1 °", "1 °"),
		tool("PG1", register.PadGauge, "pad gauge", "0 mm", "25 mm", "0.1 mm", "0.1 mm"),
		tool("RT1", register.RollerTester, "roller tester", "0 kN", "20 kN", "0.01 kN", "2 %"),
		tool("RT2", register.RollerTester, "roller tester, shares it works out", "0 %", "100 %", "0.1 %", "1 %"),
		tool("TH1", register.Thermometer, "no-touch thermometer", "0 °C", "600 °C", "1 °C", "2 %"),
		tool("FT1", register.FluidTester, "boiling point tester", "80 °C", "300 °C", "1 °C", "3 %"),
		tool("TAPE", register.Tape, "tape", "0 mm", "3000 mm", "1 mm", "1 mm"),
	}
}

func depotVehicles(day time.Time) []register.Vehicle {
	read := func(days int, km string) register.OdometerReading {
		return register.OdometerReading{Date: day.AddDate(0, 0, -days).Format(time.DateOnly), Value: quantity.Quantity{Number: km, Unit: quantity.Kilometre}}
	}
	return []register.Vehicle{
		{ID: "9", Name: "Tarnholt 9 hill minibus", VIN: "DEMXUD00000000009", Sheet: "demo-minibus", Owner: "Ullisgarth Dale Community Transport", Demo: true,
			Odometer: []register.OdometerReading{read(540, "32550"), read(180, "52300")}},
		{ID: "4", Name: "Tarnholt 4 valley minibus", VIN: "DEMXUD00000000004", Sheet: "demo-minibus-plain", Owner: "Ullisgarth Dale Community Transport", Demo: true,
			Odometer: []register.OdometerReading{read(210, "88140")}},
		{ID: "12", Name: "Tarnholt 12 parcel van", VIN: "DEMXUD00000000012", Sheet: "demo-van", Owner: "Ullisgarth Dale Parcel Round", Demo: true,
			Odometer: []register.OdometerReading{read(160, "41870")}},
	}
}

// setUpDepot fills an empty file with the depot as it stands on a day.
func setUpDepot(f *store.File, day time.Time) error {
	if w, known := f.Workshop(); known {
		return fmt.Errorf("%s holds the workshop %q already; the demo wants a file of its own", f.Path(), w.Name)
	}
	people := depotPeople(day.AddDate(1, 0, 0).Format(time.DateOnly))
	foreman := people[0]
	err := f.SetUp(store.Workshop{Name: "Hollin Bay (invented)", Demo: true, Palette: "dark"}, foreman.Person, foreman.code)
	if err != nil {
		return err
	}
	by := foreman.Person
	for _, p := range people[1:] {
		err = errors.Join(err, f.AddPerson(by, p.Person, p.code))
	}
	for _, i := range depotInstruments(day) {
		err = errors.Join(err, f.PutInstrument(by, i))
	}
	for _, v := range depotVehicles(day) {
		err = errors.Join(err, f.PutVehicle(by, v))
	}
	return errors.Join(err, installShipped(f, by))
}

// installShipped puts the procedures and sheets that come with the program in use.
func installShipped(f *store.File, by register.Person) error {
	ps, err := procedures.Library()
	if err != nil {
		return err
	}
	ss, err := procedures.Sheets()
	if err != nil {
		return err
	}
	return f.InstallAll(by, ps, ss)
}
