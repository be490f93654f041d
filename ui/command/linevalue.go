package command

import (
	"bytes"
	"encoding/json"
	"reflect"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// refInto reads a stage written "wheel-off/left", or "wheel-off" with "side" beside it.
func refInto(name string, raw json.RawMessage, fields map[string]json.RawMessage, to reflect.Value) error {
	var text, side string
	if err := textInto(name, raw, &text); err != nil {
		return err
	}
	if err := textInto("side", fields["side"], &side); err != nil {
		return err
	}
	delete(fields, "side")
	ref := procedures.ParseRef(text)
	if side != "" {
		if ref.Side != procedures.NoSide {
			return phrase.Error("command.linevalue.names-a-side-already-and-stands-beside", text, "side")
		}
		ref.Side = procedures.Side(side)
	}
	to.Set(reflect.ValueOf(ref))
	return nil
}

// textInto reads text. A bare number is taken as it is written, so that nothing is rounded.
func textInto(name string, raw json.RawMessage, to *string) error {
	if raw == nil {
		return nil
	}
	var v any
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.UseNumber()
	if err := dec.Decode(&v); err != nil {
		return notJSON(err)
	}
	switch x := v.(type) {
	case string:
		*to = x
	case json.Number:
		*to = x.String()
	default:
		return phrase.Error("command.linevalue.is-neither-text-nor-a-number", name)
	}
	return nil
}

func into(name string, raw json.RawMessage, to reflect.Value) error {
	wrong := func(want string) error { return phrase.Error("command.linevalue.expected", name, want) }
	switch to.Interface().(type) {
	case *job.AdapterUse:
		a, err := adapterFrom(raw)
		to.Set(reflect.ValueOf(a))
		return err
	case procedures.StateRef:
		var text string
		if err := textInto(name, raw, &text); err != nil {
			return err
		}
		r := procedures.ParseRef(text)
		to.Set(reflect.ValueOf(procedures.StateRef{State: r.Stage, Side: r.Side}))
		return nil
	case map[string]string:
		var m map[string]string
		if json.Unmarshal(raw, &m) != nil {
			return wrong(phrase.Of("command.linevalue.an-object-of-texts-such-as-disc"))
		}
		to.Set(reflect.ValueOf(m))
		return nil
	case []string:
		var list []string
		if json.Unmarshal(raw, &list) != nil {
			return wrong(phrase.Of("command.linevalue.a-list-of-texts"))
		}
		to.Set(reflect.ValueOf(list))
		return nil
	}
	switch to.Kind() {
	case reflect.String:
		var text string
		if err := textInto(name, raw, &text); err != nil {
			return err
		}
		to.SetString(text)
	case reflect.Bool:
		var b bool
		if json.Unmarshal(raw, &b) != nil {
			return wrong(phrase.Of("command.linevalue.true-or-false"))
		}
		to.SetBool(b)
	case reflect.Int:
		var n int32
		if json.Unmarshal(raw, &n) != nil {
			return wrong(phrase.Of("command.linevalue.a-whole-number"))
		}
		to.SetInt(int64(n))
	case reflect.Uint32:
		var n uint32
		if json.Unmarshal(raw, &n) != nil {
			return wrong(phrase.Of("command.linevalue.a-whole-number"))
		}
		to.SetUint(uint64(n))
	default:
		return phrase.Error("command.linevalue.cannot-be-given-in-a-line", name)
	}
	return nil
}

// adapterFrom reads {"length": "300 mm", "offset": "40 mm", "angle": "0°"}.
func adapterFrom(raw json.RawMessage) (*job.AdapterUse, error) {
	fields, err := members(raw)
	if err != nil {
		return nil, phrase.Error("command.linevalue.adapter-is-no-object-expected-one-such")
	}
	var a job.AdapterUse
	for _, x := range []struct {
		name string
		unit quantity.Unit
		to   *quantity.Quantity
	}{{"length", quantity.Millimetre, &a.Length}, {"offset", quantity.Millimetre, &a.Offset}, {"angle", quantity.Degree, &a.Angle}} {
		raw, ok := fields[x.name]
		delete(fields, x.name)
		if !ok {
			continue
		}
		var text string
		if err := textInto(phrase.Of("command.linevalue.adapter", x.name), raw, &text); err != nil {
			return nil, err
		}
		if *x.to, err = quantity.Parse(text, x.unit); err != nil {
			return nil, phrase.Error("command.linevalue.adapter-2", x.name, err)
		}
	}
	for name := range fields {
		return nil, phrase.Error("command.linevalue.adapter-has-no-field-expected-length-offset", cut(name))
	}
	return &a, nil
}
