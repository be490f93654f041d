package bay

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// dropName marks the question whether to leave a page with something typed on it.
const dropName = "drop-what-was-typed"

// page is a full screen of rows to be filled in. Screens hold one and hand it their inputs.
type page struct {
	title string
	intro []line
	rows  []pageRow
	at    int
	first int
	last  string // what Enter does on the last row

	refused bool   // the row in focus was not taken: what is wrong stands below until it is right
	doubt   string // a doubt about the row just taken, which stopped nobody
}

// row returns the row with that id.
func (p *page) row(id string) *pageRow {
	for i := range p.rows {
		if p.rows[i].id == id {
			return &p.rows[i]
		}
	}
	return nil
}

// value is what the row with that id stands at.
func (p *page) value(id string) string {
	if r := p.row(id); r != nil {
		return r.value()
	}
	return ""
}

// typed is every row that was changed, for a draft, without personal codes; empty when none was.
func (p *page) typed() string {
	rows := map[string]string{}
	for i := range p.rows {
		if r := &p.rows[i]; r.kind != rowDigits && r.touched() {
			rows[r.id] = r.value()
		}
	}
	if len(rows) == 0 {
		return ""
	}
	data, err := json.Marshal(rows)
	if err != nil {
		return "" // texts are always written
	}
	return string(data)
}

// restore puts a row back as a draft has it.
func (r *pageRow) restore(value string) {
	switch r.kind {
	case rowText:
		r.field.clear()
		r.field.put(value)
	case rowChoice:
		if at := slices.Index(r.values, value); at >= 0 {
			r.at = at
		}
	}
}

func (p *page) focus() Focus {
	switch p.rows[p.at].kind {
	case rowText:
		return FocusText
	case rowDigits:
		return FocusCode
	}
	return FocusNone
}

func (p *page) keys() []Binding {
	word := phrase.Of("bay.page.next")
	if p.at == len(p.rows)-1 {
		word = p.last
	}
	keys := []Binding{{Key: "Enter", Word: word, Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.page.move"), Bar: true}}
	r := &p.rows[p.at]
	if r.kind == rowChoice {
		n := min(len(r.values), 9)
		digits := make([]string, n)
		for i := range digits {
			digits[i] = strconv.Itoa(i + 1)
		}
		if n > 0 {
			keys = append(keys, Binding{Key: strings.Join(digits, " "), Word: phrase.Of("bay.page.that-answer")}, Binding{Key: "Left Right", Word: phrase.Of("bay.page.change"), Bar: true})
		}
		keys = append(keys, Binding{Key: "F", Word: phrase.Of("bay.page.finish"), Bar: true})
	} else {
		keys = append(keys, Binding{Key: "Backspace", Word: phrase.Of("bay.page.erase")})
	}
	return append(keys, Binding{Key: "Esc", Word: phrase.Of("bay.page.back"), Bar: true})
}

// update takes an input. It is finished when every row was taken and Enter or F ended the page.
func (p *page) update(in Input) (act Action, finished bool) {
	r := &p.rows[p.at]
	switch in := in.(type) {
	case Key:
		if in.Sym != Enter {
			p.doubt = ""
		}
		return p.key(r, in)
	case Scan:
		act, ok := r.scan(string(in))
		if !ok {
			return act, false
		}
		next, finished := p.enter()
		if next == nil {
			next = act
		}
		return next, finished
	case Paste:
		switch r.kind {
		case rowDigits:
			return Say{Text: phrase.Of("bay.code.a-code-is-typed-never-pasted"), Role: draw.Warn}, false
		case rowText:
			r.field.put(string(in))
			return nil, false
		}
		return Unknown{}, false
	case Answer:
		if in.Name == dropName {
			return Pop{}, false
		}
	case Reading:
		return Unknown{}, false
	}
	return nil, false
}

func (p *page) key(r *pageRow, k Key) (Action, bool) {
	switch {
	case k.Sym == Esc:
		return p.escape(), false
	case k.Sym == Up:
		p.focusOn(max(p.at-1, 0))
	case k.Sym == Down || k.Sym == Tab:
		p.focusOn(min(p.at+1, len(p.rows)-1))
	case k.Sym == Enter && k.Again:
	case k.Sym == Enter:
		return p.enter()
	case r.kind == rowChoice:
		return p.choice(r, k)
	case r.take(k, p.focus()):
		p.refused = p.refused && r.kind != rowDigits // half a code is never right
	default:
		return Unknown{}, false
	}
	return nil, false
}

func (p *page) choice(r *pageRow, k Key) (Action, bool) {
	switch {
	case k.Sym == Left && len(r.values) > 0:
		return r.choose((max(r.at, 0) + len(r.values) - 1) % len(r.values)), false
	case k.Sym == Right && len(r.values) > 0:
		return r.choose((r.at + 1) % len(r.values)), false
	case k.Digit() > 0 && k.Digit() <= len(r.values):
		return r.choose(k.Digit() - 1), false
	case k.Letter() == 'F':
		return p.finish()
	}
	return Unknown{}, false
}

// focusOn goes to a row.
func (p *page) focusOn(i int) { p.at, p.refused = i, false }

// enter takes the row in focus and goes on.
func (p *page) enter() (Action, bool) {
	r := &p.rows[p.at]
	p.doubt = ""
	if r.wrong() != "" {
		p.refused = true
		return nil, false
	}
	if r.remark != nil {
		p.doubt = r.remark(r.value())
	}
	if p.at == len(p.rows)-1 {
		return p.finish()
	}
	p.focusOn(p.at + 1)
	return nil, false
}

// finish goes to the first row that is not right, or ends the page.
func (p *page) finish() (Action, bool) {
	for i := range p.rows {
		if p.rows[i].wrong() != "" {
			p.focusOn(i)
			p.refused = true
			return nil, false
		}
	}
	return nil, true
}

// touched lists what would be lost.
func (p *page) touched() []string {
	var out []string
	for i := range p.rows {
		if p.rows[i].touched() {
			out = append(out, p.rows[i].label)
		}
	}
	return out
}

// escape leaves the page, and asks first when something was typed.
func (p *page) escape() Action {
	lost := p.touched()
	if len(lost) == 0 {
		return Pop{}
	}
	return Ask{Name: dropName, Dialog: newYesNo(phrase.Of("bay.page.leave-without-keeping-it"), phrase.Of("bay.page.what-was-typed-here-is-given-up", strings.Join(lost, ", ")))}
}

// view draws the rows, and below or beside them what belongs to the one in focus.
func (p *page) view(t *draw.Theme, w, h int) string {
	wide := w >= 100
	rowsW := w - 2
	if wide {
		rowsW = w*3/5 - 2
	}
	var out []string
	out = append(out, t.Style(draw.Title, p.title))
	out = append(out, drawLines(t, p.intro, rowsW)...)
	out = append(out, "")
	if wide {
		help := append(make([]string, len(out)), p.help(t, w-rowsW-6)...)
		rows := append(out, p.draw(t, rowsW, h-len(out))...)
		return t.Columns(h, 3, draw.Column{Block: indent(rows), Width: rowsW + 1}, draw.Column{Block: strings.Join(help, "\n"), Width: w - rowsW - 5})
	}
	help := p.help(t, rowsW)
	if len(help) > h/2 {
		help = help[:h/2]
	}
	room := max(h-len(out)-len(help)-1, 3)
	rows := p.draw(t, rowsW, room)
	out = append(out, rows...)
	out = append(out, t.Style(draw.Frame, strings.Repeat(t.Glyphs.Across, rowsW)))
	return indent(append(out, help...))
}

// indent sets lines one cell in.
func indent(lines []string) string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = " " + l
	}
	return strings.Join(out, "\n")
}

