package phrase

import (
	"errors"
	"fmt"
	"reflect"
	"slices"

	"golang.org/x/text/feature/plural"
)

// Of is the text of a key with its arguments put in, as by fmt.Sprintf. Without arguments it is the
// text as it stands in the file. A key that no file has is returned itself; the tests of this
// package see to it that the program asks for none.
func Of(key string, args ...any) string {
	return spoken.say(key, args)
}

func (s *speech) say(key string, args []any) string {
	t, ok := s.text(key)
	switch {
	case !ok:
		return key
	case len(args) == 0:
		return t.other
	}
	return fmt.Sprintf(t.other, named(args)...)
}

// decimal is a value that people read with the decimal mark of the workshop.
type decimal interface{ Shown() string }

// named gives the words of the record among the arguments their names. They have types of their own,
// such as a role, a side or a verdict; a plain string is what somebody typed and stays.
func named(args []any) []any {
	out := args
	for i, a := range args {
		word := ""
		switch a := a.(type) {
		case string, error, nil:
			continue
		case decimal:
			if !decimalComma.Load() {
				continue
			}
			if &out[0] == &args[0] {
				out = slices.Clone(args)
			}
			out[i] = a.Shown()
			continue
		case fmt.Stringer:
			word = a.String()
		default:
			v := reflect.ValueOf(a)
			if v.Kind() != reflect.String {
				continue
			}
			word = v.String()
		}
		name, ok := spoken.words[word]
		if !ok {
			continue
		}
		if &out[0] == &args[0] {
			out = slices.Clone(args)
		}
		out[i] = name
	}
	return out
}

// Error is an error with the text of a key; %w wraps its argument as in fmt.Errorf.
func Error(key string, args ...any) error {
	t, ok := spoken.text(key)
	switch {
	case !ok:
		return errors.New(key)
	case len(args) == 0:
		return errors.New(t.other)
	}
	return fmt.Errorf(t.other, named(args)...)
}

// Count is the text of a key in the plural form that n takes; n is its first argument.
func Count(key string, n int, args ...any) string {
	return spoken.count(key, n, args)
}

func (s *speech) count(key string, n int, args []any) string {
	t, ok := s.text(key)
	if !ok {
		return key
	}
	format := t.other
	if f, ok := t.forms[plural.Cardinal.MatchPlural(s.tagOf(key), max(n, -n), 0, 0, 0, 0)]; ok {
		format = f
	}
	return fmt.Sprintf(format, append([]any{n}, named(args)...)...)
}

// Word is what a word of the record is called on a screen or on paper. The record itself, the export
// and the command line keep the word as it is; one that has no name is shown as it is too.
func Word[T ~string](recorded T) string {
	if name, ok := spoken.words[string(recorded)]; ok {
		return name
	}
	return string(recorded)
}

// Language is the BCP 47 tag of the language in use, such as en.
func Language() string { return spoken.tag.String() }

// Words are what several words of the record are called.
func Words[T ~string](recorded []T) []string {
	out := make([]string, len(recorded))
	for i, r := range recorded {
		out[i] = Word(r)
	}
	return out
}
