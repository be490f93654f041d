package paper

import (
	"fmt"
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// entries prints every other answer, an attempt at a stage in each row.
func (d *Document) entries(c *job.Card) {
	t := table{close: true, lined: true, head: []string{phrase.Of("paper.recordtables.stage"), phrase.Of("paper.recordtables.answers-2")}, wide: []int{26, 74}}
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Attempts {
			a := &s.Attempts[k]
			var said []string
			var day time.Time
			for x := range a.Entries {
				e := &a.Entries[x]
				pc := s.Node.Check(e.Check)
				if pc == nil || isTorque(pc) || isMeasured(pc) {
					continue
				}
				if len(said) == 0 {
					day = e.At
				}
				said = append(said, answerLine(pc, e, day))
			}
			if len(said) > 0 {
				t.rows = append(t.rows, []string{lines([]string{stageCell(s, a) + ", " + day.Format(time.DateOnly)}), lines(said)})
			}
		}
	}
	d.section(phrase.Of("paper.recordtables.answers"), phrase.Of("paper.recordtables.nothing-else-was-entered"), len(t.rows) > 0, t)
}

func answerLine(pc *procedures.PlanCheck, e *job.Entry, day time.Time) string {
	text := pc.Title
	if e.Item != "" {
		text += ", " + e.Item
	}
	text += ": " + valueOf(e)
	if e.Verdict != quantity.Unjudged && e.Verdict != quantity.Inside {
		text += " " + verdictWord(e.Verdict)
	}
	if r := remarksOn(e); r != "" {
		text += " (" + r + ")"
	}
	return text + "  [" + clock(e.Mark, day) + "]"
}

// stageCell names a stage and, where there are several, the attempt.
func stageCell(s *job.StageCard, a *job.Attempt) string {
	if len(s.Attempts) > 1 {
		return job.Title(s.Node) + attemptWords(a.No)
	}
	return job.Title(s.Node)
}

func (d *Document) statesPart(c *job.Card) {
	t := table{close: true, head: []string{phrase.Of("paper.recordtables.state"), phrase.Of("paper.recordtables.opened"), phrase.Of("paper.recordtables.put-back")}, wide: []int{34, 33, 33}}
	for _, s := range spans(c) {
		back := phrase.Of("paper.recordtables.stands-open")
		if s.back != nil {
			back = who(s.back) + ", " + titleOf(c, s.backAt)
		}
		if s.again {
			back = phrase.Of("paper.recordtables.stands-open-again-what-put-it-back")
		}
		t.rows = append(t.rows, []string{s.name(), who(&s.opened) + ", " + titleOf(c, s.at), back})
	}
	d.section(phrase.Of("paper.recordtables.opened-and-put-back"), phrase.Of("paper.recordtables.nothing-was-opened-raised-or-borrowed"), len(t.rows) > 0, t)
}

func (d *Document) corrections(c *job.Card) {
	t := table{close: true, head: []string{phrase.Of("paper.recordtables.what"), phrase.Of("paper.recordtables.was"), phrase.Of("paper.recordtables.became"), phrase.Of("paper.recordtables.reason"), phrase.Of("paper.recordtables.time-by")}, wide: []int{32, 13, 13, 24, 18}}
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Attempts {
			for _, e := range s.Attempts[k].Entries {
				if e.Replaces == 0 {
					continue
				}
				t.rows = append(t.rows, correctionRow(s, &s.Attempts[k], e))
			}
		}
	}
	for _, x := range c.Swaps {
		t.rows = append(t.rows, []string{titleOf(c, procedures.Ref{Stage: x.Stage}) + ", " + x.Check, phrase.Of("paper.recordtables.left-and-right"), phrase.Of("paper.recordtables.exchanged"), x.Reason, who(&x.Mark)})
	}
	d.section(phrase.Of("paper.recordtables.corrections"), phrase.Of("paper.recordtables.no-value-was-corrected"), len(t.rows) > 0, t)
}

func correctionRow(s *job.StageCard, a *job.Attempt, e job.Entry) []string {
	what := job.Title(s.Node)
	if pc := s.Node.Check(e.Check); pc != nil {
		what += ": " + pc.Title
	}
	if e.Item != "" {
		what += ", " + e.Item
	}
	was := ""
	for _, old := range a.Entries {
		if old.Seq == e.Replaces {
			was = valueOf(&old) + " " + verdictWord(old.Verdict)
		}
	}
	reason := phrase.Word(e.Reason)
	if e.Confirmed != nil {
		reason += phrase.Of("paper.recordtables.confirmed-by", e.Confirmed.Name)
	}
	return []string{what, was, valueOf(&e) + " " + verdictWord(e.Verdict), reason, who(&e.Mark)}
}

