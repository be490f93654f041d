package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
)

// Capability says how a process sits between its limits.
type Capability struct{ Cp, Cpk, CpUpper, CpLower float64 }

// CapabilityOf works out the indices for a mean and a standard deviation:
// Cp = (USL − LSL)/6s, upper = (USL − mean)/3s, lower = (mean − LSL)/3s,
// Cpk the smaller. Source: NIST/SEMATECH e-Handbook of Statistical Methods,
// 6.1.6. Used for the foreman's page, never to judge a single part.
func CapabilityOf(lower, upper, mean, deviation float64) (Capability, error) {
	if !(deviation > 0) || !(upper > lower) {
		return Capability{}, phrase.Error("brakes.capability.limits-to-and-deviation-an-upper-limit", lower, upper, deviation)
	}
	c := Capability{
		Cp:      (upper - lower) / (6 * deviation),
		CpUpper: (upper - mean) / (3 * deviation),
		CpLower: (mean - lower) / (3 * deviation),
	}
	c.Cpk = min(c.CpUpper, c.CpLower)
	return c, nil
}

// Individuals are the limits of a chart of single values, exact.
type Individuals struct {
	Mean, MovingRange, Lower, Upper *big.Rat
	// Beyond lists the values outside the limits, counted from 1.
	Beyond []int
}

// IndividualsChart works out mean ± 3 × mean moving range ÷ 1.128.
// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2.
func IndividualsChart(values []*big.Rat) (Individuals, error) {
	if len(values) < 2 {
		return Individuals{}, phrase.Error("brakes.capability.value-at-least-2-are-expected-for", len(values))
	}
	var ranges []*big.Rat
	for i := range values[1:] {
		ranges = append(ranges, magnitude(minus(values[i+1], values[i])))
	}
	c := Individuals{Mean: meanOf(values), MovingRange: meanOf(ranges)}
	width := times(c.MovingRange, ratio(3000, 1128))
	c.Lower, c.Upper = minus(c.Mean, width), plus(c.Mean, width)
	for i, v := range values {
		if !within(v, c.Lower, c.Upper) {
			c.Beyond = append(c.Beyond, i+1)
		}
	}
	return c, nil
}
