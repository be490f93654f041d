package paper

import (
	"encoding"
	"reflect"
	"strings"
	"time"
	"unicode"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// eventName is the name of an event in JSON: "entered", "advice_decided".
func eventName(b job.Body) string { return snake(reflect.TypeOf(b).Name()) }

// factsOf are the members of an event in snake form; what is empty is left out.
func factsOf(b job.Body) map[string]any {
	out := map[string]any{}
	fields(reflect.ValueOf(b), out)
	return out
}

func fields(v reflect.Value, out map[string]any) {
	for i := range v.NumField() {
		f, x := v.Type().Field(i), v.Field(i)
		if !f.IsExported() || x.IsZero() {
			continue
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "" {
			name = snake(f.Name)
		}
		out[name] = fact(x)
	}
}

// fact turns a value into what JSON holds.
func fact(v reflect.Value) any {
	switch x := v.Interface().(type) {
	case quantity.Quantity:
		return map[string]any{"number": x.Number, "unit": string(x.Unit)}
	case quantity.Window:
		out := map[string]any{"text": x.String()}
		if !x.Low.IsZero() {
			out["low"] = fact(reflect.ValueOf(x.Low))
		}
		if !x.High.IsZero() {
			out["high"] = fact(reflect.ValueOf(x.High))
		}
		return out
	case procedures.Ref:
		return x.String()
	case procedures.StateRef:
		return x.String()
	case job.Evidence:
		return x.String()
	case time.Time:
		return x
	case encoding.TextMarshaler:
		if text, err := x.MarshalText(); err == nil {
			return string(text)
		}
		return nil
	}
	switch v.Kind() {
	case reflect.Pointer:
		return fact(v.Elem())
	case reflect.Struct:
		out := map[string]any{}
		fields(v, out)
		return out
	case reflect.Slice:
		list := make([]any, v.Len())
		for i := range list {
			list[i] = fact(v.Index(i))
		}
		return list
	}
	return v.Interface()
}

// snake turns a Go name into the form of JSON members: AllAtOnce is all_at_once.
func snake(name string) string {
	var b strings.Builder
	for i, r := range name {
		if unicode.IsUpper(r) {
			if i > 0 {
				b.WriteByte('_')
			}
			r = unicode.ToLower(r)
		}
		b.WriteRune(r)
	}
	return b.String()
}
