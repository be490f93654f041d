package phrase

import (
	"unicode"
	"unicode/utf8"
)

// Capital gives a sentence its capital letter.
func Capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return text
	}
	return string(unicode.ToUpper(r)) + text[n:]
}
