package bay

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// Names of the dialogs that go on with something else.
const (
	thenName  = "then"
	vouchName = "vouch"
)

// then asks something and goes on with what it ended with.
func (s *jobScreen) then(d Dialog, next func(e *Env, v any) Action) Action {
	s.goOn = next
	return Ask{Name: thenName, Dialog: d}
}

// words asks for a line of text and goes on with it.
func (s *jobScreen) words(title string, text []line, want string, next func(e *Env, words string) Action) Action {
	return s.then(newWords(title, text, want), func(e *Env, v any) Action { return next(e, v.(string)) })
}

// choice is one row of a menu: what it is, why it cannot be taken now, and how it goes on.
type choice struct {
	option
	do func(e *Env) Action
}

// menu asks for one of several things by its number. Nothing is written by the number alone.
func (s *jobScreen) menu(title string, text []line, rows []choice) Action {
	opts := make([]option, len(rows))
	for i, r := range rows {
		opts[i] = r.option
	}
	return s.then(newChooser(title, text, opts), func(e *Env, v any) Action { return rows[v.(int)].do(e) })
}

// pick asks for one of some words and goes on with it.
func (s *jobScreen) pick(title string, text []line, words []string, next func(e *Env, word string) Action) Action {
	opts := make([]option, len(words))
	for i, w := range words {
		opts[i] = option{text: phrase.Word(w)}
	}
	return s.then(newChooser(title, text, opts), func(e *Env, v any) Action { return next(e, words[v.(int)]) })
}

// doing is what a dialog with a code does with this job once the code was right.
func (s *jobScreen) doing(want job.Intent) func(*store.File, store.Actor) (any, error) {
	n := s.number
	return func(f *store.File, who store.Actor) (any, error) {
		c, ev, err := f.Do(n, who, want)
		return recorded{c, ev}, err
	}
}

// vouch has one of those who may do something do it with the code. The one signed in does it when
// he is among them; otherwise he stays signed in while another types the code.
func (s *jobScreen) vouch(e *Env, title string, text []line, want job.Intent, may func(register.Person) bool, nobody string) Action {
	s.want = nil
	if may(e.Person) {
		return Ask{Name: vouchName, Dialog: newCode(title, text, e.Person, s.doing(want))}
	}
	var people []register.Person
	for _, p := range working(e.Register, "") {
		if may(p) {
			people = append(people, p)
		}
	}
	if len(people) == 0 {
		return Say{Text: nobody, Role: draw.Warn}
	}
	text = append(text, line{role: draw.Faint, text: phrase.Of("bay.jobask.stays-signed-in", e.Person.Name)})
	return Ask{Name: vouchName, Dialog: newWho(title, text, people, s.doing(want))}
}

func isForeman(p register.Person) bool { return p.MayDo(procedures.Foreman) }

// byForeman has the foreman do something with the code.
func (s *jobScreen) byForeman(e *Env, title string, text []line, want job.Intent) Action {
	return s.vouch(e, title, text, want, isForeman, phrase.Of("bay.jobask.only-the-foreman-may-do-this-and"))
}

// byQualified has a mechanic or the foreman do something with the code.
func (s *jobScreen) byQualified(e *Env, title string, text []line, want job.Intent) Action {
	return s.vouch(e, title, text, want, register.Person.Qualified, phrase.Of("bay.jobask.a-mechanic-or-the-foreman-does-this"))
}

// happened says what was recorded when the job did not go straight.
func (s *jobScreen) happened(b job.Body) Action {
	good := func(text string) Action { return Say{Text: text, Role: draw.Good} }
	warn := func(text string) Action { return Say{Text: text, Role: draw.Warn} }
	switch b := b.(type) {
	case job.CalledReal:
		s.next()
		return Say{Text: phrase.Of("bay.jobsign.it-stays-the-stage-needs-a-new"), Role: draw.Bad}
	case job.Unsure:
		return warn(phrase.Of("bay.jobask.good-that-you-say-so-the-stage"))
	case job.Helped:
		return good(phrase.Of("bay.jobask.answered-the-stage-goes-on"))
	case job.Answered:
		return good(phrase.Of("bay.jobask.the-answer-stands-in-the-record"))
	case job.Asked:
		return good(phrase.Of("bay.jobask.question-asked", b.Whom.Name, phrase.Word(b.Result)))
	case job.Swapped:
		return warn(phrase.Of("bay.jobask.left-and-right-are-exchanged-it-stands"))
	case job.Deviated:
		return warn(phrase.Of("bay.jobask.granted-for-this-job-only", b.Title))
	case job.SafeToLeave:
		return good(phrase.Of("bay.jobask.signed-the-vehicle-may-stand-as-the"))
	case job.Withheld:
		return warn(phrase.Of("bay.jobask.withheld-the-vehicle-must-not-be-driven"))
	case job.Lifted:
		return good(phrase.Of("bay.jobask.lifted-the-cause-was-cured"))
	case job.Abandoned:
		s.goStage(s.present())
		return s.makeSafePane()
	case job.Declared:
		return warn(phrase.Of("bay.jobask.declared-open", s.stateTitle(b.State)))
	case job.Cancelled:
		return warn(phrase.Of("bay.jobask.the-job-is-cancelled-its-number-is"))
	case job.Advised:
		return good(phrase.Of("bay.jobask.advice-written-down-the-customers-answer-is"))
	case job.AdviceDecided:
		return good(phrase.Of("bay.jobask.the-customers-answer-is-written-down", phrase.Word(b.Answer)))
	case job.Addendum:
		return good(phrase.Of("bay.jobask.added-to-the-record-nothing-before-it"))
	case job.FollowUp:
		return good(phrase.Of("bay.jobask.follow-up", phrase.Word(b.Act)))
	case job.Found:
		return good(phrase.Of("bay.jobask.found", b.Fault))
	case job.TraitChanged:
		return warn(phrase.Of("bay.jobask.is-now-the-stages-follow", b.Trait, b.Value))
	case job.SheetAdopted:
		if again := s.turned(); len(again) > 0 {
			return warn(phrase.Count("count.stage-again", len(again), b.Sheet.Revision, s.title(again[0])))
		}
		return warn(phrase.Of("bay.jobask.the-job-goes-on-by-revision-the", b.Sheet.Revision))
	}
	return nil
}
