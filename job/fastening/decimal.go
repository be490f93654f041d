package fastening

import (
	"fmt"
	"math/big"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// places is how many decimals a calculated figure keeps when it does not end
// earlier: 0.0001 N·m is far below what any wrench can show.
const places = 4

// one and hundred are never written to.
var (
	one     = big.NewRat(1, 1)
	hundred = big.NewRat(100, 1)
	// beyond is where a figure is no measurement any more, whatever its unit.
	// It keeps every result within the digits a quantity holds.
	beyond = big.NewRat(1_000_000_000, 1)
)

// rounded gives r as a quantity with at most n decimals and no trailing zeros.
func rounded(r *big.Rat, u quantity.Unit, n int) quantity.Quantity {
	q := quantity.FromRat(r, u, n)
	if strings.Contains(q.Number, ".") {
		q.Number = strings.TrimSuffix(strings.TrimRight(q.Number, "0"), ".")
	}
	return q
}

// settled is rounded for a result that absurd inputs could blow up beyond what
// a quantity holds.
func settled(what string, r *big.Rat, u quantity.Unit) (quantity.Quantity, error) {
	q := rounded(r, u, places)
	if new(big.Rat).Abs(r).Cmp(beyond) >= 0 {
		return quantity.Quantity{}, phrase.Error("fastening.decimal.would-be-or-more-beyond-anything-measured", what, beyond.RatString(), u)
	}
	return q, nil
}

// shown rounds r for a sentence: to n decimals, or to as many more as are
// needed to leave it on the same side of each limit as the exact value. A
// figure "30 N·m, above 30 N·m" would help nobody.
func shown(r *big.Rat, u quantity.Unit, n int, limits ...*big.Rat) quantity.Quantity {
	for ; n < places; n++ {
		if short := rounded(r, u, n); sameSide(short.Rat(), r, limits) {
			return short
		}
	}
	return rounded(r, u, places)
}

func sameSide(a, b *big.Rat, limits []*big.Rat) bool {
	for _, limit := range limits {
		if limit != nil && a.Cmp(limit) != b.Cmp(limit) {
			return false
		}
	}
	return true
}

// floorTo and ceilTo move r down or up to a multiple of step (step > 0).
func floorTo(r, step *big.Rat) *big.Rat {
	n := new(big.Rat).Quo(r, step)
	// Euclidean division by a positive denominator is the floor.
	whole := new(big.Int).Div(n.Num(), n.Denom())
	return new(big.Rat).Mul(new(big.Rat).SetInt(whole), step)
}

func ceilTo(r, step *big.Rat) *big.Rat {
	return new(big.Rat).Neg(floorTo(new(big.Rat).Neg(r), step))
}

// limits gives the limits of w in unit u, nil where w has none.
func limits(w quantity.Window, u quantity.Unit) (low, high *big.Rat, err error) {
	if w.IsZero() {
		return nil, nil, phrase.Error("fastening.decimal.no-window-is-given-to-judge-against")
	}
	if !w.Low.IsZero() {
		if low, err = w.Low.In(u); err != nil {
			return nil, nil, err
		}
	}
	if !w.High.IsZero() {
		if high, err = w.High.In(u); err != nil {
			return nil, nil, err
		}
	}
	return low, high, nil
}

// within reports low <= r <= high; a nil limit does not bind.
func within(r, low, high *big.Rat) bool {
	return (low == nil || r.Cmp(low) >= 0) && (high == nil || r.Cmp(high) <= 0)
}

// positive gives q in u and refuses a missing, foreign, zero or negative value.
func positive(what string, q quantity.Quantity, u quantity.Unit) (*big.Rat, error) {
	r, err := notNegative(what, q, u)
	if err != nil {
		return nil, err
	}
	if r.Sign() == 0 {
		return nil, phrase.Error("fastening.decimal.is-expected-more-than-zero", what, q)
	}
	return r, nil
}

// notNegative is positive, but lets zero pass.
func notNegative(what string, q quantity.Quantity, u quantity.Unit) (*big.Rat, error) {
	if q.IsZero() {
		return nil, phrase.Error("fastening.decimal.is-missing", what)
	}
	r, err := q.In(u)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", what, err)
	}
	if r.Sign() < 0 {
		return nil, phrase.Error("fastening.decimal.is-expected-no-minus-sign", what, q)
	}
	if r.Cmp(beyond) >= 0 {
		return nil, phrase.Error("fastening.decimal.is-beyond-anything-measured", what, q)
	}
	return r, nil
}
