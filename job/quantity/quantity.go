package quantity

import (
	"math"
	"math/big"
	"strings"
	"unicode"

	"bay.example/pawl/job/phrase"
)

// Quantity is a decimal number as typed and its unit. Number has a point as
// the decimal mark, a sign only when negative, its trailing zeros kept and
// superfluous leading zeros dropped; Unit is one of Units. The zero value means
// "no value". Quantities are equal with == when they were written alike; use
// Cmp to compare sizes.
type Quantity struct {
	Number string `cbor:"1,keyasint" json:"number"`
	Unit   Unit   `cbor:"2,keyasint" json:"unit"`
}

// Parse reads a number with or without a unit. A unit in the text wins;
// otherwise the given unit is used; without either it is an error.
func Parse(text string, unit Unit) (Quantity, error) {
	text = strings.TrimSpace(text)
	numberText, unitText := split(text)
	if !strings.ContainsFunc(numberText, unicode.IsDigit) {
		return Quantity{}, refusal(text)
	}
	number, err := ParseNumber(numberText)
	if err != nil {
		return Quantity{}, err
	}
	switch {
	case unitText != "":
		unit, err = ParseUnit(unitText)
		if err != nil {
			return Quantity{}, err
		}
	case unit == "":
		return Quantity{}, phrase.Error("quantity.quantity.has-no-unit-add-one-for-example", quote(text), number)
	case unit.Dimension() == "":
		return Quantity{}, phrase.Error("quantity.arithmetic.is-not-a-unit-known-here", quote(string(unit)))
	}
	return Quantity{Number: number, Unit: unit}, nil
}

// split parts a text into what is meant as the number and what is meant as the
// unit. Wrong number characters stay with the number, so that the refusal names
// the number and not an unknown unit.
func split(text string) (number, unit string) {
	runes := []rune(text)
	end := 0
	for i := 0; i < len(runes); i++ {
		next := rune(0)
		if i+1 < len(runes) {
			next = runes[i+1]
		}
		switch r := runes[i]; {
		case unicode.IsDigit(r), strings.ContainsRune(".,+-−．，", r):
			end = i + 1
			continue
		case unicode.IsSpace(r):
			continue
		case strings.ContainsRune("'’_/", r) && end == i && unicode.IsDigit(next):
			continue
		}
		break
	}
	rest := strings.TrimSpace(string(runes[end:]))
	if power := exponent.FindString(rest); power != "" {
		return string(runes[:end]) + power, strings.TrimSpace(rest[len(power):])
	}
	return strings.TrimSpace(string(runes[:end])), rest
}

// MustParse reads a quantity with its unit and panics on an error; it is for
// tests and for tables in the source only.
func MustParse(text string) Quantity {
	q, err := Parse(text, "")
	if err != nil {
		panic(phrase.Of("quantity.quantity.quantity") + err.Error())
	}
	return q
}

// FromRat returns r in the unit u rounded half away from zero to the given
// number of decimals (none when negative). A nil r gives no value.
func FromRat(r *big.Rat, u Unit, places int) Quantity {
	if r == nil {
		return Quantity{}
	}
	number := r.FloatString(max(places, 0))
	return Quantity{Number: signed(r.Sign() < 0, strings.TrimPrefix(number, "-")), Unit: u}
}

// IsZero reports whether there is no value. The number 0 is a value.
func (q Quantity) IsZero() bool { return q.Number == "" }

// Valid returns an error unless the number is canonical and the unit known. It
// is for data read back from a record; having no value is an error too.
func (q Quantity) Valid() error {
	switch {
	case q.IsZero():
		return phrase.Error("quantity.quantity.there-is-no-value")
	case !canonical(q.Number):
		return phrase.Error("quantity.quantity.is-not-a-number-in-the-form", quote(q.Number))
	case q.Unit.Dimension() == "":
		return phrase.Error("quantity.arithmetic.is-not-a-unit-known-here", quote(string(q.Unit)))
	}
	return nil
}

// exact returns the number in the quantity's own unit. Checking first keeps a
// forged exponent from being worked out.
func (q Quantity) exact() (*big.Rat, error) {
	if err := q.Valid(); err != nil {
		return nil, err
	}
	r, ok := new(big.Rat).SetString(q.Number)
	if !ok {
		return nil, phrase.Error("quantity.quantity.is-not-a-number", quote(q.Number))
	}
	return r, nil
}

// Rat returns the number in the quantity's own unit, exactly, or nil when there
// is no value or the quantity is not valid.
func (q Quantity) Rat() *big.Rat {
	r, err := q.exact()
	if err != nil {
		return nil
	}
	return r
}

// Negative reports whether the number is below zero.
func (q Quantity) Negative() bool { return strings.HasPrefix(q.Number, "-") }

// Places returns how many decimals the number has.
func (q Quantity) Places() int {
	_, decimals, _ := strings.Cut(q.Number, ".")
	return len(decimals)
}

// Float returns the float nearest to the number in the quantity's own unit, or
// not-a-number when there is no value. It is for geometry and drawing only and
// never for comparing with a limit.
func (q Quantity) Float() float64 {
	r := q.Rat()
	if r == nil {
		return math.NaN()
	}
	f, _ := r.Float64()
	return f
}

// String returns the quantity as it is shown: "120.5 N·m", "8 %", "90°". A
// count is shown bare and reads back with Count as the unit given to Parse. No
// value is the empty string.
func (q Quantity) String() string {
	switch {
	case q.IsZero():
		return ""
	case q.Unit == Count || q.Unit == "":
		return q.Number
	case q.Unit == Degree:
		return q.Number + string(q.Unit)
	}
	return q.Number + " " + string(q.Unit)
}

// Shown is String with the decimal mark that people of the workshop read.
func (q Quantity) Shown() string { return phrase.Decimal(q.String()) }
