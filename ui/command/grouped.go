package command

import (
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/reckon"
)

// worded is one entry on its way to text: what stands behind its value, and who made it when.
type worded struct {
	entry job.Entered
	tail  string // instrument, evidence, verdict, corrections
	mark  string // who and when; of several that share a line the last is written
}

// grouped writes the entries of one check, those that say the same of their value in one line: the
// fasteners of a group that clicked alike, the points of a set one after the other.
func grouped(pc *procedures.PlanCheck, list []worded) []string {
	var out []string
	set := pc.Kind == procedures.Thickness || pc.Kind == procedures.RunOut
	for i := 0; i < len(list); {
		first := list[i]
		n := i + 1
		for n < len(list) && list[n].tail == first.tail && (set && sameUnit(list[n], first) || valueHead(list[n].entry) == valueHead(first.entry)) {
			n++
		}
		out = append(out, lineOf(pc, set, list[i:n]))
		i = n
	}
	return out
}

func sameUnit(a, b worded) bool {
	return a.entry.Value.Unit != "" && a.entry.Value.Unit == b.entry.Value.Unit
}

func lineOf(pc *procedures.PlanCheck, set bool, group []worded) string {
	items := make([]string, len(group))
	values := make([]string, len(group))
	for i, w := range group {
		items[i], values[i] = w.entry.Item, phrase.Decimal(w.entry.Value.Number)
	}
	first, last := group[0], group[len(group)-1]
	text := pc.Title
	if names := run(items); names != "" {
		text += ", " + names
	}
	text += ": "
	if set && len(group) > 1 {
		text += strings.Join(values, " ") + " " + string(first.entry.Value.Unit)
	} else {
		text += valueHead(first.entry)
	}
	return text + first.tail + last.mark
}

// run names items: numbered points by the first and the last of a run.
func run(items []string) string {
	var out []string
	for i := 0; i < len(items); {
		n := i
		for n+1 < len(items) && follows(items[n], items[n+1]) {
			n++
		}
		switch {
		case items[i] == "":
		case n > i+1:
			out = append(out, phrase.Of("command.grouped.to", items[i], items[n]))
		default:
			out = append(out, items[i:n+1]...)
		}
		i = n + 1
	}
	return strings.Join(out, ", ")
}

// follows reports whether both are numbers and b is the next.
func follows(a, b string) bool {
	m, err1 := reckon.Whole(a, "")
	n, err2 := reckon.Whole(b, "")
	return err1 == nil && err2 == nil && n == m+1
}

// valueHead is the value of an entry itself.
func valueHead(b job.Entered) string {
	text := b.Answer
	if !b.Value.IsZero() {
		text = b.Value.Shown()
	}
	if !b.Bolt.IsZero() {
		text += phrase.Of("command.grouped.set-at-the-fastener", reckon.Round(b.Bolt, 2).String())
	}
	return text
}

// valueTail is everything that is said about a value: instrument, evidence, verdict, correction.
func valueTail(b job.Entered) string {
	var more []string
	if b.Instrument != nil {
		more = append(more, b.Instrument.ID)
	}
	if b.Evidence != job.NoEvidence {
		more = append(more, b.Evidence.String())
	}
	if b.AllAtOnce {
		more = append(more, phrase.Of("command.grouped.all-at-once"))
	}
	if b.Source != "" {
		more = append(more, phrase.Of("command.grouped.by", b.Source))
	}
	text := ""
	if len(more) > 0 {
		text = " (" + strings.Join(more, ", ") + ")"
	}
	return text + verdictWords(b) + correctionWords(b)
}

func verdictWords(b job.Entered) string {
	if expected, ok := countExpected(b); ok {
		if b.Verdict == quantity.Inside {
			return phrase.Of("command.grouped.as-expected")
		}
		return phrase.Of("command.grouped.expected", expected)
	}
	if b.Window != nil && !b.Window.Window.IsZero() && b.Verdict != quantity.Unjudged {
		return " " + b.Verdict.String() + " " + b.Window.Window.Shown()
	}
	if b.Verdict == quantity.Outside || b.Verdict == quantity.NotProven {
		return ", " + b.Verdict.String()
	}
	return ""
}

// countExpected is the number a count had to equal.
func countExpected(b job.Entered) (string, bool) {
	if b.Window == nil || b.Value.Unit != quantity.Count || b.Window.Window.Low != b.Window.Window.High {
		return "", false
	}
	return b.Window.Window.Low.Number, true
}
