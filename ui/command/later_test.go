package command

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bay.example/pawl/job/questions"
	"bay.example/pawl/ui/paper"
)

var (
	sealed = regexp.MustCompile(`\b(?:[0-9A-HJKMNP-TV-Z]{4}-){6}[0-9A-HJKMNP-TV-Z]{4}\b`)
	roots  = regexp.MustCompile(`[A-Za-z0-9+/]{43}=`)
)

// steady takes out what changes with every text of a procedure: digests, seals and roots.
func steady(text string) string {
	return roots.ReplaceAllString(sealed.ReplaceAllString(normal(text), "SEAL"), "ROOT")
}

// said runs a command that must succeed and returns what it wrote.
func said(t testing.TB, in string, args ...string) string {
	t.Helper()
	code, out, messages := pawl(t, in, args...)
	if code != exitFine || messages != "" {
		t.Fatalf("pawl %s: exit %d: %s%s", strings.Join(args, " "), code, out, messages)
	}
	return out
}

func TestVerifySealsAndCheckpoints(t *testing.T) {
	path := played(t)
	golden(t, "verify-all.text", said(t, "", "verify", "--file", path))
	golden(t, "verify-all.json", said(t, "", "verify", "--as", "json", "--file", path))
	one := said(t, "", "verify", "1", "--file", path)
	golden(t, "verify-job.text", steady(one))
	golden(t, "verify-job.json", steady(said(t, "", "verify", "1", "--as", "json", "--file", path)))
	seals := sealed.FindAllString(one, -1)
	if len(seals) < 2 {
		t.Fatalf("no seals in %q", one)
	}
	golden(t, "verify-paper.text", said(t, "", "verify", "--paper", strings.ToLower(seals[0]), "--file", path))
	kept := filepath.Join(scratch(t), "kept")
	point := said(t, "", "seals", "--file", path)
	if err := os.WriteFile(kept, []byte(point+point), 0o600); err != nil {
		t.Fatal(err)
	}
	golden(t, "verify-against.text", said(t, "", "verify", "--against", kept, "--file", path))
	said(t, point, "verify", "--against", "-", "--file", path)
	golden(t, "seals.json", steady(said(t, "", "seals", "--as", "json", "--file", path)))
	if out := said(t, "", "rebuild", "--file", path); !strings.Contains(out, "as it should be") {
		t.Errorf("rebuild of a whole file: %q", out)
	}
	// A checkpoint of another file, and a seal with one character changed.
	other := said(t, "", "seals", "--file", depotFile(t))
	if code, _, messages := pawl(t, strings.Replace(other, "\n0\n", "\n1\n", 1), "verify", "--against", "-", "--file", path); code != exitRefused || strings.Count(messages, "\n") != 1 {
		t.Errorf("a checkpoint that does not fit: exit %d, %q", code, messages)
	}
	bad := []byte(seals[0])
	bad[0] = map[bool]byte{true: 'X', false: 'Y'}[bad[0] != 'X']
	if code, _, messages := pawl(t, "", "verify", "--paper", string(bad), "--file", path); code != exitRefused || !strings.Contains(messages, "check character") {
		t.Errorf("a misread seal: exit %d, %q", code, messages)
	}
}

func TestVerifyAllNamesDamage(t *testing.T) {
	path := damagedPart(t)
	code, out, messages := pawl(t, "", "verify", "--file", path)
	if code != exitRefused || !strings.Contains(out+messages, "damaged") {
		t.Errorf("exit %d, %q, %q", code, out, messages)
	}
}

