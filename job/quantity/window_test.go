package quantity_test

import (
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
	"github.com/google/go-cmp/cmp"
)

func mustWindow(text string) quantity.Window {
	w, err := quantity.ParseWindow(text)
	if err != nil {
		panic(err)
	}
	return w
}

func TestParseWindow(t *testing.T) {
	for _, c := range []struct{ text, low, high, target string }{
		{"108..132 N·m", "108 N·m", "132 N·m", ""},
		{"108 Nm .. 132 Nm", "108 N·m", "132 N·m", ""},
		{"  22.0 .. 24 mm ", "22.0 mm", "24 mm", ""},
		{"-0.5..0.5 mm", "-0.5 mm", "0.5 mm", ""},
		{"\u22120.5..-0.2 mm", "-0.5 mm", "-0.2 mm", ""},
		{"0,5..1,5 mm", "0.5 mm", "1.5 mm", ""},
		{"5..5 count", "5 count", "5 count", ""},
		{"85..95°", "85 °", "95 °", ""},
		{"120 ± 12 N·m", "108 N·m", "132 N·m", "120 N·m"},
		{"120 +- 12 N·m", "108 N·m", "132 N·m", "120 N·m"},
		{"120 +/- 12 Nm", "108 N·m", "132 N·m", "120 N·m"},
		{"120 N·m ± 12 N·m", "108 N·m", "132 N·m", "120 N·m"},
		{"120 ± 0 N·m", "120 N·m", "120 N·m", "120 N·m"},
		{"120 ± 12.00 N·m", "108.00 N·m", "132.00 N·m", "120 N·m"},
		{"0 ± 0.05 mm", "-0.05 mm", "0.05 mm", "0 mm"},
		{"50 ± 5 °C", "45 °C", "55 °C", "50 °C"},
		{"120 N·m ± 10 %", "108 N·m", "132 N·m", "120 N·m"},
		{"120 N·m +-10%", "108 N·m", "132 N·m", "120 N·m"},
		{"35 N·m ± 4 %", "33.6 N·m", "36.4 N·m", "35 N·m"},
		{"35.00 N·m ± 4 %", "33.60 N·m", "36.40 N·m", "35.00 N·m"},
		{"-2 mm ± 10 %", "-2.2 mm", "-1.8 mm", "-2 mm"},
		{">= 16.00 mm", "16.00 mm", "", ""},
		{"≥16 mm", "16 mm", "", ""},
		{"<= 0.05 mm", "", "0.05 mm", ""},
		{"≤ 8 %", "", "8 %", ""},
	} {
		value := func(text string) quantity.Quantity {
			if text == "" {
				return quantity.Quantity{}
			}
			return quantity.MustParse(text)
		}
		want := quantity.Window{Low: value(c.low), High: value(c.high), Target: value(c.target), Text: strings.TrimSpace(c.text)}
		got, err := quantity.ParseWindow(c.text)
		if err != nil {
			t.Errorf("ParseWindow(%q): %v", c.text, err)
			continue
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("ParseWindow(%q):\n%s", c.text, diff)
		}
		if err := got.Valid(); err != nil {
			t.Errorf("ParseWindow(%q) is not valid: %v", c.text, err)
		}
		bare := got
		bare.Text, bare.Target = "", quantity.Quantity{}
		again, err := quantity.ParseWindow(bare.String())
		if err != nil || again.Low != got.Low || again.High != got.High {
			t.Errorf("%q shown without its text as %q reads back as %v, %v", c.text, bare.String(), again, err)
		}
	}
}

