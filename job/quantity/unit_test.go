package quantity_test

import (
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
)

func TestParseUnitSpellings(t *testing.T) {
	for want, spellings := range map[quantity.Unit]string{
		quantity.NewtonMetre:             "N·m|Nm|N*m|N.m|N m|N-m|NM|nm|n⋅m|N × m|newton metre|newton-metres|Newton meters",
		quantity.PoundFoot:               "lbf·ft|ft·lb|ft-lb|ftlb|lb-ft|lb ft|ft lbs|ft.lb.|ft-lbf|foot-pounds|pound foot|FT-LB|pound-force foot",
		quantity.PoundInch:               "lbf·in|in·lb|in-lb|inlb|lb-in|in lbs|inch pounds|lbf in",
		quantity.KilogramForceMetre:      "kgf·m|kgf m|kgfm|kg-m|kgm|m·kgf|kp·m",
		quantity.KilogramForceCentimetre: "kgf·cm|kgf cm|kg-cm|kgcm|cm·kgf",

		quantity.Millimetre: "mm|MM|millimetre|millimeters",
		quantity.Micrometre: "µm|μm|um|micron|microns|micrometre",
		quantity.Centimetre: "cm|centimetre",
		quantity.Metre:      "m|metre|meter",
		quantity.Inch:       `in|inch|inches|"|″|”|in.`,
		quantity.Thou:       "thou|mil|mils",

		quantity.Kilometre: "km|KM|kilometres",
		quantity.Mile:      "mi|mile|miles",

		quantity.Degree: "°|deg|degree|degrees|º",

		quantity.Kilonewton:    "kN|kn|KN|kilonewton",
		quantity.Newton:        "N|n|newton",
		quantity.Decanewton:    "daN|dan",
		quantity.KilogramForce: "kgf|kilogram-force|kp",
		quantity.PoundForce:    "lbf|pound-force",

		quantity.Bar:                              "bar|BAR|bars",
		quantity.Kilopascal:                       "kPa|kpa",
		quantity.Megapascal:                       "MPa|mpa|N/mm²|N/mm2",
		quantity.PoundPerSquareInch:               "psi|PSI|lbf/in²|lb/in2",
		quantity.KilogramForcePerSquareCentimetre: "kgf/cm²|kgf/cm2|kg/cm2|kgf / cm²",

		quantity.Celsius:    "°C|C|c|° C|degC|deg C|℃|celsius|ºC",
		quantity.Fahrenheit: "°F|F|deg F|℉|fahrenheit",

		quantity.Percent: "%|percent|per cent|pct",

		quantity.Millilitre: "ml|mL|ML|millilitres",
		quantity.Litre:      "l|L|litre|liters",

		quantity.Kilogram: "kg|KG|kilograms",
		quantity.Tonne:    "t|tonne|tonnes",
		quantity.Pound:    "lb|lbs|pounds",

		quantity.Second: "s|sec|seconds",
		quantity.Volt:   "V|v|volts",

		quantity.KilometrePerHour: "km/h|kph|kmh|km / h|km/hour",
		quantity.MilePerHour:      "mph|MPH|mi/h|miles per hour",

		quantity.Count: "count",
	} {
		for _, spelling := range strings.Split(spellings, "|") {
			got, err := quantity.ParseUnit(spelling)
			if err != nil || got != want {
				t.Errorf("ParseUnit(%q) = %q, %v; want %q", spelling, got, err, want)
			}
		}
	}
}

func TestParseUnitRefusals(t *testing.T) {
	for typed, want := range map[string]string{
		"":        "no unit was given; add one, for example N·m or mm",
		" ":       "no unit was given; add one, for example N·m or mm",
		"furlong": `"furlong" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`,
		"m N":     `"m N" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`,
		"mN":      `"mN" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`,
		"m m":     `"m m" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`,
		"ft":      `"ft" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`,
		"N·m x":   `"N·m x" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`,
		"·N·m":    `"·N·m" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`,
	} {
		got, err := quantity.ParseUnit(typed)
		if err == nil || err.Error() != want {
			t.Errorf("ParseUnit(%q) = %q, %v\nwant %s", typed, got, err, want)
		}
	}
}

// Every unit reads back from its own symbol, has a dimension, and is listed
// once.
func TestUnitsAreComplete(t *testing.T) {
	units := quantity.Units()
	if len(units) != 37 {
		t.Errorf("%d units, want 37: extend this test with the new unit", len(units))
	}
	seen := map[quantity.Unit]bool{}
	for _, u := range units {
		if seen[u] {
			t.Errorf("%s is listed twice", u)
		}
		seen[u] = true
		if got, err := quantity.ParseUnit(string(u)); err != nil || got != u {
			t.Errorf("ParseUnit(%q) = %q, %v", u, got, err)
		}
		if u.Dimension() == "" || !u.Same(u) {
			t.Errorf("%s has no dimension", u)
		}
	}
	units[0] = "changed"
	if quantity.Units()[0] == "changed" {
		t.Error("Units returns the table itself; a caller could change it")
	}
}

func TestSame(t *testing.T) {
	for _, c := range []struct {
		u, v quantity.Unit
		want bool
	}{
		{quantity.NewtonMetre, quantity.PoundFoot, true},
		{quantity.Millimetre, quantity.Inch, true},
		{quantity.Millimetre, quantity.Kilometre, false}, // a thickness is no odometer reading
		{quantity.Kilogram, quantity.KilogramForce, false},
		{quantity.Pound, quantity.PoundForce, false},
		{"", "", false},
		{"furlong", "furlong", false},
		{quantity.Millimetre, "", false},
	} {
		if got := c.u.Same(c.v); got != c.want {
			t.Errorf("%q.Same(%q) = %v", c.u, c.v, got)
		}
	}
}
