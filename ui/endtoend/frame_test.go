package endtoend

import (
	"regexp"
	"slices"
	"strings"
)

// frame is what a terminal shows: its rows without the blanks at their ends.
type frame struct{ rows []string }

// String is the frame between two lines.
func (f frame) String() string {
	line := strings.Repeat("-", 80)
	return line + "\n" + strings.Join(f.rows, "\n") + "\n" + line
}

func (f frame) has(text string) bool { return strings.Contains(strings.Join(f.rows, "\n"), text) }

// row is a row from the top, or from the bottom when i is negative.
func (f frame) row(i int) string {
	if i < 0 {
		i += len(f.rows)
	}
	if i < 0 || i >= len(f.rows) {
		return ""
	}
	return f.rows[i]
}

// status is the line that answers the last key, keyBar the row of keys below it.
func (f frame) status() string { return strings.TrimSpace(f.row(-2)) }
func (f frame) keyBar() string { return strings.TrimSpace(f.row(-1)) }

// busy reports whether the line says only that something takes long.
func (f frame) busy() bool {
	return slices.Contains([]string{"writing…", "reading the record…"}, f.status())
}

// same reports whether two frames differ in nothing but the clock of the first row.
func (f frame) same(g frame) bool {
	return len(f.rows) > 0 && len(f.rows) == len(g.rows) && strings.Join(f.rows[1:], "\n") == strings.Join(g.rows[1:], "\n")
}

// dialog is the title and the rows of the box that lies over the screen; open is false without one.
func (f frame) dialog() (title string, rows []string, open bool) {
	top := -1
	for i, row := range f.rows {
		at := strings.TrimSpace(row)
		switch {
		case strings.HasPrefix(at, "╭─"):
			top = i
			title = strings.TrimSpace(strings.Trim(at, "╭─╮"))
			rows = nil
		case top >= 0 && strings.HasPrefix(at, "╰"):
			return title, rows, true
		case top >= 0:
			rows = append(rows, strings.TrimSuffix(strings.TrimPrefix(at, "│ "), "│"))
		}
	}
	return "", nil, false
}

// titled reports whether a dialog is open whose title begins so; a title may be cut for its length.
func (f frame) titled(begins string) bool {
	title, _, open := f.dialog()
	title = strings.TrimSuffix(title, "…")
	n := min(len(title), len(begins))
	return open && n > 0 && title[:n] == begins[:n]
}

// bare reports whether no dialog is open.
func (f frame) bare() bool {
	_, _, open := f.dialog()
	return !open
}

// option finds the number of a row of a numbered choice by the beginning of its text.
func (f frame) option(begins string) (number string, ok bool) {
	_, rows, _ := f.dialog()
	for i, row := range rows {
		m := optionRow.FindStringSubmatch(row)
		if m == nil {
			continue
		}
		text := m[2]
		for k := i + 1; k < len(rows) && len(text) < len(begins) && optionRow.FindStringSubmatch(rows[k]) == nil; k++ {
			text += " " + strings.TrimSpace(rows[k])
		}
		if strings.HasPrefix(squeeze(text), squeeze(begins)) {
			return m[1], true
		}
	}
	return "", false
}

var optionRow = regexp.MustCompile(`^[> ] *(\d+)  (.*?)\s*$`)

// squeeze takes repeated blanks and line ends out.
func squeeze(text string) string { return strings.Join(strings.Fields(text), " ") }

// marked is the row of the stage that has the focus, without its marker.
func (f frame) marked() string {
	for _, row := range f.rows {
		if text, ok := strings.CutPrefix(row, " > "); ok {
			return text
		}
	}
	return ""
}

var toolRow = regexp.MustCompile(`   with (\S+) `)

// tool is the instrument in hand for the value in focus, and whether an adapter is on it.
func (f frame) tool() (id string, adapter bool) {
	for _, row := range f.rows {
		if m := toolRow.FindStringSubmatch(row + " "); m != nil && m[1] != "no" {
			return m[1], strings.Contains(row, " and adapter")
		}
	}
	return "", false
}