func TestParseWindowRefusals(t *testing.T) {
	const forms = `write for example 108..132 N·m, 120 ± 12 N·m, 120 N·m ± 10 %, >= 16.00 mm or <= 0.05 mm`
	for text, want := range map[string]string{
		"":                                   `no window was given; ` + forms,
		"120":                                `"120" is not a window; ` + forms,
		"108-132 N·m":                        `"108-132 N·m" is not a window; ` + forms,
		"108..132":                           `the window "108..132" cannot be read: "132" has no unit; add one, for example 132 N·m`,
		">= 16":                              `the window ">= 16" cannot be read: "16" has no unit; add one, for example 16 N·m`,
		"120 ± 12":                           `the window "120 ± 12" has no unit at its end; ` + forms,
		"35 ± 4 %":                           `the window "35 ± 4 %" gives no unit for the target; write for example 120 N·m ± 10 %`,
		"50 % ± 5 %":                         `the window "50 % ± 5 %" is unclear, since % of a ratio can mean two things; write both limits, for example 45..55 %`,
		"80 °C ± 5 %":                        `the window "80 °C ± 5 %" is unclear, since % of a temperature can mean two things; write both limits, for example 45..55 °C`,
		"132..108 N·m":                       `the window "132..108 N·m" is empty: 132 N·m is more than 108 N·m`,
		"108 N·m..97 lbf·ft":                 `the window "108 N·m..97 lbf·ft" mixes N·m and lbf·ft; write both limits in one unit`,
		"120 N·m ± 5 lbf·ft":                 `the window "120 N·m ± 5 lbf·ft" mixes N·m and lbf·ft; write the target and its tolerance in one unit`,
		"120 ± -5 N·m":                       `the window "120 ± -5 N·m" has a negative tolerance; write it without a sign`,
		"> 16 mm":                            `"> 16 mm" leaves the limit itself out, but limits are included here; write >= or <=`,
		"0...5 mm":                           `"0...5 mm" has three points in a row; write two, and a zero before a decimal mark, for example 0.5..0.9 mm`,
		"1..2..3 mm":                         `the window "1..2..3 mm" cannot be read: "2..3" has more than one decimal mark; type one, for example 120.5`,
		"..5 mm":                             `the window "..5 mm" cannot be read: no number was typed; type the digits, for example 120.5`,
		"5.. mm":                             `the window "5.. mm" cannot be read: "mm" has letters where the number should be; type digits only, for example 120.5`,
		"1e2..2e2 N·m":                       `the window "1e2..2e2 N·m" cannot be read: "2e2" is not a plain decimal number; type the digits, for example 1000`,
		">= >= 5 mm":                         `the window ">= >= 5 mm" cannot be read: "≥ 5 mm" has letters where the number should be; type digits only, for example 120.5`,
		"5 ± 1 ± 1 mm":                       `the window "5 ± 1 ± 1 mm" cannot be read: "± 1 mm" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`,
		"108..132 furlong":                   `the window "108..132 furlong" cannot be read: "furlong" is not a unit known here; use for example N·m, lbf·ft, mm, in, bar, °C or %`,
		"1.23456789012 mm ± 0.12345678901 %": `the lower limit of the window "1.23456789012 mm ± 0.12345678901…" needs more than 20 digits; give fewer decimals`,
	} {
		got, err := quantity.ParseWindow(text)
		if err == nil || err.Error() != want {
			t.Errorf("ParseWindow(%q) = %v\n got %v\nwant %s", text, got, err, want)
		}
		if got != (quantity.Window{}) {
			t.Errorf("ParseWindow(%q) gave %v along with its error", text, got)
		}
	}
}

func TestJudgeBoundaries(t *testing.T) {
	for _, c := range []struct {
		window, value string
		want          quantity.Verdict
	}{
		// 33.6 is a limit that float64 misses: 35 − 35 × 0.04 is not 33.6 there.
		{"35 N·m ± 4 %", "33.6 N·m", quantity.Inside},
		{"35 N·m ± 4 %", "33.60 N·m", quantity.Inside},
		{"35 N·m ± 4 %", "33.59 N·m", quantity.Outside},
		{"35 N·m ± 4 %", "33.5999999999999999 N·m", quantity.Outside},
		{"35 N·m ± 4 %", "36.4 N·m", quantity.Inside},
		{"35 N·m ± 4 %", "36.4000000000000001 N·m", quantity.Outside},
		// The exact equals of 33.6 and 36.4 lbf·ft in N·m, and the next decimals.
		{"35 lbf·ft ± 4 %", "45.55548306393505344 N·m", quantity.Inside},
		{"35 lbf·ft ± 4 %", "45.55548306393505343 N·m", quantity.Outside},
		{"35 lbf·ft ± 4 %", "49.35177331926297456 N·m", quantity.Inside},
		{"35 lbf·ft ± 4 %", "49.35177331926297457 N·m", quantity.Outside},

		{"108..132 N·m", "107.9 N·m", quantity.Outside},
		{"108..132 N·m", "108 N·m", quantity.Inside},
		{"108..132 N·m", "132.0 N·m", quantity.Inside},
		{"108..132 N·m", "132.1 N·m", quantity.Outside},
		{"108..132 N·m", "88.5 lbf·ft", quantity.Inside},
		{"108..132 N·m", "12 kgf·m", quantity.Inside},
		{"108..132 N·m", "-120 N·m", quantity.Outside},
		{">= 16.00 mm", "16.00 mm", quantity.Inside},
		{">= 16.00 mm", "15.99 mm", quantity.Outside},
		{">= 16.00 mm", "15.999999 mm", quantity.Outside},
		{">= 16.00 mm", "1000 mm", quantity.Inside},
		{">= 25.4 mm", "1 in", quantity.Inside},
		{">= 25.4 mm", "0.9999999 in", quantity.Outside},
		{"<= 0.05 mm", "0.05 mm", quantity.Inside},
		{"<= 0.05 mm", "50 µm", quantity.Inside},
		{"<= 0.05 mm", "51 µm", quantity.Outside},
		{"<= 0.05 mm", "0 mm", quantity.Inside},
		{"-0.5..0.5 mm", "-0.5 mm", quantity.Inside},
		{"-0.5..0.5 mm", "-0.51 mm", quantity.Outside},
		{"20..25 °C", "77 °F", quantity.Inside},
		{"20..25 °C", "77.1 °F", quantity.Outside},
		{"120 ± 0 N·m", "120.00 N·m", quantity.Inside},
		{"120 ± 0 N·m", "120.01 N·m", quantity.Outside},
		{"5..5 count", "5 count", quantity.Inside},
		{"5..5 count", "4 count", quantity.Outside},
	} {
		got, err := mustWindow(c.window).Judge(quantity.MustParse(c.value))
		if err != nil || got != c.want {
			t.Errorf("%s against %s is %v, %v; want %v", c.value, c.window, got, err, c.want)
		}
	}
}

