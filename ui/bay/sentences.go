package bay

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"bay.example/pawl/job/quantity"
)

// sentence begins a text with a capital letter: errors of other packages do not.
func sentence(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 || !unicode.IsLower(r) {
		return text
	}
	if word, _, _ := strings.Cut(text, " "); strings.ContainsAny(word, "/.0123456789·") {
		return text // a unit, an id or a path keeps its spelling
	}
	return string(unicode.ToUpper(r)) + text[n:]
}

// number is a value as this workshop writes decimals.
func (e *Env) number(q quantity.Quantity) string { return e.decimals(q.String()) }

// decimals writes the decimal mark of a value in the way of the workshop. It is for values and
// windows only, never for names or sentences.
func (e *Env) decimals(text string) string {
	if !e.Workshop.DecimalComma {
		return text
	}
	// ".." between two limits stays.
	parts := strings.Split(text, "..")
	for i := range parts {
		parts[i] = strings.ReplaceAll(parts[i], ".", ",")
	}
	return strings.Join(parts, "..")
}

// plural is a count with its noun.
func plural(n int, noun string) string {
	switch {
	case n == 1:
		return "1 " + noun
	case strings.HasSuffix(noun, "ry"): // entry
		return strconv.Itoa(n) + " " + strings.TrimSuffix(noun, "y") + "ies"
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
