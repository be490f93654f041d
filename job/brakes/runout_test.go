package brakes_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
	"gonum.org/v1/gonum/dsp/fourier"
	"pgregory.net/rapid"
)

// Source: computed from the published least-squares rule, see the header of
// the table.
func TestFirstHarmonicTable(t *testing.T) {
	for _, row := range reference(t, "runout_first_harmonic.csv") {
		var set brakes.RunOut
		for _, n := range strings.Fields(row["readings_um_equally_spaced_from_mark"]) {
			set.Readings = append(set.Readings, q(n+" µm"))
		}
		tir, err := set.TIR()
		if err != nil {
			t.Fatal(err)
		}
		if c, err := tir.Cmp(q(row["tir_um"] + " µm")); err != nil || c != 0 {
			t.Errorf("%s: TIR %v, want %s µm", row["id"], tir, row["tir_um"])
		}
		h, err := set.Harmonic()
		if err != nil {
			t.Fatal(err)
		}
		printed(t, row["id"]+" amplitude", h.Amplitude*1000, row["amplitude_um"])
		printed(t, row["id"]+" tilt TIR", h.TIR*1000, row["first_harmonic_tir_um"])
		printed(t, row["id"]+" high spot", h.HighSpot, row["high_spot_deg"])
		printed(t, row["id"]+" residual", h.Residual*1000, row["largest_residual_um"])
		if h.Waved() {
			t.Errorf("%s: a plain tilt is called waved: %+v", row["id"], h)
		}
	}
}

// The independent check is the FFT of gonum: the coefficient of one turn,
// times 2/N, is the conjugate of the vector.
func TestFirstHarmonicAgainstFFT(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		x := rapid.SliceOfN(rapid.Float64Range(-1, 1), 3, 48).Draw(r, "readings")
		h, err := brakes.FirstHarmonic(x)
		if err != nil {
			r.Fatal(err)
		}
		c := fourier.NewFFT(len(x)).Coefficients(nil, x)[1] * complex(2/float64(len(x)), 0)
		if cmplx.Abs(h.Vector-cmplx.Conj(c)) > 1e-12 {
			r.Fatalf("got %v, FFT %v", h.Vector, cmplx.Conj(c))
		}
		if h.HighSpot < 0 || h.HighSpot >= 360 {
			r.Fatalf("high spot %v", h.HighSpot)
		}
	})
}

func TestWavedNotTilted(t *testing.T) {
	wave := make([]float64, 12)
	for i := range wave {
		wave[i] = 0.04 * math.Cos(2*2*math.Pi*float64(i)/12)
	}
	h, err := brakes.FirstHarmonic(wave)
	if err != nil || !h.Waved() || h.TIR > 1e-12 {
		t.Errorf("two humps: %+v, %v", h, err)
	}
	if h, err := brakes.FirstHarmonic(make([]float64, 12)); err != nil || h.Waved() {
		t.Errorf("no run-out: %+v, %v", h, err)
	}
	if h, err := brakes.FirstHarmonic([]float64{0, 1}); err == nil {
		t.Errorf("two readings: %+v, want an error", h)
	}
}

// Worked example, invented demo values.
func TestHubAtDisc(t *testing.T) {
	got, err := brakes.HubAtDisc(q("0.03 mm"), q("60 mm"), q("140 mm"))
	if err != nil {
		t.Fatal(err)
	}
	if c, err := got.Cmp(q("0.07 mm")); err != nil || c != 0 {
		t.Errorf("got %v", got)
	}
	if got, err := brakes.HubAtDisc(q("0.03 mm"), q("0 mm"), q("140 mm")); err == nil {
		t.Errorf("radius 0: got %v", got)
	}
}

func TestReturned(t *testing.T) {
	set := brakes.RunOut{Readings: mm(t, "0.00 0.02"), Return: q("-0.01 mm")}
	back, missed, err := set.Returned(q("0.01 mm"))
	if err != nil || !back || missed != q("0.01 mm") {
		t.Errorf("on the tolerance: %v %v %v", back, missed, err)
	}
	set.Return = q("0.011 mm")
	if back, _, err := set.Returned(q("0.01 mm")); err != nil || back {
		t.Errorf("beyond: %v %v", back, err)
	}
	set.Return = quantity.Quantity{}
	if _, _, err := set.Returned(q("0.01 mm")); err == nil {
		t.Error("no return reading: no error")
	}
}

const firstTurn = "0 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07 -.04"

func TestRunOutOddities(t *testing.T) {
	gauge := brakes.Instrument{Resolution: q("0.01 mm")}
	sine := func(abs bool) string {
		var b strings.Builder
		for i := range 12 {
			x := 0.05 * math.Sin(2*math.Pi*float64(i)/12)
			if abs {
				x = math.Abs(x)
			}
			fmt.Fprintf(&b, "%.2f ", x)
		}
		return b.String()
	}
	for _, c := range []struct {
		name, readings, back string
		hub                  string
		radius               string
		want                 []brakes.Code
		say                  string
	}{
		{"good", firstTurn, "0.01", "", "140 mm", nil, ""},
		{"eleven", "0 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07", "0", "", "140 mm", []brakes.Code{brakes.CodeIncomplete}, "11 of 12"},
		{"too fine", "0.035 .02 .02 .01 -.01 -.04 -.08 -.10 -.10 -.09 -.07 -.04", "0.04", "", "140 mm", []brakes.Code{brakes.CodeTooFine}, "0.035 mm is finer"},
		{"decimal", "0 .02 .02 .01 -.01 -.04 -8 -.10 -.10 -.09 -.07 -.04", "0", "", "140 mm", []brakes.Code{brakes.CodeDecimal}, "-0.08 mm?"},
		{"moved", firstTurn, "0.02", "", "140 mm", []brakes.Code{brakes.CodeGaugeMoved}, "measure again"},
		{"no return", firstTurn, "", "", "140 mm", []brakes.Code{brakes.CodeNoReturn}, ""},
		{"hub again", firstTurn, "0", firstTurn, "140 mm", []brakes.Code{brakes.CodeHubReadings}, "bare hub"},
		{"radius", firstTurn, "0", "", "60 mm", []brakes.Code{brakes.CodeRadius}, "60 mm"},
		{"sign lost", sine(true), "0", "", "140 mm", []brakes.Code{brakes.CodeSignLost}, "minus sign"},
		{"sign kept", sine(false), "0", "", "140 mm", nil, ""},
		{"all above zero", "0.00 0.01 0.03 0.05 0.07 0.09 0.10 0.09 0.07 0.05 0.03 0.01", "0", "", "140 mm", nil, ""},
	} {
		set := brakes.RunOut{Readings: mm(t, c.readings), Radius: q(c.radius)}
		if c.back != "" {
			set.Return = q(c.back + " mm")
		}
		odd, err := set.Oddities(brakes.RunOutContext{Instrument: gauge, Limit: window(t, "<= 0.08 mm"), Radius: q("140 mm"), Hub: mm(t, c.hub)})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		expect(t, c.name, odd, c.want, c.say)
	}
}