// 33.6 N·m has no finite decimal in lbf·ft, so its exact equal is checked as a
// rational, and the decimals nearest to it on either side by their verdicts.
func TestExactEqualInAnotherUnit(t *testing.T) {
	w := mustWindow("35 N·m ± 4 %")
	limit := quantity.MustParse("33.6 N·m")
	exact, err := limit.In(quantity.PoundFoot)
	if err != nil {
		t.Fatal(err)
	}
	low, err := w.Low.In(quantity.PoundFoot)
	if err != nil {
		t.Fatal(err)
	}
	if exact.Cmp(low) != 0 {
		t.Errorf("33.6 N·m is %s lbf·ft and the limit is %s lbf·ft", exact, low)
	}
	near := quantity.FromRat(exact, quantity.PoundFoot, 15)
	step := quantity.MustParse("0.000000000000001 lbf·ft")
	below, above := near, near
	if near.Rat().Cmp(exact) > 0 {
		below, err = near.Sub(step)
	} else {
		above, err = near.Add(step)
	}
	if err != nil {
		t.Fatal(err)
	}
	for value, want := range map[quantity.Quantity]quantity.Verdict{below: quantity.Outside, above: quantity.Inside} {
		if got, err := w.Judge(value); err != nil || got != want {
			t.Errorf("%s is %v, %v; want %v", value, got, err, want)
		}
	}
}

func TestJudgeRefusals(t *testing.T) {
	torque := mustWindow("108..132 N·m")
	for _, c := range []struct {
		window      quantity.Window
		value       quantity.Quantity
		uncertainty quantity.Quantity
		want        string
	}{
		{torque, quantity.Quantity{}, quantity.Quantity{}, `there is no value`},
		{quantity.Window{}, quantity.MustParse("5 mm"), quantity.Quantity{}, `there is no window to judge by`},
		{torque, quantity.MustParse("5 mm"), quantity.Quantity{}, `5 mm is a length, but the window 108..132 N·m is for a torque`},
		{torque, quantity.MustParse("90°"), quantity.Quantity{}, `90° is an angle, but the window 108..132 N·m is for a torque`},
		{torque, quantity.MustParse("120 N·m"), quantity.MustParse("4 %"), `the uncertainty does not fit the window 108..132 N·m: 4 % is a ratio and cannot be given in N·m, which is for a torque`},
		{torque, quantity.MustParse("120 N·m"), quantity.MustParse("-1 N·m"), `the uncertainty -1 N·m is negative; give it without a sign`},
		{torque, quantity.MustParse("500 N·m"), quantity.MustParse("-1 N·m"), `the uncertainty -1 N·m is negative; give it without a sign`},
		{torque, quantity.MustParse("120 N·m"), quantity.Quantity{Unit: quantity.NewtonMetre}, `the uncertainty does not fit the window 108..132 N·m: there is no value`},
		{quantity.Window{Low: quantity.Quantity{Number: "1e9", Unit: quantity.NewtonMetre}}, quantity.MustParse("120 N·m"), quantity.Quantity{}, `"1e9" is not a number in the form this program writes`},
	} {
		got, err := c.window.JudgeWithin(c.value, c.uncertainty)
		if err == nil || err.Error() != c.want || got != quantity.Unjudged {
			t.Errorf("%v within %v against %v is %v\n got %v\nwant %s", c.value, c.uncertainty, c.window, got, err, c.want)
		}
	}
}

