package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Side of the vehicle, seen facing forward from the driver's seat.
type Side string

// The two sides.
const (
	Left  Side = "left"
	Right Side = "right"
)

// Pads are the four friction thicknesses at one caliper, without backing
// plate.
type Pads struct {
	InnerLead, InnerTrail, OuterLead, OuterTrail quantity.Quantity
}

// all lists the four in a fixed order with their names.
func (p Pads) all() ([4]quantity.Quantity, [4]string) {
	return [4]quantity.Quantity{p.InnerLead, p.InnerTrail, p.OuterLead, p.OuterTrail},
		[4]string{"inner leading", "inner trailing", "outer leading", "outer trailing"}
}

// PadFigures is what follows from four readings, exact, in millimetres.
type PadFigures struct {
	Inner, Outer *big.Rat // mean of leading and trailing
	// Difference is outer − inner: positive when the inner pad is thinner.
	Difference *big.Rat
	// InnerTaper and OuterTaper are leading − trailing.
	InnerTaper, OuterTaper *big.Rat
	// Minimum counts for limits and forecasts, and Thinnest names its place.
	Minimum  quantity.Quantity
	Thinnest string
}

// Figures works out means, tapers and the thinnest point. Errors name the
// reading that has no value or is negative.
func (p Pads) Figures() (PadFigures, error) {
	qs, names := p.all()
	var mm [4]*big.Rat
	for i, q := range qs {
		v, err := exactIn(q, quantity.Millimetre, names[i])
		if err != nil {
			return PadFigures{}, err
		}
		if v.Sign() < 0 {
			return PadFigures{}, phrase.Error("brakes.pads.is-no-thickness-zero-or-more-is", names[i], q)
		}
		mm[i] = v
	}
	low, _, at := extremes(mm[:])
	f := PadFigures{
		Inner: meanOf(mm[0:2]), Outer: meanOf(mm[2:4]),
		InnerTaper: minus(mm[0], mm[1]), OuterTaper: minus(mm[2], mm[3]),
		Minimum: asQuantity(low, quantity.Millimetre), Thinnest: names[at],
	}
	f.Difference = minus(f.Outer, f.Inner)
	return f, nil
}

// mean of both pads.
func (f PadFigures) mean() *big.Rat { return over(plus(f.Inner, f.Outer), ratio(2, 1)) }

// PadThresholds say from where on a pattern is asked about; "more than", so a
// pattern exactly on a threshold is still normal.
type PadThresholds struct {
	InnerOuter quantity.Quantity // one pad thinner than its partner
	Taper      quantity.Quantity // leading against trailing end of one pad
	Sides      quantity.Quantity // both pads of one side against the other side
}

// DemoPadThresholds are demo values, invented; a workshop sets its own.
func DemoPadThresholds() PadThresholds {
	mm := func(number string) quantity.Quantity {
		return quantity.Quantity{Number: number, Unit: quantity.Millimetre}
	}
	return PadThresholds{InnerOuter: mm("2.0"), Taper: mm("1.0"), Sides: mm("1.5")}
}

// exact gives the three thresholds in millimetres.
func (t PadThresholds) exact() (innerOuter, taper, sides *big.Rat, err error) {
	if innerOuter, err = exactIn(t.InnerOuter, quantity.Millimetre, phrase.Of("brakes.pads.threshold-inner-against-outer")); err != nil {
		return nil, nil, nil, err
	}
	if taper, err = exactIn(t.Taper, quantity.Millimetre, phrase.Of("brakes.pads.threshold-for-taper")); err != nil {
		return nil, nil, nil, err
	}
	sides, err = exactIn(t.Sides, quantity.Millimetre, phrase.Of("brakes.pads.threshold-left-against-right"))
	return innerOuter, taper, sides, err
}

// Pattern names a wear pattern.
type Pattern string

// The patterns, each with a likely cause.
const (
	InnerThin    Pattern = "inner pad thinner"
	OuterThin    Pattern = "outer pad thinner"
	Tapered      Pattern = "pad tapered"
	Twisted      Pattern = "tapered opposite ways"
	SideDragging Pattern = "side dragging"
	SideIdle     Pattern = "side not working"
)

// PadFinding is a pattern, its likely cause and what to look at. It proposes;
// the mechanic answers and the foreman decides.
type PadFinding struct {
	Pattern  Pattern
	Side     Side
	Text     string // what was seen
	Cause    string
	Question string
}

// Axle is both calipers of one axle.
type Axle struct {
	Left, Right Pads
	// LeftRusty and RightRusty: that disc face is rusty or grooved.
	LeftRusty, RightRusty bool
}

