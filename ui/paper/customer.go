package paper

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// Customer is the page for whoever ordered the work.
func Customer(c *job.Card, in Info) Document {
	d := newDocument(c, in, phrase.Of("paper.customer.job-page-for-the-customer", c.Number()))
	d.customer(c, in)
	return d
}

func (d *Document) customer(c *job.Card, in Info) {
	whole := d.blocks
	d.blocks = nil
	defer func() { d.blocks = append(whole, dense(d.blocks)) }()
	d.add(heading{fmt.Sprintf("%s: %s", c.Plan.Procedure.Title, outcomeWords(c)), 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{phrase.Word(d.mark), words})
	}
	if c.Withheld != nil {
		d.add(callout{phrase.Of("paper.customer.not-roadworthy"), phrase.Of("paper.customer.withheld", phrase.Word(c.Withheld.Class), c.Withheld.Words)})
	}
	d.add(append(headFacts(c), [2]string{phrase.Of("paper.customer.complaint"), c.Opened.Complaint}))
	d.found(c)
	d.parts(c)
	d.results(c)
	d.advice(c)
	d.plainDeviations(c)
	d.people(c)
	d.add(para{text: footnote(c), small: true})
}

// outcomeWords says how the job ended or that it has not.
func outcomeWords(c *job.Card) string {
	if o := c.Outcome(); o != "" {
		return phrase.Word(o)
	}
	if c.Withheld != nil {
		return phrase.Of("paper.customer.withheld-not-released")
	}
	return phrase.Of("paper.customer.work-not-finished-not-released")
}

func headFacts(c *job.Card) pairs {
	v := c.Opened.Vehicle
	name := vehicleWords(c)
	if v.VIN != "" {
		name += phrase.Of("paper.customer.vin", v.VIN)
	}
	p := pairs{{phrase.Of("paper.customer.vehicle"), name}}
	add := func(name, value string) {
		if value != "" {
			p = append(p, [2]string{name, value})
		}
	}
	add(phrase.Of("paper.customer.received"), phrase.Of("paper.customer.at", stamp(c.OpenedAt), c.Opened.Odometer.Shown()))
	if c.Released != nil {
		add(phrase.Of("paper.customer.released"), phrase.Of("paper.customer.at", stamp(c.Released.At), c.Odometer().Shown()))
	}
	add(phrase.Of("paper.customer.ordered-by"), c.Opened.Customer)
	return p
}

// found lists what was measured on the old parts, and the cause that was named.
func (d *Document) found(c *job.Card) {
	t := table{head: []string{phrase.Of("paper.customer.found"), phrase.Of("paper.customer.left-2"), phrase.Of("paper.customer.right"), phrase.Of("paper.customer.least-allowed")}, wide: []int{40, 18, 18, 24}}
	row := func(what, reckon, limit string) {
		var axles []string // of the figures, in the order of the stages
		rows := map[string][]string{}
		for _, g := range groups(c, func(pc *procedures.PlanCheck) bool { return pc.Reckon == reckon }) {
			v, ok := thinnest(g)
			if !ok || !g.last() {
				continue
			}
			axle := c.Plan.Figures(g.stage.Node.Ref)
			r := rows[axle]
			if r == nil {
				r = []string{what, "", "", ""}
				if axle != c.Plan.Procedure.Figures {
					r[0] = g.stage.Node.Stage.Title + ": " + what
				}
				if w, err := windowOf(c, axle, limit); err == nil {
					r[3] = w.Low.Shown()
				}
				rows[axle], axles = r, append(axles, axle)
			}
			if g.stage.Node.Ref.Side == procedures.Right {
				r[2] = v.Shown()
			} else {
				r[1] = v.Shown()
			}
		}
		for _, axle := range axles {
			t.rows = append(t.rows, rows[axle])
		}
	}
	row(phrase.Of("paper.customer.pad-friction-thinnest-point"), "pads", "pad-min")
	row(phrase.Of("paper.customer.disc-thickness-thinnest-point"), "disc", "disc-min")
	facts := done(c)
	for _, s := range decided(c) {
		for _, pc := range s.Node.Checks {
			if e := s.Current().Entry(pc.ID, ""); e != nil && pc.Decision == "" && e.Answer != "" {
				facts = append(facts, [2]string{pc.Title, e.Answer})
			}
		}
	}
	for _, m := range c.Remarks() {
		figure, wear := strings.CutPrefix(m.Key, "wear/")
		figure, _, _ = strings.Cut(figure, "/")
		if wear && !fitted(c, figure+"-new") {
			facts = append(facts, [2]string{phrase.Of("paper.customer.wear"), m.Text})
		}
	}
	if len(t.rows)+len(facts) > 0 {
		d.add(heading{phrase.Of("paper.customer.found-and-done"), 2}, t, facts)
	}
}

