package command

import (
	"encoding"
	"fmt"
	"reflect"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// eventObject is an event as JSON shows it. The members of the body are its fields in snake form;
// what is empty is left out.
func eventObject(e job.Event) object {
	o := object{}
	o.add("seq", e.Seq)
	o.add("event", snake(reflect.TypeOf(e.Body).Name()))
	o.add("at", stamp(e.At))
	o.add("by", e.By)
	o.add("station", e.Station)
	return append(o, fieldsOf(reflect.ValueOf(e.Body))...)
}

// fieldsOf turns a struct into members: names from the json tag or the field, nothing empty.
func fieldsOf(v reflect.Value) object {
	o := object{}
	t := v.Type()
	for i := range t.NumField() {
		f, x := t.Field(i), v.Field(i)
		if !f.IsExported() || x.IsZero() {
			continue
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-":
			continue
		case f.Anonymous && name == "":
			o = append(o, fieldsOf(x)...)
			continue
		case name == "":
			name = snake(f.Name)
		}
		o.add(name, shown(x))
	}
	return o
}

// shown turns a value into what JSON holds. Quantities keep their number as a string of the exact
// decimal; stages, verdicts and times are texts.
func shown(v reflect.Value) any {
	switch x := v.Interface().(type) {
	case quantity.Quantity:
		return plain(x)
	case quantity.Window:
		o := object{}
		o.add("text", x.String())
		o.add("low", plain(x.Low))
		o.add("high", plain(x.High))
		return o
	case procedures.Ref:
		return x.String()
	case procedures.StateRef:
		return x.String()
	case time.Time:
		return stamp(x)
	case encoding.TextMarshaler:
		if text, err := x.MarshalText(); err == nil {
			return string(text)
		}
		return nil
	case fmt.Stringer:
		if v.Kind() != reflect.Struct && v.Kind() != reflect.Pointer {
			return x.String()
		}
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil
		}
		return shown(v.Elem())
	case reflect.Struct:
		return fieldsOf(v)
	case reflect.Slice:
		list := make([]any, v.Len())
		for i := range list {
			list[i] = shown(v.Index(i))
		}
		return list
	}
	return v.Interface()
}

// eventWords is an event in one line of text, without its number, time and person.
func eventWords(c *job.Card, e job.Event) string {
	switch b := e.Body.(type) {
	case job.Opened:
		return phrase.Of("command.events.job-opened-on", b.Number, b.Vehicle.ID, b.Vehicle.Name, b.Odometer, b.Complaint)
	case job.Entered:
		return titleOf(c, b.Stage) + ": " + entryWords(c, b)
	case job.Signed:
		return phrase.Of("command.events.signed", titleOf(c, b.Stage), attemptWords(b.Attempt))
	case job.Countersigned:
		return phrase.Of("command.events.countersigned", titleOf(c, b.Stage), attemptWords(b.Attempt))
	case job.Reopened:
		return phrase.Of("command.events.attempt-begun", titleOf(c, b.Stage), b.Attempt, b.Reason)
	case job.Broken:
		return phrase.Of("command.events.pass-broken-off-after-it-begins-again", titleOf(c, b.Stage), b.Last)
	case job.Paused:
		return phrase.Of("command.events.job-stopped", b.Note)
	case job.Resumed:
		return phrase.Of("command.events.job-resumed")
	case job.Released:
		if b.Independent {
			return phrase.Of("command.events.released-independently-of-the-work")
		}
		return phrase.Of("command.events.released-no-independent-release")
	}
	return bodyWords(c, e.Body)
}

// bodyWords is any other event: its name and its fields.
func bodyWords(c *job.Card, body job.Body) string {
	v := reflect.ValueOf(body)
	parts := []string{}
	stage := ""
	for _, m := range fieldsOf(v) {
		if m.key == "stage" {
			if s, ok := m.value.(string); ok {
				stage = titleOf(c, procedures.ParseRef(s)) + ": "
			}
			continue
		}
		if s, ok := m.value.(string); ok {
			parts = append(parts, s)
		}
	}
	return stage + strings.ReplaceAll(snake(v.Type().Name()), "_", " ") + " " + strings.Join(parts, ", ")
}

func attemptWords(n int) string {
	if n < 2 {
		return ""
	}
	return phrase.Of("command.events.attempt", n)
}

func titleOf(c *job.Card, r procedures.Ref) string {
	if c != nil {
		if s := c.Stage(r); s != nil {
			return job.Title(s.Node)
		}
	}
	return r.String()
}

// entryWords is a recorded value in words: what for, the value, how it was got and its verdict.
func entryWords(c *job.Card, b job.Entered) string {
	name := b.Check
	if pc := checkOf(c, b); pc != nil {
		name = pc.Title
	}
	if b.Item != "" {
		name += ", " + b.Item
	}
	return name + ": " + valueHead(b) + valueTail(b)
}

// checkOf is the check an entry answers, or nil.
func checkOf(c *job.Card, b job.Entered) *procedures.PlanCheck {
	if s := c.Stage(b.Stage); s != nil {
		return s.Node.Check(b.Check)
	}
	return nil
}

// correctionWords says what an entry corrects.
func correctionWords(b job.Entered) string {
	text := ""
	if b.Replaces != 0 {
		text = phrase.Of("command.events.corrects-event", b.Replaces, b.Reason)
	}
	if b.Confirmed != nil {
		text += phrase.Of("command.events.confirmed-by", b.Confirmed.Name)
	}
	return text
}
