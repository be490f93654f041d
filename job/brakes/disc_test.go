package brakes_test

import (
	"fmt"
	"strings"
	"testing"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Worked example, invented demo values.
const oldDisc = "16.421 16.415 16.418 16.427 16.436 16.441 16.433 16.426"

func demoDisc(t testing.TB) brakes.DiscSpec {
	return brakes.DiscSpec{
		Minimum: window(t, ">= 16.00 mm"), Refit: window(t, ">= 16.50 mm"),
		Variation: window(t, "<= 0.015 mm"), Nominal: window(t, "18.00 ± 0.10 mm"),
	}
}

func TestDiscFiguresWorkedExample(t *testing.T) {
	f, err := brakes.DiscReadings{Points: mm(t, oldDisc), Inner: mm(t, "16.40 16.41")}.Figures()
	if err != nil {
		t.Fatal(err)
	}
	got := []string{f.Minimum.String(), f.Maximum.String(), f.Variation.String(), f.Mean.FloatString(3), f.Taper.FloatString(6), fmt.Sprint(f.MinimumAt)}
	want := []string{"16.415 mm", "16.441 mm", "0.026 mm", "16.427", "0.022125", "2"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	j, err := demoDisc(t).Judge(f, brakes.Instrument{Resolution: q("0.001 mm"), Uncertainty: q("0.005 mm")})
	if err != nil {
		t.Fatal(err)
	}
	if j.Minimum != quantity.Inside || j.Refit != quantity.Outside || j.Variation != quantity.Outside || len(j.Reasons) != 2 {
		t.Errorf("got %+v", j)
	}
}

// Worked example, invented demo values: minimum 16.000.
func TestDiscMinimumGuarded(t *testing.T) {
	for _, c := range []struct {
		read, uncertainty string
		want              quantity.Verdict
	}{
		{"16.004", "0.005 mm", quantity.NotProven},
		{"16.006", "0.005 mm", quantity.Inside},
		{"16.005", "0.005 mm", quantity.Inside},
		{"16.04", "0.05 mm", quantity.NotProven},
		{"15.94", "0.05 mm", quantity.Outside},
	} {
		f, err := brakes.DiscReadings{Points: mm(t, c.read)}.Figures()
		if err != nil {
			t.Fatal(err)
		}
		j, err := brakes.DiscSpec{Minimum: window(t, ">= 16.000 mm")}.Judge(f, brakes.Instrument{Uncertainty: q(c.uncertainty)})
		if err != nil || j.Minimum != c.want || j.Variation != quantity.Unjudged {
			t.Errorf("%s ± %s: %+v, %v", c.read, c.uncertainty, j, err)
		}
	}
}

func TestDiscVariationWithCoarseInstrument(t *testing.T) {
	f, err := brakes.DiscReadings{Points: mm(t, "17.00 17.00 17.00 17.00 17.00 17.00 17.00 17.00")}.Figures()
	if err != nil {
		t.Fatal(err)
	}
	j, err := demoDisc(t).Judge(f, brakes.Instrument{Resolution: q("0.05 mm")})
	if err != nil {
		t.Fatal(err)
	}
	if j.Variation != quantity.NotProven || len(j.Reasons) != 1 || !strings.Contains(j.Reasons[0], "instrument cannot show 0.015 mm") {
		t.Errorf("got %+v", j)
	}
}

// The thickness variation is guarded by the uncertainty of a difference, the
// thinnest point by that of a reading.
func TestDiscGuardsEachFigureByItsOwn(t *testing.T) {
	f, err := brakes.DiscReadings{Points: mm(t, "17.000 17.010")}.Figures()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		difference string
		want       quantity.Verdict
	}{{"0.005 mm", quantity.Inside}, {"0.0051 mm", quantity.NotProven}} {
		j, err := demoDisc(t).Judge(f, brakes.Instrument{Uncertainty: q("0.5 mm"), Difference: q(c.difference)})
		if err != nil || j.Minimum != quantity.Inside || j.Refit != quantity.Inside || j.Variation != c.want {
			t.Errorf("%s: %+v, %v", c.difference, j, err)
		}
	}
}

func TestDiscFiguresRefuse(t *testing.T) {
	for name, set := range map[string]brakes.DiscReadings{
		"empty":    {},
		"no value": {Points: []quantity.Quantity{{}}},
		"torque":   {Points: []quantity.Quantity{q("16 N·m")}},
		"zero":     {Points: mm(t, "16.0 0")},
		"negative": {Points: mm(t, "-16.0")},
		"inner":    {Points: mm(t, "16.0"), Inner: mm(t, "0")},
	} {
		if f, err := set.Figures(); err == nil {
			t.Errorf("%s: got %+v, want an error", name, f)
		}
	}
}

func TestDiscOddities(t *testing.T) {
	mic := brakes.Instrument{Resolution: q("0.001 mm"), Uncertainty: q("0.005 mm")}
	for _, c := range []struct {
		name, points string
		in           brakes.Instrument
		previous     quantity.Quantity
		want         []brakes.Code
		say          string
	}{
		{"good", oldDisc, mic, q("16.60 mm"), nil, ""},
		{"seven", "16.421 16.415 16.418 16.427 16.436 16.441 16.433", mic, quantity.Quantity{}, []brakes.Code{brakes.CodeIncomplete}, "7 of 8"},
		{"copied", "16.42 16.42 16.42 16.42 16.42 16.42 16.42 16.42", mic, quantity.Quantity{}, []brakes.Code{brakes.CodeCopied}, "copied"},
		{"repeated", "16.421 16.415 16.418 16.427 16.421 16.415 16.418 16.427", mic, quantity.Quantity{}, []brakes.Code{brakes.CodeCopied}, "repeat"},
		{"swapped digits", "16.42 16.41 16.42 16.43 16.14 16.42 16.43 16.42", mic, quantity.Quantity{}, []brakes.Code{brakes.CodeSwappedDigits}, "point 5: 16.14 mm? its neighbours read about 16.43 mm; digits swapped, 16.41 mm?"},
		{"loner", "16.42 16.41 16.42 16.43 16.95 16.42 16.43 16.42", mic, quantity.Quantity{}, []brakes.Code{brakes.CodeNeighbour}, "point 5"},
		{"decimal", "16.42 1.64 16.42 16.43 16.44 16.42 16.43 16.42", mic, quantity.Quantity{}, []brakes.Code{brakes.CodeDecimal}, "16.4 mm?"},
		{"decimal up", "16.42 164 16.42 16.43 16.44 16.42 16.43 16.42", mic, quantity.Quantity{}, []brakes.Code{brakes.CodeDecimal}, "16.4 mm?"},
		{"inches", "16.42 0.646 16.42 16.43 16.44 16.42 16.43 16.42", mic, quantity.Quantity{}, []brakes.Code{brakes.CodeOtherUnit}, "0.646 in = 16.41 mm"},
		{"thicker than new", "18.42 18.42 18.41 18.43 18.44 18.42 18.43 18.43", mic, quantity.Quantity{}, repeated(brakes.CodeThickerThanNew, 8), "lip bridged"},
		{"thicker than last", oldDisc, mic, q("16.40 mm"), []brakes.Code{brakes.CodeThickerThanLast}, "other disc"},
		{"as last within U", oldDisc, mic, q("16.410 mm"), nil, ""},
		{"too fine", "16.4215 16.415 16.418 16.427 16.436 16.441 16.433 16.426", mic, quantity.Quantity{}, []brakes.Code{brakes.CodeTooFine}, "finer than the instrument"},
		{"too coarse", "16.40 16.45 16.40 16.45 16.45 16.45 16.45 16.40", brakes.Instrument{Resolution: q("0.05 mm")}, quantity.Quantity{}, []brakes.Code{brakes.CodeTooCoarse}, "cannot show 0.015 mm"},
	} {
		odd, err := brakes.DiscReadings{Points: mm(t, c.points)}.Oddities(brakes.DiscContext{Spec: demoDisc(t), Instrument: c.in, Used: true, Previous: c.previous})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		expect(t, c.name, odd, c.want, c.say)
	}
}

func repeated(c brakes.Code, n int) []brakes.Code {
	var cs []brakes.Code
	for range n {
		cs = append(cs, c)
	}
	return cs
}

// expect compares the codes and looks for words in the first sentence.
func expect(t *testing.T, name string, odd []brakes.Oddity, want []brakes.Code, say string) {
	t.Helper()
	var got []brakes.Code
	for _, o := range odd {
		got = append(got, o.Code)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("%s: %s%+v", name, d, odd)
		return
	}
	if say != "" && !strings.Contains(odd[0].Text, say) {
		t.Errorf("%s: %q does not say %q", name, odd[0].Text, say)
	}
}

// A growing uncertainty never turns a verdict into a better one, and never
// turns inside into outside or back.
func TestDiscVerdictMonotone(t *testing.T) {
	spec := demoDisc(t)
	rank := map[quantity.Verdict]int{quantity.Inside: 0, quantity.NotProven: 1, quantity.Outside: 2}
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(15500, 17000).Draw(r, "micrometres")
		f, err := brakes.DiscReadings{Points: []quantity.Quantity{q(fmt.Sprintf("%d µm", n))}}.Figures()
		if err != nil {
			r.Fatal(err)
		}
		small := rapid.IntRange(0, 500).Draw(r, "small")
		large := small + rapid.IntRange(0, 500).Draw(r, "more")
		judge := func(u int) quantity.Verdict {
			j, err := spec.Judge(f, brakes.Instrument{Uncertainty: q(fmt.Sprintf("%d µm", u))})
			if err != nil {
				r.Fatal(err)
			}
			return j.Minimum
		}
		a, b := judge(small), judge(large)
		if rank[b] < rank[a] || (a == quantity.Outside) != (b == quantity.Outside) {
			r.Fatalf("%d µm: %v at ±%d, %v at ±%d", n, a, small, b, large)
		}
	})
}

