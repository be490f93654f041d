package paper

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
)

// personDocument begins a document about a person.
func personDocument(p register.Person, cards []*job.Card, in Info, title string) Document {
	d := Document{Title: title, who: in.Workshop, about: fmt.Sprintf("%s, %s, %s", p.ID, p.Name, p.Role), seal: phrase.Of("paper.people.printed", stamp(in.Printed))}
	d.mark = commonMark(cards)
	return d
}

// commonMark is what all jobs of a document are; where only some are marked it says so, and the
// lines tell which.
func commonMark(cards []*job.Card) string {
	demo, practice, none := 0, 0, 0
	for _, c := range cards {
		m := markOf(c)
		if strings.Contains(m, markDemo) {
			demo++
		}
		if strings.Contains(m, markPractice) {
			practice++
		}
		if m == "" {
			none++
		}
	}
	switch n := len(cards); {
	case none == n:
		return ""
	case demo == n && practice == n:
		return markBoth
	case demo == n:
		return markDemo
	case practice == n:
		return markPractice
	}
	return markPartly
}

// Period is the log of what a person did from one day to another (ISO dates, both included), for the
// training file. It is signed by the supervisor and only added to afterwards.
func Period(p register.Person, cards []*job.Card, from, to string, in Info) Document {
	d := personDocument(p, cards, in, phrase.Of("paper.people.log-from-to", from, to))
	d.add(heading{phrase.Of("paper.people.what-did-from-to", p.Name, from, to), 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{phrase.Word(d.mark), words})
	}
	type line struct {
		at   time.Time
		cell []string
	}
	var all []line
	days := map[string][2]time.Time{}
	for _, c := range cards {
		for _, e := range c.Events {
			day := e.At.Format(time.DateOnly)
			if e.By.ID != p.ID || day < from || day > to {
				continue
			}
			span, ok := days[day]
			if !ok || e.At.Before(span[0]) {
				span[0] = e.At
			}
			if e.At.After(span[1]) {
				span[1] = e.At
			}
			days[day] = span
		}
		for i := range c.Stages {
			s := &c.Stages[i]
			for k := range s.Attempts {
				a := &s.Attempts[k]
				if a.Signed == nil || a.Signed.By.ID != p.ID {
					continue
				}
				if day := a.Signed.At.Format(time.DateOnly); day < from || day > to {
					continue
				}
				all = append(all, line{a.Signed.At, periodRow(c, s, a)})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b line) int { return a.at.Compare(b.at) })
	t := table{close: true, head: []string{phrase.Of("paper.people.signed"), phrase.Of("paper.people.job"), phrase.Of("paper.people.task"), phrase.Of("paper.people.stage"), phrase.Of("paper.people.under"), phrase.Of("paper.people.question")}, wide: []int{16, 16, 16, 28, 14, 10}}
	for _, l := range all {
		t.rows = append(t.rows, l.cell)
	}
	d.section(phrase.Of("paper.people.stages"), phrase.Of("paper.people.nothing-was-signed-in-this-time"), len(all) > 0, t)
	hours := table{close: true, head: []string{phrase.Of("paper.people.day"), phrase.Of("paper.people.first-entry"), phrase.Of("paper.people.last-entry"), phrase.Of("paper.people.hours-between")}}
	var keys []string
	for k := range days {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for _, k := range keys {
		x := days[k]
		hours.rows = append(hours.rows, []string{k, x[0].Format("15:04"), x[1].Format("15:04"), fmt.Sprintf("%.1f", x[1].Sub(x[0]).Hours())})
	}
	d.section(phrase.Of("paper.people.days"), phrase.Of("paper.people.no-entry-was-made-in-this-time"), len(keys) > 0, hours)
	d.add(heading{phrase.Of("paper.people.in-own-words"), 2}, para{text: phrase.Of("paper.people.what-was-new-what-was-hard-what")}, signatures{"", "", ""},
		para{text: phrase.Of("paper.people.after-the-signatures-nothing-here-is-changed")},
		signatures{phrase.Of("paper.people.date-and-signature", p.Name), phrase.Of("paper.people.supervisor-date-and-signature")})
	return d
}

func periodRow(c *job.Card, s *job.StageCard, a *job.Attempt) []string {
	name := fmt.Sprintf("%d, %s", c.Number(), c.Opened.Vehicle.Name)
	if m := markOf(c); m != "" {
		name += " " + m
	}
	under := phrase.Of("paper.people.alone")
	if a.Countersigned != nil {
		under = a.Countersigned.By.Name
	}
	asked := ""
	for _, q := range a.Questions {
		asked = phrase.Word(q.Result)
	}
	return []string{stamp(a.Signed.At), name, s.Node.Stage.Task, stageCell(s, a), under, asked}
}

// Practice is a person's record per task over any number of jobs, practice jobs included.
func Practice(p register.Person, cards []*job.Card, in Info) Document {
	d := personDocument(p, cards, in, phrase.Of("paper.people.practice-record"))
	d.add(heading{phrase.Of("paper.people.practice-record-of", p.Name), 1})
	if words := markWords(d.mark); words != "" {
		d.add(callout{phrase.Word(d.mark), words})
	}
	t := table{close: true, head: []string{phrase.Of("paper.people.task"), phrase.Of("paper.people.level"), phrase.Of("paper.people.done"), phrase.Of("paper.people.first-right"), phrase.Of("paper.people.left"), phrase.Of("paper.people.right"), phrase.Of("paper.people.knew"), phrase.Of("paper.people.helped"), phrase.Of("paper.people.told-again"), phrase.Of("paper.people.fetched"), phrase.Of("paper.people.last")}}
	var raise []string
	for _, r := range job.PracticeRecord(p.ID, cards) {
		t.rows = append(t.rows, []string{r.Task, phrase.Word(p.Level(r.Task).String()), fmt.Sprint(r.Done), fmt.Sprint(r.FirstRight), fmt.Sprint(r.Left), fmt.Sprint(r.Right),
			fmt.Sprint(r.Knew), fmt.Sprint(r.WithHelp), fmt.Sprint(r.Explained), fmt.Sprint(r.Asked), r.Last})
		if r.MayRaise() && p.Level(r.Task) < register.LevelAlone {
			raise = append(raise, r.Task)
		}
	}
	d.section(phrase.Of("paper.people.tasks"), phrase.Of("paper.people.nothing-has-been-done-yet"), len(t.rows) > 0, t)
	d.section(phrase.Of("paper.people.the-foreman-may-raise-the-level-at"), phrase.Of("paper.people.no-task-has-been-done-times-on", job.RaiseAfter), len(raise) > 0, items{lines: raise, tick: true})
	d.add(para{text: phrase.Of("paper.people.done-stages-signed-first-right-at-the"), small: true},
		para{text: phrase.Of("paper.people.to-fetch-somebody-when-not-sure-counts"), small: true},
		signatures{phrase.Of("paper.people.remark-of", p.Name), phrase.Of("paper.people.remark-of-the-supervisor"), phrase.Of("paper.people.supervisor-date-and-signature")})
	return d
}
