package bay

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// event is a key message after a pause.
type event struct {
	after time.Duration
	raw   raw
}

func typed(after time.Duration, text string) event { return event{after, raw{runes: []rune(text)}} }
func sym(after time.Duration, s Sym) event         { return event{after, raw{sym: s}} }
func altO(after time.Duration) event               { return event{after, raw{runes: []rune{'O'}, alt: true}} }

// slow are characters as a person types them.
func slow(text string) []event {
	var out []event
	for _, c := range text {
		out = append(out, typed(120*time.Millisecond, string(c)))
	}
	return out
}

// fast are characters of a scanner that sends them one by one.
func fast(text string) []event {
	out := []event{typed(time.Second, text[:1])}
	for _, c := range text[1:] {
		out = append(out, typed(2*time.Millisecond, string(c)))
	}
	return out
}

// words writes inputs so that a table can be read.
func inputWords(ins []Input) string {
	var out []string
	for _, in := range ins {
		switch in := in.(type) {
		case Key:
			name := in.String()
			if in.Sym == Rune {
				name = string(in.Rune)
			}
			if in.Again {
				name += "(held)"
			}
			out = append(out, name)
		default:
			out = append(out, fmt.Sprintf("%T(%v)", in, in)[len("bay."):])
		}
	}
	return strings.Join(out, " ")
}

func TestInputLayer(t *testing.T) {
	const ms = time.Millisecond
	join := func(parts ...[]event) (out []event) {
		for _, p := range parts {
			out = append(out, p...)
		}
		return out
	}
	one := func(e event) []event { return []event{e} }
	for _, c := range []struct {
		name  string
		focus Focus
		in    []event
		want  string
	}{
		{"typed digits", FocusNumber, join(slow("112.5"), one(sym(200*ms, Enter))), "1 1 2 . 5 Enter"},
		{"letter as a command", FocusNone, slow("s"), "s"},
		{"scan in one piece", FocusNone, join(one(typed(time.Second, "ABC-123")), one(sym(0, Enter))), "Scan(ABC-123)"},
		{"scan character by character", FocusNone, join(fast("ABC-123"), one(sym(ms, Enter))), "Scan(ABC-123)"},
		{"scan with a blank", FocusText, join(one(typed(time.Second, "WHEEL")), one(typed(0, " ")), one(typed(0, "NUT")), one(sym(0, Enter))), "Scan(WHEEL NUT)"},
		{"scan ended by tab", FocusNone, join(one(typed(time.Second, "ABC-123")), one(sym(0, Tab))), "Scan(ABC-123)"},
		{"scan with a group separator", FocusText, join(one(typed(time.Second, "01DEMO")), one(event{0, raw{runes: []rune{groupSeparator}}}), one(typed(0, "21X")), one(sym(0, Enter))), "Scan(01DEMO\x1d21X)"},
		{"scan without an end is no row of commands", FocusNone, one(typed(time.Second, "SCAN")), "Scan(SCAN)"},
		{"three fast letters stay keys", FocusNone, join(one(typed(time.Second, "abc")), one(sym(0, Enter))), "a b c Enter"},
		{"gauge in a number field", FocusNumber, join(one(typed(time.Second, "16.421")), one(sym(0, Enter))), "Reading(16.421)"},
		{"gauge with unit", FocusNumber, join(one(typed(time.Second, "16,421")), one(typed(0, " ")), one(typed(0, "mm")), one(sym(0, Enter))), "Reading(16,421 mm)"},
		{"gauge with sign", FocusNumber, join(one(typed(time.Second, "+0.03")), one(sym(0, Enter))), "Reading(+0.03)"},
		{"keys queued behind a slow moment", FocusNumber, one(typed(time.Second, "112.5")), "1 1 2 . 5"},
		{"barcode in a number field", FocusNumber, join(one(typed(time.Second, "4006381333931")), one(sym(0, Enter))), "Scan(4006381333931)"},
		{"letters in a number field", FocusNumber, join(one(typed(time.Second, "DEMO-4711")), one(sym(0, Enter))), "Scan(DEMO-4711)"},
		{"number with a unit of nothing", FocusNumber, join(one(typed(time.Second, "12 xyz")), one(sym(0, Enter))), "Scan(12 xyz)"},
		{"gauge where no number is asked", FocusNone, join(one(typed(time.Second, "16.421")), one(sym(0, Enter))), "Scan(16.421)"},
		{"text field keeps a burst without an end", FocusText, one(typed(time.Second, "grinds")), "g r i n d s"},
		{"second half of CRLF", FocusNone, join(one(typed(time.Second, "ABC-123")), one(sym(0, Enter)), one(sym(2*ms, Enter))), "Scan(ABC-123)"},
		{"a value right after another", FocusNumber, join(slow("9"), one(sym(200*ms, Enter)), one(typed(ms, "8")), one(sym(40*ms, Enter))), "9 Enter 8 Enter"},
		{"a paste right after a value", FocusNumber, join(slow("9"), one(sym(200*ms, Enter)), one(event{ms, raw{runes: []rune("8"), paste: true}}), one(sym(40*ms, Enter))), "9 Enter Paste(8) Enter"},
		{"CRLF after nothing", FocusNone, join(one(sym(time.Second, Enter)), one(sym(2*ms, Enter))), "Enter"},
		{"two presses of enter", FocusNone, join(one(sym(time.Second, Enter)), one(sym(200*ms, Enter))), "Enter Enter"},
		{"held enter", FocusNone, join(one(sym(time.Second, Enter)), one(sym(55*ms, Enter))), "Enter Enter(held)"},
		{"held digit", FocusNone, join(one(typed(time.Second, "1")), one(typed(33*ms, "1")), one(typed(33*ms, "1"))), "1 1(held) 1(held)"},
		{"keypad in application mode", FocusNumber, join(one(altO(time.Second)), one(typed(0, "q")), one(altO(200*ms)), one(typed(0, "u")), one(altO(200*ms)), one(typed(0, "n")), one(altO(200*ms)), one(typed(0, "M"))), "1 5 . Enter"},
		{"keypad plus and star", FocusNumber, join(one(altO(time.Second)), one(typed(0, "k")), one(altO(200*ms)), one(typed(0, "j"))), "+ *"},
		{"alt+O and then a slow letter", FocusNone, join(one(altO(time.Second)), one(typed(200*ms, "q"))), "q"},
		{"other alt keys do nothing", FocusText, one(event{time.Second, raw{runes: []rune{'x'}, alt: true}}), "other"},
		{"paste never commits", FocusText, one(event{time.Second, raw{runes: []rune("12.5\r\nx\n"), paste: true}}), "Paste(12.5 x)"},
		{"erase", FocusNumber, join(slow("1"), one(sym(100*ms, Erase))), "1 Backspace"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var l layer
			at := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
			var got []Input
			for _, e := range c.in {
				// Between two keys the root settles what is held.
				if settle := at.Add(burstGap + time.Millisecond); l.waiting() && !at.Add(e.after).Before(settle) {
					got = append(got, l.settle(settle, c.focus)...)
				}
				at = at.Add(e.after)
				got = append(got, l.take(e.raw, at, c.focus)...)
			}
			got = append(got, l.settle(at.Add(time.Second), c.focus)...)
			if diff := cmp.Diff(c.want, inputWords(got)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			if l.waiting() {
				t.Error("something is held back for ever")
			}
		})
	}
}

