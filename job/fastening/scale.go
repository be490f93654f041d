package fastening

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// ScaleWindow is a torque window as marks on the scale of a wrench that has
// another unit only.
type ScaleWindow struct {
	Unit quantity.Unit
	// Target is the mark nearest to what the window aims at; the zero value when
	// the window is open on one side.
	Target quantity.Quantity
	// Low and High are the limits rounded inwards, so that no allowed mark lies
	// outside; the zero value where the window has none.
	Low, High quantity.Quantity
}

// OnScale gives a window on a scale in unit u that shows n decimals, for a
// wrench without the window's unit. It is shown, and judged is what is then
// typed in u. Refused: a window so narrow that no mark fits.
// Source: workshop paper (trade.md 4.1, last row).
func OnScale(window quantity.Window, u quantity.Unit, n int) (ScaleWindow, error) {
	low, high, err := limits(window, u)
	if err != nil {
		return ScaleWindow{}, err
	}
	if n < 0 || n > places {
		return ScaleWindow{}, phrase.Error("fastening.scale.a-scale-with-decimals-is-not-known", n, places)
	}
	step := big.NewRat(1, 1)
	for range n {
		step.Quo(step, big.NewRat(10, 1))
	}
	scale := ScaleWindow{Unit: u}
	if low != nil {
		low = ceilTo(low, step)
		scale.Low = quantity.FromRat(low, u, n)
	}
	if high != nil {
		high = floorTo(high, step)
		scale.High = quantity.FromRat(high, u, n)
	}
	if low == nil || high == nil {
		return scale, nil
	}
	if low.Cmp(high) > 0 {
		return ScaleWindow{}, phrase.Error("fastening.scale.has-no-mark-on-a-scale-of", window, step.FloatString(n), u, window.Unit())
	}
	target := window.Target
	if target.IsZero() {
		least, most, err := limits(window, window.Unit())
		if err != nil {
			return ScaleWindow{}, err
		}
		middle := new(big.Rat).Add(least, most)
		target = rounded(middle.Quo(middle, big.NewRat(2, 1)), window.Unit(), places)
	}
	aim, err := target.In(u)
	if err != nil {
		return ScaleWindow{}, err
	}
	scale.Target = quantity.FromRat(aim, u, n)
	// In a window narrower than a step the nearest mark may lie outside.
	switch mark := scale.Target.Rat(); {
	case mark.Cmp(low) < 0:
		scale.Target = scale.Low
	case mark.Cmp(high) > 0:
		scale.Target = scale.High
	}
	return scale, nil
}

// Sentence tells what to set and what to type, naming the wrench.
func (s ScaleWindow) Sentence(wrench string, window quantity.Window) string {
	allowed := quantity.Window{Low: s.Low, High: s.High}
	if s.Target.IsZero() {
		return phrase.Of("fastening.scale.has-no-scale-for-the-marks-are", wrench, window.Unit(), window, allowed, s.Unit)
	}
	return phrase.Of("fastening.scale.has-no-scale-for-set-allowed-to", wrench, window.Unit(), window, s.Target, s.Low.Number, s.High.Number, s.Unit)
}