func TestFindAsksTheQuestions(t *testing.T) {
	path := played(t)
	golden(t, "find-list.text", said(t, "", "find"))
	golden(t, "find-signatures.text", said(t, "", "find", "signatures", "1", "--file", path))
	golden(t, "find-quarantined.json", said(t, "", "find", "quarantined", "--as", "json", "--file", path))
	golden(t, "find-quarantined.csv", said(t, "", "find", "quarantined", "--as", "csv", "--file", path))
	golden(t, "find-none.csv", said(t, "", "find", "batch", "batch=NONE", "--as", "csv", "--file", path))
	golden(t, "find-wrench.text", said(t, "", "find", "wrench-actions", "W5", "--file", path))
	values := map[string]string{"job": "1", "batch": "B-2231", "vehicle": "9", "wrench": "W8", "instrument": "W8", "moment": "2026-03-03 10:12", "day": "2026-03-03", "person": "M04", "sheet": "demo-minibus", "revision": "1"}
	for _, q := range questions.List() {
		args := []string{"find", q.Name}
		for _, x := range q.Params {
			if !x.Optional && x.Default == "" {
				v, ok := values[x.Name]
				if !ok {
					t.Errorf("no value for %s of %s", x.Name, q.Name)
				}
				args = append(args, x.Name+"="+v)
			}
		}
		for _, as := range []string{formText, formJSON, formCSV} {
			out := said(t, "", append(args, "--as", as, "--file", path)...)
			switch as {
			case formText:
				for line := range strings.Lines(out) {
					if width(strings.TrimRight(line, "\n")) > textWidth {
						t.Errorf("%s: too wide: %s", q.Name, line)
					}
				}
				if !strings.Contains(out, "Could not be judged: ") || !strings.Contains(out, "Searched: ") || !strings.Contains(out, "As of ") {
					t.Errorf("%s does not say what was searched:\n%s", q.Name, out)
				}
			case formJSON:
				var o struct {
					Format int
					Answer struct{ Searched *int }
				}
				if err := json.Unmarshal([]byte(out), &o); err != nil || o.Format != findFormat || o.Answer.Searched == nil {
					t.Errorf("%s: %v in %s", q.Name, err, out)
				}
			case formCSV:
				rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
				if err != nil || len(rows) < 2 || rows[1][len(rows[1])-2] == "" {
					t.Errorf("%s: %v in %q", q.Name, err, out)
				}
			}
		}
	}
}

func TestFindWords(t *testing.T) {
	path := played(t)
	golden(t, "find-words.text", said(t, "", "find", "--words", "b-2231 ninna", "--file", path))
	golden(t, "find-words.csv", said(t, "", "find", "--words", "b-2231", "--exception", "outside turned inside", "--as", "csv", "--file", path))
	if out := said(t, "", "find", "--words", "no such thing", "--file", path); !strings.HasPrefix(out, "None found.") {
		t.Errorf("%q", out)
	}
	if out := said(t, "", "find", "--outcome", "open", "--as", "json", "--file", path); !strings.Contains(out, `"searched": 1`) || !strings.Contains(out, `"matches": 0`) {
		t.Errorf("%s", out)
	}
}

func TestRecallIsWorkedOff(t *testing.T) {
	path := played(t)
	on := func(args ...string) []string { return append(args, "--file", path) }
	cert := on("recall", "certificate", "W8", "--number", "C-77", "--calibrated", "2026-03-11", "--due", "2027-03-10", "--as-found", "-9.5 %", "--by", "F02")
	golden(t, "recall-certificate.text", said(t, "4102\n", cert...))
	golden(t, "recall-list.text", said(t, "", on("recall")...))
	if code, _, messages := pawl(t, "1\n", on("recall", "work-off", "1", "9", "--act", "called", "--words", "told", "--by", "M07")...); code != exitRefused || !strings.Contains(messages, "not the code") {
		t.Errorf("a wrong code: exit %d, %q", code, messages)
	}
	out := said(t, "4104\n", on("recall", "work-off", "1", "9", "--act", "put right", "--words", "all tightened with W10 in job 2", "--by", "M04")...)
	if !strings.Contains(out, "PUT RIGHT") || !strings.Contains(out, "All of 1 vehicle dealt with") {
		t.Errorf("%s", out)
	}
	if code, _, messages := pawl(t, "4104\n", on("recall", "work-off", "1", "9", "--act", "called", "--words", "again", "--by", "M04")...); code != exitRefused || !strings.Contains(messages, "done with") {
		t.Errorf("a line that is done: exit %d, %q", code, messages)
	}
	golden(t, "recall.json", said(t, "", on("recall", "1", "--as", "json")...))
	golden(t, "recall-batch.text", said(t, "4102\n", on("recall", "batch", "B-2231", "--by", "F02")...))
}

