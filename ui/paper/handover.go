package paper

import (
	"fmt"

	"bay.example/pawl/job"
)

// HandOver is the list that is gone through with the driver when the vehicle is given back.
func HandOver(c *job.Card, in Info) Document {
	d := newDocument(c, in, fmt.Sprintf("Hand-over of job %d", c.Number()))
	d.add(heading{"Hand-over to the driver: " + outcomeWords(c), 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{d.mark, words})
	}
	switch {
	case c.Withheld != nil:
		d.add(callout{"Not roadworthy", "The vehicle leaves on a recovery vehicle only. The notice goes with it."})
	case c.Released == nil:
		d.add(callout{"Not released", "The key stays here until the vehicle has been released."})
	}
	d.add(headFacts(c))
	var told []string
	if c.Outcome() == job.OutcomeReleased {
		told = append(told, "Engine running, the driver tries the pedal himself before moving off.")
		if renewed(c) {
			told = append(told, behave()...)
		}
	}
	for _, p := range c.Promises() {
		line := "Due by " + p.DueDate
		if !p.DueAt.IsZero() {
			line += " or at " + p.DueAt.String() + ", whichever comes first"
		}
		told = append(told, line+": "+sentence(p.What))
	}
	for _, a := range c.Advice {
		line := fmt.Sprintf("Advice (%s): %s", a.Urgency, sentence(a.Text))
		if a.Decided != nil {
			line += fmt.Sprintf(" Answer: %s, %q.", a.Decided.Answer, a.Decided.Words)
		}
		told = append(told, line)
	}
	d.section("Told", "Nothing has to be told.", len(told) > 0, items{lines: told, tick: true})
	d.plainDeviations(c)
	d.section("Given", "", true, items{tick: true, lines: []string{"Key", fmt.Sprintf("Record number: job %d", c.Number()), "Old parts shown", "Page for the customer", "Re-torque label on the windscreen or the key"}})
	d.add(signatures{"Handed over by, date and signature", "Driver, name and signature", "Odometer at hand-over"})
	return d
}
