package command

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// maxLine is the most bytes of one entry line; a longer one is refused unread.
const maxLine = 64 << 10

// entryLine is one line of pawl enter, understood but not yet done.
type entryLine struct {
	do       string
	by, code string
	expect   job.Code      // the refusal the writer expects; empty: none
	open     *store.NewJob // do is "open"
	intent   reflect.Value // otherwise: a settable struct of job
	people   []named       // fields of the intent that name somebody
	values   []string      // enter: one value for each item still missing
}

// named is a field of an intent that is filled with a person of the register, whose code is checked.
type named struct {
	index    int
	id, code string
}

// doOpen begins a job; every other deed is an intent of package job.
const doOpen = "open"

// intents are the deeds by the name of their type.
var intents = func() map[string]reflect.Type {
	m := map[string]reflect.Type{}
	for _, i := range []job.Intent{
		job.Enter{}, job.Sign{}, job.Countersign{}, job.Again{}, job.Interrupted{}, job.Pause{}, job.Resume{},
		job.Deviate{}, job.Withhold{}, job.Lift{}, job.Abandon{}, job.Declare{}, job.Cancel{}, job.SignSafe{},
		job.SwapSides{}, job.Recheck{}, job.Ask{}, job.NotSure{}, job.Help{}, job.MeasureBlind{},
		job.Advise{}, job.DecideAdvice{}, job.Append{}, job.Follow{}, job.AnswerQuestion{}, job.FindFault{}, job.CallReal{},
	} {
		t := reflect.TypeOf(i)
		m[snake(t.Name())] = t
	}
	return m
}()

func deeds() []string {
	out := []string{doOpen}
	for name := range intents {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// snake turns a Go name into the form of the fields: PartsAt is parts_at.
func snake(name string) string {
	var b strings.Builder
	for i, r := range name {
		upper := r >= 'A' && r <= 'Z'
		if upper && i > 0 && !(name[i-1] >= 'A' && name[i-1] <= 'Z') {
			b.WriteByte('_')
		}
		if upper {
			r += 'a' - 'A'
		}
		b.WriteRune(r)
	}
	return b.String()
}

// parseLine reads one entry line. Unknown and repeated fields, other JSON than one object and
// values of the wrong kind are errors of one sentence.
func parseLine(data []byte) (entryLine, error) {
	if len(data) > maxLine {
		return entryLine{}, phrase.Error("command.enter.the-line-is-longer-than-bytes", maxLine)
	}
	if !utf8.Valid(data) {
		return entryLine{}, phrase.Error("command.entryline.the-line-is-not-valid-utf-8")
	}
	fields, err := members(data)
	if err != nil {
		return entryLine{}, err
	}
	var l entryLine
	take := func(name string, to *string) {
		if err == nil {
			err = textInto(name, fields[name], to)
		}
		delete(fields, name)
	}
	var expect string
	take("do", &l.do)
	take("by", &l.by)
	take("code", &l.code)
	take("expect", &expect)
	l.expect = job.Code(expect)
	if err != nil {
		return entryLine{}, err
	}
	switch t, known := intents[l.do]; {
	case l.do == "":
		return entryLine{}, phrase.Error("command.entryline.do-is-missing-it-says-what-to")
	case l.by == "":
		return entryLine{}, phrase.Error("command.entryline.by-is-missing-it-names-who-does")
	case l.do == doOpen:
		l.open = new(store.NewJob)
		err = l.fill(reflect.ValueOf(l.open).Elem(), fields)
	case known:
		if t == reflect.TypeOf(job.Enter{}) {
			if err = l.takeValues(fields); err != nil {
				return entryLine{}, err
			}
		}
		l.intent = reflect.New(t).Elem()
		err = l.fill(l.intent, fields)
	default:
		err = phrase.Error("command.entryline.is-nothing-to-do-expected-one-of", l.do, strings.Join(deeds(), ", "))
	}
	return l, err
}

// members reads one JSON object and keeps its members, none of them twice.
func members(data []byte) (map[string]json.RawMessage, error) {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	open, err := dec.Token()
	if err != nil {
		return nil, notJSON(err)
	}
	if open != json.Delim('{') {
		return nil, phrase.Error("command.entryline.the-line-is-no-json-object-expected")
	}
	out := map[string]json.RawMessage{}
	for dec.More() {
		key, err := dec.Token()
		if err != nil {
			return nil, notJSON(err)
		}
		name, ok := key.(string)
		if !ok {
			return nil, phrase.Error("command.entryline.the-line-is-not-json")
		}
		var value json.RawMessage
		if err := dec.Decode(&value); err != nil {
			return nil, notJSON(err)
		}
		if _, twice := out[name]; twice {
			return nil, phrase.Error("command.entryline.the-field-stands-twice", cut(name))
		}
		out[name] = value
	}
	if _, err := dec.Token(); err != nil {
		return nil, notJSON(err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return nil, phrase.Error("command.entryline.something-stands-behind-the-json-object-one")
	}
	return out, nil
}

func notJSON(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return phrase.Error("command.entryline.the-line-is-not-json-it-ends")
	}
	return phrase.Error("command.entryline.the-line-is-not-json-2", visible(err.Error()))
}

// cut shortens a foreign text inside a message.
func cut(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// takeValues reads "values", a list that fills the items of a check in their order.
func (l *entryLine) takeValues(fields map[string]json.RawMessage) error {
	raw, ok := fields["values"]
	if !ok {
		return nil
	}
	delete(fields, "values")
	if _, both := fields["value"]; both {
		return phrase.Error("command.entryline.give-value-or-values-not-both")
	}
	var items []json.RawMessage
	if err := json.Unmarshal(raw, &items); err != nil || len(items) == 0 {
		return phrase.Error("command.entryline.values-is-no-list-expected-one-such")
	}
	for _, item := range items {
		var v string
		if err := textInto("values", item, &v); err != nil {
			return err
		}
		l.values = append(l.values, v)
	}
	return nil
}

// fill sets the fields of a struct from JSON members; whatever is left over is unknown.
func (l *entryLine) fill(v reflect.Value, fields map[string]json.RawMessage) error {
	t := v.Type()
	var known []string
	for i := range t.NumField() {
		name := snake(t.Field(i).Name)
		known = append(known, name)
		raw, ok := fields[name]
		delete(fields, name)
		if f := v.Field(i); f.Type() == reflect.TypeFor[*register.Person]() {
			known = append(known, name+"_code")
			if err := l.name(i, name, raw, ok, fields); err != nil {
				return err
			}
			continue
		} else if f.Type() == reflect.TypeFor[procedures.Ref]() {
			known = append(known, "side")
			if err := refInto(name, raw, fields, f); err != nil {
				return err
			}
			continue
		}
		if ok {
			if err := into(name, raw, v.Field(i)); err != nil {
				return err
			}
		}
	}
	for name := range fields {
		return phrase.Error("command.entryline.has-no-field-expected", l.do, cut(name), strings.Join(known, ", "))
	}
	return nil
}

// name notes a field that names somebody, with the code that goes with it.
func (l *entryLine) name(index int, field string, raw json.RawMessage, given bool, fields map[string]json.RawMessage) error {
	n := named{index: index}
	codeRaw, hasCode := fields[field+"_code"]
	delete(fields, field+"_code")
	if !given {
		if hasCode {
			return phrase.Error("command.entryline.stands-without", field+"_code", field)
		}
		return nil
	}
	if err := textInto(field, raw, &n.id); err != nil {
		return err
	}
	if err := textInto(field+"_code", codeRaw, &n.code); err != nil {
		return err
	}
	l.people = append(l.people, n)
	return nil
}
