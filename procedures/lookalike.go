package procedures

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// alikes are letters of other alphabets that most fonts draw as one of ours: those of Unicode
// Technical Standard 39 (confusables) that a keyboard gives. A letter that is missing here is only
// not warned of.
var alikes = strings.NewReplacer(
	// Cyrillic
	"а", "a", "е", "e", "о", "o", "р", "p", "с", "c", "у", "y", "х", "x", "і", "i", "ј", "j", "ѕ", "s", "ԁ", "d", "һ", "h", "ԛ", "q", "ԝ", "w", "ӏ", "l",
	"А", "A", "В", "B", "Е", "E", "К", "K", "М", "M", "Н", "H", "О", "O", "Р", "P", "С", "C", "Т", "T", "У", "Y", "Х", "X", "І", "I", "Ј", "J", "Ѕ", "S",
	// Greek
	"α", "a", "ο", "o", "ν", "v", "ι", "i", "ρ", "p", "υ", "u", "κ", "k",
	"Α", "A", "Β", "B", "Ε", "E", "Ζ", "Z", "Η", "H", "Ι", "I", "Κ", "K", "Μ", "M", "Ν", "N", "Ο", "O", "Ρ", "P", "Τ", "T", "Υ", "Y", "Χ", "X",
	// Latin letters that are no ASCII
	"ı", "i", "ɑ", "a", "ɡ", "g",
)

// lookOfWords folds what a reader cannot tell apart in a text: letters of other alphabets, other
// forms of one character, what has no width, and the kind and number of spaces.
func lookOfWords(text string) string {
	visible := strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, norm.NFKC.String(text))
	return strings.Join(strings.Fields(alikes.Replace(visible)), " ")
}

// alike returns what stands before place i of the list and cannot be told from it.
func alike(list []string, i int) (string, bool) {
	k := slices.IndexFunc(list[:i], func(x string) bool { return lookOfWords(x) == lookOfWords(list[i]) })
	if k < 0 {
		return "", false
	}
	return list[k], true
}

// shown quotes a text for a message. One that only looks like plain letters, or that mixes
// alphabets, is written with the numbers of its characters: on the screen nothing else tells it from
// what was meant.
func shown(text string) string {
	if mixesAlphabets(text) || isASCII(lookOfWords(text)) {
		return strconv.QuoteToASCII(text)
	}
	return strconv.Quote(text)
}

func isASCII(text string) bool {
	return strings.IndexFunc(text, func(r rune) bool { return r > unicode.MaxASCII }) < 0
}

func mixesAlphabets(text string) bool {
	have := 0
	for _, alphabet := range []*unicode.RangeTable{unicode.Latin, unicode.Cyrillic, unicode.Greek} {
		if strings.IndexFunc(text, func(r rune) bool { return unicode.Is(alphabet, r) }) >= 0 {
			have++
		}
	}
	return have > 1
}