// Diagnose compares inner with outer, leading with trailing and left with
// right. No finding means the wear is even. The causes are common practice,
// no source.
func (a Axle) Diagnose(t PadThresholds) ([]PadFinding, error) {
	left, err := a.Left.Figures()
	if err != nil {
		return nil, phrase.Error("brakes.pads.left", err)
	}
	right, err := a.Right.Figures()
	if err != nil {
		return nil, phrase.Error("brakes.pads.right", err)
	}
	innerOuter, taper, sides, err := t.exact()
	if err != nil {
		return nil, err
	}
	found := append(caliperFindings(Left, left, innerOuter, taper), caliperFindings(Right, right, innerOuter, taper)...)
	found = append(found, sideFindings(Left, left, right, sides, a.LeftRusty, a.RightRusty)...)
	return append(found, sideFindings(Right, right, left, sides, a.RightRusty, a.LeftRusty)...), nil
}

// caliperFindings looks at one caliper alone.
func caliperFindings(side Side, f PadFigures, innerOuter, taper *big.Rat) []PadFinding {
	var found []PadFinding
	mm := func(r *big.Rat) string { return shown(magnitude(r), quantity.Millimetre, 1) }
	if magnitude(f.Difference).Cmp(innerOuter) > 0 {
		if f.Difference.Sign() > 0 {
			found = append(found, PadFinding{
				Pattern: InnerThin, Side: side,
				Text:     phrase.Of("brakes.pads.inner-pad-thinner-than-outer", side, mm(f.Difference)),
				Cause:    phrase.Of("brakes.pads.slide-pins-stuck-or-piston-or-parking"),
				Question: phrase.Of("brakes.pads.do-the-pins-move-by-hand-does"),
			})
		} else {
			found = append(found, PadFinding{
				Pattern: OuterThin, Side: side,
				Text:     phrase.Of("brakes.pads.outer-pad-thinner-than-inner", side, mm(f.Difference)),
				Cause:    phrase.Of("brakes.pads.caliper-floats-out-but-not-back-pins"),
				Question: phrase.Of("brakes.pads.do-the-pins-move-both-ways-does"),
			})
		}
	}
	if f.InnerTaper.Sign()*f.OuterTaper.Sign() < 0 && magnitude(minus(f.InnerTaper, f.OuterTaper)).Cmp(taper) > 0 {
		return append(found, PadFinding{
			Pattern: Twisted, Side: side,
			Text:     phrase.Of("brakes.pads.inner-tapered-outer-the-other-way", side, mm(f.InnerTaper), mm(f.OuterTaper)),
			Cause:    phrase.Of("brakes.pads.caliper-sits-twisted-worn-pins-or-bushes"),
			Question: phrase.Of("brakes.pads.is-there-play-at-the-guide-pins"),
		})
	}
	for _, pad := range []struct {
		name  string
		taper *big.Rat
	}{{"inner", f.InnerTaper}, {"outer", f.OuterTaper}} {
		if magnitude(pad.taper).Cmp(taper) > 0 {
			found = append(found, PadFinding{
				Pattern: Tapered, Side: side,
				Text:     phrase.Of("brakes.pads.pad-tapered-by", side, pad.name, mm(pad.taper)),
				Cause:    phrase.Of("brakes.pads.pad-tight-at-one-end-worn-carrier"),
				Question: phrase.Of("brakes.pads.does-the-pad-slide-freely-are-carrier"),
			})
		}
	}
	return found
}

// sideFindings asks whether both pads of this side are thinner than both of
// the other side. Thin pads mean dragging here, unless the thick side has the
// rusty disc: then that side does not work.
func sideFindings(side Side, here, there PadFigures, sides *big.Rat, rustyHere, rustyThere bool) []PadFinding {
	if minus(there.Inner, here.Inner).Cmp(sides) <= 0 || minus(there.Outer, here.Outer).Cmp(sides) <= 0 {
		return nil
	}
	other := Left
	if side == Left {
		other = Right
	}
	by := shown(minus(there.mean(), here.mean()), quantity.Millimetre, 1)
	if rustyThere && !rustyHere {
		return []PadFinding{{
			Pattern: SideIdle, Side: other,
			Text:     phrase.Of("brakes.pads.both-pads-thicker-than-on-the-and", other, by, side),
			Cause:    phrase.Of("brakes.pads.this-side-is-not-working-piston-seized"),
			Question: phrase.Of("brakes.pads.is-the-brake-force-low-on-the", other),
		}}
	}
	return []PadFinding{{
		Pattern: SideDragging, Side: side,
		Text:     phrase.Of("brakes.pads.both-pads-thinner-than-on-the", side, by, other),
		Cause:    phrase.Of("brakes.pads.dragging-hose-swollen-shut-piston-or-parking"),
		Question: phrase.Of("brakes.pads.what-does-the-wheel-bind-on-the"),
	}}
}
