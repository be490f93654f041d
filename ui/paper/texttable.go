package paper

import (
	"strings"

	"bay.example/pawl/ui/draw"
)

// gap is the blank space between two columns.
const gap = 2

func (x table) lay(t *draw.Theme, w int) []row {
	if len(x.rows) == 0 {
		return nil
	}
	wide := x.columns(t, w)
	var out []row
	head := x.cells(t, x.head, wide)
	rule := make([]string, len(wide))
	for i, n := range wide {
		rule[i] = strings.Repeat("-", n)
	}
	head = append(head, strings.Join(rule, strings.Repeat(" ", gap)))
	for _, l := range head {
		out = append(out, row{text: l, keep: true})
	}
	for _, r := range x.rows {
		lines := together(plainRows(x.cells(t, r, wide)))
		for i := range lines {
			lines[i].again = head
		}
		out = append(out, lines...)
	}
	return append(out, row{})
}

// columns gives every column its natural width, or takes from the widest until all fit.
func (x table) columns(t *draw.Theme, w int) []int {
	wide := make([]int, len(x.head))
	for _, r := range append([][]string{x.head}, x.rows...) {
		for i := range wide {
			if i < len(r) {
				wide[i] = max(wide[i], draw.Width(t.Plain(r[i])))
			}
		}
	}
	total := func() int {
		n := gap * (len(wide) - 1)
		for _, v := range wide {
			n += v
		}
		return n
	}
	// Words stay whole as long as there is another way.
	for _, least := range [][]int{x.words(t, len(wide)), make([]int, len(wide))} {
		for total() > w {
			widest := -1
			for i, n := range wide {
				if n > max(least[i], 3) && (widest < 0 || n > wide[widest]) {
					widest = i
				}
			}
			if widest < 0 {
				break
			}
			wide[widest]--
		}
	}
	return wide
}

// words is the longest word of each column.
func (x table) words(t *draw.Theme, columns int) []int {
	out := make([]int, columns)
	for _, r := range append([][]string{x.head}, x.rows...) {
		for i := range min(columns, len(r)) {
			for word := range strings.FieldsSeq(t.Plain(r[i])) {
				out[i] = max(out[i], draw.Width(word))
			}
		}
	}
	return out
}

// cells lays one line of a table out, as many lines high as its fullest cell.
func (x table) cells(t *draw.Theme, texts []string, wide []int) []string {
	parts := make([][]string, len(wide))
	high := 1
	for i := range wide {
		if i < len(texts) {
			if x.lined {
				parts[i] = t.Wrap(texts[i], wide[i])
			} else {
				parts[i] = wrap(t, texts[i], wide[i])
			}
			high = max(high, len(parts[i]))
		}
	}
	lines := make([]string, high)
	for y := range lines {
		var b strings.Builder
		for i, n := range wide {
			if i > 0 {
				b.WriteString(strings.Repeat(" ", gap))
			}
			b.WriteString(draw.Pad(at(parts[i], y), n))
		}
		lines[y] = strings.TrimRight(b.String(), " ")
	}
	return lines
}
