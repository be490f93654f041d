package bay

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
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
	b.part(phrase.Of("bay.recordtext.stages-left-out"))
	if len(left) == 0 {
		b.say(draw.Text, 0, "%s", phrase.Of("bay.recordtext.no-stage-of-the-procedure-was-left"))
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
	return strings.ToUpper(phrase.Word(n.Ref.Side)) + " " + n.Stage.Title
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
	return fmt.Sprintf("%s, %s, %s", m.By.Name, phrase.Word(m.By.Role), when(m.At))
}

func (b *recordText) facts() {
	c := b.c
	b.part(phrase.Of("bay.recordtext.job", c.Number()))
	v := c.Opened.Vehicle
	b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.vehicle", v.ID, v.Name))
	if v.VIN != "" {
		b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.vehicle-number", v.VIN))
	}
	b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.complaint", c.Opened.Complaint))
	if c.Opened.Customer != "" {
		b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.ordered-by", c.Opened.Customer))
	}
	b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.odometer", b.e.number(c.Opened.Odometer)))
	if c.Opened.OdometerWhy != "" {
		b.say(draw.Warn, 2, "%s", phrase.Of("bay.preview.it-reads-lower-than-last-time", c.Opened.OdometerWhy))
	}
	b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.opened", c.OpenedBy.Name, c.OpenedBy.Role, when(c.OpenedAt)))
	b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.procedure-revision", c.Opened.Procedure.Title, c.Opened.Procedure.Revision))
	b.say(draw.Text, 2, "%s", phrase.Of("bay.preview.spec-sheet-revision", c.Opened.Sheet.Title, c.Opened.Sheet.Revision))
	var traits []string
	for _, t := range c.Plan.Procedure.Traits {
		traits = append(traits, t.Title+": "+c.Opened.Traits[t.ID])
	}
	b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.traits", strings.Join(traits, "; ")))
	done, of := c.Progress()
	words := phrase.Word(c.Outcome())
	switch {
	case words == "" && c.Paused != nil:
		words = phrase.Of("bay.recordtext.paused")
	case words == "":
		words = phrase.Of("bay.recordtext.not-released")
	}
	b.say(draw.Title, 2, "%s", phrase.Of("bay.recordtext.of-stages-complete", sentence(words), done, of))
}

// demo says what must never be taken for a record of real work.
func (b *recordText) demo() {
	if b.c.Demo() {
		b.say(draw.Warn, 0, "%s", phrase.Of("bay.preview.demo-the-figures-of-this-job-are"))
	}
	if b.c.Opened.Practice {
		b.say(draw.Warn, 0, "%s", phrase.Of("bay.preview.practice-an-exercise-no-work-on-a"))
	}
}

// exceptions is what did not go straight: the foreman reads it first.
func (b *recordText) exceptions() {
	all := b.c.Exceptions()
	b.part(phrase.Of("bay.recordtext.exceptions", len(all)))
	b.demo()
	if len(all) == 0 {
		b.say(draw.Good, 0, "%s", phrase.Of("bay.recordtext.everything-went-straight-no-value-outside-no"))
	}
	for _, x := range all {
		role, first := draw.Text, ""
		if x.Strong {
			role, first = draw.Warn, phrase.Of("bay.recordtext.read-first")
		}
		b.say(role, 2, "%s", phrase.Of("bay.recordtext.entry", first, sentence(x.Text), x.Seq))
	}
}

// states lists what was opened and where it was put back.
func (b *recordText) states() {
	b.part(phrase.Of("bay.recordtext.opened-and-put-back"))
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
		b.say(draw.Text, 0, "%s", phrase.Of("bay.recordtext.nothing-was-opened-that-has-to-be"))
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
					opened = append(opened, phrase.Of("bay.recordtext.opened-at", job.Title(s.Node), markWords(a.Entries[0].Mark)))
				}
			}
		}
		for _, cl := range s.Node.Clears {
			for k := range s.Attempts {
				if a := &s.Attempts[k]; cl.State == ref && a.Signed != nil {
					back = append(back, phrase.Of("bay.recordtext.put-back-at-signed-by", job.Title(s.Node), markWords(*a.Signed)))
				}
			}
		}
	}
	if len(opened) == 0 {
		return false
	}
	role, word := draw.Good, phrase.Of("bay.recordtext.put-back")
	for _, st := range b.c.Open {
		if st.Ref == ref {
			role, word = draw.Standing, phrase.Of("bay.recordtext.still-open")
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
	b.part(phrase.Of("bay.recordtext.release-and-end-of-the-record"))
	switch {
	case c.Cancelled != nil:
		b.say(draw.Warn, 2, "%s", phrase.Of("bay.recordtext.cancelled-before-work-by", markWords(*c.Cancelled), c.CancelledFor))
	case c.Released == nil:
		b.say(draw.Warn, 2, "%s", phrase.Of("bay.recordtext.the-vehicle-has-not-been-released"))
	default:
		b.say(draw.Title, 2, "%s", phrase.Of("bay.recordtext.by", sentence(phrase.Word(c.Released.Outcome)), markWords(c.Released.Mark)))
		if c.Released.Independent {
			b.say(draw.Good, 2, "%s", phrase.Of("bay.recordtext.the-one-who-released-had-no-hand"))
		} else {
			b.say(draw.Warn, 2, "%s", phrase.Of("bay.recordtext.the-one-who-released-had-a-hand"))
		}
		if c.Released.Note != "" {
			b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.note", c.Released.Note))
		}
	}
	for _, p := range c.Promises() {
		b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.promised", p.What, promiseWords(b.e, p)))
	}
	for _, n := range c.Addenda {
		b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.added-afterwards-by", markWords(n.Mark), n.Text))
	}
	b.say(draw.Text, 2, "%s", phrase.Of("bay.recordtext.in-the-record-the-chain-of-digests", phrase.Count("count.entry", len(c.Events))))
	b.say(draw.Faint, 2, "  %s", c.Head.String())
}

func promiseWords(e *Env, p job.Promise) string {
	var out []string
	if !p.DueAt.IsZero() {
		out = append(out, phrase.Of("bay.recordtext.at", e.number(p.DueAt)))
	}
	if p.DueDate != "" {
		out = append(out, phrase.Of("bay.recordtext.by-2", p.DueDate))
	}
	text := ""
	if len(out) > 0 {
		text = ", " + strings.Join(out, phrase.Of("bay.recordtext.or"))
	}
	if p.Ended != "" {
		text += "; " + p.Ended
	}
	if p.LastWord != "" {
		text += ": " + p.LastWord
	}
	return text
}
