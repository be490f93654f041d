package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// waitingRow is one thing somebody waits for, in any job of the bay.
type waitingRow struct {
	kind  string
	job   uint64
	where string
	who   string
	since string
	text  string
	role  draw.Role
}

// The kinds of rows, in the order of the screen.
const (
	waitHelp   = "fetch"
	waitHeld   = "withheld"
	waitSecond = "second"
	waitStop   = "stopped"
	waitOpen   = "open"
	waitLate   = "follow-up"
)

// waiting is the foreman's list: who waits for help, what is withheld, who owes a countersign, what
// stands stopped, what stands open anywhere, which promise is late.
type waiting struct {
	rows   []waitingRow
	loaded bool
	at     int
}

func newWaiting() Screen { return &waiting{} }

// Head says what this is.
func (s *waiting) Head(*Env) string { return phrase.Of("bay.waiting.who-waits-what-stands-open") }

// Focus is nowhere.
func (s *waiting) Focus() Focus { return FocusNone }

// Keys move and open.
func (s *waiting) Keys(*Env) []Binding {
	none := ""
	if len(s.rows) == 0 {
		none = phrase.Of("bay.waiting.nobody-waits-and-nothing-stands-open")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.waiting.go-to-the-job"), Off: none, Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.waiting.move"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.waiting.jobs"), Bar: true}}
}

// Update moves and opens.
func (s *waiting) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		now := e.Now
		return Call{Name: "waiting", Do: func(f *store.File) (any, error) {
			cards, err := cardsOf(f, func(j store.Summary) bool { return j.Status != store.Closed })
			if err != nil {
				return nil, err
			}
			promises, err := readPromises(f)
			return waitingRows(&Env{Now: now}, cards, promises), err
		}}
	case Result:
		rows, ok := in.Value.([]waitingRow)
		if !ok || in.Err != nil {
			return Say{Text: phrase.Of("bay.finished.the-jobs-cannot-be-read", in.Err), Role: draw.Bad}
		}
		s.rows, s.loaded = rows, true
		s.at = max(min(s.at, len(rows)-1), 0)
		return nil
	case Key:
		switch in.Sym {
		case Esc:
			return Pop{}
		case Up:
			s.at = max(s.at-1, 0)
			return nil
		case Down:
			s.at = max(min(s.at+1, len(s.rows)-1), 0)
			return nil
		case Enter:
			if s.rows[s.at].kind == waitLate {
				return Push{newFollowUps()}
			}
			return Push{newJobScreen(s.rows[s.at].job)}
		}
	}
	return ignore(in)
}

// cardsOf loads the jobs that are wanted, newest first.
func cardsOf(f *store.File, want func(store.Summary) bool) ([]*job.Card, error) {
	all, err := f.Jobs()
	if err != nil {
		return nil, err
	}
	var out []*job.Card
	for _, j := range all {
		if !want(j) {
			continue
		}
		c, err := f.Load(j.Number)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

// waitingRows gathers the rows of all jobs, what presses most first.
func waitingRows(e *Env, cards []*job.Card, promises []promised) []waitingRow {
	var by = map[string][]waitingRow{}
	for _, c := range cards {
		add := func(kind string, role draw.Role, where string, m job.Mark, text string) {
			by[kind] = append(by[kind], waitingRow{kind, c.Number(), where, m.By.Name, since(e.Now, m.At), practiceMark(c) + text, role})
		}
		for i := range c.Stages {
			st := &c.Stages[i]
			a := st.Current()
			if a != nil && a.Unsure != nil {
				add(waitHelp, draw.Warn, job.Title(st.Node), *a.Unsure, strings.TrimSpace(phrase.Of("bay.waiting.waits-for-somebody-to-come", a.UnsureNote)))
			}
			if st.Status == job.SecondOwed {
				add(waitSecond, draw.Caution, job.Title(st.Node), *a.Signed, phrase.Of("bay.waiting.signed-it-a-second-person-has-to"))
			}
		}
		if c.Withheld != nil {
			add(waitHeld, draw.Warn, phrase.Word(c.Withheld.Class), c.Withheld.Mark, c.Withheld.Words)
		}
		if c.Paused != nil {
			safe := phrase.Of("bay.waiting.nobody-signed-safe-to-leave")
			if c.Safe != nil {
				safe = phrase.Of("bay.waiting.safe-to-leave", c.Safe.By.Name)
			}
			add(waitStop, draw.Text, phrase.Word(c.Stop.Kind), *c.Paused, c.PauseFor+"; "+safe)
		}
		for _, o := range c.Open {
			title := o.State.Title
			if o.Ref.Side != "" {
				title += ", " + phrase.Word(o.Ref.Side)
			}
			add(waitOpen, draw.Text, title, o.Since, o.State.Danger)
		}
	}
	for _, p := range promises {
		if st := p.State(e.Now, p.card.Odometer()); st == job.FollowLate || st == job.FollowDue {
			by[waitLate] = append(by[waitLate], waitingRow{waitLate, p.card.Number(), phrase.Of("bay.waiting.vehicle", p.card.Opened.Vehicle.ID), p.card.Released.By.Name, p.DueDate, string(st) + ": " + p.What, draw.Text})
		}
	}
	var out []waitingRow
	for _, kind := range []string{waitHelp, waitHeld, waitSecond, waitStop, waitOpen, waitLate} {
		out = append(out, by[kind]...)
	}
	return out
}

// View shows the table and the marked row in full.
func (s *waiting) View(e *Env, w, h int) string {
	if !s.loaded {
		return ""
	}
	t := e.Theme
	tb := draw.Table{Selected: s.at, Empty: phrase.Of("bay.waiting.nobody-waits-nothing-is-owed-nothing-stands"),
		Headings: []draw.Heading{{Title: phrase.Of("bay.waiting.what")}, {Title: phrase.Of("bay.waiting.job-2"), Right: true}, {Title: phrase.Of("bay.waiting.who")}, {Title: phrase.Of("bay.waiting.since")}, {Title: phrase.Of("bay.waiting.where")}, {Title: ""}}}
	count := map[string]int{}
	for _, r := range s.rows {
		count[r.kind]++
		tb.Rows = append(tb.Rows, cells(strings.ToUpper(phrase.Word(r.kind)), fmt.Sprint(r.job), r.who, r.since, r.where, r.text))
	}
	title := t.Style(draw.Title, phrase.Of("bay.waiting.for-somebody-owed-open", phrase.Count("count.stage", count[waitHelp]), phrase.Count("count.countersign", count[waitSecond]), phrase.Count("count.state", count[waitOpen])))
	if len(s.rows) == 0 {
		return title + "\n\n" + indent(strings.Split(tb.Draw(t, w-2, h-2), "\n"))
	}
	r := s.rows[s.at]
	foot := drawLines(t, []line{{role: draw.Title, text: phrase.Of("bay.waiting.job", r.job, r.where)}, {text: fmt.Sprintf("%s, %s: %s", r.who, r.since, r.text), indent: 2}}, w-2)
	list := tb.Draw(t, w-2, max(h-3-len(foot), 4))
	return title + "\n\n" + indent(append(append(strings.Split(list, "\n"), t.Style(draw.Frame, strings.Repeat(t.Glyphs.Across, w-2))), foot...))
}
