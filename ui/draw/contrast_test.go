package draw

import (
	"image/color"
	"math"
	"testing"

	"github.com/charmbracelet/x/ansi"
)

// luminance and contrast follow WCAG 2.2, "relative luminance" and "contrast
// ratio" (https://www.w3.org/TR/WCAG22/#dfn-relative-luminance), with the sRGB
// threshold 0.04045 of IEC 61966-2-1.
func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	linear := func(v uint32) float64 {
		s := float64(v>>8) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}

func contrast(x, y color.Color) float64 {
	a, b := luminance(x), luminance(y)
	return (max(a, b) + 0.05) / (min(a, b) + 0.05)
}

// TestContrastFormula checks the reckoning itself: black on white is 21:1 by
// definition; #767676 is the lightest grey that passes 4.5:1 on white, and
// #777777 fails (W3C, Understanding SC 1.4.3: 4.47:1 does not meet 4.5:1).
func TestContrastFormula(t *testing.T) {
	white := rgb("#ffffff")
	if got := contrast(rgb("#000000"), white); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white: %.3f, want 21", got)
	}
	if got := contrast(rgb("#767676"), white); got < 4.5 {
		t.Errorf("#767676 on white: %.3f, want at least 4.5", got)
	}
	if got := contrast(rgb("#777777"), white); got >= 4.5 || got < 4.47 {
		t.Errorf("#777777 on white: %.3f, want 4.47 to 4.5", got)
	}
}

// TestContrast holds every role of the colour palettes to WCAG SC 1.4.3 (4.5:1
// for text), in 24-bit, in the 256-colour table and with the usual 16 colours.
// Running text and headings are held to SC 1.4.6 (7:1): the bay has glare.
func TestContrast(t *testing.T) {
	for name, p := range map[string]palette{"bright": bright, "dark": dark} {
		for r, k := range p.inks {
			if k.fg == "" || k.bg == "" {
				t.Errorf("%s role %d lacks a colour", name, r)
				continue
			}
			floor := 4.5
			if Role(r) == Text || Role(r) == Title || Role(r) == Faint {
				floor = 7
			}
			for _, profile := range []Profile{Colour16, Colour256, TrueColour} {
				got := contrast(k.colour(profile, k.fg, k.fg16), k.colour(profile, k.bg, k.bg16))
				if got < floor {
					t.Errorf("%s role %d in profile %d: contrast %.2f:1, want %.1f:1", name, r, profile, got, floor)
				}
			}
		}
	}
}

// TestNoDim checks that no role of any palette switches dim, blink or conceal on.
func TestNoDim(t *testing.T) {
	forbidden := map[int]string{2: "dim", 5: "blink", 6: "blink", 8: "conceal"}
	for _, name := range Palettes() {
		p, err := paletteByName(name)
		if err != nil {
			t.Fatal(err)
		}
		for r, k := range p.inks {
			seq := k.sequence(Colour16)
			if seq == "" {
				continue
			}
			parser := ansi.NewParser()
			ansi.DecodeSequence(seq, ansi.NormalState, parser)
			params := parser.Params()
			if len(params) == 0 {
				t.Errorf("%s role %d: %q has no parameters", name, r, seq)
			}
			for _, v := range params {
				if word := forbidden[v.Param(0)]; word != "" {
					t.Errorf("%s role %d switches %s on: %q", name, r, word, seq)
				}
			}
		}
	}
}
