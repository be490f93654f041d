package draw

// Options choose a look. Nothing is guessed: a palette that is not named is
// refused, and the terminal is never asked.
type Options struct {
	Palette string  // one of Palettes()
	ASCII   bool    // draw with ASCII characters only
	NoColor bool    // colour goes, weight, markers and words stay (NO_COLOR)
	Profile Profile // how many colours the terminal has
}

// Theme is a look made from Options. It does not change after NewTheme and can
// be shared.
type Theme struct {
	// Glyphs are the characters of lines, marks and bars.
	Glyphs Glyphs

	ascii bool
	on    [roleCount]string // the sequence that switches a role on
	paint string            // the sequence of the painted background, "" for none
}

const reset = "\x1b[m"

// NewTheme makes a theme. The error is one sentence that names the palettes
// there are.
func NewTheme(o Options) (*Theme, error) {
	p, err := paletteByName(o.Palette)
	if err != nil {
		return nil, err
	}
	// The convention behind NO_COLOR asks for colour to go, not for weight and
	// reverse video, and a focus without reverse video is hard to find.
	if o.NoColor {
		p = mono
	}
	t := &Theme{Glyphs: unicodeGlyphs, ascii: o.ASCII}
	if o.ASCII {
		t.Glyphs = asciiGlyphs
	}
	for r := range p.inks {
		t.on[r] = p.inks[r].sequence(o.Profile)
	}
	if p.painted {
		t.paint = t.on[Text]
	}
	return t, nil
}

// Style writes text in a role: cleaned, switched on before and off after. It is
// for text, not for what is already styled: an escape sequence in it is shown
// as a replacement character. Style pieces and join them.
func (t *Theme) Style(r Role, text string) string {
	return t.styled(r, t.Plain(text))
}

// styled is Style for text that has passed Plain.
func (t *Theme) styled(r Role, text string) string {
	if text == "" || r >= roleCount || t.on[r] == "" {
		return text
	}
	return t.on[r] + text + reset
}

// Plain is the text as this theme may draw it: cleaned, free of a mark at its
// beginning that would cling to what stands before it, and, in ASCII, spelled
// with ASCII characters.
func (t *Theme) Plain(text string) string {
	text = detach("x", Clean(text))
	if t.ascii {
		text = spell(text)
	}
	return text
}
