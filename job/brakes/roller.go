package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// standardGravity is g in m/s², exact by definition (3rd CGPM 1901).
var standardGravity = ratio(980665, 100000)

// hundred turns a share into per cent.
var hundred = ratio(100, 1)

// Imbalance is (higher − lower) ÷ higher × 100 for the two wheels of an axle
// at one moment, exact, in per cent. Order does not matter. Two wheels without
// effort have no imbalance. Source: UK MOT inspection manual 1.2.1.
func Imbalance(left, right quantity.Quantity) (*big.Rat, error) {
	efforts, err := effortsIn([]quantity.Quantity{left, right})
	if err != nil {
		return nil, err
	}
	low, high, _ := extremes(efforts)
	if high.Sign() == 0 {
		return new(big.Rat), nil
	}
	return times(over(minus(high, low), high), hundred), nil
}

// Efficiency is ΣF ÷ (m × 9.80665 m/s²) × 100, exact, in per cent; m is the
// mass as presented on the roller or, for the parking brake, whatever mass the
// rule takes: the caller prints which. Exact arithmetic matters: 870 kgf on
// 1500 kg are exactly 58 %, which binary floating point misses.
// Source: UK MOT inspection manual 1.2.2, 1.3, 1.4.2.
func Efficiency(efforts []quantity.Quantity, mass quantity.Quantity) (*big.Rat, error) {
	forces, err := effortsIn(efforts)
	if err != nil {
		return nil, err
	}
	kg, err := exactIn(mass, quantity.Kilogram, "mass")
	if err != nil {
		return nil, err
	}
	if kg.Sign() <= 0 {
		return nil, phrase.Error("brakes.roller.mass-is-more-than-zero-is-expected", mass)
	}
	sum := new(big.Rat)
	for _, f := range forces {
		sum.Add(sum, f)
	}
	return times(over(sum, times(kg, standardGravity)), hundred), nil
}

// effortsIn converts brake efforts to newtons; none may be negative.
func effortsIn(efforts []quantity.Quantity) ([]*big.Rat, error) {
	if len(efforts) == 0 {
		return nil, phrase.Error("brakes.roller.no-brake-effort-was-read")
	}
	forces := make([]*big.Rat, len(efforts))
	for i, q := range efforts {
		f, err := exactIn(q, quantity.Newton, phrase.Of("brakes.roller.effort", i+1))
		if err != nil {
			return nil, err
		}
		if f.Sign() < 0 {
			return nil, phrase.Error("brakes.roller.effort-is-zero-or-more-is-expected", i+1, q)
		}
		forces[i] = f
	}
	return forces, nil
}

// Fluctuation is (max − min) ÷ max × 100 of the efforts of one wheel at a
// steady pedal, exact, in per cent. Source: common practice, no source.
func Fluctuation(most, least quantity.Quantity) (*big.Rat, error) {
	efforts, err := effortsIn([]quantity.Quantity{most, least})
	if err != nil {
		return nil, err
	}
	if efforts[0].Cmp(efforts[1]) < 0 {
		return nil, phrase.Error("brakes.roller.largest-effort-is-below-the-smallest", most, least)
	}
	return Imbalance(most, least)
}

// Bind is the rolling resistance of a wheel that is not braked as a share of
// the axle load, exact, in per cent. Source: common practice, no source.
func Bind(resistance, axleMass quantity.Quantity) (*big.Rat, error) {
	return Efficiency([]quantity.Quantity{resistance}, axleMass)
}

// Grade is the outcome of a roller figure.
type Grade uint8

// The grades, best first. GradeNone stands for "no rule applies".
const (
	GradeNone Grade = iota
	GradePass
	GradeWarn
	GradeMajor
	GradeDangerous
	GradeDisregard
)

// String is the word for the record.
func (g Grade) String() string {
	words := [...]string{"no rule", "pass", "warn", "major", "dangerous", "disregard"}
	if int(g) < len(words) {
		return words[g]
	}
	return phrase.Of("brakes.roller.grade", uint8(g))
}

// RollerResult is a figure, its grade and the sentence for the record.
type RollerResult struct {
	Percent *big.Rat
	Grade   Grade
	Text    string
}
