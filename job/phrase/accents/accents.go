// Package accents reads what the program says in en-XA, the pseudo-language of English in letters
// with accents, for tests: run with PAWL_LANGUAGE=en-XA they hold as they do in English, and what
// stands on a screen without accents did not come from the catalogue.
package accents

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"bay.example/pawl/job/phrase"
)

// On tells whether the program speaks en-XA.
func On() bool { return phrase.Language() == "en-XA" }

// Off is a text without its accents, and in any other language the text itself.
func Off(text string) string {
	if !On() {
		return text
	}
	return strings.Map(func(r rune) rune {
		if letter := norm.NFD.String(string(r))[0]; letter < utf8.RuneSelf {
			return rune(letter)
		}
		return r
	}, text)
}

var (
	escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")
	// whole is a run of letters and what clings to it: a word of a path, an id or a text that was
	// cut short is none of the program's.
	whole = regexp.MustCompile(`[^\s()\[\]"“”:;,│|]+`)
	four  = regexp.MustCompile(`^[A-Za-z]{4,}[.?!]?$`)
)

// Missing lists the words of a text of en-XA that have no accent, without those that stand in a path,
// in an id or before the mark of a cut.
func Missing(text string) []string {
	var out []string
	for _, w := range whole.FindAllString(escapes.ReplaceAllString(text, ""), -1) {
		if four.MatchString(w) {
			out = append(out, strings.ToLower(strings.TrimRight(w, ".?!")))
		}
	}
	return out
}
