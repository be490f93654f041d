package draw

import "strings"

// cell is one place of a grid; the second half of a wide character is "".
type cell struct {
	text string
	role Role
}

// grid is a sheet of cells to draw on. Anything outside it is dropped.
type grid struct {
	t     *Theme
	w, h  int
	cells []cell
}

// newGrid makes a blank sheet; negative sizes count as none.
func newGrid(t *Theme, w, h int) *grid {
	g := &grid{t: t, w: max(w, 0), h: max(h, 0)}
	g.cells = make([]cell, g.w*g.h)
	for i := range g.cells {
		g.cells[i].text = " "
	}
	return g
}

// put writes text from a cell to the right and returns the column after it.
func (g *grid) put(x, y int, r Role, text string) int {
	for s := g.t.Plain(text); s != ""; {
		n, w := cluster(s)
		if w > 0 {
			g.set(x, y, w, cell{s[:n], r})
			x += w
		}
		s = s[n:]
	}
	return x
}

func (g *grid) set(x, y, w int, c cell) {
	if y < 0 || y >= g.h || x < 0 || x+w > g.w {
		return
	}
	row := g.cells[y*g.w : (y+1)*g.w]
	// Writing over half of a wide character leaves a blank for the other half.
	if row[x].text == "" {
		row[x-1].text = " "
	}
	if end := x + w; end < g.w && row[end].text == "" {
		row[end].text = " "
	}
	row[x] = c
	for i := 1; i < w; i++ {
		row[x+i] = cell{"", c.role}
	}
}

// fill writes the same one-cell glyph from x0 to x1, both included.
func (g *grid) fill(x0, x1, y int, r Role, glyph string) {
	for x := max(x0, 0); x <= min(x1, g.w-1); x++ {
		g.put(x, y, r, glyph)
	}
}

// label is a piece of text in a role.
type label struct {
	role Role
	text string
}

// labelWidth is the cells a row of labels takes.
func labelWidth(t *Theme, labels []label) int {
	n := 0
	for _, l := range labels {
		n += Width(t.Plain(l.text))
	}
	return n
}

// centre writes labels in a row with their middle at column x, moved inward
// where they would leave the grid. A row that is too long is cut with a mark.
func (g *grid) centre(x, y int, labels ...label) {
	n := labelWidth(g.t, labels)
	if x -= n / 2; x+n > g.w {
		x = g.w - n
	}
	g.row(max(x, 0), y, labels...)
}

// row writes labels from column x on and marks the cut at the edge of the grid.
func (g *grid) row(x, y int, labels ...label) {
	for _, l := range labels {
		x = g.put(x, y, l.role, l.text)
	}
	if x > g.w {
		g.put(g.w-Width(g.t.Glyphs.Cut), y, Text, g.t.Glyphs.Cut)
	}
}

// String is the sheet as h lines of w cells, joined by line ends.
func (g *grid) String() string {
	var b, run strings.Builder
	before := "x"
	for y := range g.h {
		if y > 0 {
			b.WriteByte('\n')
		}
		row := g.cells[y*g.w : (y+1)*g.w]
		for x := 0; x < len(row); {
			r := row[x].role
			run.Reset()
			for ; x < len(row) && row[x].role == r; x++ {
				if c := row[x].text; c != "" {
					before = detach(before, c)
					run.WriteString(before)
				}
			}
			b.WriteString(g.t.styled(r, run.String()))
		}
	}
	return b.String()
}
