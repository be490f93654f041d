package paper

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/procedures"
)

// hostile are texts that try to leave their place on a screen, a page or in a browser.
var hostile = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `</td></tr></table><h1>RELEASED</h1>`, `' onclick='x`, `&lt;b&gt;&#x202e;`, `]]><!--`, `</style><style>*{display:none}</style>`,
	"\x1b[2J\x1b[1;1Hinside", "\x1b]52;c;aGk=\x07", "\u009b31m", "a\u202egnp.exe", "\u2066x\u2069", "zero\u200bwidth", "line\u2028break", "a\rb", "page\fbreak", "two\nlines", "\ufffe\uffff", "\xff\xfe", "=cmd|' /C calc'!A0",
}

// forged is a job that carries a text everywhere a text goes. The rules refuse most of these texts;
// a forged file does not ask them.
func forged(t testing.TB, text string) *job.Card {
	t.Helper()
	c := openBay(t, false).card
	w := job.Who{ID: text, Name: text, Role: procedures.Role(text)}
	m := job.Mark{Seq: 1, By: w, At: c.OpenedAt}
	c.Opened.Complaint, c.Opened.Customer, c.Opened.Vehicle = text, text, job.VehicleRef{ID: text, Name: text, VIN: text}
	c.Advice = []job.AdviceLine{{Mark: m, Advised: job.Advised{Text: text, Urgency: text}, Decided: &job.AdviceDecided{Answer: text, Words: text, ByWhom: text}}}
	c.Addenda = []job.Note{{Mark: m, Text: text}}
	c.Holds = []job.Withholding{{Mark: m, Withheld: job.Withheld{Class: text, Words: text, Told: text}}}
	c.Withheld = &c.Holds[0]
	c.Deviations = []job.Deviation{{Mark: m, Deviated: job.Deviated{Title: text, Reason: text}}}
	c.Paused, c.PauseFor, c.Stop = &m, text, job.Paused{Kind: text, PartsAt: text, KeyAt: text, Call: text}
	s := &c.Stages[0]
	s.Attempts = []job.Attempt{{No: 1, Signed: &m}}
	for i := range s.Node.Checks {
		s.Attempts[0].Entries = append(s.Attempts[0].Entries, job.Entry{Mark: m, Entered: job.Entered{Stage: s.Node.Ref, Check: s.Node.Checks[i].ID, Raw: text, Answer: text, Source: text}})
	}
	return c
}

func TestHostileTextStaysText(t *testing.T) {
	shape := func(c *job.Card) [][]string {
		notice, err := NotRoadworthy(c, printInfo)
		if err != nil {
			t.Fatal(err)
		}
		var out [][]string
		for _, d := range []Document{Record(c, printInfo), Stop(c, printInfo), HandOver(c, printInfo), labels(t, c, printInfo), notice} {
			names, err := elements(d.HTML())
			if err != nil {
				t.Fatalf("%s: %v", d.Title, err)
			}
			out = append(out, names)
			checkText(t, d.Title, d, accents.Off(string(d.Text(false))))
			checkText(t, d.Title, d, string(d.Text(true)))
		}
		return out
	}
	plain := shape(forged(t, "text"))
	for _, text := range hostile {
		if diff := cmp.Diff(plain, shape(forged(t, text))); diff != "" {
			t.Errorf("%q changes the elements of the page:\n%s", text, diff)
		}
		for _, table := range Tables() {
			data, err := CSV(table, forged(t, text))
			if err != nil {
				t.Fatal(err)
			}
			if strings.ContainsAny(string(data), "\x1b\u202e\u009b\f\u2028") {
				t.Errorf("%q steers in table %s", text, table)
			}
		}
	}
}

func FuzzText(f *testing.F) {
	for _, text := range hostile {
		f.Add(text)
	}
	page := func(text string) Document {
		return Document{Title: text, who: text, about: text, mark: "DEMO", seal: "digest 0123456789abcdef " + text, blocks: []block{heading{text, 2}, para{text: text},
			pairs{{text, text}}, table{head: []string{text, "b"}, rows: [][]string{{text, text}}}, table{lined: true, head: []string{text}, rows: [][]string{{lines([]string{text, "z"})}}}, items{lines: []string{text}}, callout{text, text},
			signatures{text}, label{text, []string{text}}, figures{{caption: "." + text, svg: (&picture{}).done(1, 1, 1, text)}}}}
	}
	plain, err := elements(page("text").HTML())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d := page(text)
		names, err := elements(d.HTML())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(plain, names); diff != "" {
			t.Fatalf("the text changes the elements:\n%s", diff)
		}
		checkText(t, "page", d, accents.Off(string(d.Text(false))))
		checkText(t, "page in ASCII", d, string(d.Text(true)))
		if cell := textCell(text); strings.ContainsAny(cell, "\r\n\x1b") || (cell != "" && strings.ContainsRune("=+-@", rune(cell[0]))) {
			t.Fatalf("the cell is %q", cell)
		}
	})
}
