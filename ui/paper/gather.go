package paper

import (
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// group is what one attempt at one check recorded, in the order of the events.
type group struct {
	stage   *job.StageCard
	attempt *job.Attempt
	check   *procedures.PlanCheck
	entries []*job.Entry // also the replaced and the broken ones
}

// counting are the entries that stand.
func (g group) counting() []*job.Entry {
	var out []*job.Entry
	for _, e := range g.entries {
		if e.Counts() {
			out = append(out, e)
		}
	}
	return out
}

// last reports whether the attempt is the one that counts.
func (g group) last() bool { return g.attempt.No == g.stage.Current().No }

// title names check, stage and attempt.
func (g group) title() string {
	text := g.check.Title + " - " + job.Title(g.stage.Node)
	if len(g.stage.Attempts) > 1 {
		text += attemptWords(g.attempt.No)
	}
	return text
}

// groups collects what was recorded at the checks that fit, in the order of the graph.
func groups(c *job.Card, fit func(*procedures.PlanCheck) bool) []group {
	var out []group
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Attempts {
			a := &s.Attempts[k]
			for n := range s.Node.Checks {
				pc := &s.Node.Checks[n]
				if !fit(pc) {
					continue
				}
				g := group{stage: s, attempt: a, check: pc}
				for x := range a.Entries {
					if a.Entries[x].Check == pc.ID {
						g.entries = append(g.entries, &a.Entries[x])
					}
				}
				if len(g.entries) > 0 {
					out = append(out, g)
				}
			}
		}
	}
	return out
}

func isTorque(pc *procedures.PlanCheck) bool { return pc.Kind == procedures.Torque }

// isMeasured reports whether a check takes measurements.
func isMeasured(pc *procedures.PlanCheck) bool {
	return pc.Kind == procedures.Thickness || pc.Kind == procedures.RunOut || pc.Kind == procedures.Reading
}

// valueOf is the value or the answer of an entry.
func valueOf(e *job.Entry) string {
	if e.Value.IsZero() {
		return e.Answer
	}
	return e.Value.Shown()
}

// setValue is what a setting wrench was set to, an intention only; reachedValue is what was seen or
// heard on the fastener. They are never printed under one word.
func setValue(e *job.Entry) string {
	if e.Instrument != nil && e.Instrument.Kind == register.SettingWrench {
		return e.Value.Shown()
	}
	return ""
}

func reachedValue(e *job.Entry) string {
	if e.Item == procedures.ItemNew {
		return e.Value.Shown()
	}
	text := e.Value.Shown()
	if setValue(e) != "" {
		text = phrase.Of("paper.gather.clicked")
		if e.Evidence == job.ToldLater {
			text = phrase.Of("paper.gather.click-told")
		}
	}
	if !e.Bolt.IsZero() {
		text += phrase.Of("paper.gather.at-the-fastener", rounded(e.Bolt))
	}
	return text
}

// rounded is a worked-out torque with two decimals at most.
func rounded(q quantity.Quantity) string {
	if q.Places() <= 2 {
		return q.Shown()
	}
	return quantity.FromRat(q.Rat(), q.Unit, 2).Shown()
}

// checkedValue is what second persons found on a fastener with a tool in hand.
func checkedValue(a *job.Attempt, check, item string) string {
	var parts []string
	for _, k := range a.Checks {
		if k.Check != check || k.Item != item {
			continue
		}
		text := k.Value.Shown()
		if k.Instrument != nil {
			text += " " + k.Instrument.ID
		}
		text += " " + k.By.Name
		if k.Moved {
			text += phrase.Of("paper.gather.moved")
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// remarksOn says what is odd about an entry.
func remarksOn(e *job.Entry) string {
	var parts []string
	switch {
	case e.ReplacedBy != 0:
		parts = append(parts, phrase.Of("paper.gather.replaced"))
	case e.Broken:
		parts = append(parts, phrase.Of("paper.gather.pass-broken-off"))
	}
	if e.Real != nil {
		parts = append(parts, phrase.Of("paper.gather.called-real"))
	}
	if e.Replaces != 0 {
		parts = append(parts, phrase.Of("paper.gather.corrected"))
	}
	if e.AllAtOnce {
		parts = append(parts, phrase.Of("paper.gather.all-at-once"))
	}
	if e.Source == job.SourcePaper {
		parts = append(parts, phrase.Of("paper.gather.entered-later-from-paper"))
	}
	return strings.Join(parts, ", ")
}

// verdictWord is the verdict as it is printed; empty where nothing was judged.
func verdictWord(v quantity.Verdict) string {
	if v == quantity.Unjudged {
		return ""
	}
	return strings.ToUpper(phrase.Word(v.String()))
}

// recordedVerdict is the verdict as files for other programs write it.
func recordedVerdict(v quantity.Verdict) string {
	if v == quantity.Unjudged {
		return ""
	}
	return v.String()
}

// windowWords is a window with the document it stands in.
func windowWords(w *procedures.PlanWindow) string {
	if w == nil || w.Window.IsZero() {
		return ""
	}
	text := w.Window.Shown()
	if w.Document != "" {
		text += " (" + w.Document
		if w.Revision != "" {
			text += ", " + w.Revision
		}
		text += ")"
	}
	return text
}

// names joins people by name.
func names(people []job.Who) string {
	var out []string
	for _, p := range people {
		out = append(out, p.Name)
	}
	return strings.Join(out, ", ")
}
