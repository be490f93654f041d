package brakes_test

import (
	"math/big"
	"testing"

	"bay.example/pawl/job/brakes"
)

func BenchmarkSeparate(b *testing.B) {
	set := brakes.RunOut{Readings: mm(b, firstTurn)}
	other := brakes.RunOut{Readings: mm(b, "0 .01 .01 .01 .02 .01 0 -.01 -.01 -.01 -.02 -.01")}
	for b.Loop() {
		h0, err := set.Harmonic()
		if err != nil {
			b.Fatal(err)
		}
		h2, err := other.Harmonic()
		if err != nil {
			b.Fatal(err)
		}
		if _, err := brakes.Separate(6, []brakes.Mounting{{Tilt: h0}, {Turned: 2, Tilt: h2}}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLineNorris(b *testing.B) {
	var x, y []*big.Rat
	for _, row := range reference(b, "nist_norris.csv") {
		x, y = append(x, rat(b, row["x"])), append(y, rat(b, row["y"]))
	}
	for b.Loop() {
		if _, err := brakes.Line(x, y); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDiscOddities(b *testing.B) {
	c := brakes.DiscContext{Spec: demoDisc(b), Instrument: brakes.Instrument{Resolution: q("0.001 mm")}, Used: true}
	set := brakes.DiscReadings{Points: mm(b, oldDisc)}
	for b.Loop() {
		if _, err := set.Oddities(c); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkForecast(b *testing.B) {
	visits := []brakes.Visit{visit("11.5", "0", "0.2"), visit("9.6", "10000", "0.2"), visit("7.9", "20000", "0.2"), visit("5.8", "31000", "0.2")}
	limit := q("2.0 mm")
	for b.Loop() {
		if _, err := brakes.ForecastWear(visits, limit); err != nil {
			b.Fatal(err)
		}
	}
}
