package quantity_test

import (
	"testing"
	"unicode/utf8"

	"bay.example/pawl/job/quantity"
)

// Whatever is typed, Parse answers with a value that reads back the same or
// with a sentence, never both and never neither.
func FuzzQuantity(f *testing.F) {
	for _, seed := range []string{
		"", "120.5 N·m", "16,42mm", "-.5 mm", "+0", "1e3", "1,250", "1'250", "NaN", "-inf", "5.", "--5", "90°", `8"`,
		"１２ mm", "12345678901234567890 kPa", ".12345678901234567890 m", "\u22125 °C", "1 250", "5/8 in", "5 e3", "\xff",
		"62000 mi", "2.2 kgf / cm²", "5 count", "3 ft.lb.", "5 N·m N·m",
	} {
		f.Add(seed, string(quantity.NewtonMetre))
		f.Add(seed, "")
	}
	f.Fuzz(func(t *testing.T, text, unit string) {
		q, err := quantity.Parse(text, quantity.Unit(unit))
		if err != nil {
			if q != (quantity.Quantity{}) || err.Error() == "" {
				t.Fatalf("Parse(%q, %q) = %#v, %q", text, unit, q, err)
			}
			if !utf8.ValidString(err.Error()) {
				t.Fatalf("Parse(%q, %q): the sentence %q is not valid text", text, unit, err)
			}
			return
		}
		if err := q.Valid(); err != nil {
			t.Fatalf("Parse(%q, %q) = %#v: %v", text, unit, q, err)
		}
		again, err := quantity.Parse(q.String(), q.Unit)
		if err != nil || again != q || again.String() != q.String() {
			t.Fatalf("%#v is shown as %q and reads back as %#v, %v", q, q, again, err)
		}
		number, err := quantity.ParseNumber(q.Number)
		if err != nil || number != q.Number {
			t.Fatalf("the canonical number %q reads as %q, %v", q.Number, number, err)
		}
		if order, err := q.Cmp(again); err != nil || order != 0 || q.Rat() == nil {
			t.Fatalf("%v does not equal itself: %d, %v", q, order, err)
		}
		if q.Negative() != (q.Rat().Sign() < 0) {
			t.Fatalf("%v: negative %v", q, q.Negative())
		}
	})
}

// A window that is accepted is valid, keeps its text, holds its own limits and
// reads back the same; one that is refused gives nothing but a sentence.
func FuzzWindow(f *testing.F) {
	for _, seed := range []string{
		"", "108..132 N·m", "120 ± 12 N·m", "120 +- 12 N·m", "120 +/- 12 Nm", "120 N·m ± 10 %", ">= 16.00 mm", "≤ 0.05 mm",
		"-0.5..0.5 mm", "35 ± 4 %", "132..108 N·m", "0...5 mm", "1..2..3 mm", "> 5 mm", "50 % ± 5 %", "80 °C ± 5 %", "..", "±", "5..5 count", "\xff..5 mm",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		w, err := quantity.ParseWindow(text)
		if err != nil {
			if w != (quantity.Window{}) || !utf8.ValidString(err.Error()) {
				t.Fatalf("ParseWindow(%q) = %#v, %q", text, w, err)
			}
			return
		}
		if err := w.Valid(); err != nil {
			t.Fatalf("ParseWindow(%q) = %#v: %v", text, w, err)
		}
		again, err := quantity.ParseWindow(w.String())
		if err != nil || again != w {
			t.Fatalf("%#v is shown as %q and reads back as %#v, %v", w, w, again, err)
		}
		for _, q := range []quantity.Quantity{w.Low, w.High, w.Target} {
			if q.IsZero() {
				continue
			}
			if v, err := w.Judge(q); err != nil || v != quantity.Inside {
				t.Fatalf("%v of the window %q itself is %v, %v", q, w, v, err)
			}
		}
	})
}
