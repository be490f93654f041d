package questions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// The questions about vehicles after they left.

var retorques = &question{
	Question: Question{Number: 9, Name: "re-torques", Title: phrase.Of("questions.qvehicle.which-wheel-re-torques-are-due-late"),
		Params: []Param{{Name: "state", Title: phrase.Of("questions.qvehicle.which"), Kind: Choice, Options: []string{"open", "all"}, Default: "open"}},
		Columns: []Column{colVehicle, colOwner, colJob, column("state", phrase.Of("questions.qvehicle.state")), column("due-date", phrase.Of("questions.qvehicle.due-date")), column("due-km", phrase.Of("questions.qvehicle.due-at")), column("customer", phrase.Of("questions.qvehicle.ordered-by")),
			figures("km-day", phrase.Of("questions.qvehicle.km-a-day")), column("last", phrase.Of("questions.qvehicle.last-word"))}},
	always: true,
	wants:  func(_ Args, l Line) bool { return l.Outcome != "" && l.Outcome != job.OutcomeCancelled },
	perJob: func(p *pass, c *job.Card) {
		for _, m := range c.Promises() {
			if m.Key != job.KeyRetorque {
				continue
			}
			v := p.vehicle(c.Opened.Vehicle.ID)
			now := quantity.Quantity{}
			if last, ok := v.LastOdometer(); ok {
				now = last.Value
			}
			state := string(m.State(p.Now, now))
			if m.Ended != "" {
				state = m.Ended
			}
			if p.Text("state") == "open" && m.Ended != "" && m.Ended != job.FollowNotShown {
				continue
			}
			p.row(c.Number(), c.Released.Seq, c.Opened.Vehicle.ID, v.Owner, fmt.Sprint(c.Number()), state, m.DueDate, shown(m.DueAt), c.Opened.Customer, perDay(v), m.LastWord)
		}
	},
}

// perDay is the average distance of a vehicle a day over its readings, in whole kilometres.
func perDay(v register.Vehicle) string {
	if len(v.Odometer) < 2 {
		return ""
	}
	a, b := v.Odometer[0], v.Odometer[len(v.Odometer)-1]
	from, err1 := time.Parse(dayForm, a.Date)
	to, err2 := time.Parse(dayForm, b.Date)
	d, err3 := b.Value.Sub(a.Value)
	days := int64(to.Sub(from).Hours() / 24)
	if err1 != nil || err2 != nil || err3 != nil || days == 0 {
		return ""
	}
	km, err := d.In(quantity.Kilometre)
	if err != nil {
		return ""
	}
	return quantity.FromRat(km.Quo(km, quantity.Quantity{Number: fmt.Sprint(days), Unit: quantity.Count}.Rat()), quantity.Kilometre, 0).Number
}

var retorqueMoved = &question{
	Question: Question{Number: 10, Name: "re-torque-moved", Title: phrase.Of("questions.qvehicle.on-how-many-re-torques-did-a"),
		Params: spanParams,
		Columns: []Column{colVehicle, colJob, colDate, colStage, column("answer", phrase.Of("questions.qvehicle.moved")), column("tightened", phrase.Of("questions.qvehicle.tightened-by")), column("wrench", phrase.Of("questions.qvehicle.with")), column("days", phrase.Of("questions.qvehicle.days-after-the-release")),
			column("rechecked", phrase.Of("questions.qvehicle.re-torqued-by"))}},
	perJob: func(p *pass, c *job.Card) {
		if c.Released == nil {
			return
		}
		for i := range c.Stages {
			s := &c.Stages[i]
			if !c.Plan.Before(c.Plan.ReleaseRef(), s.Node.Ref) || !tightensAgain(s) {
				continue
			}
			for k := range s.Attempts {
				p.moved(c, s, &s.Attempts[k])
			}
		}
	},
	finish: func(p *pass) {
		all, moved := len(p.rows), 0
		p.rows = slices.DeleteFunc(p.rows, func(r Row) bool {
			if r.carry.(bool) {
				moved++
			}
			return !r.carry.(bool)
		})
		p.note("%s", phrase.Of("questions.qvehicle.a-fastener-moved-on-of-wheels-re", moved, all, share(moved, all)))
	},
}

func tightensAgain(s *job.StageCard) bool {
	return slices.ContainsFunc(s.Node.Checks, func(pc procedures.PlanCheck) bool { return pc.Kind == procedures.Torque })
}