// decided are the complete stages at which a decision was taken.
func decided(c *job.Card) []*job.StageCard {
	var out []*job.StageCard
	for i := range c.Stages {
		s := &c.Stages[i]
		if s.Status == job.Complete && slices.ContainsFunc(s.Node.Checks, func(pc procedures.PlanCheck) bool { return pc.Decision != "" && s.Current().Entry(pc.ID, "") != nil }) {
			out = append(out, s)
		}
	}
	return out
}

// done says what was decided and what a finding added to it.
func done(c *job.Card) pairs {
	var out pairs
	var lines []string
	for _, s := range decided(c) {
		for _, pc := range s.Node.Checks {
			if e := s.Current().Entry(pc.ID, ""); e != nil && pc.Decision != "" {
				out = append(out, [2]string{pc.Title, phrase.Of("paper.customer.decided-by", e.Answer, s.Current().Signed.By.Name)})
			}
		}
	}
	for i := range c.Stages {
		if s := &c.Stages[i]; s.Status == job.Complete && addedByFinding(c.Plan.Procedure, s.Node.Stage) {
			lines = append(lines, job.Title(s.Node))
		}
	}
	if len(lines) > 0 {
		out = append(out, [2]string{phrase.Of("paper.customer.added-by-findings"), strings.Join(lines, "; ")})
	}
	if c.Abandoned != nil {
		out = append(out, [2]string{phrase.Of("paper.customer.ended-before-it-was-finished"), c.AbandonedFor})
	}
	return out
}

// addedByFinding reports whether a stage exists because the vehicle did not show what a sound one
// shows, which procedures list first.
func addedByFinding(p *procedures.Procedure, st *procedures.Stage) bool {
	for _, w := range st.When {
		i := slices.IndexFunc(p.Findings, func(q procedures.Question) bool { return q.ID == w.Finding })
		if w.Finding != "" && i >= 0 && len(w.Is) > 0 && !slices.Contains(w.Is, p.Findings[i].Values[0]) {
			return true
		}
	}
	return false
}

// partLine is a part and the sides it went on.
type partLine struct {
	title string
	sides []procedures.Side
	cells []string // number, batch, mark
}

// row is the part as it is printed.
func (f partLine) row() []string {
	title := f.title
	switch {
	case len(f.sides) == 2:
		title = phrase.Of("paper.customer.left-and-right", title)
	case f.sides[0] != procedures.NoSide:
		title += ", " + phrase.Word(f.sides[0])
	}
	return append([]string{title}, f.cells...)
}

// mergeParts adds a part, to the line of the same part on the left where that is the same.
func mergeParts(list []partLine, f partLine) []partLine {
	for i, old := range list {
		if f.sides[0] == procedures.Right && old.title == f.title && slices.Equal(old.sides, []procedures.Side{procedures.Left}) && slices.Equal(old.cells, f.cells) {
			list[i].sides = append(list[i].sides, procedures.Right)
			return list
		}
	}
	return append(list, f)
}

func (d *Document) parts(c *job.Card) {
	t := table{head: []string{phrase.Of("paper.customer.part-fitted"), phrase.Of("paper.customer.number"), phrase.Of("paper.customer.batch"), phrase.Of("paper.customer.mark")}, wide: []int{46, 20, 16, 18}}
	var parts []partLine
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Node.Checks {
			pc := &s.Node.Checks[k]
			a := s.Current()
			if pc.Kind != procedures.Part || a == nil || a.Signed == nil || s.Status == job.LeftOut {
				continue
			}
			f := partLine{pc.Title, []procedures.Side{s.Node.Ref.Side}, []string{"", "", ""}}
			for n, item := range []string{procedures.PartNumber, procedures.PartBatch, procedures.PartMark} {
				if e := a.Entry(pc.ID, item); e != nil {
					f.cells[n] = valueOf(e)
				}
			}
			if f.cells[0] != "" {
				parts = mergeParts(parts, f)
			}
		}
	}
	for _, f := range parts {
		t.rows = append(t.rows, f.row())
	}
	if len(t.rows) > 0 {
		d.add(heading{phrase.Of("paper.customer.parts"), 2}, t)
	}
}