func TestSpread(t *testing.T) {
	got, err := brakes.Spread(q("3 µm"), q("0.004 mm"))
	if err != nil || got != q("0.005 mm") {
		t.Errorf("got %v, %v", got, err)
	}
}

// Worked example, invented demo values.
func TestCheckNewPart(t *testing.T) {
	nominal := window(t, "18.00 ± 0.10 mm")
	for _, c := range []struct {
		measured, uncertainty string
		want                  quantity.Verdict
		code                  brakes.Code
		say                   string
	}{
		{"17.98 mm", "0.005 mm", quantity.Inside, "", ""},
		{"17.99 mm", "0.005 mm", quantity.Inside, "", ""},
		{"18.10 mm", "", quantity.Inside, "", ""},
		{"18.099 mm", "0.005 mm", quantity.NotProven, "", "finer instrument"},
		{"20.02 mm", "0.005 mm", quantity.Outside, brakes.CodeOtherPart, "2.02 mm more than 18.00 mm: another part"},
		{"16.10 mm", "0.005 mm", quantity.Outside, brakes.CodeUsedPart, "this is a used part"},
		{"12.00 mm", "0.005 mm", quantity.Outside, brakes.CodeOtherPart, "6 mm less than 18.00 mm"},
	} {
		var u quantity.Quantity
		if c.uncertainty != "" {
			u = q(c.uncertainty)
		}
		got, err := brakes.CheckNewPart("disc thickness", nominal, q(c.measured), u, q("16.00 mm"))
		if err != nil {
			t.Fatal(err)
		}
		if got.Verdict != c.want || got.Code != c.code || !strings.Contains(got.Text, c.say) || (got.Text == "") != (c.say == "") {
			t.Errorf("%s: got %+v", c.measured, got)
		}
	}
	if got, err := brakes.CheckNewPart("disc thickness", window(t, ">= 16 mm"), q("18 mm"), quantity.Quantity{}, quantity.Quantity{}); err == nil {
		t.Errorf("one-sided nominal: got %+v, want an error", got)
	}
}

