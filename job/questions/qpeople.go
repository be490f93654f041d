package questions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// The questions about who did what and who looked at it.

var signatures = &question{
	Question: Question{Number: 3, Name: "signatures", Title: phrase.Of("questions.qpeople.who-did-who-countersigned-and-who-released"),
		Params: []Param{jobParam},
		Columns: []Column{colJob, colStage, figures("attempt", phrase.Of("questions.qpeople.attempt")), column("did", phrase.Of("questions.qpeople.did")), column("signed", phrase.Of("questions.qpeople.signed")), column("countersigned", phrase.Of("questions.qpeople.countersigned-by")),
			column("countersigned-at", "At"), figures("minutes", phrase.Of("questions.qpeople.minutes-between"))}},
	always: true, practice: true,
	wants: ofJob,
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			for k := range s.Attempts {
				a := &s.Attempts[k]
				if a.Signed == nil {
					continue
				}
				var did []string
				for _, w := range a.Doers() {
					did = append(did, whoWords(w))
				}
				second, at, minutes := "", "", ""
				switch {
				case a.Countersigned != nil:
					second, at = whoWords(a.Countersigned.By), a.Countersigned.At.Format(timeForm)
					minutes = fmt.Sprint(int(a.Countersigned.At.Sub(a.Signed.At).Minutes()))
				case a.NoSecond:
					second = phrase.Of("questions.qpeople.nobody-no-second-person-in-the-workshop")
				case a.Owed:
					second = "owed"
				}
				title := job.Title(s.Node)
				if s.Node.Stage.Act == procedures.Release {
					title += phrase.Of("questions.qpeople.released-by", whoWords(a.Signed.By))
				}
				p.row(c.Number(), a.Signed.Seq, fmt.Sprint(c.Number()), title, fmt.Sprint(a.No), strings.Join(did, ", "), a.Signed.At.Format(timeForm), second, at, minutes)
			}
		}
	},
}

var firstTimeRight = &question{
	Question: Question{Number: 5, Name: "first-time-right", Title: phrase.Of("questions.qpeople.how-often-a-stage-stood-at-the"),
		Params: withSpan(Param{Name: "by", Title: phrase.Of("questions.qpeople.add-up-by"), Kind: Choice, Options: []string{"stage", "apprentice"}, Default: "stage"}),
		Columns: []Column{column("what", phrase.Of("questions.qpeople.stage-or-apprentice")), figures("first", phrase.Of("questions.qpeople.first-time-right")), figures("of", "Of"), figures("percent", phrase.Of("questions.qpeople.per-cent")),
			column("kinds", phrase.Of("questions.qpeople.what-was-done-again"))}},
	practice: true,
	perJob: func(p *pass, c *job.Card) {
		if c.Opened.Practice && p.Text("by") == "stage" {
			return
		}
		for i := range c.Stages {
			s := &c.Stages[i]
			if len(s.Attempts) == 0 || s.Attempts[0].Signed == nil && len(s.Attempts) == 1 {
				continue
			}
			if m, _ := begun(&s.Attempts[0]); !p.inSpan(m.At) {
				continue
			}
			t := tried{right: len(s.Attempts) == 1}
			for _, a := range s.Attempts[1:] {
				t.why = append(t.why, a.Reason)
			}
			if p.Text("by") == "stage" {
				t.what = s.Node.Stage.Title
				p.rows = append(p.rows, Row{carry: t})
				continue
			}
			for _, w := range s.Attempts[0].Doers() {
				if w.Role == procedures.Apprentice {
					t.what = w.Name
					p.rows = append(p.rows, Row{carry: t})
				}
			}
		}
	},
	finish: func(p *pass) {
		sums := map[string]*rate{}
		for _, r := range p.rows {
			t := r.carry.(tried)
			if sums[t.what] == nil {
				sums[t.what] = &rate{why: map[string]int{}}
			}
			sums[t.what].add(t)
		}
		p.rows = nil
		for _, what := range sortedKeys(sums) {
			s := sums[what]
			p.row(0, 0, what, fmt.Sprint(s.right), fmt.Sprint(s.of), percent(s.right, s.of), s.reasons())
		}
		p.note("%s", phrase.Of("questions.qpeople.no-percentage-is-shown-under-meant-for", leastForShare))
	},
}

// tried is one stage done, at the first attempt or not.
type tried struct {
	what  string
	right bool
	why   []string
}

type rate struct {
	right, of int
	why       map[string]int
}

func (r *rate) add(t tried) {
	r.of++
	if t.right {
		r.right++
	}
	for _, w := range t.why {
		r.why[w]++
	}
}

// reasons lists the commonest reasons first.
func (r *rate) reasons() string {
	keys := sortedKeys(r.why)
	slices.SortStableFunc(keys, func(a, b string) int { return cmp.Compare(r.why[b], r.why[a]) })
	var out []string
	for _, k := range keys[:min(3, len(keys))] {
		out = append(out, fmt.Sprintf("%s (%d)", k, r.why[k]))
	}
	return strings.Join(out, "; ")
}

