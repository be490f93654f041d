package bay

import (
	"strconv"

	"bay.example/pawl/ui/draw"
)

// scrollNote says how many lines there are above and below.
func scrollNote(t *draw.Theme, above, below int) string {
	return t.Style(draw.Faint, t.Glyphs.Cut+" "+strconv.Itoa(above)+" above, "+strconv.Itoa(below)+" below: Up and Down scroll")
}

// inView moves the first row shown so that the selected one is on the page.
func inView(first, selected, page, rows int) int {
	if selected < first {
		first = selected
	}
	if selected >= first+page {
		first = selected - page + 1
	}
	return max(min(first, rows-page), 0)
}
