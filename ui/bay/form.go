package bay

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// formField is one line of a form.
type formField struct {
	label    string
	value    string
	hint     string                  // shown while the line has the focus
	secret   bool                    // shown as dots
	optional bool                    // may stay empty
	check    func(text string) error // what is wrong with it; nil takes anything
}

// form asks for several lines of text. It ends with all of them, in order.
type form struct {
	title  string
	text   []line
	fields []formField
	typed  []field
	at     int
	first  int
	whole  func([]string) (at int, wrong string) // what is wrong with the lines together, and which to mend
}

// newForm makes a form; Enter goes on to the next line, and after the last one ends it.
func newForm(title string, text []line, fields []formField) *form {
	f := &form{title: title, text: text, fields: fields, typed: make([]field, len(fields))}
	for i, one := range fields {
		f.typed[i] = field{most: 200}
		f.typed[i].put(one.value)
	}
	return f
}

// Head is the title.
func (f *form) Head(*Env) string { return f.title }

// Focus is a line of text.
func (f *form) Focus() Focus { return FocusText }

// Keys are Enter, the arrows and Esc.
func (f *form) Keys(*Env) []Binding {
	word := phrase.Of("bay.form.next-line")
	if f.at == len(f.fields)-1 {
		word = phrase.Of("bay.form.finish")
	}
	return []Binding{{Key: "Enter", Word: word, Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.form.other-line"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.form.back"), Bar: true}}
}

// Update edits the lines.
func (f *form) Update(_ *Env, in Input) Action {
	switch in := in.(type) {
	case Key:
		switch {
		case in.Sym == Esc:
			return Cancel{}
		case in.Sym == Up:
			f.at = max(f.at-1, 0)
		case in.Sym == Down || in.Sym == Tab:
			f.at = min(f.at+1, len(f.fields)-1)
		case in.Sym == Enter && in.Again:
		case in.Sym == Enter:
			return f.enter()
		case f.typed[f.at].take(in, FocusText):
		default:
			return Unknown{}
		}
	case Scan:
		f.typed[f.at].clear()
		f.typed[f.at].put(string(in))
		return f.enter()
	case Paste:
		f.typed[f.at].put(string(in))
	}
	return nil
}

// wrong says what keeps a line from being taken.
func (f *form) wrong(i int) string {
	text := strings.TrimSpace(f.typed[i].text)
	switch {
	case text == "" && f.fields[i].optional:
	case text == "":
		return phrase.Of("bay.form.is-empty-type-it", f.fields[i].label)
	case f.fields[i].check != nil:
		if err := f.fields[i].check(text); err != nil {
			return err.Error()
		}
	}
	return ""
}

func (f *form) enter() Action {
	if w := f.wrong(f.at); w != "" {
		return Say{Text: w, Role: draw.Warn}
	}
	if f.at < len(f.fields)-1 {
		f.at++
		return nil
	}
	values := make([]string, len(f.typed))
	for i := range f.typed {
		if w := f.wrong(i); w != "" {
			f.at = i
			return Say{Text: w, Role: draw.Warn}
		}
		values[i] = strings.TrimSpace(f.typed[i].text)
	}
	if f.whole != nil {
		if at, wrong := f.whole(values); wrong != "" {
			f.at = at
			return Say{Text: wrong, Role: draw.Warn}
		}
	}
	return Done{Value: values}
}

// Height is the text, a row per line, and the hint.
func (f *form) Height(e *Env, w int) int {
	return len(drawLines(e.Theme, f.text, w)) + len(f.fields) + 3
}

// View shows the lines around the one in focus.
func (f *form) View(e *Env, w, h int) string {
	t := e.Theme
	label := 0
	for _, one := range f.fields {
		label = max(label, draw.Width(t.Plain(one.label)))
	}
	label = min(label, w/2)
	hint := drawLines(t, []line{{role: draw.Faint, text: f.fields[f.at].hint}}, w)
	out := giveWay(t, drawLines(t, f.text, w), h-len(hint)-len(f.fields)-1)
	if len(out) > 0 {
		out = append(out, "")
	}
	page := max(h-len(out)-len(hint), 1)
	f.first = inView(f.first, f.at, page, len(f.fields))
	for i := f.first; i < min(f.first+page, len(f.fields)); i++ {
		mark := "  "
		if i == f.at {
			mark = t.Glyphs.Marker + " "
		}
		value := f.typed[i].draw(t, w-label-4, i == f.at)
		if f.fields[i].secret {
			value = drawField(t, strings.Repeat("*", len([]rune(f.typed[i].text))), w-label-4, i == f.at)
		}
		out = append(out, t.Style(draw.Title, mark+draw.Pad(t.Truncate(t.Plain(f.fields[i].label), label), label))+"  "+value)
	}
	return strings.Join(append(out, hint...), "\n")
}
