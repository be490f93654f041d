package paper

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
)

// HandOver is the list that is gone through with the driver when the vehicle is given back.
func HandOver(c *job.Card, in Info) Document {
	d := newDocument(c, in, phrase.Of("paper.handover.hand-over-of-job", c.Number()))
	d.add(heading{phrase.Of("paper.handover.hand-over-to-the-driver", outcomeWords(c)), 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{phrase.Word(d.mark), words})
	}
	switch {
	case c.Withheld != nil:
		d.add(callout{phrase.Of("paper.handover.not-roadworthy"), phrase.Of("paper.handover.the-vehicle-leaves-on-a-recovery-vehicle")})
	case c.Released == nil:
		d.add(callout{phrase.Of("paper.handover.not-released"), phrase.Of("paper.handover.the-key-stays-here-until-the-vehicle")})
	}
	d.add(headFacts(c))
	var told []string
	if c.Outcome() == job.OutcomeReleased {
		told = append(told, phrase.Of("paper.handover.engine-running-the-driver-tries-the-pedal"))
		if renewed(c) {
			told = append(told, behave()...)
		}
	}
	for _, p := range c.Promises() {
		line := phrase.Of("paper.handover.due-by", p.DueDate)
		if !p.DueAt.IsZero() {
			line += phrase.Of("paper.handover.or-at-whichever-comes-first", p.DueAt.Shown())
		}
		told = append(told, line+": "+sentence(p.What))
	}
	for _, a := range c.Advice {
		line := phrase.Of("paper.handover.advice", phrase.Word(a.Urgency), sentence(a.Text))
		if a.Decided != nil {
			line += phrase.Of("paper.handover.answer", a.Decided.Answer, a.Decided.Words)
		}
		told = append(told, line)
	}
	d.section(phrase.Of("paper.handover.told"), phrase.Of("paper.handover.nothing-has-to-be-told"), len(told) > 0, items{lines: told, tick: true})
	d.plainDeviations(c)
	d.section(phrase.Of("paper.handover.given"), "", true, items{tick: true, lines: []string{phrase.Of("paper.handover.key"), phrase.Of("paper.handover.record-number-job", c.Number()), phrase.Of("paper.handover.old-parts-shown"), phrase.Of("paper.handover.page-for-the-customer"), phrase.Of("paper.handover.re-torque-label-on-the-windscreen-or")}})
	d.add(signatures{phrase.Of("paper.handover.handed-over-by-date-and-signature"), phrase.Of("paper.handover.driver-name-and-signature"), phrase.Of("paper.handover.odometer-at-hand-over")})
	return d
}
