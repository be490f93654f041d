package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// finished lists the jobs that are done: those closed, and those released and not yet closed.
type finished struct {
	list   []store.Summary
	loaded bool
	find   finder
}

// newFinished shows the jobs that are done.
func newFinished() Screen {
	return &finished{find: finder{field: field{most: 40}, what: phrase.Of("bay.finished.vehicle-number-or-complaint"),
		empty:    phrase.Of("bay.finished.no-job-is-finished-yet-a-job"),
		headings: []draw.Heading{{Title: phrase.Of("bay.finished.job"), Right: true}, {Title: phrase.Of("bay.finished.vehicle")}, {Title: phrase.Of("bay.finished.name")}, {Title: phrase.Of("bay.finished.opened")}, {Title: phrase.Of("bay.finished.last-entry")}, {Title: phrase.Of("bay.finished.state")}}}}
}

// Head says what this is.
func (s *finished) Head(*Env) string { return phrase.Of("bay.finished.finished-jobs") }

// Focus is the search field.
func (s *finished) Focus() Focus { return FocusText }

// Keys are those of the list.
func (s *finished) Keys(*Env) []Binding {
	return s.find.keys(phrase.Of("bay.finished.read-the-record"))
}

// Update searches and chooses.
func (s *finished) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "finished", Do: func(f *store.File) (any, error) { return doneJobs(f) }}
	case Result:
		list, ok := in.Value.([]store.Summary)
		if !ok || in.Err != nil {
			return Say{Text: phrase.Of("bay.finished.the-jobs-cannot-be-read", in.Err), Role: draw.Bad}
		}
		s.list, s.loaded = list, true
		s.fill(e)
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
	return Push{newRecord(s.list[i].Number)}
}

// doneJobs reads the jobs that are closed or released, newest first.
func doneJobs(f *store.File) ([]store.Summary, error) {
	all, err := f.Jobs()
	var out []store.Summary
	for _, j := range all {
		if j.Status == store.Closed || j.Status == store.Released {
			out = append(out, j)
		}
	}
	return out, err
}

func (s *finished) fill(e *Env) {
	s.find.rows = nil
	for _, j := range s.list {
		nr := fmt.Sprint(j.Number)
		// A scan of a vehicle leads to its newest job: the list begins with it.
		s.find.rows = append(s.find.rows, findRow{cells: []string{nr, j.Vehicle.ID, j.Vehicle.Name, j.Opened.Format("2006-01-02"), since(e.Now, j.Last), phrase.Word(j.Status)},
			exact: []string{nr, j.Vehicle.ID, j.Vehicle.VIN}, match: strings.Join([]string{j.Vehicle.Name, j.Complaint, j.Procedure}, " ")})
	}
}

// View shows the list and what the marked job was about.
func (s *finished) View(e *Env, w, h int) string {
	t := e.Theme
	if !s.loaded {
		return ""
	}
	out := []string{t.Style(draw.Title, phrase.Of("bay.finished.finished-jobs-2", fmt.Sprint(len(s.list)))), ""}
	m := s.find.marked()
	if m < 0 {
		return indent(append(out, s.find.view(t, w-2, h-2)...))
	}
	j := s.list[m]
	about := []line{{role: draw.Text, text: j.Procedure}, {role: draw.Text, text: phrase.Of("bay.finished.complaint", j.Complaint), indent: 2},
		{role: draw.Text, text: phrase.Of("bay.finished.of-stages-complete-last-entry-by", j.Done, j.Of, j.LastBy.Name)}}
	if len(j.Open) > 0 {
		about = append(about, line{role: draw.Standing, text: phrase.Of("bay.finished.still-open", strings.Join(j.Open, ", "))})
	}
	if j.Demo {
		about = append([]line{{role: draw.Warn, text: phrase.Of("bay.finished.demo-the-figures-of-this-job-are")}}, about...)
	}
	foot := append([]string{t.Style(draw.Frame, strings.Repeat(t.Glyphs.Across, w-2))}, drawLines(t, about, w-2)...)
	list := s.find.view(t, w-2, max(h-2-len(foot), 5))
	return indent(append(append(out, list...), foot...))
}
