package procedures

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// kindsOf names the kinds of check that a key means something to. Group, Adapter, Finding and Decision
// have sentences of their own.
var kindsOf = []struct {
	field string
	kinds []Kind
}{
	{"Options", []Kind{Choice}},
	{"Pass", []Kind{Choice}},
	{"Count", []Kind{Count}},
	{"Same", []Kind{Count}},
	{"PassNo", []Kind{Torque}},
	{"Window", []Kind{Count, Torque, Thickness, RunOut, Reading}},
	{"Spread", []Kind{Thickness, RunOut}},
	{"Unit", []Kind{Thickness, RunOut, Reading}},
	{"Points", []Kind{Thickness, RunOut}},
	{"NumPoints", []Kind{Thickness, RunOut}},
	{"Compare", []Kind{Count, Torque, Thickness, RunOut, Reading}},
	{"Against", []Kind{Count, Torque, Thickness, RunOut, Reading}},
	{"Nominal", []Kind{Thickness, RunOut}},
	{"Reckon", []Kind{Choice, Count, Torque, Thickness, RunOut, Reading}},
	{"Tools", []Kind{Torque, Thickness, RunOut, Reading}},
	{"Part", []Kind{Part}},
}

// keysOfKind checks that a check has no key that means nothing to its kind: its author thinks that
// something is asked for, and nothing is.
func (c *checker) keysOfKind(at func(string, ...any), k *Check) {
	known := []Kind{Confirm, Choice, Count, Torque, Thickness, RunOut, Reading, Part, Text}
	if !slices.Contains(known, k.Kind) {
		return // a fault of its own
	}
	for _, x := range kindsOf {
		f, _ := reflect.TypeFor[Check]().FieldByName(x.field)
		key, _, _ := strings.Cut(f.Tag.Get("toml"), ",")
		if !reflect.ValueOf(k).Elem().FieldByName(x.field).IsZero() && !slices.Contains(x.kinds, k.Kind) {
			names := strings.Trim(fmt.Sprint(x.kinds), "[]")
			at("%s", phrase.Of("procedures.checkkind.belongs-to-other-kinds", key, strings.ReplaceAll(names, " ", ", "), k.Kind))
		}
	}
}
