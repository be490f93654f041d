package procedures

import (
	"path/filepath"
	"testing"
)

func seed(f *testing.F, patterns ...string) {
	for _, pattern := range patterns {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			f.Fatalf("no seeds in %s: %v", pattern, err)
		}
		for _, path := range paths {
			f.Add(readFile(f, path))
		}
	}
}

// FuzzProcedure loads and checks anything: it must not panic, and what passes must pin, read back
// and pass again.
func FuzzProcedure(f *testing.F) {
	seed(f, "library/*.toml", "testdata/small.toml", "testdata/broken/*.toml")
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := LoadProcedure("fuzz.toml", data)
		if err != nil {
			return
		}
		if _, err := p.Check(); err != nil {
			return
		}
		pinned, digest, err := p.Pin()
		if err != nil {
			t.Fatal(err)
		}
		again, err := LoadProcedure("pinned.toml", pinned)
		if err != nil {
			t.Fatalf("pinned bytes do not load: %v", err)
		}
		if _, err := again.Check(); err != nil {
			t.Fatalf("pinned procedure does not pass: %v", err)
		}
		if _, d, err := again.Pin(); err != nil || d != digest {
			t.Fatalf("digest %s, then %s (%v)", digest, d, err)
		}
	})
}

// FuzzSheet does the same for sheets, paired with every shipped procedure they serve.
func FuzzSheet(f *testing.F) {
	seed(f, "sheets/*.toml", "testdata/small-sheet.toml", "testdata/brokensheets/*.toml")
	ps, err := Library()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := LoadSheet("fuzz.toml", data)
		if err != nil {
			return
		}
		if err := s.Check(); err != nil {
			return
		}
		pinned, _, err := s.Pin()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := LoadSheet("pinned.toml", pinned); err != nil {
			t.Fatalf("pinned bytes do not load: %v", err)
		}
		for _, p := range ps {
			if !s.ServesProcedure(p.ID) || CheckPair(p, s) != nil {
				continue
			}
			if _, err := Resolve(p, s, nil); err != nil {
				t.Fatalf("a pair with %s that passed does not resolve: %v", p.ID, err)
			}
		}
	})
}
