package paper

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// results says what the tests showed and when the wheels are due again.
func (d *Document) results(c *job.Card) {
	var facts pairs
	var fine []string
	for i := range c.Stages {
		s := &c.Stages[i]
		if s.Status != job.Complete || !proves(c, s.Node) {
			continue
		}
		a := s.Current()
		text := s.Node.Stage.Title
		if a.Countersigned != nil {
			text += phrase.Of("paper.customerend.checked-by", a.Signed.By.Name, a.Countersigned.By.Name)
		}
		if asks := func(pc procedures.PlanCheck) bool { return pc.Kind == procedures.Confirm }; slices.ContainsFunc(s.Node.Checks, asks) && !slices.Contains(fine, text) {
			fine = append(fine, text)
		}
	}
	if len(fine) > 0 {
		facts = append(facts, [2]string{phrase.Of("paper.customerend.in-order"), strings.Join(fine, "; ")})
	}
	facts = append(facts, heights(c)...)
	facts = append(facts, wheels(c)...)
	due := ""
	for _, p := range c.Promises() {
		if p.Key == job.KeyRetorque {
			due = phrase.Of("paper.customerend.wheel-fasteners-are-due-again-at-or", p.DueAt.Shown(), p.DueDate)
			if p.Ended != "" {
				due = phrase.Of("paper.customerend.wheel-fasteners", p.LastWord)
			}
		}
	}
	t := roller(c)
	if len(facts)+len(t.rows) == 0 && due == "" {
		return
	}
	d.add(heading{phrase.Of("paper.customerend.result"), 2}, facts, t)
	if due != "" {
		d.add(callout{phrase.Of("paper.customerend.re-torque"), due})
	}
	if c.Outcome() == job.OutcomeReleased && renewed(c) {
		d.add(para{text: strings.Join(behave(), " ")})
	}
}

// behave is what a driver is told after new pads or discs (common practice, no source).
func behave() []string {
	return []string{phrase.Of("paper.customerend.brake-gently-for-the-first-200-km"), phrase.Of("paper.customerend.a-light-noise-is-normal-until-then"),
		phrase.Of("paper.customerend.a-soft-pedal-a-pull-or-a")}
}

// proves reports whether a stage belongs to the part of the job just before the release.
func proves(c *job.Card, n *procedures.Node) bool {
	phases := c.Plan.Procedure.Phases
	rel := c.Plan.Node(c.Plan.ReleaseRef())
	at := slices.IndexFunc(phases, func(p procedures.Phase) bool { return rel != nil && p.ID == rel.Phase.ID })
	return at > 0 && n.Phase.ID == phases[at-1].ID
}

// heights are the ride heights: lengths in a window, read with a tape.
func heights(c *job.Card) pairs {
	var said []string
	for i := range c.Stages {
		s := &c.Stages[i]
		if s.Status != job.Complete {
			continue
		}
		for _, res := range c.Results(s.Node.Ref) {
			w := res.Check.Window
			if res.Check.Kind != procedures.Reading || w == nil || w.Window.Dimension() != quantity.Length || !slices.Equal(res.Check.Tools, []string{register.Tape}) || len(res.Values) == 0 {
				continue
			}
			said = append(said, res.Check.Title+" "+res.Values[0].Value.Shown())
		}
	}
	if len(said) == 0 {
		return nil
	}
	return pairs{{phrase.Of("paper.customerend.height"), strings.Join(said, "; ")}}
}

// wheels says with what torque the fasteners were tightened that are due again after the release.
func wheels(c *job.Card) pairs {
	after := ""
	for _, n := range c.Plan.Nodes {
		for _, pc := range n.Checks {
			if pc.Kind == procedures.Torque && c.Plan.Before(c.Plan.ReleaseRef(), n.Ref) {
				after = pc.Check.Group
			}
		}
	}
	last := map[procedures.Side][2]string{}
	for _, g := range groups(c, func(pc *procedures.PlanCheck) bool { return pc.Kind == procedures.Torque && pc.Check.Group == after }) {
		if !g.last() || g.stage.Status != job.Complete {
			continue
		}
		n := 0
		text := ""
		for _, e := range g.counting() {
			if e.Item != procedures.ItemNew {
				n++
				text = setValue(e)
				if text == "" {
					text = reachedValue(e)
				}
			}
		}
		side := g.stage.Node.Ref.Side
		last[side] = [2]string{g.check.Title, phrase.Of("paper.customerend.at", n, text)}
	}
	var name string
	var said []string
	for _, side := range []procedures.Side{procedures.NoSide, procedures.Left, procedures.Right} {
		if x, ok := last[side]; ok {
			name = x[0]
			said = append(said, strings.TrimPrefix(phrase.Word(side)+" ", " ")+x[1])
		}
	}
	if len(said) == 0 {
		return nil
	}
	return pairs{{name, strings.Join(said, ", ")}}
}

// renewed reports whether new pads or discs were fitted.
func renewed(c *job.Card) bool { return fitted(c, "pads-new") || fitted(c, "disc-new") }

// fitted reports whether new parts were measured under that meaning.
func fitted(c *job.Card, reckon string) bool {
	return len(groups(c, func(pc *procedures.PlanCheck) bool { return pc.Reckon == reckon })) > 0
}

