package bay

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
	"bay.example/pawl/ui/paper"
)

// progress is the practice record of one person: what was done of each task, and at which level the
// person does it. Only the foreman raises a level, after a set count.
type progress struct {
	people []register.Person // apprentices first
	who    int
	at     int
	cards  []*job.Card
	loaded bool
	goOn   func(e *Env, v any) Action
}

func newProgress() Screen { return &progress{} }

// Head names the person.
func (s *progress) Head(*Env) string {
	if p, ok := s.person(); ok {
		return phrase.Of("bay.progress.practice-record-of", p.Name)
	}
	return phrase.Of("bay.progress.practice-record")
}

// Focus is nowhere.
func (s *progress) Focus() Focus { return FocusNone }

func (s *progress) person() (register.Person, bool) {
	if s.who >= len(s.people) {
		return register.Person{}, false
	}
	return s.people[s.who], true
}

// Keys move between people and tasks.
func (s *progress) Keys(e *Env) []Binding {
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.progress.level"), Off: s.levelOff(e), Bar: true}, {Key: "Left Right", Word: phrase.Of("bay.progress.person"), Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.progress.task"), Bar: true},
		{Key: "G", Word: phrase.Of("bay.progress.log-to-print"), Bar: true}, {Key: "D", Word: phrase.Of("bay.progress.record-to-print"), Bar: true},
		{Key: "N", Word: phrase.Of("bay.progress.practice-job"), Off: mayDo(e, procedures.Foreman, phrase.Of("bay.progress.opens-a-practice-job")), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.progress.jobs"), Bar: true}}
}

// tasks is the record of the person shown, with tasks that only have a level.
func (s *progress) tasks() []job.TaskRecord {
	p, ok := s.person()
	if !ok {
		return nil
	}
	out := job.PracticeRecord(p.ID, s.cards)
	for task := range p.Levels {
		if !slices.ContainsFunc(out, func(r job.TaskRecord) bool { return r.Task == task }) {
			out = append(out, job.TaskRecord{Task: task})
		}
	}
	slices.SortStableFunc(out, func(a, b job.TaskRecord) int { return strings.Compare(a.Task, b.Task) })
	return out
}

// levelOff says why no level can be set for the marked task.
func (s *progress) levelOff(e *Env) string {
	p, ok := s.person()
	switch {
	case !ok || s.at >= len(s.tasks()):
		return phrase.Of("bay.progress.no-task-has-been-done-yet")
	case p.Role != procedures.Apprentice:
		return phrase.Of("bay.progress.is-only-apprentices-have-levels", p.Name, p.Role)
	}
	return mayDo(e, procedures.Foreman, phrase.Of("bay.progress.sets-the-level-of-an-apprentice"))
}

// Update moves and acts.
func (s *progress) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "cards", Do: func(f *store.File) (any, error) {
			return cardsOf(f, func(store.Summary) bool { return true })
		}}
	case Result:
		return s.result(e, in)
	case Answer:
		if v, ok := in.Value.(vouched); ok && in.Err == nil {
			s.fill(e)
			return Say{Text: fmt.Sprint(v.Value), Role: draw.Good}
		}
		if in.Err != nil {
			return Say{Text: sentence(in.Err.Error()), Role: draw.Bad}
		}
		if s.goOn != nil {
			return s.goOn(e, in.Value)
		}
		return nil
	case Key:
		return s.key(e, in)
	}
	return ignore(in)
}

func (s *progress) result(e *Env, r Result) Action {
	switch v := r.Value.(type) {
	case []*job.Card:
		if r.Err == nil {
			s.cards, s.loaded = v, true
			s.fill(e)
			return nil
		}
	case printedTo:
		return printed(v)
	case stock:
		if r.Err == nil {
			return Push{newPracticeJob(v)}
		}
	}
	return Say{Text: phrase.Of("bay.finished.the-jobs-cannot-be-read", r.Err), Role: draw.Bad}
}

// fill lists the people, apprentices first, and keeps the one shown.
func (s *progress) fill(e *Env) {
	was, _ := s.person()
	s.people = working(e.Register, "")
	slices.SortStableFunc(s.people, func(a, b register.Person) int { return a.Role.Rank() - b.Role.Rank() })
	s.people = slices.DeleteFunc(s.people, func(p register.Person) bool { return p.Role == procedures.Auditor })
	if i := slices.IndexFunc(s.people, func(p register.Person) bool { return p.ID == was.ID }); i >= 0 {
		s.who = i
	}
	s.at = max(min(s.at, len(s.tasks())-1), 0)
}

func (s *progress) key(e *Env, k Key) Action {
	switch k.Sym {
	case Esc:
		return Pop{}
	case Up:
		s.at = max(s.at-1, 0)
		return nil
	case Down:
		s.at = max(min(s.at+1, len(s.tasks())-1), 0)
		return nil
	case Left:
		s.who, s.at = max(s.who-1, 0), 0
		return nil
	case Right:
		s.who, s.at = max(min(s.who+1, len(s.people)-1), 0), 0
		return nil
	case Enter:
		return s.level()
	}
	switch k.Letter() {
	case 'G':
		return s.askPeriod(e)
	case 'D':
		return s.print("practice-record", func(p register.Person, in paper.Info) paper.Document { return paper.Practice(p, s.cards, in) })
	case 'N':
		return Call{Name: "stock", Do: readStock}
	}
	return Unknown{}
}

