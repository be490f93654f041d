package procedures

import (
	"reflect"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"bay.example/pawl/job/phrase"
)

// fits checks that a value is of the kind its key takes, and says otherwise what was expected.
func (s *scanner) fits(is unstable.Kind, in reflect.Type, path []string) bool {
	ok := false
	switch in.Kind() {
	case reflect.String:
		ok = is == unstable.String
	case reflect.Int:
		ok = is == unstable.Integer
	case reflect.Bool:
		ok = is == unstable.Bool
	case reflect.Slice:
		ok = is == unstable.Array
	case reflect.Struct, reflect.Map:
		ok = is == unstable.InlineTable
	}
	if !ok {
		s.fault(phrase.Of("procedures.valuekinds.is-given-as-expected", s.named(path), givenAs(is), expected(in)))
	}
	return ok
}

// headerFits checks that a table in brackets stands where a table may, with as many brackets as its
// key takes.
func (s *scanner) headerFits(is unstable.Kind, in reflect.Type, path []string) {
	name := strings.Join(path, ".")
	switch {
	case in == nil:
	case in.Kind() == reflect.Slice && in.Elem().Kind() == reflect.Struct:
		if is != unstable.ArrayTable {
			s.fault(phrase.Of("procedures.valuekinds.double-brackets", name, name))
		}
	case in.Kind() == reflect.Map || in.Kind() == reflect.Struct:
		if is != unstable.Table {
			s.fault(phrase.Of("procedures.valuekinds.single-brackets", name, name))
		}
	default:
		s.fault(phrase.Of("procedures.valuekinds.is-given-as-expected", name, givenAs(is), expected(in)))
		s.rows = nil // nothing below it means anything
	}
}

func givenAs(is unstable.Kind) string {
	switch is {
	case unstable.String:
		return phrase.Of("procedures.valuekinds.a-text")
	case unstable.Integer:
		return phrase.Of("procedures.valuekinds.a-whole-number")
	case unstable.Float:
		return phrase.Of("procedures.valuekinds.a-number")
	case unstable.Bool:
		return phrase.Of("procedures.valuekinds.true-or-false")
	case unstable.LocalDate, unstable.LocalTime, unstable.LocalDateTime, unstable.DateTime:
		return phrase.Of("procedures.valuekinds.a-date-or-time-without-quotes")
	case unstable.Array:
		return phrase.Of("procedures.valuekinds.a-list")
	}
	return phrase.Of("procedures.valuekinds.a-table")
}

func expected(in reflect.Type) string {
	switch in.Kind() {
	case reflect.Int:
		return phrase.Of("procedures.valuekinds.a-whole-number")
	case reflect.Bool:
		return phrase.Of("procedures.valuekinds.true-or-false")
	case reflect.Struct, reflect.Map:
		return phrase.Of("procedures.valuekinds.a-table")
	case reflect.Slice:
		switch in.Elem().Kind() {
		case reflect.String:
			return phrase.Of("procedures.valuekinds.a-list-of-texts")
		case reflect.Struct:
			return phrase.Of("procedures.valuekinds.a-list-of-tables")
		}
		return phrase.Of("procedures.valuekinds.a-list-of-numbers")
	}
	return phrase.Of("procedures.valuekinds.text-in-quotes")
}
