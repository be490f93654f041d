package paper

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
)

// Spreadsheet writes rows of text by RFC 4180 under a line of names. A cell a spreadsheet would take
// for a formula gets an apostrophe before it.
func Spreadsheet(head []string, rows [][]string) ([]byte, error) {
	return spreadsheet(head, rows, nil)
}

// spreadsheet leaves the columns that hold numbers as they are.
func spreadsheet(head []string, rows [][]string, numeric []bool) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	out := [][]string{head}
	for _, r := range rows {
		line := slices.Clone(r)
		for i := range line {
			if i >= len(numeric) || !numeric[i] {
				line[i] = textCell(line[i])
			}
		}
		out = append(out, line)
	}
	if err := w.WriteAll(out); err != nil {
		return nil, phrase.Error("paper.answer.write-the-table", err)
	}
	return b.Bytes(), nil
}

// AnswerCSV writes the lines of an answer. What must be said beside them stands in every line: the
// span, as of when, how many records were searched and how many could not be judged. Every record
// that could not be judged is a line of its own with the reason under cannot_tell; an answer without
// any line is one line with nothing but that.
func AnswerCSV(a questions.Answer) ([]byte, error) {
	head := []string{"record", "event"}
	numeric := []bool{true, true}
	for _, c := range a.Columns {
		head, numeric = append(head, c.Name), append(numeric, c.Numeric)
	}
	head = append(head, "cannot_tell", "found", "span", "as_of", "searched", "not_judged")
	numeric = append(numeric, false, false, false, false, true, true)
	said := []string{a.Found(), a.Span(), a.AsOf.Format(time.RFC3339), fmt.Sprint(a.Searched), fmt.Sprint(len(a.Unjudged))}
	var rows [][]string
	for _, r := range a.Rows {
		line := append([]string{count(r.Job), count(uint64(r.Seq))}, r.Cells...)
		for len(line) < len(a.Columns)+2 {
			line = append(line, "")
		}
		rows = append(rows, append(append(line, ""), said...))
	}
	empty := make([]string, len(a.Columns))
	for _, u := range a.Unjudged {
		rows = append(rows, slices.Concat([]string{count(u.Job), ""}, empty, []string{u.Why}, said))
	}
	if len(rows) == 0 {
		rows = append(rows, slices.Concat([]string{"", ""}, empty, []string{""}, said))
	}
	return spreadsheet(head, rows, numeric)
}

// count is empty for 0, which means that there is none.
func count(n uint64) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// Answer is the answer to a question over many jobs, for the file or for whoever asked.
func Answer(a questions.Answer, demo bool, in Info) Document {
	d := Document{Title: a.Title, who: in.Workshop, about: a.Span(), seal: phrase.Of("paper.answer.printed", stamp(in.Printed))}
	if demo {
		d.mark = markDemo
	}
	d.add(heading{a.Title, 1})
	if demo {
		d.add(callout{phrase.Word(markDemo), markWords(markDemo)})
	}
	facts := pairs{{phrase.Of("paper.answer.found"), a.Found()}, {phrase.Of("paper.answer.span"), a.Span()}, {phrase.Of("paper.answer.as-of"), stamp(a.AsOf) + ", " + a.Revision}, {phrase.Of("paper.answer.searched"), fmt.Sprint(a.Searched)}, {phrase.Of("paper.answer.could-not-be-judged"), fmt.Sprint(len(a.Unjudged))}}
	for _, name := range slices.Sorted(maps.Keys(a.Args)) {
		facts = append(facts, [2]string{phrase.Of("paper.answer.asked", name), a.Args[name]})
	}
	d.add(facts)
	d.answerRows(a)
	var lost []string
	for _, u := range a.Unjudged {
		lost = append(lost, phrase.Of("paper.answer.job", u.Job, sentence(u.Why)))
	}
	d.section(phrase.Of("paper.answer.could-not-be-judged"), phrase.Of("paper.answer.every-record-searched-was-judged"), len(lost) > 0, items{lines: lost})
	if len(a.Notes) > 0 {
		d.section(phrase.Of("paper.answer.keep-in-mind"), "", true, items{lines: a.Notes})
	}
	return d
}

// mostColumns is how many columns still read well on a page that stands upright.
const mostColumns = 6

// answerRows sets the lines as a table, or each as facts where there are too many columns for one.
func (d *Document) answerRows(a questions.Answer) {
	if len(a.Rows) == 0 {
		return
	}
	if len(a.Columns) <= mostColumns {
		t := table{close: true}
		for _, c := range a.Columns {
			t.head = append(t.head, c.Title)
		}
		for _, r := range a.Rows {
			t.rows = append(t.rows, r.Cells)
		}
		d.section(phrase.Of("paper.answer.lines"), "", true, t)
		return
	}
	var lines []string
	for _, r := range a.Rows {
		var parts []string
		for i, cell := range r.Cells {
			if cell != "" && i < len(a.Columns) {
				parts = append(parts, a.Columns[i].Title+": "+cell)
			}
		}
		lines = append(lines, strings.Join(parts, "; "))
	}
	d.section(phrase.Of("paper.answer.lines"), "", true, items{lines: lines})
}