func percent(part, of int) string {
	if of < leastForShare {
		return ""
	}
	return fmt.Sprint((200*part + of) / (2 * of))
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

var withoutSecond = &question{
	Question: Question{Number: 24, Name: "without-second", Title: phrase.Of("questions.qpeople.which-jobs-were-released-without-an-independent"),
		Params: spanParams, Columns: []Column{colVehicle, colJob, colTime, colStage, column("released", phrase.Of("questions.qpeople.released-by-2")), colWords}},
	perJob: func(p *pass, c *job.Card) {
		r := c.Released
		if r == nil || !p.inSpan(r.At) {
			return
		}
		if !r.Independent {
			p.row(c.Number(), r.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), r.At.Format(timeForm), stageTitle(c, c.Plan.ReleaseRef()), whoWords(r.By), cmp.Or(r.Note, phrase.Of("questions.qpeople.he-had-a-hand-in-the-work")))
		}
		for i := range c.Stages {
			s := &c.Stages[i]
			for k := range s.Attempts {
				if a := &s.Attempts[k]; a.NoSecond {
					p.row(c.Number(), a.Signed.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), a.Signed.At.Format(timeForm), job.Title(s.Node), whoWords(r.By), phrase.Of("questions.qpeople.no-second-person-in-the-workshop"))
				}
			}
		}
	},
}

var lateCountersigns = &question{
	Question: Question{Number: 26, Name: "late-countersigns", Title: phrase.Of("questions.qpeople.where-the-countersign-came-after-the-part"),
		Params: spanParams,
		Columns: []Column{colVehicle, colJob, colStage, column("countersigned", phrase.Of("questions.qpeople.countersigned")), colWho, column("covered", phrase.Of("questions.qpeople.next-stage-begun")), column("next", phrase.Of("questions.qpeople.next-stage")),
			figures("minutes", phrase.Of("questions.qpeople.minutes-late"))}},
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			a := s.Current()
			if a == nil || a.Countersigned == nil || !p.inSpan(a.Countersigned.At) {
				continue
			}
			for k := range c.Stages {
				next := &c.Stages[k]
				if !slices.Contains(next.Node.After, s.Node.Ref) || next.Node.Stage.Early {
					continue
				}
				m, ok := firstAfter(next, a.Signed.Seq)
				if ok && m.Seq < a.Countersigned.Seq {
					p.row(c.Number(), a.Countersigned.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), job.Title(s.Node), a.Countersigned.At.Format(timeForm), whoWords(a.Countersigned.By),
						m.At.Format(timeForm), job.Title(next.Node), fmt.Sprint(int(a.Countersigned.At.Sub(m.At).Minutes())))
				}
			}
		}
	},
}

// firstAfter is the first entry of a stage after an event.
func firstAfter(s *job.StageCard, seq uint32) (job.Mark, bool) {
	for k := range s.Attempts {
		for _, e := range s.Attempts[k].Entries {
			if e.Seq > seq {
				return e.Mark, true
			}
		}
	}
	return job.Mark{}, false
}

var oddHours = &question{
	Question: Question{Number: 27, Name: "odd-hours", Title: phrase.Of("questions.qpeople.signatures-outside-working-time-and"),
		Params:  withSpan(Param{Name: "begin", Title: phrase.Of("questions.qpeople.work-begins"), Kind: Clock, Default: "06:00"}, Param{Name: "end", Title: phrase.Of("questions.qpeople.work-ends"), Kind: Clock, Default: "20:00"}),
		Columns: []Column{colVehicle, colJob, colTime, colWho, colStage, column("what", phrase.Of("questions.qpeople.what"))}},
	perJob: func(p *pass, c *job.Card) {
		var seconds []job.Mark
		say := func(m job.Mark, s *job.StageCard, what string) {
			p.row(c.Number(), m.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), m.At.Format(timeForm), whoWords(m.By), job.Title(s.Node), what)
		}
		at := map[uint32]*job.StageCard{}
		for i := range c.Stages {
			s := &c.Stages[i]
			for k := range s.Attempts {
				for _, m := range []*job.Mark{s.Attempts[k].Signed, s.Attempts[k].Countersigned} {
					if m == nil || !p.inSpan(m.At) {
						continue
					}
					if clock := m.At.Format("15:04"); clock < p.Text("begin") || clock > p.Text("end") {
						say(*m, s, phrase.Of("questions.qpeople.outside-working-time"))
					}
				}
				if m := s.Attempts[k].Countersigned; m != nil && p.inSpan(m.At) {
					seconds, at[m.Seq] = append(seconds, *m), s
				}
			}
		}
		slices.SortFunc(seconds, func(a, b job.Mark) int { return int(a.Seq) - int(b.Seq) })
		for i := range seconds {
			n := 1
			for k := i + 1; k < len(seconds) && seconds[k].At.Sub(seconds[i].At) < job.BurstTime; k++ {
				if seconds[k].By.ID == seconds[i].By.ID {
					n++
				}
			}
			if n >= job.BurstMost {
				say(seconds[i], at[seconds[i].Seq], phrase.Of("questions.qpeople.countersigns-within-a-minute", n))
			}
		}
	},
	finish: func(p *pass) { p.note("%s", phrase.Of("questions.qpeople.a-list-for-a-talk-not-a")) },
}

