package bay

import (
	"context"
	"fmt"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// desk is where the foreman and the auditor ask about all jobs: search, questions, recalls, the
// history of a vehicle, how the work goes, and the care of the file.
type desk struct {
	facts  deskFacts
	loaded bool
	at     int
}

// deskFacts is what the desk shows of the file before anything is asked.
type deskFacts struct {
	jobs, sealed int64
	recalls      []questions.Recall
	backup       store.BackupState
}

// newDesk shows what can be asked.
func newDesk() Screen { return &desk{} }

// deskOff says why somebody does not read the desk.
func deskOff(e *Env) string {
	if e.Person.Role == procedures.Apprentice {
		return phrase.Of("bay.desk.the-desk-is-read-by-mechanics-the", e.Person.Name)
	}
	return ""
}

// Head says what this is.
func (s *desk) Head(*Env) string { return phrase.Of("bay.desk.desk") }

// Focus is nowhere: digits choose.
func (s *desk) Focus() Focus { return FocusNone }

// Keys are the digits and the arrows.
func (s *desk) Keys(*Env) []Binding {
	return []Binding{{Key: "1 2 3 4 5 6", Word: phrase.Of("bay.desk.choose"), Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.desk.mark"), Bar: true}, {Key: "Enter", Word: phrase.Of("bay.desk.open-the-marked-one"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.desk.jobs"), Bar: true}}
}

// deskPlaces are the rows of the desk.
func (s *desk) places(e *Env) []struct {
	title, about string
	open         func() Screen
} {
	left, care := 0, phrase.Of("bay.desk.no-backup-has-been-made-since-the")
	for _, r := range s.facts.recalls {
		left += r.Left()
	}
	recalls := phrase.Of("bay.desk.none-was-ever-opened")
	if n := len(s.facts.recalls); n > 0 {
		recalls = phrase.Of("bay.desk.left-to-deal-with", phrase.Count("count.recall", n), phrase.Count("count.vehicle", left))
	}
	switch b := s.facts.backup; {
	case b.Err != nil:
		care = phrase.Of("bay.desk.the-last-backup-failed")
	case e.Workshop.Backup == "":
		care = phrase.Of("bay.desk.no-backup-folder-is-set")
	case !b.At.IsZero():
		care = phrase.Of("bay.desk.newest-backup", when(b.At))
	}
	return []struct {
		title, about string
		open         func() Screen
	}{
		{phrase.Of("bay.desk.search-all-jobs"), phrase.Of("bay.desk.found-as-you-type", phrase.Count("count.job", int(s.facts.jobs))), newLookup},
		{phrase.Of("bay.desk.questions"), phrase.Of("bay.desk.over-all-jobs-each-with-what-could", phrase.Count("count.question", len(questions.List()))), newQuestionList},
		{phrase.Of("bay.desk.recalls"), recalls, newRecallList},
		{phrase.Of("bay.desk.history-of-a-vehicle"), phrase.Of("bay.desk.visits-parts-wear-roller-tests-advice-promises"), newHistoryChoice},
		{phrase.Of("bay.desk.how-the-work-goes"), phrase.Of("bay.desk.first-time-right-attempts-times-wrenches-for"), newWorkshopView},
		{phrase.Of("bay.desk.care-of-the-record"), phrase.Count("count.seal", int(s.facts.sealed)) + "; " + care, newCare},
	}
}

// Update opens.
func (s *desk) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "desk", Do: readDesk}
	case Result:
		v, ok := in.Value.(deskFacts)
		if in.Err != nil || !ok {
			return Say{Text: phrase.Of("bay.desk.the-file-cannot-be-read", in.Err), Role: draw.Bad}
		}
		s.facts, s.loaded = v, true
		return nil
	case Key:
		last := len(s.places(e)) - 1
		switch {
		case in.Sym == Esc:
			return Pop{}
		case in.Sym == Up:
			s.at = max(s.at-1, 0)
			return nil
		case in.Sym == Down:
			s.at = min(s.at+1, last)
			return nil
		case in.Sym == Enter:
			return Push{s.places(e)[s.at].open()}
		case in.Digit() > 0 && in.Digit() <= last+1:
			s.at = in.Digit() - 1
			return Push{s.places(e)[s.at].open()}
		}
	}
	return ignore(in)
}

func readDesk(f *store.File) (any, error) {
	all, err := f.Jobs()
	if err != nil {
		return nil, err
	}
	d := deskFacts{jobs: int64(len(all)), backup: f.BackupState()}
	if d.recalls, err = f.Recalls(); err != nil {
		return nil, err
	}
	point, err := f.Checkpoint()
	d.sealed = point.Seals
	return d, err
}

// View shows the rows, each with a line about it.
func (s *desk) View(e *Env, w, h int) string {
	if !s.loaded {
		return ""
	}
	t := e.Theme
	out := []string{t.Style(draw.Title, phrase.Of("bay.desk.what-is-asked-of-the-record")), ""}
	gap := h >= 2+3*len(s.places(e))
	for i, p := range s.places(e) {
		mark, role := "  ", draw.Title
		title := p.title
		if i == s.at {
			mark, role = t.Glyphs.Marker+" ", draw.Selected
			title = " " + title + " "
		}
		out = append(out, t.Style(draw.Title, fmt.Sprintf("%s%d  ", mark, i+1))+t.Style(role, title),
			"     "+t.Style(draw.Text, t.Truncate(t.Plain(p.about), max(w-8, 10))))
		if gap {
			out = append(out, "")
		}
	}
	return indent(out)
}

// askCall asks a named question.
func askCall(name string, args map[string]string) Call {
	return Call{Name: "answer", Doing: phrase.Of("bay.desk.reading-the-record"), Do: func(f *store.File) (any, error) {
		return f.Ask(context.Background(), name, args)
	}}
}

// ruleLine is a line across.
func ruleLine(t *draw.Theme, w int) string {
	return t.Style(draw.Frame, strings.Repeat(t.Glyphs.Across, max(w, 0)))
}
