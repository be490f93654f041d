package paper

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/ui/draw"
)

// checkText holds a text print against what every page owes.
func checkText(t *testing.T, name string, d Document, text string) {
	t.Helper()
	text = accents.Off(text)
	pages := strings.Split(text, "\f")
	for i, page := range pages {
		if n := strings.Count(page, "\n"); n != TextLines {
			t.Errorf("%s, page %d has %d lines, want %d", name, i+1, n, TextLines)
		}
		for _, want := range []string{fmt.Sprintf("page %d of %d\n", i+1, len(pages)), d.mark, accents.Off(d.seal)[:12]} {
			if !strings.Contains(page, want) {
				t.Errorf("%s, page %d does not say %q", name, i+1, want)
			}
		}
		for no, line := range strings.Split(page, "\n") {
			if w := draw.Width(line); w > TextWidth {
				t.Errorf("%s, page %d, line %d is %d wide: %q", name, i+1, no+1, w, line)
			}
			if draw.Clean(line) != line {
				t.Errorf("%s, page %d, line %d steers: %q", name, i+1, no+1, line)
			}
		}
	}
}

func TestEveryTextPageIsNumberedMarkedAndNarrow(t *testing.T) {
	for name, d := range papers(t) {
		if d.mark == "" {
			t.Errorf("%s carries no mark though everything in it is invented", name)
		}
		checkText(t, name, d, accents.Off(string(d.Text(false))))
		ascii := string(d.Text(true))
		checkText(t, name+" in ASCII", d, ascii)
		for i := range len(ascii) {
			if ascii[i] >= 0x80 {
				t.Fatalf("%s: byte %#x in ASCII near %q", name, ascii[i], ascii[max(0, i-30):i])
			}
		}
	}
}

func TestMarksTellPracticeFromDemo(t *testing.T) {
	if m := markOf(openBay(t, true).card); m != "PRACTICE / DEMO" {
		t.Errorf("a practice job on invented data is marked %q", m)
	}
	c := openBay(t, false).card
	c.Opened.Demo = false
	plain := *c.Plan.Sheet
	plain.Demo = false
	plan := *c.Plan
	plan.Sheet, c.Plan = &plain, &plan
	if m := markOf(c); m != "" {
		t.Errorf("real work is marked %q", m)
	}
	if text := accents.Off(string(Stop(c, printInfo).Text(false))); strings.Contains(text, "***") {
		t.Error("a print of real work carries a mark")
	}
}

// elements reads HTML as strict XML and returns its elements in order; anything that is not
// well-formed, or an element or address this package does not write, is an error.
func elements(data []byte) ([]string, error) {
	allowed := " html head meta title style body table thead tbody tr th td div span b br p h1 h2 h3 dl dt dd ul li i figure figcaption svg line rect circle text path "
	dec := xml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(data, []byte("<!DOCTYPE html>\n"))))
	dec.Strict = true
	var out []string
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		if !strings.Contains(allowed, " "+e.Name.Local+" ") {
			return nil, fmt.Errorf("element %s", e.Name.Local)
		}
		for _, a := range e.Attr {
			if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "href" || a.Name.Local == "src" {
				return nil, fmt.Errorf("attribute %s", a.Name.Local)
			}
		}
		out = append(out, e.Name.Local)
	}
}

func TestHTMLIsWellFormedAndNeedsNothingElse(t *testing.T) {
	for name, d := range papers(t) {
		data := d.HTML()
		if _, err := elements(data); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if rest := bytes.ReplaceAll(data, []byte(`xmlns="http://www.w3.org/2000/svg"`), nil); bytes.Contains(rest, []byte("://")) || bytes.Contains(rest, []byte("url(")) {
			t.Errorf("%s reaches outside itself", name)
		}
	}
}

// TestPrintedPagesInABrowser prints in a real browser where there is one, and reads the pages back.
func TestPrintedPagesInABrowser(t *testing.T) {
	browser, err1 := exec.LookPath("chromium")
	reader, err2 := exec.LookPath("pdftotext")
	if err1 != nil || err2 != nil || testing.Short() {
		t.Skip("no chromium and pdftotext here, or -short")
	}
	dir := t.TempDir()
	for name, d := range map[string]Document{"record": papers(t)["record"], "blank": papers(t)["blank"]} {
		for _, size := range []string{"A4", "letter"} {
			page := filepath.Join(dir, name+size+".html")
			data := bytes.Replace(d.HTML(), []byte("@page { "), []byte("@page { size: "+size+"; "), 1)
			if err := os.WriteFile(page, data, 0o600); err != nil {
				t.Fatal(err)
			}
			pdf := page + ".pdf"
			ctx, done := context.WithTimeout(t.Context(), 2*time.Minute)
			defer done()
			if out, err := exec.CommandContext(ctx, browser, "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+filepath.Join(dir, "profile"), "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+page).CombinedOutput(); err != nil {
				t.Fatalf("print: %v\n%s", err, out)
			}
			text, err := exec.CommandContext(ctx, reader, "-layout", pdf, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			pages := strings.Split(strings.TrimSuffix(accents.Off(string(text)), "\f"), "\f")
			for i, p := range pages {
				for _, want := range []string{fmt.Sprintf("page %d of %d", i+1, len(pages)), d.mark, accents.Off(d.who), accents.Off(d.seal)[:18]} {
					if !strings.Contains(p, want) {
						t.Errorf("%s on %s, page %d does not say %q", name, size, i+1, want)
					}
				}
			}
			if name == "record" && !strings.Contains(pages[1], "For the file") {
				t.Errorf("on %s the customer's part takes more than one page", size)
			}
		}
	}
}
