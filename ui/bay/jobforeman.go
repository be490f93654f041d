package bay

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
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
		off = "The vehicle has been released"
	}
	none := off
	if none == "" && len(s.card.Plan.Procedure.Deviations) == 0 {
		none = "The procedure lists nothing that may be granted"
	}
	return s.menu("For the foreman", []line{{role: draw.Faint, text: "Each one asks for the reason and ends with the foreman's code."}}, []choice{
		{option{text: "grant a deviation of the list", off: none}, s.deviation},
		{option{text: "what nobody may grant"}, func(*Env) Action {
			return Ask{Name: "never", Dialog: newPane("What nobody may grant", s.neverLines()...)}
		}},
		{option{text: "correct a trait of the vehicle", off: off}, s.trait},
		{option{text: "go on by another revision of the spec sheet", off: off}, s.otherSheet},
		{option{text: "send back to a stage", off: off}, s.sendBack},
	})
}

// neverLines is what nobody may grant, in the words of the procedure.
func (s *jobScreen) neverLines() []line {
	never := s.card.Plan.Procedure.Never
	if len(never) == 0 {
		return []line{{text: "Whatever is not on the list of deviations. Nobody grants that, with any code."}}
	}
	out := []line{{role: draw.Title, text: "Nobody grants, with any code:"}}
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
	return s.menu("Grant a deviation, for this job only", append(s.neverLines(), line{}, line{role: draw.Title, text: "The foreman may grant:"}), rows)
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
		return Say{Text: "Every stage it could excuse is signed or not part of this job", Role: draw.Warn}
	}
	rows := make([]choice, len(at))
	for i, r := range at {
		rows[i] = choice{option{text: s.title(r)}, func(*Env) Action {
			return s.words("Reason for the deviation", []line{{text: d.Title}, {text: "At: " + s.title(r)}}, "A deviation needs a reason", func(e *Env, w string) Action {
				text := []line{{text: d.Title + ", at " + s.title(r)}, {text: "Reason: " + w}, {role: draw.Warn, text: " It stands on every print of this job. "}}
				return s.byForeman(e, "Grant a deviation", text, job.Deviate{Deviation: d.ID, Stage: r, Reason: w})
			})
		}}
	}
	return s.menu(d.Title+": at which stage?", nil, rows)
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
			return s.pick(t.Title, []line{{text: t.Ask}, {text: "Until now: " + now}}, others, func(_ *Env, v string) Action {
				return s.words("Why is it corrected?", []line{{text: fmt.Sprintf("%s: %s becomes %s", t.Title, now, v)}}, "A changed trait needs a reason", func(e *Env, w string) Action {
					text := []line{{text: fmt.Sprintf("%s: %s becomes %s. Stages may come or go.", t.Title, now, v)}, {text: "Reason: " + w}}
					return s.byForeman(e, "Correct a trait", text, job.ChangeTrait{Trait: t.ID, Value: v, Reason: w})
				})
			})
		}})
	}
	return s.menu("Which trait is wrong?", nil, rows)
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
		return Say{Text: "The sheet of this job cannot be read: " + err.Error(), Role: draw.Bad}
	}
	var rows []choice
	for _, sh := range list {
		if _, d, err := sh.Pin(); err != nil || d == now {
			continue
		}
		rows = append(rows, choice{option{text: fmt.Sprintf("%s, revision %s of %s", sh.Title, sh.Revision, sh.Date)}, func(*Env) Action {
			return s.words("Why another revision?", []line{{text: "Both verdicts stay visible; what is outside by the new one becomes stale."}}, "Another revision needs a reason", func(e *Env, w string) Action {
				text := []line{{text: fmt.Sprintf("From revision %s to revision %s.", s.card.Plan.Sheet.Revision, sh.Revision)}, {text: "Reason: " + w}}
				return s.byForeman(e, "Adopt a revision", text, job.AdoptSheet{Sheet: sh, Reason: w})
			})
		}})
	}
	if len(rows) == 0 {
		return Say{Text: fmt.Sprintf("The register has no other revision than %s of %q", s.card.Plan.Sheet.Revision, s.card.Plan.Sheet.Title), Role: draw.Warn}
	}
	return s.menu("Go on by which revision?", []line{{text: "Until now: revision " + s.card.Plan.Sheet.Revision}}, rows)
}

// sendBack begins a new attempt at a named stage.
func (s *jobScreen) sendBack(*Env) Action {
	return s.then(newStageList(s.card, s.at), func(_ *Env, v any) Action {
		r, ok := v.(procedures.Ref)
		if !ok {
			return nil
		}
		text := []line{{text: "Back to: " + s.title(r)}, {text: "What rests on it becomes stale and is done again."}}
		return s.words("Send back: why?", text, "Say why it goes back", func(e *Env, w string) Action {
			return s.byForeman(e, "Send back to a stage", append(text, line{text: "Why: " + w}), job.Again{Stage: r, Reason: w})
		})
	})
}
