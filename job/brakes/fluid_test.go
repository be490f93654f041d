package brakes_test

import (
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
)

// Source: 49 CFR 571.116 as reproduced; ISO 4925 rows are from memory and only
// reported.
func TestFluidClasses(t *testing.T) {
	unread := map[string]bool{}
	for _, c := range brakes.FluidClasses() {
		unread[c.Name] = true
	}
	delete(unread, "mineral") // listed to be refused by name, without figures
	for _, row := range reference(t, "brake_fluid_classes.csv") {
		report := t.Errorf
		if row["status"] == "memory" {
			report = t.Logf
		}
		delete(unread, row["class"])
		c, err := brakes.ParseFluidClass(row["class"])
		if err != nil {
			report("%s: %v", row["class"], err)
			continue
		}
		if c.FromMemory != (row["status"] == "memory") {
			report("%s: from memory %v", row["class"], c.FromMemory)
		}
		if c.DryBoiling != q(row["dry_boiling_min_C"]+" °C") || c.WetBoiling != q(row["wet_boiling_min_C"]+" °C") ||
			c.ColdViscosity != row["viscosity_minus40C_max_mm2_s"] || c.HotViscosity != row["viscosity_100C_min_mm2_s"] ||
			!strings.HasPrefix(row["base"], string(c.Base)) {
			report("%s: got %+v, want %v", row["class"], c, row)
		}
	}
	if len(unread) > 0 {
		t.Errorf("classes without a row in the table: %v", unread)
	}
}

// The Fahrenheit figures printed beside the table agree to the degree.
func TestFluidClassesFahrenheit(t *testing.T) {
	for name, want := range map[string][2]string{"DOT 3": {"401 °F", "284 °F"}, "DOT 4": {"446 °F", "311 °F"}, "DOT 5": {"500 °F", "356 °F"}, "DOT 5.1": {"500 °F", "356 °F"}} {
		c, err := brakes.ParseFluidClass(name)
		if err != nil {
			t.Fatal(err)
		}
		for i, b := range []quantity.Quantity{c.DryBoiling, c.WetBoiling} {
			if f, err := b.Convert(quantity.Fahrenheit, 0); err != nil || f != q(want[i]) {
				t.Errorf("%s: %v, %v, want %s", name, f, err, want[i])
			}
		}
	}
}

// Computed from the classes and the published rule that families do not mix.
func TestOfferFluid(t *testing.T) {
	for _, row := range reference(t, "brake_fluid_offer.csv") {
		required, err := brakes.ParseFluidClass(row["required"])
		if err != nil {
			t.Fatal(err)
		}
		offered, err := brakes.ParseFluidClass(row["offered"])
		if err != nil {
			t.Fatal(err)
		}
		got, err := brakes.OfferFluid(required, offered)
		if err != nil || got.Accepted != (row["expected"] == "accept") || got.Why == "" {
			t.Errorf("%s for %s: %+v, %v; want %s, %s", row["offered"], row["required"], got, err, row["expected"], row["why"])
		}
	}
	// Viscosity alone refuses: 1800 against 1500 mm²/s cold, and an invented
	// fluid that is too thin when hot.
	dot3, err := brakes.ParseFluidClass("DOT 3")
	if err != nil {
		t.Fatal(err)
	}
	dot4, err := brakes.ParseFluidClass("DOT 4")
	if err != nil {
		t.Fatal(err)
	}
	if got, err := brakes.OfferFluid(dot3, dot4); err != nil || got.Accepted || got.Why != "viscosity at −40 °C up to 1800 is above 1500 mm²/s" {
		t.Errorf("DOT 4 for DOT 3: %+v, %v", got, err)
	}
	thin := dot3
	thin.Name, thin.HotViscosity = "thin", "1.4"
	if got, err := brakes.OfferFluid(dot3, thin); err != nil || got.Accepted || got.Why != "viscosity at 100 °C from 1.4 is below 1.5 mm²/s" {
		t.Errorf("thin for DOT 3: %+v, %v", got, err)
	}
	for _, name := range []string{"dot4", "DOT-4", "Dot 4"} {
		if c, err := brakes.ParseFluidClass(name); err != nil || c.Name != "DOT 4" {
			t.Errorf("%q: %v, %v", name, c, err)
		}
	}
	for _, name := range []string{"", "DOT", "DOT 6", "5.1.1"} {
		if c, err := brakes.ParseFluidClass(name); err == nil {
			t.Errorf("%q: got %v, want an error", name, c.Name)
		}
	}
}

