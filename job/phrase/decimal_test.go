package phrase

import "testing"

// value is shown as quantities are.
type value string

func (v value) String() string { return string(v) }
func (v value) Shown() string  { return Decimal(string(v)) }

func TestDecimalMark(t *testing.T) {
	t.Cleanup(func() { DecimalComma(false) })
	for _, c := range []struct{ text, comma string }{
		{"6.50 mm", "6,50 mm"},
		{"27.5..33 N·m", "27,5..33 N·m"},
		{"18.00 ± 0.10 mm", "18,00 ± 0,10 mm"},
		{">= 12 V", ">= 12 V"},
	} {
		DecimalComma(false)
		if got := Decimal(c.text); got != c.text {
			t.Errorf("with a point: %q, want %q", got, c.text)
		}
		DecimalComma(true)
		if got := Decimal(c.text); got != c.comma {
			t.Errorf("with a comma: %q, want %q", got, c.comma)
		}
		// A value among the arguments of a text shows the mark; what somebody typed stays.
		got := named([]any{value(c.text), "part 4.1", 3})
		if got[0] != c.comma || got[1] != "part 4.1" || got[2] != 3 {
			t.Errorf("arguments became %v", got)
		}
	}
}