func TestHistory(t *testing.T) {
	path := played(t)
	golden(t, "history.text", said(t, "", "history", "9", "--file", path))
	var o struct {
		Format  int
		History struct{ Visits []any }
	}
	if err := json.Unmarshal([]byte(said(t, "", "history", "9", "--as", "json", "--file", path)), &o); err != nil || o.Format != historyFormat || len(o.History.Visits) != 1 {
		t.Errorf("%v, %+v", err, o)
	}
}

func TestPrintEveryPage(t *testing.T) {
	path := played(t)
	seal := sealed.FindAllString(said(t, "", "verify", "1", "--file", path), -1)
	newest := seal[len(seal)-1]
	for _, page := range paper.Pages() {
		if page == "notice" { // the demo's vehicle is roadworthy
			if code, _, messages := pawl(t, "", "print", "1", "--page", page, "--file", path); code != exitRefused || !strings.HasPrefix(messages, "pawl: job 1: ") {
				t.Errorf("notice: exit %d, %q", code, messages)
			}
			continue
		}
		text := said(t, "", "print", "1", "--page", page, "--file", path)
		html := said(t, "", "print", "1", "--page", page, "--as", "html", "--file", path)
		if page != "blank" && (!strings.Contains(text, newest) || !strings.Contains(html, newest)) {
			t.Errorf("%s does not bear the seal %s", page, newest)
		}
		if !strings.Contains(text, "DEMO") || !strings.Contains(html, "DEMO") || !strings.Contains(html, "</html>") {
			t.Errorf("%s: no DEMO, or no end", page)
		}
		for i, r := range said(t, "", "print", "1", "--page", page, "--ascii", "--file", path) {
			if r > 0x7e {
				t.Errorf("%s: character %q at %d is not ASCII", page, r, i)
				break
			}
		}
	}
}

func TestExport(t *testing.T) {
	path := played(t)
	if x, err := paper.ReadJSON([]byte(said(t, "", "export", "1", "--file", path))); err != nil || x.Job.Number != 1 || x.Seal == "" {
		t.Errorf("%v, job %d, seal %q", err, x.Job.Number, x.Seal)
	}
	var list []json.RawMessage
	if err := json.Unmarshal([]byte(said(t, "", "export", "--all", "--file", path)), &list); err != nil || len(list) != 1 {
		t.Errorf("%d jobs, %v", len(list), err)
	}
	if out := said(t, "", "export", "--all", "--file", depotFile(t)); strings.TrimSpace(out) != "[]" {
		t.Errorf("no jobs: %q", out)
	}
	rows, err := csv.NewReader(strings.NewReader(said(t, "", "export", "--all", "--as", "csv", "--table", "torque", "--file", path))).ReadAll()
	if err != nil || len(rows) < 50 || rows[0][0] != "job" {
		t.Errorf("%d rows, %v", len(rows), err)
	}
	dir := filepath.Join(scratch(t), "out")
	said(t, "", "export", "--all", "--as", "csv", "--to", dir, "--file", path)
	for _, table := range paper.Tables() {
		if _, err := os.Stat(filepath.Join(dir, table+".csv")); err != nil {
			t.Error(err)
		}
	}
}