// levels are the levels the foreman sets, lowest first.
var levels = []register.Level{register.LevelWatch, register.LevelBeside, register.LevelAtHolds, register.LevelAlone}

// level asks for the level of the marked task. Higher ones wait for the count; lower ones never do.
func (s *progress) level() Action {
	p, _ := s.person()
	r := s.tasks()[s.at]
	now := p.Level(r.Task)
	opts := make([]option, len(levels))
	for i, l := range levels {
		opts[i].text = phrase.Word(l.String())
		switch {
		case l == now:
			opts[i].off = phrase.Of("bay.progress.that-is-the-level-now")
		case l > now && !r.MayRaise():
			opts[i].off = phrase.Of("bay.progress.raised-only-after-times-on-each-side", job.RaiseAfter, r.Left, r.Right)
		case l > now+1 && now != register.LevelUnset:
			opts[i].off = phrase.Of("bay.progress.one-level-at-a-time")
		}
	}
	text := []line{{text: phrase.Of("bay.progress.no-level-lifts-the-countersign-of-a")}}
	s.goOn = func(e *Env, v any) Action {
		l := levels[v.(int)]
		about := []line{{text: phrase.Of("bay.progress.from-to", p.Name, r.Task, now, l)}}
		return Ask{Name: vouchName, Dialog: newCode(phrase.Of("bay.progress.level-of", p.Name), about, e.Person, func(f *store.File, who store.Actor) (any, error) {
			return phrase.Of("bay.progress.is-now", p.Name, r.Task, l), f.SetLevel(who.Person, p.ID, r.Task, l)
		})}
	}
	return Ask{Name: thenName, Dialog: newChooser(fmt.Sprintf("%s: %s", p.Name, r.Task), text, opts)}
}

// askPeriod asks from when to when the log goes.
func (s *progress) askPeriod(e *Env) Action {
	first := e.Now.AddDate(0, 0, 1-e.Now.Day())
	s.goOn = func(_ *Env, v any) Action {
		f := v.([]string)
		return s.print("log-"+f[0]+"-"+f[1], func(p register.Person, in paper.Info) paper.Document { return paper.Period(p, s.cards, f[0], f[1], in) })
	}
	return Ask{Name: thenName, Dialog: newForm(phrase.Of("bay.progress.log-to-print-2"), nil, []formField{
		{label: phrase.Of("bay.progress.from"), value: today(first), hint: phrase.Of("bay.deskworkshop.year-month-day-this-day-included"), check: isDay},
		{label: phrase.Of("bay.progress.to"), value: today(e.Now), hint: phrase.Of("bay.deskworkshop.year-month-day-this-day-included"), check: isDay}})}
}

func (s *progress) print(name string, doc func(register.Person, paper.Info) paper.Document) Action {
	p, ok := s.person()
	if !ok {
		return nil
	}
	return Call{Name: "print", Do: func(f *store.File) (any, error) {
		return writePaper(f, strings.ToLower(p.ID)+"-"+name, doc(p, printInfo(f)))
	}}
}

// View shows the tasks of the person.
func (s *progress) View(e *Env, w, h int) string {
	p, ok := s.person()
	if !s.loaded || !ok {
		return ""
	}
	t := e.Theme
	tb := draw.Table{Selected: s.at, Empty: phrase.Of("bay.progress.has-signed-no-stage-with-a-task", p.Name),
		Headings: []draw.Heading{{Title: phrase.Of("bay.progress.task")}, {Title: phrase.Of("bay.progress.level")}, {Title: phrase.Of("bay.progress.done"), Right: true}, {Title: phrase.Of("bay.progress.right-first"), Right: true}, {Title: phrase.Of("bay.progress.left"), Right: true}, {Title: phrase.Of("bay.progress.right"), Right: true}, {Title: phrase.Of("bay.progress.last")}}}
	list := s.tasks()
	for _, r := range list {
		tb.Rows = append(tb.Rows, cells(r.Task, phrase.Word(p.Level(r.Task).String()), fmt.Sprint(r.Done), fmt.Sprint(r.FirstRight), fmt.Sprint(r.Left), fmt.Sprint(r.Right), r.Last))
	}
	title := t.Style(draw.Title, fmt.Sprintf(" %s, %s", p.Name, phrase.Word(p.Role))) + t.Style(draw.Faint, phrase.Of("bay.progress.person-of", s.who+1, len(s.people)))
	var about []line
	if s.at < len(list) {
		r := list[s.at]
		about = append(about, line{role: draw.Title, text: r.Task}, line{text: phrase.Of("bay.progress.questions-knew-with-help-explained-again", r.Knew, r.WithHelp, r.Explained, r.Asked), indent: 2})
		switch {
		case p.Role != procedures.Apprentice:
		case r.MayRaise() && p.Level(r.Task) < register.LevelAlone:
			about = append(about, line{role: draw.Good, text: phrase.Of("bay.progress.the-count-is-reached-the-foreman-may")})
		case p.Level(r.Task) < register.LevelAlone:
			about = append(about, line{text: phrase.Of("bay.progress.raised-only-after-times-on-each-side-2", job.RaiseAfter)})
		}
	}
	foot := drawLines(t, about, w-2)
	rows := tb.Draw(t, w-2, max(h-3-len(foot), 4))
	return title + "\n\n" + indent(append(append(strings.Split(rows, "\n"), t.Style(draw.Frame, strings.Repeat(t.Glyphs.Across, w-2))), foot...))
}
