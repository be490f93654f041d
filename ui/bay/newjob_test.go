package bay

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/phrase/accents"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// beginJob signs a mechanic in and goes to the list of vehicles; the van has been here before.
func beginJob(t *testing.T) *run {
	t.Helper()
	f, now := workshop(t)
	v, _ := f.Vehicle("V-7")
	v.Owner = "Laundry by the bridge"
	v.Odometer = []register.OdometerReading{{Date: "2026-01-05", Job: 3, Value: quantity.MustParse("61430 km")}}
	must(t, f.PutVehicle(frida, v))
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("N")
	return r
}

// newJobAhead fills in a job for the van as far as the preview.
func newJobAhead(t *testing.T) *run {
	t.Helper()
	r := beginJob(t)
	r.keys("7 Enter")
	r.type_("Grinds when braking")
	r.keys("Enter Enter Enter")
	r.type_("62010")
	r.keys("Enter Enter 1 Enter")
	return r
}

var _ = show(
	state{"new job, vehicles", beginJob},
	state{"new job, rows", func(t *testing.T) *run { r := beginJob(t); r.keys("7 Enter"); return r }},
	state{"new job, traits", func(t *testing.T) *run {
		r := beginJob(t)
		r.keys("7 Enter a Enter Enter Enter 6 2 0 0 0 Enter Enter")
		return r
	}},
	state{"new job, ahead", newJobAhead},
	state{"new vehicle", func(t *testing.T) *run { r := beginJob(t); r.keys("0 Enter"); return r }},
)

// TestNewJob opens a job for a vehicle that is known, with the mistakes on the way.
func TestNewJob(t *testing.T) {
	r := beginJob(t)
	r.both("newjob-vehicles")
	r.type_("zz")
	r.keys("Enter")
	r.sees(`Nothing on this list has "zz" in it`)
	r.keys("Backspace Backspace")
	r.type_("laundry")
	r.sees("Van of the laundry")
	r.keys("Enter Enter")
	r.sees("Complaint is empty")
	r.type_("Grinds when braking")
	r.keys("Enter")
	r.sees("Laundry by the bridge")
	r.keys("Enter")
	r.sees("kept out of the vehicle's history")
	r.keys("Enter")
	r.sees("it showed 61430 km, on 2026-01-05 for job 3.")
	r.both("newjob-odometer")
	for _, c := range []struct{ typed, says string }{
		{"abc", "abc"},
		{"61430.5", "is no odometer reading"},
		{"999999", "is no odometer reading"},
		{"6200", "6200 km is lower than 61430 km on 2026-01-05"},
		{"38600", "read in miles?"},
	} {
		r.type_(c.typed)
		r.keys("Enter")
		r.sees(c.says)
		r.keys(strings.Repeat("Backspace ", len(c.typed)))
	}
	r.type_("620100")
	r.sees("over 1500 km a day")
	r.keys("Backspace Enter Enter")
	r.sees("Disc screws")
	r.sees("from the spec sheet")
	r.keys("1")
	r.sees("changed, was 2")
	r.both("newjob-traits")
	r.keys("X")
	r.sees("X does nothing here")
	r.keys("F")
	r.sees("hold point")
	r.sees("Caliper hung, RIGHT (perhaps)")
	r.both("newjob-ahead")
	r.coloured("newjob-ahead", "dark")
	r.keys("Esc")
	r.sees("Grinds when braking")
	r.keys("F")
	if all, err := r.f.Jobs(); err != nil || len(all) != 0 {
		t.Fatalf("a job was opened before it was confirmed: %v %v", all, err)
	}
	r.keys("Enter")
	all, err := r.f.Jobs()
	must(t, err)
	if len(all) != 1 || all[0].Complaint != "Grinds when braking" {
		t.Fatalf("the jobs are %+v", all)
	}
	c, err := r.f.Load(all[0].Number)
	must(t, err)
	if c.Opened.Traits["screws"] != "0" || c.Opened.Customer != "Laundry by the bridge" || c.Opened.Odometer.String() != "62010 km" {
		t.Errorf("the job was opened with %+v", c.Opened)
	}
	if !strings.HasPrefix(accents.Off(r.m.top().Head(&r.m.env)), "job") {
		t.Errorf("the job is not on the screen:\n%s", r.frame())
	}
}

