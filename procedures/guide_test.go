package procedures

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// fence is one fenced example of the guide.
type fence struct{ kind, text string }

func fences(t *testing.T, file string) []fence {
	t.Helper()
	var out []fence
	in := false
	for line := range strings.Lines(string(readFile(t, file))) {
		kind, mark := strings.CutPrefix(strings.TrimSpace(line), "```")
		switch {
		case mark && !in:
			out, in = append(out, fence{kind: kind}), true
		case mark:
			in = false
		case in:
			out[len(out)-1].text += line
		}
	}
	return out
}

// changed adds an example to the file before it. Where it begins with "# released: after = …" that
// line takes the place of the release's own.
func changed(t *testing.T, file, example string) string {
	t.Helper()
	first, _, _ := strings.Cut(example, "\n")
	if line, ok := strings.CutPrefix(first, "# released: "); ok {
		head, release, found := strings.Cut(file, "id = \"released\"")
		before, behind, _ := strings.Cut(release, "after = ")
		_, behind, _ = strings.Cut(behind, "\n")
		if !found {
			t.Fatal("the file has no stage released")
		}
		file = head + "id = \"released\"" + before + line + "\n" + behind
	}
	return file + "\n" + example
}

// Every example of the guide does what the guide says of it: a file that starts passes the checker,
// one that is wrong gives the faults shown, a sheet serves the procedure.
func TestGuide(t *testing.T) {
	file, block := "", ""
	var faults error
	seen := map[string]int{}
	find := func(id string) (string, []byte, bool) {
		if b, err := LoadBlock("block.toml", []byte(block)); err == nil && b.ID == id {
			return "block.toml", []byte(block), true
		}
		return ShippedBlock(id)
	}
	judge := func(text string) (*Procedure, error) {
		p, err := LoadProcedureWith("guide.toml", []byte(text), find)
		if err == nil {
			_, err = p.Check()
		}
		return p, err
	}
	for _, f := range fences(t, "GUIDE.md") {
		seen[f.kind]++
		switch f.kind {
		case "toml start":
			file = f.text
			if _, err := judge(file); err != nil {
				t.Fatalf("%v", err)
			}
		case "toml wrong", "toml include":
			if _, faults = judge(changed(t, file, f.text)); faults == nil {
				t.Errorf("no fault in\n%s", f.text)
			}
		case "text":
			if faults == nil {
				t.Fatalf("faults are shown behind no wrong example:\n%s", f.text)
			}
			if diff := cmp.Diff(strings.TrimSpace(f.text), faults.Error()); diff != "" {
				t.Errorf("(-guide +checker):\n%s", diff)
			}
		case "toml sheet":
			s, err := LoadSheet("sheet.toml", []byte(f.text))
			if err == nil {
				err = s.Check()
			}
			if err != nil {
				t.Fatal(err)
			}
			p, err := judge(file)
			if err != nil {
				t.Fatal(err)
			}
			if err := CheckPair(p, s); err != nil {
				t.Error(err)
			}
		case "toml block":
			block = f.text
		case "toml fixed":
			if _, err := judge(changed(t, file, f.text)); err != nil {
				t.Error(err)
			}
		default:
			t.Errorf("the guide has an example of the kind %q, which nothing runs", f.kind)
		}
	}
	for _, kind := range []string{"toml start", "toml wrong", "toml sheet", "toml block", "toml include", "toml fixed", "text"} {
		if seen[kind] == 0 {
			t.Errorf("the guide has no example of the kind %q", kind)
		}
	}
}
