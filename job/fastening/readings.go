package fastening

import (
	"math"
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Spread gives the mean and the standard deviation (n − 1) of readings in the
// unit of the first, each with at most four decimals. The mean is exact before
// it is rounded. At least two readings are needed. Source: Shigley, Mechanical
// Engineering Design, table 8-14 (preload_scatter.csv).
func Spread(readings []quantity.Quantity) (mean, deviation quantity.Quantity, err error) {
	if len(readings) < 2 {
		return mean, deviation, phrase.Error("fastening.readings.readings-have-no-spread-expected-2-or", len(readings))
	}
	unit := readings[0].Unit
	values := make([]*big.Rat, len(readings))
	sum := new(big.Rat)
	for i, q := range readings {
		if values[i], err = q.In(unit); err != nil {
			return mean, deviation, err
		}
		sum.Add(sum, values[i])
	}
	n := int64(len(readings))
	middle := sum.Quo(sum, big.NewRat(n, 1))
	squares := new(big.Rat)
	for _, v := range values {
		d := new(big.Rat).Sub(v, middle)
		squares.Add(squares, d.Mul(d, d))
	}
	variance, _ := squares.Quo(squares, big.NewRat(n-1, 1)).Float64()
	root := new(big.Rat)
	if root.SetFloat64(math.Sqrt(variance)) == nil {
		return mean, deviation, phrase.Error("fastening.readings.the-readings-spread-too-far-to-reckon")
	}
	return rounded(middle, unit, places), rounded(root, unit, places), nil
}

// AllAlike reports whether four or more single readings of an indicating wrench
// are equal to 0.1 of their unit, which is odd and worth a look; it blocks
// nothing. Source: workshop paper (trade.md 4.2, "six readings equal to 0.1 N·m
// are odd"); four as the least number is common practice, no source.
func AllAlike(readings []quantity.Quantity) bool {
	const least = 4
	if len(readings) < least {
		return false
	}
	first := readings[0]
	for _, q := range readings[1:] {
		value, err := q.In(first.Unit)
		if err != nil {
			return false
		}
		if quantity.FromRat(value, first.Unit, 1) != quantity.FromRat(first.Rat(), first.Unit, 1) {
			return false
		}
	}
	return true
}
