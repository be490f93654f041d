package phrase

import (
	"regexp"
	"strings"

	"golang.org/x/text/feature/plural"
)

// letters puts an accent on each letter that has one in Latin-1 or Latin Extended-A, which keeps its
// width on a screen. Each comes apart again into its letter and a mark (Unicode NFD).
var letters = strings.NewReplacer(
	"a", "á", "c", "ç", "d", "ď", "e", "é", "g", "ĝ", "h", "ĥ", "i", "í", "j", "ĵ", "k", "ķ", "l", "ļ", "n", "ñ", "o", "ó", "r", "ŕ", "s", "š", "t", "ţ", "u", "û", "w", "ŵ", "y", "ý", "z", "ž",
	"A", "Á", "C", "Ç", "D", "Ď", "E", "É", "G", "Ĝ", "H", "Ĥ", "I", "Î", "J", "Ĵ", "K", "Ķ", "L", "Ļ", "N", "Ñ", "O", "Ó", "R", "Ŕ", "S", "Š", "T", "Ţ", "U", "Û", "W", "Ŵ", "Y", "Ý", "Z", "Ž",
)

// verb is a verb of package fmt.
var verb = regexp.MustCompile(`%[-+#0]*(\[\d+\])?(\d+|\*)?(\.(\d+|\*)?)?(\[\d+\])?[a-zA-Z%]`)

// kept is what every language writes as it is: verbs, and the flags of the command line.
var kept = regexp.MustCompile(verb.String() + `|--[a-z][a-z-]*`)

// accent is the English catalogue in the pseudo-language en-XA.
func (c catalogue) accent() catalogue {
	out := catalogue{}
	for key, t := range c {
		a := text{other: accentText(t.other)}
		if t.forms != nil {
			a.forms = map[plural.Form]string{}
			for f, s := range t.forms {
				a.forms[f] = accentText(s)
			}
		}
		out[key] = a
	}
	return out
}

// accentText leaves the verbs of a format alone, and flags.
func accentText(s string) string {
	var b strings.Builder
	at := 0
	for _, keep := range kept.FindAllStringIndex(s, -1) {
		b.WriteString(letters.Replace(s[at:keep[0]]))
		b.WriteString(s[keep[0]:keep[1]])
		at = keep[1]
	}
	b.WriteString(letters.Replace(s[at:]))
	return b.String()
}