func TestSidesAgree(t *testing.T) {
	d, odd, err := brakes.SidesAgree("disc thickness", q("17.98 mm"), q("17.99 mm"), q("0.05 mm"))
	if err != nil || d != q("0.01 mm") || odd != nil {
		t.Errorf("got %v %v %v", d, odd, err)
	}
	d, odd, err = brakes.SidesAgree("disc thickness", q("17.92 mm"), q("18.00 mm"), q("0.05 mm"))
	if err != nil || d != q("0.08 mm") {
		t.Errorf("got %v %v", d, err)
	}
	expect(t, "unlike", odd, []brakes.Code{brakes.CodeSidesUnlike}, "differ by 0.08 mm")
}

// Source: UN Regulation No. 90, see the header of the table.
func TestReplacementDisc(t *testing.T) {
	for _, row := range reference(t, "replacement_disc_geometry.csv") {
		for _, category := range strings.Fields(row["vehicle_category"]) {
			limits, err := brakes.ReplacementDisc(category)
			if err != nil {
				t.Fatal(err)
			}
			w := map[string]quantity.Window{"thickness variation": limits.Variation,
				"lateral run-out of friction face": limits.RunOut, "location face flatness": limits.Flatness}[row["feature"]]
			if c, err := w.High.Cmp(q(row["limit_mm"] + " mm")); err != nil || c != 0 {
				t.Errorf("%s %s: got %v, want %s", category, row["feature"], w.High, row["limit_mm"])
			}
			if v, err := w.Judge(q(row["limit_mm"] + "1 mm")); err != nil || v != quantity.Outside {
				t.Errorf("%s %s: just above is %v, %v", category, row["feature"], v, err)
			}
		}
	}
	if _, err := brakes.ReplacementDisc("L3"); err == nil {
		t.Error("category L3: no error")
	}
}

