package bay

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// learning is what helps an apprentice on.
func (s *jobScreen) learning(e *Env) Action {
	ask, blind := "", ""
	if s.stage().Node.Stage.Question == "" {
		ask = phrase.Of("bay.joblearn.this-stage-has-no-question-to-ask")
	}
	if len(s.blindChecks()) == 0 {
		blind = phrase.Of("bay.joblearn.a-complete-first-measurement-comes-before-the")
	}
	rows := []choice{
		{option{text: phrase.Of("bay.joblearn.the-question-of-this-stage-asked-aloud"), off: ask}, s.askAloud},
		{option{text: phrase.Of("bay.joblearn.second-measurement-without-sight-of-the-first"), off: blind}, s.blindSecond},
	}
	if s.card.Opened.Practice {
		rows = append(rows, choice{option{text: phrase.Of("bay.joblearn.found-a-fault-that-was-planted")}, func(*Env) Action {
			return s.words(phrase.Of("bay.joblearn.what-is-wrong"), []line{{text: phrase.Of("bay.joblearn.practice-somebody-put-faults-there-to-be")}}, phrase.Of("bay.joblearn.say-what-is-wrong"), func(e *Env, w string) Action { return s.do(e, job.FindFault{Fault: w}) })
		}}, choice{option{text: phrase.Of("bay.joblearn.debrief-planted-and-found-foreman"), off: mayDo(e, procedures.Foreman, phrase.Of("bay.joblearn.opens-the-debrief"))}, s.debrief})
	}
	return s.menu(phrase.Of("bay.joblearn.learning"), nil, rows)
}

// askAloud records how the question at a hold went: who was asked, and how.
func (s *jobScreen) askAloud(e *Env) Action {
	question := []line{{role: draw.Title, text: s.stage().Node.Stage.Question}, {text: phrase.Of("bay.joblearn.asked-aloud-answered-in-own-words")}}
	at := s.at
	asked := func(whom register.Person) Action {
		return s.pick(phrase.Of("bay.joblearn.answers", whom.Name), question, []string{job.AskedKnew, job.AskedHelp, job.AskedExplained}, func(e *Env, result string) Action {
			want := job.Ask{Stage: at, Whom: whom.ID, Result: result}
			if e.Person.Qualified() && e.Person.ID != whom.ID {
				return s.do(e, want)
			}
			return s.vouch(e, phrase.Of("bay.joblearn.who-asked"), []line{{text: whom.Name + ": " + result}}, want, s.otherQualified(whom.ID), phrase.Of("bay.joblearn.a-mechanic-or-the-foreman-asks"))
		})
	}
	if e.Person.Role == procedures.Apprentice {
		return asked(e.Person)
	}
	people := working(e.Register, e.Person.ID)
	slices.SortStableFunc(people, func(a, b register.Person) int { return a.Role.Rank() - b.Role.Rank() })
	rows := make([]choice, len(people))
	for i, p := range people {
		rows[i] = choice{option{text: p.Name + ", " + phrase.Word(p.Role)}, func(*Env) Action { return asked(p) }}
	}
	return s.menu(phrase.Of("bay.joblearn.who-was-asked"), question, rows)
}

// blindChecks are the measured sets of the stage that are complete.
func (s *jobScreen) blindChecks() []job.Result {
	var out []job.Result
	for _, res := range s.card.Results(s.at) {
		switch res.Check.Kind {
		case procedures.Thickness, procedures.RunOut, procedures.Reading:
			if len(res.Missing) == 0 {
				out = append(out, res)
			}
		}
	}
	return out
}

// blindSecond goes to the second measurement of one set.
func (s *jobScreen) blindSecond(e *Env) Action {
	sets := s.blindChecks()
	rows := make([]choice, len(sets))
	for i, res := range sets {
		rows[i] = choice{option{text: res.Check.Title}, func(*Env) Action { return Push{newBlind(s.card, s.at, res.Check)} }}
	}
	if len(rows) == 1 {
		return rows[0].do(e)
	}
	return s.menu(phrase.Of("bay.joblearn.which-set-is-measured-again"), nil, rows)
}

// foundPlanted reports whether a planted fault was found.
func foundPlanted(c *job.Card, fault string) bool {
	return slices.ContainsFunc(c.Finds, func(f job.Find) bool { return strings.EqualFold(f.Fault, fault) })
}

// debrief shows the planted faults beside what was found. Words that mean one of them are marked so
// by the foreman.
func (s *jobScreen) debrief(*Env) Action {
	text := []line{{role: draw.Warn, text: phrase.Of("bay.joblearn.practice")}}
	for _, f := range s.card.Finds {
		text = append(text, line{head: phrase.Of("bay.joblearn.found-2"), indent: 8, text: fmt.Sprintf("%s (%s)", f.Fault, f.By.Name)})
	}
	if len(s.card.Finds) == 0 {
		text = append(text, line{text: phrase.Of("bay.joblearn.nothing-was-reported-as-found")})
	}
	if len(s.card.Opened.Planted) == 0 {
		return Ask{Name: "debrief", Dialog: newPane(phrase.Of("bay.joblearn.debrief"), append(text, line{text: phrase.Of("bay.joblearn.no-fault-was-planted-in-this-job")})...)}
	}
	text = append(text, line{}, line{role: draw.Title, text: phrase.Of("bay.joblearn.planted-the-number-marks-one-as-found")})
	var rows []choice
	for _, fault := range s.card.Opened.Planted {
		o := option{text: fault, note: phrase.Of("bay.joblearn.not-found")}
		if foundPlanted(s.card, fault) {
			o.note, o.off = "", phrase.Of("bay.joblearn.found-2")
		}
		rows = append(rows, choice{o, func(*Env) Action {
			return s.then(newYesNo(phrase.Of("bay.joblearn.found"), phrase.Of("bay.joblearn.was-found-in-other-words", fault)), func(e *Env, _ any) Action { return s.do(e, job.FindFault{Fault: fault}) })
		}})
	}
	return s.menu(phrase.Of("bay.joblearn.debrief-planted-and-found"), text, rows)
}
