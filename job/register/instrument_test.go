package register_test

import (
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
)

func wrench() register.Instrument {
	q := quantity.MustParse
	return register.Instrument{ID: "W3", Kind: register.SettingWrench, Serial: "1", Scales: []quantity.Unit{quantity.NewtonMetre}, Low: q("10 N·m"), High: q("50 N·m"),
		Resolution: q("0.5 N·m"), Error: q("4 %"), Certificate: "C1", Calibrated: "2026-01-10", Due: "2027-01-09", Status: register.InUse}
}

// Source: ISO 6789:2003 as summarised by makers, testdata/reference/hand_torque_tools.csv: 4 % above a
// maximum of 10 N·m, 6 % up to it; instrument_limits.csv: 4 µm for an outside micrometer to 50 mm (DIN 863
// summary), a fifth of the graduation for a dial gauge (US Army TB 9-5210-210-24).
func TestDefaultErrorIsThatOfTheClass(t *testing.T) {
	for _, c := range []struct{ kind, high, want string }{
		{register.SettingWrench, "50 N·m", "4 %"},
		{register.SettingWrench, "10 N·m", "6 %"},
		{register.DialWrench, "50 N·m", ""},
		{register.Micrometer, "25 mm", "0.004 mm"},
		{register.DialGauge, "10 mm", "0.002 mm"},
		{register.RollerTester, "10 kN", ""},
	} {
		got, err := register.DefaultError(c.kind, quantity.MustParse(c.high), quantity.MustParse("0.01 mm"))
		if c.want == "" {
			if err == nil {
				t.Errorf("%s to %s: %s, want a refusal", c.kind, c.high, got)
			}
			continue
		}
		if err != nil || got.String() != c.want {
			t.Errorf("%s to %s: %s, %v; want %s", c.kind, c.high, got, err, c.want)
		}
	}
}

func TestUsableOnADay(t *testing.T) {
	at := func(day string) time.Time {
		d, err := time.Parse(time.DateOnly, day)
		if err != nil {
			t.Fatal(err)
		}
		return d.Add(10 * time.Hour)
	}
	for day, want := range map[string]string{"2026-01-10": "", "2027-01-09": "", "2027-01-10": "ran out on 2027-01-09", "2026-01-09": "after today"} {
		err := wrench().UsableAt(at(day))
		if (err == nil) != (want == "") || (err != nil && !strings.Contains(err.Error(), want)) {
			t.Errorf("on %s: %v, want %q", day, err, want)
		}
	}
	dropped := wrench()
	dropped.Status, dropped.StatusNote = register.Dropped, "off the bench"
	if err := dropped.UsableAt(at("2026-03-03")); err == nil || !strings.Contains(err.Error(), "off the bench") {
		t.Errorf("a dropped wrench: %v", err)
	}
}

func TestEntryChecks(t *testing.T) {
	for name, spoil := range map[string]func(*register.Instrument){
		"no number":         func(i *register.Instrument) { i.ID = " " },
		"unknown kind":      func(i *register.Instrument) { i.Kind = "hammer" },
		"no scale":          func(i *register.Instrument) { i.Scales = nil },
		"empty range":       func(i *register.Instrument) { i.Low = i.High },
		"due before":        func(i *register.Instrument) { i.Due = "2025-01-01" },
		"no certificate":    func(i *register.Instrument) { i.Certificate = "" },
		"foreign scale":     func(i *register.Instrument) { i.Scales = []quantity.Unit{quantity.Millimetre} },
		"error in mm":       func(i *register.Instrument) { i.Error = quantity.MustParse("0.1 mm") },
		"date in words":     func(i *register.Instrument) { i.Due = "next year" },
		"without an error":  func(i *register.Instrument) { i.Error = quantity.Quantity{} },
		"range in two ways": func(i *register.Instrument) { i.Low = quantity.MustParse("1 mm") },
	} {
		i := wrench()
		spoil(&i)
		if i.Check() == nil {
			t.Errorf("%s passed", name)
		}
	}
	if err := wrench().Check(); err != nil {
		t.Error(err)
	}
}
