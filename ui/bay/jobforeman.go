package bay

import (
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// revisions are the spec sheets of the register that this job could go on by.
type revisions []*procedures.Sheet

// foremanMenu is what the foreman alone may do to a job. The one who works stays signed in: the
// foreman types his code at the end.
func (s *jobScreen) foremanMenu(*Env) Action {
	off := ""
	if s.card.Released != nil {
		off = phrase.Of("bay.jobforeman.the-vehicle-has-been-released")
	}
	none := off
	if none == "" && len(s.card.Plan.Procedure.Deviations) == 0 {
		none = phrase.Of("bay.jobforeman.the-procedure-lists-nothing-that-may-be")
	}
	return s.menu(phrase.Of("bay.jobforeman.for-the-foreman"), []line{{role: draw.Faint, text: phrase.Of("bay.jobforeman.each-one-asks-for-the-reason-and")}}, []choice{
		{option{text: phrase.Of("bay.jobforeman.grant-a-deviation-of-the-list"), off: none}, s.deviation},
		{option{text: phrase.Of("bay.jobforeman.what-nobody-may-grant")}, func(*Env) Action {
			return Ask{Name: "never", Dialog: newPane(phrase.Of("bay.jobforeman.what-nobody-may-grant-2"), s.neverLines()...)}
		}},
		{option{text: phrase.Of("bay.jobforeman.correct-a-trait-of-the-vehicle"), off: off}, s.trait},
		{option{text: phrase.Of("bay.jobforeman.go-on-by-another-revision-of-the"), off: off}, s.otherSheet},
		{option{text: phrase.Of("bay.jobforeman.send-back-to-a-stage"), off: off}, s.sendBack},
	})
}

// neverLines is what nobody may grant, in the words of the procedure.
func (s *jobScreen) neverLines() []line {
	never := s.card.Plan.Procedure.Never
	if len(never) == 0 {
		return []line{{text: phrase.Of("bay.jobforeman.whatever-is-not-on-the-list-of")}}
	}
	out := []line{{role: draw.Title, text: phrase.Of("bay.jobforeman.nobody-grants-with-any-code")}}
	for _, n := range never {
		out = append(out, line{head: "-", indent: 3, text: n})
	}
	return out
}

// deviation asks which one of the closed list; what nobody may grant stands beside it.
func (s *jobScreen) deviation(*Env) Action {
	list := s.card.Plan.Procedure.Deviations
	rows := make([]choice, len(list))
	for i, d := range list {
		rows[i] = choice{option{text: d.Title}, func(*Env) Action { return s.deviationStage(d) }}
	}
	return s.menu(phrase.Of("bay.jobforeman.grant-a-deviation-for-this-job-only"), append(s.neverLines(), line{}, line{role: draw.Title, text: phrase.Of("bay.jobforeman.the-foreman-may-grant")}), rows)
}

// deviationStage asks for the stage it is granted at, where there are several.
func (s *jobScreen) deviationStage(d procedures.Deviation) Action {
	var at []procedures.Ref
	for i := range s.card.Stages {
		st := &s.card.Stages[i]
		open := st.Status != job.LeftOut && st.Status != job.Complete && st.Status != job.SecondOwed
		if open && slices.ContainsFunc(d.Excuses, func(x string) bool { return strings.HasPrefix(x, st.Node.Ref.Stage+".") }) {
			at = append(at, st.Node.Ref)
		}
	}
	if len(at) == 0 {
		return Say{Text: phrase.Of("bay.jobforeman.every-stage-it-could-excuse-is-signed"), Role: draw.Warn}
	}
	rows := make([]choice, len(at))
	for i, r := range at {
		rows[i] = choice{option{text: s.title(r)}, func(*Env) Action {
			return s.words(phrase.Of("bay.jobforeman.reason-for-the-deviation"), []line{{text: d.Title}, {text: phrase.Of("bay.jobforeman.at", s.title(r))}}, phrase.Of("bay.jobforeman.a-deviation-needs-a-reason"), func(e *Env, w string) Action {
				text := []line{{text: phrase.Of("bay.jobforeman.at-2", d.Title, s.title(r))}, {text: phrase.Of("bay.jobforeman.reason", w)}, {role: draw.Warn, text: phrase.Of("bay.jobforeman.it-stands-on-every-print-of-this")}}
				return s.byForeman(e, phrase.Of("bay.jobforeman.grant-a-deviation"), text, job.Deviate{Deviation: d.ID, Stage: r, Reason: w})
			})
		}}
	}
	return s.menu(phrase.Of("bay.jobforeman.at-which-stage", d.Title), nil, rows)
}

// trait corrects a fact about the vehicle.
func (s *jobScreen) trait(*Env) Action {
	var rows []choice
	for _, t := range s.card.Plan.Procedure.Traits {
		now, ok := s.card.Plan.Traits[t.ID]
		if !ok {
			continue
		}
		rows = append(rows, choice{option{text: t.Title + ": " + now, note: t.Ask}, func(*Env) Action {
			others := slices.DeleteFunc(slices.Clone(t.Values), func(v string) bool { return v == now })
			return s.pick(t.Title, []line{{text: t.Ask}, {text: phrase.Of("bay.jobforeman.until-now", now)}}, others, func(_ *Env, v string) Action {
				return s.words(phrase.Of("bay.jobenter.why-is-it-corrected"), []line{{text: phrase.Of("bay.jobforeman.becomes", t.Title, now, v)}}, phrase.Of("bay.jobforeman.a-changed-trait-needs-a-reason"), func(e *Env, w string) Action {
					text := []line{{text: phrase.Of("bay.jobforeman.becomes-stages-may-come-or-go", t.Title, now, v)}, {text: phrase.Of("bay.jobforeman.reason", w)}}
					return s.byForeman(e, phrase.Of("bay.jobforeman.correct-a-trait"), text, job.ChangeTrait{Trait: t.ID, Value: v, Reason: w})
				})
			})
		}})
	}
	return s.menu(phrase.Of("bay.jobforeman.which-trait-is-wrong"), nil, rows)
}

// otherSheet looks for another revision on the register.
func (s *jobScreen) otherSheet(*Env) Action {
	id := s.card.Plan.Sheet.ID
	return Call{Name: "sheets", Do: func(f *store.File) (any, error) {
		return revisions(slices.DeleteFunc(f.Sheets(), func(x *procedures.Sheet) bool { return x.ID != id })), nil
	}}
}

// sheetsRead goes on with the revisions there are.
func (s *jobScreen) sheetsRead(list revisions) Action {
	_, now, err := s.card.Plan.Sheet.Pin()
	if err != nil {
		return Say{Text: phrase.Of("bay.jobforeman.the-sheet-of-this-job-cannot-be", err.Error()), Role: draw.Bad}
	}
	var rows []choice
	for _, sh := range list {
		if _, d, err := sh.Pin(); err != nil || d == now {
			continue
		}
		rows = append(rows, choice{option{text: phrase.Of("bay.jobforeman.revision-of", sh.Title, sh.Revision, sh.Date)}, func(*Env) Action {
			return s.words(phrase.Of("bay.jobforeman.why-another-revision"), []line{{text: phrase.Of("bay.jobforeman.both-verdicts-stay-visible-what-is-outside")}}, phrase.Of("bay.jobforeman.another-revision-needs-a-reason"), func(e *Env, w string) Action {
				text := []line{{text: phrase.Of("bay.jobforeman.from-revision-to-revision", s.card.Plan.Sheet.Revision, sh.Revision)}, {text: phrase.Of("bay.jobforeman.reason", w)}}
				return s.byForeman(e, phrase.Of("bay.jobforeman.adopt-a-revision"), append(text, s.adoptionLines(e, sh)...), job.AdoptSheet{Sheet: sh, Reason: w})
			})
		}})
	}
	if len(rows) == 0 {
		return Say{Text: phrase.Of("bay.jobforeman.the-register-has-no-other-revision-than", s.card.Plan.Sheet.Revision, s.card.Plan.Sheet.Title), Role: draw.Warn}
	}
	return s.menu(phrase.Of("bay.jobforeman.go-on-by-which-revision"), []line{{text: phrase.Of("bay.jobforeman.until-now-revision", s.card.Plan.Sheet.Revision)}}, rows)
}

// sendBack begins a new attempt at a named stage.
func (s *jobScreen) sendBack(*Env) Action {
	return s.then(newStageList(s.card, s.at), func(_ *Env, v any) Action {
		r, ok := v.(procedures.Ref)
		if !ok {
			return nil
		}
		text := []line{{text: phrase.Of("bay.jobforeman.back-to", s.title(r))}, {text: phrase.Of("bay.jobforeman.what-rests-on-it-becomes-stale-and")}}
		return s.words(phrase.Of("bay.jobforeman.send-back-why"), text, phrase.Of("bay.jobforeman.say-why-it-goes-back"), func(e *Env, w string) Action {
			return s.byForeman(e, phrase.Of("bay.jobforeman.send-back-to-a-stage-2"), append(text, line{text: phrase.Of("bay.jobforeman.why", w)}), job.Again{Stage: r, Reason: w})
		})
	})
}
