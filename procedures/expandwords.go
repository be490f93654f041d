package procedures

import (
	"reflect"
	"regexp"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// maxValue is the most bytes a parameter's value may have.
const maxValue = 200

var placeholder = regexp.MustCompile(`\{[^{}]*\}`)

// filled is a copy of a block with the values of an include in its texts, or nil after a fault.
func (e *expander) filled(tmpl *Block, in *Include, line int) *Block {
	values := map[string]string{}
	for _, p := range tmpl.Parameters {
		v, ok := in.With[p.ID]
		if !ok && p.Default == "" {
			e.add(line, "%s", phrase.Of("procedures.expandwords.the-block-needs-a-value-for-with", tmpl.ID, p.ID, p.Title, p.ID))
			return nil
		}
		if !ok {
			v = p.Default
		}
		values[p.ID] = v
	}
	for _, id := range sortedKeys(in.With) {
		switch v := in.With[id]; {
		case !slices.ContainsFunc(tmpl.Parameters, func(p Parameter) bool { return p.ID == id }):
			e.add(line, "%s", phrase.Of("procedures.expandwords.the-block-has-no-parameter", tmpl.ID, id))
			return nil
		case len(v) > maxValue || strings.ContainsAny(v, "{}"):
			e.add(line, "%s", phrase.Of("procedures.expandwords.the-value-of-has-bytes-or-holds", id, len(v), maxValue))
			return nil
		}
	}
	f := &filler{values: values, left: e.left}
	b := f.copy(reflect.ValueOf(*tmpl)).Interface().(Block)
	e.left = f.left
	b.file, b.lines = tmpl.file, tmpl.lines
	if f.unknown != "" {
		e.faults = append(e.faults, Fault{File: tmpl.file, Text: phrase.Of("procedures.expandwords.the-text-names-no-parameter-of-the", f.unknown)})
		return nil
	}
	return &b
}

// filler copies a value deep and fills the placeholders of its texts.
type filler struct {
	values  map[string]string
	left    int
	unknown string
}

func (f *filler) copy(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.String:
		out.SetString(f.text(v.String()))
	case reflect.Slice:
		if v.IsNil() {
			break
		}
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := 0; i < v.Len() && f.left >= 0; i++ {
			out.Index(i).Set(f.copy(v.Index(i)))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				out.Field(i).Set(f.copy(v.Field(i)))
			}
		}
	default:
		out.Set(v)
	}
	return out
}

func (f *filler) text(s string) string {
	if strings.Contains(s, "{") {
		s = placeholder.ReplaceAllStringFunc(s, func(m string) string {
			name := m[1 : len(m)-1]
			v, ok := f.values[name]
			if first := strings.ToUpper(name[:min(1, len(name))]); !ok && first != "" && name[:1] == first {
				if v, ok = f.values[strings.ToLower(first)+name[1:]]; ok && v != "" {
					v = phrase.Capital(v) // {Axle} is {axle} at the head of a sentence
				}
			}
			if !ok && f.unknown == "" {
				f.unknown = m
			}
			return v
		})
	}
	f.left -= len(s)
	return s
}