// roller sets the figures of the roller tester before the work beside those after it.
func roller(c *job.Card) table {
	t := table{head: []string{phrase.Of("paper.customerend.roller-tester"), phrase.Of("paper.customerend.before-left"), phrase.Of("paper.customerend.right"), phrase.Of("paper.customerend.after-left"), phrase.Of("paper.customerend.right")}, wide: []int{36, 16, 16, 16, 16}}
	for _, f := range [][3]string{{phrase.Of("paper.customerend.service-brake-rear"), "brake-left", "brake-right"}, {phrase.Of("paper.customerend.parking-brake-rear"), "parking-left", "parking-right"}, {phrase.Of("paper.customerend.mass-as-presented"), "mass", ""}} {
		r := []string{f[0], "", "", "", ""}
		any := false
		for n, reckon := range f[1:] {
			for _, g := range groups(c, func(pc *procedures.PlanCheck) bool { return reckon != "" && pc.Reckon == reckon }) {
				es := g.counting()
				if !g.last() || len(es) == 0 {
					continue
				}
				at := 1 + n
				if slices.ContainsFunc(decided(c), func(s *job.StageCard) bool { return c.Plan.Before(s.Node.Ref, g.stage.Node.Ref) }) {
					at += 2
				}
				r[at], any = es[len(es)-1].Value.Shown(), true
			}
		}
		if any {
			t.rows = append(t.rows, r)
		}
	}
	return t
}

func (d *Document) advice(c *job.Card) {
	t := table{head: []string{phrase.Of("paper.customerend.advice-2"), phrase.Of("paper.customerend.urgency"), phrase.Of("paper.customerend.answer")}, wide: []int{46, 14, 40}}
	for _, a := range c.Advice {
		answer := phrase.Of("paper.customerend.open")
		if a.Decided != nil {
			answer = fmt.Sprintf("%s: %q, %s", a.Decided.Answer, a.Decided.Words, a.Decided.ByWhom)
		}
		t.rows = append(t.rows, []string{a.Text, phrase.Word(a.Urgency), answer})
	}
	if len(t.rows) > 0 {
		d.add(heading{phrase.Of("paper.customerend.advice"), 2}, t)
	}
}

// plainDeviations says in plain words what was not done as written, and where nobody else looked.
func (d *Document) plainDeviations(c *job.Card) {
	var lines []string
	for _, x := range c.Deviations {
		lines = append(lines, phrase.Of("paper.customerend.granted-by", x.Title, titleOf(c, x.Stage), sentence(x.Reason), x.By.Name))
	}
	for i := range c.Stages {
		if a := c.Stages[i].Current(); a != nil && a.NoSecond {
			lines = append(lines, phrase.Of("paper.customerend.no-second-person-was-not-looked-at", job.Title(c.Stages[i].Node), a.Signed.By.Name))
		}
	}
	if c.Released != nil && !c.Released.Independent {
		lines = append(lines, phrase.Of("paper.customerend.no-second-person-released-the-vehicle-and", c.Released.By.Name))
	}
	for _, x := range c.Declared {
		lines = append(lines, phrase.Of("paper.customerend.left-open", stateName(c.Plan.Procedure.State(x.State.State), x.State), sentence(x.Words)))
	}
	if len(lines) > 0 {
		d.add(heading{phrase.Of("paper.customerend.not-as-planned"), 2}, items{lines: lines})
	}
}

// people names who did, checked, released and handed over.
func (d *Document) people(c *job.Card) {
	var did, checked []job.Who
	add := func(list *[]job.Who, w job.Who) {
		if !slices.ContainsFunc(*list, func(x job.Who) bool { return x.ID == w.ID }) {
			*list = append(*list, w)
		}
	}
	var given pairs
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Attempts {
			for _, w := range s.Attempts[k].Doers() {
				if s.Node.Stage.Act == procedures.NoAct {
					add(&did, w)
				}
			}
			if m := s.Attempts[k].Countersigned; m != nil {
				add(&checked, m.By)
			}
		}
		if a := s.Current(); a != nil && a.Signed != nil && s.Node.Stage.Act == procedures.HandOver {
			text := who(a.Signed)
			for _, pc := range s.Node.Checks {
				if e := a.Entry(pc.ID, ""); e != nil && pc.Kind == procedures.Text {
					text += "; " + pc.Title + ": " + e.Answer
				}
			}
			given = append(given, [2]string{phrase.Of("paper.customerend.handed-over-by"), text})
		}
	}
	p := pairs{{phrase.Of("paper.customerend.done-by"), roles(did)}, {phrase.Of("paper.customerend.checked-by-2"), orNone(roles(checked), phrase.Of("paper.customerend.nobody"))}}
	if c.Released != nil {
		p = append(p, [2]string{phrase.Of("paper.customerend.released-by"), withRole(c.Released.By) + ", " + stamp(c.Released.At)})
	}
	d.add(heading{phrase.Of("paper.customerend.names"), 2}, append(p, given...), signatures{phrase.Of("paper.customerend.received-date-and-signature")})
}

func roles(people []job.Who) string {
	var out []string
	for _, w := range people {
		out = append(out, withRole(w))
	}
	return strings.Join(out, ", ")
}

// footnote names the documents the limits come from.
func footnote(c *job.Card) string {
	s := c.Plan.Sheet
	var docs []string
	for _, x := range s.Sources {
		docs = append(docs, x.Document+", "+x.Revision)
	}
	text := phrase.Of("paper.customerend.limits-from-revision", s.Title, s.Revision)
	if len(docs) > 0 {
		text += ": " + strings.Join(docs, "; ")
	}
	return sentence(text)
}
