package brakes_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"bay.example/pawl/job/brakes"
	"github.com/google/go-cmp/cmp"
)

// Source: 49 CFR 565.15, see the header of the table.
func TestCheckDigitTable(t *testing.T) {
	for _, row := range reference(t, "vin_check_digit.csv") {
		v, err := brakes.ParseVehicleNumber(row["vin"])
		if err != nil {
			t.Fatal(err)
		}
		c, err := v.CheckDigit()
		if err != nil {
			t.Fatal(err)
		}
		got := []string{strconv.Itoa(c.Sum), string(c.Computed), string(c.Printed)}
		if d := cmp.Diff([]string{row["weighted_sum"], row["computed_digit"], row["digit_in_vin"]}, got); d != "" {
			t.Errorf("%s: %s", row["vin"], d)
		}
		if c.Fits() != (row["matches"] == "yes") || (c.Text == "") != c.Fits() {
			t.Errorf("%s: %+v", row["vin"], c)
		}
		if strings.HasSuffix(row["note"], "warn only") && c.Binding {
			t.Errorf("%s: binding", row["vin"])
		}
		if first := row["vin"][0]; c.Binding != (first >= '1' && first <= '5') {
			t.Errorf("%s: binding %v", row["vin"], c.Binding)
		}
	}
}

// Source: 49 CFR 565.15 table III. A single character in position 8 (weight
// 10) of an otherwise zero number gives its value back.
func TestTransliterationTable(t *testing.T) {
	for _, row := range reference(t, "vin_tables.csv") {
		v, err := brakes.ParseVehicleNumber("0000000" + row["character"] + "000000000")
		if err != nil {
			t.Fatal(err)
		}
		c, err := v.CheckDigit()
		if err != nil || strconv.Itoa(c.Sum) != row["value"]+"0" && c.Sum != 0 || c.Sum == 0 && row["value"] != "0" {
			t.Errorf("%s: sum %d, %v, want ten times %s", row["character"], c.Sum, err, row["value"])
		}
	}
}

// Source: 49 CFR 565.15, model year table.
func TestModelYearTable(t *testing.T) {
	for _, row := range reference(t, "vin_model_year.csv") {
		v, err := brakes.ParseVehicleNumber("111111111" + row["code"] + "1111111")
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, y := range v.ModelYears(2039) {
			got = append(got, strconv.Itoa(y))
		}
		if d := cmp.Diff([]string{row["year_first_cycle"], row["year_second_cycle"]}, got); d != "" {
			t.Errorf("%s: %s", row["code"], d)
		}
	}
	for _, code := range []string{"0", "U", "Z"} {
		if years := brakes.VehicleNumber("111111111" + code + "1111111").ModelYears(2039); years != nil {
			t.Errorf("%s: %v", code, years)
		}
	}
	if years := brakes.VehicleNumber("111111111A1111111").ModelYears(2009); !slices.Equal(years, []int{1980}) {
		t.Errorf("A until 2009: %v", years)
	}
}

