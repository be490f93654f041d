package bay

import (
	"fmt"

	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// reading is a page that is read of the file, written out in lines of a width and scrolled.
type reading struct {
	head  string
	load  func(f *store.File) (any, error)
	lines func(e *Env, v any, w int) []string
	keys  func(e *Env) []Binding        // besides those to scroll
	press func(e *Env, k Key) Action    // for those keys
	heard func(e *Env, in Input) Action // answers of dialogs and results of other calls
	value any
	pane  scrollPane
}

// loadName marks the call that reads the page.
const loadName = "load"

// again reads the page anew.
func (s *reading) again() Action {
	return Call{Name: loadName, Doing: "reading the record", Do: s.load}
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
	return append(append(out, s.pane.scrollKeys()...), Binding{Key: "Esc", Word: "back", Bar: true})
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
			return Say{Text: fmt.Sprint("It cannot be read: ", in.Err), Role: draw.Bad}
		}
		s.value = in.Value
		return nil
	case Key:
		if in.Sym == Esc {
			return Pop{}
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
	return indent(s.pane.window(e.Theme, s.lines(e, s.value, w-2), h))
}