// TestNewJobKeepsWhatWasTyped leaves a page with something on it only after asking.
func TestNewJobKeepsWhatWasTyped(t *testing.T) {
	r := beginJob(t)
	r.burst("V-7")
	r.sees("New job for V-7")
	r.keys("Esc")
	r.sees("Which vehicle has come in?")
	r.burst("V-7")
	r.type_("Squeals")
	r.keys("Esc")
	r.sees("What was typed here is given up: Complaint.")
	r.keys("2")
	r.sees("Squeals")
	r.keys("Esc 1")
	r.sees("Which vehicle has come in?")
	r.burst("V-99")
	r.sees(`The scan "V-99" is nothing on this list`)
}

// TestNewJobForVehicleInTheBay leads to the job there is.
func TestNewJobForVehicleInTheBay(t *testing.T) {
	r := newJobAhead(t)
	r.keys("Enter")
	r.keys("Esc N 7 Enter")
	r.sees("Vehicle V-7 has job 1 already")
	r.keys("1")
	if !strings.HasPrefix(accents.Off(r.m.top().Head(&r.m.env)), "job") {
		t.Errorf("the job is not on the screen:\n%s", r.frame())
	}
}

// TestPracticeJob opens an exercise: the odometer of the vehicle stays as it was, and a lower reading
// is only a doubt.
func TestPracticeJob(t *testing.T) {
	r := beginJob(t)
	r.keys("7 Enter")
	r.type_("Practice on the old axle")
	r.keys("Enter Enter 2 Enter")
	r.type_("100")
	r.sees("100 km is lower than 61430 km")
	r.keys("Enter Enter F")
	r.sees("PRACTICE: an exercise")
	r.keys("Enter")
	c, err := r.f.Load(1)
	must(t, err)
	v, _ := r.f.Vehicle("V-7")
	if !c.Opened.Practice || len(v.Odometer) != 1 {
		t.Errorf("the job is %+v, the odometer %v", c.Opened, v.Odometer)
	}
}

// TestNewJobIsNotForApprentices says so before anything is typed.
func TestNewJobIsNotForApprentices(t *testing.T) {
	f, now := workshop(t)
	r := start(t, f, now)
	r.signIn(nils)
	r.keys("N 7 Enter")
	r.sees("Only a mechanic or the foreman opens jobs; Nils Karg is apprentice")
	r.keys("0 Enter")
	r.sees("Only a mechanic or the foreman adds vehicles")
}

// TestNewVehicle adds a vehicle. The numbers are the worked examples of 49 CFR 565.15 (check digit X)
// and the all-ones number whose digit is 1; see testdata of job/brakes for the tables.
func TestNewVehicle(t *testing.T) {
	r := beginJob(t)
	r.keys("0 Enter")
	r.both("newvehicle")
	r.type_("V-7")
	r.keys("Enter")
	r.sees("V-7 is on the register already")
	r.keys("Backspace 8 Enter")
	r.type_("Van of the bakery")
	r.keys("Enter")
	for _, c := range []struct{ typed, says string }{
		{"1M8GDM9AXKP04278", "16 characters"},
		{"1M8GDM9AXKP04278O", "Character 17 is O"},
		{"1M8GDM9A1KP042788", "check digit at position 9"},
	} {
		r.type_(c.typed)
		r.keys("Enter")
		if c.typed[8] == '1' {
			r.sees("heck digit at position 9 is 1, X was reckoned")
		} else {
			r.sees(c.says)
		}
		r.keys(strings.Repeat("Backspace ", len(c.typed)))
	}
	r.type_("WM8GDM9A1KP042788")
	r.sees("6 was reckoned: compare with the plate")
	r.keys("Enter")
	r.sees("6 was reckoned: compare with the plate")
	r.keys("1 Enter")
	r.type_("Bakery at the corner")
	r.keys("Enter")
	r.sees("New job for V-8, Van of the bakery")
	r.sees("Bakery at the corner")
	v, ok := r.f.Vehicle("V-8")
	if !ok || v.VIN != "WM8GDM9A1KP042788" || v.Sheet != "test-van" || !v.Demo {
		t.Errorf("the vehicle is %+v", v)
	}
}