// Worked example, invented demo values.
func TestJudgeBoiling(t *testing.T) {
	for _, c := range []struct {
		read string
		want brakes.FluidState
		say  string
	}{
		{"180 °C", brakes.FluidGood, ""}, {"179.9 °C", brakes.RenewSoon, ""}, {"168 °C", brakes.RenewSoon, ""},
		{"155 °C", brakes.RenewSoon, ""}, {"154 °C", brakes.RenewNow, ""}, {"118 °C", brakes.RenewNow, ""},
		{"334 °F", brakes.RenewSoon, ""}, {"334 °C", brakes.FluidUnread, "334 °F = 168 °C"},
		{"301 °C", brakes.FluidUnread, ""}, {"79 °C", brakes.FluidUnread, "check instrument and unit"}, {"20 °C", brakes.FluidUnread, ""},
	} {
		got, odd, err := brakes.JudgeBoiling(q(c.read), brakes.DemoBoilingLimits())
		if err != nil || got != c.want || (len(odd) > 0) != (got == brakes.FluidUnread) {
			t.Errorf("%s: %s, %+v, %v", c.read, got, odd, err)
			continue
		}
		if c.say != "" && !strings.Contains(odd[0].Text, c.say) {
			t.Errorf("%s: %q", c.read, odd[0].Text)
		}
	}
	if got, _, err := brakes.JudgeBoiling(q("168 °C"), brakes.BoilingLimits{Now: q("180 °C"), Soon: q("155 °C")}); err == nil {
		t.Errorf("limits crossed: %s", got)
	}
	for after, want := range map[string]bool{"245 °C": false, "244.9 °C": true} {
		if got, err := brakes.Contaminated(q(after), q("260 °C")); err != nil || got != want {
			t.Errorf("after %s: %v, %v", after, got, err)
		}
	}
}

// Worked example, invented demo values.
func TestReservoirWorkedExample(t *testing.T) {
	left := brakes.CaliperTravel{Piston: q("43 mm"), InnerWear: q("8.4 mm"), OuterWear: q("4.1 mm"), DiscWear: q("1.58 mm")}
	right := brakes.CaliperTravel{Piston: q("43 mm"), InnerWear: q("5.3 mm"), OuterWear: q("5.1 mm"), DiscWear: q("1.58 mm")}
	for _, c := range []struct {
		caliper brakes.CaliperTravel
		want    string
	}{{left, "20.4"}, {right, "17.4"}} {
		got, err := c.caliper.Displaced()
		if err != nil {
			t.Fatal(err)
		}
		printed(t, "displaced", got, c.want)
	}
	r, err := brakes.Reservoir{Capacity: q("150 ml"), Level: q("85 %")}.WhenPistonsGoBack(left, right)
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "returned", r.Returned, "38")
	printed(t, "rise", r.Percent, "25")
	printed(t, "level after", r.After, "110")
	if !r.Overflows || r.Siphon != 20 || !strings.Contains(r.Text, "siphon about 20 ml first") {
		t.Errorf("got %+v", r)
	}
	r, err = brakes.Reservoir{Capacity: q("0.15 l"), Level: q("70 %")}.WhenPistonsGoBack(left, right)
	if err != nil || r.Overflows || r.Siphon != 0 {
		t.Errorf("70 %%: %+v, %v", r, err)
	}
	r, err = brakes.Reservoir{Capacity: q("150 ml"), Level: q("75 %")}.WhenPistonsGoBack(left, right)
	if err != nil || !r.Overflows || r.Siphon != 10 {
		t.Errorf("just above MAX: %+v, %v", r, err)
	}
	atMin := brakes.Reservoir{Capacity: q("150 ml"), Level: q("0 %")}
	if missing, rest, err := atMin.Unexplained(q("115 ml"), left, right); err != nil || missing != 150 || rest != 0 {
		t.Errorf("worn pads: %v %v %v", missing, rest, err)
	}
	fresh := brakes.CaliperTravel{Piston: q("43 mm"), InnerWear: q("0.5 mm"), OuterWear: q("0.5 mm"), DiscWear: q("0.1 mm")}
	if _, rest, err := atMin.Unexplained(q("115 ml"), fresh, fresh); err != nil || rest < 30 {
		t.Errorf("new pads: %v %v", rest, err)
	}
	for name, c := range map[string]brakes.CaliperTravel{
		"no piston": {Piston: q("0 mm"), InnerWear: q("1 mm"), OuterWear: q("1 mm"), DiscWear: q("1 mm")},
		"grown pad": {Piston: q("43 mm"), InnerWear: q("-1 mm"), OuterWear: q("1 mm"), DiscWear: q("1 mm")},
		"no value":  {Piston: q("43 mm")},
	} {
		if got, err := c.Displaced(); err == nil {
			t.Errorf("%s: got %v", name, got)
		}
	}
}

func TestReservoirAfterWork(t *testing.T) {
	for _, c := range []struct {
		level, siphoned string
		leak            bool
	}{{"100 %", "0 ml", false}, {"90 %", "0 ml", false}, {"89.9 %", "0 ml", true}, {"80 %", "15 ml", false}, {"79 %", "15 ml", true}} {
		text, err := brakes.Reservoir{Capacity: q("150 ml"), Level: q(c.level)}.AfterWork(q(c.siphoned))
		if err != nil || (text != "") != c.leak {
			t.Errorf("%s, %s: %q, %v", c.level, c.siphoned, text, err)
		}
	}
}

func TestCheckBottle(t *testing.T) {
	opened := time.Date(2024, 3, 4, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		on      time.Time
		refused bool
	}{{opened, false}, {opened.AddDate(1, 0, 0), false}, {opened.AddDate(1, 0, 1), true}, {opened.AddDate(0, 0, -1), true}} {
		if text := brakes.CheckBottle(opened, c.on, 12); (text != "") != c.refused {
			t.Errorf("%v: %q", c.on, text)
		}
	}
}
