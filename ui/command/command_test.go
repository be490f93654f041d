package command

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/spf13/cobra"

	"bay.example/pawl/store"
)

func TestExitCodes(t *testing.T) {
	file := depotFile(t)
	missing := filepath.Join(t.TempDir(), "none.pawl")
	broken := filepath.Join(t.TempDir(), "broken.pawl")
	if err := os.WriteFile(broken, []byte(strings.Repeat("no workshop ", 1000)), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args string
		code int
		say  string // in the message, or in the output when there is none
	}{
		{"--version", exitFine, "pawl "},
		{"--help", exitFine, "Exit codes: 0 fine"},
		{"help reckon order", exitFine, "numbered clockwise"},
		{"help nothing", exitMisuse, "no command"},
		{"", exitMisuse, "needs a terminal"},
		{"paint", exitMisuse, `no command "paint"`},
		{"list --file " + file, exitFine, "No jobs yet"},
		{"list --file " + missing, exitRefused, "there is no workshop file"},
		{"list --file " + broken, exitRefused, "broken.pawl"},
		{"list too many", exitMisuse, "no arguments"},
		{"list --as xml", exitMisuse, "text or json"},
		{"show", exitMisuse, "the number of a job"},
		{"show one --file " + file, exitMisuse, "no number of a job"},
		{"show 0 --file " + file, exitMisuse, "no number of a job"},
		{"show 5 --file " + file, exitRefused, "job 5"},
		{"verify 5 --file " + file, exitRefused, "job 5"},
		{"enter", exitMisuse, "the number of a job, or new"},
		{"enter 5 --file " + file, exitRefused, "job 5"},
		{"check", exitMisuse, "one or more"},
		{"check " + missing, exitRefused, "cannot be read"},
		{"demo now", exitMisuse, "no arguments"},
		{"demo --file " + file, exitRefused, "there already"},
		{"list --file", exitMisuse, "wants a value"},
	} {
		code, out, messages := pawl(t, "", strings.Fields(c.args)...)
		if code != c.code || !strings.Contains(out+messages, c.say) {
			t.Errorf("pawl %s: exit %d, want %d with %q:\n%s%s", c.args, code, c.code, c.say, out, messages)
		}
		if code != exitFine && (out != "" || strings.Count(messages, "\n") != 1) {
			t.Errorf("pawl %s: wrote %q and %q, want one line of message", c.args, out, messages)
		}
	}
	if _, err := os.Stat(missing); err == nil {
		t.Error("a mistyped path made a file")
	}
}

func TestFileInUse(t *testing.T) {
	path := depotFile(t)
	f, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	code, out, messages := pawl(t, "", "list", "--file", path)
	if code != exitInUse || out != "" || !strings.Contains(messages, "in use") {
		t.Errorf("exit %d: %q %q", code, out, messages)
	}
}

// On a terminal pawl shows the screen on the file.
func TestScreenIsHandedTheFile(t *testing.T) {
	path := depotFile(t)
	p, _, messages := program("")
	p.Terminal = true
	shown := ""
	p.Screen = func(_ context.Context, f *store.File, notice string) error {
		shown = f.Path()
		if notice != "" {
			t.Errorf("a notice outside the demo: %q", notice)
		}
		return nil
	}
	if code := p.Run(context.Background(), []string{"--file", path}); code != exitFine || shown != path {
		t.Errorf("exit %d, showed %q: %s", code, shown, messages)
	}
}

// depot is the file with the two jobs of the demo's depot.
var depot = sync.OnceValues(func() ([]byte, error) {
	return kept(func(p *Program, path string) error { return p.playDepot(path) })
})

// partFile is a copy of the depot.
func partFile(t *testing.T) string { return copied(t, depot) }

