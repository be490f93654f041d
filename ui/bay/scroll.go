package bay

import (
	"strconv"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// scrollNote says how many lines there are above and below.
func scrollNote(t *draw.Theme, above, below int) string {
	return t.Style(draw.Faint, phrase.Of("bay.scroll.above-below-up-and-down-scroll", t.Glyphs.Cut, strconv.Itoa(above), strconv.Itoa(below)))
}

// giveWay cuts text above a field to the room there is and says how much is missing: the field must
// stay in view.
func giveWay(t *draw.Theme, text []string, room int) []string {
	switch {
	case len(text) <= room:
		return text
	case room < 1:
		return nil
	}
	return append(text[:room-1:room-1], t.Style(draw.Faint, t.Glyphs.Cut+" "+phrase.Count("count.more-line", len(text)-room+1)))
}

// scrolled is the part of a text from its first line on that there is room for, with a note of what
// lies above and below; first is brought back to where it shows a full page.
func scrolled(t *draw.Theme, text []string, room int, first *int) []string {
	switch {
	case len(text) <= room:
		*first = 0
		return text
	case room < 2:
		return giveWay(t, text, room)
	}
	*first = min(max(*first, 0), len(text)-room+1)
	end := *first + room - 1
	return append(text[*first:end:end], scrollNote(t, *first, len(text)-end))
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
