package draw

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"
)

func TestPaletteIsNeverGuessed(t *testing.T) {
	for _, name := range []string{"", "auto", "Bright", "\x1b[2J"} {
		_, err := NewTheme(Options{Palette: name})
		if err == nil {
			t.Errorf("palette %q was accepted", name)
			continue
		}
		if msg := err.Error(); !strings.Contains(msg, "bright, dark, mono") || Clean(msg) != msg {
			t.Errorf("palette %q: %q does not name the palettes, or carries control characters", name, msg)
		}
	}
}

func TestProfileFor(t *testing.T) {
	for _, c := range []struct {
		term, colorterm string
		want            Profile
	}{
		{"", "", Plain}, {"dumb", "truecolor", Plain}, {"xterm", "", Colour16}, {"linux", "", Colour16}, {"vt100", "", Colour16},
		{"xterm-256color", "", Colour256}, {"tmux-256color", "truecolor", TrueColour}, {"xterm", "24bit", TrueColour}, {"xterm-direct", "", TrueColour},
	} {
		if got := ProfileFor(c.term, c.colorterm); got != c.want {
			t.Errorf("ProfileFor(%q, %q) = %d, want %d", c.term, c.colorterm, got, c.want)
		}
	}
}

// TestNoColorKeepsWeight checks what NO_COLOR asks for: no colour parameter is
// sent, the rest stays.
func TestNoColorKeepsWeight(t *testing.T) {
	for _, palette := range Palettes() {
		th := theme(t, Options{Palette: palette, NoColor: true, Profile: TrueColour})
		if got, want := th.Style(Selected, "x"), "\x1b[7mx\x1b[m"; got != want {
			t.Errorf("%s: selection without colour is %q, want %q", palette, got, want)
		}
		for r := range roleCount {
			parser := ansi.NewParser()
			ansi.DecodeSequence(th.on[r], ansi.NormalState, parser)
			for _, p := range parser.Params() {
				if n := p.Param(0); n >= 30 {
					t.Errorf("%s role %d sends colour parameter %d", palette, r, n)
				}
			}
		}
	}
}

// TestStyleShowsStyledText checks that a styled string put into a style a second
// time is seen as a mistake and not carried out.
func TestStyleShowsStyledText(t *testing.T) {
	th := theme(t, Options{Palette: "dark", Profile: Colour16})
	got := ansi.Strip(th.Style(Text, th.Style(Bad, "x")))
	if diff := cmp.Diff("�[1;97;41mx�[m", got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// TestStatesDiffer checks that each state can be told by its word alone and by
// its marker alone, and that a marker takes one cell.
func TestStatesDiffer(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		th := theme(t, Options{Palette: "mono", ASCII: ascii})
		words, marks := map[string]State{}, map[string]State{}
		for s := NoState + 1; s < stateCount; s++ {
			if s.Word() == "" || Width(th.Mark(s)) != 1 {
				t.Errorf("state %d: word %q, marker %q", s, s.Word(), th.Mark(s))
			}
			if other, taken := words[s.Word()]; taken {
				t.Errorf("states %d and %d share the word %q", other, s, s.Word())
			}
			if other, taken := marks[th.Mark(s)]; taken {
				t.Errorf("states %d and %d share the marker %q", other, s, th.Mark(s))
			}
			words[s.Word()], marks[th.Mark(s)] = s, s
		}
	}
	if NoState.Word() != "" || theme(t, Options{Palette: "mono"}).Badge(NoState) != "" {
		t.Error("the zero state shows something")
	}
}

func TestFitSaysWhatIsMissing(t *testing.T) {
	th := theme(t, Options{Palette: "mono"})
	for _, c := range []struct{ name, in, want string }{
		{"fits", "ab\ncd", "ab   |cd   "},
		{"cut with a mark", "16.4215\nx", "16.4…|x    "},
		{"only blanks cut", "16.42   \nx", "16.42|x    "},
		{"blank lines dropped", "a\nb\n\n  \n", "a    |b    "},
		{"lines dropped", "a\nb\nc\n", "a    |… 2 …"},
		{"wide character at the edge", "ab中中\nx", "ab中…|x    "},
	} {
		got := strings.ReplaceAll(th.Fit(c.in, 5, 2), "\n", "|")
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

func TestKeyBarCutsWholeItems(t *testing.T) {
	th := theme(t, Options{Palette: "mono"})
	for w := range 100 {
		bar := strings.TrimRight(th.KeyBar(keys, w), " ")
		shown := 0
		for _, k := range keys {
			if strings.Contains(bar, " "+k.Key+"  "+k.Word) {
				shown++
			}
		}
		_, mark, cut := strings.Cut(bar, "…+")
		if cut && mark != string(rune('0'+len(keys)-shown)) {
			t.Errorf("width %d: %q shows %d of %d", w, bar, shown, len(keys))
		}
		if !cut && w >= 3 && shown != len(keys) {
			t.Errorf("width %d: %q leaves keys out without a word", w, bar)
		}
	}
}
