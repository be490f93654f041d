package paper

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
)

// Formulas is the version of the rules by which figures are worked out of recorded values. It
// changes with any rule that would give another figure.
const Formulas = "1"

// meaning prints what the values mean, the questions they raised and the answers.
func (d *Document) meaning(c *job.Card) {
	var lines []string
	for _, m := range c.Remarks() {
		at := m.Stage
		if strings.HasPrefix(m.Text, phrase.Capital(phrase.Word(at.Side))+":") {
			at.Side = "" // the text names the side
		}
		line := titleOf(c, at) + ": " + m.Text
		if m.Ask != "" {
			line += " " + m.Ask + " "
			if a := c.Answer(m.Key); a != nil {
				line += phrase.Of("paper.recordend.answer-of", a.By.Name, sentence(a.Answer))
			} else {
				line += phrase.Of("paper.recordend.not-answered")
			}
		}
		lines = append(lines, line)
	}
	d.section(phrase.Of("paper.recordend.what-the-measurements-mean"), phrase.Of("paper.recordend.nothing-follows-from-the-measurements"), len(lines) > 0,
		para{small: true, text: phrase.Of("paper.recordend.worked-out-from-the-recorded-values-by", Formulas)}, items{lines: lines})
}

// rules prints the deviations granted, those that could have been, and what nobody may grant.
func (d *Document) rules(c *job.Card) {
	t := table{close: true, head: []string{phrase.Of("paper.recordend.deviation"), phrase.Of("paper.recordend.stage"), phrase.Of("paper.recordend.reason"), phrase.Of("paper.recordend.granted-by")}, wide: []int{30, 24, 28, 18}}
	for _, x := range c.Deviations {
		by := who(&x.Mark)
		if x.OwnWork {
			by += phrase.Of("paper.recordend.on-own-work")
		}
		t.rows = append(t.rows, []string{x.Title, titleOf(c, x.Stage), x.Reason, by})
	}
	d.section(phrase.Of("paper.recordend.deviations"), phrase.Of("paper.recordend.no-deviation-was-granted"), len(t.rows) > 0, t)
	for _, h := range c.Holds {
		text := phrase.Of("paper.recordend.withheld-by-told", who(&h.Mark), phrase.Word(h.Class), sentence(h.Words), sentence(h.Told))
		if h.LiftedBy != nil {
			text += phrase.Of("paper.recordend.lifted-by-after", who(h.LiftedBy), titleOf(c, h.Cure), sentence(h.CureWords))
		}
		d.add(para{text: text})
	}
	p := c.Plan.Procedure
	if len(p.Deviations) > 0 {
		var may []string
		for _, x := range p.Deviations {
			may = append(may, x.Title)
		}
		d.add(heading{phrase.Of("paper.recordend.what-the-foreman-may-grant-with-a"), 3}, items{lines: may})
	}
	if len(p.Never) > 0 {
		d.add(heading{phrase.Of("paper.blank.what-nobody-may-grant"), 3}, items{lines: p.Never})
	}
}

func (d *Document) followUps(c *job.Card) {
	t := table{close: true, head: []string{phrase.Of("paper.recordend.promised-2"), phrase.Of("paper.recordend.due"), phrase.Of("paper.recordend.state")}, wide: []int{46, 28, 26}}
	for _, p := range c.Promises() {
		due := p.DueDate
		if !p.DueAt.IsZero() {
			due += phrase.Of("paper.recordend.or", p.DueAt.Shown())
		}
		t.rows = append(t.rows, []string{p.What, due, orNone(p.LastWord, phrase.Of("paper.recordend.open"))})
		for _, a := range p.Acts {
			t.rows = append(t.rows, []string{"", a.Until, fmt.Sprintf("%s, %s: %s", a.Act, who(&a.Mark), a.Words)})
		}
	}
	d.section(phrase.Of("paper.recordend.promised"), phrase.Of("paper.recordend.nothing-was-promised"), len(t.rows) > 0, t)
}

func (d *Document) addenda(c *job.Card) {
	t := table{close: true, head: []string{phrase.Of("paper.recordend.added-after-the-release"), phrase.Of("paper.recordend.time-by")}, wide: []int{74, 26}}
	for _, n := range c.Addenda {
		t.rows = append(t.rows, []string{n.Text, who(&n.Mark)})
	}
	d.section(phrase.Of("paper.recordend.addenda"), phrase.Of("paper.recordend.nothing-was-added-after-the-release"), len(t.rows) > 0, t)
}

// basis names the texts and limits the job was done by, and the digest of the record.
func (d *Document) basis(c *job.Card, in Info) {
	p, s := c.Plan.Procedure, c.Plan.Sheet
	facts := pairs{
		{phrase.Of("paper.recordend.procedure"), phrase.Of("paper.recordend.revision-of", p.Title, p.ID, p.Revision, p.Date)},
		{phrase.Of("paper.recordend.spec-sheet"), phrase.Of("paper.recordend.revision-of-by", s.Title, s.ID, s.Revision, s.Date, s.Author)},
	}
	for _, x := range [][2]string{{phrase.Of("paper.recordend.procedure-digest"), c.Opened.Procedure.Digest}, {phrase.Of("paper.recordend.spec-sheet-digest"), c.Opened.Sheet.Digest}} {
		if x[1] != "" {
			facts = append(facts, x)
		}
	}
	for _, x := range s.Sources {
		facts = append(facts, [2]string{phrase.Of("paper.recordend.source"), x.Document + ", " + x.Revision})
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
	facts = append(facts, pairs{{phrase.Of("paper.recordend.events"), fmt.Sprint(len(c.Events))}, {phrase.Of("paper.recordend.digest-of-the-record"), c.Head.String()},
		{phrase.Of("paper.recordend.seal"), orNone(in.Seal, phrase.Of("paper.recordend.not-sealed"))}, {phrase.Of("paper.recordend.backup"), orNone(in.Backup, phrase.Of("paper.recordend.not-known-to-this-print"))},
		{phrase.Of("paper.recordend.printed"), stamp(in.Printed) + in.Printed.Format(" -07:00")}}...)
	d.add(heading{phrase.Of("paper.recordend.basis-of-this-record"), 2}, facts)
	for _, n := range []string{p.Notice, s.Notice} {
		if n != "" {
			d.add(para{text: n, small: true})
		}
	}
}
