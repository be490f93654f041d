package bay

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// recordText writes a job out in lines of a width.
type recordText struct {
	e     *Env
	t     *draw.Theme
	c     *job.Card
	w     int
	out   []string
	marks []recordMark
	tools []string // what the values of the attempt being written were measured with
}

// newRecordText writes the whole record: what to read first, the stages, what stood open, the end.
func newRecordText(e *Env, c *job.Card, w int) *recordText {
	b := &recordText{e: e, t: e.Theme, c: c, w: max(w, 30)}
	b.exceptions()
	b.facts()
	var left []string
	for i := range c.Stages {
		if s := &c.Stages[i]; s.Status == job.LeftOut && len(s.Attempts) == 0 {
			left = append(left, sideTitle(s.Node))
		} else {
			b.stage(s)
		}
	}
	b.part("Stages left out")
	if len(left) == 0 {
		b.say(draw.Text, 0, "No stage of the procedure was left out.")
	}
	for _, title := range left {
		b.say(draw.Text, 4, "  %s", title)
	}
	b.states()
	b.events()
	b.end()
	return b
}

// sideTitle is a stage with its side in capital words before it.
func sideTitle(n *procedures.Node) string {
	if n.Ref.Side == procedures.NoSide {
		return n.Stage.Title
	}
	return strings.ToUpper(string(n.Ref.Side)) + " " + n.Stage.Title
}

// part begins a part.
func (b *recordText) part(title string) {
	if len(b.out) > 0 {
		b.out = append(b.out, "")
	}
	b.marks = append(b.marks, recordMark{title, len(b.out)})
	text := b.t.Truncate(b.t.Plain(title), b.w-4)
	rule := max(b.w-draw.Width(text)-1, 0)
	b.out = append(b.out, b.t.Style(draw.Title, text)+" "+b.t.Style(draw.Frame, strings.Repeat(b.t.Glyphs.Across, rule)))
}

// say writes a paragraph; what follows its first line is set in.
func (b *recordText) say(role draw.Role, in int, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	lead := len(text) - len(strings.TrimLeft(text, " "))
	for i, row := range b.t.Wrap(b.t.Plain(text[lead:]), max(b.w-max(in, lead), 20)) {
		pad := strings.Repeat(" ", lead)
		if i > 0 {
			pad = strings.Repeat(" ", in)
		}
		b.out = append(b.out, pad+b.t.Style(role, row))
	}
}

// when is a moment as the record writes it.
func when(at time.Time) string { return at.Format("2006-01-02 15:04") }

// markWords is who and when.
func markWords(m job.Mark) string {
	return fmt.Sprintf("%s, %s, %s", m.By.Name, m.By.Role, when(m.At))
}

func (b *recordText) facts() {
	c := b.c
	b.part(fmt.Sprintf("Job %d", c.Number()))
	v := c.Opened.Vehicle
	b.say(draw.Text, 2, "Vehicle: %s, %s", v.ID, v.Name)
	if v.VIN != "" {
		b.say(draw.Text, 2, "Vehicle number: %s", v.VIN)
	}
	b.say(draw.Text, 2, "Complaint: %s", c.Opened.Complaint)
	if c.Opened.Customer != "" {
		b.say(draw.Text, 2, "Ordered by: %s", c.Opened.Customer)
	}
	b.say(draw.Text, 2, "Odometer: %s", b.e.number(c.Opened.Odometer))
	if c.Opened.OdometerWhy != "" {
		b.say(draw.Warn, 2, "It reads lower than last time: %s", c.Opened.OdometerWhy)
	}
	b.say(draw.Text, 2, "Opened: %s, %s, %s", c.OpenedBy.Name, c.OpenedBy.Role, when(c.OpenedAt))
	b.say(draw.Text, 2, "Procedure: %s, revision %s", c.Opened.Procedure.Title, c.Opened.Procedure.Revision)
	b.say(draw.Text, 2, "Spec sheet: %s, revision %s", c.Opened.Sheet.Title, c.Opened.Sheet.Revision)
	var traits []string
	for _, t := range c.Plan.Procedure.Traits {
		traits = append(traits, t.Title+": "+c.Opened.Traits[t.ID])
	}
	b.say(draw.Text, 2, "Traits: %s", strings.Join(traits, "; "))
	done, of := c.Progress()
	words := c.Outcome()
	switch {
	case words == "" && c.Paused != nil:
		words = "paused"
	case words == "":
		words = "not released"
	}
	b.say(draw.Title, 2, "%s; %d of %d stages complete", sentence(words), done, of)
}

