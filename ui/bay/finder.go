package bay

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// finder is a list that is searched by typing. Screens hold one and hand it their inputs.
type finder struct {
	headings []draw.Heading
	rows     []findRow
	empty    string // the sentence for a list without rows
	what     string // what is typed, such as "number or vehicle"
	field    field
	at       int // among the rows that fit
	page     int
}

// findRow is one row of a finder.
type findRow struct {
	cells  []string
	exact  []string // what names just this row, typed or scanned
	match  string   // what else is searched
	always bool     // stays in the list whatever is typed
}

// fits lists the indices of the rows that fit what is typed.
func (f *finder) fits() []int {
	want := strings.Fields(strings.ToLower(f.field.text))
	var out []int
	for i := range f.rows {
		r := &f.rows[i]
		text := strings.ToLower(strings.Join(r.exact, " ") + " " + r.match)
		ok := true
		for _, w := range want {
			ok = ok && strings.Contains(text, w)
		}
		if ok || r.always {
			out = append(out, i)
		}
	}
	return out
}

// named is the row that goes by just that name, or -1. Of two rows the one counts that has the name
// further to the front.
func (f *finder) named(text string) int {
	text = strings.TrimSpace(text)
	for k, left := 0, text != ""; left; k++ {
		left = false
		for i := range f.rows {
			if k >= len(f.rows[i].exact) {
				continue
			}
			left = true
			if strings.EqualFold(f.rows[i].exact[k], text) {
				return i
			}
		}
	}
	return -1
}

// marked is the row with the marker, or -1.
func (f *finder) marked() int {
	fits := f.fits()
	if len(fits) == 0 {
		return -1
	}
	f.at = max(min(f.at, len(fits)-1), 0)
	return fits[f.at]
}

// take uses an input. A row that was chosen comes back as its index; -1 is none.
func (f *finder) take(in Input) (row int, act Action) {
	row, act = f.use(in)
	if row >= 0 {
		f.field.clear()
		f.at = row // every row fits now
	}
	return row, act
}

func (f *finder) use(in Input) (row int, act Action) {
	switch in := in.(type) {
	case Key:
		return f.key(in)
	case Scan:
		f.field.clear()
		if i := f.named(string(in)); i >= 0 {
			return i, nil
		}
		return -1, Say{Text: phrase.Of("bay.finder.the-scan-is-nothing-on-this-list", string(in)), Role: draw.Warn}
	case Paste:
		f.typed(string(in))
		return -1, nil
	}
	return -1, ignore(in)
}

// typed adds text and marks the row it names.
func (f *finder) typed(text string) {
	f.field.put(text)
	f.mark()
}

func (f *finder) mark() {
	f.at = 0
	if i := f.named(f.field.text); i >= 0 {
		for k, row := range f.fits() {
			if row == i {
				f.at = k
			}
		}
	}
}

func (f *finder) key(k Key) (int, Action) {
	last := max(len(f.fits())-1, 0)
	switch k.Sym {
	case Up:
		f.at = max(f.at-1, 0)
	case Down:
		f.at = min(f.at+1, last)
	case PageUp:
		f.at = max(f.at-max(f.page-1, 1), 0)
	case PageDown:
		f.at = min(f.at+max(f.page-1, 1), last)
	case Enter:
		return f.enter(k)
	default:
		if !f.field.take(k, FocusText) {
			return -1, Unknown{}
		}
		f.mark()
	}
	return -1, nil
}

func (f *finder) enter(k Key) (int, Action) {
	if k.Again {
		return -1, nil
	}
	fits := f.fits()
	if i := f.named(f.field.text); i >= 0 && f.field.text != "" && f.at < len(fits) && fits[f.at] == i {
		return i, nil
	}
	if f.field.text != "" && (len(fits) == 0 || f.rows[fits[0]].always) {
		return -1, Say{Text: phrase.Of("bay.finder.nothing-on-this-list-has-in-it", f.field.text), Role: draw.Warn}
	}
	if m := f.marked(); m >= 0 {
		return m, nil
	}
	return -1, Say{Text: f.empty, Role: draw.Warn}
}

// keys are those of the list.
func (f *finder) keys(word string) []Binding {
	return []Binding{{Key: "Enter", Word: word, Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.finder.move"), Bar: true}, {Key: "Backspace", Word: phrase.Of("bay.desksearch.take-typed-text-back")},
		{Key: "Esc", Word: phrase.Of("bay.finder.back"), Bar: true}}
}

// view draws the list and the field, h lines.
func (f *finder) view(t *draw.Theme, w, h int) []string {
	fits := f.fits()
	f.marked()
	f.page = max(h-3, 2)
	tb := draw.Table{Headings: f.headings, Selected: f.at, Empty: f.empty}
	if len(f.rows) > 0 {
		tb.Empty = phrase.Of("bay.finder.nothing-here-has-in-it", f.field.text)
	}
	for _, i := range fits {
		var cells []draw.Cell
		for _, c := range f.rows[i].cells {
			cells = append(cells, draw.Cell{Text: c})
		}
		tb.Rows = append(tb.Rows, cells)
	}
	out := []string{t.Style(draw.Text, f.what+": ") + f.field.draw(t, 26, true), ""}
	return append(out, strings.Split(tb.Draw(t, w, max(h-2, 3)), "\n")...)
}
