package questions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// The questions about what was opened and not put back.

// raised is the state of a vehicle on stands or a lift, by the id the procedures give it.
const raised = "raised"

var onStands = &question{
	Question: Question{Number: 6, Name: "on-stands", Title: phrase.Of("questions.qstates.which-jobs-are-open-with-the-vehicle"),
		Columns: []Column{colVehicle, colJob, column("bay", phrase.Of("questions.qstates.bay")), column("since", phrase.Of("questions.qstates.since")), colWho, column("states", phrase.Of("questions.qstates.open-states")), column("safe", phrase.Of("questions.qstates.signed-safe-to-leave"))}},
	always: true, practice: true, wants: stillOpen,
	perJob: func(p *pass, c *job.Card) {
		i := slices.IndexFunc(c.Open, func(s job.Standing) bool { return s.Ref.State == raised })
		if i < 0 {
			return
		}
		var states []string
		for _, s := range c.Open {
			states = append(states, standingTitle(s))
		}
		safe := phrase.Of("questions.qstates.not-stopped")
		switch {
		case c.Paused != nil && c.Safe != nil:
			safe = c.Safe.By.Name + " " + c.Safe.At.Format(timeForm)
		case c.Paused != nil:
			safe = "no"
		}
		m := c.Open[i].Since
		p.row(c.Number(), m.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), c.Events[m.Seq-1].Station, m.At.Format(timeForm), whoWords(m.By), strings.Join(states, ", "), safe)
	},
}

func standingTitle(s job.Standing) string {
	if s.Ref.Side == procedures.NoSide {
		return s.State.Title
	}
	return s.State.Title + ", " + string(s.Ref.Side)
}

var openStates = &question{
	Question: Question{Number: 7, Name: "open-states", Title: phrase.Of("questions.qstates.which-states-are-open-anywhere-right-now"),
		Columns: []Column{column("state", phrase.Of("questions.qstates.state")), colVehicle, colJob, column("since", phrase.Of("questions.qstates.since")), figures("hours", phrase.Of("questions.qstates.hours")), colWho, column("closing", phrase.Of("questions.qstates.put-back-at"))}},
	always: true, practice: true,
	wants: func(_ Args, l Line) bool { return l.Standing > 0 },
	perJob: func(p *pass, c *job.Card) {
		for _, s := range c.Open {
			var back []string
			for _, r := range s.PutBackAt {
				back = append(back, stageTitle(c, r))
			}
			p.carry(c.Number(), s.Since.Seq, s.Since.At, standingTitle(s), c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), s.Since.At.Format(timeForm),
				fmt.Sprint(int(p.Now.Sub(s.Since.At).Hours())), whoWords(s.Since.By), strings.Join(back, ", "))
		}
	},
	finish: func(p *pass) {
		slices.SortStableFunc(p.rows, func(a, b Row) int { return a.carry.(time.Time).Compare(b.carry.(time.Time)) })
	},
}

var longestStates = &question{
	Question: Question{Number: 8, Name: "longest-states", Title: phrase.Of("questions.qstates.which-states-stood-open-longest-or-over"),
		Params: withSpan(Param{Name: "most", Title: phrase.Of("questions.qstates.most-lines"), Kind: Number, Default: "50"}),
		Columns: []Column{column("state", phrase.Of("questions.qstates.state")), colVehicle, colJob, column("since", phrase.Of("questions.qstates.since")), column("until", phrase.Of("questions.qstates.until")), figures("hours", phrase.Of("questions.qstates.hours")),
			column("night", phrase.Of("questions.qstates.over-night")), column("reason", phrase.Of("questions.qstates.stops-in-between"))}},
	perJob: func(p *pass, c *job.Card) {
		for _, o := range opensOf(c) {
			if !p.inSpan(o.since.At) {
				continue
			}
			until, end := p.Now, phrase.Of("questions.qstates.still-open")
			if o.until != nil {
				until, end = o.until.At, o.until.At.Format(timeForm)
			}
			night := "no"
			if until.Format(dayForm) != o.since.At.Format(dayForm) {
				night = "yes"
			}
			p.carry(c.Number(), o.since.Seq, until.Sub(o.since.At), o.title, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), o.since.At.Format(timeForm), end,
				fmt.Sprintf("%.1f", until.Sub(o.since.At).Hours()), night, strings.Join(stopsBetween(c, o.since.At, until), "; "))
		}
	},
	finish: func(p *pass) {
		slices.SortStableFunc(p.rows, func(a, b Row) int { return cmp.Compare(b.carry.(time.Duration), a.carry.(time.Duration)) })
		if n := p.Int("most"); len(p.rows) > n {
			p.note("%s", phrase.Of("questions.qstates.the-longest-of", n, len(p.rows)))
			p.rows = p.rows[:n]
		}
	},
}

