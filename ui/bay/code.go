package bay

import (
	"errors"
	"math"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// vouched is what code and who end with: the person whose code was right, and what Do brought.
type vouched struct {
	Person register.Person
	Value  any
}

// code asks for the personal code of one person and does something in that name. Enter acts only
// when a code was typed; nothing is the default.
type code struct {
	title  string
	text   []line
	person register.Person
	do     func(f *store.File, who store.Actor) (any, error)
	field  field
	wrong  string
	first  int // the first line of the text shown, where there is no room for all
}

// newCode asks that person for the code. Do runs right after the code was found right, in the same
// call; nil does nothing. The dialog ends with a vouched, or with Do's error. A wrong code stays.
func newCode(title string, text []line, p register.Person, do func(f *store.File, who store.Actor) (any, error)) *code {
	return &code{title: title, text: text, person: p, do: do, field: field{most: 12}}
}

// errCode marks the errors that are about the code itself.
type errCode struct{ error }

// Head is the title.
func (d *code) Head(*Env) string { return d.title }

// Focus is the code.
func (d *code) Focus() Focus { return FocusCode }

// Keys are Enter and Esc.
func (d *code) Keys(*Env) []Binding {
	off := ""
	if d.field.text == "" {
		off = phrase.Of("bay.code.type-the-personal-code-first-esc-goes")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.code.sign-with-the-code"), Off: off, Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.code.scroll-the-text")}, {Key: "Esc", Word: phrase.Of("bay.code.back-nothing-happens"), Bar: true}}
}

// Update takes the digits and asks the store.
func (d *code) Update(_ *Env, in Input) Action {
	switch in := in.(type) {
	case Key:
		switch {
		case in.Sym == Esc:
			return Cancel{}
		case in.Sym == Enter && in.Again:
			return nil
		case in.Sym == Enter:
			return d.ask()
		case in.Sym == Up:
			d.first--
			return nil
		case in.Sym == Down:
			d.first++
			return nil
		case d.field.take(in, FocusCode):
			d.wrong = ""
			return nil
		}
		return Unknown{}
	case Scan:
		return Say{Text: phrase.Of("bay.code.a-code-is-typed-never-scanned-a"), Role: draw.Warn}
	case Paste:
		return Say{Text: phrase.Of("bay.code.a-code-is-typed-never-pasted"), Role: draw.Warn}
	case Result:
		return d.result(in)
	}
	return nil
}

func (d *code) ask() Action {
	p, typed, do := d.person, d.field.text, d.do
	return Call{Name: "code", Do: func(f *store.File) (any, error) {
		if err := f.CheckCode(p.ID, typed); err != nil {
			return nil, errCode{err}
		}
		if do == nil {
			return vouched{Person: p}, nil
		}
		v, err := do(f, store.Actor{Person: p, CodeGiven: true})
		return vouched{Person: p, Value: v}, err
	}}
}

func (d *code) result(r Result) Action {
	d.field.clear()
	var wrong errCode
	if errors.As(r.Err, &wrong) {
		d.wrong = wrong.Error()
		return nil
	}
	return Done{Value: r.Value, Err: r.Err}
}

// lines are the text from its first line shown, as much of it as leaves the field in view in h lines,
// and the field.
func (d *code) lines(t *draw.Theme, w, h int, first *int) []string {
	out := []string{""}
	out = append(out, t.Style(draw.Text, phrase.Of("bay.code.personal-code-of"))+t.Style(draw.Title, d.person.Name)+t.Style(draw.Text, ":"), d.field.dots(t, min(w, 24)))
	if d.wrong != "" {
		out = append(out, drawLines(t, []line{{role: draw.Bad, text: d.wrong}}, w)...)
	}
	return append(scrolled(t, drawLines(t, d.text, w), h-len(out), first), out...)
}

// Height is the text, the field and what was wrong.
func (d *code) Height(e *Env, w int) int { return len(d.lines(e.Theme, w, math.MaxInt, new(int))) }

// View shows what is signed and the dots.
func (d *code) View(e *Env, w, h int) string {
	return strings.Join(d.lines(e.Theme, w, h, &d.first), "\n")
}
