package bay

import (
	"strings"

	"bay.example/pawl/job/phrase"

	"bay.example/pawl/ui/draw"
)

// line is a piece of a pane: text in a role, wrapped. Blanks at its beginning stay; indent is for
// the rows after the first.
type line struct {
	role   draw.Role
	text   string
	indent int
	head   string // stands before the text, which begins at indent
}

// notice is a pane of text that scrolls.
type notice struct {
	title string
	text  []line
	pane  scrollPane
}

// newNotice makes a pane of one paragraph.
func newNotice(title, text string) *notice { return newPane(title, line{text: text}) }

// newPane makes a pane of several paragraphs.
func newPane(title string, text ...line) *notice { return &notice{title: title, text: text} }

// Head is the title.
func (n *notice) Head(*Env) string { return n.title }

// Focus is nowhere.
func (n *notice) Focus() Focus { return FocusNone }

// Keys are those to scroll and to close.
func (n *notice) Keys(*Env) []Binding {
	keys := []Binding{{Key: "Enter Esc", Word: phrase.Of("bay.notice.close"), Bar: true}}
	if n.pane.more() {
		keys = append(keys, Binding{Key: "Up Down", Word: phrase.Of("bay.notice.scroll"), Bar: true}, Binding{Key: "Left Right", Word: phrase.Of("bay.notice.page"), Bar: true})
	}
	return keys
}

// Update scrolls or closes.
func (n *notice) Update(_ *Env, in Input) Action {
	k, ok := in.(Key)
	if !ok {
		return ignore(in)
	}
	switch k.Sym {
	case Enter, Esc:
		return Cancel{}
	case Left:
		k.Sym = PageUp
	case Right:
		k.Sym = PageDown
	}
	return n.pane.key(k)
}

// ignore is the answer to an input that is not for this place: keys and scans are answered in
// words, all else passes in silence.
func ignore(in Input) Action {
	switch in.(type) {
	case Key, Scan, Reading, Paste:
		return Unknown{}
	}
	return nil
}

// Height is the number of lines of the whole text.
func (n *notice) Height(e *Env, w int) int { return len(drawLines(e.Theme, n.text, w)) }

// View shows the part scrolled to; the last line says how much more there is.
func (n *notice) View(e *Env, w, h int) string {
	return strings.Join(n.pane.window(e.Theme, drawLines(e.Theme, n.text, w), h), "\n")
}

// drawLines wraps the pieces to a width.
func drawLines(t *draw.Theme, text []line, w int) []string {
	var out []string
	for _, l := range text {
		if l.head != "" {
			out = append(out, headed(t, l, w)...)
			continue
		}
		lead := len(l.text) - len(strings.TrimLeft(l.text, " "))
		badge := lead == 1 && strings.HasSuffix(l.text, " ") // a word on a ground of its own
		for i, row := range t.Wrap(t.Plain(l.text), max(w-max(l.indent, lead)-1, 10)) {
			pad := strings.Repeat(" ", lead)
			if i > 0 {
				pad = strings.Repeat(" ", l.indent)
			}
			if badge {
				pad, row = "", " "+row+" "
			}
			out = append(out, pad+t.Style(l.role, row))
		}
	}
	return out
}

// headed is a paragraph with a word in the column before it.
func headed(t *draw.Theme, l line, w int) []string {
	head := t.Truncate(t.Plain(l.head), l.indent-2)
	var out []string
	for i, row := range t.Wrap(t.Plain(l.text), max(w-l.indent, 10)) {
		if i > 0 {
			head = ""
		}
		out = append(out, t.Style(draw.Title, draw.Pad(head, l.indent))+t.Style(l.role, row))
	}
	return out
}
