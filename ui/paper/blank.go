package paper

import (
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// Blank is the checklist to be filled in by hand while the computer is out of order: every stage of
// the plan with its windows and boxes.
func Blank(plan *procedures.Plan, in Info) Document {
	p, s := plan.Procedure, plan.Sheet
	d := Document{Title: phrase.Of("paper.blank.checklist-by-hand"), who: in.Workshop, about: p.Title + ", " + s.Title, seal: phrase.Of("paper.blank.procedure-revision-sheet-revision", p.ID, p.Revision, s.ID, s.Revision)}
	if s.Demo || p.Demo {
		d.mark = markDemo
	}
	d.add(heading{phrase.Of("paper.blank.checklist-by-hand-2", p.Title), 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{phrase.Word(d.mark), words})
	}
	d.add(callout{phrase.Of("paper.blank.later-entry-is-marked-as-such"), phrase.Of("paper.blank.write-values-as-they-are-read-with")})
	d.add(pairs{{phrase.Of("paper.blank.vehicle-vin"), line(50)}, {phrase.Of("paper.blank.odometer-unit"), line(50)}, {phrase.Of("paper.blank.complaint"), line(50)}, {phrase.Of("paper.blank.date-job-number"), line(50)}})
	phase := ""
	for i := range plan.Nodes {
		n := &plan.Nodes[i]
		if n.Phase.ID != phase {
			phase = n.Phase.ID
			d.add(heading{n.Phase.Title, 2})
		}
		d.blankStage(plan, n)
	}
	if len(p.Never) > 0 {
		d.add(heading{phrase.Of("paper.blank.what-nobody-may-grant"), 2}, items{lines: p.Never})
	}
	return d
}

// line is room to write on.
func line(n int) string { return strings.Repeat("_", n) }

func (d *Document) blankStage(plan *procedures.Plan, n *procedures.Node) {
	k := kept{heading{job.Title(n), 3}}
	var notes []string
	for _, w := range n.Stage.When {
		if text := whenWords(plan.Procedure, w); text != "" {
			notes = append(notes, text)
		}
	}
	for _, s := range n.Sets {
		notes = append(notes, phrase.Of("paper.blank.opens", stateName(plan.Procedure.State(s.State), s)))
	}
	for _, c := range n.Clears {
		notes = append(notes, phrase.Of("paper.blank.puts-back", stateName(plan.Procedure.State(c.State.State), c.State)))
	}
	if n.Stage.Hold {
		notes = append(notes, phrase.Of("paper.blank.hold-point"))
	}
	if len(notes) > 0 {
		k = append(k, para{text: strings.Join(notes, "; "), small: true, lead: true})
	}
	for _, c := range n.Stage.Cautions {
		k = append(k, para{text: phrase.Of("paper.blank.caution", c), small: true, lead: true})
	}
	var boxes []string
	for i := range n.Checks {
		pc := &n.Checks[i]
		if pc.Kind == procedures.Torque || pc.Kind == procedures.Thickness || pc.Kind == procedures.RunOut {
			if len(boxes) > 0 {
				k = append(k, items{lines: boxes, tick: true})
				boxes = nil
			}
			k = append(k, blankSet(pc)...)
			continue
		}
		boxes = append(boxes, blankCheck(pc))
	}
	if len(boxes) > 0 {
		k = append(k, items{lines: boxes, tick: true})
	}
	sign := phrase.Of("paper.blank.done-by-time", line(20))
	if n.Stage.Hold || n.Stage.Second == procedures.SecondAlways {
		sign += phrase.Of("paper.blank.second-person-time", line(20))
	}
	d.add(append(k, para{text: sign}))
}

// whenWords says when a stage applies, for what is not known before the work.
func whenWords(p *procedures.Procedure, w procedures.Condition) string {
	name := w.Decision + w.Finding
	for _, q := range append(append([]procedures.Question{}, p.Decisions...), p.Findings...) {
		if q.ID == name {
			name = q.Title
		}
	}
	switch {
	case w.Trait != "":
		return "" // the plan is made for these traits
	case len(w.Is) > 0:
		return phrase.Of("paper.blank.only-if", name, strings.Join(w.Is, phrase.Of("paper.blank.or")))
	}
	return phrase.Of("paper.blank.not-if", name, strings.Join(w.Not, phrase.Of("paper.blank.or")))
}

// blankCheck is one line to tick and fill in.
func blankCheck(pc *procedures.PlanCheck) string {
	text := pc.Title
	switch pc.Kind {
	case procedures.Choice:
		text += ":"
		for _, o := range pc.Options {
			text += "  ( ) " + o
		}
	case procedures.Confirm:
		text += phrase.Of("paper.blank.yes-no")
	case procedures.Count:
		text += ": " + line(6)
		if pc.Expect != nil {
			text += phrase.Of("paper.blank.expected", *pc.Expect)
		}
	case procedures.Part:
		text += phrase.Of("paper.blank.number-batch-mark", line(14), line(10), line(10))
	case procedures.Reading:
		text += ": " + line(10) + " " + pc.Unit
		if len(pc.Tools) > 0 {
			text += phrase.Of("paper.blank.with", line(8))
		}
	default:
		text += ": " + line(30)
	}
	if pc.Window != nil {
		text += phrase.Of("paper.blank.window", pc.Window.Window.Shown())
	}
	if pc.Optional {
		text += phrase.Of("paper.blank.where-it-applies")
	}
	return text
}

// blankSet is a table to fill in for a torque group or a set of points.
func blankSet(pc *procedures.PlanCheck) []block {
	window := pc.Window
	if window == nil {
		window = pc.Nominal
	}
	head := pc.Title
	if window != nil {
		head += phrase.Of("paper.blank.window-2", windowWords(window))
	}
	if pc.Spread != nil {
		head += phrase.Of("paper.blank.largest-less-smallest-or-return-to-start", pc.Spread.Window.Shown())
	}
	out := []block{para{text: head, lead: true}}
	if pc.Kind == procedures.Torque {
		t := table{head: []string{phrase.Of("paper.blank.fastener-in-this-order"), phrase.Of("paper.blank.set"), phrase.Of("paper.blank.reached-or-clicked"), phrase.Of("paper.blank.wrench"), phrase.Of("paper.blank.checked-by-second")}, wide: []int{28, 16, 20, 14, 22}}
		for _, item := range pc.Items {
			if item == procedures.ItemNew {
				out = append(out, items{lines: []string{phrase.Of("paper.blank.all-are-new-counted-in", len(pc.Group.Names))}, tick: true})
				continue
			}
			t.rows = append(t.rows, []string{item, line(9), line(12), line(7), line(12)})
		}
		return append(out, t)
	}
	var points []string
	for _, item := range pc.Items {
		points = append(points, item+" "+line(8))
	}
	return append(out, para{text: phrase.Of("paper.blank.with-2", strings.Join(points, "   "), line(8))})
}
