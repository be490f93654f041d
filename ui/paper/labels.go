package paper

import (
	"errors"
	"fmt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Labels are the labels the job needs now, to be cut out: one for every standing state in the words
// of the procedure, one on a withheld vehicle, one for the re-torque that is due, one for every part
// that was measured and is not to be fitted. The error says that none is needed.
func Labels(c *job.Card, in Info) (Document, error) {
	d := newDocument(c, in, fmt.Sprintf("Labels of job %d", c.Number()))
	foot := fmt.Sprintf("job %d, vehicle %s, %s", c.Number(), vehicleWords(c), stamp(in.Printed))
	put := func(words string, lines ...string) {
		if d.mark != "" {
			lines = append([]string{d.mark + ": " + markWords(d.mark)}, lines...)
		}
		d.add(label{words, append(lines, foot)})
	}
	if h := c.Withheld; h != nil {
		put("NOT ROADWORTHY - do not drive", h.Class+": "+h.Words, "Leaves on a recovery vehicle only. Withheld by "+who(&h.Mark)+".")
	}
	for _, s := range c.Open {
		if s.State != nil && s.State.Label != "" {
			put(s.State.Label, stateName(s.State, s.Ref)+", since "+stamp(s.Since.At)+" by "+s.Since.By.Name, s.State.Danger)
		}
	}
	for _, p := range c.Promises() {
		if p.Key != job.KeyRetorque || p.Ended != "" {
			continue
		}
		words := "RE-TORQUE DUE " + p.DueDate
		line := "Wheel fasteners, on that day at the latest."
		if !p.DueAt.IsZero() {
			words = "RE-TORQUE AT " + p.DueAt.String()
			line = "or on " + p.DueDate + ", whichever comes first; late after " + p.LateAt.String()
		}
		put(words, "Wheel fasteners", line)
	}
	for _, q := range quarantined(c) {
		put("QUARANTINED PART - do not fit", q...)
	}
	if len(d.blocks) == 0 {
		return Document{}, errors.New("nothing stands open, is due or is quarantined, so there is no label to print")
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
					lines = append(lines, pc.Title+": number "+valueOf(number)+", batch "+valueOf(batch))
					break // the part measured is named first
				}
			}
			out = append(out, append(lines, fmt.Sprintf("%s, %s: %s, %s, nominal %s; measured by %s", g.check.Title, e.Item, e.Value, e.Verdict, g.check.Nominal.Window, who(&e.Mark))))
			break
		}
	}
	return out
}
