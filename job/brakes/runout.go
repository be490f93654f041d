package brakes

import (
	"math"
	"math/cmplx"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// RunOut is one turn of dial gauge readings.
type RunOut struct {
	// Readings are equally spaced round the turn, in the order taken, the
	// first at stud 1. Signs count.
	Readings []quantity.Quantity
	// Return is the gauge at the start again after the full turn; zero when
	// it was not read.
	Return quantity.Quantity
	// Radius is where the gauge stood; may be zero.
	Radius quantity.Quantity
}

// TIR is the total indicated run-out, largest − smallest reading, exact; the
// zero of the gauge falls out.
func (r RunOut) TIR() (quantity.Quantity, error) {
	if len(r.Readings) == 0 {
		return quantity.Quantity{}, phrase.Error("brakes.runout.no-run-out-was-read-12-clock")
	}
	rs, err := exactAllIn(r.Readings, quantity.Millimetre)
	if err != nil {
		return quantity.Quantity{}, err
	}
	low, high, _ := extremes(rs)
	return asQuantity(minus(high, low), quantity.Millimetre), nil
}

// Returned says whether the gauge came back to its start,
// |r(360°) − r(0°)| ≤ tolerance, and by how much it missed.
// Source: common practice, no source.
func (r RunOut) Returned(tolerance quantity.Quantity) (bool, quantity.Quantity, error) {
	if len(r.Readings) == 0 {
		return false, quantity.Quantity{}, phrase.Error("brakes.runout.no-run-out-was-read-12-clock")
	}
	start, err := exactIn(r.Readings[0], quantity.Millimetre, phrase.Of("brakes.runout.first-reading"))
	if err != nil {
		return false, quantity.Quantity{}, err
	}
	end, err := exactIn(r.Return, quantity.Millimetre, phrase.Of("brakes.runout.reading-at-the-start-again"))
	if err != nil {
		return false, quantity.Quantity{}, err
	}
	allowed, err := exactIn(tolerance, quantity.Millimetre, phrase.Of("brakes.runout.tolerance-of-the-return"))
	if err != nil {
		return false, quantity.Quantity{}, err
	}
	d := magnitude(minus(end, start))
	return d.Cmp(allowed) <= 0, asQuantity(d, quantity.Millimetre), nil
}

// HubAtDisc scales the run-out of a hub face to the radius of the disc gauge:
// hub TIR × disc radius ÷ hub radius, rounded to 0.1 µm. A tilt grows with the
// radius. Source: similar triangles.
func HubAtDisc(hubTIR, hubRadius, discRadius quantity.Quantity) (quantity.Quantity, error) {
	tir, err := exactIn(hubTIR, quantity.Millimetre, phrase.Of("brakes.runout.hub-run-out"))
	if err != nil {
		return quantity.Quantity{}, err
	}
	near, err := exactIn(hubRadius, quantity.Millimetre, phrase.Of("brakes.runout.hub-radius"))
	if err != nil {
		return quantity.Quantity{}, err
	}
	far, err := exactIn(discRadius, quantity.Millimetre, phrase.Of("brakes.runout.disc-radius"))
	if err != nil {
		return quantity.Quantity{}, err
	}
	if tir.Sign() < 0 || near.Sign() <= 0 || far.Sign() <= 0 {
		return quantity.Quantity{}, phrase.Error("brakes.runout.hub-run-out-at-and-disc-radius", hubTIR, hubRadius, discRadius)
	}
	return quantity.FromRat(times(tir, over(far, near)), quantity.Millimetre, 4), nil
}

// Harmonic is the once-per-turn part of a run-out: the tilt. Lengths are in
// millimetres.
type Harmonic struct {
	// Vector is a + jb; it points at the high spot.
	Vector complex128
	// Amplitude is √(a² + b²); TIR of the tilt is twice that.
	Amplitude, TIR float64
	// HighSpot is the angle from the first reading in the direction of
	// counting, 0 ≤ HighSpot < 360 degrees.
	HighSpot float64
	// Residual is the largest distance of a reading from mean + tilt.
	Residual float64
	// Left is the share of the measured TIR that stays when the tilt is taken
	// out, 0 to 1 and sometimes above; 0 for a set without run-out.
	Left float64
}

// Waved says that more than half of the run-out stays when the tilt is taken
// out: the disc is waved, not tilted, and indexing will not help.
// The half is common practice, no source.
func (h Harmonic) Waved() bool { return h.Left > 0.5 }

// Harmonic fits the tilt to the readings.
func (r RunOut) Harmonic() (Harmonic, error) {
	mm := make([]float64, len(r.Readings))
	for i, q := range r.Readings {
		v, err := exactIn(q, quantity.Millimetre, phrase.Of("brakes.runout.point", i+1))
		if err != nil {
			return Harmonic{}, err
		}
		mm[i] = approx(v)
	}
	return FirstHarmonic(mm)
}

// FirstHarmonic is the least-squares first harmonic of N ≥ 3 equally spaced
// readings: a = 2/N Σ x cos θ, b = 2/N Σ x sin θ. The same vector arithmetic as
// single-plane balancing (ISO 21940).
func FirstHarmonic(mm []float64) (Harmonic, error) {
	n := len(mm)
	if n < 3 {
		return Harmonic{}, phrase.Error("brakes.runout.readings-round-the-turn-are-too-few", n)
	}
	mean := 0.0
	for _, x := range mm {
		mean += x / float64(n)
	}
	var v complex128
	for i, x := range mm {
		v += cmplx.Rect((x-mean)*2/float64(n), turn(i, n))
	}
	h := Harmonic{Vector: v, Amplitude: cmplx.Abs(v), HighSpot: degrees(v)}
	h.TIR = 2 * h.Amplitude
	low, high := mm[0], mm[0]
	restLow, restHigh := math.Inf(1), math.Inf(-1)
	for i, x := range mm {
		angle := turn(i, n)
		rest := x - mean - real(v)*math.Cos(angle) - imag(v)*math.Sin(angle)
		h.Residual = max(h.Residual, math.Abs(rest))
		restLow, restHigh = min(restLow, rest), max(restHigh, rest)
		low, high = min(low, x), max(high, x)
	}
	if high > low {
		h.Left = (restHigh - restLow) / (high - low)
	}
	return h, nil
}

// turn is the angle of position i of n in radians.
func turn(i, n int) float64 { return 2 * math.Pi * float64(i) / float64(n) }

// degrees is the direction of v, 0 ≤ d < 360.
func degrees(v complex128) float64 {
	d := cmplx.Phase(v) * 180 / math.Pi
	if d < 0 {
		d += 360
	}
	if d >= 360 {
		d = 0
	}
	return d
}