// TestScannerOnTheWrongKeyboard hints at the layout: z and y are exchanged in the scan.
func TestScannerOnTheWrongKeyboard(t *testing.T) {
	s := &vehiclePage{}
	// 1M8GDM9A_KP0427YZ with its own check digit, then scanned with y and z exchanged.
	good := ""
	for _, d := range "0123456789X" {
		if text := "1M8GDM9A" + string(d) + "KP0427YZ"; s.vinCheck(text) == nil {
			good = text
		}
	}
	if good == "" {
		t.Fatal("no digit fits")
	}
	swapped := strings.NewReplacer("Y", "Z", "Z", "Y").Replace(good)
	err := s.vinCheck(swapped)
	if err == nil || !strings.Contains(accents.Off(err.Error()), "was "+good+" meant?") {
		t.Errorf("the scan %s is answered with %v", swapped, err)
	}
}

// TestOdometerDays counts days by date, so that two visits on one day are in order whatever the hour.
func TestOdometerDays(t *testing.T) {
	v := register.Vehicle{ID: "V-7", Odometer: []register.OdometerReading{{Date: "2026-03-02", Job: 1, Value: quantity.MustParse("61430 km")}}}
	s := newJobPage(stock{}, v)
	s.now = time.Date(2026, 3, 2, 0, 30, 0, 0, time.FixedZone("", 3600))
	if err := s.odometerCheck("61431"); err != nil {
		t.Error(err)
	}
	if d := s.doubts("61431"); len(d) != 0 {
		t.Errorf("doubts %v", d)
	}
}

// TestNoProcedure says what is missing instead of opening an empty page.
func TestNoProcedure(t *testing.T) {
	f, now := emptyFile(t)
	must(t, f.SetUp(store.Workshop{Name: "Bare", Palette: "mono"}, frida, codes["fh"]))
	must(t, f.PutVehicle(frida, register.Vehicle{ID: "V-1", Name: "Van", Sheet: "none"}))
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("N 1 Enter")
	r.sees("No procedure is in use")
}

// TestLowerOdometer has the foreman say why the odometer reads lower than last time; the reason is
// owed, stands in the preview and in the record, and goes with a reading that is not lower.
func TestLowerOdometer(t *testing.T) {
	f, now := workshop(t)
	v, _ := f.Vehicle("V-7")
	v.Odometer = []register.OdometerReading{{Date: "2026-01-05", Job: 3, Value: quantity.MustParse("61430 km")}}
	must(t, f.PutVehicle(frida, v))
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("N 7 Enter")
	r.type_("Grinds")
	r.keys("Enter Enter Enter 1 2 Enter")
	r.sees("Why it is lower")
	r.both("newjob-lower")
	r.keys("Enter")
	r.sees("Why it is lower is empty")
	r.keys("Up Backspace Backspace 6 1 5 0 0 Enter")
	r.seesNot("Why it is lower")
	r.keys("Up Backspace Backspace Backspace Backspace Backspace 1 2 Enter")
	r.type_("new instrument, 61600 on the old one")
	r.keys("Enter Enter 1 Enter")
	r.sees("It reads lower than last time: new instrument")
	r.keys("Enter")
	c, err := f.Load(1)
	must(t, err)
	if c.Opened.OdometerWhy != "new instrument, 61600 on the old one" || c.Opened.Odometer.String() != "12 km" {
		t.Errorf("opened with %q, %s", c.Opened.OdometerWhy, c.Opened.Odometer)
	}
}

// TestOnlyServedProcedures offers what the sheet of the vehicle says it serves and nothing else.
func TestOnlyServedProcedures(t *testing.T) {
	ps, err := procedures.Library()
	must(t, err)
	ss, err := procedures.Sheets()
	must(t, err)
	for _, sheet := range ss {
		st := stock{procedures: ps, sheets: ss}
		s := newJobPage(st, register.Vehicle{ID: "9", Sheet: sheet.ID})
		if got := s.page.row("procedure").values; !slices.Equal(slices.Sorted(slices.Values(got)), slices.Sorted(slices.Values(sheet.Serves))) {
			t.Errorf("%s: offered %v, serves %v", sheet.ID, got, sheet.Serves)
		}
	}
}
