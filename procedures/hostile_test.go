package procedures

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"
)

// What a hostile file may cost at most. The bounds of the loader keep it well below either; these are
// wide so that a slow machine with the race detector does not fail, and a cost that multiplies does.
const (
	mostTime   = time.Minute
	mostMemory = 2 << 30 // allocated altogether, most of it let go on the way
)

// bounded judges a hostile file and measures what that costs.
func bounded(t *testing.T, judge func() error) error {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	begin := time.Now()
	err := judge()
	took := time.Since(begin)
	runtime.ReadMemStats(&after)
	if memory := after.TotalAlloc - before.TotalAlloc; took > mostTime || memory > mostMemory {
		t.Errorf("took %v and %d MB", took, memory>>20)
	}
	return err
}

// Each hostile file gets a few clear words, and gets them without the machine grinding. TOML has no
// aliases; includes are all that multiplies, and TestIncludeFaults has those.
func TestHostileFiles(t *testing.T) {
	base := string(readFile(t, "testdata", "small.toml"))
	sheet := string(readFile(t, "testdata", "small-sheet.toml"))
	stage := func(i int) string {
		return fmt.Sprintf("\n[[stage]]\nid = \"s-%d\"\ntitle = \"x\"\nphase = \"work\"\nwhy = \"x\"\ngood = \"x\"\nwho = \"mechanic\"\n", i)
	}
	many := func(n int, format string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format, i)
		}
		return b.String()
	}
	stages := func(n int) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(stage(i))
		}
		return b.String()
	}
	// A chain in which each stage asks two findings of the one before: the ways through double at
	// every step.
	doubling := func(n int) string {
		var b strings.Builder
		b.WriteString(strings.Replace(base, "[[state]]", many(n, "[[finding]]\nid = \"a-%[1]d\"\ntitle = \"x\"\nvalues = [\"y\", \"n\"]\n\n[[finding]]\nid = \"b-%[1]d\"\ntitle = \"x\"\nvalues = [\"y\", \"n\"]\n\n")+"[[state]]", 1))
		for i := range n {
			b.WriteString(stage(i))
			if i > 0 {
				fmt.Fprintf(&b, "after = [\"s-%[1]d\"]\nwhen = [{ finding = \"a-%[1]d\", is = [\"y\"] }, { finding = \"b-%[1]d\", is = [\"y\"] }]\n", i-1)
			}
			for _, q := range []string{"a", "b"} {
				fmt.Fprintf(&b, "[[stage.check]]\nid = \"%[1]s\"\nkind = \"choice\"\ntitle = \"x\"\noptions = [\"y\", \"n\"]\nfinding = \"%[1]s-%[2]d\"\n", q, i)
			}
		}
		// Behind the last of the chain comes the release.
		return strings.Replace(b.String(), `after = ["lower"]`, fmt.Sprintf(`after = ["lower", "s-%d"]`, n-1), 1)
	}
	// As many stages, states and ties between them as the bounds let through.
	tied := func() string {
		var b strings.Builder
		b.WriteString(strings.Replace(base, "[[stage]]", many(190, "[[state]]\nid = \"x%d\"\ntitle = \"x\"\ndanger = \"x\"\nlabel = \"x\"\nif_stopped = \"x\"\nsided = true\n\n")+"[[stage]]", 1))
		for i := range 390 {
			b.WriteString(stage(i))
			fmt.Fprintf(&b, "sided = true\nneeds_open = [%[1]s]\nneeds_shut = [%[1]s]\nsets = [%[1]s]\n", many(90, "\"x%d\", "))
			if i > 0 {
				fmt.Fprintf(&b, "after = [\"s-%d\"]\n", i-1)
			}
		}
		return strings.Replace(b.String(), `after = ["lower"]`, `after = ["lower", "s-389"]`, 1)
	}
	for _, c := range []struct {
		name, data string
		sheet      bool
		want       string
	}{
		{name: "10,000 stages", data: strings.Replace(base, "[[stage]]", stages(10000)+"\n[[stage]]", 1), want: "10005 stages; at most 400 are taken"},
		{name: "10,000 small stages", data: "format = 1\n" + strings.Repeat("[[stage]]\nid = \"a\"\n", 10000), want: "10000 stages; at most 400 are taken"},
		{name: "400 stages of one id", data: strings.Replace(base, "[[stage]]", strings.Repeat(stage(7), 390)+"\n[[stage]]", 1), want: `stage "s-7" stands twice`},
		{name: "ways that double", data: doubling(90), want: "combinations of traits and answers bear on it"},
		{name: "everything tied to everything", data: tied(), want: "which no stage puts back before the release"},
		{name: "many small checks", data: base + strings.Repeat("[[stage.check]]\nid = \"a\"\n", 9000), want: "at most 4000 are taken"},
		{name: "too large", data: base + strings.Repeat("#", MaxFile), want: "at most 1048576 bytes are read"},
		{name: "deep brackets", data: "format = 1\nphase = " + strings.Repeat("[", 100000), want: "nested deeper than 32"},
		{name: "deep tables", data: "format = 1\nphase = " + strings.Repeat("{a=", 100000), want: "nested deeper than 32"},
		{name: "deep dotted key", data: "format = 1\n" + strings.Repeat("a.", 300000) + "a = 1", want: "unknown key"},
		{name: "deep table name", data: "format = 1\n[" + strings.Repeat("a.", 300000) + "a]\nx = 1", want: "unknown key"},
		{name: "not UTF-8", data: base + "# \xff\xfe", want: "not valid UTF-8"},
		{name: "a zero byte", data: strings.Replace(base, "Tighten", "Tight\x00en", 1), want: "control"},
		{name: "many unknown keys", data: "format = 1\n" + many(50000, "k%d = 1\n"), want: "unknown key"},
		{name: "many values", data: strings.Replace(base, `values = ["steel", "air"]`, "values = ["+many(60000, "\"v%d\",")+"]", 1), want: "trait \"springs\" values lists 60000 entries; at most 200 are taken"},
		{name: "many unknown names", data: strings.Replace(base, `after = ["raise"]`, "after = ["+many(60000, "\"v%d\",")+"]", 1), want: "stage \"tighten\": after lists 60000 entries"},
		{name: "look-alike letters", data: strings.Replace(base, `id = "tighten"`, "id = \"tightеn\"", 1), want: `"tight\u0435n"`},
		{name: "invisible letter", data: strings.Replace(base, `id = "tighten"`, "id = \"tigh\u200bten\"", 1), want: `"tigh\u200bten"`},
		{name: "number beyond reason", data: strings.Replace(base, "format = 1", "format = 99999999999999999999", 1), want: "too large"},
		{name: "empty", data: "", want: "the file is empty"},
		{name: "sheet: many windows", sheet: true, data: sheet + many(9000, "[[window]]\nid = \"w%d\"\nvalue = \"1..2 mm\"\nsource = \"book\"\n"), want: "window lists 9001 entries"},
		{name: "sheet: window that never ends", sheet: true, data: strings.Replace(sheet, "90..100", strings.Repeat("9", 500000)+"..100", 1), want: "window \"bolt-torque\""},
		{name: "sheet: count beyond reason", sheet: true, data: sheet + "[[count]]\nid = \"n\"\nvalue = 9223372036854775807\nsource = \"book\"\n", want: "expected 1 to 99"},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := bounded(t, func() error {
				if c.sheet {
					s, err := LoadSheet("hostile.toml", []byte(c.data))
					if err == nil {
						err = s.Check()
					}
					return err
				}
				p, err := LoadProcedure("hostile.toml", []byte(c.data))
				if err == nil {
					_, err = p.Check()
				}
				return err
			})
			if err == nil {
				t.Fatal("taken without a word")
			}
			text := err.Error()
			if !strings.Contains(text, c.want) {
				t.Errorf("says %.300q, want %q in it", text, c.want)
			}
			if n := strings.Count(text, "\n"); n >= maxFaults {
				t.Errorf("%d lines of complaint", n+1)
			}
			for line := range strings.Lines(text) {
				if len(line) > 600 {
					t.Errorf("a line of %d bytes: %.80q…", len(line), line)
				}
			}
		})
	}
}
