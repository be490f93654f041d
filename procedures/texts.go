package procedures

import (
	"fmt"
	"reflect"
	"strings"
	"unicode"

	"bay.example/pawl/job/phrase"
)

// tidy refuses what no honest file holds: a list without end, and text that would steer the
// terminal it is shown on. v points to a Procedure or a Sheet.
func tidy(file string, v any) error {
	if text := untidy(reflect.ValueOf(v).Elem(), ""); text != "" {
		return Faults{{File: file, Text: text}}
	}
	return nil
}

// untidy returns what is wrong with the first bad value below v, or "". key is where v stands.
func untidy(v reflect.Value, key string) string {
	switch v.Kind() {
	case reflect.String:
		if i := strings.IndexFunc(v.String(), steers); i >= 0 {
			return phrase.Of("procedures.texts.holds-a-control-character-a-text-is", key, v.String())
		}
	case reflect.Slice:
		if v.Len() > maxList && v.Type() != reflect.TypeFor[[]Stage]() {
			return phrase.Of("procedures.texts.lists-entries-at-most-are-taken", key, v.Len(), maxList)
		}
		for i := range v.Len() {
			at := key
			if e := v.Index(i); e.Kind() == reflect.Struct && e.FieldByName("ID").IsValid() {
				at = fmt.Sprintf("%s %+q", key, e.FieldByName("ID").String())
			}
			if text := untidy(v.Index(i), at); text != "" {
				return text
			}
		}
	case reflect.Map:
		if v.Len() > maxList {
			return phrase.Of("procedures.texts.lists-entries-at-most-are-taken", key, v.Len(), maxList)
		}
		for _, k := range v.MapKeys() {
			if text := untidy(k, key) + untidy(v.MapIndex(k), key); text != "" {
				return text
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("toml"), ",")
			if name == "" {
				continue
			}
			if text := untidy(v.Field(i), strings.TrimSpace(key+" "+name)); text != "" {
				return text
			}
		}
	}
	return ""
}

// steers reports whether a character could move a cursor, colour a screen or turn a line round.
func steers(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029' || r == unicode.ReplacementChar
}
