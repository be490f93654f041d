package command

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase/accents"
)

// answered is an answer of pawl enter as its reader sees it.
type answered struct {
	Format     int
	Line       int
	OK         bool
	AsExpected *bool `json:"as_expected"`
	Job        uint64
	Seq        uint32
	Digest     job.Digest
	Recorded   []map[string]any
	Figures    []map[string]any
	Hints      []string
	Remarks    []map[string]any
	Refused    []struct {
		Code, Text string
		Stage      *string
		Check      *string
		Item       *string
		WayOut     string `json:"way_out"`
	}
	Error string
}

// enterLines feeds lines to pawl enter on a file, with a clock that goes on from line to line.
func enterLines(t *testing.T, path, which, lines string, more ...string) (int, []answered) {
	t.Helper()
	p, out, messages := program(lines)
	at := newDemoClock(testDay).day
	p.Now = func() time.Time { at = at.Add(10 * time.Second); return at }
	code := p.Run(context.Background(), append([]string{"enter", which, "--file", path}, more...))
	if messages.Len() > 0 {
		t.Logf("messages: %s", messages)
	}
	var got []answered
	for line := range strings.Lines(out.String()) {
		var a answered
		dec := json.NewDecoder(strings.NewReader(line))
		dec.DisallowUnknownFields()
		if err := dec.Decode(&a); err != nil {
			t.Fatalf("%v in %s", err, line)
		}
		got = append(got, a)
	}
	return code, got
}

const opening = `{"do":"open","by":"M04","code":"4104","vehicle":"9","procedure":"rear-discs-pads","complaint":"squeal","odometer":"61430"}` + "\n"

func TestEnterAnswersEveryLine(t *testing.T) {
	path := depotFile(t)
	code, got := enterLines(t, path, "new", "# a comment\n\n"+opening+
		`{"do":"enter","by":"M04","stage":"job-opened","check":"plate","value":"yes"}
not json
{"do":"enter","by":"M04","stage":"job-opened","check":"plate","value":"yes"}
{"do":"enter","by":"M04","stage":"job-opened","check":"plates","value":"yes"}
{"do":"sign","by":"M04","stage":"job-opened"}
{"do":"enter","by":"M07","stage":"job-opened","check":"traits","value":"yes"}
{"do":"enter","by":"M07","code":"0000","stage":"job-opened","check":"traits","value":"yes"}
{"do":"enter","by":"X99","code":"0000","stage":"job-opened","check":"traits","value":"yes"}
{"do":"sign","by":"M04","code":"4104","stage":"released","expect":"before"}
{"do":"sign","by":"M04","code":"4104","stage":"released","expect":"outside"}
{"do":"enter","by":"M04","stage":"job-opened","check":"odometer","value":"61430"}
`)
	if code != exitRefused {
		t.Errorf("exit %d", code)
	}
	want := []struct {
		line  int
		ok    bool
		seq   uint32
		holds string // a code of a refusal, or words of the error
	}{
		{3, true, 1, ""}, {4, true, 2, ""}, {5, false, 0, "not JSON"}, {6, false, 2, "filled"}, {7, false, 2, "unknown"},
		{8, false, 2, "missing"}, {9, false, 2, "code"}, {10, false, 2, "code"}, {11, false, 2, "unknown"},
		{12, false, 2, "before"}, {13, false, 2, "before"}, {14, true, 3, ""},
	}
	if len(got) != len(want) {
		t.Fatalf("%d answers, want %d: %+v", len(got), len(want), got)
	}
	for i, w := range want {
		g := got[i]
		if g.Line != w.line || g.OK != w.ok || (w.seq != 0 && g.Seq != w.seq) || g.Format != replyFormat {
			t.Errorf("answer %d: %+v, want %+v", i+1, g, w)
		}
		found := w.holds == "" || strings.Contains(accents.Off(g.Error), w.holds)
		for _, r := range g.Refused {
			found = found || r.Code == w.holds
			if r.Text == "" || r.WayOut == "" {
				t.Errorf("line %d: a refusal without words or way out", g.Line)
			}
		}
		if !found {
			t.Errorf("line %d does not say %q: %+v", g.Line, w.holds, g)
		}
	}
	if a := got[9].AsExpected; a == nil || !*a {
		t.Errorf("the refusal expected is not called so: %+v", got[9])
	}
	if a := got[10].AsExpected; a == nil || *a {
		t.Errorf("another refusal counts as expected: %+v", got[10])
	}
	card := load(t, path, 1)
	if card.Seq() != 3 || card.Head != got[len(got)-1].Digest {
		t.Errorf("the file stands at event %d, %s; answered %d, %s", card.Seq(), card.Head, got[len(got)-1].Seq, got[len(got)-1].Digest)
	}
}

