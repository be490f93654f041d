package bay

import (
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// record is one job to be read from its first to its last event. Nothing can be entered here.
type record struct {
	number uint64
	card   *job.Card
	pane   scrollPane
	marks  []recordMark // where its parts begin, as drawn last
	text   *recordText  // the record as drawn last
	at     int          // the part jumped to, -1 after scrolling
	prints printMenu
}

// recordMark is the beginning of a part.
type recordMark struct {
	title string
	line  int
}

// newRecord is the read-only view of the job with that number.
func newRecord(number uint64) Screen { return &record{number: number} }

// Head is the job and its vehicle.
func (s *record) Head(*Env) string {
	if s.card == nil {
		return phrase.Of("bay.record.record-of-job", s.number)
	}
	return phrase.Of("bay.record.record-of-job-2", s.number, s.card.Opened.Vehicle.ID, s.card.Opened.Vehicle.Name)
}

func (s *record) demo() bool { return s.card != nil && s.card.Demo() }

// Focus is nowhere.
func (s *record) Focus() Focus { return FocusNone }

// Keys scroll and jump.
func (s *record) Keys(*Env) []Binding {
	return append([]Binding{{Key: "Left Right", Word: phrase.Of("bay.record.stage-before-next"), Bar: true}, {Key: "P", Word: phrase.Of("bay.record.print"), Bar: true}}, append(s.pane.scrollKeys(), Binding{Key: "Esc", Word: phrase.Of("bay.record.back"), Bar: true})...)
}

// Update scrolls and jumps.
func (s *record) Update(_ *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		n := s.number
		return Call{Name: "record", Do: func(f *store.File) (any, error) { return f.Load(n) }}
	case Answer:
		if act, ok := s.prints.answer(in); ok {
			return act
		}
	case Result:
		if act, ok := s.prints.result(in); ok {
			return act
		}
		c, ok := in.Value.(*job.Card)
		if !ok || in.Err != nil {
			return Say{Text: phrase.Of("bay.jobscreen.job-cannot-be-read", s.number, in.Err), Role: draw.Bad}
		}
		s.card = c
		return nil
	case Key:
		switch in.Sym {
		case Esc:
			return Pop{}
		case Left, Right:
			return s.jump(in.Sym)
		}
		if in.Letter() == 'P' && s.card != nil {
			s.prints.card = s.card
			return s.prints.pages()
		}
		s.at = -1
		return s.pane.key(in)
	}
	return ignore(in)
}

// part is the part jumped to, or the one at the top of the pane.
func (s *record) part() int {
	if s.at >= 0 && s.at < len(s.marks) && s.marks[s.at].line >= s.pane.port.YOffset {
		return s.at
	}
	at := 0
	for i, m := range s.marks {
		if m.line <= s.pane.port.YOffset {
			at = i
		}
	}
	return at
}

// jump goes to the beginning of the part before or after.
func (s *record) jump(to Sym) Action {
	if len(s.marks) == 0 {
		return nil
	}
	at := s.part()
	switch {
	case to == Left && s.pane.port.YOffset > s.marks[at].line:
		// First to the beginning of the part that is cut.
	case to == Left:
		at--
	default:
		at++
	}
	switch {
	case at < 0:
		return Say{Text: phrase.Of("bay.record.the-record-begins-here"), Role: draw.Text}
	case at >= len(s.marks):
		return Say{Text: phrase.Of("bay.record.the-record-ends-here"), Role: draw.Text}
	}
	s.at = at
	s.pane.jump(s.marks[at].line)
	return nil
}

// View shows the part scrolled to; on a wide screen the parts stand beside it.
func (s *record) View(e *Env, w, h int) string {
	if s.card == nil {
		return ""
	}
	t := e.Theme
	side := 0
	if w >= 100 {
		side = 36
	}
	b := s.text
	if b == nil || b.c != s.card || b.t != t || b.w != w-2-side {
		b = newRecordText(e, s.card, w-2-side)
		s.text, s.marks = b, b.marks
	}
	top := s.pane.window(t, b.out, h-1)
	at := s.part()
	where := t.Style(draw.Faint, t.Truncate(t.Plain(phrase.Of("bay.record.part-of", at+1, len(s.marks), s.marks[at].title)), w-2-side))
	body := append([]string{where}, top...)
	if side == 0 {
		return indent(body)
	}
	return t.Columns(h, 2, draw.Column{Block: strings.Join(s.list(t, at, side-3, h), "\n"), Width: side - 2}, draw.Column{Block: strings.Join(body, "\n"), Width: w - side})
}

// list is the parts with the one in view marked.
func (s *record) list(t *draw.Theme, at, w, h int) []string {
	first := inView(max(at-h/2, 0), at, h, len(s.marks))
	var out []string
	for i := first; i < min(first+h, len(s.marks)); i++ {
		text := t.Truncate(t.Plain(s.marks[i].title), w-2)
		if i == at {
			out = append(out, " "+t.Style(draw.Selected, draw.Pad(t.Glyphs.Marker+" "+text, w)))
		} else {
			out = append(out, " "+t.Style(draw.Text, "  "+text))
		}
	}
	return out
}