// FuzzInputLayer feeds anything: no panic, nothing stays held, and no character becomes a command
// twice.
func FuzzInputLayer(f *testing.F) {
	f.Add("112.5\r", uint8(1), uint16(5))
	f.Add("ABC-123\r\n", uint8(0), uint16(0))
	f.Fuzz(func(t *testing.T, text string, focus uint8, gap uint16) {
		var l layer
		at := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
		n, out := 0, 0
		for _, c := range text {
			at = at.Add(time.Duration(gap) * time.Millisecond)
			r := raw{runes: []rune{c}}
			if c == '\r' || c == '\n' {
				r = raw{sym: Enter}
			}
			n++
			out += len(l.take(r, at, Focus(focus%4)))
		}
		out += len(l.settle(at.Add(time.Second), Focus(focus%4)))
		if l.waiting() {
			t.Error("something is held back for ever")
		}
		if out > n {
			t.Errorf("%d keys gave %d inputs", n, out)
		}
	})
}

func TestField(t *testing.T) {
	for _, c := range []struct {
		focus Focus
		in    string
		want  string
	}{
		{FocusNumber, "1a2.5,-+x", "12.5,-+"},
		{FocusCode, "12ab3.4", "1234"},
		{FocusText, "a b-c", "a b-c"},
		{FocusText, "a\x1bb", "ab"},
	} {
		var f field
		for _, r := range c.in {
			f.take(Key{Rune: r}, c.focus)
		}
		if f.text != c.want {
			t.Errorf("%q gives %q, want %q", c.in, f.text, c.want)
		}
		f.take(Key{Sym: Erase}, c.focus)
		if f.text != c.want[:len(c.want)-1] {
			t.Errorf("erase leaves %q", f.text)
		}
	}
}
