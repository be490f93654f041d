package brakes_test

import (
	"math/big"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
	"github.com/google/go-cmp/cmp"
)

func rules(t testing.TB, name string) brakes.RollerRules {
	t.Helper()
	r, err := brakes.RollerRulesOn(name, time.Date(2024, 3, 4, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func date(t testing.TB, text string) time.Time {
	t.Helper()
	d, err := time.Parse(time.DateOnly, text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Source: UK MOT inspection manual 1.2.1, see the header of the table.
func TestImbalanceTable(t *testing.T) {
	mot := rules(t, "mot-manual")
	for _, row := range reference(t, "brake_imbalance_cases.csv") {
		test := brakes.AxleTest{Left: q(row["higher_kgf"] + " kgf"), Right: q(row["lower_kgf"] + " kgf"),
			RightLocked: row["lower_wheel_locked"] == "yes", Steered: row["steered_axle"] == "yes"}
		got, err := mot.JudgeImbalance(brakes.RollerVehicle{Class: "M1"}, test)
		if err != nil {
			t.Fatal(err)
		}
		printed(t, row["id"], float(got.Percent), row["imbalance_percent"])
		if got.Grade.String() != row["expected"] {
			t.Errorf("%s: %s, want %s", row["id"], got.Text, row["expected"])
		}
		mirrored, err := mot.JudgeImbalance(brakes.RollerVehicle{Class: "M1"}, brakes.AxleTest{Left: test.Right, Right: test.Left, LeftLocked: test.RightLocked, Steered: test.Steered})
		if err != nil || mirrored.Grade != got.Grade {
			t.Errorf("%s mirrored: %s, %v", row["id"], mirrored.Text, err)
		}
	}
}

// Source: computed from the published rule, see the header of the table. The
// required figures 58, 50 and 16 belong to M1 service from 2010-09-01, N1
// service and parking.
func TestEfficiencyTable(t *testing.T) {
	mot := rules(t, "mot-manual")
	required := map[string]struct {
		vehicle brakes.RollerVehicle
		system  brakes.RollerSystem
	}{
		"58": {brakes.RollerVehicle{Class: "M1", FirstUsed: date(t, "2015-05-05")}, brakes.Service},
		"50": {brakes.RollerVehicle{Class: "N1", FirstUsed: date(t, "2015-05-05")}, brakes.Service},
		"16": {brakes.RollerVehicle{Class: "M1", FirstUsed: date(t, "2015-05-05")}, brakes.Parking},
	}
	for _, row := range reference(t, "brake_efficiency_cases.csv") {
		rule, ok := required[row["required_percent"]]
		if !ok {
			t.Fatalf("%s: required %s is not covered", row["id"], row["required_percent"])
		}
		var efforts []quantity.Quantity
		for _, e := range strings.Split(row["efforts_kgf"], "+") {
			efforts = append(efforts, q(e+" kgf"))
		}
		got, err := mot.JudgeEfficiency(rule.vehicle, brakes.SystemTest{System: rule.system, Efforts: efforts, Mass: q(row["test_weight_kg"] + " kg")})
		if err != nil {
			t.Fatal(err)
		}
		printed(t, row["id"], float(got.Percent), row["efficiency_percent"])
		if got.Grade.String() != row["expected"] {
			t.Errorf("%s: %s, want %s", row["id"], got.Text, row["expected"])
		}
	}
}

// 870 kgf on 1500 kg: exact in kgf and in the same efforts written as newtons.
func TestEfficiencyIsExact(t *testing.T) {
	for _, efforts := range [][]quantity.Quantity{{q("870 kgf")}, {q("8531.7855 N")}, {q("8.5317855 kN")}, {q("853.17855 daN")}} {
		got, err := brakes.Efficiency(efforts, q("1500 kg"))
		if err != nil || got.Cmp(big.NewRat(58, 1)) != 0 {
			t.Errorf("%v: %v, %v", efforts, got, err)
		}
	}
}

// Source: UK MOT inspection manual, see the header of the table.
func TestEfficiencyLimitsTable(t *testing.T) {
	mot := rules(t, "mot-manual")
	old, young := date(t, "1960-01-01"), date(t, "2015-05-05")
	for _, row := range reference(t, "brake_efficiency_limits.csv") {
		classes := []string{}
		for _, class := range []string{"M1", "N1", "M2", "M3"} {
			if strings.Contains(row["vehicle"], class) {
				classes = append(classes, class)
			}
		}
		if len(classes) == 0 {
			classes = []string{"M1", "N1", "M2", "M3"}
		}
		var days []time.Time
		if after, ok := strings.CutPrefix(row["first_used"], "on or after "); ok {
			days = []time.Time{date(t, after), young}
		} else if before, ok := strings.CutPrefix(row["first_used"], "before "); ok {
			days = []time.Time{date(t, before).AddDate(0, 0, -1), old}
		} else {
			days = []time.Time{old, young}
		}
		for _, class := range classes {
			for _, firstUsed := range days {
				got, ok := mot.Value(brakes.LeastEfficiency, class, firstUsed, brakes.RollerSystem(row["system"]))
				if !ok || got != q(row["minimum_percent"]+" %") {
					t.Errorf("%s %s first used %v: %v, want %s", class, row["system"], firstUsed, got, row["minimum_percent"])
				}
			}
		}
	}
}

func TestLockedWheelsCountAsMet(t *testing.T) {
	mot := rules(t, "mot-manual")
	v := brakes.RollerVehicle{Class: "N1"}
	test := brakes.SystemTest{System: brakes.Service, Efforts: []quantity.Quantity{q("100 kgf"), q("100 kgf"), q("90 kgf"), q("90 kgf")}, Mass: q("1500 kg")}
	for locked, want := range map[int]brakes.Grade{0: brakes.GradeMajor, 2: brakes.GradeMajor, 3: brakes.GradePass, 4: brakes.GradePass} {
		test.Locked = locked
		got, err := mot.JudgeEfficiency(v, test)
		if err != nil || got.Grade != want {
			t.Errorf("%d locked: %s, %v", locked, got.Text, err)
		}
	}
	test.Locked = 5
	if got, err := mot.JudgeEfficiency(v, test); err == nil {
		t.Errorf("5 of 4 locked: %+v", got)
	}
}

// Worked example, invented demo values.
func TestRollerWorkedExample(t *testing.T) {
	demo := rules(t, "demo")
	v := brakes.RollerVehicle{Class: "M2", FirstUsed: date(t, "2019-01-01")}
	rear, err := demo.JudgeImbalance(v, brakes.AxleTest{Left: q("2.10 kN"), Right: q("1.65 kN")})
	if err != nil || rear.Grade != brakes.GradeWarn {
		t.Errorf("rear %+v, %v", rear, err)
	}
	printed(t, "rear", float(rear.Percent), "21.4")
	front, err := demo.JudgeImbalance(v, brakes.AxleTest{Left: q("3.40 kN"), Right: q("3.30 kN"), Steered: true})
	if err != nil || front.Grade != brakes.GradePass {
		t.Errorf("front %+v, %v", front, err)
	}
	printed(t, "front", float(front.Percent), "2.9")
	service, err := demo.JudgeEfficiency(v, brakes.SystemTest{System: brakes.Service, Mass: q("2280 kg"),
		Efforts: []quantity.Quantity{q("2.10 kN"), q("1.65 kN"), q("3.40 kN"), q("3.30 kN")}})
	if err != nil || service.Grade != brakes.GradeMajor {
		t.Errorf("service %+v, %v", service, err)
	}
	printed(t, "service", float(service.Percent), "46.7")
	parking := brakes.SystemTest{System: brakes.Parking, Mass: q("2280 kg"), Efforts: []quantity.Quantity{q("1.90 kN"), q("1.80 kN")}}
	asPresented, err := demo.JudgeEfficiency(v, parking)
	if err != nil || asPresented.Grade != brakes.GradePass || !strings.Contains(asPresented.Text, "16.5 % of 2280 kg") {
		t.Errorf("parking %+v, %v", asPresented, err)
	}
	parking.Mass = q("3500 kg")
	plated, err := demo.JudgeEfficiency(v, parking)
	if err != nil || plated.Grade != brakes.GradeMajor || !strings.Contains(plated.Text, "10.8 % of 3500 kg") {
		t.Errorf("parking plated %+v, %v", plated, err)
	}
}

func TestFluctuationAndBind(t *testing.T) {
	demo := rules(t, "demo")
	for _, c := range []struct {
		figure brakes.RollerFigure
		of     func() (*big.Rat, error)
		want   brakes.Grade
	}{
		{brakes.MostFluctuation, func() (*big.Rat, error) { return brakes.Fluctuation(q("2.0 kN"), q("1.6 kN")) }, brakes.GradePass},
		{brakes.MostFluctuation, func() (*big.Rat, error) { return brakes.Fluctuation(q("2.0 kN"), q("1.59 kN")) }, brakes.GradeWarn},
		{brakes.MostBind, func() (*big.Rat, error) { return brakes.Bind(q("40 kgf"), q("1000 kg")) }, brakes.GradePass},
		{brakes.MostBind, func() (*big.Rat, error) { return brakes.Bind(q("41 kgf"), q("1000 kg")) }, brakes.GradeWarn},
	} {
		percent, err := c.of()
		if err != nil {
			t.Fatal(err)
		}
		if got, err := demo.JudgeMost(c.figure, brakes.RollerVehicle{Class: "M2"}, percent); err != nil || got.Grade != c.want {
			t.Errorf("%s: %+v, %v", c.figure, got, err)
		}
	}
	if got, err := brakes.Fluctuation(q("1 kN"), q("2 kN")); err == nil {
		t.Errorf("crossed: %v", got)
	}
	none, err := rules(t, "mot-manual").JudgeMost(brakes.MostBind, brakes.RollerVehicle{Class: "M1"}, big.NewRat(9, 1))
	if err != nil || none.Grade != brakes.GradeNone {
		t.Errorf("no figure: %+v, %v", none, err)
	}
}

func TestRollerRulesByDate(t *testing.T) {
	names, err := brakes.RollerRuleSets()
	if d := cmp.Diff([]string{"mot-manual", "demo"}, names); err != nil || d != "" {
		t.Errorf("%v %s", err, d)
	}
	if r, err := brakes.RollerRulesOn("mot-manual", date(t, "2018-05-19")); err == nil {
		t.Errorf("the day before: %+v", r)
	}
	if _, err := brakes.RollerRulesOn("mot-manual", date(t, "2018-05-20")); err != nil {
		t.Error(err)
	}
	if r, err := brakes.RollerRulesOn("unheard of", date(t, "2024-01-01")); err == nil {
		t.Errorf("unknown: %+v", r)
	}
}

func TestRollerRefuses(t *testing.T) {
	if p, err := brakes.Imbalance(q("0 kN"), q("0 kN")); err != nil || p.Sign() != 0 {
		t.Errorf("no effort: %v, %v", p, err)
	}
	for name, efforts := range map[string][]quantity.Quantity{"none": nil, "negative": {q("-1 kN")}, "a mass": {q("200 kg")}, "no value": {{}}} {
		if p, err := brakes.Efficiency(efforts, q("1500 kg")); err == nil {
			t.Errorf("%s: %v", name, p)
		}
	}
	if p, err := brakes.Efficiency([]quantity.Quantity{q("1 kN")}, q("0 kg")); err == nil {
		t.Errorf("no mass: %v", p)
	}
}

func TestRollerOddities(t *testing.T) {
	for effort, say := range map[string]string{
		"2.10 kN": "", "214 kgf": "", "210 daN": "", "0 kN": "", "20 N": "",
		"214 kN": "214 kgf = 2.10 kN?", "210 kN": "210 daN = 2.10 kN?", "2.10 N": "2.10 kN = 2.10 kN?",
	} {
		odd, err := brakes.EffortOddities(q(effort))
		if err != nil {
			t.Fatal(err)
		}
		if say == "" {
			expect(t, effort, odd, nil, "")
			continue
		}
		expect(t, effort, odd, []brakes.Code{brakes.CodeOtherUnit}, say)
	}
	for mass, want := range map[string][]brakes.Code{"2280 kg": nil, "2.28 kg": {brakes.CodeMass}, "2.28 t": nil, "3600 kg": {brakes.CodeMass}, "3500 kg": nil, "0 kg": {brakes.CodeImpossible}} {
		odd, err := brakes.MassOddities(q(mass), q("3500 kg"))
		if err != nil {
			t.Fatal(err)
		}
		expect(t, mass, odd, want, "")
	}
	same := brakes.AxleTest{Left: q("2.10 kN"), Right: q("2.10 kN")}
	expect(t, "same twice", brakes.SameOnAllAxles([]brakes.AxleTest{same, same}), []brakes.Code{brakes.CodeSameEverywhere}, "")
	expect(t, "same once", brakes.SameOnAllAxles([]brakes.AxleTest{same}), nil, "")
	expect(t, "one differs", brakes.SameOnAllAxles([]brakes.AxleTest{same, {Left: q("3.40 kN"), Right: q("3.30 kN")}}), nil, "")
	odd, err := brakes.LessThanBefore("rear left", q("2.10 kN"), q("1.90 kN"))
	if err != nil {
		t.Fatal(err)
	}
	expect(t, "less", odd, []brakes.Code{brakes.CodeLessThanBefore}, "rear left: 1.90 kN after the work, 2.10 kN before")
}
