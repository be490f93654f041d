package store

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
)

func TestFind(t *testing.T) {
	path, c, _ := sealedFile(t) // jobs 1 to 3 closed an hour apart from 08:00, job 4 open
	f := open(t, path, c)
	c.forward(48 * time.Hour)
	v := vehicle1
	v.ID, v.VIN = "V9", "WDEMO000000000009"
	must(t, f.PutVehicle(mechanic, v))
	if _, err := f.OpenJob(Actor{Person: foreman}, NewJob{Vehicle: "V9", Complaint: "Pulls to the LEFT", Customer: "Depot North", Odometer: "5", Procedure: "small-check"}); err != nil {
		t.Fatal(err)
	}
	numbers := func(q Query) string {
		t.Helper()
		h, err := f.Find(q)
		must(t, err)
		var out []string
		for _, s := range h.Jobs {
			out = append(out, fmt.Sprint(s.Number))
		}
		if h.Searched != 5 || (q.Limit == 0 && h.Matches != len(h.Jobs)) {
			t.Errorf("%+v: %d searched, %d match", q, h.Searched, h.Matches)
		}
		return strings.Join(out, " ")
	}
	for _, tt := range []struct {
		q    Query
		want string
	}{
		{Query{}, "5 4 3 2 1"},
		{Query{Text: "w7"}, "3 2 1"},
		{Query{Text: "W7 v2"}, "2"},
		{Query{Text: "left pulls"}, "5"},
		{Query{Text: "000009"}, "5"},
		{Query{Text: "ida"}, "5 3 2 1"},
		{Query{Text: "job 4"}, "4"},
		{Query{Text: "nothing of it"}, ""},
		{Query{Text: "grinds", Outcome: job.OutcomeReleased}, "3 2 1"},
		{Query{Outcome: OutcomeOpen}, "5 4"},
		{Query{From: "2026-03-10"}, "5"},
		{Query{To: "2026-03-10"}, "4 3 2 1"},
		{Query{Vehicle: "V3"}, "3"},
		{Query{Exception: job.ExCorrection}, ""},
		{Query{Text: "v", Limit: 2}, "5 4"},
	} {
		if got := numbers(tt.q); got != tt.want {
			t.Errorf("%+v finds %q, want %q", tt.q, got, tt.want)
		}
	}
	// Typing on gives the same as asking anew.
	for _, text := range []string{"v", "v1", "v1 w", "v1 w7", "v1 w7 ", "v1 w7 zz", "v1 w7"} {
		typed := numbers(Query{Text: text})
		f.typed = typing{}
		if anew := numbers(Query{Text: text}); anew != typed {
			t.Errorf("%q: %q typed on, %q anew", text, typed, anew)
		}
	}
	// What is entered is found at once, and so is what is corrected.
	do(t, f, 4, mechanic, job.Enter{Stage: measure, Check: "note", Value: "rust at the bracket"})
	do(t, f, 4, apprentice, job.Enter{Stage: measure, Check: "number", Value: "7", Reason: "counted again"})
	if got := numbers(Query{Text: "bracket", Exception: job.ExCorrection}); got != "4" {
		t.Errorf("after an entry: %q", got)
	}
	// The same after the next start, when sealed jobs are found by what stands in the file.
	before, err := f.Find(Query{})
	must(t, err)
	must(t, f.Close())
	f = open(t, path, c)
	after, err := f.Find(Query{})
	must(t, err)
	if d := cmp.Diff(before, after, sameTime); d != "" {
		t.Error(d)
	}
	if got := numbers(Query{Text: "bracket counted"}); got != "4" {
		t.Errorf("after the next start: %q", got)
	}
}
