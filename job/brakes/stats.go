package brakes

import (
	"math"
	"math/big"

	"bay.example/pawl/job/phrase"
)

// MeanAndDeviation gives the exact mean and the sample standard deviation
// (divisor n − 1) of two or more values. Sums are exact, so nothing cancels;
// checked against NIST StRD Mavro.
func MeanAndDeviation(values []*big.Rat) (mean *big.Rat, deviation float64, err error) {
	if len(values) < 2 {
		return nil, 0, phrase.Error("brakes.stats.value-at-least-2-are-expected-for", len(values))
	}
	mean = meanOf(values)
	squares := new(big.Rat)
	for _, v := range values {
		d := minus(v, mean)
		squares.Add(squares, times(d, d))
	}
	return mean, math.Sqrt(approx(over(squares, ratio(int64(len(values)-1), 1)))), nil
}
