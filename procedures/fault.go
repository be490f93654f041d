package procedures

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// Fault is one thing wrong with a procedure or a sheet, placed so that its author finds it.
type Fault struct {
	File string
	Line int // 0 when no single line is to blame
	// Procedure is the one that asks, where a sheet is held against it.
	Procedure string
	Stage     string // the stage, with its check after a dot where one is meant
	Path      string // the way through the graph, or the traits and answers, that shows it
	Text      string
}

// String is one line: file:line: procedure "p": stage "x": what is wrong (shown by …).
func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
	}
	b.WriteString(": ")
	if f.Procedure != "" {
		fmt.Fprint(&b, phrase.Of("procedures.fault.procedure", clip(f.Procedure, 80)))
	}
	if f.Stage != "" {
		fmt.Fprint(&b, phrase.Of("procedures.fault.stage", clip(f.Stage, 80)))
	}
	b.WriteString(clip(f.Text, 400))
	if f.Path != "" {
		fmt.Fprintf(&b, " (%s)", clip(f.Path, 500))
	}
	return b.String()
}

// clip keeps a message readable when a file holds a name without end.
func clip(text string, most int) string {
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}

// Faults is every fault found, in the order of the file. It is the error of loading and checking.
type Faults []Fault

// Error joins the faults, one a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.String()
	}
	return strings.Join(lines, "\n")
}

// sorted puts the faults in the order of the file; those without a line come first.
func (fs Faults) sorted() Faults {
	slices.SortStableFunc(fs, func(a, b Fault) int { return cmp.Compare(a.Line, b.Line) })
	return fs
}

// quoted lists values for a message.
func quoted(values []string) string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = shown(v)
	}
	return strings.Join(out, ", ")
}
