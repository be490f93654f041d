package draw

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Clean makes text from a person, a file or a scanner harmless to a terminal.
// Control characters (C0, DEL and C1), invalid UTF-8, format and direction
// characters, invisible fillers, line and paragraph separators, private-use
// characters and variation selectors each become U+FFFD. They are replaced, not
// dropped, so that one sees that something is there. Stored text stays as it is;
// this is for drawing only. Text with several lines is split before it is
// cleaned.
func Clean(text string) string {
	if harmless(text) {
		return text
	}
	var b strings.Builder
	for _, r := range text { // an invalid byte comes out of this as U+FFFD
		if hostile(r) {
			r = utf8.RuneError
		}
		b.WriteRune(r)
	}
	return b.String()
}

// harmless reports whether Clean has nothing to do.
func harmless(text string) bool {
	for i := 0; i < len(text); {
		if c := text[i]; c < utf8.RuneSelf {
			if c < 0x20 || c == 0x7f {
				return false
			}
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && n == 1 || hostile(r) {
			return false
		}
		i += n
	}
	return true
}

// hostile reports whether a character must not reach a terminal.
func hostile(r rune) bool {
	switch {
	case r < 0x20 || 0x7f <= r && r <= 0x9f:
		return true
	case r < 0xad:
		return false
	case r == 0x2028 || r == 0x2029:
		return true
	}
	return unicode.In(r, unicode.Cf, unicode.Co, unicode.Cs,
		unicode.Variation_Selector, unicode.Other_Default_Ignorable_Code_Point)
}

// spellings are the signs of the trade and letters that do not come apart into a
// letter and an accent, or are spelled otherwise, in ASCII.
var spellings = map[rune]string{
	'·': ".", '∙': ".", '•': "*", '°': " deg", 'µ': "u", 'μ': "u", '±': "+-", '≥': ">=", '≤': "<=", '−': "-", '–': "-", '—': "-",
	'…': "...", '×': "x", '÷': "/", '²': "2", '³': "3", '½': "1/2", '¼': "1/4", '¾': "3/4", '→': "->", '←': "<-",
	'Ω': "Ohm", 'Ø': "O", 'ø': "o", '“': "\"", '”': "\"", '„': "\"", '‘': "'", '’': "'", '‚': ",", '«': "<<", '»': ">>", '\u00a0': " ", '\u202f': " ",
	'Ä': "Ae", 'Ö': "Oe", 'Ü': "Ue", 'ä': "ae", 'ö': "oe", 'ü': "ue", 'ß': "ss", 'Æ': "Ae", 'æ': "ae", 'Å': "A", 'å': "a", 'Œ': "Oe", 'œ': "oe",
	'Ł': "L", 'ł': "l",
}

// spell writes clean text in ASCII: the known signs by their usual spelling, a
// letter with an accent without it, anything else as a question mark, so that nothing vanishes unseen.
func spell(text string) string {
	i := 0
	for i < len(text) && text[i] < utf8.RuneSelf {
		i++
	}
	if i == len(text) {
		return text
	}
	var b strings.Builder
	b.WriteString(text[:i])
	for _, r := range text[i:] {
		switch s, known := spellings[r]; {
		case r < utf8.RuneSelf:
			b.WriteRune(r)
		case known:
			b.WriteString(s)
		case unicode.Is(unicode.Mn, r):
			// An accent that stands after its letter: the letter is enough.
		default:
			letter := norm.NFD.String(string(r))[0]
			if letter >= utf8.RuneSelf {
				letter = '?'
			}
			b.WriteByte(letter)
		}
	}
	return b.String()
}
