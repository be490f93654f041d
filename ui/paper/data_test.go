package paper

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math/big"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase/accents"
)

func TestJSONReadsBackStrictlyAndProvesItself(t *testing.T) {
	b := played(t)
	data, err := JSON(b.card, printInfo)
	if err != nil {
		t.Fatal(err)
	}
	x, err := ReadJSON(data)
	if err != nil {
		t.Fatal(err)
	}
	var again bytes.Buffer
	enc := json.NewEncoder(&again)
	enc.SetIndent("", " ")
	if err := enc.Encode(x); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(data), string(tame(again.Bytes()))); diff != "" {
		t.Errorf("what was read is not what was written:\n%s", diff)
	}
	head := job.Origin(x.Job.Number)
	var events []job.Event
	for _, e := range x.Events {
		head = job.Link(head, e.Bytes)
		event, err := job.Decode(e.Bytes)
		if err != nil {
			t.Fatal(err)
		}
		if event.Seq != e.Seq || event.By != e.By || !event.At.Equal(e.At) {
			t.Errorf("event %d: the facts are not those of the bytes", e.Seq)
		}
		events = append(events, event)
	}
	if head != x.Digest || head != b.card.Head {
		t.Errorf("the digest of the bytes is %s, the file says %s", head, x.Digest)
	}
	card, err := job.Fold(b.plan, events)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(Record(b.card, printInfo).Text(false), Record(card, printInfo).Text(false)); diff != "" {
		t.Errorf("the job folded from the file prints otherwise:\n%s", diff)
	}
}

func TestReadJSONRefusesWhatItDoesNotKnow(t *testing.T) {
	data, err := JSON(openBay(t, false).card, printInfo)
	if err != nil {
		t.Fatal(err)
	}
	for name, bad := range map[string][2]string{
		"unknown member": {`"schema"`, `"surprise": 1, "schema"`},
		"other schema":   {Schema, "pawl.job/2"},
		"bad base64":     {`"bytes": "`, `"bytes": "?`},
		"number":         {`"seq": 1`, `"seq": -1`},
	} {
		if _, err := ReadJSON([]byte(strings.Replace(string(data), bad[0], bad[1], 1))); err == nil {
			t.Errorf("%s: was read", name)
		}
	}
	if _, err := ReadJSON(append(data, data...)); err == nil {
		t.Error("two objects were read as one")
	}
}

func TestJSONCannotSteerATerminal(t *testing.T) {
	b := openBay(t, false)
	b.card.Opened.Complaint = "a\x1b[2Jb\u202ec\u009bd\U000e0001e\x7f"
	data, err := JSON(b.card, printInfo)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.SplitSeq(string(data), "\n") {
		if line != strings.ToValidUTF8(line, "") || strings.ContainsAny(line, "\x1b\u202e\u009b\U000e0001\x7f") {
			t.Errorf("the line steers: %q", line)
		}
	}
	x, err := ReadJSON(data)
	if err != nil {
		t.Fatal(err)
	}
	if x.Job.Complaint != b.card.Opened.Complaint {
		t.Errorf("the complaint came back as %q", x.Job.Complaint)
	}
}

// TestTextCellDefuses follows OWASP CSV Injection (= + - @ tab CR and their full-width forms) and
// CWE-1236.
func TestTextCellDefuses(t *testing.T) {
	for _, c := range [][2]string{
		{"=1+1", "'=1+1"}, {"+1", "'+1"}, {"-0.02", "'-0.02"}, {"@SUM(A1)", "'@SUM(A1)"}, {"\t=1", "'\ufffd=1"}, {"\r=1", "'\ufffd=1"},
		{"  =cmd|' /C calc'!A0", "'  =cmd|' /C calc'!A0"}, {"＝1", "'＝1"}, {"＋1", "'＋1"}, {"－1", "'－1"}, {"＠1", "'＠1"}, {"\x00=1", "'\ufffd=1"},
		{"pulls to the left", "pulls to the left"}, {"95 N·m", "95 N·m"}, {"", ""}, {"a=b", "a=b"}, {"'quoted'", "'quoted'"}, {"a\nb", "a\ufffdb"},
	} {
		if got := textCell(c[0]); got != c[1] {
			t.Errorf("textCell(%q) = %q, want %q", c[0], got, c[1])
		}
	}
}

