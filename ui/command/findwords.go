package command

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/paper"
)

// outcomes are the ways a job ends, and open.
func outcomes() []string {
	return []string{store.OutcomeOpen, job.OutcomeReleased, job.OutcomeMadeSafe, job.OutcomeRecovery, job.OutcomeCancelled}
}

// checkQuery refuses filters that cannot fit anything.
func checkQuery(q store.Query) error {
	for _, d := range []struct{ name, day string }{{"from", q.From}, {"to", q.To}} {
		if _, err := time.Parse(time.DateOnly, d.day); d.day != "" && err != nil {
			return misused("%s", phrase.Of("command.findwords.expected-a-day-such-as-2026-03", d.name, d.day))
		}
	}
	switch {
	case q.From != "" && q.To != "" && q.From > q.To:
		return misused("%s", phrase.Of("command.findwords.from-lies-after-to", q.From, q.To))
	case q.Outcome != "" && !slices.Contains(outcomes(), q.Outcome):
		return misused("%s", phrase.Of("command.findwords.outcome-expected-one-of", q.Outcome, outcomes()))
	case q.Exception != "" && !slices.Contains(job.ExceptionKinds(), q.Exception):
		return misused("%s", phrase.Of("command.findwords.exception-expected-one-of", q.Exception, job.ExceptionKinds()))
	}
	return nil
}

// search lists the jobs that fit a query.
func (p *Program) search(f *store.File, q store.Query, as string) error {
	h, err := f.Find(q)
	if err != nil {
		return err
	}
	w, _ := f.Workshop()
	switch as {
	case formJSON:
		o := listObject(w, h.Jobs)
		return writeJSON(p.Out, append(object{{"matches", h.Matches}, {"searched", h.Searched}, {"not_judged", 0}, {"span", spanOf(q)}, {"as_of", stamp(f.Now())}}, o...))
	case formCSV:
		return p.searchCSV(f, q, h)
	}
	var b strings.Builder
	b.WriteString(wrap(searchSentence(f, q, h), textWidth, "", ""))
	if len(h.Jobs) > 0 {
		b.WriteString("\n" + listText(w, h.Jobs))
	}
	_, err = io.WriteString(p.Out, b.String())
	return err
}

func spanOf(q store.Query) string {
	switch {
	case q.From == "" && q.To == "":
		return phrase.Of("command.findwords.all-records")
	case q.From == "":
		return phrase.Of("command.findwords.all-records-to", q.To)
	case q.To == "":
		return phrase.Of("command.findwords.from", q.From)
	}
	return phrase.Of("command.findwords.to", q.From, q.To)
}

func searchSentence(f *store.File, q store.Query, h store.Hits) string {
	found := phrase.Of("command.findwords.none-found")
	if h.Matches > 0 {
		found = phrase.Of("command.findwords.found", phrase.Capital(phrase.Count("count.job", h.Matches)))
	}
	return phrase.Of("command.findwords.span-as-of-searched-could-not-be", found, spanOf(q), f.Now().Format("2006-01-02 15:04"), phrase.Count("count.record", h.Searched))
}

// searchCSV writes one line a job; texts a spreadsheet would execute get an apostrophe before them.
func (p *Program) searchCSV(f *store.File, q store.Query, h store.Hits) error {
	head := []string{"job", "vehicle", "name", "vin", "procedure", "complaint", "opened", "last", "outcome", "span", "as_of", "searched", "not_judged"}
	var rows [][]string
	meta := []string{spanOf(q), stamp(f.Now()), fmt.Sprint(h.Searched), "0"}
	for _, j := range h.Jobs {
		rows = append(rows, append([]string{fmt.Sprint(j.Number), j.Vehicle.ID, j.Vehicle.Name, j.Vehicle.VIN, j.Procedure, j.Complaint, stamp(j.Opened), stamp(j.Last), j.Outcome}, meta...))
	}
	if len(h.Jobs) == 0 {
		rows = append(rows, append(make([]string, 9), meta...))
	}
	data, err := paper.Spreadsheet(head, rows)
	if err == nil {
		_, err = p.Out.Write(data)
	}
	return err
}
