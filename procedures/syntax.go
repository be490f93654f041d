package procedures

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"bay.example/pawl/job/phrase"
)

// quotationMarks are those that word processors put in place of the straight ones.
const quotationMarks = "“”„‟‘’‚‛«»‹›″′＂"

// oneByte is a character as the TOML library names it: by its first byte alone.
var oneByte = regexp.MustCompile(`U\+[0-9A-F]{4,} '(?s:.*)'`)

// syntaxWords says what is wrong with the writing of a file in the words of its author.
func syntaxWords(data []byte, err *toml.DecodeError) (line int, text string) {
	line, column := err.Position()
	text = strings.TrimPrefix(err.Error(), "toml: ")
	row := lineOfText(data, line)
	rest := row[min(max(column-1, 0), len(row)):]
	r, n := utf8.DecodeRuneInString(rest)
	inQuotes := strings.Contains(text, "strings cannot have new lines")
	switch mark := strings.IndexAny(row, quotationMarks); {
	case n > 0 && strings.ContainsRune(quotationMarks, r):
		return line, phrase.Of("procedures.syntax.the-quotation-mark-is-not-straight", string(r))
	case inQuotes && mark >= 0:
		r, _ := utf8.DecodeRuneInString(row[mark:])
		return line, phrase.Of("procedures.syntax.the-quotation-mark-is-not-straight", string(r))
	case inQuotes:
		return line, phrase.Of("procedures.syntax.a-text-does-not-end-on-its-line")
	}
	atValue := strings.HasSuffix(text, "at start of value") || strings.HasPrefix(text, "expected keyword")
	switch word := firstWord(rest); {
	case atValue && strings.TrimSpace(rest) == "":
		return line, phrase.Of("procedures.syntax.no-value-behind-the-equals-sign")
	case atValue && slices.Contains([]string{"true", "false", "yes", "no", "on", "off"}, strings.ToLower(word)):
		return line, phrase.Of("procedures.syntax.is-neither-true-nor-false", word)
	case atValue && word != "":
		return line, phrase.Of("procedures.syntax.stands-without-quotes", word, word)
	case strings.HasPrefix(text, "expected newline but got"):
		return line, phrase.Of("procedures.syntax.stands-behind-the-value", shown(clip(strings.TrimSpace(rest), 40)))
	}
	if n > 0 {
		text = oneByte.ReplaceAllLiteralString(text, shown(string(r)))
	}
	return line, text
}

// lineOfText is one line of a file, from 1, without its end.
func lineOfText(data []byte, line int) string {
	n := 1
	for row := range bytes.Lines(data) {
		if n == line {
			return strings.TrimRight(string(row), "\r\n")
		}
		n++
	}
	return ""
}

// firstWord is what stands at the beginning up to a space or a sign.
func firstWord(text string) string {
	end := strings.IndexFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != '_'
	})
	if end < 0 {
		end = len(text)
	}
	return clip(text[:end], 40)
}
