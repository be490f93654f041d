package draw

import (
	"strconv"
	"strings"
)

// Column is a block with the width it is to have.
type Column struct {
	Block string // may be styled
	Width int    // cells
}

// Columns sets blocks side by side, h lines high, with gap blank cells between.
func (t *Theme) Columns(h, gap int, columns ...Column) string {
	if h <= 0 {
		return ""
	}
	lines := make([]string, h)
	for i, c := range columns {
		for y, line := range strings.Split(t.Fit(c.Block, c.Width, h), "\n") {
			if i > 0 {
				lines[y] += strings.Repeat(" ", max(gap, 0))
			}
			lines[y] += line
		}
	}
	return strings.Join(lines, "\n")
}

// Box draws a frame of w×h cells around a block, with a title in its upper
// edge. A box too small for a frame is the block alone.
func (t *Theme) Box(title, block string, w, h int) string {
	if w < 6 || h < 3 {
		return t.Fit(block, w, h)
	}
	g := t.Glyphs
	head := t.Truncate(t.Plain(title), w-6)
	var b strings.Builder
	if head == "" {
		b.WriteString(t.styled(Frame, g.TopLeft+strings.Repeat(g.Across, w-2)+g.TopRight))
	} else {
		b.WriteString(t.styled(Frame, g.TopLeft+g.Across))
		b.WriteString(t.styled(Title, " "+head+" "))
		b.WriteString(t.styled(Frame, strings.Repeat(g.Across, w-5-Width(head))+g.TopRight))
	}
	side := t.styled(Frame, g.Down)
	for line := range strings.SplitSeq(t.Fit(block, w-4, h-2), "\n") {
		b.WriteString("\n" + side + " " + line + " " + side)
	}
	b.WriteString("\n" + t.styled(Frame, g.BottomLeft+strings.Repeat(g.Across, w-2)+g.BottomRight))
	return b.String()
}

// Binding is a key and the word for what it does.
type Binding struct{ Key, Word string }

// KeyBar is one line of keys, the most important first. What does not fit is
// left out whole, and the end of the line says how many that are.
func (t *Theme) KeyBar(bindings []Binding, w int) string {
	type item struct {
		text  string
		width int
	}
	items := make([]item, len(bindings))
	all := 0
	for i, k := range bindings {
		key, word := " "+t.Plain(k.Key)+" ", t.Plain(k.Word)
		items[i] = item{t.styled(Key, key) + " " + t.styled(Text, word), Width(key) + 1 + Width(word)}
		all += items[i].width + 3
	}
	more := func(n int) string { return t.Glyphs.Cut + "+" + strconv.Itoa(n) }
	fit := len(items)
	if all-3 > w {
		// Take items off the end until they and the mark fit.
		for fit, all = len(items), all-3; fit > 0; {
			fit--
			all -= items[fit].width + 3
			if all+3+Width(more(len(items)-fit)) <= w {
				break
			}
		}
	}
	var b strings.Builder
	for i, it := range items[:fit] {
		if i > 0 {
			b.WriteString("   ")
		}
		b.WriteString(it.text)
	}
	if n := len(items) - fit; n > 0 {
		if fit > 0 {
			b.WriteString("   ")
		}
		b.WriteString(t.styled(Text, more(n)))
	}
	return t.Fit(b.String(), w, 1)
}
