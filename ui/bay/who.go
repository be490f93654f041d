package bay

import (
	"fmt"
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// picker chooses a person by number, arrows, or the typed or scanned short id.
type picker struct {
	people []register.Person
	at     int
	first  int
	field  field
}

// working lists the people who have not left, without the one with that id.
func working(r register.Register, but string) []register.Person {
	var out []register.Person
	for _, p := range r.People {
		if !p.Closed && p.ID != but {
			out = append(out, p)
		}
	}
	return out
}

// take handles an input. It returns the person when one was chosen.
func (p *picker) take(in Input) (chosen register.Person, done bool, act Action) {
	switch in := in.(type) {
	case Key:
		switch {
		case in.Sym == Up:
			p.at = max(p.at-1, 0)
		case in.Sym == Down:
			p.at = max(min(p.at+1, len(p.people)-1), 0)
		case in.Sym == Enter && in.Again:
		case in.Sym == Enter && p.field.text == "" && p.at < len(p.people):
			return p.people[p.at], true, nil
		case in.Sym == Enter:
			return p.find(p.field.text)
		case p.field.take(in, FocusText):
		default:
			return chosen, false, Unknown{}
		}
	case Scan:
		return p.find(string(in))
	case Paste:
		p.field.put(string(in))
	}
	return chosen, false, nil
}

// find looks for a short id, then for a number of the list.
func (p *picker) find(text string) (register.Person, bool, Action) {
	p.field.clear()
	text = strings.TrimSpace(text)
	for i, one := range p.people {
		if strings.EqualFold(one.ID, text) {
			p.at = i
			return one, true, nil
		}
	}
	if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(p.people) {
		p.at = n - 1
		return p.people[n-1], true, nil
	}
	return register.Person{}, false, Say{Text: phrase.Of("bay.who.is-nobody-on-this-list-type-a", text), Role: draw.Warn}
}

// view draws the list and the field, h lines.
func (p *picker) view(t *draw.Theme, w, h int) string {
	page := max(h-2, 1)
	p.first = inView(p.first, p.at, page, len(p.people))
	var out []string
	for i := p.first; i < min(p.first+page, len(p.people)); i++ {
		one := p.people[i]
		text := fmt.Sprintf("%2d  %s  %s, %s", i+1, draw.Pad(t.Plain(one.ID), 6), t.Plain(one.Name), phrase.Word(one.Role))
		if i == p.at {
			out = append(out, t.Style(draw.Selected, draw.Pad(t.Glyphs.Marker+" "+text, w)))
		} else {
			out = append(out, t.Style(draw.Text, "  "+text))
		}
	}
	if len(p.people) == 0 {
		out = append(out, t.Style(draw.Warn, phrase.Of("bay.who.nobody-else-is-on-the-register")))
	}
	return strings.Join(append(out, "", t.Style(draw.Text, phrase.Of("bay.who.number-or-short-id"))+p.field.draw(t, 20, true)), "\n")
}

// who asks for a person and then for that person's code; the one signed in stays signed in unless
// the screen says otherwise. It ends like code.
type who struct {
	title string
	text  []line
	pick  picker
	do    func(f *store.File, who store.Actor) (any, error)
	code  *code
}

// newWho asks one of these people to vouch with the code.
func newWho(title string, text []line, people []register.Person, do func(f *store.File, who store.Actor) (any, error)) *who {
	return &who{title: title, text: text, pick: picker{people: people, field: field{most: 20}}, do: do}
}

// Head is the title.
func (d *who) Head(*Env) string { return d.title }

// Focus is the list, then the code.
func (d *who) Focus() Focus {
	if d.code != nil {
		return FocusCode
	}
	return FocusText
}

// Keys are those of the list or of the code.
func (d *who) Keys(e *Env) []Binding {
	if d.code != nil {
		return d.code.Keys(e)
	}
	return []Binding{{Key: "Up Down", Word: phrase.Of("bay.who.move"), Bar: true}, {Key: "Enter", Word: phrase.Of("bay.who.this-person"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.who.back"), Bar: true}}
}

// Update goes from the list to the code.
func (d *who) Update(e *Env, in Input) Action {
	k, isKey := in.(Key)
	if d.code != nil {
		if isKey && k.Sym == Esc {
			d.code = nil
			return nil
		}
		return d.code.Update(e, in)
	}
	if isKey && k.Sym == Esc {
		return Cancel{}
	}
	p, done, act := d.pick.take(in)
	if done {
		d.code = newCode(d.title, d.text, p, d.do)
	}
	return act
}

// Height is the text and the list, or the code.
func (d *who) Height(e *Env, w int) int {
	if d.code != nil {
		return d.code.Height(e, w)
	}
	return len(drawLines(e.Theme, d.text, w)) + 1 + max(len(d.pick.people), 1) + 2
}

// View shows the list or the code.
func (d *who) View(e *Env, w, h int) string {
	if d.code != nil {
		return d.code.View(e, w, h)
	}
	text := giveWay(e.Theme, drawLines(e.Theme, d.text, w), h-min(len(d.pick.people), 5)-3)
	if len(text) > 0 {
		text = append(text, "")
	}
	return strings.Join(append(text, d.pick.view(e.Theme, w, h-len(text))), "\n")
}
