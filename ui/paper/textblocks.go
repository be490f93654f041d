package paper

import (
	"strings"

	"bay.example/pawl/ui/draw"
)

// wrap breaks text into lines. A line end in text from outside makes no line of its own: it is
// cleaned first.
func wrap(t *draw.Theme, text string, w int) []string { return t.Wrap(draw.Clean(text), w) }

func plainRows(lines []string) []row {
	out := make([]row, len(lines))
	for i, l := range lines {
		out[i] = row{text: l}
	}
	return out
}

// together keeps all rows on one page.
func together(rows []row) []row {
	for i := range rows {
		rows[i].keep = i < len(rows)-1
	}
	return rows
}

func (h heading) lay(t *draw.Theme, w int) []row {
	out := []row{{keep: true}}
	for _, l := range wrap(t, h.text, w) {
		if h.rank == 1 {
			l = strings.ToUpper(l)
		}
		out = append(out, row{text: l, keep: true})
	}
	last := &out[len(out)-1]
	switch n := draw.Width(last.text); h.rank {
	case 1:
		out = append(out, row{text: strings.Repeat("=", n), keep: true})
	case 2:
		last.text += " " + strings.Repeat("-", max(0, w-n-1))
	}
	return out
}

func (p para) lay(t *draw.Theme, w int) []row {
	out := plainRows(wrap(t, p.text, w))
	if p.lead {
		for i := range out {
			out[i].keep = true
		}
	}
	return out
}

func (p pairs) lay(t *draw.Theme, w int) []row {
	wide := 0
	for _, x := range p {
		wide = max(wide, draw.Width(t.Plain(x[0])))
	}
	wide = min(wide, w/3)
	var out []row
	for _, x := range p {
		name, value := wrap(t, x[0], wide), wrap(t, x[1], w-wide-2)
		lines := make([]string, max(len(name), len(value)))
		for i := range lines {
			lines[i] = draw.Pad(at(name, i), wide) + "  " + at(value, i)
		}
		out = append(out, together(plainRows(lines))...)
	}
	return out
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func (x items) lay(t *draw.Theme, w int) []row {
	lead := "- "
	if x.tick {
		lead = "[ ] "
	}
	var out []row
	for _, item := range x.lines {
		lines := wrap(t, item, w-len(lead))
		for i := range lines {
			if i == 0 {
				lines[i] = lead + lines[i]
			} else {
				lines[i] = strings.Repeat(" ", len(lead)) + lines[i]
			}
		}
		out = append(out, together(plainRows(lines))...)
	}
	return out
}

func (c callout) lay(t *draw.Theme, w int) []row {
	edge := strings.Repeat("#", w)
	lines := []string{"", edge}
	for _, l := range append(wrap(t, strings.ToUpper(c.title), w-4), wrap(t, c.words, w-4)...) {
		if l != "" {
			lines = append(lines, "# "+draw.Pad(l, w-4)+" #")
		}
	}
	return together(plainRows(append(lines, edge, "")))
}

// figuresHigh is the height of a drawing in lines.
const figuresHigh = 15

func (f figures) lay(t *draw.Theme, w int) []row {
	var out []row
	for _, x := range f {
		if x.drawn == nil {
			continue
		}
		lines := append([]string{""}, wrap(t, x.caption, w)...)
		lines = append(lines, strings.Split(x.drawn(t, w), "\n")...)
		out = append(out, together(plainRows(lines))...)
	}
	return out
}

// signRoom is the least room to sign in.
const signRoom = 24

func (s signatures) lay(t *draw.Theme, w int) []row {
	var out []row
	for _, what := range s {
		name := t.Truncate(t.Plain(what), w-signRoom)
		if name != "" {
			name += " "
		}
		out = append(out, together([]row{{}, {}, {text: name + strings.Repeat("_", w-draw.Width(name))}})...)
	}
	return out
}

func (l label) lay(t *draw.Theme, w int) []row {
	edge := strings.Repeat("#", w)
	side := func(s string) string { return "###" + draw.Pad(s, w-6) + "###" }
	centred := func(s string) string { return side(strings.Repeat(" ", max(0, (w-6-draw.Width(s))/2)) + s) }
	lines := []string{edge, edge, side("")}
	for _, part := range wrap(t, strings.ToUpper(l.words), 24) {
		lines = append(lines, centred(spaced(part)), side(""))
	}
	for _, small := range l.lines {
		for _, part := range wrap(t, small, w-10) {
			lines = append(lines, centred(part))
		}
	}
	lines = append(lines, side(""), edge, edge, "", "")
	return together(plainRows(lines))
}

// spaced writes a line wide, so that a label is read from a step away.
func spaced(s string) string { return strings.Join(strings.Split(s, ""), " ") }

func (k kept) lay(t *draw.Theme, w int) []row {
	var out []row
	for _, b := range k {
		out = append(out, b.lay(t, w)...)
	}
	for len(out) > 0 && out[len(out)-1].text == "" {
		out = out[:len(out)-1]
	}
	return append(together(out), row{})
}

func (x dense) lay(t *draw.Theme, w int) []row {
	var out []row
	for _, b := range x {
		out = append(out, b.lay(t, w)...)
	}
	return out
}

func (turn) lay(*draw.Theme, int) []row { return []row{{turn: true}} }
