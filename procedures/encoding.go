package procedures

import (
	"bytes"
	"unicode/utf8"

	"bay.example/pawl/job/phrase"
)

// withoutMark drops the byte order mark that some editors put before UTF-8 text.
func withoutMark(data []byte) []byte { return bytes.TrimPrefix(data, []byte("\uFEFF")) }

// unreadable says why bytes are no UTF-8 text, with the line of the first that is not, or "".
func unreadable(data []byte) (line int, text string) {
	for _, mark := range []string{"\xff\xfe", "\xfe\xff"} {
		if bytes.HasPrefix(data, []byte(mark)) {
			return 1, phrase.Of("procedures.encoding.the-file-is-utf-16")
		}
	}
	line = 1
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			return line, phrase.Of("procedures.encoding.the-line-is-not-valid-utf-8", data[i])
		case r == '\n':
			line++
		}
		i += n
	}
	return 0, ""
}
