package brakes_test

import (
	"errors"
	"math/big"
	"strconv"
	"testing"
	"time"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
)

func visit(thickness, km, uncertainty string) brakes.Visit {
	v := brakes.Visit{Thickness: q(thickness + " mm"), Odometer: q(km + " km")}
	if uncertainty != "" {
		v.Uncertainty = q(uncertainty + " mm")
	}
	return v
}

// Worked example, invented demo values.
func TestForecastWorkedExample(t *testing.T) {
	visits := []brakes.Visit{visit("11.5", "42180", "0.2"), visit("7.9", "61430", "0.2")}
	f, err := brakes.ForecastWear(visits, q("2.0 mm"))
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "rate", float(f.Rate), "0.187")
	printed(t, "cautious rate", float(f.CautiousRate), "0.2017")
	printed(t, "remaining, 100 km", float(f.Remaining)/100, "315")
	printed(t, "cautious remaining, 100 km", float(f.CautiousRemaining)/100, "283")
	plain, cautious, err := f.After(q("20000 km"))
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "next visit", float(plain), "4.2")
	printed(t, "next visit, cautious", float(cautious), "3.7")
	if got := f.Advice(); got != "about 28 000 km, check again at 75 000 km or in 12 months" {
		t.Errorf("advice %q", got)
	}
	sensor, err := brakes.ForecastWear(visits, q("3.0 mm"))
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "to the sensor, 100 km", float(sensor.Remaining)/100, "262")
	printed(t, "to the sensor, cautious, 100 km", float(sensor.CautiousRemaining)/100, "233")
	if f.Trend != nil || f.LastInterval {
		t.Errorf("two visits: %+v", f)
	}
}

