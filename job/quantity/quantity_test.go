package quantity_test

import (
	"encoding/json"
	"math"
	"math/big"
	"testing"

	"bay.example/pawl/job/quantity"
	"github.com/fxamacker/cbor/v2"
	"github.com/google/go-cmp/cmp"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text       string
		unit       quantity.Unit
		number     string
		wantUnit   quantity.Unit
		wantString string
	}{
		{"120", quantity.NewtonMetre, "120", quantity.NewtonMetre, "120 N·m"},
		{"120.5Nm", "", "120.5", quantity.NewtonMetre, "120.5 N·m"},
		{"16.00 mm", "", "16.00", quantity.Millimetre, "16.00 mm"},
		{"16,42 mm", "", "16.42", quantity.Millimetre, "16.42 mm"},
		{"88.5 ft-lb", quantity.NewtonMetre, "88.5", quantity.PoundFoot, "88.5 lbf·ft"},
		{`0.965"`, quantity.Millimetre, "0.965", quantity.Inch, "0.965 in"},
		{"8%", "", "8", quantity.Percent, "8 %"},
		{"90 deg", "", "90", quantity.Degree, "90°"},
		{"90°", "", "90", quantity.Degree, "90°"},
		{"-20 °C", "", "-20", quantity.Celsius, "-20 °C"},
		{"\u22120.03", quantity.Millimetre, "-0.03", quantity.Millimetre, "-0.03 mm"},
		{"2.5 kgf/cm2", "", "2.5", quantity.KilogramForcePerSquareCentimetre, "2.5 kgf/cm²"},
		{"62000 mi", quantity.Kilometre, "62000", quantity.Mile, "62000 mi"},
		{"5", quantity.Count, "5", quantity.Count, "5"},
		{"5 count", "", "5", quantity.Count, "5"},
	} {
		got, err := quantity.Parse(c.text, c.unit)
		want := quantity.Quantity{Number: c.number, Unit: c.wantUnit}
		if err != nil || got != want {
			t.Errorf("Parse(%q, %q) = %v, %v; want %v", c.text, c.unit, got, err, want)
		}
		if got.String() != c.wantString {
			t.Errorf("Parse(%q).String() = %q, want %q", c.text, got, c.wantString)
		}
	}
}

func TestParseRefusals(t *testing.T) {
	for _, c := range []struct {
		text string
		unit quantity.Unit
		want string
	}{
		{"", quantity.NewtonMetre, `no number was typed; type the digits, for example 120.5`},
		{"120", "", `"120" has no unit; add one, for example 120 N·m`},
		{"120", "furlong", `"furlong" is not a unit known here`},
		{"1e3 Nm", "", `"1e3" is not a plain decimal number; type the digits, for example 1000`},
		{"5 e3", quantity.NewtonMetre, `"5e3" is not a plain decimal number; type the digits, for example 1000`},
		{"1 250 Nm", "", `"1 250" has a blank inside the number; type the digits together, for example 1250`},
		{"1'250 Nm", "", `"1'250" has marks between the thousands; leave them out, for example 1250.5`},
		{"5/8 in", "", `"5/8" is a fraction; type it as a decimal, for example 0.5`},
		{"１６ mm", "", `"１６" is not written in plain digits; type 0 to 9 on the ordinary keys`},
		{"NaN", quantity.NewtonMetre, `"NaN" is not a value; type the digits the instrument shows, for example 120.5`},
		{"-inf", quantity.NewtonMetre, `"-inf" has no end and cannot be measured; type the digits the instrument shows, for example 120.5`},
		{"N·m", "", `"N·m" has letters where the number should be; type digits only, for example 120.5`},
		{"5. mm", "", `"5." ends with a decimal mark; type the digits after it or leave it out, for example 5 or 5.0`},
		{"120 furlongs", quantity.NewtonMetre, `"furlongs" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`},
	} {
		got, err := quantity.Parse(c.text, c.unit)
		if err == nil || err.Error() != c.want {
			t.Errorf("Parse(%q, %q) = %v\n got %v\nwant %s", c.text, c.unit, got, err, c.want)
		}
		if !got.IsZero() {
			t.Errorf("Parse(%q, %q) gave the value %v along with its error", c.text, c.unit, got)
		}
	}
}

func TestMustParsePanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("MustParse of a text without a unit did not panic")
		}
	}()
	quantity.MustParse("120")
}

