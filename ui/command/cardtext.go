package command

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// cardText is the whole record of a job as text of 80 columns. A job with invented content says so
// at every heading.
func cardText(c *job.Card, status string) string {
	t := cardWriter{card: c}
	o := c.Opened
	t.head(phrase.Of("command.cardtext.job", c.Number(), o.Vehicle.ID, o.Vehicle.Name))
	t.line(phrase.Of("command.cardtext.status"), status)
	t.line(phrase.Of("command.cardtext.number"), o.Vehicle.VIN)
	t.line(phrase.Of("command.cardtext.complaint"), o.Complaint)
	t.line(phrase.Of("command.cardtext.ordered-by"), o.Customer)
	t.line(phrase.Of("command.cardtext.odometer"), o.Odometer.Shown())
	t.line(phrase.Of("command.cardtext.procedure"), phrase.Of("command.cardtext.revision", o.Procedure.Title, o.Procedure.Revision))
	t.line(phrase.Of("command.cardtext.sheet"), phrase.Of("command.cardtext.revision", o.Sheet.Title, o.Sheet.Revision))
	t.line(phrase.Of("command.cardtext.opened"), byAt(&job.Mark{By: c.OpenedBy, At: c.OpenedAt}))
	traits := []string{}
	for _, p := range c.Plan.Procedure.Traits {
		traits = append(traits, p.Title+": "+o.Traits[p.ID])
	}
	t.line(phrase.Of("command.cardtext.traits"), strings.Join(traits, "; "))
	if r := c.Released; r != nil {
		how := phrase.Of("command.cardtext.independently-of-the-work")
		if !r.Independent {
			how = phrase.Of("command.cardtext.no-independent-release-nobody-else-could")
		}
		t.line(phrase.Of("command.cardtext.released"), byAt(&r.Mark)+", "+how)
	}
	if c.Paused != nil {
		t.line(phrase.Of("command.cardtext.stopped"), byAt(c.Paused)+": "+c.PauseFor)
	}
	t.standing()
	t.exceptions()
	t.stages()
	t.head(phrase.Of("command.cardtext.end-of-job", c.Number()))
	t.line(phrase.Of("command.cardtext.events"), fmt.Sprint(c.Seq()))
	t.line(phrase.Of("command.cardtext.digest"), c.Head.String())
	return t.b.String()
}

type cardWriter struct {
	card *job.Card
	b    strings.Builder
}

// head begins a section.
func (t *cardWriter) head(title string) {
	if t.b.Len() > 0 {
		t.b.WriteByte('\n')
	}
	if t.card.Demo() {
		title += phrase.Of("command.cardtext.demo-invented")
	}
	t.b.WriteString(wrap(title, textWidth, "", ""))
	t.b.WriteString(strings.Repeat("=", textWidth) + "\n")
}

// line writes a titled line, and nothing for an empty text.
func (t *cardWriter) line(title, text string) {
	if text != "" {
		t.b.WriteString(wrap(text, textWidth, pad(title, 11), strings.Repeat(" ", 11)))
	}
}

func (t *cardWriter) standing() {
	if len(t.card.Open) == 0 {
		return
	}
	t.head(phrase.Of("command.cardtext.standing-open"))
	for _, st := range t.card.Open {
		name := st.State.Title
		if st.Ref.Side != procedures.NoSide {
			name += ", " + phrase.Word(st.Ref.Side)
		}
		t.b.WriteString(wrap(phrase.Of("command.cardtext.since", name, st.Since.At.Format("2006-01-02 15:04"), st.Since.By.Name, st.State.Danger), textWidth, "- ", "  "))
	}
}

func (t *cardWriter) exceptions() {
	list := t.card.Exceptions()
	if len(list) == 0 {
		return
	}
	t.head(phrase.Of("command.cardtext.what-did-not-go-straight"))
	for _, x := range list {
		mark := "- "
		if x.Strong {
			mark = "! "
		}
		t.b.WriteString(wrap(phrase.Of("command.cardtext.event", x.Kind, x.Text, x.Seq), textWidth, mark, "  "))
	}
}

func (t *cardWriter) stages() {
	phase := ""
	var leftOut []string
	for i := range t.card.Stages {
		s := &t.card.Stages[i]
		if s.Status == job.LeftOut && len(s.Attempts) == 0 {
			leftOut = append(leftOut, job.Title(s.Node))
			continue
		}
		if s.Node.Phase.ID != phase {
			phase = s.Node.Phase.ID
			t.head(phrase.Of("command.cardtext.phase", s.Node.Phase.Title))
		}
		t.stage(s)
	}
	if len(leftOut) > 0 {
		t.head(phrase.Of("command.cardtext.not-part-of-this-job"))
		t.b.WriteString(wrap(strings.Join(leftOut, "; "), textWidth, "", ""))
	}
}

func (t *cardWriter) stage(s *job.StageCard) {
	title := fmt.Sprintf("%s [%s]", job.Title(s.Node), s.Status)
	if s.StaleBy != nil {
		title += ": " + t.card.StaleWhy(s.Node.Ref)
	}
	t.b.WriteString(wrap(title, textWidth, "", "  "))
	for k := range s.Attempts {
		a := &s.Attempts[k]
		if len(s.Attempts) > 1 {
			text := phrase.Of("command.cardtext.attempt", a.No)
			if a.Reason != "" {
				text += ": " + a.Reason
			}
			t.b.WriteString(wrap(text, textWidth, "  ", "  "))
		}
		t.attempt(s, a)
	}
	if s.Applicable() && len(s.Attempts) > 0 {
		for _, r := range t.card.Results(s.Node.Ref) {
			for _, v := range r.Values {
				if v.Entry == nil {
					t.b.WriteString(wrap(r.Check.Title+", "+figureWords(v), textWidth, "  = ", "    "))
				}
			}
		}
	}
}

// attempt writes every entry of an attempt, check by check.
func (t *cardWriter) attempt(s *job.StageCard, a *job.Attempt) {
	for i := range s.Node.Checks {
		pc := &s.Node.Checks[i]
		var list []worded
		for k := range a.Entries {
			e := &a.Entries[k]
			if e.Check != pc.ID {
				continue
			}
			w := worded{entry: e.Entered, tail: valueTail(e.Entered), mark: " - " + e.By.Name + " " + e.At.Format("15:04")}
			switch {
			case e.ReplacedBy != 0:
				w.tail += phrase.Of("command.cardtext.corrected-by-event", e.ReplacedBy)
			case e.Broken:
				w.tail += phrase.Of("command.cardtext.pass-broken-off-evidence-only")
			}
			list = append(list, w)
		}
		for _, words := range grouped(pc, list) {
			t.b.WriteString(wrap(words, textWidth, "  ", "    "))
		}
	}
	for _, k := range a.Checks {
		t.b.WriteString(wrap(phrase.Of("command.cardtext.checked-by", k.By.Name, k.Item, k.Value), textWidth, "  + ", "    "))
	}
	if a.Signed != nil {
		text := phrase.Of("command.cardtext.signed", byAt(a.Signed))
		if a.Countersigned != nil {
			text += phrase.Of("command.cardtext.countersigned", byAt(a.Countersigned))
		} else if a.NoSecond {
			text += phrase.Of("command.cardtext.no-second-person-was-there")
		}
		t.b.WriteString(wrap(text, textWidth, "  > ", "    "))
	}
}

func byAt(m *job.Mark) string {
	return fmt.Sprintf("%s (%s, %s) %s", m.By.Name, m.By.ID, phrase.Word(m.By.Role), m.At.Format("2006-01-02 15:04 -07:00"))
}
