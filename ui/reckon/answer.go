package reckon

import (
	"fmt"
	"math"
	"math/big"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Answer is what one calculation gives back. Text and JSON are written from the same rows, so that
// neither can say what the other does not.
type Answer struct {
	Name   string // the subcommand
	Given  Rows
	Result Rows
	Say    []string // plain sentences, the most important first
	Source []string // where the formula comes from
	// Picture holds the numbers of the picture that belongs to it, nil for none.
	Picture Picture
}

// Row is one figure. The key is the stable name in JSON, the title the words in text. Value is a
// string, bool, int, quantity.Quantity, []string, Grid, or a list that knows its own words.
type Row struct {
	Key, Title string
	Value      any
}

// Rows are figures in order.
type Rows []Row

func (r *Rows) add(key, title string, value any) { *r = append(*r, Row{key, title, value}) }

// Grid is a table: in JSON a list of objects with the keys of its columns.
type Grid struct {
	Keys, Titles []string
	Lines        [][]any
	Brief        string // what text shows in place of the table; empty for the table
}

// String is what stands in place of the table.
func (g Grid) String() string { return g.Brief }

// Table is the value as a table to be laid out, if it is one.
func (x Row) Table() (Grid, bool) {
	g, ok := x.Value.(Grid)
	return g, ok && g.Brief == ""
}

// exact writes a rational as the decimal it is, or as a fraction when it never ends.
func exact(r *big.Rat) string {
	if r == nil {
		return ""
	}
	if digits, ends := r.FloatPrec(); ends && digits <= 30 {
		return r.FloatString(digits)
	}
	return r.RatString()
}

// approx is a figure that came out of floating point, in unit u with that many decimals. It is
// shown and never judged.
func approx(f float64, u quantity.Unit, places int) quantity.Quantity {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return quantity.Quantity{}
	}
	return quantity.FromRat(new(big.Rat).SetFloat64(f), u, places)
}

// decimal writes a number that came out of floating point in full, for figures without a unit.
func decimal(f float64, digits int) string {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return "none"
	}
	return fmt.Sprintf("%.*f", digits, f)
}

// Words is a value as text shows it.
func Words(value any) string {
	switch v := value.(type) {
	case string:
		if v == "" {
			return phrase.Of("reckon.answer.none")
		}
		return phrase.Word(v)
	case bool:
		if v {
			return phrase.Of("reckon.answer.yes")
		}
		return "no"
	case quantity.Quantity:
		if v.IsZero() {
			return phrase.Of("reckon.answer.none")
		}
		return v.String()
	case []string:
		if len(v) == 0 {
			return phrase.Of("reckon.answer.none")
		}
		return strings.Join(v, ", ")
	}
	return fmt.Sprint(value)
}