func TestFromRatRoundsHalfAwayFromZero(t *testing.T) {
	for _, c := range []struct {
		r      string
		places int
		want   string
	}{
		{"5/2", 0, "3"},
		{"-5/2", 0, "-3"},
		{"1/8", 2, "0.13"},
		{"-1/8", 2, "-0.13"},
		{"124999/1000000", 2, "0.12"},
		{"2/3", 4, "0.6667"},
		{"-1/1000", 2, "0.00"}, // no minus before a zero
		{"16", 2, "16.00"},
		{"15.5", -3, "16"},
	} {
		r, _ := new(big.Rat).SetString(c.r)
		want := quantity.Quantity{Number: c.want, Unit: quantity.Millimetre}
		if got := quantity.FromRat(r, quantity.Millimetre, c.places); got != want {
			t.Errorf("FromRat(%s, %d) = %v, want %v", c.r, c.places, got, want)
		}
	}
	if got := quantity.FromRat(nil, quantity.Millimetre, 2); !got.IsZero() {
		t.Errorf("FromRat(nil) = %v, want no value", got)
	}
}

// Data read back from a record is not trusted to be what Parse would give.
func TestValidRefusesForgedData(t *testing.T) {
	for _, q := range []quantity.Quantity{
		{},
		{Unit: quantity.Millimetre},
		{Number: "5"},
		{Number: "5", Unit: "furlong"},
		{Number: "5", Unit: "Nm"},
		{Number: "05", Unit: quantity.Millimetre},
		{Number: "+5", Unit: quantity.Millimetre},
		{Number: "-0", Unit: quantity.Millimetre},
		{Number: "5,0", Unit: quantity.Millimetre},
		{Number: " 5", Unit: quantity.Millimetre},
		{Number: "5/2", Unit: quantity.Millimetre},
		{Number: "0x10", Unit: quantity.Millimetre},
		{Number: "1e999999999", Unit: quantity.Millimetre},
	} {
		if q.Valid() == nil {
			t.Errorf("%#v is taken as valid", q)
		}
		if q.Rat() != nil {
			t.Errorf("%#v has the value %s", q, q.Rat())
		}
		if !math.IsNaN(q.Float()) {
			t.Errorf("%#v has the float %v", q, q.Float())
		}
		if _, err := q.In(quantity.Millimetre); err == nil {
			t.Errorf("%#v converts", q)
		}
		if _, err := q.Cmp(quantity.MustParse("1 mm")); err == nil {
			t.Errorf("%#v compares", q)
		}
		if _, err := quantity.MustParse("1 mm").Cmp(q); err == nil {
			t.Errorf("1 mm compares with %#v", q)
		}
		if v, err := mustWindow("<= 5 mm").Judge(q); err == nil || v != quantity.Unjudged {
			t.Errorf("%#v is judged %v, %v", q, v, err)
		}
	}
	if err := quantity.MustParse("-0.50 mm").Valid(); err != nil {
		t.Error(err)
	}
}

func TestPlacesNegativeFloat(t *testing.T) {
	for _, c := range []struct {
		text     string
		places   int
		negative bool
		float    float64
	}{
		{"16.00 mm", 2, false, 16},
		{"-0.025 mm", 3, true, -0.025},
		{"120 N·m", 0, false, 120},
		{"-0.0 mm", 1, false, 0},
	} {
		q := quantity.MustParse(c.text)
		if q.Places() != c.places || q.Negative() != c.negative || q.Float() != c.float {
			t.Errorf("%s: places %d, negative %v, float %v", c.text, q.Places(), q.Negative(), q.Float())
		}
	}
}

func TestCmpIsExact(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"25.4 mm", "1 in", 0},
		{"25.40 mm", "1.0 in", 0},
		{"1.3558179483314004 N·m", "1 lbf·ft", 0},
		{"1.3558179483314003 N·m", "1 lbf·ft", -1},
		{"1.3558179483314005 N·m", "1 lbf·ft", 1},
		{"9.80665 N·m", "1 kgf·m", 0},
		{"12 lbf·in", "1 lbf·ft", 0},
		{"1.5 thou", "0.0381 mm", 0},
		{"38.1 µm", "1.5 thou", 0},
		{"-40 °C", "-40 °F", 0},
		{"100 °C", "212 °F", 0},
		{"37 °C", "98.6 °F", 0},
		{"0 °C", "32.0000001 °F", -1},
		{"10000 bar", "1000 MPa", 0},
		{"0.1 mm", "0.10000000000000001 mm", -1}, // the same float64
		{"1000000 ml", "1000 l", 0},
	} {
		a, b := quantity.MustParse(c.a), quantity.MustParse(c.b)
		if got, err := a.Cmp(b); err != nil || got != c.want {
			t.Errorf("%s against %s = %d, %v; want %d", a, b, got, err, c.want)
		}
		if got, err := b.Cmp(a); err != nil || got != -c.want {
			t.Errorf("%s against %s = %d, %v; want %d", b, a, got, err, -c.want)
		}
	}
	_, err := quantity.MustParse("5 mm").Cmp(quantity.MustParse("5 km"))
	want := "5 km is a distance and cannot be given in mm, which is for a length"
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestConvert(t *testing.T) {
	got, err := quantity.MustParse("120 N·m").Convert(quantity.PoundFoot, 1)
	if err != nil || got != quantity.MustParse("88.5 lbf·ft") {
		t.Errorf("120 N·m = %v, %v", got, err)
	}
	if got, err := quantity.MustParse("120 N·m").Convert(quantity.PoundFoot, 30); err == nil {
		t.Errorf("a conversion to 30 decimals gave %v", got)
	}
	if got, err := quantity.MustParse("120 N·m").Convert("furlong", 1); err == nil {
		t.Errorf("a conversion to an unknown unit gave %v", got)
	}
}

