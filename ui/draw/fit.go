package draw

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"bay.example/pawl/job/phrase"
)

// Width is the number of cells a line takes, escape sequences not counted.
func Width(line string) int { return ansi.StringWidth(line) }

// Fit makes a block exactly w cells wide and h lines high. Short lines are
// padded, long ones end in the cut mark, and where lines had to go the last one
// says how many. Escape sequences other than colour and weight become U+FFFD, so
// nothing can leave the block.
func (t *Theme) Fit(block string, w, h int) string { return t.fit(block, w, h, "") }

// Paint is Fit for the whole screen: it also lays the palette's background
// under every cell. It is called once, last.
func (t *Theme) Paint(frame string, w, h int) string { return t.fit(frame, w, h, t.paint) }

func (t *Theme) fit(block string, w, h int, base string) string {
	if h <= 0 {
		return ""
	}
	if w <= 0 {
		return strings.Repeat("\n", h-1)
	}
	var b strings.Builder
	b.Grow(len(block) + h*(len(base)+len(reset)+8) + w*h/2)
	rest, more := block, true
	for y := range h {
		var line string
		if more {
			line, rest, more = strings.Cut(rest, "\n")
		}
		if y == h-1 && more {
			if lost := written(rest); lost > 0 {
				line = t.Plain(phrase.Of("draw.fit.more-lines", t.Glyphs.Cut, strconv.Itoa(lost+1)))
			}
		}
		if y > 0 {
			b.WriteByte('\n')
		}
		t.fitLine(&b, line, w, base)
	}
	return b.String()
}

// written counts the lines up to the last one that has something on it.
func written(block string) int {
	n, last := 0, 0
	for line := range strings.SplitSeq(block, "\n") {
		n++
		if strings.TrimRight(line, " ") != "" {
			last = n
		}
	}
	return last
}

// fitLine writes one line in exactly w cells, w > 0.
func (t *Theme) fitLine(b *strings.Builder, line string, w int, base string) {
	line = tame(line)
	cut := ""
	if Width(line) > w {
		cut = t.Glyphs.Cut
		if Width(strings.TrimRight(ansi.Strip(line), " ")) <= w {
			cut = "" // only blanks are lost
		} else if Width(cut) > w {
			cut = cut[:w] // only the ASCII mark is wider than one cell
		}
	}
	room := w - Width(cut)
	x, on, painted := 0, false, false
	lay := func() { // the background, before the first plain cell of a stretch
		if base != "" && !on && !painted {
			b.WriteString(base)
			painted = true
		}
	}
	for s := line; s != ""; {
		if n := sequence(s); n > 0 {
			off := s[:n] == reset || s[:n] == "\x1b[0m"
			if painted {
				b.WriteString(reset)
			}
			if !off || on {
				b.WriteString(s[:n])
			}
			on, painted = !off, false
			s = s[n:]
			continue
		}
		n, cw := cluster(s)
		if x+cw > room {
			break
		}
		lay()
		b.WriteString(s[:n])
		x += cw
		s = s[n:]
	}
	if on {
		b.WriteString(reset)
		on = false
	}
	if x < room || cut != "" {
		lay()
	}
	for ; x < room; x++ {
		b.WriteByte(' ')
	}
	b.WriteString(cut)
	if painted {
		b.WriteString(reset)
	}
}

// cluster is the length in bytes of what s begins with and the cells it takes.
func cluster(s string) (n, width int) {
	// Most of a frame is ASCII followed by ASCII; only what follows can make a
	// character wider.
	if s[0] < utf8.RuneSelf && (len(s) == 1 || s[1] < utf8.RuneSelf) {
		return 1, 1
	}
	c, width := ansi.FirstGraphemeCluster(s, ansi.GraphemeWidth)
	return len(c), width
}

// sequence is the length of the colour and weight sequence that s begins with,
// 0 for none.
func sequence(s string) int {
	if len(s) < 3 || s[0] != 0x1b || s[1] != '[' {
		return 0
	}
	for i := 2; i < len(s); i++ {
		switch c := s[i]; {
		case c == 'm':
			return i + 1
		case c != ';' && c != ':' && (c < '0' || c > '9'):
			return 0
		}
	}
	return 0
}

// tame cleans a line but leaves its colour and weight sequences. A mark that
// would cling to the cell before its own piece of text becomes U+FFFD, because
// pieces are counted one by one and what clings changes the count.
func tame(line string) string {
	if !strings.Contains(line, "\x1b") {
		return detach("x", Clean(line))
	}
	var b strings.Builder
	b.Grow(len(line))
	before := "x"
	for line != "" {
		if n := sequence(line); n > 0 {
			b.WriteString(line[:n])
			line = line[n:]
			continue
		}
		n := strings.IndexByte(line[1:], 0x1b) + 1
		if n == 0 {
			n = len(line)
		}
		text := detach(before, Clean(line[:n]))
		b.WriteString(text)
		r, _ := utf8.DecodeLastRuneInString(text)
		before = string(r)
		line = line[n:]
	}
	return b.String()
}

// detach replaces what text begins with by U+FFFD if it would join the text
// before it or takes no cell of its own.
func detach(before, text string) string {
	if text == "" {
		return text
	}
	switch r, _ := utf8.DecodeRuneInString(text); {
	case r < 0x300, 0x2100 <= r && r < 0x2e00: // letters and signs that join nothing
		return text
	}
	n, w := cluster(text)
	if w > 0 && Width(before+text[:n]) == Width(before)+w {
		return text
	}
	return strings.Repeat(string(utf8.RuneError), max(w, 1)) + text[n:]
}

// Truncate shortens a line to at most w cells and ends it in the cut mark. It
// takes styled text.
func (t *Theme) Truncate(line string, w int) string {
	if w <= 0 {
		return ""
	}
	if Width(line) <= w {
		return line
	}
	var b strings.Builder
	t.fitLine(&b, line, w, "")
	return b.String()
}

// Pad fills a line with blanks on the right up to w cells.
func Pad(line string, w int) string {
	if n := w - Width(line); n > 0 {
		return line + strings.Repeat(" ", n)
	}
	return line
}

// PadLeft fills a line with blanks on the left up to w cells, as for numbers.
func PadLeft(line string, w int) string {
	if n := w - Width(line); n > 0 {
		return strings.Repeat(" ", n) + line
	}
	return line
}

// Wrap breaks plain text into lines of at most w cells, between words where it
// can. Line ends in the text stay. It returns plain text, to be styled line by
// line.
func (t *Theme) Wrap(text string, w int) []string {
	if w <= 0 {
		return nil
	}
	var lines []string
	for part := range strings.SplitSeq(text, "\n") {
		line, x := "", 0
		for word := range strings.FieldsSeq(t.Plain(strings.TrimRight(part, "\r"))) {
			n := Width(word)
			if x > 0 && x+1+n <= w {
				line, x = line+" "+word, x+1+n
				continue
			}
			if x > 0 {
				lines = append(lines, line)
			}
			for n > w { // a word longer than a line is broken
				head := ansi.Truncate(word, w, "")
				if head == "" {
					head, word = t.Truncate(word, w), "" // a wide character in one cell
				}
				lines = append(lines, head)
				word = strings.TrimPrefix(word, head)
				n = Width(word)
			}
			line, x = word, n
		}
		lines = append(lines, line)
	}
	return lines
}
