package draw

import (
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
)

// Heading is the title of a table column and how its cells stand.
type Heading struct {
	Title string
	Right bool // numbers stand to the right
}

// Cell is one entry of a table: plain text, or a state shown as its badge.
type Cell struct {
	Text  string
	State State
}

// Table is rows in aligned columns.
type Table struct {
	Headings []Heading
	Rows     [][]Cell
	Selected int    // the row with the marker, -1 for none
	Empty    string // the sentence for a table without rows
}

// Draw shows the table in w×h cells. When there are more rows than lines it
// shows those around the selected one, and the last line says how many there
// are above and below. Columns that do not fit are narrowed, the widest first.
func (tb Table) Draw(t *Theme, w, h int) string {
	if len(tb.Rows) == 0 {
		return t.Fit(strings.Join(t.Wrap(tb.Empty, w), "\n"), w, h)
	}
	widths := tb.widths(t, w)
	lines := []string{t.styled(Title, "  "+tb.line(t, widths, nil))}
	first, last := window(len(tb.Rows), tb.Selected, h-1)
	note := ""
	if last-first < len(tb.Rows) {
		// One line less, to say what is not shown.
		first, last = window(len(tb.Rows), tb.Selected, h-2)
		note = "  " + t.Plain(phrase.Of("draw.table.above-below", t.Glyphs.Cut, strconv.Itoa(first), strconv.Itoa(len(tb.Rows)-last)))
	}
	for i := first; i < last; i++ {
		if i == tb.Selected {
			lines = append(lines, t.styled(Selected, t.Glyphs.Marker+" "+tb.line(t, widths, tb.Rows[i])))
			continue
		}
		lines = append(lines, "  "+tb.styledLine(t, widths, tb.Rows[i]))
	}
	if note != "" {
		lines = append(lines, note)
	}
	return t.Fit(strings.Join(lines, "\n"), w, h)
}

// window is the part of n rows that room lines can show with the selected row
// in it.
func window(n, selected, room int) (first, last int) {
	room = min(max(room, 0), n)
	first = min(max(selected-room/2, 0), n-room)
	return first, first + room
}

const tableGap = 2

// widths finds the column widths for a table of w cells.
func (tb Table) widths(t *Theme, w int) []int {
	widths := make([]int, len(tb.Headings))
	total := 2
	for c, hd := range tb.Headings {
		widths[c] = Width(t.Plain(hd.Title))
		for _, row := range tb.Rows {
			if c < len(row) {
				widths[c] = max(widths[c], Width(row[c].plain(t)))
			}
		}
		total += widths[c] + tableGap
	}
	for total -= tableGap; total > w; total-- {
		widest := 0
		for c := range widths {
			if widths[c] > widths[widest] {
				widest = c
			}
		}
		if len(widths) == 0 || widths[widest] <= 3 {
			break
		}
		widths[widest]--
	}
	return widths
}

// plain is the cell's text without colour.
func (c Cell) plain(t *Theme) string {
	if c.State != NoState {
		return strings.TrimSpace(t.badge(c.State) + t.Plain(c.Text))
	}
	return t.Plain(c.Text)
}

// line is a row, or the headings for nil, as plain text.
func (tb Table) line(t *Theme, widths []int, row []Cell) string {
	var b strings.Builder
	for c, hd := range tb.Headings {
		text := t.Plain(hd.Title)
		if row != nil {
			text = ""
			if c < len(row) {
				text = row[c].plain(t)
			}
		}
		b.WriteString(align(t, text, widths[c], hd.Right, c < len(tb.Headings)-1))
	}
	return b.String()
}

// styledLine is a row with the states in their colours.
func (tb Table) styledLine(t *Theme, widths []int, row []Cell) string {
	var b strings.Builder
	for c, hd := range tb.Headings {
		text, role := "", Text
		if c < len(row) {
			text, role = row[c].plain(t), row[c].State.Role()
		}
		b.WriteString(t.styled(role, align(t, text, widths[c], hd.Right, false)))
		if c < len(tb.Headings)-1 {
			b.WriteString(t.styled(Text, strings.Repeat(" ", tableGap)))
		}
	}
	return b.String()
}

func align(t *Theme, text string, w int, right, gap bool) string {
	text = t.Truncate(text, w)
	if right {
		text = PadLeft(text, w)
	} else {
		text = Pad(text, w)
	}
	if gap {
		text += strings.Repeat(" ", tableGap)
	}
	return text
}
