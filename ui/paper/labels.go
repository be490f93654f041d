package paper

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Labels are the labels the job needs now, to be cut out: one for every standing state in the words
// of the procedure, one on a withheld vehicle, one for the re-torque that is due, one for every part
// that was measured and is not to be fitted. The error says that none is needed.
func Labels(c *job.Card, in Info) (Document, error) {
	d := newDocument(c, in, phrase.Of("paper.labels.labels-of-job", c.Number()))
	foot := phrase.Of("paper.labels.job-vehicle", c.Number(), vehicleWords(c), stamp(in.Printed))
	put := func(words string, lines ...string) {
		if d.mark != "" {
			lines = append([]string{phrase.Word(d.mark) + ": " + markWords(d.mark)}, lines...)
		}
		d.add(label{words, append(lines, foot)})
	}
	if h := c.Withheld; h != nil {
		put(phrase.Of("paper.labels.not-roadworthy-do-not-drive"), phrase.Word(h.Class)+": "+h.Words, phrase.Of("paper.labels.leaves-on-a-recovery-vehicle-only-withheld", who(&h.Mark)))
	}
	for _, s := range c.Open {
		if s.State != nil && s.State.Label != "" {
			put(s.State.Label, phrase.Of("paper.labels.since-by", stateName(s.State, s.Ref), stamp(s.Since.At), s.Since.By.Name), s.State.Danger)
		}
	}
	for _, p := range c.Promises() {
		if p.Key != job.KeyRetorque || p.Ended != "" {
			continue
		}
		words := phrase.Of("paper.labels.re-torque-due", p.DueDate)
		line := phrase.Of("paper.labels.wheel-fasteners-on-that-day-at-the")
		if !p.DueAt.IsZero() {
			words = phrase.Of("paper.labels.re-torque-at", p.DueAt.Shown())
			line = phrase.Of("paper.labels.or-on-whichever-comes-first-late-after", p.DueDate, p.LateAt.Shown())
		}
		put(words, phrase.Of("paper.labels.wheel-fasteners"), line)
	}
	for _, q := range quarantined(c) {
		put(phrase.Of("paper.labels.quarantined-part-do-not-fit"), q...)
	}
	if len(d.blocks) == 0 {
		return Document{}, phrase.Error("paper.labels.nothing-stands-open-is-due-or-is")
	}
	return d, nil
}

// quarantined describes every new part that was measured and does not fit its nominal size, from all
// attempts: a part once refused stays refused.
func quarantined(c *job.Card) [][]string {
	var out [][]string
	for _, g := range groups(c, func(pc *procedures.PlanCheck) bool { return pc.Nominal != nil }) {
		for _, e := range g.counting() {
			if e.Verdict != quantity.Outside && e.Verdict != quantity.NotProven {
				continue
			}
			lines := []string{job.Title(g.stage.Node)}
			for i := range g.stage.Node.Checks {
				pc := &g.stage.Node.Checks[i]
				number, batch := g.attempt.Entry(pc.ID, procedures.PartNumber), g.attempt.Entry(pc.ID, procedures.PartBatch)
				if pc.Kind == procedures.Part && number != nil && batch != nil {
					lines = append(lines, phrase.Of("paper.labels.number-batch", pc.Title, valueOf(number), valueOf(batch)))
					break // the part measured is named first
				}
			}
			out = append(out, append(lines, phrase.Of("paper.labels.nominal-measured-by", g.check.Title, e.Item, e.Value, e.Verdict, g.check.Nominal.Window, who(&e.Mark))))
			break
		}
	}
	return out
}