// moved adds one wheel re-torqued; carry says whether anything moved.
func (p *pass) moved(c *job.Card, s *job.StageCard, a *job.Attempt) {
	if a.Signed == nil || !p.inSpan(a.Signed.At) {
		return
	}
	answer := ""
	for i := range s.Node.Checks {
		pc := &s.Node.Checks[i]
		if e := a.Entry(pc.ID, ""); pc.Kind == procedures.Choice && e != nil {
			answer = e.Answer
		}
	}
	if answer == "" {
		p.cannot(c.Number(), "%s", phrase.Of("questions.qvehicle.whether-a-fastener-moved-was-not-recorded", job.Title(s.Node)))
		return
	}
	var who, with []string
	for _, x := range PullsOf(c) {
		if x.At.Side == s.Node.Ref.Side && !x.afterLeave && !x.Second && x.Counts && slices.ContainsFunc(s.Node.Checks, func(pc procedures.PlanCheck) bool { return pc.Group != nil && pc.Group.ID == x.group }) {
			add(&who, x.By.Name)
			add(&with, x.Instrument.ID)
		}
	}
	p.carry(c.Number(), a.Signed.Seq, answer != "none", c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), a.Signed.At.Format(dayForm), job.Title(s.Node), answer, strings.Join(who, ", "), strings.Join(with, ", "),
		fmt.Sprint(int(a.Signed.At.Sub(c.Released.At).Hours()/24)), whoWords(a.Signed.By))
}

var comebacks = &question{
	Question: Question{Number: 21, Name: "comebacks", Title: phrase.Of("questions.qvehicle.which-vehicles-came-back-soon-and-with"),
		Params: withSpan(Param{Name: "days", Title: phrase.Of("questions.qvehicle.within-days"), Kind: Number, Default: "90"}, Param{Name: "km", Title: phrase.Of("questions.qvehicle.within-km"), Kind: Number, Default: "5000"}),
		Columns: []Column{colVehicle, figures("first", phrase.Of("questions.qvehicle.first-job")), column("left", phrase.Of("questions.qvehicle.left-on")), figures("second", phrase.Of("questions.qvehicle.second-job")), column("back", phrase.Of("questions.qvehicle.back-on")), figures("days", phrase.Of("questions.qvehicle.days")),
			column("km", phrase.Of("questions.qvehicle.km-between")), column("complaint", phrase.Of("questions.qvehicle.complaint-then")), column("again", phrase.Of("questions.qvehicle.complaint-now")), column("same", phrase.Of("questions.qvehicle.same-work-again"))}},
	perVehicle: func(p *pass, cs []*job.Card) {
		for i, c := range cs[1:] {
			before := cs[i]
			if before.Outcome() == "" || before.Cancelled != nil || c.Cancelled != nil || !p.inSpan(c.OpenedAt) {
				continue
			}
			days := int(c.OpenedAt.Sub(ended(before)).Hours() / 24)
			km, err := c.Opened.Odometer.Sub(before.Odometer())
			if err != nil {
				p.cannot(c.Number(), "%s", phrase.Of("questions.qvehicle.the-odometer-readings-of-jobs-and-cannot", before.Number(), c.Number(), err))
				continue
			}
			far, err := km.Cmp(quantity.Quantity{Number: p.Text("km"), Unit: quantity.Kilometre})
			if err != nil || far > 0 || days > p.Int("days") {
				continue
			}
			same := "no"
			if c.Opened.Procedure.ID == before.Opened.Procedure.ID {
				same = "yes"
			}
			p.row(c.Number(), 1, c.Opened.Vehicle.ID, fmt.Sprint(before.Number()), ended(before).Format(dayForm), fmt.Sprint(c.Number()), c.OpenedAt.Format(dayForm), fmt.Sprint(days), km.String(),
				before.Opened.Complaint, c.Opened.Complaint, same)
		}
	},
}

var refusedAdvice = &question{
	Question: Question{Number: 22, Name: "refused-advice", Title: phrase.Of("questions.qvehicle.which-advice-was-refused-or-put-off"),
		Params: spanParams,
		Columns: []Column{colVehicle, colJob, colDate, column("advice", phrase.Of("questions.qvehicle.advice")), column("urgency", phrase.Of("questions.qvehicle.urgency")), column("answer", phrase.Of("questions.qvehicle.answer")), column("words", phrase.Of("questions.qvehicle.in-whose-words")),
			column("later", phrase.Of("questions.qvehicle.later-visits"))}},
	wants: func(_ Args, l Line) bool { return l.Tags == nil || l.Tags.Advised },
	perVehicle: func(p *pass, cs []*job.Card) {
		for i, c := range cs {
			var later []string
			for _, x := range cs[i+1:] {
				later = append(later, phrase.Of("questions.qvehicle.job", x.Number(), x.OpenedAt.Format(dayForm), x.Opened.Complaint))
			}
			for _, a := range c.Advice {
				if a.Decided == nil || a.Decided.Answer == "accepted" || !p.inSpan(a.DecidedBy.At) {
					continue
				}
				p.row(c.Number(), a.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), a.DecidedBy.At.Format(dayForm), a.Text, a.Urgency, a.Decided.Answer,
					a.Decided.Words+" ("+a.Decided.ByWhom+")", cmp.Or(strings.Join(later, "; "), phrase.Of("questions.qvehicle.not-back-yet")))
			}
		}
	},
	finish: func(p *pass) { p.note("%s", phrase.Of("questions.qvehicle.whether-a-later-complaint-is-the-fault")) },
}

