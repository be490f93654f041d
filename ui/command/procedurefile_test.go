package command

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bay.example/pawl/procedures"
)

// ownFiles writes a procedure and the block of its own that it includes.
func ownFiles(t *testing.T) (procedure, block string) {
	t.Helper()
	dir := t.TempDir()
	skeleton, err := procedures.NewProcedure("my-job")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(skeleton), `after = ["bolts-tightened"]`, `after = ["bolts-tightened", "cover-on"]`, 1)
	text += "\n[[include]]\nblock = \"cover\"\n"
	return write(t, dir, "p.toml", text), write(t, dir, "cover.toml", cover)
}

const cover = `format = 1
block = "cover"
title = "Cover"

[[stage]]
id = "cover-on"
title = "Cover on"
phase = "restore"
why = "Dirt."
good = "It clicked."
after = ["raise-and-support"]
who = "apprentice"

[[stage.check]]
id = "clicked"
kind = "confirm"
title = "Clicked"
`

func write(t *testing.T, dir, name, text string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// A procedure with a block of its own is drawn, and given a sheet, when the block comes with it.
func TestOwnBlocks(t *testing.T) {
	p, b := ownFiles(t)
	for _, c := range []struct {
		args []string
		say  string
		code int
	}{
		{[]string{"check", p, b}, "block cover", exitFine},
		{[]string{"graph", p, b}, "cover-on", exitFine},
		{[]string{"graph", b, p}, "cover-on", exitFine},
		{[]string{"graph", p}, `includes the unknown block "cover"; a block that is not shipped is given with this file`, exitRefused},
		{[]string{"graph", b}, "takes one procedure file", exitMisuse},
		{[]string{"graph", p, b, "wheel-refit"}, "takes one procedure file", exitMisuse},
		{[]string{"new", "sheet", "my-type", "--for", p, "--for", b}, `What "my-job" asks for`, exitFine},
		{[]string{"new", "sheet", "my-type", "--for", "wheel-refit", "--for", "brake-fluid"}, `What "brake-fluid" asks for`, exitFine},
		{[]string{"new", "sheet", "my-type", "--for", b}, "--for names no procedure", exitMisuse},
	} {
		code, out, messages := pawl(t, "", c.args...)
		if code != c.code || !strings.Contains(out+messages, c.say) {
			t.Errorf("%v: %d, want %d and %q:\n%.600s%s", c.args, code, c.code, c.say, out, messages)
		}
	}
}

// Two files that claim one name, and a sheet and a procedure that were meant for each other and do
// not name each other, are not passed over in silence.
func TestCheckSaysWhatItDidNotHold(t *testing.T) {
	p, b := ownFiles(t)
	dir := t.TempDir()
	other := write(t, dir, "other.toml", strings.Replace(cover, "It clicked.", "It snapped.", 1))
	sheet := func(name string, change ...string) string {
		data, err := procedures.NewSheet("my-type")
		if err != nil {
			t.Fatal(err)
		}
		return write(t, dir, name, strings.NewReplacer(change...).Replace(string(data)))
	}
	slip := sheet("slip.toml", `["new-procedure"]`, `["my-jobs"]`)
	fits := sheet("fits.toml", `["new-procedure"]`, `["my-job", "wheel-refit"]`)
	changed := sheet("changed.toml", `["new-procedure"]`, `["my-job"]`, "95 ± 5", "90 ± 5", "90..100", "80..90")
	for _, c := range []struct {
		args []string
		say  string
		code int
	}{
		{[]string{p, b, slip}, "my-type and my-job were not held against each other: the sheet does not list the procedure", exitFine},
		{[]string{p, b, slip}, `slip.toml:10: procedures lists "my-jobs", but there is no such procedure here`, exitFine},
		{[]string{p, b, fits}, "my-type serves my-job", exitFine},
		{[]string{p, b, b}, "block cover", exitFine},
		{[]string{p, b, other}, `other.toml: the block "cover" is in ` + b + " too, with other contents", exitRefused},
		{[]string{fits, changed}, `changed.toml: revision "1" of the sheet "my-type" is in ` + fits + " too, with other contents", exitRefused},
	} {
		code, out, messages := pawl(t, "", append([]string{"check"}, c.args...)...)
		if code != c.code || !strings.Contains(out+messages, c.say) {
			t.Errorf("%v: %d, want %d and %q:\n%s%s", c.args, code, c.code, c.say, out, messages)
		}
		if c.args[len(c.args)-1] == fits && strings.Contains(messages, "warning: "+fits) {
			t.Errorf("warns of a sheet that lists a shipped procedure: %s", messages)
		}
	}
}

// full takes nothing, like a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

// What could not be written was not said: the run fails.
func TestCheckThatCannotSay(t *testing.T) {
	p, b := ownFiles(t)
	run, _, messages := program("")
	run.Out = full{}
	if code := run.Run(t.Context(), []string{"check", p, b}); code == exitFine || !strings.Contains(messages.String(), "no room") {
		t.Errorf("%d %s", code, messages)
	}
}
