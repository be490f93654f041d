package bay

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestImportWarnsWhereNoJobCanBeOpened: a procedure no sheet serves and a sheet for nothing in use are
// sound by themselves; that no job comes of them stands first. What differs stands before what was proved.
func TestImportWarnsWhereNoJobCanBeOpened(t *testing.T) {
	data, err := os.ReadFile("testdata/small-procedure.toml")
	must(t, err)
	dir := t.TempDir()
	write := func(name, from, to string, data []byte) string {
		path := filepath.Join(dir, name)
		must(t, os.WriteFile(path, []byte(strings.Replace(string(data), from, to, 1)), 0o600))
		return path
	}
	other := write("other.toml", `id = "small"`, `id = "other"`, data)
	sheet, err := os.ReadFile("testdata/small-sheet.toml")
	must(t, err)
	strange := write("strange.toml", `id = "test-van"`, "id = \"strange\"\nprocedures = [\"nowhere\"]", sheet)

	f, now := workshop(t)
	for _, s := range f.Sheets() {
		s.Serves = []string{"small"} // the one in use serves the small procedure only
		s.Revision = "2b"
		must(t, f.InstallSheet(frida, s))
	}
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("R 5 I")
	r.importFiles(other, "")
	r.sees("Sound, with 1 warning")
	r.sees("no spec sheet in use serves procedure other")
	r.keys("Esc")
	r = inRegister(t, frida, "5 I")
	r.importFiles(strange, "")
	r.sees("serves nowhere, and no procedure of that name")

	r = atImport(t, "testdata/import/sheet-3.toml", "")
	frame := r.frame()
	if differs, proved := strings.Index(frame, "Guide bolts (guide-bolt-torque)"), strings.Index(frame, "What was proved"); differs < 0 || proved < differs {
		t.Errorf("what differs does not stand first, by its title:\n%s", frame)
	}
}

// TestImportPathIsSaidAsTyped: a path keeps its letters in the sentence, and the row to mend is in focus.
func TestImportPathIsSaidAsTyped(t *testing.T) {
	r := atImport(t, "testdata/import", "")
	r.sees("The path testdata/import is no plain file")
	r.keys("Enter Backspace")
	if got := r.m.top().(*importPage).page.value("file"); got != "testdata/impor" {
		t.Errorf("the focus is not on the file: %q", got)
	}
}
