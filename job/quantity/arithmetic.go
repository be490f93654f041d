package quantity

import (
	"math/big"

	"bay.example/pawl/job/phrase"
)

// In returns the exact value in the unit u. It is an error when u measures
// something else or there is no value. Temperatures convert as readings on
// their scale, not as differences.
func (q Quantity) In(u Unit) (*big.Rat, error) {
	r, err := q.exact()
	if err != nil {
		return nil, err
	}
	if err := q.convertible(u); err != nil {
		return nil, err
	}
	if u == q.Unit {
		return r, nil
	}
	return definitionOf[u].fromBase(definitionOf[q.Unit].toBase(r)), nil
}

// spanIn is In for a difference: an uncertainty of 9 °F spans 5 °C, although a
// reading of 9 °F does not read 5 °C.
func (q Quantity) spanIn(u Unit) (*big.Rat, error) {
	r, err := q.exact()
	if err != nil {
		return nil, err
	}
	if err := q.convertible(u); err != nil {
		return nil, err
	}
	r.Mul(r, definitionOf[q.Unit].factor)
	return r.Quo(r, definitionOf[u].factor), nil
}

func (q Quantity) convertible(u Unit) error {
	if u.Dimension() == "" {
		return phrase.Error("quantity.arithmetic.is-not-a-unit-known-here", quote(string(u)))
	}
	if !q.Unit.Same(u) {
		return phrase.Error("quantity.arithmetic.is-and-cannot-be-given-in-which", q, q.Unit.Dimension().article(), u, u.Dimension().article())
	}
	return nil
}

// Convert returns the quantity in the unit u rounded half away from zero to
// the given number of decimals. The result is for showing: judge the original.
func (q Quantity) Convert(u Unit, places int) (Quantity, error) {
	r, err := q.In(u)
	if err != nil {
		return Quantity{}, err
	}
	converted := FromRat(r, u, places)
	if err := converted.Valid(); err != nil {
		return Quantity{}, phrase.Error("quantity.arithmetic.in-to-decimals-needs-more-than-digits", q, u, places, maxDigits)
	}
	return converted, nil
}

// Cmp compares sizes exactly: -1 when q is less than p, 0 when equal, 1 when
// more. It is an error when they measure different things or one has no value.
func (q Quantity) Cmp(p Quantity) (int, error) {
	a, err := q.exact()
	if err != nil {
		return 0, err
	}
	b, err := p.In(q.Unit)
	if err != nil {
		return 0, err
	}
	return a.Cmp(b), nil
}

// Add returns q + p in q's unit, exactly. It is an error when the sum has no
// finite decimal there, needs more than twenty digits, or mixes temperature
// scales; nothing is ever rounded.
func (q Quantity) Add(p Quantity) (Quantity, error) {
	return q.combine(p, "sum", (*big.Rat).Add)
}

// Sub returns q − p in q's unit, exactly, with the same errors as Add.
func (q Quantity) Sub(p Quantity) (Quantity, error) {
	return q.combine(p, "difference", (*big.Rat).Sub)
}

func (q Quantity) combine(p Quantity, name string, operation func(z, x, y *big.Rat) *big.Rat) (Quantity, error) {
	a, err := q.exact()
	if err != nil {
		return Quantity{}, err
	}
	if q.Unit.Dimension() == Temperature && p.Unit.Dimension() == Temperature && q.Unit != p.Unit {
		return Quantity{}, phrase.Error("quantity.arithmetic.and-are-on-different-temperature-scales-and", q, p)
	}
	b, err := p.In(q.Unit)
	if err != nil {
		return Quantity{}, err
	}
	places := q.Places()
	if p.Unit == q.Unit {
		places = max(places, p.Places())
	}
	result, err := decimal(operation(new(big.Rat), a, b), q.Unit, places)
	if err != nil {
		return Quantity{}, phrase.Error("quantity.arithmetic.the-of-and", name, q, p, err)
	}
	return result, nil
}

// decimal returns r exactly, with at least the given decimals and as many more
// as it needs. Its errors continue a sentence that names r.
func decimal(r *big.Rat, u Unit, places int) (Quantity, error) {
	needed, finite := r.FloatPrec()
	if !finite {
		return Quantity{}, phrase.Error("quantity.arithmetic.has-no-exact-decimal-in-convert-by", u)
	}
	q := FromRat(r, u, max(places, needed))
	if !canonical(q.Number) {
		return Quantity{}, errTooLong
	}
	return q, nil
}

var errTooLong = phrase.Error("quantity.arithmetic.needs-more-than-digits-give-fewer-decimals", maxDigits)