// rename gives stages, states, findings, decisions and deviations of a block other names, everywhere in it.
func (e *expander) rename(b *Block, in *Include, line int) {
	if len(in.Rename) == 0 {
		return
	}
	own := map[string]bool{}
	for _, s := range b.Stages {
		own[s.ID] = true
	}
	for _, s := range b.States {
		own[s.ID] = true
	}
	for _, q := range slices.Concat(b.Findings, b.Decisions) {
		own[q.ID] = true
	}
	for _, d := range b.Deviations {
		own[d.ID] = true
	}
	for _, id := range sortedKeys(in.Rename) {
		if !own[id] && !slices.Contains(in.Without, id) && !b.mentions(id) {
			e.add(line, "%s", phrase.Of("procedures.expandwords.renames-which-the-block-neither-defines-nor", id, b.ID))
		}
	}
	to := func(id *string) {
		bare, maybe := strings.CutSuffix(*id, "?")
		if n, ok := in.Rename[bare]; ok {
			*id = n
			if maybe {
				*id += "?"
			}
		}
	}
	each := func(lists ...[]string) {
		for _, l := range lists {
			for i := range l {
				to(&l[i])
			}
		}
	}
	dotted := func(name *string) {
		if stage, check, ok := strings.Cut(*name, "."); ok {
			to(&stage)
			*name = stage + "." + check
		}
	}
	when := func(ws []Condition) {
		for i := range ws {
			to(&ws[i].Finding)
			to(&ws[i].Decision)
		}
	}
	for i := range b.States {
		to(&b.States[i].ID)
	}
	for _, list := range [][]Question{b.Findings, b.Decisions} {
		for i := range list {
			to(&list[i].ID)
		}
	}
	for i := range b.Deviations {
		to(&b.Deviations[i].ID)
		for k := range b.Deviations[i].Excuses {
			dotted(&b.Deviations[i].Excuses[k])
		}
	}
	for i := range b.Stages {
		s := &b.Stages[i]
		to(&s.ID)
		each(s.After, s.Disturbs, s.Sets, s.NeedsOpen, s.NeedsShut, s.OtherShut, s.IndependentOf, s.MakeSafeAfter)
		when(s.When)
		for k := range s.Clears {
			to(&s.Clears[k].State)
		}
		for k := range s.Reworks {
			each(s.Reworks[k].Again)
		}
		for k := range s.Checks {
			c := &s.Checks[k]
			dotted(&c.Same)
			to(&c.Finding)
			to(&c.Decision)
			when(c.When)
		}
	}
}

// change adds what an include says of a stage: texts, steps, cautions and roles take the place of
// the block's; names of stages and states and conditions are added; a check, a way out or a clearing
// takes the place of the one with its name, or is added behind.
func (e *expander) change(b *Block, in *Include, at, line int) {
	for _, ch := range in.Changes {
		id := ch.ID
		if n, ok := in.Rename[id]; ok {
			id = n
		}
		i := slices.IndexFunc(b.Stages, func(s Stage) bool { return s.ID == id })
		if i < 0 && slices.Contains(in.Without, ch.ID) {
			e.add(line, "%s", phrase.Of("procedures.expandwords.changes-the-stage-which-without-leaves-out", ch.ID))
			continue
		}
		if i < 0 {
			e.add(line, "%s", phrase.Of("procedures.expandwords.changes-the-stage-which-the-block-does", ch.ID, b.ID))
			continue
		}
		e.left -= size(reflect.ValueOf(ch))
		s := &b.Stages[i]
		s.changed(ch)
		for _, c := range ch.Checks {
			if n, ok := e.sc.lines[changeKey(at, ch.ID)+".check:"+c.ID]; ok {
				e.p.places["stage:"+id+".check:"+c.ID] = place{file: e.p.file, line: n}
			}
		}
	}
}

func (s *Stage) changed(ch Stage) {
	from, to := reflect.ValueOf(ch), reflect.ValueOf(s).Elem()
	for i := range from.NumField() {
		name := from.Type().Field(i).Name
		f, t := from.Field(i), to.Field(i)
		if f.IsZero() || name == "ID" {
			continue
		}
		switch name {
		case "After", "Disturbs", "When", "Sets", "NeedsOpen", "NeedsShut", "OtherShut", "MakeSafeAfter", "IndependentOf":
			t.Set(reflect.AppendSlice(t.Slice(0, t.Len()), f))
		case "Clears", "Checks", "Reworks":
		default:
			t.Set(f)
		}
	}
	s.Clears = joined(s.Clears, ch.Clears, func(x Clear) string { return strings.TrimSuffix(x.State, "?") })
	s.Checks = joined(s.Checks, ch.Checks, func(x Check) string { return x.ID })
	s.Reworks = joined(s.Reworks, ch.Reworks, func(x Rework) string { return x.ID })
}

func joined[T any](have, more []T, id func(T) string) []T {
	for _, x := range more {
		if i := slices.IndexFunc(have, func(y T) bool { return id(y) == id(x) }); i >= 0 {
			have[i] = x
		} else {
			have = append(have, x)
		}
	}
	return have
}

// size is the bytes of text below a value.
func size(v reflect.Value) int {
	n := 0
	switch v.Kind() {
	case reflect.String:
		return v.Len()
	case reflect.Slice:
		for i := range v.Len() {
			n += size(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			n += size(v.Field(i))
		}
	}
	return n
}
