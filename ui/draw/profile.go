package draw

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Profile is how many colours the terminal has. It is stated, never asked of
// the terminal, so that a frame is the same on every machine.
type Profile uint8

// The profiles, from none upward.
const (
	Plain      Profile = iota // no escape sequences at all
	Colour16                  // the basic colours, with weight and reverse video
	Colour256                 // the 256-colour table
	TrueColour                // 24-bit colours
)

// ProfileFor reads the profile from the values of the TERM and COLORTERM
// variables, without talking to the terminal.
func ProfileFor(term, colorterm string) Profile {
	term, colorterm = strings.ToLower(term), strings.ToLower(colorterm)
	switch {
	case term == "" || term == "dumb":
		return Plain
	case colorterm == "truecolor" || colorterm == "24bit" || strings.Contains(term, "direct"):
		return TrueColour
	case strings.Contains(term, "256color"):
		return Colour256
	}
	return Colour16
}

// sequence is the escape sequence that switches an ink on in a profile, "" when
// there is nothing to switch.
func (k ink) sequence(p Profile) string {
	if p == Plain {
		return ""
	}
	var s ansi.Style
	// Many terminals brighten a bold basic colour, which turns black on yellow
	// into grey on yellow; there the colours must do without the weight.
	if k.bold && !(p == Colour16 && k.fg16 >= 0 && k.fg16 < 8) {
		s = s.Bold()
	}
	if k.underline {
		s = s.Underline(true)
	}
	if k.reverse {
		s = s.Reverse(true)
	}
	if c := k.colour(p, k.fg, k.fg16); c != nil {
		s = s.ForegroundColor(c)
	}
	if c := k.colour(p, k.bg, k.bg16); c != nil {
		s = s.BackgroundColor(c)
	}
	if len(s) == 0 {
		return ""
	}
	return s.String()
}

// colour is the colour for a profile, nil for the terminal's own.
func (k ink) colour(p Profile, hex string, basic int) ansi.Color {
	if hex == "" {
		return nil
	}
	switch p {
	case Colour16:
		if basic < 0 {
			return nil
		}
		return ansi.BasicColor(basic)
	case Colour256:
		return ansi.Convert256(rgb(hex))
	}
	return rgb(hex)
}

// rgb reads "#rrggbb"; the palettes are checked by a test, so a slip there is
// found before it is drawn.
func rgb(hex string) ansi.RGBColor {
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 24)
	if err != nil || len(hex) != 7 {
		panic(fmt.Sprintf("draw: palette colour %s is not #rrggbb", hex))
	}
	return ansi.RGBColor{R: uint8(n >> 16), G: uint8(n >> 8), B: uint8(n)}
}