func TestEnterStopsWhenAsked(t *testing.T) {
	path := depotFile(t)
	code, got := enterLines(t, path, "new", opening+"nonsense\n"+`{"do":"enter","by":"M04","stage":"job-opened","check":"plate","value":"yes"}`, "--stop")
	if code != exitRefused || len(got) != 2 {
		t.Errorf("exit %d after %d answers", code, len(got))
	}
}

func TestEnterGoesOnWithAJob(t *testing.T) {
	path := depotFile(t)
	if code, _ := enterLines(t, path, "new", opening); code != exitFine {
		t.Fatalf("exit %d", code)
	}
	code, got := enterLines(t, path, "1", `{"do":"enter","by":"M04","code":"4104","stage":"job-opened","check":"plate","value":"yes"}`)
	if code != exitFine || len(got) != 1 || got[0].Seq != 2 {
		t.Errorf("exit %d, %+v", code, got)
	}
	code, got = enterLines(t, path, "1", opening)
	if code != exitRefused || len(got) != 1 || !strings.Contains(accents.Off(got[0].Error), "job 1 is open in this run") {
		t.Errorf("a second job in one run: exit %d, %+v", code, got)
	}
	if code, _ = enterLines(t, path, "2", ""); code != exitRefused {
		t.Errorf("a job that is not there: exit %d", code)
	}
}

// A list of values is recorded up to the one that is refused, and the answer says both.
func TestEnterValuesUpToTheFirstRefused(t *testing.T) {
	path := depotFile(t)
	_, got := enterLines(t, path, "new", opening+
		`{"do":"enter","by":"M04","stage":"job-opened","check":"plate","values":["yes","no"]}
{"do":"enter","by":"M04","stage":"pads-measured/left","check":"friction","values":["3.1","thin","7.4"],"with":"PG1"}
{"do":"enter","by":"M04","stage":"pads-measured/left","check":"friction","values":["3.0","7.4","7.5"],"with":"PG1"}
`)
	if len(got) != 4 {
		t.Fatalf("%d answers", len(got))
	}
	if g := got[1]; g.OK || len(g.Recorded) != 0 || !strings.Contains(accents.Off(g.Error), "2 values for the 1 items") {
		t.Errorf("more values than items: %+v", g)
	}
	if g := got[2]; g.OK || len(g.Recorded) != 1 || g.Recorded[0]["item"] != "inner leading" || len(g.Refused) != 1 || g.Refused[0].Code != "value" {
		t.Errorf("a bad value in the middle: %+v", g)
	}
	if g := got[3]; !g.OK || len(g.Recorded) != 3 || g.Recorded[2]["item"] != "outer trailing" {
		t.Errorf("the rest: %+v", g)
	}
}

// The recorded job through pawl enter gives the record that the demo plays, times apart.
func TestEnterAndDemoRecordTheSame(t *testing.T) {
	path := depotFile(t)
	var lines string
	for _, name := range []string{scriptMain, scriptAfter} {
		data, err := scripts.ReadFile("demo/" + name)
		if err != nil {
			t.Fatal(err)
		}
		lines += string(data)
	}
	code, got := enterLines(t, path, "new", lines)
	if code != exitFine {
		for _, a := range got {
			if !a.OK && a.AsExpected == nil {
				t.Fatalf("line %d: %+v", a.Line, a)
			}
		}
		t.Fatalf("exit %d", code)
	}
	demo := played(t)
	if a, b := withoutTimes(t, load(t, path, 1)), withoutTimes(t, load(t, demo, 1)); a != b {
		t.Errorf("pawl enter recorded %s, pawl demo %s", a, b)
	}
}
