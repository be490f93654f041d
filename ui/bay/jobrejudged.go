package bay

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// adoptionLines says, before the foreman adopts a sheet, which values on record it judges by another
// window, and which stages must be done again for it.
func (s *jobScreen) adoptionLines(e *Env, sheet *procedures.Sheet) []line {
	list, err := s.card.RejudgedBy(sheet)
	switch {
	case err != nil:
		return []line{{role: draw.Bad, text: err.Error()}}
	case len(list) == 0:
		return []line{{role: draw.Good, text: phrase.Of("bay.jobrejudged.nothing-on-record")}}
	}
	out := []line{{text: phrase.Count("count.rejudged", len(list), sheet.Revision)}}
	for _, r := range list {
		l := line{role: draw.Text, head: "-", indent: 3, text: s.title(r.Stage) + ": " + e.decimals(r.Words())}
		if r.Last && r.Turned() {
			l.role, l.head = draw.Warn, "!"
			l.text += phrase.Of("bay.jobrejudged.done-again")
		}
		out = append(out, l)
	}
	return out
}

// rejudged says of an item whose value the adopted sheet no longer lets stand what it was and how both
// revisions judge it.
func (s *jobScreen) rejudged(e *Env, it item) string {
	if it.entry != nil || it.check == nil {
		return ""
	}
	for _, r := range s.card.Rejudged() {
		if r.Stage == s.at && r.Last && r.Check == it.check.ID && r.Item == it.name {
			return e.decimals(phrase.Of("bay.jobrejudged.both", r.Value, r.Was.Verdict, r.Was.Revision, r.Now.Verdict, r.Now.Revision))
		}
	}
	return ""
}

// turned lists the stages whose values the sheet just adopted no longer lets stand.
func (s *jobScreen) turned() []procedures.Ref {
	var out []procedures.Ref
	for i := range s.card.Stages {
		if st := &s.card.Stages[i]; st.Status == job.Stale && st.StaleBy != nil && *st.StaleBy == st.Node.Ref {
			out = append(out, st.Node.Ref)
		}
	}
	return out
}
