package bay

import (
	"errors"
	"slices"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/reckon"
)

// benchForm asks for the inputs of one calculator.
type benchForm struct {
	form  reckon.Form
	page  page
	fault *benchFault
}

// benchFault is what the calculator could not work with, at the row it lies with. It holds as long
// as nothing on the page changes.
type benchFault struct {
	row   int
	text  string
	typed []string
}

func newBenchForm(f reckon.Form) *benchForm {
	s := &benchForm{form: f, page: page{title: f.Title, last: phrase.Of("bay.benchform.work-it-out"), intro: []line{{text: benchNote}}}}
	for i, in := range f.Inputs {
		row := textRow(in.Name, in.Label, in.Value, in.Hint)
		if in.Choices != nil {
			row = choiceRow(in.Name, in.Label, in.Value, in.Choices, in.Words, in.Hint)
		}
		row.field.most = 400 // a turn of readings
		row.optional = in.Optional
		row.check = func(text string) error { return s.check(i, text) }
		s.page.rows = append(s.page.rows, row)
	}
	return s
}

// check is what is wrong with one row.
func (s *benchForm) check(i int, text string) error {
	if err := s.form.Check(i, text); err != nil {
		return errors.New(s.sentence(err))
	}
	if f := s.fault; f != nil && f.row == i && slices.Equal(f.typed, s.typed()) {
		return errors.New(f.text)
	}
	return nil
}

// sentence names the inputs as the form does.
func (s *benchForm) sentence(err error) string {
	var w reckon.Wrong
	if !errors.As(err, &w) {
		return err.Error()
	}
	return w.Words(func(name string) string {
		for _, in := range s.form.Inputs {
			if in.Name == name {
				return in.Label
			}
		}
		return name
	})
}

func (s *benchForm) typed() []string {
	out := make([]string, len(s.page.rows))
	for i := range s.page.rows {
		out[i] = s.page.rows[i].value()
	}
	return out
}

// Head says what this is.
func (s *benchForm) Head(*Env) string { return phrase.Of("bay.benchform.bench", s.form.Name) }

// Focus is the row's.
func (s *benchForm) Focus() Focus { return s.page.focus() }

// Keys are the row's.
func (s *benchForm) Keys(*Env) []Binding { return s.page.keys() }

// Update fills the page in and works the answer out.
func (s *benchForm) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return nil
	case Key:
		if in.Sym == Esc {
			return Pop{} // the bench keeps the page
		}
	case Scan:
		if s.gauge(string(in)) {
			return nil
		}
	}
	act, done := s.page.update(in)
	if !done {
		return act
	}
	return s.reckon(e)
}

// gauge adds the value of a gauge to a list, which a scan would begin anew.
func (s *benchForm) gauge(text string) bool {
	r := &s.page.rows[s.page.at]
	if !s.form.Inputs[s.page.at].List || r.value() == "" {
		return false
	}
	r.field.put(" " + text)
	return true
}

func (s *benchForm) reckon(e *Env) Action {
	s.fault = nil
	typed := s.typed()
	a, err := s.form.Ask(e.Now, typed)
	if err == nil {
		return Push{newBenchAnswer(s.form, a)}
	}
	row := s.page.at
	var w reckon.Wrong
	if errors.As(err, &w) {
		row = s.place(w, row)
	}
	s.fault = &benchFault{row: row, text: s.sentence(err), typed: typed}
	s.page.focusOn(row)
	s.page.refused = true
	return nil
}

// place is the first row a mistake lies with: one with something typed before an empty one.
func (s *benchForm) place(w reckon.Wrong, otherwise int) int {
	at := -1
	for _, name := range w.Inputs {
		for i := range s.page.rows {
			if s.page.rows[i].id != name {
				continue
			}
			if s.page.rows[i].value() != "" {
				return i
			}
			if at < 0 {
				at = i
			}
		}
	}
	if at < 0 {
		return otherwise
	}
	return at
}

// View shows the page.
func (s *benchForm) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }
