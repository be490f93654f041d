package bay

import (
	"fmt"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// practiceMark stands before whatever is said of a practice job.
func practiceMark(c *job.Card) string {
	if c.Opened.Practice {
		return phrase.Of("bay.practicejob.practice")
	}
	return ""
}

// isDay refuses what is no date.
func isDay(text string) error {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return phrase.Error("bay.practicejob.is-no-date-expected-year-month-day", text)
	}
	return nil
}

// faults are those an instructor often plants; own words are taken as well.
var faults = []string{phrase.Of("bay.practicejob.new-disc-of-another-size"), phrase.Of("bay.practicejob.wrench-whose-calibration-ran-out"), phrase.Of("bay.practicejob.hub-that-is-out-of-true-by"), phrase.Of("bay.practicejob.values-of-left-and-right-exchanged"), phrase.Of("bay.practicejob.pad-on-the-wrong-side"), phrase.Of("bay.practicejob.clip-upside-down")}

// practiceJob opens an exercise: vehicle, procedure, faults to be found.
type practiceJob struct {
	stock     stock
	vehicle   string
	procedure string
	planted   []string
	step      int
}

// Names of the dialogs of a practice job, by step.
var practiceSteps = []string{"vehicle", "procedure", "faults"}

func newPracticeJob(st stock) Screen { return &practiceJob{stock: st} }

// Head says what this is.
func (s *practiceJob) Head(*Env) string {
	return phrase.Of("bay.practicejob.practice-new-practice-job")
}

// Focus is nowhere.
func (s *practiceJob) Focus() Focus { return FocusNone }

// Keys go on.
func (s *practiceJob) Keys(*Env) []Binding {
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.practicejob.go-on"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.practicejob.back"), Bar: true}}
}

// Update asks one thing after the other.
func (s *practiceJob) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return s.ask(e)
	case Answer:
		return s.answer(e, in)
	case Result:
		c, ok := in.Value.(*job.Card)
		if !ok || in.Err != nil {
			return Say{Text: phrase.Of("bay.practicejob.not-opened", fmt.Sprint(in.Err)), Role: draw.Warn}
		}
		return Replace{newJobScreen(c.Number())}
	case Key:
		switch in.Sym {
		case Esc:
			return Pop{}
		case Enter:
			return s.ask(e)
		}
	}
	return ignore(in)
}

// ask is the dialog of the present step.
func (s *practiceJob) ask(e *Env) Action {
	var opts []option
	switch practiceSteps[min(s.step, len(practiceSteps)-1)] {
	case "vehicle":
		for _, v := range s.stock.vehicles {
			o := option{text: v.ID + "  " + v.Name}
			if s.stock.sheet(v.Sheet) == nil {
				o.off = phrase.Of("bay.practicejob.its-spec-sheet-is-not-in-use", v.Sheet)
			}
			opts = append(opts, o)
		}
		return Ask{Name: "vehicle", Dialog: newChooser(phrase.Of("bay.practicejob.practice-which-vehicle-or-bench-axle"), []line{{text: phrase.Of("bay.practicejob.nothing-of-a-practice-job-reaches-the")}}, opts)}
	case "procedure":
		for _, p := range s.stock.procedures {
			opts = append(opts, option{text: p.Title, note: phrase.Of("bay.practicejob.revision", p.Revision)})
		}
		return Ask{Name: "procedure", Dialog: newChooser(phrase.Of("bay.practicejob.practice-which-procedure"), nil, opts)}
	}
	for _, f := range faults {
		opts = append(opts, option{text: f})
	}
	opts = append(opts, option{text: phrase.Of("bay.practicejob.another-in-own-words")}, option{text: phrase.Of("bay.practicejob.that-is-all-open-the-practice-job")})
	text := []line{{text: phrase.Of("bay.practicejob.planted-so-far", orNone(strings.Join(s.planted, "; ")))}}
	return Ask{Name: "faults", Dialog: newChooser(phrase.Of("bay.practicejob.practice-which-faults-are-planted"), text, opts)}
}

func orNone(text string) string {
	if text == "" {
		return phrase.Of("bay.practicejob.none")
	}
	return text
}

func (s *practiceJob) answer(e *Env, a Answer) Action {
	if w, ok := a.Value.(string); ok {
		s.planted = append(s.planted, w)
		return s.ask(e)
	}
	i, ok := a.Value.(int)
	if !ok {
		return nil
	}
	switch a.Name {
	case "vehicle":
		s.vehicle, s.step = s.stock.vehicles[i].ID, 1
	case "procedure":
		s.procedure, s.step = s.stock.procedures[i].ID, 2
	case "faults":
		switch i {
		case len(faults):
			return Ask{Name: "own-fault", Dialog: newWords(phrase.Of("bay.practicejob.which-fault"), nil, phrase.Of("bay.practicejob.type-the-fault-that-is-planted"))}
		case len(faults) + 1:
			return s.open(e)
		}
		s.planted = append(s.planted, faults[i])
	}
	return s.ask(e)
}

// open begins the exercise with the odometer the vehicle had last.
func (s *practiceJob) open(e *Env) Action {
	odometer := "0"
	for _, v := range s.stock.vehicles {
		if last, ok := v.LastOdometer(); ok && v.ID == s.vehicle {
			odometer = last.Value.String()
		}
	}
	who := e.Actor()
	want := store.NewJob{Vehicle: s.vehicle, Procedure: s.procedure, Complaint: "practice", Customer: "practice", Odometer: odometer, Practice: true, Planted: s.planted}
	return Call{Name: "open", Do: func(f *store.File) (any, error) { return f.OpenJob(who, want) }}
}

// View shows what was chosen so far.
func (s *practiceJob) View(e *Env, w, h int) string {
	text := []line{{}, {role: draw.Warn, text: phrase.Of("bay.practicejob.practice-2")}, {text: phrase.Of("bay.practicejob.vehicle", orNone(s.vehicle))}, {text: phrase.Of("bay.practicejob.procedure", orNone(s.procedure))}, {text: phrase.Of("bay.practicejob.planted", orNone(strings.Join(s.planted, "; "))), indent: 2}}
	return indent(drawLines(e.Theme, text, min(w-2, 80)))
}
