package bay

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/ui/draw"
)

// Widths of the rows of items.
const (
	valueColumn = 11 // values in figures, to the right
	leastTail   = 30 // what a value in figures takes with its verdict and tool
	leastWords  = 20 // what an answer takes in a stage without figures
	mostWords   = 30 // what the names give way to at most; a longer answer is cut
	leastName   = 24
)

// tail is what stands behind the name of an item: blanks that a long name may take, then the rest.
type tail struct {
	blank int
	text  string
}

// names is the width of the column of names: as wide as the longest, and no wider than the values
// beside it leave.
func (s *jobScreen) names(e *Env, items []item, w int) int {
	names, tails := 0, leastWords
	if s.hasNumbers() {
		tails = leastTail
	}
	for _, it := range items {
		names = max(names, draw.Width(e.Theme.Plain(label(it))))
		t := s.tail(e, it, false, w)
		n := t.blank + draw.Width(t.text)
		if it.entry != nil && !numeric(it.check.Kind) {
			n = min(n, mostWords)
		}
		tails = max(tails, n)
	}
	return min(names, max(w-4-tails, leastName))
}

// row is one item: mark, name, value, verdict, tool. A name too long for its column takes the blanks
// before the value, and beside an answer in words what that leaves.
func (s *jobScreen) row(e *Env, it item, focus bool, names, w int) string {
	t := e.Theme
	marker, role := "  ", draw.Text
	if focus {
		marker, role = t.Glyphs.Marker+" ", draw.Title
	}
	end := s.tail(e, it, focus, w-4-names)
	room := names + end.blank
	if left := w - 4 - draw.Width(end.text); it.entry != nil && !numeric(it.check.Kind) && left > room {
		room = max(names, min(left, draw.Width(t.Plain(label(it)))))
	}
	return t.Style(draw.Title, marker) + t.Style(role, draw.Pad(shortLabel(t, it, room), room)) + "  " + end.text
}

// tail draws what stands behind the name of an item in at most w cells; values in figures are not cut.
func (s *jobScreen) tail(e *Env, it item, focus bool, w int) tail {
	t := e.Theme
	x := it.entry
	if x == nil {
		return s.emptyTail(e, it, focus)
	}
	after := ""
	if win := x.Window; win != nil && numeric(it.check.Kind) {
		if also := e.alsoIn(x.Value, win.Window.Unit(), 2); also != "" {
			after += t.Style(draw.Text, " = "+also)
		}
	}
	if !x.Bolt.IsZero() && x.Adapter != nil {
		after += t.Style(draw.Text, phrase.Of("bay.jobleft.gives", e.number(shortBolt(x))))
	}
	if x.Instrument != nil {
		after += t.Style(draw.Faint, " "+x.Instrument.ID)
	}
	if x.Replaces != 0 {
		after += t.Style(draw.Faint, phrase.Of("bay.jobleft.corrected"))
	}
	if x.AllAtOnce {
		after += t.Style(draw.Faint, phrase.Of("bay.jobleft.all-at-once"))
	}
	if numeric(it.check.Kind) {
		value := t.Plain(e.number(x.Value))
		return tail{max(valueColumn-draw.Width(value), 0), t.Style(draw.Title, value) + " " + t.Badge(verdictState(x.Verdict)) + after}
	}
	if x.Verdict == quantity.Outside {
		after = " " + t.Style(draw.Bad, " "+phrase.Of("bay.jobleft.does-not-pass", t.Mark(draw.Outside))) + after
	}
	return tail{0, t.Style(draw.Title, t.Truncate(t.Plain(shown(x)), max(w-draw.Width(after), 8))) + after}
}

// emptyTail stands behind an item that has no value yet.
func (s *jobScreen) emptyTail(e *Env, it item, focus bool) tail {
	t := e.Theme
	out := tail{}
	if s.hasNumbers() {
		out.blank = valueColumn + 1
	}
	switch {
	case it.check.Optional:
		out.text = t.Style(draw.Faint, phrase.Of("bay.jobleft.may-stay-empty"))
		out.blank++
	case focus:
		out.text = t.Badge(draw.Missing)
	default:
		out.text = t.Style(draw.Text, t.Mark(draw.Missing)+" "+strings.ToLower(draw.Missing.Word()))
		out.blank++
	}
	return out
}