func TestParseVehicleNumber(t *testing.T) {
	if v, err := brakes.ParseVehicleNumber("  1m8gdm9axkp042788\n"); err != nil || v != "1M8GDM9AXKP042788" {
		t.Errorf("small letters: %q, %v", v, err)
	}
	// The invented demo vehicle: its first character is no 1 to 5.
	demo, err := brakes.ParseVehicleNumber("DEMXUD00000000009")
	if err != nil {
		t.Fatal(err)
	}
	if c, err := demo.CheckDigit(); err != nil || c.Binding {
		t.Errorf("demo: %+v, %v", c, err)
	}
	for first, want := range map[string]bool{"0": false, "1": true, "5": true, "6": false, "9": false, "A": false} {
		if c, err := brakes.VehicleNumber(first + "M8GDM9AXKP042788").CheckDigit(); err != nil || c.Binding != want {
			t.Errorf("first character %s: %+v, %v", first, c, err)
		}
	}
	for text, say := range map[string]string{
		"":                   "17 letters and digits are expected",
		"1M8GDM9AXKP04278":   "16 characters",
		"1M8GDM9AXKP0427888": "18 characters",
		"1M8GDM9AXKPO42788":  "character 12 is O",
		"IM8GDM9AXKP042788":  "character 1 is I",
		"1M8GDM9AXKP04278q":  "character 17 is Q",
		"1M8GDM9-AXKP042788": "character 8 is '-'",
		"1M8GDM9AXKP04278８":  "character 17 is",
		"1M8GDM9 AXKP042788": "character 8 is ' '",
	} {
		if v, err := brakes.ParseVehicleNumber(text); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%q: %q, %v, want %q", text, v, err, say)
		}
	}
	if c, err := brakes.VehicleNumber("1m8gdm9axkp042788").CheckDigit(); err == nil {
		t.Errorf("not parsed: %+v", c)
	}
}

// The numbers behind the slips are the published and computed ones of the
// table, and one made to hold Y and Z.
func TestKeyboardSlips(t *testing.T) {
	for _, c := range []struct{ scan, meant, cause string }{
		{"1M8GDM9AXKP042788", "", ""},
		{"5GYCY43D13S812715", "5GZCZ43D13S812715", "QWERTZ"},
		{"&?_GD?çQXKPà'éè__", "1M8GDM9AXKP042788", "computer to AZERTY"},
		{"!M*GDM(AXKP)$@&**", "1M8GDM9AXKP042788", "shift key held, QWERTY"},
		{"!M(GDM)AXKP=$\"/((", "1M8GDM9AXKP042788", "shift key held, QWERTZ"},
		{"!:*GD:(QXKP)$@&**", "1M8GDM9AXKP042788", "scanner set to AZERTY"},
		{"1M8GDM9AXKP042787", "", ""},
		{"", "", ""},
	} {
		slips := brakes.KeyboardSlips(c.scan)
		if c.meant == "" {
			if len(slips) != 0 {
				t.Errorf("%q: %+v, want none", c.scan, slips)
			}
			continue
		}
		if !slices.ContainsFunc(slips, func(s brakes.KeyboardSlip) bool {
			return string(s.Meant) == c.meant && strings.Contains(s.Cause, c.cause)
		}) {
			t.Errorf("%q: %+v, want %s by %q", c.scan, slips, c.meant, c.cause)
		}
	}
}

func FuzzVehicleNumber(f *testing.F) {
	for _, seed := range []string{"", "1M8GDM9AXKP042788", "5GYCY43D13S812715", "&?_GD?çQXKPà'éè__", "ß-?", "WP0ZZZ99ZTS392124", "１"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, s := range brakes.KeyboardSlips(text) {
			if c, err := s.Meant.CheckDigit(); err != nil || !c.Fits() {
				t.Errorf("%q: slip %+v does not fit: %v", text, s, err)
			}
		}
		v, err := brakes.ParseVehicleNumber(text)
		if err != nil {
			if v != "" {
				t.Errorf("%q: %q with error %v", text, v, err)
			}
			return
		}
		if len(v) != 17 || strings.ContainsAny(string(v), "IOQ") {
			t.Errorf("%q: accepted as %q", text, v)
		}
		if again, err := brakes.ParseVehicleNumber(string(v)); err != nil || again != v {
			t.Errorf("%q: again %q, %v", v, again, err)
		}
		c, err := v.CheckDigit()
		if err != nil {
			t.Fatal(err)
		}
		// Putting the computed digit in always makes it fit: position 9 has
		// weight 0.
		mended := brakes.VehicleNumber(string(v[:8]) + string(c.Computed) + string(v[9:]))
		if m, err := mended.CheckDigit(); err != nil || !m.Fits() {
			t.Errorf("%q: mended %q does not fit: %+v, %v", v, mended, m, err)
		}
	})
}
