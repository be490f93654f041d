package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// DiscContext is what is known beside the readings when they are doubted.
type DiscContext struct {
	Spec       DiscSpec
	Instrument Instrument
	// Used is true for a disc that has run: eight equal readings are then odd.
	Used bool
	// Previous is the thinnest point of this disc at the last visit, if known.
	Previous quantity.Quantity
}

// Oddities lists what a careful colleague would ask about the points. The
// thresholds are common practice, no source.
func (r DiscReadings) Oddities(c DiscContext) ([]Oddity, error) {
	if c.Spec.Points == 0 {
		c.Spec.Points = 8
	}
	gap := ratio(3, 10)
	if !c.Spec.Gap.IsZero() {
		g, err := exactIn(c.Spec.Gap, quantity.Millimetre, phrase.Of("brakes.discoddity.gap-between-neighbours"))
		if err != nil {
			return nil, err
		}
		gap = g
	}
	points, err := exactAllIn(r.Points, quantity.Millimetre)
	if err != nil {
		return nil, err
	}
	var odd []Oddity
	if n := len(points); n < c.Spec.Points {
		odd = append(odd, Oddity{Code: CodeIncomplete, Refused: true,
			Text: phrase.Of("brakes.discoddity.of-points-read-the-set-is-not", n, c.Spec.Points)})
	}
	fine, err := c.Instrument.tooFine(r.Points)
	if err != nil {
		return nil, err
	}
	odd = append(odd, fine...)
	slips, err := discSlips(r.Points, points, c.Spec)
	if err != nil {
		return nil, err
	}
	odd = append(odd, slips...)
	if len(slips) == 0 {
		odd = append(odd, loners(r.Points, points, gap)...)
	}
	if c.Used {
		odd = append(odd, copied(r.Points, points)...)
	}
	able, coarse, err := c.Instrument.CanShow(c.Spec.Variation)
	if err != nil {
		return nil, err
	}
	if !able {
		odd = append(odd, Oddity{Code: CodeTooCoarse, Refused: true, Text: coarse})
	}
	grown, err := thickerThanLast(points, c)
	if err != nil {
		return nil, err
	}
	return append(odd, grown...), nil
}

// discSlips finds inches, decimal slips and discs thicker than new.
func discSlips(typed []quantity.Quantity, points []*big.Rat, s DiscSpec) ([]Oddity, error) {
	if s.Nominal.High.IsZero() {
		return nil, nil
	}
	top, err := exactIn(s.Nominal.High, quantity.Millimetre, phrase.Of("brakes.discoddity.nominal-thickness"))
	if err != nil {
		return nil, err
	}
	floor := times(top, ratio(1, 2))
	if !s.Minimum.Low.IsZero() {
		if floor, err = exactIn(s.Minimum.Low, quantity.Millimetre, phrase.Of("brakes.discoddity.minimum-thickness")); err != nil {
			return nil, err
		}
		floor = times(floor, ratio(4, 5))
	}
	ceiling := times(top, ratio(5, 4))
	var odd []Oddity
	for i, p := range points {
		if code, hint := lengthSlip(typed[i], floor, ceiling); code != "" {
			odd = append(odd, Oddity{Code: code, Point: i + 1, Text: phrase.Of("brakes.discoddity.point", i+1, hint)})
			continue
		}
		if p.Cmp(top) > 0 {
			odd = append(odd, Oddity{Code: CodeThickerThanNew, Point: i + 1,
				Text: phrase.Of("brakes.discoddity.point-is-thicker-than-new-at-most", i+1, typed[i], s.Nominal.High)})
		}
	}
	return odd, nil
}

// loners finds single points far from both neighbours while those agree. A
// smaller step is asked about too when exchanging two digits would mend it.
func loners(typed []quantity.Quantity, points []*big.Rat, gap *big.Rat) []Oddity {
	n := len(points)
	if n < 4 {
		return nil
	}
	var odd []Oddity
	for i, p := range points {
		before, after := points[(i+n-1)%n], points[(i+1)%n]
		if magnitude(minus(before, after)).Cmp(gap) > 0 {
			continue
		}
		off, _, _ := extremes([]*big.Rat{magnitude(minus(p, before)), magnitude(minus(p, after))})
		if off.Cmp(over(gap, ratio(3, 1))) <= 0 {
			continue
		}
		middle := meanOf([]*big.Rat{before, after})
		text := phrase.Of("brakes.discoddity.point-its-neighbours-read-about", i+1, typed[i], shown(middle, quantity.Millimetre, 2))
		mended, ok := swapNear(typed[i], func(q quantity.Quantity) bool {
			v, err := q.In(quantity.Millimetre)
			return err == nil && magnitude(minus(v, middle)).Cmp(over(gap, ratio(6, 1))) <= 0
		})
		switch {
		case ok:
			odd = append(odd, Oddity{Code: CodeSwappedDigits, Point: i + 1, Text: phrase.Of("brakes.discoddity.digits-swapped", text, mended)})
		case off.Cmp(gap) > 0:
			odd = append(odd, Oddity{Code: CodeNeighbour, Point: i + 1, Text: text})
		}
	}
	return odd
}

// copied finds sets in which every point is equal, or whose second half
// repeats the first.
func copied(typed []quantity.Quantity, points []*big.Rat) []Oddity {
	n := len(points)
	if n < 3 {
		return nil
	}
	same := true
	for _, p := range points[1:] {
		same = same && p.Cmp(points[0]) == 0
	}
	if same {
		return []Oddity{{Code: CodeCopied,
			Text: phrase.Of("brakes.discoddity.all-points-read-on-a-used-disc", n, typed[0])}}
	}
	if n < 8 || n%2 != 0 {
		return nil
	}
	for i := range n / 2 {
		if points[i].Cmp(points[i+n/2]) != 0 {
			return nil
		}
	}
	return []Oddity{{Code: CodeCopied,
		Text: phrase.Of("brakes.discoddity.points-to-repeat-points-1-to-exactly", n/2+1, n, n/2)}}
}

// thickerThanLast compares the thinnest point with that of the last visit.
func thickerThanLast(points []*big.Rat, c DiscContext) ([]Oddity, error) {
	if c.Previous.IsZero() || len(points) == 0 {
		return nil, nil
	}
	last, err := exactIn(c.Previous, quantity.Millimetre, phrase.Of("brakes.discoddity.thickness-at-the-last-visit"))
	if err != nil {
		return nil, err
	}
	allowed := new(big.Rat)
	if !c.Instrument.Uncertainty.IsZero() {
		if allowed, err = exactIn(c.Instrument.Uncertainty, quantity.Millimetre, "uncertainty"); err != nil {
			return nil, err
		}
	}
	now, _, _ := extremes(points)
	if minus(now, last).Cmp(allowed) <= 0 {
		return nil, nil
	}
	return []Oddity{{Code: CodeThickerThanLast,
		Text: phrase.Of("brakes.discoddity.is-thicker-than-at-the-last-visit", asQuantity(now, quantity.Millimetre), c.Previous)}}, nil
}
