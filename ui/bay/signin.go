package bay

import (
	"errors"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// signIn is the first screen of a workshop that is set up: who is it, and the code.
type signIn struct {
	pick   picker
	code   *code
	resume *store.Draft
}

// newSignIn makes the screen. The draft, when there is one, is the place the program opens at.
func newSignIn(resume *store.Draft) *signIn {
	return &signIn{pick: picker{field: field{most: 20}}, resume: resume}
}

// Head says what is asked.
func (s *signIn) Head(e *Env) string { return e.Workshop.Name }

// Focus is the list, then the code.
func (s *signIn) Focus() Focus {
	if s.code != nil {
		return FocusCode
	}
	return FocusText
}

// Keys are those of the list or of the code.
func (s *signIn) Keys(*Env) []Binding {
	if s.code != nil {
		off := ""
		if s.code.field.text == "" {
			off = phrase.Of("bay.signin.type-the-personal-code-first")
		}
		return []Binding{{Key: "Enter", Word: phrase.Of("bay.signin.sign-in"), Off: off, Bar: true}, {Key: "Esc", Word: phrase.Of("bay.signin.somebody-else"), Bar: true}}
	}
	return []Binding{{Key: "Up Down", Word: phrase.Of("bay.signin.move"), Bar: true}, {Key: "Enter", Word: phrase.Of("bay.signin.this-person"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.signin.leave"), Bar: true}}
}

// Update goes from the list to the code to the jobs.
func (s *signIn) Update(e *Env, in Input) Action {
	s.pick.people = working(e.Register, "")
	k, isKey := in.(Key)
	if s.code == nil {
		if isKey && k.Sym == Esc {
			return leave()
		}
		p, done, act := s.pick.take(in)
		if done {
			s.code = newCode("", nil, p, nil)
		}
		return act
	}
	if isKey && k.Sym == Esc {
		s.code = nil
		return nil
	}
	switch act := s.code.Update(e, in).(type) {
	case Done:
		s.code = nil
		v, ok := act.Value.(vouched)
		if act.Err != nil || !ok {
			return Say{Text: errors.Join(act.Err).Error(), Role: draw.Bad}
		}
		out := Many{SignIn{v.Person}, Restart{newJobs()}}
		switch d := s.resume; {
		case d == nil:
		case d.Vehicle == "":
			out = append(out, Push{newJobScreen(d.Job)})
		case d.Person == v.Person.ID: // nobody else gets what he typed
			out = append(out, Push{&newJob{find: finder{field: field{most: 40}}, resume: d}})
		}
		return out
	default:
		return act
	}
}

// View shows who works here.
func (s *signIn) View(e *Env, w, h int) string {
	t := e.Theme
	s.pick.people = working(e.Register, "")
	inner := min(w-6, 72)
	var out []string
	add := func(text ...string) { out = append(out, text...) }
	add("", t.Style(draw.Title, phrase.Of("bay.signin.who-is-working")))
	switch d := s.resume; {
	case d == nil:
	case d.Vehicle == "":
		add(t.Style(draw.Text, phrase.Of("bay.signin.job-was-left-open-it-comes-back", d.Job)))
	default:
		add(t.Style(draw.Text, phrase.Of("bay.signin.a-new-job-was-half-typed", d.Vehicle, name(e, d.Person))))
	}
	if e.Workshop.Demo {
		add(t.Style(draw.Warn, phrase.Of("bay.signin.demo")) + t.Style(draw.Text, phrase.Of("bay.signin.everything-in-this-file-is-invented-never")))
	}
	for _, line := range t.Wrap(e.Notice, inner) {
		if line != "" {
			add(t.Style(draw.Text, line))
		}
	}
	add("")
	if s.code != nil {
		add(s.code.lines(t, inner, h, new(int))...)
	} else {
		add(strings.Split(s.pick.view(t, inner, h-len(out)-1), "\n")...)
	}
	for i := range out {
		out[i] = "   " + out[i]
	}
	return strings.Join(out, "\n")
}

// name is what the register calls a person, or the id where it knows none.
func name(e *Env, id string) string {
	if p, ok := e.Register.Person(id); ok {
		return p.Name
	}
	return id
}
