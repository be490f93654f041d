package quantity_test

import (
	"math/big"
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
	"pgregory.net/rapid"
)

// drawQuantity draws a canonical quantity of at most 12 digits in a unit.
func drawQuantity(t *rapid.T, u quantity.Unit, label string) quantity.Quantity {
	number := rapid.StringMatching(`-?(0|[1-9][0-9]{0,5})(\.[0-9]{1,6})?`).Draw(t, label)
	if strings.Trim(number, "-0.") == "" {
		number = strings.TrimPrefix(number, "-")
	}
	q := quantity.Quantity{Number: number, Unit: u}
	if err := q.Valid(); err != nil {
		t.Fatalf("drew %#v: %v", q, err)
	}
	return q
}

func drawUnit(t *rapid.T, label string) quantity.Unit {
	return rapid.SampledFrom(quantity.Units()).Draw(t, label)
}

// drawPartner draws a unit of the same dimension.
func drawPartner(t *rapid.T, u quantity.Unit) quantity.Unit {
	var partners []quantity.Unit
	for _, v := range quantity.Units() {
		if v.Same(u) {
			partners = append(partners, v)
		}
	}
	return rapid.SampledFrom(partners).Draw(t, "partner")
}

func TestPropertyStringReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, "unit")
		q := drawQuantity(t, u, "number")
		back, err := quantity.Parse(q.String(), u)
		if err != nil || back != q {
			t.Fatalf("%v reads back as %v, %v", q, back, err)
		}
	})
}

// A conversion must be undone exactly by the one back: with a + b·x on either
// side, the value at two readings and the way back pin it down.
func TestPropertyConversionIsLinearAndUndone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, "unit")
		v := drawPartner(t, u)
		there := func(number string) *big.Rat {
			r, err := quantity.Quantity{Number: number, Unit: u}.In(v)
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		back := func(number string) *big.Rat {
			r, err := quantity.Quantity{Number: number, Unit: v}.In(u)
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		q := drawQuantity(t, u, "number")
		slope := new(big.Rat).Sub(there("1"), there("0"))
		linear := new(big.Rat).Mul(slope, q.Rat())
		linear.Add(linear, there("0"))
		if there(q.Number).Cmp(linear) != 0 {
			t.Fatalf("%v in %s is not on the line", q, v)
		}
		backSlope := new(big.Rat).Sub(back("1"), back("0"))
		undone := new(big.Rat).Mul(backSlope, linear)
		undone.Add(undone, back("0"))
		if undone.Cmp(q.Rat()) != 0 {
			t.Fatalf("%v to %s and back is %s", q, v, undone)
		}
	})
}

func TestPropertyConvertIsWithinHalfTheLastPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, "unit")
		v := drawPartner(t, u)
		q := drawQuantity(t, u, "number")
		places := rapid.IntRange(0, 4).Draw(t, "places")
		exact, err := q.In(v)
		if err != nil {
			t.Fatal(err)
		}
		got, err := q.Convert(v, places)
		if err != nil {
			t.Fatal(err)
		}
		if got.Unit != v || got.Places() != places {
			t.Fatalf("%v in %s to %d decimals is %v", q, v, places, got)
		}
		off := new(big.Rat).Sub(exact, got.Rat())
		scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
		off.Abs(off.Mul(off, new(big.Rat).SetInt(scale)))
		if off.Cmp(big.NewRat(1, 2)) > 0 {
			t.Fatalf("%v in %s is %s, rounded to %v", q, v, exact, got)
		}
	})
}

func TestPropertyAddIsUndoneBySub(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, "unit")
		a, b := drawQuantity(t, u, "a"), drawQuantity(t, u, "b")
		sum, err := a.Add(b)
		if err != nil {
			t.Fatal(err)
		}
		if swapped, err := b.Add(a); err != nil || swapped != sum {
			t.Fatalf("%v + %v is %v, swapped %v, %v", a, b, sum, swapped, err)
		}
		back, err := sum.Sub(b)
		if err != nil {
			t.Fatal(err)
		}
		if order, err := back.Cmp(a); err != nil || order != 0 {
			t.Fatalf("%v + %v − %v is %v, %v", a, b, b, back, err)
		}
	})
}

