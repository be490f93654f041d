package brakes

import (
	"math"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Decision is a measured value held against its window by both rules of
// ILAC-G8:09/2019: simple acceptance (4.2.1) and a guard band as wide as the
// expanded uncertainty (4.2.2). A value exactly on the guarded limit conforms.
type Decision struct {
	Simple, Guarded quantity.Verdict
	// Probability that the true value conforms, 0 to 1, for a normal
	// distribution with half the expanded uncertainty as its deviation. It is
	// information and decides nothing.
	Probability float64
}

// Decide applies both rules; expanded is the uncertainty for k = 2.
func Decide(w quantity.Window, measured, expanded quantity.Quantity) (Decision, error) {
	var d Decision
	var err error
	if d.Simple, err = w.Judge(measured); err != nil {
		return Decision{}, err
	}
	if d.Guarded, err = w.JudgeWithin(measured, expanded); err != nil {
		return Decision{}, err
	}
	u, err := exactIn(expanded, w.Unit(), phrase.Of("brakes.decision.expanded-uncertainty"))
	if err != nil {
		return Decision{}, err
	}
	standard := asQuantity(over(u, ratio(2, 1)), w.Unit())
	d.Probability, err = ConformanceProbability(w, measured, standard)
	return d, err
}

// ExpandedUncertainty turns the error limit of an instrument (± a) and its
// resolution r into an expanded uncertainty for k = 2, in millimetres, rounded
// up to a nanometre: both are taken as rectangular,
// U = 2·√(a²/3 + r²/12). Source: JCGM 100:2008 4.3.7 and F.2.2.1. A resolution
// without value counts as nothing.
func ExpandedUncertainty(errorLimit, resolution quantity.Quantity) (quantity.Quantity, error) {
	a, err := exactIn(errorLimit, quantity.Millimetre, phrase.Of("brakes.decision.error-limit"))
	if err != nil {
		return quantity.Quantity{}, err
	}
	variance := over(times(a, a), ratio(3, 1))
	if !resolution.IsZero() {
		r, err := exactIn(resolution, quantity.Millimetre, "resolution")
		if err != nil {
			return quantity.Quantity{}, err
		}
		variance = plus(variance, over(times(r, r), ratio(12, 1)))
	}
	return asQuantity(rootUp(times(variance, ratio(4, 1)), 6), quantity.Millimetre), nil
}

// ConformanceProbability is Φ((U−y)/u) − Φ((L−y)/u) for a measured y with
// standard uncertainty u, 0 to 1; a limit that is missing counts as infinitely
// far. Source: JCGM 106:2012, 7.3. With u = 0 the answer is 0 or 1.
func ConformanceProbability(w quantity.Window, measured, standard quantity.Quantity) (float64, error) {
	if w.IsZero() {
		return 0, phrase.Error("brakes.decision.no-window-to-conform-to")
	}
	unit := w.Unit()
	y, err := exactIn(measured, unit, phrase.Of("brakes.decision.measured-value"))
	if err != nil {
		return 0, err
	}
	u, err := exactIn(standard, unit, phrase.Of("brakes.decision.standard-uncertainty"))
	if err != nil {
		return 0, err
	}
	switch u.Sign() {
	case -1:
		return 0, phrase.Error("brakes.decision.standard-uncertainty-is-negative", standard)
	case 0:
		v, err := w.Judge(measured)
		if err != nil || v != quantity.Inside {
			return 0, err
		}
		return 1, nil
	}
	below, above := 0.0, 0.0
	if !w.Low.IsZero() {
		low, err := exactIn(w.Low, unit, phrase.Of("brakes.decision.lower-limit"))
		if err != nil {
			return 0, err
		}
		below = normalTail(approx(over(minus(y, low), u)))
	}
	if !w.High.IsZero() {
		high, err := exactIn(w.High, unit, phrase.Of("brakes.decision.upper-limit"))
		if err != nil {
			return 0, err
		}
		above = normalTail(approx(over(minus(high, y), u)))
	}
	return 1 - below - above, nil
}

// normalTail is the probability of the standard normal distribution above z.
func normalTail(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }
