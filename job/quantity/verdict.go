package quantity

import (
	"bay.example/pawl/job/phrase"
)

// Verdict is what judging a quantity against a window gives.
type Verdict uint8

// The verdicts. NotProven means inside the window, but nearer to a limit than
// the instrument can tell.
const (
	Unjudged Verdict = iota
	Inside
	Outside
	NotProven
)

var verdictNames = [...]string{Unjudged: "unjudged", Inside: "inside", Outside: "outside", NotProven: "not proven"}

// String returns "unjudged", "inside", "outside" or "not proven".
func (v Verdict) String() string {
	if int(v) < len(verdictNames) {
		return verdictNames[v]
	}
	return phrase.Of("quantity.verdict.verdict", uint8(v))
}

// MarshalText writes the verdict as String shows it; an unknown verdict is an
// error.
func (v Verdict) MarshalText() ([]byte, error) {
	if int(v) >= len(verdictNames) {
		return nil, phrase.Error("quantity.verdict.verdict-is-not-known", uint8(v))
	}
	return []byte(v.String()), nil
}

// UnmarshalText reads what MarshalText wrote; anything else is an error.
func (v *Verdict) UnmarshalText(text []byte) error {
	for i, name := range verdictNames {
		if string(text) == name {
			*v = Verdict(i)
			return nil
		}
	}
	return phrase.Error("quantity.verdict.is-not-a-verdict-it-is-unjudged", quote(string(text)))
}
