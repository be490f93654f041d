package draw

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

func TestClean(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"plain", "REAR LEFT 120.5 N·m ± 2 % é 中", "REAR LEFT 120.5 N·m ± 2 % é 中"},
		{"colour", "a\x1b[31mb", "a�[31mb"},
		{"clipboard write", "\x1b]52;c;eA==\x07", "�]52;c;eA==�"},
		{"unfinished sequence", "x\x1b]0;title", "x�]0;title"},
		{"C1 introducer", "a\u009b2Jb", "a�2Jb"},
		{"C1 as a raw byte", "a\x9b2Jb", "a�2Jb"},
		{"overpaint", "OUT\rIN ", "OUT�IN "},
		{"backspace", "9\b8", "9�8"},
		{"tab and line end", "a\tb\nc", "a�b�c"},
		{"delete", "a\x7f", "a�"},
		{"right to left override", "\u202e5.61", "�5.61"},
		{"isolate", "\u2066x\u2069", "�x�"},
		{"zero width", "a\u200bb\u200d\ufeff", "a�b��"},
		{"soft hyphen", "a\u00adb", "a�b"},
		{"line separator", "a\u2028b\u2029", "a�b�"},
		{"private use", "\ue0b0\U000f0000", "��"},
		{"variation selector", "\u26a0\ufe0f\U000e0100", "\u26a0��"},
		{"filler", "\u3164\u115f", "��"},
		{"tag", "\U000e0041", "�"},
		{"each bad byte", "\xff\xfe\xc3", "���"},
		{"surrogate half", "\xed\xa0\x80", "���"},
		{"empty", "", ""},
	} {
		if diff := cmp.Diff(c.want, Clean(c.in)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// TestASCIISpelling checks the signs of the trade and that nothing vanishes.
func TestASCIISpelling(t *testing.T) {
	th := theme(t, Options{Palette: "mono", ASCII: true})
	for in, want := range map[string]string{
		"120 ± 12 N·m": "120 +- 12 N.m", "≥ 16.00 mm": ">= 16.00 mm", "90°": "90 deg", "5 µm": "5 um",
		"Jörg": "Joerg", "e\u0301": "e", "中": "?", "\x1b[2J": "?[2J",
	} {
		if got := th.Plain(in); got != want {
			t.Errorf("Plain(%q) = %q, want %q", in, got, want)
		}
	}
}

// FuzzClean checks that no hostile character survives, that nothing is lost, and
// that clean text stays as it is.
func FuzzClean(f *testing.F) {
	for _, s := range []string{"", "N·m é 中", "\x1b]52;c;eA==\x07", "\u009b2J", "\xff\xc3(", "\u202e5.61", "a\ufe0f", "\ue000"} {
		f.Add(s)
	}
	ascii := theme(f, Options{Palette: "mono", ASCII: true})
	f.Fuzz(func(t *testing.T, s string) {
		got := Clean(s)
		if !utf8.ValidString(got) {
			t.Fatalf("Clean(%q) = %q is not UTF-8", s, got)
		}
		if n, want := utf8.RuneCountInString(got), utf8.RuneCountInString(s); n != want {
			t.Fatalf("Clean(%q) has %d characters, want %d: nothing may vanish", s, n, want)
		}
		for _, r := range got {
			if unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Co, unicode.Cs, unicode.Zl, unicode.Zp, unicode.Variation_Selector) {
				t.Fatalf("Clean(%q) = %q keeps %U", s, got, r)
			}
		}
		if Clean(got) != got {
			t.Fatalf("Clean(%q) changes when cleaned again", s)
		}
		if i := strings.IndexFunc(ascii.Plain(s), func(r rune) bool { return r < ' ' || r > '~' }); i >= 0 {
			t.Fatalf("Plain(%q) in ASCII = %q", s, ascii.Plain(s))
		}
	})
}