var traits = &question{
	Question: Question{Number: 38, Name: "traits", Title: phrase.Of("questions.qvehicle.which-vehicles-have-certain-traits-and-when"),
		Params:  []Param{{Name: "traits", Title: phrase.Of("questions.qvehicle.such-as-parking-brake-motor-on-caliper"), Kind: Words, Optional: true}},
		Columns: []Column{colVehicle, colOwner, column("traits", phrase.Of("questions.qvehicle.traits")), column("work", phrase.Of("questions.qvehicle.work")), colJob, column("last", phrase.Of("questions.qvehicle.last-done")), colKm}},
	always: true,
	perVehicle: func(p *pass, cs []*job.Card) {
		last := map[string]*job.Card{}
		for _, c := range cs {
			if !hasTraits(c.Opened.Traits, p.Text("traits")) {
				continue
			}
			if c.Outcome() != "" && c.Cancelled == nil {
				last[c.Opened.Procedure.Title] = c
			}
		}
		for _, work := range sortedKeys(last) {
			c := last[work]
			id := c.Opened.Vehicle.ID
			p.row(c.Number(), 0, id, p.vehicle(id).Owner, traitWords(c.Opened.Traits), work, fmt.Sprint(c.Number()), ended(c).Format(dayForm), shown(c.Odometer()))
		}
	},
	finish: func(p *pass) {
		seen := map[string]bool{}
		for _, r := range p.rows {
			seen[r.Cells[0]] = true
		}
		for _, v := range p.Vehicles {
			if !seen[v.ID] {
				if s, err := p.sheet(v.Sheet); err == nil && hasTraits(withDefaults(s, v), p.Text("traits")) {
					p.row(0, 0, v.ID, v.Owner, traitWords(withDefaults(s, v)), phrase.Of("questions.qvehicle.nothing-yet"), "", "", "")
				}
			}
		}
		slices.SortStableFunc(p.rows, func(a, b Row) int { return cmp.Compare(a.Cells[0], b.Cells[0]) })
	},
}

func withDefaults(s *procedures.Sheet, v register.Vehicle) map[string]string {
	out := map[string]string{}
	for k, x := range s.Traits {
		out[k] = x
	}
	for k, x := range v.Traits {
		out[k] = x
	}
	return out
}

// hasTraits reports whether every "trait=value" of a list holds.
func hasTraits(have map[string]string, want string) bool {
	for _, w := range strings.Split(want, ",") {
		k, v, _ := strings.Cut(strings.TrimSpace(w), "=")
		if k != "" && !strings.EqualFold(have[strings.TrimSpace(k)], strings.TrimSpace(v)) {
			return false
		}
	}
	return true
}

func traitWords(have map[string]string) string {
	var out []string
	for _, k := range sortedKeys(have) {
		out = append(out, k+"="+have[k])
	}
	return strings.Join(out, ", ")
}

var whole = &question{
	Question: Question{Number: 33, Name: "whole", Title: phrase.Of("questions.qvehicle.is-the-record-of-a-job-complete"),
		Params:  []Param{jobParam},
		Columns: []Column{colJob, figures("events", phrase.Of("questions.qvehicle.events")), column("digest", phrase.Of("questions.qvehicle.digest-of-the-newest")), column("ended", phrase.Of("questions.qvehicle.ended")), column("verdict", phrase.Of("questions.qvehicle.chain"))}},
	always: true, practice: true, wants: ofJob,
	perJob: func(p *pass, c *job.Card) {
		at, verdict := job.Origin(c.Number()), phrase.Of("questions.qvehicle.whole-every-event-fits-the-digest-of")
		for _, e := range c.Events {
			data, err := job.Encode(e)
			if err != nil {
				p.cannot(c.Number(), "%s", phrase.Of("questions.qvehicle.event", e.Seq, err))
				return
			}
			at = job.Link(at, data)
		}
		if at != c.Head {
			verdict = "broken"
		}
		p.row(c.Number(), c.Seq(), fmt.Sprint(c.Number()), fmt.Sprint(c.Seq()), c.Head.String(), cmp.Or(c.Outcome(), phrase.Of("questions.qvehicle.still-open")), verdict)
	},
}
