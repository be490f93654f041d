package bay

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bay.example/pawl/job/phrase/accents"

	"bay.example/pawl/job/register"
)

// atImport is the foreman with files named and the checker's word on the screen.
func atImport(t *testing.T, file, with string) *run {
	t.Helper()
	r := inRegister(t, frida, "5 I")
	r.importFiles(file, with)
	return r
}

func (r *run) importFiles(file, with string) {
	r.t.Helper()
	r.type_(file)
	r.keys("Enter")
	if with != "" {
		r.type_(with)
	}
	r.keys("Enter Enter")
}

var _ = show(
	registerState("register, procedures", frida, "5"),
	registerState("register, stages of a procedure", nils, "5 Enter"),
	registerState("register, figures of a sheet", nils, "5 Down Enter"),
	registerState("put in use, rows", frida, "5 I"),
	state{"put in use, faults", func(t *testing.T) *run { return atImport(t, "testdata/import/broken.toml", "") }},
	state{"put in use, sound", func(t *testing.T) *run { return atImport(t, "testdata/import/sheet-3.toml", "") }},
	state{"put in use, code", func(t *testing.T) *run {
		r := atImport(t, "testdata/import/sheet-3.toml", "")
		r.keys("Enter")
		return r
	}},
)

// TestProceduresInUse lists what is in use; only the foreman puts something in use.
func TestProceduresInUse(t *testing.T) {
	r := inRegister(t, nils, "5")
	r.both("register-procedures")
	r.keys("I")
	r.sees("Only a foreman puts procedures and sheets in use")
	r.keys("Enter")
	r.both("register-stages")
	r.keys("Esc Down Enter")
	r.sees("28..40 N·m, from Test workshop book")
}

// TestImportFaults shows every fault with its place and puts nothing in use.
func TestImportFaults(t *testing.T) {
	r := atImport(t, "testdata/import/broken.toml", "")
	r.sees("testdata/import/broken.toml, line")
	r.sees("shown by: ")
	r.both("import-faults")
	r.keys("Enter")
	r.sees("nothing is put in use. Mend the file")
	for file, want := range map[string]string{
		"testdata/import/absent.toml":              "cannot be read: no such file",
		"testdata/import":                          "is no plain file",
		"testdata/import/block.toml":               "a block is put in use with a procedure",
		"testdata/import/procedure-2.toml":         "keys-kept",
		"testdata/import/sheet-same-revision.toml": "revision 2 is in use already with other contents",
		"testdata/newjob-lower@80x24.golden":       "newjob-lower",
	} {
		r := atImport(t, file, "")
		if !strings.Contains(strings.ToLower(strings.Join(strings.Fields(r.frame()), " ")), strings.ToLower(want)) {
			t.Errorf("%s: %q is not on the screen:\n%s", file, want, r.frame())
		}
	}
	if ps := r.f.Procedures(); len(ps) != 1 || ps[0].Revision != "1" {
		t.Errorf("in use: %v", ps)
	}
}

// TestImportSheet puts a newer sheet in use with the code. A job open on the older one keeps it, can
// read it, and is offered the newer.
func TestImportSheet(t *testing.T) {
	r := inRegister(t, frida, "5")
	openJob(t, r.f)
	r.keys("I")
	r.importFiles("testdata/import/sheet-3.toml", "")
	r.sees("revision 2 in use becomes 3")
	r.sees(`"28..40 N·m" → "30..38 N·m"`)
	r.both("import-sheet")
	r.keys("Enter")
	r.both("import-code")
	r.type_("9999")
	r.keys("Enter")
	if s := r.f.Sheets(); s[0].Revision != "2" {
		t.Fatal("a wrong code put the sheet in use")
	}
	r.type_(codes["fh"])
	r.keys("Enter")
	r.sees("In use: sheet test-van revision 3")
	if s := r.f.Sheets(); len(s) != 1 || s[0].Revision != "3" {
		t.Fatalf("in use: %+v", s)
	}
	c, err := r.f.Load(1)
	must(t, err)
	if w, _ := c.Plan.Sheet.Window("guide-bolt-torque"); c.Plan.Sheet.Revision != "2" || w.Value != "28..40 N·m" {
		t.Errorf("the open job goes by revision %s, %s", c.Plan.Sheet.Revision, w.Value)
	}
	r.keys("I")
	r.importFiles("testdata/import/sheet-3.toml", "")
	r.sees("revision 3 is in use already, word for word")
	r.keys("Enter")
	r.sees("there is nothing to do")
	r.keys("Esc Esc 1 Esc")
	r.sees("Jobs in the bay")
	r.keys("Enter M 8 4")
	r.sees("Go on by which revision?")
	r.sees("revision 3 of 2026-02-20")
	r.keys("1")
	r.type_("new issue of the book")
	r.keys("Enter")
	r.type_(codes["fh"])
	r.keys("Enter")
	c, err = r.f.Load(1)
	must(t, err)
	if c.Plan.Sheet.Revision != "3" {
		t.Errorf("the job goes by revision %s:\n%s", c.Plan.Sheet.Revision, r.frame())
	}
}

// TestImportBlock puts a procedure in use with a block of the workshop's own; the stages are shown for
// the vehicle chosen.
func TestImportBlock(t *testing.T) {
	r := inRegister(t, frida, "5 I")
	r.type_("testdata/import/procedure-2.toml")
	r.keys("Enter")
	r.type_("testdata/import/block.toml")
	r.keys("Enter 8 Enter")
	r.sees(`No vehicle "8" is on the register`) // what was offered gave way to what is typed
	r.both("import-rows")
	r.keys("Backspace V - 7 Enter")
	r.sees("Sound: procedure small revision 2")
	r.sees("block keys-kept: 1 stage")
	r.both("import-procedure")
	for range 60 {
		r.keys("Down")
		r.frame() // the pane learns its height when it is drawn
	}
	r.sees("Review and release (foreman")
	r.keys("Enter")
	r.type_(codes["fh"])
	r.keys("Enter")
	ps := r.f.Procedures()
	if len(ps) != 1 || ps[0].Revision != "2" || ps[0].Stage("key-box") == nil {
		t.Errorf("in use: %+v", ps)
	}
}

// TestImportHostile reads no more of a file than a procedure may have, and says so.
func TestImportHostile(t *testing.T) {
	f, _ := workshop(t)
	big := filepath.Join(t.TempDir(), "big.toml")
	must(t, os.WriteFile(big, make([]byte, 3<<20), 0o600))
	im, err := readImport(f, []string{big}, register.Vehicle{})
	must(t, err)
	if len(im.faults) != 1 || !strings.Contains(accents.Off(im.faults[0].Text), "too large; at most") {
		t.Errorf("faults %v", im.faults)
	}
	if im.off() == "" {
		t.Error("it may be put in use")
	}
}
