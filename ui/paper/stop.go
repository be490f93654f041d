package paper

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Stop is the sheet for the steering wheel of a vehicle that stands with the work unfinished. Its
// lines have boxes: they are ticked when the sheet is read back at the vehicle.
func Stop(c *job.Card, in Info) Document {
	d := newDocument(c, in, phrase.Of("paper.stop.stop-sheet-of-job", c.Number()))
	s := c.StopSheet()
	d.add(heading{phrase.Of("paper.stop.do-not-drive-do-not-work-on", orNone(s.Kind, job.StopPause)), 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{phrase.Word(d.mark), words})
	}
	if c.Withheld != nil {
		d.add(callout{phrase.Of("paper.stop.not-roadworthy"), phrase.Of("paper.stop.withheld", phrase.Word(c.Withheld.Class), c.Withheld.Words)})
	}
	facts := pairs{{phrase.Of("paper.stop.vehicle"), vehicleWords(c)}, {phrase.Of("paper.stop.stopped"), s.By.Name + ", " + stamp(s.At)}}
	for _, x := range [][2]string{{phrase.Of("paper.stop.why"), s.Note}, {phrase.Of("paper.stop.key"), s.KeyAt}, {phrase.Of("paper.stop.parts-taken-off"), s.PartsAt}, {phrase.Of("paper.stop.call"), s.Call}, {phrase.Of("paper.stop.next-stage"), s.Next}} {
		facts = append(facts, [2]string{x[0], orNone(x[1], phrase.Of("paper.stop.not-written-down"))})
	}
	safe := phrase.Of("paper.stop.not-signed-nobody-has-signed-that-it")
	if s.Safe != nil {
		safe = phrase.Of("paper.stop.signed-by", who(s.Safe))
	}
	d.add(append(facts, [2]string{phrase.Of("paper.stop.safe-to-leave"), safe}))
	var open, back []string
	for _, l := range s.Lines {
		open = append(open, sentence(l.What)+" "+phrase.Capital(sentence(l.Do)))
	}
	for _, st := range c.Open {
		if st.State != nil && st.State.Label != "" {
			back = append(back, phrase.Of("paper.stop.since", st.State.Label, stateName(st.State, st.Ref), stamp(st.Since.At)))
		}
	}
	d.section(phrase.Of("paper.stop.stands-open-is-loose-or-only-hand"), phrase.Of("paper.stop.nothing-stands-open-and-nothing-is-loose"), len(open) > 0, items{lines: open, tick: true})
	d.section(phrase.Of("paper.stop.labels-on-the-vehicle"), phrase.Of("paper.stop.no-label-is-owed"), len(back) > 0, items{lines: back, tick: true})
	d.add(para{text: phrase.Of("paper.stop.before-the-work-goes-on-every-line")},
		signatures{phrase.Of("paper.stop.chocks-stands-and-supports-looked-at-date"), phrase.Of("paper.stop.read-back-and-taken-over-date-and")})
	return d
}

// NotRoadworthy is the notice that takes the place of a release while a vehicle is withheld. The
// error says that it is not.
func NotRoadworthy(c *job.Card, in Info) (Document, error) {
	if c.Withheld == nil {
		return Document{}, phrase.Error("paper.stop.vehicle-is-not-withheld-so-there-is", c.Opened.Vehicle.ID)
	}
	h := c.Withheld
	d := newDocument(c, in, phrase.Of("paper.stop.notice-for-job", c.Number()))
	d.add(heading{phrase.Of("paper.stop.this-vehicle-is-not-roadworthy"), 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{phrase.Word(d.mark), words})
	}
	d.add(callout{phrase.Of("paper.stop.it-must-not-be-driven"), phrase.Of("paper.stop.it-has-not-been-released-it-leaves")})
	d.add(headFacts(c))
	d.add(heading{phrase.Of("paper.stop.why"), 2}, pairs{{phrase.Of("paper.stop.reason"), phrase.Word(h.Class)}, {phrase.Of("paper.stop.measured-or-seen"), h.Words}, {phrase.Of("paper.stop.told"), h.Told}, {phrase.Of("paper.stop.withheld-by"), withRole(h.By) + ", " + stamp(h.At)}})
	t := table{head: []string{phrase.Of("paper.stop.measured-outside-or-not-proven"), phrase.Of("paper.stop.value"), phrase.Of("paper.stop.window"), phrase.Of("paper.stop.verdict")}, wide: []int{46, 16, 24, 14}}
	for i := range c.Stages {
		for _, r := range c.Results(c.Stages[i].Node.Ref) {
			for _, v := range r.Values {
				if word := verdictWord(v.Verdict); word != "" && v.Verdict != quantity.Inside && v.Window != nil {
					t.rows = append(t.rows, []string{r.Check.Title + ", " + orNone(v.Name, phrase.Of("paper.stop.value")) + " - " + job.Title(c.Stages[i].Node), v.Value.Shown(), v.Window.Window.Shown(), word})
				}
			}
		}
	}
	if len(t.rows) > 0 {
		d.add(heading{phrase.Of("paper.stop.figures"), 2}, t)
	}
	d.found(c)
	var open []string
	for _, s := range c.Open {
		line := stateName(s.State, s.Ref)
		if s.State != nil {
			line += ": " + sentence(s.State.Danger)
		}
		open = append(open, line)
	}
	for _, x := range c.Declared {
		open = append(open, phrase.Of("paper.stop.declared-open-by", who(&x.Mark), stateName(c.Plan.Procedure.State(x.State.State), x.State), sentence(x.Words)))
	}
	d.section(phrase.Of("paper.stop.stands-open-on-the-vehicle"), phrase.Of("paper.stop.everything-opened-has-been-put-back"), len(open) > 0, items{lines: open})
	d.add(para{text: phrase.Of("paper.stop.the-withholding-is-lifted-only-after-the", h.By.Name)},
		signatures{phrase.Of("paper.stop.handed-out-by-date-time-and-signature"), phrase.Of("paper.stop.received-by-signature"), phrase.Of("paper.stop.or-refused-to-sign-witness")},
		para{text: footnote(c), small: true})
	return d, nil
}
