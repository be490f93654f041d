package command

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// A file far too large is refused by its first bytes; the rest of it is never in memory.
func TestHugeFilesAreNotRead(t *testing.T) {
	huge := filepath.Join(t.TempDir(), "huge.toml")
	if err := os.WriteFile(huge, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(huge, 256<<20); err != nil { // sparse: it takes no room on the disk
		t.Fatal(err)
	}
	for _, args := range []string{"check", "graph", "new sheet my-type --for"} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		code, _, messages := pawl(t, "", append(strings.Fields(args), huge)...)
		runtime.ReadMemStats(&after)
		if took := after.TotalAlloc - before.TotalAlloc; took > 64<<20 {
			t.Errorf("%s: took %d bytes of memory", args, took)
		}
		if code == exitFine || !strings.Contains(messages, "the file is too large; at most 1048576 bytes are read") {
			t.Errorf("%s: %d %s", args, code, messages)
		}
	}
}
