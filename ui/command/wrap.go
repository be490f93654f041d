package command

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

// textWidth is the width of every text this package writes.
const textWidth = 80

func width(s string) int { return ansi.StringWidth(s) }

func pad(s string, w int) string { return s + strings.Repeat(" ", max(0, w-width(s))) }

// visible replaces what would move the cursor or turn the writing, so that no stored text can
// disturb a terminal.
func visible(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029' {
			return '\uFFFD'
		}
		return r
	}, s)
}

// wrap breaks text at blanks into lines of at most w cells, the first beginning with first and the
// others with rest. A word longer than a line is broken.
func wrap(text string, w int, first, rest string) string {
	text = visible(text)
	var b strings.Builder
	lead, line := first, ""
	flush := func() {
		b.WriteString(strings.TrimRight(lead+line, " ") + "\n")
		lead, line = rest, ""
	}
	for _, word := range strings.Fields(text) {
		for {
			room := max(8, w-width(lead))
			gap := 0
			if line != "" {
				gap = 1
			}
			if width(line)+gap+width(word) <= room {
				line += strings.Repeat(" ", gap) + word
				break
			}
			if line != "" {
				flush()
				continue
			}
			head := ansi.Truncate(word, room, "")
			line, word = head, strings.TrimPrefix(word, head)
			flush()
			if head == "" {
				break
			}
		}
	}
	flush()
	return b.String()
}

func indent(block, by string) string {
	var b strings.Builder
	for line := range strings.Lines(block) {
		if strings.TrimSpace(line) == "" {
			b.WriteString(line)
			continue
		}
		b.WriteString(by + line)
	}
	return b.String()
}

// sentence gives a text its full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return s
	}
	if !strings.ContainsAny(s[len(s)-1:], ".?!:") {
		s += "."
	}
	return s
}

// table lays lines out in columns under their titles. Cells are not broken; the last column may be
// as long as it likes.
func table(titles []string, lines [][]string) string {
	wide := make([]int, len(titles))
	for i, t := range titles {
		wide[i] = width(t)
	}
	for _, line := range lines {
		for i, cell := range line {
			wide[i] = max(wide[i], width(visible(cell)))
		}
	}
	var b strings.Builder
	row := func(cells []string) {
		var l strings.Builder
		for i, c := range cells {
			if i > 0 {
				l.WriteString("  ")
			}
			l.WriteString(pad(visible(c), wide[i]))
		}
		b.WriteString(strings.TrimRight(l.String(), " ") + "\n")
	}
	row(titles)
	for _, line := range lines {
		row(line)
	}
	return b.String()
}

// paragraphs wraps a text of paragraphs to the width of a text. Lines that begin with a blank stand
// as they are.
func paragraphs(text string) string {
	var b strings.Builder
	var open []string
	flush := func() {
		if len(open) > 0 {
			b.WriteString(wrap(strings.Join(open, " "), textWidth, "", ""))
			open = nil
		}
	}
	for line := range strings.SplitSeq(text, "\n") {
		if line == "" || line[0] == ' ' {
			flush()
			b.WriteString(line + "\n")
			continue
		}
		open = append(open, line)
	}
	flush()
	return strings.TrimRight(b.String(), "\n")
}
