package bay

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// words asks for a line of text. It ends with the text, trimmed and not empty.
type words struct {
	title string
	text  []line
	want  string // what is missing when nothing was typed
	field field
}

// newWords makes a question for words.
func newWords(title string, text []line, want string) *words {
	return &words{title: title, text: text, want: want, field: field{most: 200}}
}

// Head is the title.
func (d *words) Head(*Env) string { return d.title }

// Focus is the text field.
func (d *words) Focus() Focus { return FocusText }

// Keys are Enter and Esc.
func (d *words) Keys(*Env) []Binding {
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.words.take-it"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.words.back"), Bar: true}}
}

// Update edits the text.
func (d *words) Update(_ *Env, in Input) Action {
	switch in := in.(type) {
	case Key:
		switch {
		case in.Sym == Esc:
			return Cancel{}
		case in.Sym == Enter && strings.TrimSpace(d.field.text) == "":
			return Say{Text: d.want, Role: draw.Warn}
		case in.Sym == Enter:
			return Done{Value: strings.TrimSpace(d.field.text)}
		case d.field.take(in, FocusText):
			return nil
		}
		return Unknown{}
	case Scan:
		d.field.put(string(in))
	case Paste:
		d.field.put(string(in))
	}
	return nil
}

// Height is the text and the field.
func (d *words) Height(e *Env, w int) int { return len(drawLines(e.Theme, d.text, w)) + 2 }

// View shows the text and the field.
func (d *words) View(e *Env, w, h int) string {
	return strings.Join(append(giveWay(e.Theme, drawLines(e.Theme, d.text, w), h-2), "", d.field.draw(e.Theme, w, true)), "\n")
}