func TestAddAndSub(t *testing.T) {
	for _, c := range []struct{ a, b, sum, difference string }{
		{"16.00 mm", "0.5 mm", "16.50 mm", "15.50 mm"},
		{"0.1 mm", "0.2 mm", "0.3 mm", "-0.1 mm"},
		{"1 mm", "1 in", "26.4 mm", "-24.4 mm"},
		{"30.0 N·m", "1 lbf·ft", "31.3558179483314004 N·m", "28.6441820516685996 N·m"},
		{"50 N·m", "-50 N·m", "0 N·m", "100 N·m"},
		{"80 °C", "5 °C", "85 °C", "75 °C"},
		{"2 l", "250 ml", "2.25 l", "1.75 l"},
	} {
		a, b := quantity.MustParse(c.a), quantity.MustParse(c.b)
		sum, err := a.Add(b)
		if err != nil || sum != quantity.MustParse(c.sum) {
			t.Errorf("%s + %s = %v, %v; want %s", a, b, sum, err, c.sum)
		}
		difference, err := a.Sub(b)
		if err != nil || difference != quantity.MustParse(c.difference) {
			t.Errorf("%s − %s = %v, %v; want %s", a, b, difference, err, c.difference)
		}
	}
	for _, c := range []struct{ a, b, want string }{
		{"1 lbf·ft", "1 N·m", "the sum of 1 lbf·ft and 1 N·m has no exact decimal in lbf·ft; convert by hand first"},
		{"1 mm", "1 N·m", "1 N·m is a torque and cannot be given in mm, which is for a length"},
		{"20 °C", "9 °F", "20 °C and 9 °F are on different temperature scales and cannot be combined"},
		{"99999999999999999999 mm", "1 mm", "the sum of 99999999999999999999 mm and 1 mm needs more than 20 digits; give fewer decimals"},
	} {
		if got, err := quantity.MustParse(c.a).Add(quantity.MustParse(c.b)); err == nil || err.Error() != c.want {
			t.Errorf("%s + %s = %v, %v\nwant %s", c.a, c.b, got, err, c.want)
		}
	}
	if got, err := quantity.MustParse("1 mm").Add(quantity.Quantity{}); err == nil {
		t.Errorf("1 mm plus no value = %v", got)
	}
}

// What is stored must read back as it was, under the keys of the record.
func TestEncodings(t *testing.T) {
	w := mustWindow("16.0 mm +- 10 %")
	data, err := cbor.Marshal(w)
	if err != nil {
		t.Fatal(err)
	}
	diagnosis, err := cbor.Diagnose(data)
	if err != nil {
		t.Fatal(err)
	}
	want := `{1: {1: "14.4", 2: "mm"}, 2: {1: "17.6", 2: "mm"}, 3: {1: "16.0", 2: "mm"}, 4: "16.0 mm +- 10 %"}`
	if diff := cmp.Diff(want, diagnosis); diff != "" {
		t.Error(diff)
	}
	var back quantity.Window
	if err := cbor.Unmarshal(data, &back); err != nil || back != w {
		t.Errorf("from CBOR: %v, %v", back, err)
	}
	text, err := json.Marshal(w)
	if err != nil {
		t.Fatal(err)
	}
	wantJSON := `{"low":{"number":"14.4","unit":"mm"},"high":{"number":"17.6","unit":"mm"},"target":{"number":"16.0","unit":"mm"},"text":"16.0 mm +- 10 %"}`
	if diff := cmp.Diff(wantJSON, string(text)); diff != "" {
		t.Error(diff)
	}
	back = quantity.Window{}
	if err := json.Unmarshal(text, &back); err != nil || back != w {
		t.Errorf("from JSON: %v, %v", back, err)
	}
}
