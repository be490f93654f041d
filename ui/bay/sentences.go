package bay

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"bay.example/pawl/job/phrase"
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
func (e *Env) decimals(text string) string { return phrase.Decimal(text) }

// alsoIn is a value in another unit of its kind, to be read beside it and never judged; empty where
// it is the same unit or none of its kind.
func (e *Env) alsoIn(q quantity.Quantity, u quantity.Unit, places int) string {
	if u == "" || q.IsZero() || q.Unit == u || !q.Unit.Same(u) {
		return ""
	}
	c, err := q.Convert(u, places)
	if err != nil {
		return ""
	}
	return e.number(c)
}

// torqueAlso is a torque window in the unit the workshop also wants to read, rounded to a tenth.
func (e *Env) torqueAlso(w quantity.Window) string {
	if w.Dimension() != quantity.Torque {
		return ""
	}
	low, high := e.alsoIn(w.Low, e.Workshop.TorqueUnit, 1), e.alsoIn(w.High, e.Workshop.TorqueUnit, 1)
	switch {
	case low == "" && high == "":
		return ""
	case high == "":
		return phrase.Of("bay.sentences.about-at-least", low)
	case low == "":
		return phrase.Of("bay.sentences.about-at-most", high)
	}
	number, _, _ := strings.Cut(low, " ")
	return phrase.Of("bay.sentences.about-to", number, high)
}