// draw shows the rows around the one in focus, at most h lines.
func (p *page) draw(t *draw.Theme, w, h int) []string {
	label := 0
	for i := range p.rows {
		label = max(label, draw.Width(t.Plain(p.rows[i].label)))
	}
	label = min(label, w/2)
	shown := max(h, 1)
	if len(p.rows) > shown {
		shown = max(shown-1, 1)
	}
	p.first = inView(p.first, p.at, shown, len(p.rows))
	var out []string
	for i := p.first; i < min(p.first+shown, len(p.rows)); i++ {
		r := &p.rows[i]
		mark, role := "  ", draw.Text
		if i == p.at {
			mark, role = t.Glyphs.Marker+" ", draw.Title
		}
		name := draw.Pad(t.Truncate(t.Plain(r.label), label), label)
		out = append(out, t.Style(role, mark+name)+"  "+r.draw(t, w-label-4, i == p.at))
	}
	if len(p.rows) > shown {
		out = append(out, scrollNote(t, p.first, len(p.rows)-p.first-shown))
	}
	return out
}

// help is what belongs to the row in focus: what is asked, the answers there are, a doubt.
func (p *page) help(t *draw.Theme, w int) []string {
	r := &p.rows[p.at]
	var text []line
	if w := r.wrong(); p.refused && w != "" {
		text = append(text, line{role: draw.Bad, text: w})
	}
	if p.doubt != "" {
		text = append(text, line{role: draw.Warn, text: p.doubt})
	}
	if v := r.value(); v != "" && r.remark != nil && (r.check == nil || r.check(v) == nil) {
		if doubt := r.remark(v); doubt != "" {
			text = append(text, line{role: draw.Warn, text: doubt})
		}
	}
	if r.hint != "" {
		text = append(text, line{role: draw.Text, text: r.hint})
	}
	out := drawLines(t, text, w)
	for i, word := range r.words {
		role, mark := draw.Text, "  "
		if i == r.at {
			role, mark = draw.Title, t.Glyphs.Marker+" "
		}
		for k, row := range t.Wrap(t.Plain(word), max(w-5, 10)) {
			if k == 0 {
				out = append(out, t.Style(role, fmt.Sprintf("%s%d  %s", mark, i+1, row)))
			} else {
				out = append(out, t.Style(role, "     "+row))
			}
		}
	}
	return append(out, t.Style(draw.Faint, phrase.Of("bay.page.row-of", p.at+1, len(p.rows))))
}
