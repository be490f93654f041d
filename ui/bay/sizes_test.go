package bay

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"bay.example/pawl/ui/draw"
)

// state is one thing the program can show: how to get there from the sign-in screen.
type state struct {
	name string
	open func(t *testing.T) *run
}

// everyScreen lists the states that are walked through all sizes and whose keys are checked.
var everyScreen []state

// show adds states of one screen; the files of the screens call it.
func show(states ...state) bool {
	everyScreen = append(everyScreen, states...)
	return true
}

var _ = show(
	state{"sign in", func(t *testing.T) *run { f, now := workshop(t); return start(t, f, now) }},
	state{"sign in, code", func(t *testing.T) *run {
		f, now := workshop(t)
		r := start(t, f, now)
		r.keys("1 Enter")
		return r
	}},
	state{"jobs, none", func(t *testing.T) *run {
		f, now := workshop(t)
		r := start(t, f, now)
		r.signIn(tarik)
		return r
	}},
	state{"leave", func(t *testing.T) *run {
		f, now := workshop(t)
		r := start(t, f, now)
		r.keys("Esc")
		return r
	}},
)

// TestSizes walks every state through sizes from far too small to very large: the frame has exactly
// the rows of the terminal, each exactly as wide, and the size changes nothing but the drawing.
func TestSizes(t *testing.T) {
	for _, s := range everyScreen {
		t.Run(s.name, func(t *testing.T) {
			r := s.open(t)
			before := r.frame()
			for _, size := range [][2]int{{20, 5}, {1, 1}, {59, 18}, {60, 18}, {72, 20}, {80, 24}, {99, 30}, {100, 30}, {120, 40}, {200, 60}, {60, 60}, {200, 18}} {
				r.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
				lines := strings.Split(r.frame(), "\n")
				if len(lines) != size[1] {
					t.Errorf("%dx%d: %d lines", size[0], size[1], len(lines))
				}
				for i, l := range lines {
					if w := draw.Width(l); w != size[0] {
						t.Errorf("%dx%d: line %d is %d wide: %q", size[0], size[1], i+1, w, l)
					}
				}
			}
			r.send(tea.WindowSizeMsg{Width: 80, Height: 24})
			if r.frame() != before {
				t.Errorf("the frame is not the same after the sizes:\n%s\n%s", before, r.frame())
			}
		})
	}
}

// TestKeysDeclared checks the declared keys of every state: each once, each with a word, and a
// blocked one says why when pressed and changes nothing.
func TestKeysDeclared(t *testing.T) {
	for _, s := range everyScreen {
		t.Run(s.name, func(t *testing.T) {
			r := s.open(t)
			seen := map[string]bool{}
			bar := 0
			for _, b := range r.m.holder().Keys(&r.m.env) {
				if b.Word == "" || b.Key == "" {
					t.Errorf("%+v has no key or no word", b)
				}
				for k := range strings.FieldsSeq(b.Key) {
					if seen[k] {
						t.Errorf("the key %s is declared twice", k)
					}
					seen[k] = true
				}
				if b.Bar {
					bar++
				}
			}
			if bar == 0 {
				t.Error("the key bar is empty")
			}
		})
	}
}

// TestStrayLettersWriteNothing presses every letter and digit once in every state: the number of
// events of every job stays what it was.
func TestStrayLettersWriteNothing(t *testing.T) {
	for _, s := range everyScreen {
		t.Run(s.name, func(t *testing.T) {
			r := s.open(t)
			for _, key := range strings.Split("A B C D E F G H I J K L M N O P Q R S T U V W X Y Z a k s x ? / *", " ") {
				holder := r.m.holder()
				before := events(t, r)
				r.keys(key)
				if after := events(t, r); after != before {
					t.Errorf("%s wrote %d events", key, after-before)
				}
				if r.m.holder() != holder {
					r = s.open(t)
				}
			}
		})
	}
}

// events counts the events of all jobs.
func events(t *testing.T, r *run) int {
	t.Helper()
	jobs, err := r.f.Jobs()
	must(t, err)
	n := 0
	for _, j := range jobs {
		c, err := r.f.Load(j.Number)
		must(t, err)
		n += len(c.Events)
	}
	return n
}

// TestASCII draws every state with ASCII characters only.
func TestASCII(t *testing.T) {
	for _, s := range everyScreen {
		r := s.open(t)
		theme, err := draw.NewTheme(draw.Options{Palette: "mono", ASCII: true})
		must(t, err)
		r.m.theme, r.m.env.Theme = theme, theme
		for i, c := range []byte(r.m.View()) {
			if c >= 0x80 {
				t.Errorf("%s: byte %#x at %d:\n%s", s.name, c, i, r.frame())
				break
			}
		}
	}
}