func TestBackupRestoreRehearse(t *testing.T) {
	path, dir := played(t), scratch(t)
	out := said(t, "", "backup", "--to", dir, "--file", path)
	backup := strings.TrimSpace(strings.TrimPrefix(out, "Copied, opened and checked: "))
	golden(t, "rehearse.text", said(t, "", "rehearse", backup))
	into := filepath.Join(dir, "new.pawl")
	said(t, "", "restore", backup, "--into", into)
	if a, b := load(t, path, 1), load(t, into, 1); a.Head != b.Head {
		t.Error("the restored record is another")
	}
	if code, _, messages := pawl(t, "", "restore", backup, "--into", into); code != exitRefused || !strings.Contains(messages, "there already") {
		t.Errorf("over a file that is there: exit %d, %q", code, messages)
	}
	data, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	data[len(data)/2+300] ^= 1
	bad := filepath.Join(dir, "pawl-backup-20260101-000000.pawl")
	if err := os.WriteFile(bad, data[:len(data)/2+301], 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, _ := pawl(t, "", "rehearse", dir)
	if code != exitRefused || !strings.Contains(out, "pawl-backup-20260101-000000.pawl: NO GOOD") || !strings.Contains(out, ": good: 1 job") {
		t.Errorf("exit %d, %s", code, out)
	}
}

func TestLaterMisuse(t *testing.T) {
	path := depotFile(t)
	for _, c := range []struct {
		args string
		code int
		say  string
	}{
		{"verify x", exitMisuse, "no number of a job"},
		{"verify 1 --paper Y", exitMisuse, "takes one of these"},
		{"verify --paper Y --file " + path, exitRefused, "28 characters"},
		{"verify --against nothing-here --file " + path, exitMisuse, "cannot be read"},
		{"seals now", exitMisuse, "no arguments"},
		{"rebuild now", exitMisuse, "no arguments"},
		{"find paint", exitMisuse, "no question is called"},
		{"find tightened 9 x", exitMisuse, "expected year-month-day"},
		{"find tightened 9", exitMisuse, "needs day"},
		{"find open-states 9", exitMisuse, "needs no more"},
		{"find batch batch=a batch=b", exitMisuse, "given twice"},
		{"find batch paint=1 x", exitMisuse, `no parameter "paint"`},
		{"find batch a --words b", exitMisuse, "NAME=VALUE"},
		{"find --from x", exitMisuse, "--from"},
		{"find --from 2026-02-02 --to 2026-01-01", exitMisuse, "lies after"},
		{"find --outcome x", exitMisuse, "--outcome"},
		{"find --exception x", exitMisuse, "--exception"},
		{"find --as xml", exitMisuse, "text, json or csv"},
		{"recall x", exitMisuse, "no number of a recall"},
		{"recall 1 2", exitMisuse, "one recall"},
		{"recall 3 --file " + path, exitRefused, "no recall 3"},
		{"recall batch B", exitMisuse, "--by"},
		{"recall batch B --by F02 --file " + path, exitMisuse, "code"},
		{"recall batch B --by nobody --file " + path, exitMisuse, "nobody on the register"},
		{"recall work-off 1 9 --act paint --words x --by F02", exitMisuse, "--act"},
		{"recall certificate W8 --number 1 --calibrated x --due y --by F02", exitMisuse, "expected year-month-day"},
		{"recall certificate W8 --number 1 --calibrated 2026-01-01 --due 2026-02-01 --as-found 9 --by F02", exitMisuse, "--as-found"},
		{"recall certificate W8 --number 1 --calibrated 2026-01-01 --due 2026-02-01 --of both --by F02", exitMisuse, "setting or delivered"},
		{"history", exitMisuse, "number of a vehicle"},
		{"history none --file " + path, exitRefused, "no vehicle"},
		{"print", exitMisuse, "number of a job"},
		{"print 1 --page letter", exitMisuse, "--page"},
		{"print 1 --as pdf", exitMisuse, "text or html"},
		{"print 7 --file " + path, exitRefused, "job 7"},
		{"export", exitMisuse, "or --all"},
		{"export 1 --all", exitMisuse, "or --all"},
		{"export 1 --as csv", exitMisuse, "--table"},
		{"export 1 --as csv --table x", exitMisuse, "--table"},
		{"export 1 --table torque", exitMisuse, "--as csv"},
		{"backup --file " + path, exitRefused, "no backup folder"},
		{"backup --to /nowhere/at/all --file " + path, exitRefused, "not there"},
		{"restore x", exitMisuse, "--into"},
		{"restore nothing-here --into " + path, exitRefused, "there already"},
		{"rehearse nothing-here", exitRefused, "no such file"},
	} {
		code, out, messages := pawl(t, "", strings.Fields(c.args)...)
		if code != c.code || out != "" || !strings.Contains(messages, c.say) || strings.Count(messages, "\n") != 1 {
			t.Errorf("pawl %s: exit %d, want %d with one line saying %q:\n%s%s", c.args, code, c.code, c.say, out, messages)
		}
	}
}
