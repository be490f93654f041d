package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// RunOutContext is what is known beside the readings when they are doubted.
type RunOutContext struct {
	// Points is how many positions a complete turn has; 0 means 12.
	Points     int
	Instrument Instrument
	Limit      quantity.Window
	// ReturnWithin is the tolerance of the return to start; zero means 0.01 mm.
	ReturnWithin quantity.Quantity
	// Radius is where the gauge should stand; zero means it is not checked.
	Radius quantity.Quantity
	// Hub are the readings taken on the bare hub, if any.
	Hub []quantity.Quantity
}

// Oddities lists what a careful colleague would ask about a turn of readings.
// The thresholds are common practice, no source.
func (r RunOut) Oddities(c RunOutContext) ([]Oddity, error) {
	if c.Points == 0 {
		c.Points = 12
	}
	points, err := exactAllIn(r.Readings, quantity.Millimetre)
	if err != nil {
		return nil, err
	}
	var odd []Oddity
	if n := len(points); n != c.Points {
		odd = append(odd, Oddity{Code: CodeIncomplete, Refused: true,
			Text: phrase.Of("brakes.runoutoddity.of-positions-read-the-turn-is-not", n, c.Points)})
	}
	fine, err := c.Instrument.tooFine(r.Readings)
	if err != nil {
		return nil, err
	}
	odd = append(odd, fine...)
	able, coarse, err := c.Instrument.CanShow(c.Limit)
	if err != nil {
		return nil, err
	}
	if !able {
		odd = append(odd, Oddity{Code: CodeTooCoarse, Refused: true, Text: coarse})
	}
	for i, p := range points {
		if magnitude(p).Cmp(ratio(1, 1)) >= 0 {
			odd = append(odd, Oddity{Code: CodeDecimal, Point: i + 1,
				Text: phrase.Of("brakes.runoutoddity.point-of-run-out-decimal-mark", i+1, r.Readings[i], asQuantity(over(p, ratio(100, 1)), quantity.Millimetre))})
		}
	}
	if signLost(points) {
		odd = append(odd, Oddity{Code: CodeSignLost,
			Text: phrase.Of("brakes.runoutoddity.no-reading-is-negative-and-the-turn")})
	}
	if sameSet(points, c.Hub) {
		odd = append(odd, Oddity{Code: CodeHubReadings, Text: phrase.Of("brakes.runoutoddity.these-are-the-readings-of-the-bare")})
	}
	return r.gaugeOddities(c, odd)
}

// gaugeOddities checks where the gauge stood and whether it stayed there.
func (r RunOut) gaugeOddities(c RunOutContext, odd []Oddity) ([]Oddity, error) {
	if !r.Radius.IsZero() && !c.Radius.IsZero() {
		cmp, err := r.Radius.Cmp(c.Radius)
		if err != nil {
			return nil, phrase.Error("brakes.runoutoddity.radius-of-the-gauge", err)
		}
		if cmp != 0 {
			odd = append(odd, Oddity{Code: CodeRadius, Text: phrase.Of("brakes.runoutoddity.gauge-stood-at-radius-the-limit-holds", r.Radius, c.Radius)})
		}
	}
	if len(r.Readings) == 0 {
		return odd, nil
	}
	if r.Return.IsZero() {
		return append(odd, Oddity{Code: CodeNoReturn, Text: phrase.Of("brakes.runoutoddity.the-gauge-was-not-read-at-the")}), nil
	}
	if c.ReturnWithin.IsZero() {
		c.ReturnWithin = quantity.Quantity{Number: "0.01", Unit: quantity.Millimetre}
	}
	back, missed, err := r.Returned(c.ReturnWithin)
	if err != nil {
		return nil, err
	}
	if !back {
		odd = append(odd, Oddity{Code: CodeGaugeMoved, Refused: true,
			Text: phrase.Of("brakes.runoutoddity.gauge-missed-its-start-by-at-most", missed, c.ReturnWithin)})
	}
	return odd, nil
}

// sameSet says whether a set that moves at all equals another, value by value.
func sameSet(points []*big.Rat, other []quantity.Quantity) bool {
	if len(points) == 0 || len(points) != len(other) {
		return false
	}
	moves := false
	for i, q := range other {
		v, err := q.In(quantity.Millimetre)
		if err != nil || v.Cmp(points[i]) != 0 {
			return false
		}
		moves = moves || v.Cmp(points[0]) != 0
	}
	return moves
}

// signLost looks for a set without negative readings that is no tilt as typed
// but nearly a pure one when one run of positions is given a minus sign.
func signLost(points []*big.Rat) bool {
	n := len(points)
	if n < 6 {
		return false
	}
	mm := make([]float64, n)
	for i, p := range points {
		if p.Sign() < 0 {
			return false
		}
		mm[i] = approx(p)
	}
	typed, err := FirstHarmonic(mm)
	if err != nil || !typed.Waved() {
		return false
	}
	for start := range n {
		flipped := append([]float64(nil), mm...)
		for length := 1; length < n-1; length++ {
			at := (start + length - 1) % n
			flipped[at] = -flipped[at]
			h, err := FirstHarmonic(flipped)
			if err == nil && h.TIR > 0 && h.Left < 0.2 {
				return true
			}
		}
	}
	return false
}
