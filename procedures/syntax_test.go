package procedures

import (
	"strings"
	"testing"
)

// What is wrong with the writing of a file is said with its line and in words of whoever wrote it.
func TestWritingOfFiles(t *testing.T) {
	base := string(readFile(t, "testdata", "small.toml"))
	sheet := string(readFile(t, "testdata", "small-sheet.toml"))
	block := "format = 1\nblock = \"b\"\ntitle = \"B\"\n[[phase]]\nid = \"x\"\ntitle = \"X\"\n"
	with := func(old, now string) string {
		if !strings.Contains(base, old) {
			t.Fatalf("no %q in the file", old)
		}
		return strings.Replace(base, old, now, 1)
	}
	procedure := func(text string) error { _, err := LoadProcedure("f", []byte(text)); return err }
	ofSheet := func(text string) error { _, err := LoadSheet("f", []byte(text)); return err }
	ofBlock := func(text string) error { _, err := LoadBlock("f", []byte(text)); return err }
	for _, c := range []struct {
		name string
		load func(string) error
		text string
		want string // empty: sound
	}{
		{"byte order mark", procedure, "\uFEFF" + base, ""},
		{"byte order mark, sheet", ofSheet, "\uFEFF" + sheet, ""},
		{"byte order mark before block", ofBlock, "\uFEFFblock = \"b\"\nformat = 1\ntitle = \"B\"\n", ""},
		{"line ends of another system", procedure, strings.ReplaceAll(base, "\n", "\r\n"), ""},
		{"UTF-16", procedure, "\xff\xfef\x00", "f:1: the file is UTF-16 text; save it as UTF-8"},
		{"Latin-1", procedure, with("Tighten", "Tighten gel\xf6st"), "f:64: the line is not valid UTF-8 text (byte 0xf6); save the file as UTF-8"},
		{"curly quotes", procedure, with(`"Tighten"`, `“Tighten”`), `f:64: the quotation mark “ is not a straight one; expected " at both ends of a text`},
		{"low quotes", procedure, with(`"Tighten"`, `„Tighten“`), `f:64: the quotation mark „ is not a straight one; expected " at both ends of a text`},
		{"one curly quote", procedure, with(`"Tighten"`, `"Tighten”`), `f:64: the quotation mark ” is not a straight one; expected " at both ends of a text`},
		{"curly quotes in a list", procedure, with(`"setting wrench"`, `“setting wrench”`), `f:79: the quotation mark “ is not a straight one; expected " at both ends of a text`},
		{"no quotes", procedure, with(`who = "mechanic"`, `who = mechanic`), `f:38: mechanic stands without quotes; expected text in quotes, as in "mechanic"`},
		{"no quotes in a list", procedure, with(`"setting wrench"`, `setting wrench`), `f:79: setting stands without quotes; expected text in quotes, as in "setting"`},
		{"True", procedure, with(`needs_open`, "hold = True\nneeds_open"), "f:71: True is neither true nor false; expected one of them in small letters, or text in quotes"},
		{"no", procedure, with(`needs_open`, "hold = no\nneeds_open"), "f:71: no is neither true nor false; expected one of them in small letters, or text in quotes"},
		{"no value", procedure, with(`who = "mechanic"`, `who = `), "f:38: no value stands behind the equals sign"},
		{"date with points", procedure, with(`revision = "1"`, "revision = \"1\"\ndate = 2.3.2026"), "f:5: \".2026\" stands behind the value; expected the end of the line, or quotes round the whole text"},
		{"a file of another system", procedure, "format = 1\rid = \"a\"\r\x1b[2J", "f:1: \"id = \\\"a\\\"\\r\\x1b[2J\" stands behind the value; expected the end of the line, or quotes round the whole text"},
		{"bare date", procedure, with(`revision = "1"`, "revision = \"1\"\ndate = 2026-03-02"), "f:5: date is given as a date or a time without quotes; expected text in quotes"},
		{"bare date, sheet", ofSheet, strings.Replace(sheet, `"2026-01-31"`, `2026-01-31`, 1), "f:6: date is given as a date or a time without quotes; expected text in quotes"},
		{"table for a list", procedure, with(`when = [{ decision = "scope", is = ["all"] }]`, `when = { decision = "scope", is = ["all"] }`), `f:70: stage "tighten": when is given as a table; expected a list of tables, as in [{ … }]`},
		{"number among texts", procedure, with(`["setting wrench"]`, `["setting wrench", 1]`), `f:79: stage "tighten.bolts": tools is given as a whole number; expected text in quotes`},
		{"number in an inline table", procedure, with(`is = ["all"]`, `is = 3`), `f:70: stage "tighten": when.is is given as a whole number; expected a list of texts, as in ["…", "…"]`},
		{"single brackets", procedure, with("[[phase]]", "[phase]"), "f:6: [phase] stands in single brackets; expected [[phase]]"},
		{"double brackets", ofSheet, strings.Replace(sheet, "[traits]", "[[traits]]", 1), "f:8: [[traits]] stands in double brackets; expected [traits]"},
		{"trait that is no text", ofSheet, strings.Replace(sheet, `springs = "steel"`, `springs = true`, 1), "f:9: springs is given as true or false; expected text in quotes"},
		{"table for a text", procedure, base + "\n[stage.title]\nx = 1\n", `f:120: stage "let-go": stage.title is given as a table; expected text in quotes`},
		{"empty", procedure, "", "f: the file is empty"},
		{"only a mark", ofSheet, "\uFEFF\n \n", "f: the file is empty"},
		{"no format", procedure, strings.Replace(base, "format = 1\n", "", 1), "f:1: the file has no format; expected format = 1 before its first table"},
		{"a sheet for a procedure", procedure, sheet, "f: this is a spec sheet; expected a procedure"},
		{"a block for a procedure", procedure, block, "f: this is a block; expected a procedure"},
		{"a procedure for a sheet", ofSheet, base, "f: this is a procedure; expected a spec sheet"},
		{"a block for a sheet", ofSheet, block, "f: this is a block; expected a spec sheet"},
		{"a procedure for a block", ofBlock, base, "f: this is a procedure; expected a block"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := ""
			if err := c.load(c.text); err != nil {
				got = err.Error()
			}
			if got != c.want {
				t.Errorf("\n got %s\nwant %s", got, c.want)
			}
		})
	}
}

func TestKindOf(t *testing.T) {
	for text, want := range map[string]FileKind{
		"format = 1\n[[ window ]] # of the wheel\n": SheetFile,
		"procedures = [\"a\"]\n":                    SheetFile,
		"\uFEFFblock = \"a\"\n":                     BlockFile,
		"# block = 1\nid = \"a\"\n[[stage]]\n":      ProcedureFile,
		"[[trait]]\nid = \"a\"\n[[stage.check]]\n":  ProcedureFile,
		"nothing at all":                            ProcedureFile,
	} {
		if got := KindOf([]byte(text)); got != want {
			t.Errorf("%q is taken for a %s, want %s", text, got, want)
		}
	}
}