// opening is one time a state was set, with when it was put back.
type opening struct {
	title string
	since job.Mark
	until *job.Mark
}

// opensOf lists every state a job set, from its first entry to the signature that put it back for
// good; a state set again in between counts as one opening.
func opensOf(c *job.Card) []opening {
	var out []opening
	first := map[procedures.StateRef]job.Mark{}
	var order []procedures.StateRef
	back := map[procedures.StateRef]*job.Mark{}
	for i := range c.Stages {
		s := &c.Stages[i]
		for _, ref := range s.Node.Sets {
			for k := range s.Attempts {
				if len(s.Attempts[k].Entries) == 0 {
					continue
				}
				m := s.Attempts[k].Entries[0].Mark
				if old, ok := first[ref]; !ok {
					first[ref], order = m, append(order, ref)
				} else if m.Seq < old.Seq {
					first[ref] = m
				}
			}
		}
		for _, cl := range s.Node.Clears {
			if s.Status != job.Complete {
				continue
			}
			m := s.Current().Signed
			if cs := s.Current().Countersigned; cs != nil {
				m = cs
			}
			if old := back[cl.State]; old == nil || m.Seq > old.Seq {
				back[cl.State] = m
			}
		}
	}
	for _, ref := range order {
		o := opening{title: ref.State, since: first[ref], until: back[ref]}
		if st := c.Plan.Procedure.State(ref.State); st != nil {
			o.title = standingTitle(job.Standing{Ref: ref, State: st})
		}
		if slices.ContainsFunc(c.Open, func(s job.Standing) bool { return s.Ref == ref }) || (o.until != nil && o.until.Seq < o.since.Seq) {
			o.until = nil
		}
		out = append(out, o)
	}
	return out
}

// stopsBetween lists the notes of the stops between two moments.
func stopsBetween(c *job.Card, from, to time.Time) []string {
	var out []string
	for _, e := range c.Events {
		if b, ok := e.Body.(job.Paused); ok && !e.At.Before(from) && !e.At.After(to) {
			out = append(out, cmp.Or(b.Note, b.Kind, "pause"))
		}
	}
	return out
}

var interrupted = &question{
	Question: Question{Number: 34, Name: "interrupted-groups", Title: phrase.Of("questions.qstates.which-jobs-were-stopped-inside-a-torque"),
		Params:  spanParams,
		Columns: []Column{colVehicle, colJob, colTime, colStage, column("check", phrase.Of("questions.qstates.pass")), column("last", phrase.Of("questions.qstates.last-fastener")), column("why", phrase.Of("questions.qstates.why")), column("resumed", phrase.Of("questions.qstates.how-it-went-on"))}},
	wants: withException(job.ExBroken),
	perJob: func(p *pass, c *job.Card) {
		for _, e := range c.Events {
			b, ok := e.Body.(job.Broken)
			if !ok || !p.inSpan(e.At) {
				continue
			}
			s := c.Stage(b.Stage)
			title, resumed := b.Check, phrase.Of("questions.qstates.not-gone-on-with")
			if pc := s.Node.Check(b.Check); pc != nil {
				title = pc.Title
				if n, of := doneAgain(s, pc, e.Seq); n > 0 {
					resumed = phrase.Of("questions.qstates.pass-begun-again-from-the-first-fastener", n, of)
				}
			}
			why := strings.Join(stopsBetween(c, e.At.Add(-24*time.Hour), e.At), "; ")
			p.row(c.Number(), e.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), e.At.Format(timeForm), stageTitle(c, b.Stage), title, b.Last, why, resumed)
		}
	},
}

func doneAgain(s *job.StageCard, pc *procedures.PlanCheck, after uint32) (n, of int) {
	for k := range s.Attempts {
		for _, item := range pc.Group.Names {
			if e := s.Attempts[k].Entry(pc.ID, item); e != nil && e.Seq > after {
				n++
			}
		}
	}
	return n, len(pc.Group.Names)
}
