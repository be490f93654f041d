package bay

import (
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// measuredBefore are the sets that a decision, or a stage that goes back to the worst of them, rests
// on: no window judged them where they were taken, so whoever decides has to see them.
func (s *jobScreen) measuredBefore() []job.Remark {
	if !s.restsOnSets() {
		return nil
	}
	var out []job.Remark
	for i := range s.card.Stages {
		st := &s.card.Stages[i]
		r := st.Node.Ref
		if st.Status == job.LeftOut || st.Status == job.Stale || !s.card.Plan.Before(r, s.at) || s.at.Side != procedures.NoSide && r.Side != s.at.Side {
			continue
		}
		for k := range st.Node.Checks {
			pc := &st.Node.Checks[k]
			if (pc.Kind != procedures.Thickness && pc.Kind != procedures.Reading) || len(pc.Items) < 2 || pc.Window != nil || pc.Nominal != nil {
				continue
			}
			if text := setWords(st.Current(), pc); text != "" {
				title := pc.Title
				if r.Side != s.at.Side {
					title = strings.ToUpper(phrase.Word(r.Side)) + " " + title
				}
				out = append(out, job.Remark{Key: "measured/" + r.String() + "/" + pc.ID, Stage: s.at, Text: title + ": " + text})
			}
		}
	}
	return out
}

// restsOnSets reports whether the stage decides, or comes straight after a decision to measure again.
func (s *jobScreen) restsOnSets() bool {
	decides := func(n *procedures.Node) bool {
		return slices.ContainsFunc(n.Checks, func(k procedures.PlanCheck) bool { return k.Decision != "" })
	}
	n := s.stage().Node
	if decides(n) {
		return true
	}
	return slices.ContainsFunc(n.Checks, func(k procedures.PlanCheck) bool { return k.Kind == procedures.Reading && k.Window != nil }) &&
		slices.ContainsFunc(n.After, func(r procedures.Ref) bool { st := s.card.Stage(r); return st != nil && decides(st.Node) })
}

// setWords is a whole set in the order of its points, the unit once; empty while a point is missing.
func setWords(a *job.Attempt, pc *procedures.PlanCheck) string {
	var out []string
	unit := ""
	for _, item := range pc.Items {
		e := a.Entry(pc.ID, item)
		if e == nil || e.Value.IsZero() {
			return ""
		}
		out = append(out, phrase.Decimal(e.Value.Number))
		unit = string(e.Value.Unit)
	}
	return strings.Join(out, ", ") + " " + unit
}

// decidedLines repeats, under the signature, what is decided by it.
func (s *jobScreen) decidedLines() []line {
	var out []line
	for _, it := range s.items() {
		if it.entry != nil && (it.check.Decision != "" || it.check.Finding != "") {
			out = append(out, line{role: draw.Title, text: it.check.Title + ": " + it.entry.Answer})
		}
	}
	return out
}
