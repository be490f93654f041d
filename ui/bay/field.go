package bay

import (
	"strings"
	"unicode"

	"bay.example/pawl/ui/draw"
)

// field is one line of typed text. It is a plain value: copying it copies the text.
type field struct {
	text string
	most int // characters it takes; 0 is 60
}

// take uses one key in a focus and reports whether it was for the field.
func (f *field) take(k Key, as Focus) bool {
	switch {
	case k.Sym == Erase:
		if r := []rune(f.text); len(r) > 0 {
			f.text = string(r[:len(r)-1])
		}
		return true
	case k.Sym != Rune:
		return false
	case as == FocusNumber && !strings.ContainsRune("0123456789.,-+", k.Rune),
		as == FocusCode && k.Digit() < 0,
		!unicode.IsPrint(k.Rune):
		return false
	}
	f.put(string(k.Rune))
	return true
}

// put adds text at the end, as far as there is room.
func (f *field) put(text string) {
	most := f.most
	if most == 0 {
		most = 60
	}
	r := append([]rune(f.text), []rune(text)...)
	f.text = string(r[:min(len(r), most)])
}

func (f *field) clear() { f.text = "" }

// draw shows the field in w cells with the place of the next character; the end of a text too long
// stays in view.
func (f field) draw(t *draw.Theme, w int, focus bool) string {
	return drawField(t, f.text, w, focus)
}

// dots shows the field as dots, for codes.
func (f field) dots(t *draw.Theme, w int) string {
	return drawField(t, strings.Repeat("*", len([]rune(f.text))), w, true)
}

func drawField(t *draw.Theme, text string, w int, focus bool) string {
	w = max(w, 3)
	text = t.Plain(text)
	for draw.Width(text) > w-2 {
		text = string([]rune(text)[1:])
	}
	if !focus {
		return t.Style(draw.Text, draw.Pad(text, w))
	}
	return t.Style(draw.Selected, draw.Pad(" "+text+"_", w))
}
