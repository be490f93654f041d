package bay

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// learning is what helps an apprentice on.
func (s *jobScreen) learning(e *Env) Action {
	ask, blind := "", ""
	if s.stage().Node.Stage.Question == "" {
		ask = "This stage has no question to ask aloud"
	}
	if len(s.blindChecks()) == 0 {
		blind = "A complete first measurement comes before the second"
	}
	rows := []choice{
		{option{text: "the question of this stage, asked aloud", off: ask}, s.askAloud},
		{option{text: "second measurement, without sight of the first", off: blind}, s.blindSecond},
	}
	if s.card.Opened.Practice {
		rows = append(rows, choice{option{text: "found a fault that was planted"}, func(*Env) Action {
			return s.words("What is wrong?", []line{{text: "PRACTICE: somebody put faults there to be found."}}, "Say what is wrong", func(e *Env, w string) Action { return s.do(e, job.FindFault{Fault: w}) })
		}}, choice{option{text: "debrief: planted and found (foreman)", off: mayDo(e, procedures.Foreman, "opens the debrief")}, s.debrief})
	}
	return s.menu("Learning", nil, rows)
}

// askAloud records how the question at a hold went: who was asked, and how.
func (s *jobScreen) askAloud(e *Env) Action {
	question := []line{{role: draw.Title, text: s.stage().Node.Stage.Question}, {text: "Asked aloud, answered in own words."}}
	at := s.at
	asked := func(whom register.Person) Action {
		return s.pick(whom.Name+" answers", question, []string{job.AskedKnew, job.AskedHelp, job.AskedExplained}, func(e *Env, result string) Action {
			want := job.Ask{Stage: at, Whom: whom.ID, Result: result}
			if e.Person.Qualified() && e.Person.ID != whom.ID {
				return s.do(e, want)
			}
			return s.vouch(e, "Who asked?", []line{{text: whom.Name + ": " + result}}, want, s.otherQualified(whom.ID), "A mechanic or the foreman asks")
		})
	}
	if e.Person.Role == procedures.Apprentice {
		return asked(e.Person)
	}
	people := working(e.Register, e.Person.ID)
	slices.SortStableFunc(people, func(a, b register.Person) int { return a.Role.Rank() - b.Role.Rank() })
	rows := make([]choice, len(people))
	for i, p := range people {
		rows[i] = choice{option{text: p.Name + ", " + string(p.Role)}, func(*Env) Action { return asked(p) }}
	}
	return s.menu("Who was asked?", question, rows)
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
	return s.menu("Which set is measured again?", nil, rows)
}

// foundPlanted reports whether a planted fault was found.
func foundPlanted(c *job.Card, fault string) bool {
	return slices.ContainsFunc(c.Finds, func(f job.Find) bool { return strings.EqualFold(f.Fault, fault) })
}

// debrief shows the planted faults beside what was found. Words that mean one of them are marked so
// by the foreman.
func (s *jobScreen) debrief(*Env) Action {
	text := []line{{role: draw.Warn, text: " PRACTICE "}}
	for _, f := range s.card.Finds {
		text = append(text, line{head: "found", indent: 8, text: fmt.Sprintf("%s (%s)", f.Fault, f.By.Name)})
	}
	if len(s.card.Finds) == 0 {
		text = append(text, line{text: "Nothing was reported as found."})
	}
	if len(s.card.Opened.Planted) == 0 {
		return Ask{Name: "debrief", Dialog: newPane("Debrief", append(text, line{text: "No fault was planted in this job."})...)}
	}
	text = append(text, line{}, line{role: draw.Title, text: "Planted; the number marks one as found when the words above mean it:"})
	var rows []choice
	for _, fault := range s.card.Opened.Planted {
		o := option{text: fault, note: "NOT FOUND"}
		if foundPlanted(s.card, fault) {
			o.note, o.off = "", "found"
		}
		rows = append(rows, choice{o, func(*Env) Action {
			return s.then(newYesNo("Found?", "Was "+fault+" found, in other words?"), func(e *Env, _ any) Action { return s.do(e, job.FindFault{Fault: fault}) })
		}})
	}
	return s.menu("Debrief: planted and found", text, rows)
}