func TestCSVTables(t *testing.T) {
	b := played(t)
	for _, table := range Tables() {
		data, err := CSV(table, b.card, b.card)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Count(data, []byte("\n")) != bytes.Count(data, []byte("\r\n")) {
			t.Errorf("%s: a line does not end in CR LF", table)
		}
		r := csv.NewReader(bytes.NewReader(data))
		r.FieldsPerRecord = -1
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) < 3 {
			t.Errorf("%s has only %d lines", table, len(rows))
		}
		seen := map[string]bool{}
		for _, name := range rows[0] {
			if seen[name] || name == "" {
				t.Errorf("%s: the column %q is there twice or has no name", table, name)
			}
			seen[name] = true
		}
		for no, row := range rows[1:] {
			if len(row) != len(rows[0]) {
				t.Fatalf("%s, row %d has %d cells, want %d", table, no+1, len(row), len(rows[0]))
			}
			for i, cell := range row {
				checkCell(t, table, rows[0][i], cell, seen[rows[0][i]+"_unit"])
			}
		}
	}
	if _, err := CSV("everything", b.card); err == nil || !strings.Contains(err.Error(), "torque") {
		t.Errorf("an unknown table gave %v", err)
	}
}

func checkCell(t *testing.T, table, name, cell string, number bool) {
	t.Helper()
	switch {
	case number && cell != "":
		if _, ok := new(big.Rat).SetString(cell); !ok || strings.ContainsAny(cell, "eE/'") {
			t.Errorf("%s.%s: %q is no exact decimal", table, name, cell)
		}
	case !number && cell != "" && strings.ContainsRune("=+-@", rune(cell[0])):
		t.Errorf("%s.%s: %q would be executed", table, name, cell)
	}
}

func TestNegativeReadingsStayNumbers(t *testing.T) {
	data, err := CSV("readings", played(t).card)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), ",-0.10,mm,") {
		t.Error("the reading -0.10 mm is not a number in the table")
	}
}

func TestSetReachedAndCheckedStayApart(t *testing.T) {
	rows := Torques(played(t).card)
	kinds := map[string]int{}
	for _, r := range rows {
		kinds[r.Kind]++
		switch r.Kind {
		case "setting wrench":
			if r.Set.IsZero() || !r.Reached.IsZero() || !r.Clicked || r.Evidence != "C" {
				t.Errorf("event %d: a click is written down as %+v", r.Seq, r)
			}
		case "dial wrench":
			if !r.Set.IsZero() || r.Reached.IsZero() || r.Clicked || r.Evidence != "B" {
				t.Errorf("event %d: a reading is written down as %+v", r.Seq, r)
			}
		}
	}
	if kinds["setting wrench"] == 0 || kinds["dial wrench"] == 0 {
		t.Fatalf("the job has no wrenches of both kinds: %v", kinds)
	}
	checks := Checks(played(t).card)
	if len(checks) == 0 || checks[0].By != "Tavo" || checks[0].Instrument == "" {
		t.Errorf("the second person's own pulls are %+v", checks)
	}
}

// TestWorkedExamples holds the prints against the worked examples of the demonstration data: the
// thinnest point and variation of the right disc, run-out 0.12 and 0.04 mm in positions 0 and 3, and
// the re-torque 50 km after 61442 km.
func TestWorkedExamples(t *testing.T) {
	b := played(t)
	text := strings.Join(strings.Fields(accents.Off(string(Record(b.card, printInfo).Text(false)))), " ")
	for _, want := range []string{"16.415 mm", "run-out 0.12 mm, OUTSIDE, window <= 0.08 mm", "run-out 0.04 mm, INSIDE, window <= 0.08 mm", "61492 km or on 2026-03-11",
		"45 N·m OUTSIDE", "outside turned inside", "61442 km"} {
		if !strings.Contains(text, want) {
			t.Errorf("the record does not say %q", want)
		}
	}
}
