package command

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bay.example/pawl/procedures"
)

func TestGraphInEveryForm(t *testing.T) {
	ps, err := procedures.Library()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ps {
		code, text, messages := pawl(t, "", "graph", p.ID)
		if code != exitFine || messages != "" {
			t.Errorf("%s: %d %s", p.ID, code, messages)
		}
		for line := range strings.Lines(text) {
			if width(strings.TrimSuffix(line, "\n")) > textWidth {
				t.Errorf("%s: a line of %d cells: %s", p.ID, width(line), line)
			}
		}
		_, dot, _ := pawl(t, "", "graph", p.ID, "--as", "dot")
		nodes := map[string]bool{}
		for _, m := range regexp.MustCompile(`(?m)^    "([^"]+)" \[label=`).FindAllStringSubmatch(dot, -1) {
			if nodes[m[1]] {
				t.Errorf("%s: %s is drawn twice", p.ID, m[1])
			}
			nodes[m[1]] = true
		}
		edges := regexp.MustCompile(`(?m)^  "([^"]+)" -> "([^"]+)"`).FindAllStringSubmatch(dot, -1)
		if len(nodes) < len(p.Stages) || len(edges) < len(p.Stages)-1 {
			t.Errorf("%s: %d nodes and %d edges of %d stages", p.ID, len(nodes), len(edges), len(p.Stages))
		}
		for _, m := range edges {
			if !nodes[m[1]] || !nodes[m[2]] {
				t.Errorf("%s: an edge from %s to %s, which are not both drawn", p.ID, m[1], m[2])
			}
		}
		_, page, _ := pawl(t, "", "graph", p.ID, "--as", "html")
		dec := xml.NewDecoder(strings.NewReader(page[strings.Index(page, "<svg"):strings.Index(page, "<table>")]))
		boxes := 0
		for {
			tok, err := dec.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: the drawing is not well formed: %v", p.ID, err)
			}
			if e, ok := tok.(xml.StartElement); ok && e.Name.Local == "rect" {
				boxes++
			}
		}
		if boxes != len(nodes) {
			t.Errorf("%s: %d boxes for %d stages", p.ID, boxes, len(nodes))
		}
	}
}

func TestGraphForAVehicle(t *testing.T) {
	_, every, _ := pawl(t, "", "graph", "rear-discs-pads")
	code, one, messages := pawl(t, "", "graph", "rear-discs-pads", "--traits", "height-control=none,wear-sensor=left")
	if code != exitFine || !strings.Contains(every, "height-lifting") || strings.Contains(one, "height-lifting") || !strings.Contains(one, "sensor-fitted") {
		t.Errorf("height control none still has its stages, or the sensor is gone: %d %s", code, messages)
	}
	for _, c := range []struct{ args, say string }{
		{"graph", "takes one procedure file"},
		{"graph nothing", "no shipped procedure"},
		{"graph rear-discs-pads --as picture", "expected text, dot or html"},
		{"graph rear-discs-pads --traits wings=two", `no trait "wings"`},
		{"graph rear-discs-pads --traits height-control=often", "expected one of"},
		{"new", "new what?"},
		{"new sheet", "takes one id"},
		{"new procedure My-Job", "is no id"},
	} {
		if code, _, messages := pawl(t, "", strings.Fields(c.args)...); code != exitMisuse || !strings.Contains(messages, c.say) {
			t.Errorf("pawl %s: %d %s", c.args, code, messages)
		}
	}
}

// What pawl new writes passes pawl check, alone and as a pair.
func TestNewPassesCheck(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, args ...string) string {
		code, out, messages := pawl(t, "", args...)
		if code != exitFine {
			t.Fatalf("%v: %d %s", args, code, messages)
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(out), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	p := write("p.toml", "new", "procedure", "new-procedure")
	s := write("s.toml", "new", "sheet", "my-type", "--for", p)
	code, out, messages := pawl(t, "", "check", p, s)
	if code != exitFine || !strings.Contains(out, "my-type serves new-procedure") {
		t.Errorf("%d %s%s", code, out, messages)
	}
}
