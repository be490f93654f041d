package draw

import (
	"math"
	"strconv"
	"strings"
)

// Amount is a number to be drawn: At finds its place, Text is what stands there.
// The text is the number as it was typed or reckoned, so that a drawing never
// rounds. An empty Text means that there is no number.
type Amount struct {
	At   float64
	Text string
}

// known reports whether there is a number that can be placed.
func (a Amount) known() bool {
	return a.Text != "" && !math.IsNaN(a.At) && !math.IsInf(a.At, 0)
}

// places is the number of decimals in the text.
func (a Amount) places() int {
	_, decimals, _ := strings.Cut(strings.TrimSpace(a.Text), ".")
	n := 0
	for n < len(decimals) && decimals[n] >= '0' && decimals[n] <= '9' {
		n++
	}
	return min(n, 9)
}

// difference writes |a−b| with as many decimals as the finer of the two, "" when
// that many decimals show nothing.
func difference(a, b Amount) string {
	text := strconv.FormatFloat(math.Abs(a.At-b.At), 'f', max(a.places(), b.places()), 64)
	if strings.Trim(text, "0.") == "" || strings.ContainsAny(text, "IN") {
		return ""
	}
	return text
}

// scale maps numbers onto columns or rows.
type scale struct {
	from, to float64 // numbers at the two ends
	a, b     int     // cells at the two ends
}

// at is the cell of a number, kept between the ends.
func (s scale) at(v float64) int {
	span := s.to - s.from
	if span == 0 || math.IsNaN(span) || math.IsInf(span, 0) {
		return s.a
	}
	part := min(max((v-s.from)/span, 0), 1)
	if math.IsNaN(part) {
		return s.a
	}
	return s.a + int(math.Round(part*float64(s.b-s.a)))
}

// withUnit is a number with its unit.
func withUnit(text, unit string) string {
	if unit == "" || text == "" {
		return text
	}
	return text + " " + unit
}
