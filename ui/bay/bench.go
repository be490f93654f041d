package bay

import (
	"fmt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
	"bay.example/pawl/ui/reckon"
)

// benchNote stands wherever something is reckoned at the bench.
var benchNote = phrase.Of("bay.bench.nothing-of-the-bench-is-recorded-no")

// benchList lists the calculators. What was typed into one of them stays until the bench is left.
type benchList struct {
	forms  []reckon.Form
	opened map[string]*benchForm
	find   finder
}

// newBench shows the calculators.
func newBench() Screen {
	s := &benchList{forms: reckon.Forms(), opened: map[string]*benchForm{}, find: finder{field: field{most: 40}, what: phrase.Of("bay.bench.number-or-a-word-of-it"),
		headings: []draw.Heading{{Title: phrase.Of("bay.bench.no"), Right: true}, {Title: phrase.Of("bay.bench.what-is-reckoned")}, {Title: phrase.Of("bay.bench.on-the-command-line")}}}}
	for i, f := range s.forms {
		nr := fmt.Sprint(i + 1)
		s.find.rows = append(s.find.rows, findRow{cells: []string{nr, f.Title, phrase.Of("bay.bench.pawl-reckon", f.Name)}, exact: []string{nr, f.Name}, match: f.Title})
	}
	return s
}

// Head says what this is.
func (s *benchList) Head(*Env) string { return phrase.Of("bay.bench.bench") }

// Focus is the search field.
func (s *benchList) Focus() Focus { return FocusText }

// Keys are those of the list.
func (s *benchList) Keys(*Env) []Binding { return s.find.keys("reckon") }

// Update searches and chooses.
func (s *benchList) Update(_ *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return nil
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
	f := s.forms[i]
	if s.opened[f.Name] == nil {
		s.opened[f.Name] = newBenchForm(f)
	}
	return Push{s.opened[f.Name]}
}

// View shows the list.
func (s *benchList) View(e *Env, w, h int) string {
	t := e.Theme
	out := []string{t.Style(draw.Title, phrase.Of("bay.bench.bench-calculators", len(s.forms))), t.Style(draw.Text, t.Truncate(benchNote, w-2))}
	return indent(append(out, s.find.view(t, w-2, h-len(out))...))
}
