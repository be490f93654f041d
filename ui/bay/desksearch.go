package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// lookup searches all jobs as somebody types.
type lookup struct {
	q      store.Query
	hits   store.Hits
	loaded bool
	field  field
	at     int
	page   int
}

// mostHits is how many hits are listed; the number of all is said.
const mostHits = 200

// looked is what a search brought, with what it was for.
type looked struct {
	q store.Query
	h store.Hits
}

// newLookup searches all jobs.
func newLookup() Screen {
	return &lookup{field: field{most: 60}, page: 10, q: store.Query{Limit: mostHits}}
}

// Head says what this is.
func (s *lookup) Head(*Env) string { return phrase.Of("bay.desksearch.desk-search-all-jobs") }

// Focus is the search line.
func (s *lookup) Focus() Focus { return FocusText }

// Keys are those of the list.
func (s *lookup) Keys(*Env) []Binding {
	off := ""
	if len(s.hits.Jobs) == 0 {
		off = phrase.Of("bay.desksearch.there-is-no-job-to-read-on")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.desksearch.read-the-record"), Off: off, Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.desksearch.move"), Bar: true}, {Key: "Right", Word: phrase.Of("bay.desksearch.filters"), Bar: true},
		{Key: "Left", Word: phrase.Of("bay.desksearch.no-filters"), Bar: true}, {Key: "PageUp PageDown", Word: phrase.Of("bay.desksearch.move-far")}, {Key: "Backspace", Word: phrase.Of("bay.desksearch.take-typed-text-back")}, {Key: "Esc", Word: phrase.Of("bay.desksearch.back"), Bar: true}}
}

// ask searches; typing goes on meanwhile.
func (s *lookup) ask() Action {
	s.q.Text = s.field.text
	q := s.q
	return Call{Name: "find", Quiet: true, Do: func(f *store.File) (any, error) {
		h, err := f.Find(q)
		return looked{q, h}, err
	}}
}

// Update edits the search line and moves.
func (s *lookup) Update(_ *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return s.ask()
	case Result:
		v, ok := in.Value.(looked)
		switch {
		case in.Err != nil || !ok:
			return Say{Text: phrase.Of("bay.desksearch.the-jobs-cannot-be-searched", in.Err), Role: draw.Bad}
		case v.q != s.q:
			return nil // typing went on
		}
		s.hits, s.loaded = v.h, true
		s.at = max(min(s.at, len(v.h.Jobs)-1), 0)
		return nil
	case Scan:
		s.field.clear()
		s.field.put(string(in))
		return s.ask()
	case Paste:
		s.field.put(string(in))
		return s.ask()
	case Key:
		return s.key(in)
	}
	return ignore(in)
}

func (s *lookup) key(k Key) Action {
	if k.Sym != Home && k.Sym != End {
		if to, ok := moveIn(k, s.at, len(s.hits.Jobs), s.page); ok {
			s.at = to
			return nil
		}
	}
	switch k.Sym {
	case Esc:
		if s.field.text != "" {
			s.field.clear()
			s.at = 0
			return s.ask()
		}
		return Pop{}
	case Enter:
		if !k.Again && s.at < len(s.hits.Jobs) {
			return Push{newRecord(s.hits.Jobs[s.at].Number)}
		}
		return nil
	case Right:
		return Push{newFilters(s.q, func(q store.Query) { s.q, s.at = q, 0 })}
	case Left:
		s.q, s.at = store.Query{Limit: mostHits}, 0
		return s.ask()
	}
	if !s.field.take(k, FocusText) {
		return Unknown{}
	}
	s.at = 0
	return s.ask()
}

// filterWords says what narrows the search down.
func filterWords(q store.Query) string {
	var out []string
	for _, x := range [][2]string{{phrase.Of("bay.desksearch.from"), q.From}, {phrase.Of("bay.desksearch.to"), q.To}, {phrase.Of("bay.desksearch.outcome"), q.Outcome}, {phrase.Of("bay.desksearch.exception"), q.Exception}} {
		if x[1] != "" {
			out = append(out, x[0]+" "+phrase.Word(x[1]))
		}
	}
	if len(out) == 0 {
		return phrase.Of("bay.desksearch.all-records")
	}
	return strings.Join(out, "; ")
}

