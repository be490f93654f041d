package bay

import (
	"fmt"
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// option is one row of a chooser.
type option struct {
	text string
	off  string // why it cannot be chosen, shown with it; empty: it can
	note string // a second line
}

// chooser asks for one of a few things by its number. It ends with the index.
type chooser struct {
	title string
	text  []line
	opts  []option
	at    int // the marked row, -1 for none
	first int
	page  int
}

// newChooser makes a numbered choice. Nothing is chosen until a number or Enter is pressed.
func newChooser(title string, text []line, opts []option) *chooser {
	return &chooser{title: title, text: text, opts: opts, at: -1}
}

// newYesNo asks a question that 1 answers with yes; it ends with Done only for yes.
func newYesNo(title, text string) *yesNo { return &yesNo{title: title, text: text} }

// Head is the title.
func (c *chooser) Head(*Env) string { return c.title }

// Focus is nowhere: digits choose.
func (c *chooser) Focus() Focus { return FocusNone }

// Keys are the numbers and the arrows.
func (c *chooser) Keys(*Env) []Binding {
	last := min(len(c.opts), 9)
	digits := make([]string, last)
	for i := range digits {
		digits[i] = strconv.Itoa(i + 1)
	}
	out := []Binding{{Key: strings.Join(digits, " "), Word: phrase.Of("bay.chooser.choose"), Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.chooser.mark"), Bar: true},
		{Key: "Enter", Word: phrase.Of("bay.chooser.take-the-marked-one"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.chooser.back"), Bar: true}}
	if last == 0 {
		return out[3:]
	}
	return out
}

// Update moves and chooses.
func (c *chooser) Update(_ *Env, in Input) Action {
	k, ok := in.(Key)
	if !ok {
		return ignore(in)
	}
	switch {
	case k.Again && (k.Sym == Enter || k.Digit() > 0):
		return nil
	case k.Sym == Esc:
		return Cancel{}
	case k.Sym == Up:
		c.at = max(c.at-1, 0)
	case k.Sym == Down:
		c.at = min(c.at+1, len(c.opts)-1)
	case k.Sym == Enter && c.at >= 0:
		return c.choose(c.at)
	case k.Sym == Enter:
		return Say{Text: phrase.Of("bay.chooser.press-the-number-of-one-or-mark"), Role: draw.Warn}
	case k.Digit() > 0 && k.Digit() <= len(c.opts):
		return c.choose(k.Digit() - 1)
	default:
		return Unknown{}
	}
	return nil
}

func (c *chooser) choose(i int) Action {
	c.at = i
	if off := c.opts[i].off; off != "" {
		return Say{Text: off, Role: draw.Warn}
	}
	return Done{Value: i}
}

// Height is the text, a blank line, and the rows.
func (c *chooser) Height(e *Env, w int) int {
	n := len(drawLines(e.Theme, c.text, w))
	if n > 0 {
		n++
	}
	for i := range c.opts {
		n += len(c.row(e.Theme, i, w))
	}
	return n
}

// row draws one option in as many lines as it takes.
func (c *chooser) row(t *draw.Theme, i, w int) []string {
	o := c.opts[i]
	num := fmt.Sprintf("%2d  ", i+1)
	mark, role := "  ", draw.Text
	if i == c.at {
		mark, role = t.Glyphs.Marker+" ", draw.Selected
	}
	wide := max(w-8, 10)
	var out []string
	for k, text := range t.Wrap(t.Plain(o.text), wide) {
		if k > 0 {
			num, mark = "    ", "  "
		}
		if i == c.at {
			text = draw.Pad(text, wide)
		}
		out = append(out, t.Style(draw.Title, mark+num)+t.Style(role, text))
	}
	for _, extra := range []line{{role: draw.Faint, text: o.note}, {role: draw.Warn, text: o.off}} {
		if extra.text == "" {
			continue
		}
		for _, text := range t.Wrap(t.Plain(extra.text), wide) {
			out = append(out, "      "+t.Style(extra.role, text))
		}
	}
	return out
}

// View shows the text and the rows around the marked one.
func (c *chooser) View(e *Env, w, h int) string {
	t := e.Theme
	out := drawLines(t, c.text, w)
	if len(out) > 0 {
		out = append(out, "")
	}
	var rows []string
	from, to := 0, 0
	for i := range c.opts {
		r := c.row(t, i, w)
		if i == c.at {
			from, to = len(rows), len(rows)+len(r)-1
		}
		rows = append(rows, r...)
	}
	room := h - len(out)
	if len(rows) <= room {
		return strings.Join(append(out, rows...), "\n")
	}
	if room < 3 { // the text gives way to the choice
		out, room = nil, h
	}
	c.page = max(room-1, 1)
	c.first = inView(inView(c.first, to, c.page, len(rows)), from, c.page, len(rows))
	out = append(out, rows[c.first:min(c.first+c.page, len(rows))]...)
	return strings.Join(append(out, scrollNote(t, c.first, max(len(rows)-c.first-c.page, 0))), "\n")
}

// yesNo asks one question; only 1 says yes, and the key that opened it does not.
type yesNo struct {
	title, text string
	lines       []line
}

// Head is the question.
func (y *yesNo) Head(*Env) string { return y.title }

// Focus is nowhere.
func (y *yesNo) Focus() Focus { return FocusNone }

// Keys are the two answers.
func (y *yesNo) Keys(*Env) []Binding {
	return []Binding{{Key: "1", Word: phrase.Of("bay.chooser.yes-2"), Bar: true}, {Key: "2", Word: phrase.Of("bay.chooser.no-2"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.chooser.no-back"), Bar: true}}
}

// Update takes the answer.
func (y *yesNo) Update(_ *Env, in Input) Action {
	k, ok := in.(Key)
	if !ok {
		return ignore(in)
	}
	switch {
	case k.Again:
		return nil
	case k.Digit() == 1:
		return Done{Value: true}
	case k.Digit() == 2, k.Sym == Esc:
		return Cancel{}
	case k.Sym == Enter:
		return Say{Text: phrase.Of("bay.chooser.enter-answers-nothing-here-press-1-for"), Role: draw.Warn}
	}
	return Unknown{}
}

func (y *yesNo) body(t *draw.Theme, w int) []string {
	out := drawLines(t, append([]line{{text: y.text}}, y.lines...), w)
	return append(out, "", t.Style(draw.Key, " 1 ")+t.Style(draw.Text, phrase.Of("bay.chooser.yes"))+t.Style(draw.Key, " 2 ")+t.Style(draw.Text, phrase.Of("bay.chooser.no")))
}

// Height is the question and its answers.
func (y *yesNo) Height(e *Env, w int) int { return len(y.body(e.Theme, w)) }

// View shows the question; when there is more than room for, the answers stay in view.
func (y *yesNo) View(e *Env, w, h int) string {
	out := y.body(e.Theme, w)
	if len(out) > h && h > 2 {
		out = append(out[:h-2:h-2], out[len(out)-2:]...)
	}
	return strings.Join(out, "\n")
}
