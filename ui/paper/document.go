package paper

import (
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/ui/draw"
)

// Info is what a print knows besides the job.
type Info struct {
	Workshop string    // name of the workshop
	Printed  time.Time // when it is printed, by the caller's clock
	Seal     string    // the short seal; empty while the job is not sealed
	Backup   string    // note on the newest backup that holds the job; empty when not known
}

// Document is something to be printed: Text and HTML write it out. It is made by Record, Customer
// and the other functions of this package.
type Document struct {
	Title  string // such as "Record of job 214"
	who    string // the workshop
	about  string // job and vehicle, on every page
	mark   string // DEMO, PRACTICE; on every page, empty for real work
	seal   string // digest and seal, on every page
	blocks []block
}

// block is one piece of a document.
type block interface {
	lay(t *draw.Theme, w int) []row // in lines of text
	write(m *markup)                // as HTML
}

func (d *Document) add(blocks ...block) { d.blocks = append(d.blocks, blocks...) }

// The blocks. Text in them is raw; it is cleaned and escaped when it is written out.
type (
	heading struct {
		text string
		rank int // 1 for a part, 2 for a section, 3 for a group
	}
	para struct {
		text  string
		small bool
		lead  bool // stays with what follows
	}
	// pairs are facts with their names before them.
	pairs [][2]string
	// table has a line of titles; cells are wrapped where there is no room.
	table struct {
		head  []string
		rows  [][]string
		wide  []int // share of the width of each column in HTML; nil lets the browser choose
		close bool  // small print
		lined bool  // cells are made by lines and come in several lines
	}
	// items are lines with a dash, or with a box to tick.
	items struct {
		lines []string
		tick  bool
	}
	// callout is what must not be overlooked.
	callout struct{ title, words string }
	// figures are pictures set side by side where there is room.
	figures []figure
	// signatures are lines to sign on.
	signatures []string
	// label is one label to cut out.
	label struct {
		words string
		lines []string
	}
	// kept stays on one page where it fits on one.
	kept []block
	// dense is set closer than the rest, so that a page takes more.
	dense []block
	// turn begins a new page.
	turn struct{}
)

// figure is a picture for HTML and the same drawn with characters for text.
type figure struct {
	caption string
	svg     string // made by this package, already escaped
	drawn   func(t *draw.Theme, w int) string
}

// Marks of what is not about real work, as files for other programs write them; on paper stands
// phrase.Word of them.
const (
	markDemo     = "DEMO"
	markPractice = "PRACTICE"
	markBoth     = "PRACTICE / DEMO"
	markPartly   = "PARTLY PRACTICE OR DEMO"
)

// markOf says what kind of job it is when it is not real work on a vehicle.
func markOf(c *job.Card) string {
	switch demo := c.Demo(); {
	case demo && c.Opened.Practice:
		return markBoth
	case demo:
		return markDemo
	case c.Opened.Practice:
		return markPractice
	}
	return ""
}
