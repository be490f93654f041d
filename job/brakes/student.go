package brakes

import "math"

// StudentQuantile is the t for which Student's distribution with nu degrees of
// freedom holds probability p below it. It is NaN unless 0 < p < 1 and nu > 0.
// The distribution is I_x(nu/2, 1/2)/2 with x = nu/(nu + t²) (Abramowitz and
// Stegun 26.7.1), inverted by bisection.
func StudentQuantile(p, nu float64) float64 {
	if !(p > 0 && p < 1 && nu > 0) {
		return math.NaN()
	}
	if p == 0.5 {
		return 0
	}
	if p < 0.5 {
		return -StudentQuantile(1-p, nu)
	}
	tail := 1 - p
	low, high := 0.0, 1.0
	for studentTail(high, nu) > tail {
		low, high = high, 2*high
		if math.IsInf(high, 1) {
			return high
		}
	}
	// 200 halvings exhaust the 53 bits wherever the bracket began.
	for range 200 {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			break
		}
		if studentTail(middle, nu) > tail {
			low = middle
		} else {
			high = middle
		}
	}
	return low + (high-low)/2
}

// studentTail is the probability above t ≥ 0.
func studentTail(t, nu float64) float64 {
	square := t * t
	return incompleteBeta(nu/(nu+square), square/(nu+square), nu/2, 0.5) / 2
}

// incompleteBeta is the regularized incomplete beta function I_x(a, b), with
// y = 1 − x given apart so that neither loses digits near 1.
// Source: continued fraction NIST DLMF 8.17.22, symmetry 8.17.4.
func incompleteBeta(x, y, a, b float64) float64 {
	switch {
	case x <= 0:
		return 0
	case y <= 0:
		return 1
	case x > (a+1)/(a+b+2):
		return 1 - incompleteBeta(y, x, b, a)
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	front := math.Exp(a*math.Log(x)+b*math.Log(y)+lab-la-lb) / a
	return front * betaFraction(x, a, b)
}

// betaFraction evaluates the continued fraction by the method of Lentz.
func betaFraction(x, a, b float64) float64 {
	const tiny, enough = 1e-300, 1e-16
	keep := func(v float64) float64 {
		if math.Abs(v) < tiny {
			return tiny
		}
		return v
	}
	c, d := 1.0, 1/keep(1-(a+b)*x/(a+1))
	f := d
	for m := 1.0; m <= 10000; m++ {
		even := m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		d, c = 1/keep(1+even*d), keep(1+even/c)
		f *= c * d
		odd := -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		d, c = 1/keep(1+odd*d), keep(1+odd/c)
		f *= c * d
		if math.Abs(c*d-1) < enough {
			break
		}
	}
	return f
}
