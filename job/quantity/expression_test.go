package quantity_test

import (
	"math/big"
	"strconv"
	"strings"
	"testing"
)

// evaluate works out an expression of unit_factors.csv: decimals, * / ^ and
// brackets, and U01 for the value of the first row.
func evaluate(t *testing.T, text string, rows []*big.Rat) *big.Rat {
	t.Helper()
	e := &expression{rest: text, rows: rows}
	value := e.product()
	if e.bad || e.rest != "" {
		t.Fatalf("the expression %q cannot be worked out from %q on", text, e.rest)
	}
	return value
}

type expression struct {
	rest string
	rows []*big.Rat
	bad  bool
}

func (e *expression) take(symbol string) bool {
	rest, found := strings.CutPrefix(e.rest, symbol)
	e.rest = rest
	return found
}

func (e *expression) word(characters string) string {
	rest := strings.TrimLeft(e.rest, characters)
	word := e.rest[:len(e.rest)-len(rest)]
	e.rest = rest
	return word
}

func (e *expression) product() *big.Rat {
	value := e.power()
	for !e.bad {
		switch {
		case e.take("*"):
			value.Mul(value, e.power())
		case e.take("/"):
			value.Quo(value, e.power())
		default:
			return value
		}
	}
	return value
}

func (e *expression) power() *big.Rat {
	value := e.operand()
	if !e.take("^") {
		return value
	}
	times, err := strconv.Atoi(e.word("0123456789"))
	e.bad = e.bad || err != nil
	result := big.NewRat(1, 1)
	for range times {
		result.Mul(result, value)
	}
	return result
}

// operand returns 1 and marks the expression as bad when there is none.
func (e *expression) operand() *big.Rat {
	switch {
	case e.take("("):
		value := e.product()
		e.bad = e.bad || !e.take(")")
		return value
	case e.take("U"):
		row, err := strconv.Atoi(e.word("0123456789"))
		if err == nil && row >= 1 && row <= len(e.rows) {
			return new(big.Rat).Set(e.rows[row-1])
		}
	default:
		if value, ok := new(big.Rat).SetString(e.word("0123456789.")); ok {
			return value
		}
	}
	e.bad = true
	return big.NewRat(1, 1)
}
