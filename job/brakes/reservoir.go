package brakes

import (
	"math"
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// CaliperTravel is what one caliper's piston has followed: the wear of both
// pads and of the disc.
type CaliperTravel struct {
	Piston                         quantity.Quantity // diameter
	InnerWear, OuterWear, DiscWear quantity.Quantity
}

// Displaced is the fluid that comes back when the piston goes back, in
// millilitres: π/4·d² × (inner + outer + disc wear). Geometry of a floating
// caliper with one piston. Errors: a value missing or negative.
func (c CaliperTravel) Displaced() (float64, error) {
	var mm [4]float64
	for i, part := range []struct {
		name string
		q    quantity.Quantity
	}{{phrase.Of("brakes.reservoir.piston-diameter"), c.Piston}, {phrase.Of("brakes.reservoir.inner-pad-wear"), c.InnerWear}, {phrase.Of("brakes.reservoir.outer-pad-wear"), c.OuterWear}, {phrase.Of("brakes.reservoir.disc-wear"), c.DiscWear}} {
		r, err := exactIn(part.q, quantity.Millimetre, part.name)
		if err != nil {
			return 0, err
		}
		if r.Sign() < 0 || i == 0 && r.Sign() == 0 {
			return 0, phrase.Error("brakes.reservoir.a-length-above-zero-is-expected", part.name, part.q)
		}
		mm[i] = approx(r)
	}
	return math.Pi / 4 * mm[0] * mm[0] * (mm[1] + mm[2] + mm[3]) / 1000, nil
}

// Reservoir is the brake fluid reservoir: the volume between its marks and the
// level as a share of that volume, 0 % at MIN and 100 % at MAX.
type Reservoir struct {
	Capacity quantity.Quantity // MIN to MAX
	Level    quantity.Quantity // %
}

// exact gives millilitres and per cent; the level may lie beyond the marks.
func (r Reservoir) exact() (ml, percent *big.Rat, err error) {
	if ml, err = exactIn(r.Capacity, quantity.Millilitre, phrase.Of("brakes.reservoir.reservoir-from-min-to-max")); err != nil {
		return nil, nil, err
	}
	if ml.Sign() <= 0 {
		return nil, nil, phrase.Error("brakes.reservoir.reservoir-from-min-to-max-is-more", r.Capacity)
	}
	percent, err = exactIn(r.Level, quantity.Percent, "level")
	return ml, percent, err
}

// floats is exact for volumes, which hold π anyway.
func (r Reservoir) floats() (ml, percent float64, err error) {
	m, p, err := r.exact()
	if err != nil {
		return 0, 0, err
	}
	return approx(m), approx(p), nil
}

// Rise is what happens to the level when the pistons go back.
type Rise struct {
	Returned  float64 // ml
	Percent   float64 // of MIN to MAX
	After     float64 // level in %
	Overflows bool
	Siphon    int // ml to take out first, rounded up to 10; 0 when none
	Text      string
}

// WhenPistonsGoBack adds up what the calipers give back and warns of overflow
// above MAX.
func (r Reservoir) WhenPistonsGoBack(calipers ...CaliperTravel) (Rise, error) {
	ml, percent, err := r.floats()
	if err != nil {
		return Rise{}, err
	}
	var rise Rise
	for i, c := range calipers {
		v, err := c.Displaced()
		if err != nil {
			return Rise{}, phrase.Error("brakes.reservoir.caliper", i+1, err)
		}
		rise.Returned += v
	}
	rise.Percent = rise.Returned / ml * 100
	rise.After = percent + rise.Percent
	rise.Text = phrase.Of("brakes.reservoir.about-ml-come-back-level-to", rise.Returned, percent, rise.After)
	if rise.After > 100 {
		rise.Overflows = true
		rise.Siphon = 10 * int(math.Ceil((rise.After-100)/100*ml/10))
		rise.Text += phrase.Of("brakes.reservoir.will-overflow-siphon-about-ml-first", rise.Siphon)
	}
	return rise, nil
}

// Unexplained compares the fluid missing below MAX with what the worn calipers
// hold and what may sit elsewhere (elsewhere: the other axle when only one was
// measured). A remainder above zero is in millilitres: look for a leak before
// topping up. Common practice, no source.
func (r Reservoir) Unexplained(elsewhere quantity.Quantity, calipers ...CaliperTravel) (missing, unexplained float64, err error) {
	ml, percent, err := r.floats()
	if err != nil {
		return 0, 0, err
	}
	other, err := exactIn(elsewhere, quantity.Millilitre, phrase.Of("brakes.reservoir.fluid-held-elsewhere"))
	if err != nil {
		return 0, 0, err
	}
	held := approx(other)
	for i, c := range calipers {
		v, err := c.Displaced()
		if err != nil {
			return 0, 0, phrase.Error("brakes.reservoir.caliper", i+1, err)
		}
		held += v
	}
	missing = max(0, ml*(100-percent)/100)
	return missing, max(0, missing-held), nil
}

// AfterWork judges the level with new pads in and nothing unaccounted for: it
// is expected near MAX less what was siphoned, and more than 10 % of the marks
// below that means a leak search, not topping up. The 10 % are common
// practice, no source. An empty sentence means as expected.
func (r Reservoir) AfterWork(siphoned quantity.Quantity) (string, error) {
	ml, percent, err := r.exact()
	if err != nil {
		return "", err
	}
	out, err := exactIn(siphoned, quantity.Millilitre, "siphoned")
	if err != nil {
		return "", err
	}
	hundred := ratio(100, 1)
	expected := minus(hundred, times(over(out, ml), hundred))
	if percent.Cmp(minus(expected, ratio(10, 1))) < 0 {
		return phrase.Of("brakes.reservoir.level-about-expected-with-new-pads-look", r.Level, shown(expected, quantity.Percent, 0)), nil
	}
	return "", nil
}
