package brakes

import (
	"math"
	"math/big"

	"bay.example/pawl/job/phrase"
)

// Regression is a straight line y = Intercept + Slope·x by least squares.
type Regression struct {
	N                        int
	Intercept, Slope         *big.Rat // exact
	InterceptSD, SlopeSD     float64
	ResidualSD               float64 // n − 2 degrees of freedom
	RSquared                 float64
	meanX, spreadX, residual *big.Rat // x̄, Σ(x−x̄)², Σ residual²
}

// Line fits y on x. Sums are exact rationals, so intercept and slope are exact
// and only the final roots are rounded; checked against NIST StRD Norris.
// Formulae: slope = Sxy/Sxx, intercept = ȳ − slope·x̄,
// s² = (Syy − Sxy²/Sxx)/(n−2), sd(slope) = s/√Sxx,
// sd(intercept) = s·√(1/n + x̄²/Sxx) (NIST/SEMATECH e-Handbook 4.1.4.1).
// Errors: unequal lengths, fewer than 3 points, all x alike.
func Line(x, y []*big.Rat) (Regression, error) {
	n := len(x)
	if n != len(y) {
		return Regression{}, phrase.Error("brakes.regress.x-and-y-values-as-many-of", n, len(y))
	}
	if n < 3 {
		return Regression{}, phrase.Error("brakes.regress.points-at-least-3-are-expected-for", n)
	}
	meanX, meanY := meanOf(x), meanOf(y)
	sxx, sxy, syy := new(big.Rat), new(big.Rat), new(big.Rat)
	for i := range x {
		dx, dy := minus(x[i], meanX), minus(y[i], meanY)
		sxx.Add(sxx, times(dx, dx))
		sxy.Add(sxy, times(dx, dy))
		syy.Add(syy, times(dy, dy))
	}
	if sxx.Sign() == 0 {
		return Regression{}, phrase.Error("brakes.regress.all-x-values-are-alike-a-line")
	}
	r := Regression{N: n, Slope: over(sxy, sxx), meanX: meanX, spreadX: sxx}
	r.Intercept = minus(meanY, times(r.Slope, meanX))
	r.residual = minus(syy, times(sxy, r.Slope))
	r.ResidualSD = math.Sqrt(approx(over(r.residual, ratio(int64(n-2), 1))))
	r.SlopeSD = r.ResidualSD / math.Sqrt(approx(sxx))
	r.InterceptSD = r.ResidualSD * math.Sqrt(approx(plus(ratio(1, int64(n)), over(times(meanX, meanX), sxx))))
	r.RSquared = 1
	if syy.Sign() > 0 {
		r.RSquared = approx(minus(ratio(1, 1), over(r.residual, syy)))
	}
	return r, nil
}

// At is the exact value of the line at x.
func (r Regression) At(x *big.Rat) *big.Rat { return plus(r.Intercept, times(r.Slope, x)) }

// Below is the lower bound of the prediction band at x: a single new value
// lies above it with the given confidence (one-sided, 0 < confidence < 1).
// Formula: ŷ − t·s·√(1 + 1/n + (x−x̄)²/Sxx), t of n − 2 degrees of freedom
// (NIST/SEMATECH e-Handbook 4.5.1.2).
func (r Regression) Below(x, confidence float64) float64 {
	dx := x - approx(r.meanX)
	width := math.Sqrt(1 + 1/float64(r.N) + dx*dx/approx(r.spreadX))
	return approx(r.Intercept) + approx(r.Slope)*x - StudentQuantile(confidence, float64(r.N-2))*r.ResidualSD*width
}
