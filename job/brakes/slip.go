package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// lengthSlip looks for the ordinary slips that turn a length which cannot be
// right into one that can: inches read for millimetres, or a decimal mark in
// the wrong place. low and high bound what is plausible, in millimetres. The
// hint is text only; the value is typed again.
// Source: common practice, no source.
func lengthSlip(typed quantity.Quantity, low, high *big.Rat) (Code, string) {
	v, err := typed.In(quantity.Millimetre)
	if err != nil || within(v, low, high) {
		return "", ""
	}
	if typed.Unit == quantity.Millimetre {
		asInches := times(v, ratio(254, 10))
		if within(asInches, low, high) {
			return CodeOtherUnit, phrase.Of("brakes.slip.in-inches", typed.Number, shown(asInches, quantity.Millimetre, 2))
		}
	}
	for _, f := range []*big.Rat{ratio(10, 1), ratio(1, 10), ratio(100, 1), ratio(1, 100), ratio(1000, 1), ratio(1, 1000)} {
		if moved := times(v, f); within(moved, low, high) {
			return CodeDecimal, phrase.Of("brakes.slip.decimal-mark", typed, asQuantity(moved, quantity.Millimetre))
		}
	}
	return "", ""
}

// within says whether low ≤ v ≤ high.
func within(v, low, high *big.Rat) bool { return v.Cmp(low) >= 0 && v.Cmp(high) <= 0 }

// swapNear tries every exchange of two neighbouring digits and returns the
// first result that fits.
func swapNear(typed quantity.Quantity, fits func(quantity.Quantity) bool) (quantity.Quantity, bool) {
	digits := []byte(typed.Number)
	var at []int
	for i, c := range digits {
		if c >= '0' && c <= '9' {
			at = append(at, i)
		}
	}
	// From the right: the fine digits are the ones that leave a value nearly
	// plausible when they are exchanged.
	for n := len(at) - 1; n > 0; n-- {
		i, j := at[n-1], at[n]
		if digits[i] == digits[j] {
			continue
		}
		swapped := append([]byte(nil), digits...)
		swapped[i], swapped[j] = swapped[j], swapped[i]
		q, err := quantity.Parse(string(swapped), typed.Unit)
		if err == nil && fits(q) {
			return q, true
		}
	}
	return quantity.Quantity{}, false
}
