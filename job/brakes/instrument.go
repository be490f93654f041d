package brakes

import (
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Instrument is what a calculation must know of the instrument that read a
// set. All three are lengths; a zero value means "not known".
type Instrument struct {
	// Resolution is the smallest step the instrument shows.
	Resolution quantity.Quantity
	// Uncertainty is the expanded uncertainty of one reading (k = 2).
	Uncertainty quantity.Quantity
	// Difference is the expanded uncertainty of the difference of two readings
	// of one set. The common error of the instrument falls out of a
	// difference, so it may be smaller than √2 × Uncertainty; Spread gives
	// that cautious figure. Zero means the difference is judged as it stands.
	Difference quantity.Quantity
}

// Spread is the uncertainty of the difference of two independent readings,
// √(a² + b²), rounded up to 0.001 µm. Source: law of propagation of
// uncertainty, JCGM 100:2008 5.1.2.
func Spread(a, b quantity.Quantity) (quantity.Quantity, error) {
	x, err := exactIn(a, quantity.Millimetre, "uncertainty")
	if err != nil {
		return quantity.Quantity{}, err
	}
	y, err := exactIn(b, quantity.Millimetre, "uncertainty")
	if err != nil {
		return quantity.Quantity{}, err
	}
	return asQuantity(rootUp(plus(times(x, x), times(y, y)), 6), quantity.Millimetre), nil
}

// CanShow says whether a limit on a difference (thickness variation, run-out)
// is at least one step of the instrument. When it is not, reason is the
// sentence; an instrument of unknown resolution is not doubted here.
func (in Instrument) CanShow(limit quantity.Window) (able bool, reason string, err error) {
	if in.Resolution.IsZero() || limit.High.IsZero() {
		return true, "", nil
	}
	c, err := in.Resolution.Cmp(limit.High)
	if err != nil {
		return false, "", phrase.Error("brakes.instrument.resolution-of-the-instrument", err)
	}
	if c > 0 {
		return false, phrase.Of("brakes.instrument.instrument-cannot-show-it-reads-in-steps", limit.High, in.Resolution), nil
	}
	return true, "", nil
}

// tooFine lists the readings that are no whole number of steps of the
// instrument: they were not read on it.
func (in Instrument) tooFine(points []quantity.Quantity) ([]Oddity, error) {
	if in.Resolution.IsZero() {
		return nil, nil
	}
	step, err := exactIn(in.Resolution, quantity.Millimetre, phrase.Of("brakes.instrument.resolution-of-the-instrument-2"))
	if err != nil {
		return nil, err
	}
	if step.Sign() <= 0 {
		return nil, phrase.Error("brakes.instrument.resolution-of-the-instrument-is-more-than", in.Resolution)
	}
	var odd []Oddity
	for i, q := range points {
		r, err := exactIn(q, quantity.Millimetre, phrase.Of("brakes.instrument.point", i+1))
		if err != nil {
			return nil, err
		}
		if !over(r, step).IsInt() {
			odd = append(odd, Oddity{
				Code: CodeTooFine, Point: i + 1, Refused: true,
				Text: phrase.Of("brakes.instrument.point-is-finer-than-the-instrument-which", i+1, q, in.Resolution),
			})
		}
	}
	return odd, nil
}
