package command

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/store"
)

var update = flag.Bool("update", false, "write the golden files anew")

// testDay is the clock of the tests.
var testDay = time.Date(2026, 3, 12, 10, 0, 0, 0, time.FixedZone("", 3600))

// program is pawl without a terminal, at a fixed time.
func program(in string) (*Program, *bytes.Buffer, *bytes.Buffer) {
	var out, messages bytes.Buffer
	return &Program{In: strings.NewReader(in), Out: &out, Err: &messages, Now: func() time.Time { return testDay }, Cost: demoCost}, &out, &messages
}

// pawl runs one command line.
func pawl(t testing.TB, in string, args ...string) (code int, out, messages string) {
	t.Helper()
	p, o, m := program(in)
	code = p.Run(context.Background(), args)
	return code, accents.Off(o.String()), accents.Off(m.String())
}

// golden compares with a file under testdata/golden, or writes it with -update.
func golden(t *testing.T, name, got string) {
	t.Helper()
	got = accents.Off(got)
	path := filepath.Join("testdata", "golden", name)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", path, diff)
	}
}

var digests = regexp.MustCompile(`\b[0-9a-f]{64}\b`)

// normal takes out of a text what changes with every procedure text: the digests.
func normal(text string) string { return digests.ReplaceAllString(text, "DIGEST") }

// scratch is a folder that goes with the test, in memory where there is such a place: the recorded job
// is written entry by entry, and a slow disk would only be waited for.
func scratch(t testing.TB) string {
	t.Helper()
	dir, err := scratchFolder()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := os.RemoveAll(dir); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// depotFile is a scratch file with the depot set up as of the first morning of the demo.
func depotFile(t testing.TB) string {
	t.Helper()
	path := filepath.Join(scratch(t), "workshop.pawl")
	clock := newDemoClock(testDay)
	f, err := store.Open(path, store.Options{Now: clock.now, HashCost: demoCost})
	if err != nil {
		t.Fatal(err)
	}
	if err := setUpDepot(f, clock.day); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// withoutTimes is the digest of a record with every time and station taken out.
func withoutTimes(t testing.TB, c *job.Card) job.Digest {
	t.Helper()
	at := job.Origin(c.Number())
	for _, e := range c.Events {
		e.At, e.Station = time.Unix(0, 0).UTC(), ""
		data, err := job.Encode(e)
		if err != nil {
			t.Fatal(err)
		}
		at = job.Link(at, data)
	}
	return at
}

// load reads a job of a file.
func load(t testing.TB, path string, number uint64) *job.Card {
	t.Helper()
	f, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	c, err := f.Load(number)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