var personDid = &question{
	Question: Question{Number: 28, Name: "person-did", Title: phrase.Of("questions.qpeople.what-somebody-did-and-under-whom"),
		Params: withSpan(Param{Name: "person", Title: phrase.Of("questions.qpeople.who"), Kind: Person}),
		Columns: []Column{column("task", phrase.Of("questions.qpeople.task")), colStage, figures("signed", phrase.Of("questions.qpeople.signed")), figures("first", phrase.Of("questions.qpeople.first-time-right")), column("under", phrase.Of("questions.qpeople.countersigned-by")),
			column("role", phrase.Of("questions.qpeople.role-then")), column("first-day", phrase.Of("questions.qpeople.first")), column("last-day", phrase.Of("questions.qpeople.last")), column("level", phrase.Of("questions.qpeople.level-today"))}},
	practice: true,
	wants: func(a Args, l Line) bool {
		return l.Tags == nil || slices.Contains(l.Tags.People, a.Text("person"))
	},
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			for k := range s.Attempts {
				a := &s.Attempts[k]
				if a.Signed == nil || !p.inSpan(a.Signed.At) || !slices.ContainsFunc(a.Doers(), func(w job.Who) bool { return w.ID == p.Text("person") }) {
					continue
				}
				d := deed{task: s.Node.Stage.Task, stage: job.Title(s.Node), role: string(a.Signed.By.Role), right: a.No == 1 && len(s.Attempts) == 1, on: a.Signed.At.Format(dayForm)}
				if a.Signed.By.ID != p.Text("person") {
					d.role = ""
				}
				if a.Countersigned != nil {
					d.under = a.Countersigned.By.Name
				}
				p.rows = append(p.rows, Row{carry: d})
			}
		}
	},
	finish: func(p *pass) {
		who, _ := p.Register.Person(p.Text("person"))
		sums := map[string]*deeds{}
		for _, r := range p.rows {
			d := r.carry.(deed)
			key := d.task + "\x00" + d.stage
			if sums[key] == nil {
				sums[key] = &deeds{deed: d}
			}
			sums[key].add(d)
		}
		p.rows = nil
		for _, key := range sortedKeys(sums) {
			s := sums[key]
			level := ""
			if who.Role == procedures.Apprentice {
				level = who.Level(s.task).String()
			}
			p.row(0, 0, s.task, s.stage, fmt.Sprint(s.n), fmt.Sprint(s.rights), strings.Join(s.unders, ", "), strings.Join(s.roles, ", "), s.first, s.last, level)
		}
	},
}

// deed is one attempt somebody had a hand in.
type deed struct {
	task, stage, under, role, on string
	right                        bool
}

type deeds struct {
	deed
	n, rights     int
	unders, roles []string
	first, last   string
}

func (s *deeds) add(d deed) {
	s.n++
	if d.right {
		s.rights++
	}
	add(&s.unders, d.under)
	add(&s.roles, d.role)
	if s.first == "" || d.on < s.first {
		s.first = d.on
	}
	s.last = max(s.last, d.on)
}

var expired = &question{
	Question: Question{Number: 29, Name: "expired-qualifications", Title: phrase.Of("questions.qpeople.which-qualification-had-run-out-when-something"),
		Params:  spanParams,
		Columns: []Column{colVehicle, colJob, colTime, colStage, colWho, column("qualification", phrase.Of("questions.qpeople.qualification")), column("until", phrase.Of("questions.qpeople.valid-until"))}},
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			need := s.Node.Stage.Qualification
			for k := range s.Attempts {
				m := s.Attempts[k].Signed
				if need == "" || m == nil || !p.inSpan(m.At) {
					continue
				}
				p.qualified(c, s, *m, need)
			}
		}
	},
	finish: func(p *pass) {
		p.note("%s", phrase.Of("questions.qpeople.held-against-the-qualifications-on-the-register"))
	},
}

func (p *pass) qualified(c *job.Card, s *job.StageCard, m job.Mark, need string) {
	who, ok := p.Register.Person(m.By.ID)
	i := slices.IndexFunc(who.Qualifications, func(q register.Qualification) bool { return q.ID == need })
	switch {
	case !ok:
		p.cannot(c.Number(), "%s", phrase.Of("questions.qpeople.event-is-not-on-the-register", m.Seq, m.By.Name))
	case i < 0:
		p.cannot(c.Number(), "%s", phrase.Of("questions.qpeople.event-no-of-is-on-the-register", m.Seq, need, m.By.Name))
	case m.At.Format(time.DateOnly) > who.Qualifications[i].Until:
		p.row(c.Number(), m.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), m.At.Format(timeForm), job.Title(s.Node), whoWords(m.By), need, who.Qualifications[i].Until)
	}
}
