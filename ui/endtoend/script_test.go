package endtoend

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// The scripts of the demo, relative to this package.
const scripts = "../command/demo"

// line is an entry line as pawl enter takes it, with what this test needs of it.
type line struct {
	raw       string
	Do        string
	By        string
	Stage     string
	Check     string
	Item      string
	Value     string
	Values    []string
	With      string
	Clicked   bool
	All       bool
	Reason    string
	Rework    string
	Note      string
	Kind      string
	PartsAt   string `json:"parts_at"`
	KeyAt     string `json:"key_at"`
	Call      string
	Read      int
	Class     string
	Words     string
	Told      string
	Key       string
	Answer    string
	Expect    string
	Vehicle   string
	Procedure string
	Complaint string
	Customer  string
	Odometer  string
	Adapter   *struct{ Length, Offset, Angle string }
}

// ref is the stage the line is about.
func (l line) ref() procedures.Ref { return procedures.ParseRef(l.Stage) }

// readScript reads the lines of a script that do something.
func readScript(t testing.TB, name string) []line {
	t.Helper()
	return readLines(t, filepath.Join(scripts, name))
}

// readLines reads the lines of a file that do something.
func readLines(t testing.TB, name string) []line {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var out []line
	for text := range strings.Lines(string(data)) {
		if text = strings.TrimSpace(text); text != "" && !strings.HasPrefix(text, "#") {
			out = append(out, parseLine(t, text))
		}
	}
	if len(out) == 0 {
		t.Fatalf("%s has no lines", name)
	}
	return out
}

func parseLine(t testing.TB, text string) line {
	t.Helper()
	l := line{raw: text}
	if err := json.Unmarshal([]byte(text), &l); err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return l
}

// withValue is the line with one value in place of its list; it fills the next item of the check.
func (l line) withValue(t testing.TB, value string) line {
	t.Helper()
	fields := map[string]json.RawMessage{}
	if err := json.Unmarshal([]byte(l.raw), &fields); err != nil {
		t.Fatal(err)
	}
	var err error
	if fields["values"], err = json.Marshal([]string{value}); err != nil {
		t.Fatal(err)
	}
	raw, err := json.Marshal(fields)
	if err != nil {
		t.Fatal(err)
	}
	return parseLine(t, string(raw))
}

// withCodes adds the code of everybody's first line, which a new run of pawl enter asks for.
func withCodes(t testing.TB, lines []line) []line {
	t.Helper()
	told := map[string]bool{}
	out := slices.Clone(lines)
	for i, l := range out {
		if !told[l.By] && !strings.Contains(l.raw, `"code"`) {
			out[i] = parseLine(t, strings.Replace(l.raw, "{", `{"code": "`+codes[l.By]+`", `, 1))
		}
		told[l.By] = true
	}
	return out
}

// reply is the answer of pawl enter to a line.
type reply struct {
	OK         bool
	AsExpected *bool `json:"as_expected"`
	Error      string
	Recorded   []struct {
		Event, Stage, Check, Item, Raw string
	}
	Refused []struct {
		Code, Stage, Check, Item, Text string
	}
}

// companion is pawl enter on a file of its own. The same lines go to it as to the screen, one by
// one, so that both records grow at the same pace.
type companion struct {
	t    testing.TB
	cmd  *exec.Cmd
	in   io.WriteCloser
	out  *bufio.Scanner
	done bool
	wait time.Duration // for the minute of countersignatures
}

func startCompanion(t testing.TB, path, job string) *companion {
	t.Helper()
	c := &companion{t: t, cmd: exec.Command(program(t), "enter", job, "--file", path)}
	var err error
	if c.in, err = c.cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	c.out = bufio.NewScanner(out)
	c.out.Buffer(nil, 1<<22)
	if err := c.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if !c.done {
			c.in.Close()
			_ = c.cmd.Wait() // the test has failed already
		}
	})
	return c
}

// tell gives a line to pawl enter. A countersignature that comes sooner than the rules believe
// anybody can look is told again when the minute is over.
func (c *companion) tell(l line) reply {
	c.t.Helper()
	for {
		if _, err := io.WriteString(c.in, l.raw+"\n"); err != nil {
			c.t.Fatal(err)
		}
		if !c.out.Scan() {
			c.t.Fatalf("pawl enter ends at %s", l.raw)
		}
		var r reply
		if err := json.Unmarshal(c.out.Bytes(), &r); err != nil {
			c.t.Fatalf("%s: %v", c.out.Text(), err)
		}
		switch {
		case len(r.Refused) == 1 && r.Refused[0].Code == "burst":
			time.Sleep(500 * time.Millisecond)
			c.wait += 500 * time.Millisecond
			continue
		case r.OK && l.Expect == "", r.AsExpected != nil && *r.AsExpected:
			return r
		}
		c.t.Fatalf("pawl enter: %s\n%s", l.raw, c.out.Text())
	}
}

// end closes the input; every line went as its writer expected.
func (c *companion) end() {
	c.t.Helper()
	c.done = true
	c.in.Close()
	// A refusal that was waited out counts as one, so the exit code may be 1.
	_ = c.cmd.Wait()
}

// depot sets up the invented depot in a file.
func depot(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "depot.pawl")
	if out, err := exec.Command(program(t), "demo", "--depot-only", "--file", path).CombinedOutput(); err != nil {
		t.Fatalf("pawl demo: %v\n%s", err, out)
	}
	return path
}

// copied is a copy of a file that no program has open.
func copied(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "copy.pawl")
	if err := os.WriteFile(to, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return to
}

// awaitDraft waits until the file of a program that runs holds such a draft. It reads copies: one is
// whole unless two changes are written while it is made, and then it is made again.
func awaitDraft(t testing.TB, path string, ok func(store.Draft) bool) {
	t.Helper()
	var kept store.Draft
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		f, err := store.Open(copied(t, path), store.Options{})
		if err != nil {
			continue
		}
		kept, _ = f.Draft()
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		if ok(kept) {
			return
		}
	}
	t.Fatalf("the file keeps the draft %+v", kept)
}

// planOf is the plan of the job that a line opens, worked out on a copy of the depot.
func planOf(t testing.TB, depot string, open line) *procedures.Plan {
	t.Helper()
	f, err := store.Open(copied(t, depot), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	who, ok := f.Register().Person(open.By)
	if !ok {
		t.Fatalf("the depot has nobody with the id %s", open.By)
	}
	c, err := f.OpenJob(store.Actor{Person: who, CodeGiven: true}, store.NewJob{Vehicle: open.Vehicle, Procedure: open.Procedure,
		Complaint: open.Complaint, Customer: open.Customer, Odometer: open.Odometer})
	if err != nil {
		t.Fatal(err)
	}
	return c.Plan
}

// describe is an event in a line, without its time.
func describe(e job.Event) string {
	body, err := json.Marshal(e.Body)
	if err != nil {
		return err.Error()
	}
	return fmt.Sprintf("%d %s %s %T %s", e.Seq, e.By.ID, e.Station, e.Body, body)
}