// An uncertainty is a difference: 9 °F of it is 5 °C, with no offset.
func TestJudgeWithinTemperature(t *testing.T) {
	w := mustWindow("20..40 °C")
	for value, want := range map[string]quantity.Verdict{
		"25 °C": quantity.Inside, "24.9 °C": quantity.NotProven, "77 °F": quantity.Inside,
		"35 °C": quantity.Inside, "35.1 °C": quantity.NotProven, "40.1 °C": quantity.Outside,
	} {
		if got, err := w.JudgeWithin(quantity.MustParse(value), quantity.MustParse("9 °F")); err != nil || got != want {
			t.Errorf("%s is %v, %v; want %v", value, got, err, want)
		}
	}
}

func TestWindowValidRefusesForgedData(t *testing.T) {
	good := mustWindow("120 N·m ± 10 %")
	change := func(f func(*quantity.Window)) quantity.Window {
		w := good
		f(&w)
		return w
	}
	for name, w := range map[string]quantity.Window{
		"nothing":             {},
		"text only":           {Text: "108..132 N·m"},
		"limit without value": change(func(w *quantity.Window) { w.Low.Number = "" }),
		"low moved":           change(func(w *quantity.Window) { w.Low.Number = "10" }),
		"high moved":          change(func(w *quantity.Window) { w.High.Number = "1320" }),
		"high removed":        change(func(w *quantity.Window) { w.High = quantity.Quantity{} }),
		"target moved":        change(func(w *quantity.Window) { w.Target.Number = "121" }),
		"target removed":      change(func(w *quantity.Window) { w.Target = quantity.Quantity{} }),
		"target outside":      change(func(w *quantity.Window) { w.Text = ""; w.Target.Number = "200" }),
		"text changed":        change(func(w *quantity.Window) { w.Text = "120 N·m ± 20 %" }),
		"text unreadable":     change(func(w *quantity.Window) { w.Text = "about 120" }),
		"units mixed":         change(func(w *quantity.Window) { w.Text = ""; w.High.Unit = quantity.PoundFoot }),
		"unit unknown":        {Low: quantity.Quantity{Number: "5", Unit: "furlong"}},
		"empty":               {Low: quantity.MustParse("6 mm"), High: quantity.MustParse("5 mm")},
		"target alone":        {Low: quantity.MustParse("5 mm"), Target: quantity.MustParse("6 mm")},
	} {
		if w.Valid() == nil {
			t.Errorf("%s: %#v is taken as valid", name, w)
		}
	}
	bare := quantity.Window{Low: quantity.MustParse("16.00 mm")}
	if err := bare.Valid(); err != nil || bare.String() != ">= 16.00 mm" {
		t.Errorf("a window made from one limit: %v, %q", err, bare)
	}
	if bare.IsZero() || bare.Unit() != quantity.Millimetre || bare.Dimension() != quantity.Length {
		t.Errorf("%v: zero %v, unit %q, dimension %q", bare, bare.IsZero(), bare.Unit(), bare.Dimension())
	}
}

func TestVerdictText(t *testing.T) {
	for v, want := range map[quantity.Verdict]string{
		quantity.Unjudged: "unjudged", quantity.Inside: "inside", quantity.Outside: "outside", quantity.NotProven: "not proven",
	} {
		text, err := v.MarshalText()
		if err != nil || string(text) != want || v.String() != want {
			t.Errorf("%d: %q, %v", v, text, err)
		}
		var back quantity.Verdict
		if err := back.UnmarshalText(text); err != nil || back != v {
			t.Errorf("%q reads back as %v, %v", text, back, err)
		}
	}
	if _, err := quantity.Verdict(9).MarshalText(); err == nil {
		t.Error("verdict 9 has a text")
	}
	var v quantity.Verdict
	if err := v.UnmarshalText([]byte("fine")); err == nil {
		t.Error(`"fine" is taken as a verdict`)
	}
}