// View shows the line, the jobs and what the marked one was about.
func (s *lookup) View(e *Env, w, h int) string {
	t := e.Theme
	out := []string{t.Style(draw.Text, phrase.Of("bay.desksearch.vehicle-number-person-part-batch-wrench-stage")), s.field.draw(t, min(w-2, 62), true)}
	if !s.loaded {
		return indent(append(out, "", t.Style(draw.Text, phrase.Of("bay.desksearch.searching")+t.Glyphs.Cut)))
	}
	count := phrase.Of("bay.desksearch.of-searched-0-not-judged-as-of", phrase.Count("count.job", s.hits.Matches), s.hits.Searched, filterWords(s.q), when(e.Now))
	if s.hits.Matches > len(s.hits.Jobs) {
		count = phrase.Of("bay.desksearch.the-newest-of", len(s.hits.Jobs)) + count
	}
	out = append(out, t.Style(draw.Faint, t.Truncate(t.Plain(sentence(count)), w-2)), "")
	if len(s.hits.Jobs) == 0 {
		return indent(append(out, drawLines(t, []line{{text: phrase.Of("bay.desksearch.none-found-none-of-the-has-all", phrase.Count("count.record", s.hits.Searched))}}, w-2)...))
	}
	j := s.hits.Jobs[s.at]
	end := phrase.Word(j.Outcome)
	if end == "" {
		end = phrase.Of("bay.desksearch.the-work-goes-on", j.Stage)
	}
	about := drawLines(t, []line{{text: j.Procedure + "; " + end}, {text: phrase.Of("bay.desksearch.complaint", j.Complaint), indent: 2}, {text: phrase.Of("bay.desksearch.of-stages-complete-last-entry-by", j.Done, j.Of, when(j.Last), j.LastBy.Name)}}, w-2)
	rows := max(h-len(out)-len(about)-1, 4)
	s.page = max(rows-2, 1)
	tb := draw.Table{Selected: s.at, Headings: []draw.Heading{{Title: phrase.Of("bay.desksearch.job"), Right: true}, {Title: phrase.Of("bay.desksearch.vehicle")}, {Title: phrase.Of("bay.desksearch.name")}, {Title: phrase.Of("bay.desksearch.opened")}, {Title: phrase.Of("bay.desksearch.last")}, {Title: phrase.Of("bay.desksearch.state")}}}
	for _, j := range s.hits.Jobs {
		tb.Rows = append(tb.Rows, cells(fmt.Sprint(j.Number), j.Vehicle.ID, j.Vehicle.Name, j.Opened.Format("2006-01-02"), since(e.Now, j.Last), statusWords(j)))
	}
	out = append(out, strings.Split(tb.Draw(t, w-2, rows), "\n")...)
	return indent(append(append(out, ruleLine(t, w-2)), about...))
}

// filters narrows a search down.
type filters struct {
	page page
	set  func(store.Query)
}

// newFilters asks for the filters; set gets them.
func newFilters(q store.Query, set func(store.Query)) Screen {
	from := textRow("from", phrase.Of("bay.desksearch.worked-on-since"), q.From, phrase.Of("bay.desksearch.the-first-day-as-year-month-day"))
	to := textRow("to", phrase.Of("bay.desksearch.worked-on-until"), q.To, phrase.Of("bay.desksearch.the-last-day-as-year-month-day"))
	outs := []string{"", store.OutcomeOpen, job.OutcomeReleased, job.OutcomeMadeSafe, job.OutcomeRecovery, job.OutcomeCancelled}
	outcome := choiceRow("outcome", phrase.Of("bay.desksearch.how-it-ended"), q.Outcome, outs, append([]string{phrase.Of("bay.desksearch.any")}, phrase.Words(outs[1:])...), phrase.Of("bay.desksearch.how-the-work-ended-open-is-work"))
	kinds := append([]string{""}, job.ExceptionKinds()...)
	exception := choiceRow("exception", phrase.Of("bay.desksearch.with-an-exception"), q.Exception, kinds, append([]string{phrase.Of("bay.desksearch.any-or-none")}, phrase.Words(kinds[1:])...), phrase.Of("bay.desksearch.what-did-not-go-straight"))
	from.check, to.check = isDate, isDate
	rows := []pageRow{from, to, outcome, exception}
	for i := range rows {
		rows[i].optional = true
	}
	return &filters{page{title: phrase.Of("bay.desksearch.narrow-the-search-down"), rows: rows, last: phrase.Of("bay.desksearch.search")}, set}
}

// Head says what this is.
func (s *filters) Head(*Env) string { return phrase.Of("bay.desksearch.desk-filters") }

// Focus is the row's.
func (s *filters) Focus() Focus { return s.page.focus() }

// Keys are the row's.
func (s *filters) Keys(*Env) []Binding { return s.page.keys() }

// Update fills the page in.
func (s *filters) Update(_ *Env, in Input) Action {
	act, done := s.page.update(in)
	if !done {
		return act
	}
	from, to := s.page.value("from"), s.page.value("to")
	if from != "" && to != "" && from > to {
		return Say{Text: phrase.Of("bay.desksearch.the-first-day-lies-after-the-last", from, to), Role: draw.Warn}
	}
	s.set(store.Query{From: from, To: to, Outcome: s.page.value("outcome"), Exception: s.page.value("exception"), Limit: mostHits})
	return Pop{}
}

// View shows the page.
func (s *filters) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }
