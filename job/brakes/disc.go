package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// DiscReadings is one thickness measurement of a disc.
type DiscReadings struct {
	// Points are equally spaced round one radius, in the order taken.
	Points []quantity.Quantity
	// Inner are optional points near the inner radius, for the taper.
	Inner []quantity.Quantity
}

// DiscFigures is what follows from the readings, in millimetres and exact.
type DiscFigures struct {
	Minimum, Maximum quantity.Quantity
	// MinimumAt is the thinnest point, counted from 1.
	MinimumAt int
	// Mean is kept for wear rates.
	Mean *big.Rat
	// Variation is the thickness variation, largest − smallest.
	Variation quantity.Quantity
	// Taper is mean of the outer points − mean of the inner points; nil when
	// no inner points were taken.
	Taper *big.Rat
}

// DiscSpec holds the limits of a disc. Each window may be zero: then that
// verdict stays unjudged.
type DiscSpec struct {
	Minimum   quantity.Window // thinnest point, for example ≥ 16.00 mm
	Refit     quantity.Window // thinnest point of a disc that goes back on, for example ≥ 16.50 mm
	Variation quantity.Window // thickness variation, for example ≤ 0.015 mm
	Nominal   quantity.Window // a new part, for example 18.00 ± 0.10 mm
	// Points is the least number of points of a complete set; 0 means 8.
	Points int
	// Gap is how far one point may lie from both neighbours before it is
	// asked about; zero means 0.3 mm. Common practice, no source.
	Gap quantity.Quantity
}

// Figures works out smallest, mean, variation and taper.
// Formula: min = min tᵢ; variation = max tᵢ − min tᵢ; taper = mean(outer) −
// mean(inner). Errors: no points, a point without value, no length, not
// positive.
func (r DiscReadings) Figures() (DiscFigures, error) {
	if len(r.Points) == 0 {
		return DiscFigures{}, phrase.Error("brakes.disc.no-thickness-was-read-8-points-at")
	}
	outer, err := thicknesses(r.Points)
	if err != nil {
		return DiscFigures{}, err
	}
	low, high, at := extremes(outer)
	f := DiscFigures{
		Minimum:   asQuantity(low, quantity.Millimetre),
		Maximum:   asQuantity(high, quantity.Millimetre),
		MinimumAt: at + 1,
		Mean:      meanOf(outer),
		Variation: asQuantity(minus(high, low), quantity.Millimetre),
	}
	if len(r.Inner) > 0 {
		inner, err := thicknesses(r.Inner)
		if err != nil {
			return DiscFigures{}, phrase.Error("brakes.disc.inner-radius", err)
		}
		f.Taper = minus(f.Mean, meanOf(inner))
	}
	return f, nil
}

// thicknesses converts a set to millimetres and refuses what no part can have.
func thicknesses(qs []quantity.Quantity) ([]*big.Rat, error) {
	rs, err := exactAllIn(qs, quantity.Millimetre)
	if err != nil {
		return nil, err
	}
	for i, r := range rs {
		if r.Sign() <= 0 {
			return nil, phrase.Error("brakes.disc.point-is-no-thickness-more-than-zero", i+1, qs[i])
		}
	}
	return rs, nil
}

// DiscJudgement is the verdict on each limit and one sentence for each that
// is not inside.
type DiscJudgement struct {
	Minimum, Refit, Variation quantity.Verdict
	Reasons                   []string
}

// Judge holds the figures against the limits, guarded by the uncertainty of
// the instrument (ILAC-G8:09/2019, guard band w = U). A variation read with an
// instrument whose step is wider than the limit is never more than "not
// proven".
func (s DiscSpec) Judge(f DiscFigures, in Instrument) (DiscJudgement, error) {
	var j DiscJudgement
	var err error
	if j.Minimum, err = judgeGuarded(s.Minimum, f.Minimum, in.Uncertainty); err != nil {
		return DiscJudgement{}, phrase.Error("brakes.disc.minimum-thickness", err)
	}
	if j.Refit, err = judgeGuarded(s.Refit, f.Minimum, in.Uncertainty); err != nil {
		return DiscJudgement{}, phrase.Error("brakes.disc.refit-limit", err)
	}
	if j.Variation, err = judgeGuarded(s.Variation, f.Variation, in.Difference); err != nil {
		return DiscJudgement{}, phrase.Error("brakes.disc.thickness-variation", err)
	}
	able, coarse, err := in.CanShow(s.Variation)
	if err != nil {
		return DiscJudgement{}, err
	}
	j.Reasons = appendReason(j.Reasons, phrase.Of("brakes.disc.thinnest-point"), f.Minimum, s.Minimum, j.Minimum)
	j.Reasons = appendReason(j.Reasons, phrase.Of("brakes.disc.thinnest-point-for-refitting"), f.Minimum, s.Refit, j.Refit)
	if able {
		j.Reasons = appendReason(j.Reasons, phrase.Of("brakes.disc.thickness-variation-2"), f.Variation, s.Variation, j.Variation)
	} else {
		j.Variation = quantity.NotProven
		j.Reasons = append(j.Reasons, coarse)
	}
	return j, nil
}

// judgeGuarded leaves a zero window unjudged.
func judgeGuarded(w quantity.Window, q, uncertainty quantity.Quantity) (quantity.Verdict, error) {
	if w.IsZero() {
		return quantity.Unjudged, nil
	}
	if uncertainty.IsZero() {
		return w.Judge(q)
	}
	return w.JudgeWithin(q, uncertainty)
}

// appendReason adds the sentence for a verdict that does not pass.
func appendReason(to []string, what string, q quantity.Quantity, w quantity.Window, v quantity.Verdict) []string {
	switch v {
	case quantity.Outside:
		return append(to, phrase.Of("brakes.disc.is-outside", what, q, w))
	case quantity.NotProven:
		return append(to, phrase.Of("brakes.disc.is-inside-but-nearer-to-the-limit", what, q, w))
	case quantity.Inside, quantity.Unjudged:
	}
	return to
}