// The verdict must not depend on the unit the reading is given in, and must
// match plain comparison of scaled integers.
func TestPropertyVerdict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, "unit")
		low, high := drawQuantity(t, u, "low"), drawQuantity(t, u, "high")
		if order, err := low.Cmp(high); err != nil || order > 0 {
			low, high = high, low
		}
		name := " " + string(u)
		w, err := quantity.ParseWindow(low.Number + ".." + high.Number + name)
		if err != nil {
			t.Fatal(err)
		}
		q := drawQuantity(t, u, "value")
		if rapid.Bool().Draw(t, "on the limit") {
			q = low
		}
		want := quantity.Outside
		if millionths(q).Cmp(millionths(low)) >= 0 && millionths(q).Cmp(millionths(high)) <= 0 {
			want = quantity.Inside
		}
		if got, err := w.Judge(q); err != nil || got != want {
			t.Fatalf("%v against %v is %v, %v; want %v", q, w, got, err, want)
		}
		v := drawPartner(t, u)
		exact, err := q.In(v)
		if err != nil {
			t.Fatal(err)
		}
		if places, ends := exact.FloatPrec(); ends {
			same := quantity.FromRat(exact, v, places)
			if same.Valid() == nil {
				if got, err := w.Judge(same); err != nil || got != want {
					t.Fatalf("%v against %v is %v, %v; want %v as for %v", same, w, got, err, want, q)
				}
			}
		}
		uncertainty := drawQuantity(t, u, "uncertainty")
		uncertainty.Number = strings.TrimPrefix(uncertainty.Number, "-")
		guarded, err := w.JudgeWithin(q, uncertainty)
		if err != nil {
			t.Fatal(err)
		}
		if want == quantity.Inside {
			inner := new(big.Int).Sub(millionths(q), millionths(uncertainty)).Cmp(millionths(low)) >= 0
			outer := new(big.Int).Add(millionths(q), millionths(uncertainty)).Cmp(millionths(high)) <= 0
			if !inner || !outer {
				want = quantity.NotProven
			}
		}
		if guarded != want {
			t.Fatalf("%v ± %v against %v is %v; want %v", q, uncertainty, w, guarded, want)
		}
	})
}

// millionths reads a number of at most six decimals as an integer, without the
// package's own arithmetic.
func millionths(q quantity.Quantity) *big.Int {
	whole, decimals, _ := strings.Cut(q.Number, ".")
	n, ok := new(big.Int).SetString(whole+decimals+strings.Repeat("0", 6-len(decimals)), 10)
	if !ok {
		panic("not a number: " + q.Number)
	}
	return n
}

func TestPropertyToleranceWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, "unit")
		if u == quantity.Percent { // refused as unclear; see TestParseWindowRefusals
			u = quantity.NewtonMetre
		}
		target, tolerance := drawQuantity(t, u, "target"), drawQuantity(t, u, "tolerance")
		tolerance.Number = strings.TrimPrefix(tolerance.Number, "-")
		w, err := quantity.ParseWindow(target.Number + " ± " + tolerance.Number + " " + string(u))
		if err != nil {
			t.Fatal(err)
		}
		if err := w.Valid(); err != nil {
			t.Fatal(err)
		}
		step := quantity.Quantity{Number: "0.0000001", Unit: u}
		above, err := w.High.Add(step)
		if err != nil {
			t.Fatal(err)
		}
		below, err := w.Low.Sub(step)
		if err != nil {
			t.Fatal(err)
		}
		for q, want := range map[quantity.Quantity]quantity.Verdict{
			w.Low: quantity.Inside, w.High: quantity.Inside, w.Target: quantity.Inside,
			above: quantity.Outside, below: quantity.Outside,
		} {
			if got, err := w.Judge(q); err != nil || got != want {
				t.Fatalf("%v against %v is %v, %v; want %v", q, w, got, err, want)
			}
		}
	})
}
