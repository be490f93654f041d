package paper

import (
	"fmt"

	"bay.example/pawl/job"
)

// Stop is the sheet for the steering wheel of a vehicle that stands with the work unfinished. Its
// lines have boxes: they are ticked when the sheet is read back at the vehicle.
func Stop(c *job.Card, in Info) Document {
	d := newDocument(c, in, fmt.Sprintf("Stop sheet of job %d", c.Number()))
	s := c.StopSheet()
	d.add(heading{"Do not drive, do not work on it: " + orNone(s.Kind, job.StopPause), 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{d.mark, words})
	}
	if c.Withheld != nil {
		d.add(callout{"Not roadworthy", "Withheld (" + c.Withheld.Class + "): " + c.Withheld.Words})
	}
	facts := pairs{{"Vehicle", vehicleWords(c)}, {"Stopped", s.By.Name + ", " + stamp(s.At)}}
	for _, x := range [][2]string{{"Why", s.Note}, {"Key", s.KeyAt}, {"Parts taken off", s.PartsAt}, {"Call", s.Call}, {"Next stage", s.Next}} {
		facts = append(facts, [2]string{x[0], orNone(x[1], "not written down")})
	}
	safe := "NOT SIGNED: nobody has signed that it may stand overnight"
	if s.Safe != nil {
		safe = "signed by " + who(s.Safe)
	}
	d.add(append(facts, [2]string{"Safe to leave", safe}))
	var open, back []string
	for _, l := range s.Lines {
		open = append(open, sentence(l.What)+" "+capital(sentence(l.Do)))
	}
	for _, st := range c.Open {
		if st.State != nil && st.State.Label != "" {
			back = append(back, st.State.Label+" ("+stateName(st.State, st.Ref)+", since "+stamp(st.Since.At)+")")
		}
	}
	d.section("Stands open, is loose or only hand-tight", "Nothing stands open and nothing is loose.", len(open) > 0, items{lines: open, tick: true})
	d.section("Labels on the vehicle", "No label is owed.", len(back) > 0, items{lines: back, tick: true})
	d.add(para{text: "Before the work goes on, every line is read back at the vehicle. A pass that was begun starts again from the first fastener."},
		signatures{"Chocks, stands and supports looked at, date and signature", "Read back and taken over, date and signature"})
	return d
}

// NotRoadworthy is the notice that takes the place of a release while a vehicle is withheld. The
// error says that it is not.
func NotRoadworthy(c *job.Card, in Info) (Document, error) {
	if c.Withheld == nil {
		return Document{}, fmt.Errorf("vehicle %s is not withheld, so there is no notice to print", c.Opened.Vehicle.ID)
	}
	h := c.Withheld
	d := newDocument(c, in, fmt.Sprintf("Notice for job %d", c.Number()))
	d.add(heading{"This vehicle is not roadworthy", 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{d.mark, words})
	}
	d.add(callout{"It must not be driven", "It has not been released. It leaves on a recovery vehicle only."})
	d.add(headFacts(c))
	d.add(heading{"Why", 2}, pairs{{"Reason", h.Class}, {"Measured or seen", h.Words}, {"Told", h.Told}, {"Withheld by", withRole(h.By) + ", " + stamp(h.At)}})
	t := table{head: []string{"measured outside or not proven", "value", "window", "verdict"}, wide: []int{46, 16, 24, 14}}
	for i := range c.Stages {
		for _, r := range c.Results(c.Stages[i].Node.Ref) {
			for _, v := range r.Values {
				if word := verdictWord(v.Verdict); word != "" && word != "INSIDE" && v.Window != nil {
					t.rows = append(t.rows, []string{r.Check.Title + ", " + orNone(v.Name, "value") + " - " + job.Title(c.Stages[i].Node), v.Value.String(), v.Window.Window.String(), word})
				}
			}
		}
	}
	if len(t.rows) > 0 {
		d.add(heading{"Figures", 2}, t)
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
		open = append(open, fmt.Sprintf("Declared open by %s: %s. %s", who(&x.Mark), stateName(c.Plan.Procedure.State(x.State.State), x.State), sentence(x.Words)))
	}
	d.section("Stands open on the vehicle", "Everything opened has been put back.", len(open) > 0, items{lines: open})
	d.add(para{text: "The withholding is lifted only after the cause has been cured and its stages signed again, by " + h.By.Name + " or the foreman."},
		signatures{"Handed out by, date, time and signature", "Received by, signature", "or: refused to sign, witness"},
		para{text: footnote(c), small: true})
	return d, nil
}
