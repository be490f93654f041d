package bay

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
	"bay.example/pawl/ui/paper"
)

// answerScreen shows the answer to a question: how it came out, the span and what was searched, the
// lines in a table that scrolls, and the marked line in full.
type answerScreen struct {
	a    questions.Answer
	at   int
	page int
	from int   // the first column shown
	room int   // cells there are for the table, as drawn last
	wide []int // natural width of each column
}

// newAnswer shows an answer.
func newAnswer(a questions.Answer) Screen {
	s := &answerScreen{a: a, page: 10, wide: make([]int, len(a.Columns))}
	for i, c := range a.Columns {
		for _, r := range a.Rows {
			if i < len(r.Cells) {
				s.wide[i] = max(s.wide[i], draw.Width(draw.Clean(r.Cells[i])))
			}
		}
		if s.wide[i] > 0 {
			s.wide[i] = max(s.wide[i], draw.Width(c.Title))
		}
	}
	return s
}

// widestCell and leastCell are how wide a column becomes where there is room, and where there is
// little; the whole cell stands below the table.
const (
	widestCell = 28
	leastCell  = 16
)

// columns picks the columns there is room for, narrowing the widest ones as long as that lets more in.
func (s *answerScreen) columns(w int) (show, wide []int) {
	for most := widestCell; most >= leastCell; most-- {
		var some []int
		total := 2
		for i, c := range s.wide {
			if c = min(c, most); c == 0 || i < s.from {
				continue // empty throughout, or scrolled out of view
			}
			if total += c + 2; total-2 > w && len(some) > 1 {
				break
			}
			some = append(some, i)
		}
		if len(some) > len(show) {
			show, wide = some, nil
			for _, c := range s.wide {
				wide = append(wide, min(c, most))
			}
		}
	}
	return show, wide
}

// sideways shows the columns from the next one on, or from the one before.
func (s *answerScreen) sideways(step int) Action {
	show, _ := s.columns(s.room)
	if step > 0 && (len(show) == 0 || !slices.ContainsFunc(s.wide[show[len(show)-1]+1:], func(c int) bool { return c > 0 })) {
		return Say{Text: phrase.Of("bay.answerscreen.the-last-column-is-in-view-the"), Role: draw.Text}
	}
	for at := s.from + step; at >= 0 && at < len(s.wide); at += step {
		if s.wide[at] > 0 {
			s.from = at
			return nil
		}
	}
	return Say{Text: phrase.Of("bay.answerscreen.the-first-column-is-in-view"), Role: draw.Text}
}

// newAnswerFrom shows an answer from the column of that name on.
func newAnswerFrom(a questions.Answer, column string) Screen {
	s := newAnswer(a).(*answerScreen)
	if i := slices.IndexFunc(a.Columns, func(c questions.Column) bool { return c.Name == column }); i >= 0 && s.wide[i] > 0 {
		s.from = i
	}
	return s
}

// Head is the question.
func (s *answerScreen) Head(*Env) string { return phrase.Of("bay.answerscreen.desk", s.a.Question) }

// Focus is nowhere.
func (s *answerScreen) Focus() Focus { return FocusNone }

// Keys move and open.
func (s *answerScreen) Keys(*Env) []Binding {
	off, notes := "", ""
	switch {
	case len(s.a.Rows) == 0:
		off = phrase.Of("bay.answerscreen.there-is-no-line-to-open")
	case s.a.Rows[s.at].Job == 0:
		off = phrase.Of("bay.answerscreen.this-line-adds-up-several-jobs")
	}
	if len(s.a.Notes)+len(s.a.Unjudged) == 0 {
		notes = phrase.Of("bay.answerscreen.every-record-searched-was-judged-and-there")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.answerscreen.record"), Off: off, Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.answerscreen.move"), Bar: true}, {Key: "Left Right", Word: phrase.Of("bay.answerscreen.columns"), Bar: true}, {Key: "PageUp PageDown Home End", Word: phrase.Of("bay.answerscreen.move-far")},
		{Key: "N", Word: phrase.Of("bay.answerscreen.notes-not-judged"), Off: notes, Bar: true}, {Key: "P", Word: phrase.Of("bay.answerscreen.print"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.answerscreen.back"), Bar: true}}
}

// Update moves and opens.
func (s *answerScreen) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Result:
		if v, ok := in.Value.(printedTo); ok && in.Err == nil {
			return printed(v)
		}
		return Say{Text: phrase.Of("bay.answerscreen.the-print-cannot-be-written", in.Err), Role: draw.Bad}
	case Key:
		if to, ok := moveIn(in, s.at, len(s.a.Rows), s.page); ok {
			s.at = to
			return nil
		}
		switch {
		case in.Sym == Esc:
			return Pop{}
		case in.Sym == Left:
			return s.sideways(-1)
		case in.Sym == Right:
			return s.sideways(1)
		case in.Sym == Enter && len(s.a.Rows) > 0:
			return Push{newRecord(s.a.Rows[s.at].Job)}
		case in.Letter() == 'N':
			return Ask{Name: "notes", Dialog: newPane(phrase.Of("bay.answerscreen.notes-and-what-could-not-be-judged"), s.notes()...)}
		case in.Letter() == 'P':
			return s.print(e)
		}
	}
	return ignore(in)
}

