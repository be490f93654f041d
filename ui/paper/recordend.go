package paper

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bay.example/pawl/job"
)

// Formulas is the version of the rules by which figures are worked out of recorded values. It
// changes with any rule that would give another figure.
const Formulas = "1"

// meaning prints what the values mean, the questions they raised and the answers.
func (d *Document) meaning(c *job.Card) {
	var lines []string
	for _, m := range c.Remarks() {
		at := m.Stage
		if strings.HasPrefix(m.Text, capital(string(at.Side))+":") {
			at.Side = "" // the text names the side
		}
		line := titleOf(c, at) + ": " + m.Text
		if m.Ask != "" {
			line += " " + m.Ask + " "
			if a := c.Answer(m.Key); a != nil {
				line += fmt.Sprintf("Answer of %s: %s", a.By.Name, sentence(a.Answer))
			} else {
				line += "Not answered."
			}
		}
		lines = append(lines, line)
	}
	d.section("What the measurements mean", "Nothing follows from the measurements.", len(lines) > 0,
		para{small: true, text: "Worked out from the recorded values by the formulas version " + Formulas + "; a calculation is never itself a record."}, items{lines: lines})
}

// rules prints the deviations granted, those that could have been, and what nobody may grant.
func (d *Document) rules(c *job.Card) {
	t := table{close: true, head: []string{"deviation", "stage", "reason", "granted by"}, wide: []int{30, 24, 28, 18}}
	for _, x := range c.Deviations {
		by := who(&x.Mark)
		if x.OwnWork {
			by += ", on own work"
		}
		t.rows = append(t.rows, []string{x.Title, titleOf(c, x.Stage), x.Reason, by})
	}
	d.section("Deviations", "No deviation was granted.", len(t.rows) > 0, t)
	for _, h := range c.Holds {
		text := fmt.Sprintf("Withheld by %s (%s): %s Told: %s", who(&h.Mark), h.Class, sentence(h.Words), sentence(h.Told))
		if h.LiftedBy != nil {
			text += fmt.Sprintf(" Lifted by %s after %s: %s", who(h.LiftedBy), titleOf(c, h.Cure), sentence(h.CureWords))
		}
		d.add(para{text: text})
	}
	p := c.Plan.Procedure
	if len(p.Deviations) > 0 {
		var may []string
		for _, x := range p.Deviations {
			may = append(may, x.Title)
		}
		d.add(heading{"What the foreman may grant, with a reason, for one job", 3}, items{lines: may})
	}
	if len(p.Never) > 0 {
		d.add(heading{"What nobody may grant", 3}, items{lines: p.Never})
	}
}

func (d *Document) followUps(c *job.Card) {
	t := table{close: true, head: []string{"promised", "due", "state"}, wide: []int{46, 28, 26}}
	for _, p := range c.Promises() {
		due := p.DueDate
		if !p.DueAt.IsZero() {
			due += " or " + p.DueAt.String()
		}
		t.rows = append(t.rows, []string{p.What, due, orNone(p.LastWord, "open")})
		for _, a := range p.Acts {
			t.rows = append(t.rows, []string{"", a.Until, fmt.Sprintf("%s, %s: %s", a.Act, who(&a.Mark), a.Words)})
		}
	}
	d.section("Promised", "Nothing was promised.", len(t.rows) > 0, t)
}

func (d *Document) addenda(c *job.Card) {
	t := table{close: true, head: []string{"added after the release", "time, by"}, wide: []int{74, 26}}
	for _, n := range c.Addenda {
		t.rows = append(t.rows, []string{n.Text, who(&n.Mark)})
	}
	d.section("Addenda", "Nothing was added after the release.", len(t.rows) > 0, t)
}

// basis names the texts and limits the job was done by, and the digest of the record.
func (d *Document) basis(c *job.Card, in Info) {
	p, s := c.Plan.Procedure, c.Plan.Sheet
	facts := pairs{
		{"Procedure", fmt.Sprintf("%s, %s, revision %s of %s", p.Title, p.ID, p.Revision, p.Date)},
		{"Spec sheet", fmt.Sprintf("%s, %s, revision %s of %s by %s", s.Title, s.ID, s.Revision, s.Date, s.Author)},
	}
	for _, x := range [][2]string{{"Procedure digest", c.Opened.Procedure.Digest}, {"Spec sheet digest", c.Opened.Sheet.Digest}} {
		if x[1] != "" {
			facts = append(facts, x)
		}
	}
	for _, x := range s.Sources {
		facts = append(facts, [2]string{"Source", x.Document + ", " + x.Revision})
	}
	for _, k := range slices.Sorted(maps.Keys(c.Opened.Traits)) {
		name := k
		for _, t := range p.Traits {
			if t.ID == k {
				name = t.Title
			}
		}
		facts = append(facts, [2]string{name, c.Opened.Traits[k]})
	}
	facts = append(facts, pairs{{"Events", fmt.Sprint(len(c.Events))}, {"Digest of the record", c.Head.String()},
		{"Seal", orNone(in.Seal, "not sealed")}, {"Backup", orNone(in.Backup, "not known to this print")},
		{"Printed", stamp(in.Printed) + in.Printed.Format(" -07:00")}}...)
	d.add(heading{"Basis of this record", 2}, facts)
	for _, n := range []string{p.Notice, s.Notice} {
		if n != "" {
			d.add(para{text: n, small: true})
		}
	}
}