// attempts prints what was done more than once, and why.
func (d *Document) attempts(c *job.Card) {
	t := table{close: true, head: []string{phrase.Of("paper.recordtables.stage"), phrase.Of("paper.recordtables.attempt"), phrase.Of("paper.recordtables.ended"), phrase.Of("paper.recordtables.why-there-is-another")}, wide: []int{30, 10, 26, 34}}
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Attempts {
			if len(s.Attempts) < 2 {
				continue
			}
			a := &s.Attempts[k]
			ended := phrase.Of("paper.recordtables.not-signed")
			if a.Signed != nil {
				ended = phrase.Of("paper.recordtables.signed", who(a.Signed))
			}
			why := phrase.Of("paper.recordtables.this-one-counts")
			if k+1 < len(s.Attempts) {
				why = s.Attempts[k+1].Reason
			}
			t.rows = append(t.rows, []string{job.Title(s.Node), fmt.Sprint(a.No), ended, why})
		}
	}
	d.section(phrase.Of("paper.recordtables.failed-attempts-and-work-done-again"), phrase.Of("paper.recordtables.every-stage-was-done-once"), len(t.rows) > 0, t)
}

// seconds prints every signature and who looked besides the doer.
func (d *Document) seconds(c *job.Card) {
	t := table{close: true, head: []string{phrase.Of("paper.recordtables.stage"), phrase.Of("paper.recordtables.signed-2"), phrase.Of("paper.recordtables.second-person")}, wide: []int{42, 28, 30}}
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Attempts {
			a := &s.Attempts[k]
			if a.Signed == nil {
				continue
			}
			second := "-"
			switch {
			case a.Countersigned != nil:
				second = phrase.Of("paper.recordtables.min-later", clock(*a.Countersigned, a.Signed.At), int(a.Countersigned.At.Sub(a.Signed.At).Minutes()))
			case a.NoSecond:
				second = phrase.Of("paper.recordtables.no-second-person")
			case a.Owed:
				second = phrase.Of("paper.recordtables.owed")
			}
			for _, q := range a.Questions {
				second += phrase.Of("paper.recordtables.asked-by", q.By.Name, phrase.Word(q.Result))
			}
			signed := stamp(a.Signed.At) + " " + a.Signed.By.Name
			if also := names(slices.DeleteFunc(a.Doers(), func(w job.Who) bool { return w.ID == a.Signed.By.ID })); also != "" {
				signed += phrase.Of("paper.recordtables.entries-also-by", also)
			}
			t.rows = append(t.rows, []string{stageCell(s, a), signed, second})
		}
	}
	d.section(phrase.Of("paper.recordtables.signatures-and-second-persons"), phrase.Of("paper.recordtables.nothing-has-been-signed"), len(t.rows) > 0, para{small: true, text: phrase.Of("paper.recordtables.a-dash-no-second-person-was-asked")}, t)
}

// stops prints every stop and how the work went on.
func (d *Document) stops(c *job.Card) {
	t := table{close: true, head: []string{phrase.Of("paper.recordtables.when-who"), phrase.Of("paper.recordtables.what"), phrase.Of("paper.recordtables.words")}, wide: []int{26, 24, 50}}
	for _, e := range c.Events {
		when := stamp(e.At) + " " + e.By.Name
		switch b := e.Body.(type) {
		case job.Paused:
			words := b.Note
			for _, x := range [][2]string{{phrase.Of("paper.recordtables.parts"), b.PartsAt}, {phrase.Of("paper.recordtables.key"), b.KeyAt}, {phrase.Of("paper.recordtables.call"), b.Call}} {
				if x[1] != "" {
					words += fmt.Sprintf("; %s: %s", x[0], x[1])
				}
			}
			t.rows = append(t.rows, []string{when, orNone(b.Kind, job.StopPause), words})
		case job.SafeToLeave:
			t.rows = append(t.rows, []string{when, phrase.Of("paper.recordtables.signed-safe-to-leave"), ""})
		case job.Resumed:
			what := phrase.Of("paper.recordtables.resumed")
			if b.TakenOver {
				what = phrase.Of("paper.recordtables.taken-over")
			}
			t.rows = append(t.rows, []string{when, what, phrase.Of("paper.recordtables.lines-of-the-stop-sheet-read-back", b.Lines)})
		case job.Broken:
			t.rows = append(t.rows, []string{when, phrase.Of("paper.recordtables.pass-broken-off"), phrase.Of("paper.recordtables.after-begun-again-from-the-first-fastener", titleOf(c, b.Stage), b.Last)})
		case job.Abandoned:
			t.rows = append(t.rows, []string{when, phrase.Of("paper.recordtables.work-ended"), b.Reason})
		case job.Cancelled:
			t.rows = append(t.rows, []string{when, phrase.Of("paper.recordtables.cancelled"), b.Reason})
		}
	}
	d.section(phrase.Of("paper.recordtables.stops"), phrase.Of("paper.recordtables.the-work-was-not-stopped"), len(t.rows) > 0, t)
}

func (d *Document) exceptions(c *job.Card) {
	t := table{close: true, head: []string{"", phrase.Of("paper.recordtables.what"), phrase.Of("paper.recordtables.words")}, wide: []int{4, 22, 74}}
	for _, x := range c.Exceptions() {
		mark := ""
		if x.Strong {
			mark = "!"
		}
		t.rows = append(t.rows, []string{mark, x.Kind, x.Text})
	}
	d.section(phrase.Of("paper.recordtables.exceptions"), phrase.Of("paper.recordtables.everything-went-straight"), len(t.rows) > 0, t)
}
