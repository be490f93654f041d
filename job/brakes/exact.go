package brakes

import (
	"fmt"
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// exactIn returns q as an exact rational in u. The name says in the error what
// was missing or of the wrong kind.
func exactIn(q quantity.Quantity, u quantity.Unit, name string) (*big.Rat, error) {
	if q.IsZero() {
		return nil, phrase.Error("brakes.exact.has-no-value-a-number-in-is", name, u)
	}
	r, err := q.In(u)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return r, nil
}

// exactAllIn converts a whole set; errors name the point, counted from 1.
func exactAllIn(qs []quantity.Quantity, u quantity.Unit) ([]*big.Rat, error) {
	rs := make([]*big.Rat, len(qs))
	for i, q := range qs {
		r, err := exactIn(q, u, phrase.Of("brakes.exact.point", i+1))
		if err != nil {
			return nil, err
		}
		rs[i] = r
	}
	return rs, nil
}

// asQuantity writes a rational as a quantity without losing anything when its
// decimals end (every length unit is a finite decimal of a millimetre), else
// rounded to nine places.
func asQuantity(r *big.Rat, u quantity.Unit) quantity.Quantity {
	places, ends := r.FloatPrec()
	if !ends {
		places = 9
	}
	return quantity.FromRat(r, u, places)
}

// shown rounds a rational for a sentence.
func shown(r *big.Rat, u quantity.Unit, places int) string {
	return quantity.FromRat(r, u, places).String()
}

// approx is the nearest float of an exact number, for geometry and drawing.
func approx(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// ratio builds a rational from two small integers.
func ratio(a, b int64) *big.Rat { return big.NewRat(a, b) }

// magnitude is |r|.
func magnitude(r *big.Rat) *big.Rat { return new(big.Rat).Abs(r) }

// minus is a − b.
func minus(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }

// plus is a + b.
func plus(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }

// times is a × b.
func times(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }

// over is a ÷ b; b must not be zero.
func over(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }

// meanOf is the exact mean of a set that is not empty.
func meanOf(rs []*big.Rat) *big.Rat {
	sum := new(big.Rat)
	for _, r := range rs {
		sum.Add(sum, r)
	}
	return sum.Quo(sum, ratio(int64(len(rs)), 1))
}

// extremes returns the smallest and largest of a set that is not empty and
// the index of the smallest.
func extremes(rs []*big.Rat) (low, high *big.Rat, lowAt int) {
	low, high = rs[0], rs[0]
	for i, r := range rs {
		if r.Cmp(low) < 0 {
			low, lowAt = r, i
		}
		if r.Cmp(high) > 0 {
			high = r
		}
	}
	return low, high, lowAt
}

// rootUp is the smallest decimal of the given places that is not below √r,
// r ≥ 0. Rounding up keeps an uncertainty from being understated.
func rootUp(r *big.Rat, places int) *big.Rat {
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	n := times(r, new(big.Rat).SetInt(new(big.Int).Mul(scale, scale)))
	whole, rest := new(big.Int).QuoRem(n.Num(), n.Denom(), new(big.Int))
	if rest.Sign() > 0 {
		whole.Add(whole, big.NewInt(1))
	}
	root := new(big.Int).Sqrt(whole)
	if new(big.Int).Mul(root, root).Cmp(whole) < 0 {
		root.Add(root, big.NewInt(1))
	}
	return new(big.Rat).SetFrac(root, scale)
}