// demo says what must never be taken for a record of real work.
func (b *recordText) demo() {
	if b.c.Opened.Demo {
		b.say(draw.Warn, 0, "DEMO: the figures of this job are invented. Never work to them.")
	}
	if b.c.Opened.Practice {
		b.say(draw.Warn, 0, "PRACTICE: an exercise, no work on a customer's vehicle.")
	}
}

// exceptions is what did not go straight: the foreman reads it first.
func (b *recordText) exceptions() {
	all := b.c.Exceptions()
	b.part(fmt.Sprintf("Exceptions: %d", len(all)))
	b.demo()
	if len(all) == 0 {
		b.say(draw.Good, 0, "Everything went straight: no value outside, no correction, no second attempt.")
	}
	for _, x := range all {
		role, first := draw.Text, ""
		if x.Strong {
			role, first = draw.Warn, "READ FIRST "
		}
		b.say(role, 2, "%s%s (entry %d)", first, sentence(x.Text), x.Seq)
	}
}

// states lists what was opened and where it was put back.
func (b *recordText) states() {
	b.part("Opened and put back")
	var refs []procedures.StateRef
	for i := range b.c.Stages {
		for _, ref := range b.c.Stages[i].Node.Sets {
			if !slices.Contains(refs, ref) {
				refs = append(refs, ref)
			}
		}
	}
	n := 0
	for _, ref := range refs {
		if b.state(ref) {
			n++
		}
	}
	if n == 0 {
		b.say(draw.Text, 0, "Nothing was opened that has to be put back.")
	}
}

// state writes one standing state, and reports whether it was ever opened.
func (b *recordText) state(ref procedures.StateRef) bool {
	var opened, back []string
	for i := range b.c.Stages {
		s := &b.c.Stages[i]
		if slices.Contains(s.Node.Sets, ref) {
			for k := range s.Attempts {
				if a := &s.Attempts[k]; len(a.Entries) > 0 {
					opened = append(opened, fmt.Sprintf("opened at %q, %s", s.Node.Stage.Title, markWords(a.Entries[0].Mark)))
				}
			}
		}
		for _, cl := range s.Node.Clears {
			for k := range s.Attempts {
				if a := &s.Attempts[k]; cl.State == ref && a.Signed != nil {
					back = append(back, fmt.Sprintf("put back at %q, signed by %s", s.Node.Stage.Title, markWords(*a.Signed)))
				}
			}
		}
	}
	if len(opened) == 0 {
		return false
	}
	role, word := draw.Good, "put back"
	for _, st := range b.c.Open {
		if st.Ref == ref {
			role, word = draw.Standing, "STILL OPEN"
		}
	}
	b.out = append(b.out, b.t.Style(draw.Title, stateWords(b.c.Plan.Procedure, ref))+"  "+b.t.Style(role, word))
	for _, text := range append(opened, back...) {
		b.say(draw.Text, 4, "  %s", text)
	}
	return true
}

// end is the release, what was promised, and the digest the record ends in.
func (b *recordText) end() {
	c := b.c
	b.part("Release and end of the record")
	switch {
	case c.Cancelled != nil:
		b.say(draw.Warn, 2, "Cancelled before work by %s: %s", markWords(*c.Cancelled), c.CancelledFor)
	case c.Released == nil:
		b.say(draw.Warn, 2, "The vehicle has not been released.")
	default:
		b.say(draw.Title, 2, "%s by %s", sentence(c.Released.Outcome), markWords(c.Released.Mark))
		if c.Released.Independent {
			b.say(draw.Good, 2, "The one who released had no hand in the work.")
		} else {
			b.say(draw.Warn, 2, "The one who released had a hand in the work.")
		}
		if c.Released.Note != "" {
			b.say(draw.Text, 2, "Note: %s", c.Released.Note)
		}
	}
	for _, p := range c.Promises() {
		b.say(draw.Text, 2, "Promised: %s%s", p.What, promiseWords(b.e, p))
	}
	for _, n := range c.Addenda {
		b.say(draw.Text, 2, "Added afterwards by %s: %s", markWords(n.Mark), n.Text)
	}
	b.say(draw.Text, 2, "%s in the record. The chain of digests was checked when it was read; it ends in", plural(len(c.Events), "entry"))
	b.say(draw.Faint, 2, "  %s", c.Head.String())
}

func promiseWords(e *Env, p job.Promise) string {
	var out []string
	if !p.DueAt.IsZero() {
		out = append(out, "at "+e.number(p.DueAt))
	}
	if p.DueDate != "" {
		out = append(out, "by "+p.DueDate)
	}
	text := ""
	if len(out) > 0 {
		text = ", " + strings.Join(out, " or ")
	}
	if p.Ended != "" {
		text += "; " + p.Ended
	}
	if p.LastWord != "" {
		text += ": " + p.LastWord
	}
	return text
}
