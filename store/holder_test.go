package store

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"
)

func init() {
	children["hold"] = func(path string) {
		_, err := Open(path, options(newClock()))
		die(err)
		fmt.Println("held")
		time.Sleep(time.Hour) // until killed
	}
}

// A second program is told within about a second who has the file, and gets it when the first is
// killed.
func TestInUse(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	fill(t, f)
	must(t, f.Close())
	holder := start(t, "hold", path)
	if line, _ := holder.line(); line != "held" {
		t.Fatalf("the child says %q", line)
	}
	o := options(c)
	o.Timeout = 0
	began := time.Now()
	_, err := Open(path, o)
	took := time.Since(began)
	var inUse InUse
	if !errors.As(err, &inUse) || took < 500*time.Millisecond || took > 15*time.Second {
		t.Fatalf("after %v: %v", took, err)
	}
	wantError(t, err, fmt.Sprintf("in use by pawl on bay-1 (process %d, since 08:00)", holder.cmd.Process.Pid))
	for _, text := range []string{"", "a\nb\nc\n", "bay\x1b[2J\n1\n2026-03-08T07:00:00+01:00\n"} {
		must(t, os.WriteFile(holderPath(path), []byte(text), 0o600))
		_, err := Open(path, options(c))
		if !errors.As(err, &inUse) || strings.ContainsRune(err.Error(), 0x1b) {
			t.Fatalf("with the side file %q: %v", text, err)
		}
	}
	wantError(t, inUse, "pawl on bay?[2J (process 1, since 2026-03-08 07:00)")
	must(t, os.Remove(holderPath(path)))
	_, err = Open(path, options(c))
	wantError(t, err, "in use by another program")

	must(t, holder.cmd.Process.Kill())
	holder.cmd.Wait() // reports the kill, which was meant
	f = open(t, path, c)
	if _, ok := f.Workshop(); !ok {
		t.Fatal("the workshop is gone")
	}
	must(t, f.Close())
	if _, err := os.Stat(holderPath(path)); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the side file is left behind: %v", err)
	}
	must(t, f.Close()) // a second time does no harm
	if _, err := f.Jobs(); err == nil {
		t.Error("a closed file answers")
	}
	if err := f.SaveDraft(Draft{}); err == nil {
		t.Error("a closed file is written")
	}
}

// The same program cannot have the file twice either, and a failed open leaves it free.
func TestOpenTwice(t *testing.T) {
	c := newClock()
	path := newPath(t)
	f := open(t, path, c)
	var inUse InUse
	if _, err := Open(path, options(c)); !errors.As(err, &inUse) {
		t.Fatalf("error %v; want InUse", err)
	}
	must(t, f.SaveDraft(Draft{Job: 1}))
}
