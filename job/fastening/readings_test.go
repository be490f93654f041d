package fastening

import (
	"testing"

	"bay.example/pawl/job/quantity"
)

// Source: preload_scatter.csv (Shigley table 8-14): printed mean 34.18 kN,
// standard deviation 2.88 kN.
func TestSpreadAgainstPublished(t *testing.T) {
	var preloads []quantity.Quantity
	for _, row := range reference(t, "preload_scatter") {
		preloads = append(preloads, q(row["preload_kN"]+" kN"))
	}
	mean, deviation, err := Spread(preloads)
	if err != nil {
		t.Fatal(err)
	}
	diff(t, q("34.18 kN"), mean)
	short, err := deviation.Convert(quantity.Kilonewton, 2)
	if err != nil {
		t.Fatal(err)
	}
	diff(t, q("2.88 kN"), short)
}

func TestSpread(t *testing.T) {
	mean, deviation, err := Spread([]quantity.Quantity{q("1 kN"), q("1000 N"), q("100 daN")})
	if err != nil {
		t.Fatal(err)
	}
	diff(t, []quantity.Quantity{q("1 kN"), q("0 kN")}, []quantity.Quantity{mean, deviation})
	_, _, err = Spread([]quantity.Quantity{q("1 kN")})
	refused(t, err, "1 readings have no spread, expected 2 or more")
	_, _, err = Spread([]quantity.Quantity{q("1 kN"), q("1 mm")})
	if err == nil {
		t.Error("kN and mm have a spread")
	}
}

// Source: trade.md 4.2, worked example, workshop paper, invented demo values.
func TestAllAlike(t *testing.T) {
	for _, tc := range []struct {
		readings []string
		want     bool
	}{
		{[]string{"160.0 N·m", "160 N·m", "160.04 N·m", "159.96 N·m", "160.0 N·m", "160.0 N·m"}, true},
		{[]string{"160.0 N·m", "160.1 N·m", "160.0 N·m", "160.0 N·m", "160.0 N·m", "160.0 N·m"}, false},
		{[]string{"160.0 N·m", "160.0 N·m", "160.0 N·m"}, false},
		{[]string{"160.0 N·m", "160.0 N·m", "160.0 N·m", "160.0 mm"}, false},
		{nil, false},
	} {
		var readings []quantity.Quantity
		for _, text := range tc.readings {
			readings = append(readings, q(text))
		}
		if got := AllAlike(readings); got != tc.want {
			t.Errorf("%v: %v", tc.readings, got)
		}
	}
}
