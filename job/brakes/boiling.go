package brakes

import (
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// BoilingLimits say when fluid is renewed: below Now at once, below Soon soon.
type BoilingLimits struct{ Now, Soon quantity.Quantity }

// DemoBoilingLimits are demo values for a DOT 4 class, invented apart from
// 155 °C, which is its least wet boiling point in 49 CFR 571.116.
func DemoBoilingLimits() BoilingLimits {
	return BoilingLimits{Now: celsius("155"), Soon: celsius("180")}
}

// FluidState is the advice that follows from a boiling point.
type FluidState string

// The states; FluidUnread stands for a reading that is refused.
const (
	FluidUnread FluidState = "unread"
	FluidGood   FluidState = "good"
	RenewSoon   FluidState = "renew soon"
	RenewNow    FluidState = "renew now"
)

// JudgeBoiling compares a measured boiling point with the limits, exactly; a
// value on a limit is not below it. Readings above 300 °C or below 80 °C are
// refused as no boiling point of brake fluid, with a hint when they would make
// sense in degrees Fahrenheit (bounds: common practice, no source).
func JudgeBoiling(measured quantity.Quantity, limits BoilingLimits) (FluidState, []Oddity, error) {
	t, err := exactIn(measured, quantity.Celsius, phrase.Of("brakes.boiling.boiling-point"))
	if err != nil {
		return FluidUnread, nil, err
	}
	now, err := exactIn(limits.Now, quantity.Celsius, phrase.Of("brakes.boiling.limit-for-renewing-now"))
	if err != nil {
		return FluidUnread, nil, err
	}
	soon, err := exactIn(limits.Soon, quantity.Celsius, phrase.Of("brakes.boiling.limit-for-renewing-soon"))
	if err != nil {
		return FluidUnread, nil, err
	}
	if now.Cmp(soon) > 0 {
		return FluidUnread, nil, phrase.Error("brakes.boiling.renew-now-below-must-not-be-above", limits.Now, limits.Soon)
	}
	low, high := ratio(80, 1), ratio(300, 1)
	if !within(t, low, high) {
		text := phrase.Of("brakes.boiling.is-no-boiling-point-of-brake-fluid", measured)
		if measured.Unit == quantity.Celsius {
			meant := quantity.Quantity{Number: measured.Number, Unit: quantity.Fahrenheit}
			if c, err := meant.In(quantity.Celsius); err == nil && within(c, low, high) {
				text = phrase.Of("brakes.boiling.is-no-boiling-point-of-brake-fluid-2", measured, meant, shown(c, quantity.Celsius, 0))
			}
		}
		return FluidUnread, []Oddity{{Code: CodeOtherUnit, Refused: true, Text: text}}, nil
	}
	switch {
	case t.Cmp(now) < 0:
		return RenewNow, nil, nil
	case t.Cmp(soon) < 0:
		return RenewSoon, nil, nil
	}
	return FluidGood, nil, nil
}

// Contaminated says whether fluid just renewed boils more than 15 K below the
// fresh fluid from the bottle: then old fluid was left in and the change is
// repeated. The 15 K are common practice, no source.
func Contaminated(after, fresh quantity.Quantity) (bool, error) {
	a, err := exactIn(after, quantity.Celsius, phrase.Of("brakes.boiling.boiling-point-after"))
	if err != nil {
		return false, err
	}
	f, err := exactIn(fresh, quantity.Celsius, phrase.Of("brakes.boiling.boiling-point-of-fresh-fluid"))
	if err != nil {
		return false, err
	}
	return a.Cmp(minus(f, ratio(15, 1))) < 0, nil
}
