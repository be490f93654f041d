package procedures

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func readFile(t testing.TB, parts ...string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(parts...))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func small(t testing.TB) (*Procedure, *Sheet) {
	t.Helper()
	p, err := LoadProcedure("small.toml", readFile(t, "testdata", "small.toml"))
	if err == nil {
		_, err = p.Check()
	}
	if err != nil {
		t.Fatal(err)
	}
	s, err := LoadSheet("small-sheet.toml", readFile(t, "testdata", "small-sheet.toml"))
	if err == nil {
		err = s.Check()
	}
	if err != nil {
		t.Fatal(err)
	}
	return p, s
}

// eachBroken runs judge over files that differ from a sound one in one place. Their first lines
// say, after "# fault: ", every fault they must give, file and line first.
func eachBroken(t *testing.T, dir string, judge func(file string, data []byte) error) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("testdata", dir, "*.toml"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no files in testdata/%s: %v", dir, err)
	}
	for _, path := range paths {
		name := filepath.Base(path)
		t.Run(strings.TrimSuffix(name, ".toml"), func(t *testing.T) {
			data := readFile(t, path)
			var want []string
			for line := range strings.Lines(string(data)) {
				fault, ok := strings.CutPrefix(strings.TrimSuffix(line, "\n"), "# fault: ")
				if !ok {
					break
				}
				want = append(want, fault)
			}
			err := judge(name, data)
			if err == nil {
				t.Fatal("no fault found")
			}
			if diff := cmp.Diff(strings.Join(want, "\n"), err.Error()); diff != "" {
				t.Errorf("faults (-want +got):\n%s", diff)
			}
		})
	}
}

func TestBrokenProcedures(t *testing.T) {
	small(t) // what they differ from is sound
	eachBroken(t, "broken", func(file string, data []byte) error {
		p, err := LoadProcedure(file, data)
		if err == nil {
			_, err = p.Check()
		}
		return err
	})
}

func TestBrokenSheets(t *testing.T) {
	p, _ := small(t)
	eachBroken(t, "brokensheets", func(file string, data []byte) error {
		s, err := LoadSheet(file, data)
		if err == nil {
			err = s.Check()
		}
		if err == nil {
			err = CheckPair(p, s)
		}
		return err
	})
}
