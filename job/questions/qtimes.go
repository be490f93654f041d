package questions

import (
	"fmt"
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
)

// StageTime is how long one stage of one job took.
type StageTime struct {
	Stage    string        // title without the side
	Working  time.Duration // first entry to signature, stops taken off
	Stopped  time.Duration // stops in between
	Before   time.Duration // from the last stage before being settled to the first entry
	Second   time.Duration // signature to countersign
	Attempts int
	Seconded bool
}

// TimesOf works out where the time of a job went, for the stages signed. Entries made at the moment
// of the signature count as no working time.
func TimesOf(c *job.Card) []StageTime {
	var out []StageTime
	for i := range c.Stages {
		s := &c.Stages[i]
		a := s.Current()
		if a == nil || a.Signed == nil {
			continue
		}
		m, _ := begun(a)
		t := StageTime{Stage: s.Node.Stage.Title, Attempts: len(s.Attempts), Stopped: stopped(c, m.At, a.Signed.At)}
		t.Working = max(0, a.Signed.At.Sub(m.At)-t.Stopped)
		if a.Countersigned != nil {
			t.Seconded, t.Second = true, a.Countersigned.At.Sub(a.Signed.At)
		}
		if ready, ok := readyAt(c, s); ok && ready.Before(m.At) {
			t.Before = m.At.Sub(ready) - stopped(c, ready, m.At)
		}
		out = append(out, t)
	}
	return out
}

// readyAt is when the last stage right before was signed off for the last time.
func readyAt(c *job.Card, s *job.StageCard) (time.Time, bool) {
	var at time.Time
	for _, r := range s.Node.After {
		a := c.Stage(r).Current()
		if a == nil || a.Signed == nil {
			continue
		}
		end := a.Signed.At
		if a.Countersigned != nil {
			end = a.Countersigned.At
		}
		if end.After(at) {
			at = end
		}
	}
	return at, !at.IsZero()
}

// stopped is the time between two moments in which the job was stopped.
func stopped(c *job.Card, from, to time.Time) time.Duration {
	var sum time.Duration
	var since time.Time
	for _, e := range c.Events {
		switch e.Body.(type) {
		case job.Paused:
			since = e.At
		case job.Resumed:
			if !since.IsZero() {
				a, b := later(since, from), earlier(e.At, to)
				sum += max(0, b.Sub(a))
				since = time.Time{}
			}
		}
	}
	return sum
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

// Median is the middle of some durations, or zero for none.
func Median(ds []time.Duration) time.Duration {
	if len(ds) == 0 {
		return 0
	}
	s := slices.Clone(ds)
	slices.Sort(s)
	if n := len(s); n%2 == 0 {
		return (s[n/2-1] + s[n/2]) / 2
	}
	return s[len(s)/2]
}

var stageTimes = &question{
	Question: Question{Number: 37, Name: "stage-times", Title: phrase.Of("questions.qtimes.how-long-the-work-takes-stage-by"),
		Params: withSpan(Param{Name: "procedure", Title: phrase.Of("questions.qtimes.only-this-procedure"), Kind: Words, Optional: true}),
		Columns: []Column{colStage, figures("n", phrase.Of("questions.qtimes.times-done")), figures("working", phrase.Of("questions.qtimes.working-median-minutes")), figures("waiting", phrase.Of("questions.qtimes.waiting-before-median-minutes")),
			figures("second", phrase.Of("questions.qtimes.for-the-second-person-median-minutes")), figures("stopped", phrase.Of("questions.qtimes.stopped-total-hours"))}},
	perJob: func(p *pass, c *job.Card) {
		if name := p.Text("procedure"); name != "" && c.Opened.Procedure.ID != name || !p.inSpan(c.OpenedAt) {
			return
		}
		for _, t := range TimesOf(c) {
			p.rows = append(p.rows, Row{carry: t})
		}
	},
	finish: func(p *pass) {
		sums := map[string][]StageTime{}
		var order []string
		for _, r := range p.rows {
			t := r.carry.(StageTime)
			if sums[t.Stage] == nil {
				order = append(order, t.Stage)
			}
			sums[t.Stage] = append(sums[t.Stage], t)
		}
		p.rows = nil
		for _, stage := range order {
			var working, before, second []time.Duration
			var stops time.Duration
			for _, t := range sums[stage] {
				working, before = append(working, t.Working), append(before, t.Before)
				if stops += t.Stopped; t.Seconded {
					second = append(second, t.Second)
				}
			}
			p.row(0, 0, stage, fmt.Sprint(len(working)), minutes(Median(working)), minutes(Median(before)), minutes(Median(second)), fmt.Sprintf("%.1f", stops.Hours()))
		}
	},
}

func minutes(d time.Duration) string { return fmt.Sprintf("%.1f", d.Minutes()) }
