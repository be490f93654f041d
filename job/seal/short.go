package seal

import (
	"strings"
	"unicode"

	"bay.example/pawl/job/phrase"
)

// Short is the first 135 bits of a seal's hash: enough that nobody composes two records with one
// seal (a search for that takes 2 to the power of 67 tries).
type Short [digits]byte

const (
	digits = 27 // of 5 bits each
	group  = 4  // characters printed together; the last one is the check character
)

// alphabet has no I, L, O and U, which are misread; Parse takes I and L for 1 and O for 0.
const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// Shorten takes the printed part of a hash.
func Shorten(hash [32]byte) Short {
	var s Short
	for i := range s {
		at := 5 * i
		pair := uint(hash[at/8])<<8 | uint(hash[at/8+1])
		s[i] = byte(pair >> (11 - at%8) & 31)
	}
	return s
}

// String writes the seal in seven groups of four characters. The last character checks the
// others, by the hybrid system of ISO/IEC 7064.
func (s Short) String() string {
	var b strings.Builder
	for i, v := range s {
		if i > 0 && i%group == 0 {
			b.WriteByte('-')
		}
		b.WriteByte(alphabet[v])
	}
	b.WriteByte(s.check())
	return b.String()
}

func (s Short) check() byte {
	text := make([]byte, digits)
	for i, v := range s {
		text[i] = alphabet[v]
	}
	return checkCharacter(string(text), alphabet)
}

// ParseShort reads a printed seal. Spaces, hyphens and small letters do not matter. The error is one
// sentence that says what is wrong with it.
func ParseShort(text string) (Short, error) {
	var s Short
	var read []rune
	for _, r := range text {
		switch r = unicode.ToUpper(r); {
		case unicode.IsSpace(r) || r == '-' || r == '‑':
			continue
		case r == 'I' || r == 'L':
			r = '1'
		case r == 'O':
			r = '0'
		}
		read = append(read, r)
	}
	if len(read) != digits+1 {
		return s, phrase.Error("seal.short.a-seal-has-characters-in-groups-of", digits+1, group, len(read))
	}
	for i, r := range read[:digits] {
		v := strings.IndexRune(alphabet, r)
		if v < 0 {
			return s, phrase.Error("seal.short.character-of-a-seal-cannot-be-expected", i+1, r, alphabet)
		}
		s[i] = byte(v)
	}
	if read[digits] != rune(s.check()) {
		return s, phrase.Error("seal.short.the-check-character-does-not-fit-a")
	}
	return s, nil
}

// checkCharacter works out the check character of a text over an alphabet of M characters by the
// hybrid system of ISO/IEC 7064, MOD M+1,M. It finds every single wrong character.
func checkCharacter(text, alphabet string) byte {
	m := len(alphabet)
	p := m
	for i := range len(text) {
		p += strings.IndexByte(alphabet, text[i])
		if p %= m; p == 0 {
			p = m
		}
		p = p * 2 % (m + 1)
	}
	return alphabet[(m+1-p)%m]
}
