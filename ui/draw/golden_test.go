package draw

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bay.example/pawl/job/phrase/accents"
	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"
)

// golden compares a frame with its file; PAWL_UPDATE=1 writes the file instead.
// Lines end in a bar, so that trailing blanks count, and escapes are spelled.
func golden(t *testing.T, name, frame string) {
	t.Helper()
	got := strings.ReplaceAll(frame, "\x1b", "␛")
	got = strings.ReplaceAll(got, "\n", "|\n") + "|\n"
	path := filepath.Join("testdata", name+".txt")
	if os.Getenv("PAWL_UPDATE") == "1" {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("read golden file (PAWL_UPDATE=1 writes it): %v", err)
	}
	if diff := cmp.Diff(string(want), accents.Off(got)); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s", name, diff)
	}
}

func TestGolden(t *testing.T) {
	for _, s := range samples {
		t.Run(s.name, func(t *testing.T) {
			golden(t, s.name+".unicode", s.draw(theme(t, Options{Palette: "mono"}), s.w, s.h))
			ascii := s.draw(theme(t, Options{Palette: "mono", ASCII: true}), s.w, s.h)
			golden(t, s.name+".ascii", ascii)
			for i := range len(ascii) {
				if ascii[i] >= 0x80 {
					t.Fatalf("byte %#x in an ASCII drawing:\n%s", ascii[i], ascii)
				}
			}
		})
	}
}

// TestGoldenFilesAllUsed finds golden files whose sample is gone.
func TestGoldenFilesAllUsed(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no golden files: %v", err)
	}
	known := map[string]bool{}
	for _, s := range samples {
		known[s.name] = true
	}
	for _, f := range files {
		name, _, _ := strings.Cut(filepath.Base(f), ".")
		if !known[name] {
			t.Errorf("%s belongs to no sample", f)
		}
	}
}

// coloured are the samples whose escapes are pinned in each palette.
var coloured = map[string]bool{"gauge-over": true, "table": true, "keybar": true, "states": true, "phases": true, "box-columns": true}

func TestGoldenEscapes(t *testing.T) {
	for _, s := range samples {
		if !coloured[s.name] {
			continue
		}
		for _, palette := range Palettes() {
			th := theme(t, Options{Palette: palette, Profile: TrueColour})
			golden(t, s.name+"."+palette, th.Paint(s.draw(th, s.w, s.h), s.w, s.h))
		}
		th := theme(t, Options{Palette: "bright", Profile: Colour16})
		golden(t, s.name+".bright16", th.Paint(s.draw(th, s.w, s.h), s.w, s.h))
	}
}

// TestColourOnlyRepeats strips every sample in every look: the same characters
// must stand in the same cells as with no escapes at all.
func TestColourOnlyRepeats(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		plain := theme(t, Options{Palette: "mono", ASCII: ascii})
		for _, palette := range Palettes() {
			for _, p := range []Profile{Colour16, Colour256, TrueColour} {
				for _, noColor := range []bool{false, true} {
					th := theme(t, Options{Palette: palette, Profile: p, ASCII: ascii, NoColor: noColor})
					for _, s := range samples {
						want := s.draw(plain, s.w, s.h)
						if diff := cmp.Diff(want, ansi.Strip(th.Paint(s.draw(th, s.w, s.h), s.w, s.h))); diff != "" {
							t.Errorf("%s in %s (-plain +stripped):\n%s", s.name, palette, diff)
						}
					}
				}
			}
		}
	}
}
