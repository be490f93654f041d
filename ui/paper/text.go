package paper

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// Size of a text page: 60 lines of 80 columns fit A4 and Letter at six lines to the inch.
const (
	TextWidth = 80
	TextLines = 60
	bodyLines = TextLines - 6 // less two lines above and below, and their rules
)

// row is one line of text with how it may be parted from the next.
type row struct {
	text  string
	keep  bool     // stays on one page with the row after it
	again []string // written again when this row begins a page, such as the titles of a table
	turn  bool     // begins a new page; not printed itself
}

// Text writes the document for any printer: UTF-8, or plain ASCII for one that knows no more; 80
// columns, pages of 60 lines parted by form feeds, each with its number, mark and digest.
func (d Document) Text(ascii bool) []byte {
	t, err := draw.NewTheme(draw.Options{Palette: "mono", ASCII: ascii})
	if err != nil {
		panic(err) // the palette is a constant of the library
	}
	var rows []row
	for _, b := range d.blocks {
		rows = append(rows, b.lay(t, TextWidth)...)
	}
	pages := paginate(rows)
	var out strings.Builder
	for i, page := range pages {
		if i > 0 {
			out.WriteString("\f")
		}
		d.page(&out, t, page, i+1, len(pages))
	}
	return []byte(out.String())
}

func (d Document) page(out *strings.Builder, t *draw.Theme, body []string, no, of int) {
	line := func(s string) { out.WriteString(strings.TrimRight(s, " ") + "\n") }
	rule := strings.Repeat(t.Glyphs.Across, TextWidth)
	mark := ""
	if d.mark != "" {
		mark = "*** " + phrase.Word(d.mark) + " ***"
	}
	line(between(t, d.who, mark))
	line(between(t, d.Title, d.about))
	line(rule)
	for i := range bodyLines {
		if i < len(body) {
			line(body[i])
		} else {
			line("")
		}
	}
	line(rule)
	line(between(t, d.seal, mark))
	line(between(t, "", phrase.Of("paper.text.page-of", no, of)))
}

// between sets one text at the left and one at the right edge. The right one stays whole.
func between(t *draw.Theme, left, right string) string {
	right = t.Truncate(t.Plain(right), TextWidth-12)
	left = t.Truncate(t.Plain(left), TextWidth-2-draw.Width(right))
	return left + strings.Repeat(" ", TextWidth-draw.Width(left)-draw.Width(right)) + right
}

// paginate cuts rows into pages. A run of rows that keep together goes over whole, unless it is
// longer than a page.
func paginate(rows []row) [][]string {
	var pages [][]string
	var page []string
	flush := func() {
		for len(page) > 0 && strings.TrimSpace(page[len(page)-1]) == "" {
			page = page[:len(page)-1]
		}
		if len(page) > 0 {
			pages = append(pages, page)
		}
		page = nil
	}
	for i := 0; i < len(rows); {
		if rows[i].turn {
			flush()
			i++
			continue
		}
		n := 1
		for i+n < len(rows) && rows[i+n-1].keep && !rows[i+n].turn {
			n++
		}
		if len(page) > 0 && len(page)+n > bodyLines && n <= bodyLines {
			flush()
		}
		for _, r := range rows[i : i+n] {
			if len(page) == bodyLines {
				flush()
			}
			if len(page) == 0 {
				if strings.TrimSpace(r.text) == "" {
					continue // no page begins with a blank line
				}
				page = append(page, r.again...)
			}
			if len(page) > 0 && strings.TrimSpace(r.text+page[len(page)-1]) == "" {
				continue // one blank line is enough
			}
			page = append(page, r.text)
		}
		i += n
	}
	flush()
	if len(pages) == 0 {
		pages = [][]string{nil}
	}
	return pages
}