func TestNoForecast(t *testing.T) {
	renewed := visit("11.5", "61430", "0.2")
	renewed.Renewed = true
	for _, c := range []struct {
		name   string
		visits []brakes.Visit
		want   brakes.NoForecastReason
	}{
		{"none", nil, brakes.FirstReading},
		{"one", []brakes.Visit{visit("11.5", "42180", "0.2")}, brakes.FirstReading},
		{"renewed now", []brakes.Visit{visit("3.1", "42180", "0.2"), renewed}, brakes.FirstReading},
		{"2999 km", []brakes.Visit{visit("11.5", "42180", "0.2"), visit("10.5", "45179", "0.2")}, brakes.TooShort},
		{"grew", []brakes.Visit{visit("6.1", "42180", "0.2"), visit("7.4", "61430", "0.2")}, brakes.Grew},
		// u of the difference is √(0.3² + 0.4²) = 0.5 exactly.
		{"wear equal to u", []brakes.Visit{visit("8.0", "42180", "0.3"), visit("7.5", "61430", "0.4")}, brakes.NoWearYet},
	} {
		_, err := brakes.ForecastWear(c.visits, q("2.0 mm"))
		var no *brakes.NoForecast
		if !errors.As(err, &no) || no.Reason != c.want || no.Error() == "" {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
	if _, err := brakes.ForecastWear([]brakes.Visit{visit("8.0", "42180", "0.3"), visit("7.499", "61430", "0.4")}, q("2.0 mm")); err != nil {
		t.Errorf("wear just above u: %v", err)
	}
	if _, err := brakes.ForecastWear([]brakes.Visit{visit("11.5", "42180", "0.2"), visit("10.5", "45180", "0.2")}, q("2.0 mm")); err != nil {
		t.Errorf("3000 km: %v", err)
	}
	var no *brakes.NoForecast
	if _, err := brakes.ForecastWear([]brakes.Visit{visit("8", "5000", ""), visit("7", "4000", "")}, q("2 mm")); err == nil || errors.As(err, &no) {
		t.Errorf("odometer falls: %v", err)
	}
}

func TestForecastAfterRenewalAndFasterLately(t *testing.T) {
	fresh := visit("11.5", "50000", "0.1")
	fresh.Renewed = true
	f, err := brakes.ForecastWear([]brakes.Visit{visit("2.5", "49000", "0.1"), fresh, visit("9.5", "60000", "0.1"), visit("6.5", "70000", "0.1")}, q("2.0 mm"))
	if err != nil {
		t.Fatal(err)
	}
	if !f.LastInterval || f.Rate.Cmp(big.NewRat(3, 10)) != 0 || f.Remaining.Cmp(big.NewRat(15000, 1)) != 0 {
		t.Errorf("got rate %v, remaining %v, last %v", f.Rate, f.Remaining, f.LastInterval)
	}
	if f.Trend == nil || f.Trend.Line.N != 3 || f.Trend.CautiousRemaining >= f.Trend.Remaining {
		t.Fatalf("trend %+v", f.Trend)
	}
}

// On an exact line the trend meets the limit where the line does and the band
// has no width.
func TestTrendOnALine(t *testing.T) {
	f, err := brakes.ForecastWear([]brakes.Visit{visit("11", "0", ""), visit("9", "10000", ""), visit("7", "20000", ""), visit("5", "30000", "")}, q("2 mm"))
	if err != nil || f.Trend == nil {
		t.Fatalf("%+v, %v", f, err)
	}
	if f.Trend.Remaining != 15000 || f.Trend.CautiousRemaining < 14999 || f.Trend.CautiousRemaining > 15000 {
		t.Errorf("trend %+v", f.Trend)
	}
}

func TestForecastAlreadyAtLimit(t *testing.T) {
	f, err := brakes.ForecastWear([]brakes.Visit{visit("11.5", "42180", "0.2"), visit("1.9", "61430", "0.2")}, q("2.0 mm"))
	if err != nil || f.Remaining.Sign() != 0 || f.CautiousRemaining.Sign() != 0 || f.Advice() != "due now" {
		t.Errorf("got %+v, %v", f, err)
	}
}

func TestTwoFigures(t *testing.T) {
	for km, want := range map[string]string{"28291": "28 000 km", "999": "990 km", "7": "7 km", "130450.9": "130 000 km", "0": "0 km", "1250000": "1 200 000 km"} {
		if got := brakes.TwoFigures(rat(t, km)); got != want {
			t.Errorf("%s: %q, want %q", km, got, want)
		}
	}
}

func TestIntervalRate(t *testing.T) {
	i := brakes.Interval{Before: q("11.5 mm"), After: q("7.9 mm"), From: q("42180 km"), To: q("61430 km")}
	r, err := i.Rate()
	if err != nil || r.Cmp(big.NewRat(3600, 19250)) != 0 {
		t.Errorf("got %v, %v", r, err)
	}
	for name, bad := range map[string]brakes.Interval{
		"same odometer":      {Before: i.Before, After: i.After, From: i.From, To: i.From},
		"grew":               {Before: i.After, After: i.Before, From: i.From, To: i.To},
		"missing":            {Before: i.Before, After: i.After, From: i.From},
		"millimetres driven": {Before: i.Before, After: i.After, From: i.From, To: q("61430 mm")},
	} {
		if r, err := bad.Rate(); err == nil {
			t.Errorf("%s: got %v", name, r)
		}
	}
}

// Worked example, invented demo values.
func TestCheckOdometer(t *testing.T) {
	march := time.Date(2024, 3, 3, 9, 0, 0, 0, time.UTC)
	last := brakes.OdometerReading{Shown: q("61430 km"), On: march}
	at := func(shown string, days int) brakes.OdometerReading {
		return brakes.OdometerReading{Shown: q(shown), On: march.AddDate(0, 0, days)}
	}
	replaced := at("120 km", 30)
	replaced.Offset = q("61500 km")
	for _, c := range []struct {
		name string
		now  brakes.OdometerReading
		want []brakes.Code
		say  string
	}{
		{"driven on", at("61442 km", 1), nil, ""},
		{"same", at("61430 km", 0), nil, ""},
		{"lower", at("58200 km", 30), []brakes.Code{brakes.CodeLower}, "58200 km is lower than 61430 km on 2024-03-03: typing, other vehicle, or instrument replaced?"},
		{"miles", at("38200 km", 30), []brakes.Code{brakes.CodeLower}, "38200 mi are 61477 km"},
		{"unit miles", at("38200 mi", 30), nil, ""},
		{"kilometres as miles", at("61500 mi", 1), []brakes.Code{brakes.CodeJump}, "kilometres read as miles"},
		{"tenth", at("614420 km", 1), []brakes.Code{brakes.CodeJump}, "tenth"},
		{"1500 a day", at("64430 km", 1), nil, ""},
		{"over 1500 a day", at("64431 km", 1), []brakes.Code{brakes.CodeJump}, "over 1500 km a day"},
		{"zero", at("0 km", 30), []brakes.Code{brakes.CodeImpossible}, ""},
		{"all nines", at("999999 km", 3000), []brakes.Code{brakes.CodeImpossible}, ""},
		{"all nines in miles", at("999999 mi", 3000), []brakes.Code{brakes.CodeImpossible}, ""},
		{"instrument replaced", replaced, nil, ""},
	} {
		odd, err := brakes.CheckOdometer(c.now, last)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		expect(t, c.name, odd, c.want, c.say)
	}
	if d, err := replaced.Driven(); err != nil || d != q("61620 km") {
		t.Errorf("replaced: %v, %v", d, err)
	}
	if odd, err := brakes.CheckOdometer(at("61430 km", 0), brakes.OdometerReading{}); err != nil || odd != nil {
		t.Errorf("first visit: %v, %v", odd, err)
	}
	if _, err := brakes.CheckOdometer(brakes.OdometerReading{On: march}, last); err == nil {
		t.Error("blank: no error")
	}
	if _, err := brakes.CheckOdometer(at("61500 km", -1), last); err == nil {
		t.Error("earlier day: no error")
	}
}

// Worked example, invented demo values.
func TestRetorque(t *testing.T) {
	released := time.Date(2024, 3, 4, 16, 30, 0, 0, time.FixedZone("", 3600))
	p, err := brakes.PlanRetorque(q("61442 km"), released, brakes.DemoRetorqueRule())
	if err != nil {
		t.Fatal(err)
	}
	if p.DueAt != q("61492 km") || p.LateAfter != q("61542 km") || p.DueOn.Format(time.DateOnly) != "2024-03-11" {
		t.Errorf("plan %+v", p)
	}
	for _, c := range []struct {
		days       int
		km, perDay string
		want       brakes.RetorqueState
		estimated  bool
		done       brakes.RetorqueState
	}{
		{0, "61442 km", "", brakes.RetorqueNotYet, false, brakes.RetorqueTooEarly},
		{1, "61445 km", "", brakes.RetorqueNotYet, false, brakes.RetorqueTooEarly},
		{1, "61491.9 km", "", brakes.RetorqueNotYet, false, brakes.RetorqueTooEarly},
		{1, "61492 km", "", brakes.RetorqueDue, false, brakes.RetorqueInTime},
		{1, "61542 km", "", brakes.RetorqueDue, false, brakes.RetorqueInTime},
		{1, "61542.1 km", "", brakes.RetorqueLate, false, brakes.RetorqueDoneLate},
		{3, "62342 km", "", brakes.RetorqueLate, false, brakes.RetorqueDoneLate},
		{7, "61450 km", "", brakes.RetorqueDue, false, brakes.RetorqueInTime},
		{8, "61450 km", "", brakes.RetorqueLate, false, brakes.RetorqueDoneLate},
		{6, "", "", brakes.RetorqueNotYet, false, ""},
		{7, "", "", brakes.RetorqueDue, false, ""},
		{8, "", "", brakes.RetorqueLate, false, ""},
		{0, "", "180 km", brakes.RetorqueNotYet, true, ""},
		{1, "", "180 km", brakes.RetorqueDue, true, ""},
	} {
		var km, perDay quantity.Quantity
		if c.km != "" {
			km = q(c.km)
		}
		if c.perDay != "" {
			perDay = q(c.perDay)
		}
		on := released.AddDate(0, 0, c.days)
		got, estimated, err := p.Standing(on, km, perDay)
		if err != nil || got != c.want || estimated != c.estimated {
			t.Errorf("day %d, %s %s: %s %v, %v", c.days, c.km, c.perDay, got, estimated, err)
		}
		if c.done == "" {
			continue
		}
		if done, err := p.Done(on, km); err != nil || done != c.done {
			t.Errorf("done day %d, %s: %s, %v", c.days, c.km, done, err)
		}
	}
	for perDay, want := range map[string]string{"180 km": "2024-03-05", "25 km": "2024-03-06", "24 km": "2024-03-07", "1 km": "2024-03-11"} {
		if on, err := p.ExpectedOn(q(perDay)); err != nil || on.Format(time.DateOnly) != want {
			t.Errorf("%s a day: %v, %v", perDay, on, err)
		}
	}
	if s, err := p.Done(released, quantity.Quantity{}); err == nil {
		t.Errorf("no odometer: %s", s)
	}
	if s, _, err := p.Standing(released.AddDate(0, 0, -1), quantity.Quantity{}, quantity.Quantity{}); err == nil {
		t.Errorf("before release: %s", s)
	}
	if s, err := p.Done(released.AddDate(0, 0, 1), q("61400 km")); err == nil {
		t.Errorf("odometer below release: %s", s)
	}
}

// Worked example, invented demo values: 1.5 mm pitch, 30°.
func TestNutsMoved(t *testing.T) {
	got, err := brakes.Settling(q("1.5 mm"), q("30°"))
	if err != nil || got != q("0.125 mm") {
		t.Errorf("settling %v, %v", got, err)
	}
	for i, c := range []struct {
		angles []string
		moved  bool
	}{
		{[]string{"0°", "0°", "0°"}, false}, {[]string{"0°", "30°", "0°"}, false},
		{[]string{"0°", "31°", "0°"}, true}, {[]string{"5°", "5°", "0°"}, true},
	} {
		var angles []quantity.Quantity
		for _, a := range c.angles {
			angles = append(angles, q(a))
		}
		if text, err := brakes.NutsMoved(angles); err != nil || (text != "") != c.moved {
			t.Errorf("row %s: %q, %v", strconv.Itoa(i), text, err)
		}
	}
	if text, err := brakes.NutsMoved([]quantity.Quantity{q("-5°")}); err == nil {
		t.Errorf("slackened: %q", text)
	}
}
