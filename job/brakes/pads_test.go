package brakes_test

import (
	"strings"
	"testing"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
	"github.com/google/go-cmp/cmp"
)

// padsOf reads inner leading, inner trailing, outer leading, outer trailing.
func padsOf(t testing.TB, four string) brakes.Pads {
	t.Helper()
	v := mm(t, four)
	if len(v) != 4 {
		t.Fatalf("%q are not four readings", four)
	}
	return brakes.Pads{InnerLead: v[0], InnerTrail: v[1], OuterLead: v[2], OuterTrail: v[3]}
}

// Worked example, invented demo values.
func TestPadFiguresWorkedExample(t *testing.T) {
	f, err := padsOf(t, "3.1 3.0 7.4 7.5").Figures()
	if err != nil {
		t.Fatal(err)
	}
	got := []string{f.Inner.FloatString(2), f.Outer.FloatString(2), f.Difference.FloatString(1), f.Minimum.String(), f.Thinnest}
	if d := cmp.Diff([]string{"3.05", "7.45", "4.4", "3 mm", "inner trailing"}, got); d != "" {
		t.Error(d)
	}
}

func TestDiagnose(t *testing.T) {
	even := "6.2 6.1 6.4 6.3"
	for _, c := range []struct {
		name, left, right    string
		leftRusty, rightRust bool
		want                 []string
		say                  string
	}{
		{"worked example: inner", "3.1 3.0 7.4 7.5", even, false, false, []string{"left inner pad thinner"}, "left: inner pad 4.4 mm thinner than outer"},
		{"outer", even, "8.1 8.0 5.4 5.5", false, false, []string{"right outer pad thinner"}, "right: outer pad 2.6 mm"},
		{"even", even, even, false, false, nil, ""},
		{"exactly on the threshold", "4.0 4.0 6.0 6.0", "5.0 5.0 5.0 5.0", false, false, nil, ""},
		{"just over", "3.9 4.0 6.0 6.0", "5.0 5.0 5.0 5.0", false, false, []string{"left inner pad thinner"}, ""},
		{"taper", "5.0 6.2 6.0 6.1", "6.0 6.0 6.0 6.0", false, false, []string{"left pad tapered"}, "inner pad tapered by 1.2 mm"},
		{"twist", "5.4 6.2 6.2 5.4", "6.0 6.0 6.0 6.0", false, false, []string{"left tapered opposite ways"}, ""},
		{"dragging", "4.0 4.1 4.2 4.0", "6.2 6.1 6.4 6.3", false, false, []string{"left side dragging"}, "left: both pads 2.2 mm thinner than on the right"},
		{"idle", "4.0 4.1 4.2 4.0", "6.2 6.1 6.4 6.3", false, true, []string{"right side not working"}, "right: both pads 2.2 mm thicker"},
		{"both rusty", "4.0 4.1 4.2 4.0", "6.2 6.1 6.4 6.3", true, true, []string{"left side dragging"}, ""},
	} {
		found, err := brakes.Axle{Left: padsOf(t, c.left), Right: padsOf(t, c.right), LeftRusty: c.leftRusty, RightRusty: c.rightRust}.Diagnose(brakes.DemoPadThresholds())
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range found {
			got = append(got, string(f.Side)+" "+string(f.Pattern))
			if f.Cause == "" || !strings.HasSuffix(f.Question, "?") {
				t.Errorf("%s: cause %q, question %q", c.name, f.Cause, f.Question)
			}
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s: %s", c.name, d)
			continue
		}
		if c.say != "" && !strings.Contains(found[0].Text, c.say) {
			t.Errorf("%s: %q does not say %q", c.name, found[0].Text, c.say)
		}
	}
	if _, err := (brakes.Axle{Left: padsOf(t, even)}).Diagnose(brakes.DemoPadThresholds()); err == nil || !strings.Contains(err.Error(), "right: inner leading") {
		t.Errorf("right side missing: %v", err)
	}
}

func TestPadOddities(t *testing.T) {
	c := brakes.PadContext{New: q("11.5 mm"), Over: q("0.3 mm"), Plate: q("5.5 mm")}
	for _, row := range []struct {
		four string
		want []brakes.Code
		say  string
	}{
		{"6.2 6.1 6.4 6.3", nil, ""},
		{"3.1 3.0 7.4 7.5", nil, ""},
		{"11.8 11.5 11.5 11.6", nil, ""},
		{"11.2 5.7 11.0 5.6", []brakes.Code{brakes.CodeBackingPlate}, "two groups 5.5 mm apart"},
		{"11.2 5.7 5.8 5.6", []brakes.Code{brakes.CodeBackingPlate}, ""},
		{"14.5 14.6 14.4 14.5", repeated(brakes.CodeBackingPlate, 4), "Friction would be 9 mm"},
		{"31 3.0 3.2 3.1", []brakes.Code{brakes.CodeDecimal}, "3.1 mm?"},
		{"0.0 3.0 3.2 3.1", []brakes.Code{brakes.CodeNotMeasured}, "not measured"},
	} {
		odd, err := padsOf(t, row.four).Oddities(c)
		if err != nil {
			t.Fatal(err)
		}
		expect(t, row.four, odd, row.want, row.say)
	}
	c.Plate = quantity.Quantity{}
	odd, err := padsOf(t, "12.5 11.4 11.4 11.5").Oddities(c)
	if err != nil {
		t.Fatal(err)
	}
	// 12.5 mm could be 1.25 mm typed without its mark.
	expect(t, "12.5", odd, []brakes.Code{brakes.CodeDecimal}, "1.25 mm?")
	if odd, err := padsOf(t, "-1 11.4 11.4 11.5").Oddities(c); err == nil {
		t.Errorf("negative: got %+v", odd)
	}
}

// Worked example, invented demo values.
func TestSidesExchanged(t *testing.T) {
	odd, err := brakes.SidesExchanged(q("7.9 mm"), q("6.1 mm"), q("5.6 mm"), q("7.4 mm"), q("0.2 mm"))
	if err != nil {
		t.Fatal(err)
	}
	expect(t, "exchanged", odd, []brakes.Code{brakes.CodeSidesSwapped}, "left and right exchanged?")
	for name, now := range map[string][2]string{"plain wear": {"7.4 mm", "5.6 mm"}, "renewed": {"11.5 mm", "11.5 mm"}} {
		odd, err := brakes.SidesExchanged(q("7.9 mm"), q("6.1 mm"), q(now[0]), q(now[1]), q("0.2 mm"))
		if err != nil || odd != nil {
			t.Errorf("%s: %+v, %v", name, odd, err)
		}
	}
}
