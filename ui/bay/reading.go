package bay

import (
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// reading is a page that is read of the file, written out in lines of a width and scrolled.
type reading struct {
	head  string
	load  func(f *store.File) (any, error)
	lines func(e *Env, v any, w int) (out []string, parts []int) // and the lines parts begin with
	keys  func(e *Env) []Binding                                 // besides those to scroll
	press func(e *Env, k Key) Action                             // for those keys
	heard func(e *Env, in Input) Action                          // answers of dialogs and results of other calls
	value any
	pane  scrollPane
	parts []int // as drawn last
}

// loadName marks the call that reads the page.
const loadName = "load"

// again reads the page anew.
func (s *reading) again() Action {
	return Call{Name: loadName, Doing: phrase.Of("bay.reading.reading-the-record"), Do: s.load}
}

// Head is the title.
func (s *reading) Head(*Env) string { return s.head }

// Focus is nowhere.
func (s *reading) Focus() Focus { return FocusNone }

// Keys scroll, and what else the page has.
func (s *reading) Keys(e *Env) []Binding {
	var out []Binding
	if s.keys != nil {
		out = s.keys(e)
	}
	out = append(out, Binding{Key: "Left Right", Word: phrase.Of("bay.reading.part-before-next"), Bar: true})
	return append(append(out, s.pane.scrollKeys()...), Binding{Key: "Esc", Word: phrase.Of("bay.reading.back"), Bar: true})
}

// Update scrolls.
func (s *reading) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return s.again()
	case Result:
		if in.Name != loadName {
			break
		}
		if in.Err != nil {
			return Say{Text: phrase.Of("bay.reading.it-cannot-be-read", in.Err), Role: draw.Bad}
		}
		s.value = in.Value
		return nil
	case Key:
		if in.Sym == Esc {
			return Pop{}
		}
		if in.Sym == Left || in.Sym == Right {
			return s.jump(in.Sym)
		}
		if act := s.pane.key(in); act == nil {
			return nil
		}
		if s.press != nil {
			return s.press(e, in)
		}
	}
	if s.heard != nil {
		return s.heard(e, in)
	}
	return ignore(in)
}

// View shows the part scrolled to.
func (s *reading) View(e *Env, w, h int) string {
	if s.value == nil {
		return ""
	}
	out, parts := s.lines(e, s.value, w-2)
	s.parts = parts
	return indent(s.pane.window(e.Theme, out, h))
}

// jump goes to the beginning of the part before or after.
func (s *reading) jump(to Sym) Action {
	at := s.pane.port.YOffset
	if to == Right {
		for _, p := range s.parts {
			if p > at {
				if s.pane.jump(p); s.pane.port.YOffset > at {
					return nil
				}
				break
			}
		}
		return Say{Text: phrase.Of("bay.reading.the-last-part-is-in-view"), Role: draw.Text}
	}
	for i := len(s.parts) - 1; i >= 0; i-- {
		if s.parts[i] < at {
			s.pane.jump(s.parts[i])
			return nil
		}
	}
	s.pane.jump(0)
	return Say{Text: phrase.Of("bay.reading.it-begins-here"), Role: draw.Text}
}
