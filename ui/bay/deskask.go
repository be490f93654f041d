package bay

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// questionList lists the named questions.
type questionList struct {
	find  finder
	stock stock
}

// newQuestionList shows the questions.
func newQuestionList() Screen {
	s := &questionList{find: finder{field: field{most: 40}, what: phrase.Of("bay.deskask.number-or-words"), empty: phrase.Of("bay.deskask.there-are-no-questions"), headings: []draw.Heading{{Title: phrase.Of("bay.deskask.nr"), Right: true}, {Title: phrase.Of("bay.deskask.question")}}}}
	for _, q := range questions.List() {
		s.find.rows = append(s.find.rows, findRow{cells: []string{fmt.Sprint(q.Number), q.Title}, exact: []string{fmt.Sprint(q.Number), q.Name}, match: q.Title})
	}
	return s
}

// Head says what this is.
func (s *questionList) Head(*Env) string { return phrase.Of("bay.deskask.desk-questions") }

// Focus is the search field.
func (s *questionList) Focus() Focus { return FocusText }

// Keys are those of the list.
func (s *questionList) Keys(*Env) []Binding { return s.find.keys("ask") }

// Update chooses.
func (s *questionList) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "stock", Do: readStock}
	case Result:
		switch v := in.Value.(type) {
		case stock:
			s.stock = v
			return nil
		case questions.Answer:
			if in.Err == nil {
				return Push{newAnswer(v)}
			}
		}
		return Say{Text: phrase.Of("bay.deskask.that-cannot-be-answered", in.Err), Role: draw.Bad}
	case Key:
		if in.Sym == Esc && s.find.field.text != "" {
			s.find.field.clear()
			return nil
		}
		if in.Sym == Esc {
			return Pop{}
		}
	}
	i, act := s.find.take(in)
	if i < 0 {
		return act
	}
	q := questions.List()[i]
	if len(q.Params) == 0 {
		return askCall(q.Name, nil)
	}
	return Push{newQuestionPage(e, q, s.stock)}
}

// View shows the list and what the marked question tells.
func (s *questionList) View(e *Env, w, h int) string {
	t := e.Theme
	m := s.find.marked()
	if m < 0 {
		return indent(s.find.view(t, w-2, h))
	}
	q := questions.List()[m]
	var cols []string
	for _, c := range q.Columns {
		cols = append(cols, c.Title)
	}
	about := drawLines(t, []line{{role: draw.Title, text: q.Title}, {role: draw.Faint, text: phrase.Of("bay.deskask.tells", strings.Join(cols, ", "))}}, w-2)
	list := s.find.view(t, w-2, max(h-len(about)-1, 5))
	return indent(append(append(list, ruleLine(t, w-2)), about...))
}

// questionPage asks for the parameters of a question one by one.
type questionPage struct {
	q    questions.Question
	page page
}

func newQuestionPage(e *Env, q questions.Question, st stock) Screen {
	s := &questionPage{q: q, page: page{title: q.Title, last: phrase.Of("bay.deskask.ask")}}
	for _, p := range q.Params {
		s.page.rows = append(s.page.rows, paramRow(e, p, st))
	}
	return s
}

// paramRow is the row for one parameter.
func paramRow(e *Env, p questions.Param, st stock) pageRow {
	hint := sentence(p.Title) + "."
	if p.Kind == questions.Choice {
		values, words := p.Options, slices.Clone(p.Options)
		if p.Optional && p.Default == "" {
			values, words = append([]string{""}, values...), append([]string{phrase.Of("bay.deskask.any")}, words...)
		}
		r := choiceRow(p.Name, sentence(p.Name), p.Default, values, words, hint)
		r.optional = p.Optional
		return r
	}
	switch p.Kind {
	case questions.Day:
		hint += phrase.Of("bay.deskask.year-month-day-such-as-2026-03")
	case questions.Moment:
		hint += phrase.Of("bay.deskask.day-and-time-such-as-2026-03")
	case questions.Clock:
		hint += phrase.Of("bay.deskask.a-time-such-as-06-00")
	}
	if p.Optional {
		hint += phrase.Of("bay.deskask.it-may-stay-empty")
		switch p.Name {
		case "from":
			hint += phrase.Of("bay.deskask.then-it-is-twelve-months-back")
		case "to":
			hint += phrase.Of("bay.deskask.then-it-is-today")
		}
	}
	r := textRow(p.Name, sentence(p.Name), p.Default, hint)
	r.optional = p.Optional || p.Default != ""
	known := knownNames(e, p.Kind, st)
	if len(known) > 0 {
		r.hint += phrase.Of("bay.deskask.on-the-register", someOf(known))
	}
	r.check = func(text string) error {
		if len(known) > 0 && !slices.Contains(known, text) {
			return phrase.Error("bay.deskask.is-not-on-the-register-expected-one", text, someOf(known))
		}
		return p.Check(text)
	}
	return r
}

// knownNames lists what a parameter can be by the register; nil where anything can be typed.
func knownNames(e *Env, k questions.ParamKind, st stock) []string {
	var out []string
	switch k {
	case questions.Instrument:
		for _, i := range e.Register.Instruments {
			out = append(out, i.ID)
		}
	case questions.Person:
		for _, p := range e.Register.People {
			out = append(out, p.ID)
		}
	case questions.Vehicle:
		out = vehicleIDs(st.vehicles)
	case questions.Sheet:
		out = sheetIDs(st.sheets)
	}
	return out
}

// someOf names the first few of a list.
func someOf(names []string) string {
	const few = 20
	if len(names) <= few {
		return strings.Join(names, ", ")
	}
	return phrase.Of("bay.deskask.and-more", strings.Join(names[:few], ", "), len(names)-few)
}

func vehicleIDs(vs []register.Vehicle) []string {
	var out []string
	for _, v := range vs {
		out = append(out, v.ID)
	}
	return out
}

func sheetIDs(ss []*procedures.Sheet) []string {
	var out []string
	for _, x := range ss {
		out = append(out, x.ID)
	}
	return out
}

// Head says what this is.
func (s *questionPage) Head(*Env) string { return phrase.Of("bay.deskask.desk", s.q.Name) }

// Focus is the row's.
func (s *questionPage) Focus() Focus { return s.page.focus() }

// Keys are the row's.
func (s *questionPage) Keys(*Env) []Binding { return s.page.keys() }

// Update fills the page in and asks.
func (s *questionPage) Update(_ *Env, in Input) Action {
	if r, ok := in.(Result); ok {
		a, ok := r.Value.(questions.Answer)
		if r.Err != nil || !ok {
			return Say{Text: sentence(fmt.Sprint(r.Err)), Role: draw.Warn}
		}
		return Push{newAnswer(a)}
	}
	act, done := s.page.update(in)
	if k, ok := in.(Key); ok && k.Sym == Esc {
		return Pop{} // what was typed is a question, nothing is lost
	}
	if !done {
		return act
	}
	args := map[string]string{}
	for _, p := range s.q.Params {
		if v := s.page.value(p.Name); v != "" {
			args[p.Name] = v
		}
	}
	return askCall(s.q.Name, args)
}

// View shows the page.
func (s *questionPage) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }
