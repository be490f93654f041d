package paper

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// Blank is the checklist to be filled in by hand while the computer is out of order: every stage of
// the plan with its windows and boxes.
func Blank(plan *procedures.Plan, in Info) Document {
	p, s := plan.Procedure, plan.Sheet
	d := Document{Title: "Checklist by hand", who: in.Workshop, about: p.Title + ", " + s.Title, seal: fmt.Sprintf("procedure %s revision %s, sheet %s revision %s", p.ID, p.Revision, s.ID, s.Revision)}
	if s.Demo || p.Demo {
		d.mark = markDemo
	}
	d.add(heading{p.Title + ": checklist by hand", 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{d.mark, words})
	}
	d.add(callout{"Later entry is marked as such", "Write values as they are read, with time and name, and cross nothing out: strike through and write beside it. When the values are entered in the program afterwards they are marked as entered from paper, torque counts as told later, and a hold point is not closed by that."})
	d.add(pairs{{"Vehicle, VIN", line(50)}, {"Odometer, unit", line(50)}, {"Complaint", line(50)}, {"Date, job number", line(50)}})
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
		d.add(heading{"What nobody may grant", 2}, items{lines: p.Never})
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
		notes = append(notes, "opens: "+stateName(plan.Procedure.State(s.State), s))
	}
	for _, c := range n.Clears {
		notes = append(notes, "puts back: "+stateName(plan.Procedure.State(c.State.State), c.State))
	}
	if n.Stage.Hold {
		notes = append(notes, "HOLD POINT")
	}
	if len(notes) > 0 {
		k = append(k, para{text: strings.Join(notes, "; "), small: true, lead: true})
	}
	for _, c := range n.Stage.Cautions {
		k = append(k, para{text: "Caution: " + c, small: true, lead: true})
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
	sign := "Done by, time: " + line(20)
	if n.Stage.Hold || n.Stage.Second == procedures.SecondAlways {
		sign += "  Second person, time: " + line(20)
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
		return fmt.Sprintf("only if %s: %s", name, strings.Join(w.Is, " or "))
	}
	return fmt.Sprintf("not if %s: %s", name, strings.Join(w.Not, " or "))
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
		text += ":  ( ) yes  ( ) no"
	case procedures.Count:
		text += ": " + line(6)
		if pc.Expect != nil {
			text += fmt.Sprintf(" (%d expected)", *pc.Expect)
		}
	case procedures.Part:
		text += ": number " + line(14) + " batch " + line(10) + " mark " + line(10)
	case procedures.Reading:
		text += ": " + line(10) + " " + pc.Unit
		if len(pc.Tools) > 0 {
			text += " with " + line(8)
		}
	default:
		text += ": " + line(30)
	}
	if pc.Window != nil {
		text += " window " + pc.Window.Window.String()
	}
	if pc.Optional {
		text += " (where it applies)"
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
		head += ", window " + windowWords(window)
	}
	if pc.Spread != nil {
		head += ", largest less smallest or return to start " + pc.Spread.Window.String()
	}
	out := []block{para{text: head, lead: true}}
	if pc.Kind == procedures.Torque {
		t := table{head: []string{"fastener, in this order", "set", "reached or clicked", "wrench", "checked by second"}, wide: []int{28, 16, 20, 14, 22}}
		for _, item := range pc.Items {
			if item == procedures.ItemNew {
				out = append(out, items{lines: []string{fmt.Sprintf("all %d are new, counted in", len(pc.Group.Names))}, tick: true})
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
	return append(out, para{text: strings.Join(points, "   ") + "   with " + line(8)})
}
