package procedures

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
)

// Change is one difference between two revisions of a procedure or a sheet.
type Change struct {
	Where    string // such as: stage "wheel-off" check "stud" title
	Old, New string // as in the file; empty where it was not or is no longer there
}

// String is the change in one line.
func (c Change) String() string {
	switch {
	case c.Old == "":
		return phrase.Of("procedures.diff.new", c.Where, c.New)
	case c.New == "":
		return phrase.Of("procedures.diff.gone-was", c.Where, c.Old)
	}
	return fmt.Sprintf("%s: %s → %s", c.Where, c.Old, c.New)
}

// DiffProcedures lists what a new revision of a procedure says otherwise than the old one, in the
// order of the new file. What has an id is compared with what has the same id; the order of such
// entries alone is no difference.
func DiffProcedures(old, next *Procedure) []Change {
	var d differ
	d.structs("", reflect.ValueOf(*old), reflect.ValueOf(*next))
	return d.out
}

// DiffSheets does the same for spec sheets.
func DiffSheets(old, next *Sheet) []Change {
	var d differ
	d.structs("", reflect.ValueOf(*old), reflect.ValueOf(*next))
	return d.out
}

type differ struct{ out []Change }

func (d *differ) structs(where string, old, next reflect.Value) {
	for i := range old.NumField() {
		name, _, _ := strings.Cut(old.Type().Field(i).Tag.Get("toml"), ",")
		if name == "" {
			continue
		}
		d.values(strings.TrimSpace(where+" "+name), old.Field(i), next.Field(i))
	}
}

func (d *differ) values(where string, old, next reflect.Value) {
	switch {
	case old.Kind() == reflect.Slice && old.Type().Elem().Kind() == reflect.Struct && old.Type().Elem().Field(0).Name == "ID":
		d.entries(where, old, next)
	case old.Kind() == reflect.Map:
		d.maps(where, old, next)
	default:
		if a, b := written(old), written(next); a != b {
			d.out = append(d.out, Change{where, a, b})
		}
	}
}

func (d *differ) entries(where string, old, next reflect.Value) {
	find := func(list reflect.Value, id string) (reflect.Value, bool) {
		for i := range list.Len() {
			if list.Index(i).Field(0).String() == id {
				return list.Index(i), true
			}
		}
		return reflect.Value{}, false
	}
	for i := range next.Len() {
		n := next.Index(i)
		at := fmt.Sprintf("%s %q", where, n.Field(0).String())
		if o, ok := find(old, n.Field(0).String()); ok {
			d.structs(at, o, n)
		} else {
			d.out = append(d.out, Change{Where: at, New: called(n)})
		}
	}
	for i := range old.Len() {
		o := old.Index(i)
		if _, ok := find(next, o.Field(0).String()); !ok {
			d.out = append(d.out, Change{Where: fmt.Sprintf("%s %q", where, o.Field(0).String()), Old: called(o)})
		}
	}
}

func (d *differ) maps(where string, old, next reflect.Value) {
	keys := map[string]bool{}
	for _, m := range []reflect.Value{old, next} {
		for _, k := range m.MapKeys() {
			keys[k.String()] = true
		}
	}
	for _, k := range sortedKeys(keys) {
		text := func(m reflect.Value) string {
			if v := m.MapIndex(reflect.ValueOf(k)); v.IsValid() {
				return written(v)
			}
			return ""
		}
		if a, b := text(old), text(next); a != b {
			d.out = append(d.out, Change{where + " " + k, a, b})
		}
	}
}

// called names an entry that came or went by its title or value.
func called(v reflect.Value) string {
	for _, name := range []string{"Title", "Value", "Document"} {
		if f := v.FieldByName(name); f.IsValid() && !f.IsZero() {
			return written(f)
		}
	}
	return written(v.Field(0))
}

// written is a value as a file would have it, or "" for one that is not given.
func written(v reflect.Value) string {
	if v.IsZero() {
		return ""
	}
	switch v.Kind() {
	case reflect.String:
		return strconv.Quote(v.String())
	case reflect.Slice:
		var parts []string
		for i := range v.Len() {
			parts = append(parts, written(v.Index(i)))
		}
		return "[" + strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ", ") + "]"
	case reflect.Struct:
		var parts []string
		for i := range v.NumField() {
			name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("toml"), ",")
			if text := written(v.Field(i)); name != "" && text != "" {
				parts = append(parts, name+" = "+text)
			}
		}
		return "{ " + strings.Join(parts, ", ") + " }"
	}
	return fmt.Sprint(v.Interface())
}