// Every help fits the width of a text.
func TestHelpIsNotTooWide(t *testing.T) {
	p, _, _ := program("")
	var walk func(c *cobra.Command)
	n := 0
	walk = func(c *cobra.Command) {
		n++
		for line := range strings.Lines(c.Long) {
			if width(strings.TrimSuffix(line, "\n")) > textWidth {
				t.Errorf("%s: %s", c.CommandPath(), line)
			}
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk(p.root())
	if n < 20 {
		t.Errorf("only %d commands", n)
	}
}

func TestListAndShow(t *testing.T) {
	path := partFile(t)
	for name, args := range map[string][]string{
		"list.text": {"list"}, "list.json": {"list", "--as", "json"}, "show.text": {"show", "2"}, "show.json": {"show", "2", "--as", "json"},
	} {
		code, out, messages := pawl(t, "", append(args, "--file", path)...)
		if code != exitFine || messages != "" {
			t.Fatalf("%v: exit %d: %s", args, code, messages)
		}
		golden(t, name, normal(out))
		if strings.HasSuffix(name, "json") {
			var v any
			if err := json.Unmarshal([]byte(out), &v); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if bad := floats(v); len(bad) > 0 {
				t.Errorf("%s: bare JSON numbers with decimals: %v", name, bad)
			}
			continue
		}
		for line := range strings.Lines(out) {
			if width(strings.TrimSuffix(line, "\n")) > textWidth {
				t.Errorf("%s: wider than %d: %s", name, textWidth, line)
			}
		}
	}
}

// The JSON of a job holds every event and the whole chain ends in the digest it names.
func TestShowHoldsTheWholeRecord(t *testing.T) {
	path := partFile(t)
	c := load(t, path, 1)
	_, out, _ := pawl(t, "", "show", "1", "--as", "json", "--file", path)
	var got struct {
		Format int
		Seq    uint32
		Digest string
		Status string
		Events []struct {
			Seq   uint32
			Event string
		}
		Stages []struct {
			Stage    string
			Status   string
			Attempts []struct{ Entries []map[string]any }
		}
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if got.Format != showFormat || got.Seq != c.Seq() || got.Digest != c.Head.String() || got.Status != "closed" || len(got.Events) != len(c.Events) || len(got.Stages) != len(c.Stages) {
		t.Errorf("format %d, seq %d, digest %s, status %s, %d events, %d stages", got.Format, got.Seq, got.Digest, got.Status, len(got.Events), len(got.Stages))
	}
	entered, entries := 0, 0
	for i, e := range got.Events {
		if e.Seq != uint32(i+1) {
			t.Fatalf("event %d stands in place %d", e.Seq, i+1)
		}
		if e.Event == "entered" {
			entered++
		}
	}
	for _, s := range got.Stages {
		for _, a := range s.Attempts {
			entries += len(a.Entries)
		}
	}
	if entered == 0 || entered != entries {
		t.Errorf("%d entries in events, %d at stages", entered, entries)
	}
}

// damagedPart is the file with a job in the bay, with one word of an event changed in the stored bytes.
func damagedPart(t *testing.T) string {
	t.Helper()
	path := partFile(t)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const written, changed = "pads and discs worn evenly", "pads and discs torn evenly"
	if !bytes.Contains(data, []byte(written)) {
		t.Fatal("the cause is not in the file")
	}
	data = bytes.ReplaceAll(data, []byte(written), []byte(changed))
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestVerifyNamesDamage(t *testing.T) {
	path := damagedPart(t)
	code, out, messages := pawl(t, "", "verify", "2", "--file", path)
	if code != exitRefused || out != "" || !strings.Contains(messages, "event") {
		t.Errorf("exit %d, %q, %q", code, out, messages)
	}
}

func TestCheck(t *testing.T) {
	dir := filepath.Join("..", "..", "procedures")
	sheets, err := filepath.Glob(filepath.Join(dir, "sheets", "demo-minibus*.toml")) // those that serve it
	if err != nil || len(sheets) == 0 {
		t.Fatal("no sheets")
	}
	procedure := filepath.Join(dir, "library", "rear-discs-pads.toml")
	code, out, messages := pawl(t, "", append([]string{"check", procedure}, sheets...)...)
	if code != exitFine || !strings.Contains(out, "no loop, every stage reachable") || strings.Count(out, " serves ") != len(sheets) {
		t.Fatalf("exit %d:\n%s%s", code, out, messages)
	}
	// A slipped decimal in a sheet is a warning when the fastener could not carry it.
	sheet, err := os.ReadFile(filepath.Join(dir, "sheets", "demo-minibus.toml"))
	if err != nil {
		t.Fatal(err)
	}
	slipped := filepath.Join(t.TempDir(), "slipped.toml")
	if err := os.WriteFile(slipped, []byte(strings.Replace(string(sheet), `"90..100 N·m"`, `"900..1000 N·m"`, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	code, _, messages = pawl(t, "", "check", procedure, slipped)
	if code != exitFine || !strings.Contains(messages, "warning:") || !strings.Contains(messages, "slipped decimal") {
		t.Errorf("exit %d: %s", code, messages)
	}
	// Faults name file and line.
	bad := filepath.Join(t.TempDir(), "bad.toml")
	if err := os.WriteFile(bad, []byte(strings.Replace(string(sheet), `"90..100 N·m"`, `"100..90 N·m"`, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	code, _, messages = pawl(t, "", "check", bad, slipped)
	line := strings.Count(string(sheet[:strings.Index(string(sheet), `"90..100 N·m"`)]), "\n") - 1 // its id
	if code != exitRefused || !strings.Contains(messages, "bad.toml:"+strconv.Itoa(line)+":") {
		t.Errorf("exit %d, want bad.toml:%d: %s", code, line, messages)
	}
}

// Nothing here reaches the screen: it is handed in.
func TestReachesNoScreen(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	for dep := range strings.Lines(string(out)) {
		dep = strings.TrimSpace(dep)
		if strings.HasPrefix(dep, "github.com/charmbracelet/bubble") || dep == "bay.example/pawl/ui/bay" {
			t.Errorf("ui/command reaches %s", dep)
		}
	}
}
