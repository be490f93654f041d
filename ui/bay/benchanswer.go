package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/ui/draw"
	"bay.example/pawl/ui/reckon"
)

// benchAnswer shows one answer: its sentences, its picture, its figures, its sources.
type benchAnswer struct {
	form   reckon.Form
	answer reckon.Answer
	pane   scrollPane
}

func newBenchAnswer(f reckon.Form, a reckon.Answer) Screen { return &benchAnswer{form: f, answer: a} }

// Head says what this is.
func (s *benchAnswer) Head(*Env) string {
	return phrase.Of("bay.benchanswer.bench-answer", s.form.Name)
}

// Focus is nowhere.
func (s *benchAnswer) Focus() Focus { return FocusNone }

// Keys scroll and go back.
func (s *benchAnswer) Keys(*Env) []Binding {
	return append([]Binding{{Key: "Enter Esc", Word: phrase.Of("bay.benchanswer.back-to-what-was-typed"), Bar: true}}, s.pane.scrollKeys()...)
}

// Update scrolls and goes back.
func (s *benchAnswer) Update(_ *Env, in Input) Action {
	k, ok := in.(Key)
	switch {
	case !ok:
		return ignore(in)
	case k.Sym == Enter && k.Again:
		return nil
	case k.Sym == Enter || k.Sym == Esc:
		return Pop{}
	}
	return s.pane.key(k)
}

// View shows the answer; where there is room the picture stands beside the figures.
func (s *benchAnswer) View(e *Env, w, h int) string {
	t := e.Theme
	out := []string{t.Style(draw.Title, t.Truncate(t.Plain(s.form.Title), w-2)), t.Style(draw.Text, t.Truncate(t.Plain(benchNote), w-2)), ""}
	room := h - len(out)
	if w >= wideFrom && s.beside() {
		left := w / 2
		text := append(s.sentences(t, left-2), s.rest(e, left-2)...)
		block := strings.Join(s.pane.window(t, text, room), "\n")
		picture := s.picture(e, w-left-4, room)
		return indent(append(out, strings.Split(t.Columns(room, 2, draw.Column{Block: block, Width: left}, draw.Column{Block: picture, Width: w - left - 4}), "\n")...))
	}
	text := s.sentences(t, w-2)
	if p := s.picture(e, w-3, room); p != "" {
		text = append(append(text, strings.Split(p, "\n")...), "")
	}
	return indent(append(out, s.pane.window(t, append(text, s.rest(e, w-2)...), room)...))
}

// beside reports whether the picture is as high as it is wide; flat ones stand above the figures.
func (s *benchAnswer) beside() bool {
	switch s.answer.Picture.(type) {
	case reckon.Disc, reckon.Turn, reckon.PadPair, reckon.WearLine:
		return true
	}
	return false
}

func (s *benchAnswer) sentences(t *draw.Theme, w int) []string {
	var text []line
	for _, say := range s.answer.Say {
		if say != "" {
			text = append(text, line{role: draw.Title, text: sentence(say)})
		}
	}
	return append(drawLines(t, text, w), "")
}

// rest is figures, inputs and sources.
func (s *benchAnswer) rest(e *Env, w int) []string {
	t := e.Theme
	out := benchRows(e, phrase.Of("bay.benchanswer.result"), s.answer.Result, w)
	out = append(append(out, ""), benchRows(e, phrase.Of("bay.benchanswer.given"), s.answer.Given, w)...)
	text := []line{{}}
	for _, source := range s.answer.Source {
		text = append(text, line{role: draw.Text, text: phrase.Of("bay.benchanswer.source", source), indent: 8})
	}
	return append(out, drawLines(t, text, w)...)
}

// benchRows lays figures out in two columns; tables follow under their title.
func benchRows(e *Env, title string, rows reckon.Rows, w int) []string {
	t := e.Theme
	wide := 0
	for _, x := range rows {
		wide = max(wide, draw.Width(t.Plain(x.Title)))
	}
	wide = min(wide, w/2)
	out := []string{t.Style(draw.Title, title)}
	for _, x := range rows {
		if g, ok := x.Table(); ok {
			out = append(out, "  "+t.Style(draw.Text, x.Title))
			for _, l := range strings.Split(benchTable(e, g).Draw(t, w-4, len(g.Lines)+1), "\n") {
				out = append(out, "    "+l)
			}
			continue
		}
		for i, part := range t.Wrap(t.Plain(benchWords(e, x.Value)), max(w-wide-5, 10)) {
			name := ""
			if i == 0 {
				name = t.Truncate(t.Plain(x.Title), wide)
			}
			out = append(out, "  "+t.Style(draw.Text, draw.Pad(name, wide))+"  "+t.Style(draw.Text, part))
		}
	}
	return out
}

func benchTable(e *Env, g reckon.Grid) draw.Table {
	tb := draw.Table{Selected: -1}
	for _, title := range g.Titles {
		tb.Headings = append(tb.Headings, draw.Heading{Title: title})
	}
	for _, l := range g.Lines {
		var cells []draw.Cell
		for _, v := range l {
			cells = append(cells, draw.Cell{Text: benchWords(e, v)})
		}
		tb.Rows = append(tb.Rows, cells)
	}
	return tb
}

// benchWords is a value in words; quantities have the decimal mark of the workshop.
func benchWords(e *Env, v any) string {
	switch v := v.(type) {
	case quantity.Quantity:
		return e.decimals(reckon.Words(v))
	case fmt.Stringer:
		return v.String()
	}
	return reckon.Words(v)
}