// moveIn is where the marker goes in a list of n rows by a key; false for another key.
func moveIn(k Key, at, n, page int) (int, bool) {
	switch k.Sym {
	case Up:
		at--
	case Down:
		at++
	case PageUp:
		at -= max(page, 1)
	case PageDown:
		at += max(page, 1)
	case Home:
		at = 0
	case End:
		at = n - 1
	default:
		return at, false
	}
	return max(min(at, n-1), 0), true
}

func (s *answerScreen) notes() []line {
	var out []line
	for _, n := range s.a.Notes {
		out = append(out, line{text: sentence(n)})
	}
	if len(s.a.Unjudged) > 0 {
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.answerscreen.could-not-be-judged", phrase.Count("count.record", len(s.a.Unjudged))) + " "})
	}
	for _, u := range s.a.Unjudged {
		out = append(out, line{head: phrase.Of("bay.answerscreen.job", u.Job), text: sentence(u.Why), indent: 10})
	}
	return out
}

// print writes the answer as text, as one HTML file and as CSV.
func (s *answerScreen) print(e *Env) Action {
	a, demo := s.a, e.Workshop.Demo
	return Call{Name: "print", Do: func(f *store.File) (any, error) {
		doc := paper.Answer(a, demo, printInfo(f))
		data, err := paper.AnswerCSV(a)
		if err != nil {
			return nil, err
		}
		return writeFiles(f, "", "answer-"+a.Question, map[string][]byte{"txt": doc.Text(false), "html": doc.HTML(), "csv": data})
	}}
}

// View shows it.
func (s *answerScreen) View(e *Env, w, h int) string {
	t := e.Theme
	out := answerHead(t, s.a, w-2)
	detail := s.detail(t, w-2)
	if room := h - len(out) - 5; len(detail) > room {
		detail = detail[:max(room, 0)]
	}
	rows := h - len(out) - len(detail) - 2
	s.page = max(rows-2, 1)
	out = append(out, "")
	if len(s.a.Rows) > 0 {
		out = append(out, s.table(t, w-2, rows)...)
		out = append(out, ruleLine(t, w-2))
		out = append(out, detail...)
		return indent(out)
	}
	lines := append([]line{}, s.notes()...)
	return indent(append(out, drawLines(t, lines, w-2)...))
}

// answerHead says how an answer came out, over which span, as of when and how much was searched.
func answerHead(t *draw.Theme, a questions.Answer, w int) []string {
	role := draw.Title
	if len(a.Unjudged) > 0 {
		role = draw.Warn
	}
	found := " " + sentence(a.Found()) + " "
	if role == draw.Title {
		found = sentence(a.Found())
	}
	return drawLines(t, []line{{role: draw.Title, text: sentence(a.Title)}, {role: role, text: found},
		{role: draw.Faint, text: phrase.Of("bay.answerscreen.span-as-of-searched-not-judged", a.Span(), when(a.AsOf), a.Revision, a.Searched, len(a.Unjudged))}}, w)
}

// table draws the columns there is room for; those empty throughout are left out.
func (s *answerScreen) table(t *draw.Theme, w, h int) []string {
	s.room = w
	show, wide := s.columns(w)
	tb := draw.Table{}
	for _, i := range show {
		tb.Headings = append(tb.Headings, draw.Heading{Title: draw.Pad(t.Truncate(s.a.Columns[i].Title, wide[i]), wide[i]), Right: s.a.Columns[i].Numeric})
	}
	first := inView(max(s.at-h/2, 0), s.at, max(h-2, 1), len(s.a.Rows))
	last := min(first+max(h-2, 1), len(s.a.Rows))
	for _, r := range s.a.Rows[first:last] {
		var row []draw.Cell
		for _, i := range show {
			text := ""
			if i < len(r.Cells) {
				text = t.Truncate(t.Plain(r.Cells[i]), wide[i])
			}
			row = append(row, draw.Cell{Text: text})
		}
		tb.Rows = append(tb.Rows, row)
	}
	tb.Selected = s.at - first
	out := strings.Split(tb.Draw(t, w, last-first+1), "\n")
	if last-first < len(s.a.Rows) {
		out = append(out, scrollNote(t, first, len(s.a.Rows)-last))
	}
	return out
}

// detail is the marked line in full.
func (s *answerScreen) detail(t *draw.Theme, w int) []string {
	if len(s.a.Rows) == 0 {
		return nil
	}
	var parts []string
	for i, cell := range s.a.Rows[s.at].Cells {
		if cell != "" && i < len(s.a.Columns) {
			parts = append(parts, s.a.Columns[i].Title+": "+cell)
		}
	}
	return drawLines(t, []line{{role: draw.Faint, text: phrase.Of("bay.answerscreen.line-of", s.at+1, len(s.a.Rows))}, {text: strings.Join(parts, "; ")}}, w)
}