// Worked example, invented demo values.
func TestDiscOutlastsPads(t *testing.T) {
	disc := brakes.Interval{Before: q("18.00 mm"), After: q("16.415 mm"), From: q("4900 km"), To: q("61430 km")}
	pad := brakes.Interval{Before: q("11.5 mm"), After: q("6.1 mm"), From: q("32550 km"), To: q("61430 km")}
	o, err := brakes.DiscOutlastsPads(disc, pad, q("11.5 mm"), q("2.0 mm"), q("16.00 mm"))
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "disc rate", float(o.DiscRate), "0.0280")
	printed(t, "pad rate", float(o.PadRate), "0.187")
	printed(t, "pad life in 100 km", float(o.PadLife)/100, "508")
	printed(t, "disc then", float(o.DiscThen), "14.99")
	if o.Verdict != quantity.Outside || !strings.HasPrefix(o.Text, "not with new pads") {
		t.Errorf("got %v %q", o.Verdict, o.Text)
	}
	pad.After = q("11.5 mm")
	if o, err := brakes.DiscOutlastsPads(disc, pad, q("11.5 mm"), q("2.0 mm"), q("16.00 mm")); err == nil {
		t.Errorf("no pad wear: got %+v", o)
	}
}

func TestDiscOutlastsPadsExactlyOnMinimum(t *testing.T) {
	disc := brakes.Interval{Before: q("18.0 mm"), After: q("17.0 mm"), From: q("0 km"), To: q("10000 km")}
	pad := brakes.Interval{Before: q("12.0 mm"), After: q("2.0 mm"), From: q("0 km"), To: q("10000 km")}
	o, err := brakes.DiscOutlastsPads(disc, pad, q("12.0 mm"), q("2.0 mm"), q("16.0 mm"))
	if err != nil || o.Verdict != quantity.Inside {
		t.Errorf("got %+v, %v", o, err)
	}
}
