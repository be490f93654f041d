package fastening

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// step is one kind of slip looked for.
type step func(search) (Hint, bool)

// search is one typed value and what it is held against, in the window's unit.
type search struct {
	typed       quantity.Quantity
	value       *big.Rat
	window      quantity.Window
	low, high   *big.Rat // the window; nil = no limit
	least, most *big.Rat // what is likely; nil = no bound
	atMost      *big.Rat // a value up to this is taken as real; nil = the window and the likely span decide
}

func newSearch(typed quantity.Quantity, window, likely quantity.Window) (search, error) {
	s := search{typed: typed, window: window}
	var err error
	if s.value, err = positive(phrase.Of("fastening.slip.the-value"), typed, window.Unit()); err != nil {
		return s, err
	}
	if s.low, s.high, err = limits(window, window.Unit()); err != nil {
		return s, err
	}
	if !likely.IsZero() {
		s.least, s.most, err = limits(likely, window.Unit())
		return s, err
	}
	s.least, s.most = s.low, s.high
	switch {
	case s.high == nil:
		times := big.NewRat(2, 1)
		if window.Dimension() == quantity.Temperature {
			times = big.NewRat(18, 10)
		}
		s.most = new(big.Rat).Mul(s.low, times)
	case s.low == nil:
		s.least = new(big.Rat).Quo(s.high, big.NewRat(10, 1))
		s.atMost = new(big.Rat).Mul(s.high, big.NewRat(4, 1))
	}
	return s, nil
}

// plain reports a value that needs no explaining.
func (s search) plain() bool {
	if s.atMost != nil {
		return s.value.Cmp(s.atMost) <= 0
	}
	return s.fits(s.value)
}

func (s search) fits(r *big.Rat) bool {
	return within(r, s.low, s.high) && within(r, s.least, s.most)
}

// misses says on which side the value misses.
func (s search) misses() string {
	switch {
	case s.low != nil && s.value.Cmp(s.low) < 0:
		return phrase.Of("fastening.slip.is-below", s.typed, s.window.Low)
	case s.high != nil && s.value.Cmp(s.high) > 0:
		return phrase.Of("fastening.slip.is-above", s.typed, s.window.High)
	default:
		return phrase.Of("fastening.slip.is-hardly-possible-here", s.typed)
	}
}

// figure writes a value in the window's unit, as fine as the window and at
// least to one decimal and two significant digits.
func (s search) figure(r *big.Rat) quantity.Quantity {
	n := max(1, s.window.Low.Places(), s.window.High.Places())
	ten := big.NewRat(10, 1)
	digits := new(big.Rat).Set(r) // r in units of its n-th decimal
	for range n {
		digits.Mul(digits, ten)
	}
	for ; n < places && digits.Cmp(ten) < 0; n++ {
		digits.Mul(digits, ten)
	}
	return shown(r, s.window.Unit(), n, s.low, s.high)
}

func (s search) hint(slip Slip, fits *big.Rat, text string) (Hint, bool) {
	h := Hint{Slip: slip, Text: text}
	if fits != nil {
		h.Fits = rounded(fits, s.window.Unit(), places)
	}
	return h, true
}

// readIn looks for a unit in which the typed number would fit. Ask ends the
// sentence with the unit to type.
func readIn(ask func(quantity.Unit) string, units ...quantity.Unit) step {
	return func(s search) (Hint, bool) {
		for _, u := range units {
			other := quantity.Quantity{Number: s.typed.Number, Unit: u}
			value, err := other.In(s.window.Unit())
			if err != nil || u == s.typed.Unit || !s.fits(value) {
				continue
			}
			return s.hint(WrongScale, value, phrase.Of("fastening.slip.would-be", s.misses(), other, s.figure(value), ask(s.window.Unit())))
		}
		return Hint{}, false
	}
}

// slipped looks for a decimal mark out of place by a factor.
func slipped(factor int64) step {
	times := phrase.Of("fastening.slip.ten")
	if factor == 100 {
		times = phrase.Of("fastening.slip.a-hundred")
	}
	return func(s search) (Hint, bool) {
		ratio := big.NewRat(factor, 1)
		if value := new(big.Rat).Mul(s.value, ratio); s.fits(value) {
			return s.hint(SlippedDecimal, value, phrase.Of("fastening.slip.too-small", s.misses(), s.figure(value), times))
		}
		if value := new(big.Rat).Quo(s.value, ratio); s.fits(value) {
			return s.hint(SlippedDecimal, value, phrase.Of("fastening.slip.too-large", s.misses(), s.figure(value), times))
		}
		return Hint{}, false
	}
}

// readInKilo looks for kN·m typed as N·m.
func readInKilo(s search) (Hint, bool) {
	value := new(big.Rat).Mul(s.value, big.NewRat(1000, 1))
	if s.typed.Unit != quantity.NewtonMetre || !s.fits(value) {
		return Hint{}, false
	}
	return s.hint(KiloUnit, value, phrase.Of("fastening.slip.it-looks-like-kn-m-which-would", s.misses(), s.figure(value)))
}

// wrenchSpread is how far a wrench set to the wrong scale may be off: the
// permissible deviation of a setting wrench (see DefaultDeviation).
var wrenchSpread = big.NewRat(4, 100)

// setIn looks for a unit on whose scale the wrench was set to the target's
// figure: what is typed is then the true torque.
func setIn(units ...quantity.Unit) step {
	return func(s search) (Hint, bool) {
		target := s.target()
		if target == nil {
			return Hint{}, false
		}
		step := func(u quantity.Unit) (*big.Rat, error) {
			return quantity.Quantity{Number: "1", Unit: u}.In(s.window.Unit())
		}
		for _, u := range units {
			given, err := step(u)
			if err != nil || u == s.window.Unit() {
				continue
			}
			given.Mul(given, target)
			off := new(big.Rat).Sub(s.value, given)
			if off.Abs(off).Cmp(new(big.Rat).Mul(given, wrenchSpread)) > 0 {
				continue
			}
			set := rounded(target, u, places)
			return s.hint(WrongSetting, nil, phrase.Of("fastening.slip.gives-was-the-wrench-set-to-on", s.misses(), set, s.figure(given), set.Number, u, s.typed))
		}
		return Hint{}, false
	}
}

// target is what the window aims at: as written, else its middle; nil when it
// is open on one side.
func (s search) target() *big.Rat {
	if !s.window.Target.IsZero() {
		if r, err := s.window.Target.In(s.window.Unit()); err == nil {
			return r
		}
	}
	if s.low == nil || s.high == nil {
		return nil
	}
	middle := new(big.Rat).Add(s.low, s.high)
	return middle.Quo(middle, big.NewRat(2, 1))
}
