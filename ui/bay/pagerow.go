package bay

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// rowKind says what a row of a page takes.
type rowKind uint8

const (
	rowText   rowKind = iota // a line of text
	rowDigits                // a personal code: digits, shown as dots
	rowChoice                // one of a few things, by its digit or with Left and Right
)

// pageRow is one row of a page: a label and what is typed or chosen for it.
type pageRow struct {
	id, label string
	kind      rowKind
	field     field    // text and digits
	values    []string // choice: what is kept of it
	words     []string // choice: what is shown, one for each value
	at        int      // choice: the one chosen, -1 for none yet
	optional  bool
	fresh     bool                      // offered: the first character typed takes the place of it
	hint      string                    // what is asked, shown while the row has the focus
	from      func(value string) string // where the value comes from, shown behind it
	check     func(value string) error  // what is wrong with it
	remark    func(value string) string // a doubt that stops nobody
	changed   func(value string) Action // choice: what follows at once
	was       string                    // the value at the beginning
}

// textRow is a line of text that begins with a value.
func textRow(id, label, value, hint string) pageRow {
	r := pageRow{id: id, label: label, hint: hint, was: value, field: field{most: 200}}
	r.field.put(value)
	return r
}

// take takes a key into the field.
func (r *pageRow) take(k Key, as Focus) bool {
	if r.fresh && k.Sym == Rune {
		r.field.clear()
	}
	ok := r.field.take(k, as)
	r.fresh = r.fresh && !ok
	return ok
}

// codeRow is a personal code.
func codeRow(id, label, hint string) pageRow {
	return pageRow{id: id, label: label, kind: rowDigits, hint: hint, field: field{most: 12}}
}

// choiceRow is one of some values; one not among them is nothing chosen yet.
func choiceRow(id, label, value string, values, words []string, hint string) pageRow {
	return pageRow{id: id, label: label, kind: rowChoice, values: values, words: words, at: slices.Index(values, value), was: value, hint: hint}
}

// value is what the row stands at, trimmed.
func (r *pageRow) value() string {
	if r.kind != rowChoice {
		return strings.TrimSpace(r.field.text)
	}
	if r.at < 0 {
		return ""
	}
	return r.values[r.at]
}

// touched reports whether the value is another than at the beginning.
func (r *pageRow) touched() bool { return r.value() != strings.TrimSpace(r.was) }

// wrong says in one sentence what keeps the row from being taken, or nothing.
func (r *pageRow) wrong() string {
	v := r.value()
	switch {
	case v == "" && r.optional:
		return ""
	case v == "" && r.kind == rowChoice:
		return phrase.Of("bay.pagerow.nothing-is-chosen-press-the-digit-of", r.label)
	case v == "":
		return phrase.Of("bay.form.is-empty-type-it", r.label)
	case r.check != nil:
		if err := r.check(v); err != nil {
			return sentence(err.Error())
		}
	}
	return ""
}

// choose takes one of the values of a choice.
func (r *pageRow) choose(i int) Action {
	if i < 0 || i >= len(r.values) {
		return Unknown{}
	}
	r.at = i
	if r.changed != nil {
		return r.changed(r.values[i])
	}
	return nil
}

// scan takes what a scanner sent: the text, or the answer that reads like it.
func (r *pageRow) scan(text string) (Action, bool) {
	switch r.kind {
	case rowDigits:
		return Say{Text: phrase.Of("bay.code.a-code-is-typed-never-scanned-a"), Role: draw.Warn}, false
	case rowText:
		r.field.clear()
		r.field.put(text)
		return nil, true
	}
	for i := range r.values {
		if strings.EqualFold(r.values[i], text) || strings.EqualFold(r.words[i], text) {
			return r.choose(i), true
		}
	}
	return Say{Text: phrase.Of("bay.pagerow.the-scan-is-none-of-the-answers", text), Role: draw.Warn}, false
}

// draw shows the value in w cells.
func (r *pageRow) draw(t *draw.Theme, w int, focus bool) string {
	from := ""
	if r.from != nil {
		from = t.Plain(r.from(r.value()))
	}
	switch r.kind {
	case rowDigits:
		return drawField(t, strings.Repeat("*", len([]rune(r.field.text))), min(w, 20), focus)
	case rowText:
		if !focus && r.field.text == "" && r.optional {
			return t.Style(draw.Faint, phrase.Of("bay.pagerow.none"))
		}
		return r.field.draw(t, w, focus)
	}
	text := phrase.Of("bay.pagerow.not-chosen-yet")
	role := draw.Warn
	if r.at >= 0 {
		text, role = r.words[r.at], draw.Text
	}
	text = t.Plain(text)
	if short, _, ok := strings.Cut(text, ": "); ok && draw.Width(text) > w-2 {
		text = short // the whole answer stands below the rows
	}
	if focus {
		text, role = " "+text+" ", draw.Selected
	}
	if room := w - draw.Width(text) - 2; from != "" && room >= 8 {
		return t.Style(role, text) + "  " + t.Style(draw.Faint, t.Truncate(from, room))
	}
	return t.Style(role, t.Truncate(text, w))
}
