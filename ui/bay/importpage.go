package bay

import (
	"errors"
	"fmt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// installName is the dialog that puts files in use.
const installName = "put-in-use"

// importPage puts a procedure or a spec sheet in use from a file: which file, what the checker says
// of it, and the foreman's code.
type importPage struct {
	page  page
	stock stock
	found *imported // what the checker said; nil while the page is being filled in
	pane  scrollPane
}

// newImport asks for the files and for the vehicle the preview is drawn for.
func newImport(st stock) Screen {
	file := textRow("file", phrase.Of("bay.importpage.file"), "", phrase.Of("bay.importpage.the-whole-path-of-a-procedure-or"))
	with := textRow("with", phrase.Of("bay.importpage.together-with"), "", phrase.Of("bay.importpage.a-second-file-that-goes-with-it"))
	with.optional = true
	file.field.most, with.field.most = 500, 500
	first := ""
	if len(st.vehicles) > 0 {
		first = st.vehicles[0].ID
	}
	vehicle := textRow("vehicle", phrase.Of("bay.importpage.shown-for-vehicle"), first, phrase.Of("bay.importpage.the-number-of-a-vehicle-of-the"))
	vehicle.optional, vehicle.fresh = true, true
	vehicle.check = func(text string) error {
		if _, ok := st.vehicle(text); !ok {
			return phrase.Error("bay.importpage.no-vehicle-is-on-the-register-type", text)
		}
		return nil
	}
	return &importPage{stock: st, page: page{title: phrase.Of("bay.importpage.put-a-procedure-or-a-spec-sheet"), last: phrase.Of("bay.importpage.check-it"), rows: []pageRow{file, with, vehicle},
		intro: []line{{text: phrase.Of("bay.importpage.the-one-in-use-under-the-same")}}}}
}

// Head says what this is.
func (s *importPage) Head(*Env) string { return phrase.Of("bay.importpage.register-put-in-use") }

// Focus is the row's, and nowhere over what the checker said.
func (s *importPage) Focus() Focus {
	if s.found != nil {
		return FocusNone
	}
	return s.page.focus()
}

// Keys are the row's, or those of what the checker said.
func (s *importPage) Keys(*Env) []Binding {
	if s.found == nil {
		return s.page.keys()
	}
	return append([]Binding{{Key: "Enter", Word: phrase.Of("bay.importpage.put-in-use-with-the-code"), Off: s.found.off(), Bar: s.found.off() == ""}},
		append(s.pane.scrollKeys(), Binding{Key: "Esc", Word: phrase.Of("bay.importpage.back-to-the-rows"), Bar: true})...)
}

// Update fills the page in, has the files checked and puts them in use.
func (s *importPage) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Result:
		im, ok := in.Value.(*imported)
		if in.Err != nil || !ok {
			if u := (unread{}); errors.As(in.Err, &u) {
				s.page.focusOn(u.at) // the row to mend
			}
			return Say{Text: sentence(fmt.Sprint(in.Err)), Role: draw.Warn}
		}
		s.found, s.pane = im, scrollPane{}
		return nil
	case Answer:
		if in.Name == installName {
			if in.Err != nil {
				return vouchedWords(in)
			}
			return Many{Pop{}, vouchedWords(in)}
		}
	}
	if s.found != nil {
		return s.decide(e, in)
	}
	act, done := s.page.update(in)
	if !done {
		return act
	}
	return s.check()
}

// check reads and proves the files away from the screen.
func (s *importPage) check() Action {
	paths := []string{s.page.value("file")}
	if with := s.page.value("with"); with != "" && with != paths[0] {
		paths = append(paths, with)
	}
	vehicle, _ := s.stock.vehicle(s.page.value("vehicle"))
	return Call{Name: "check", Doing: phrase.Of("bay.importpage.checking"), Do: func(f *store.File) (any, error) { return readImport(f, paths, vehicle) }}
}

// decide asks for the code or goes back to the rows.
func (s *importPage) decide(e *Env, in Input) Action {
	k, ok := in.(Key)
	switch {
	case !ok:
		return ignore(in)
	case k.Sym == Esc:
		s.found = nil
		return nil
	case k.Sym == Enter && k.Again:
		return nil
	case k.Sym == Enter:
		text := []line{{text: phrase.Of("bay.importpage.from-now-on-new-jobs-go-by", s.found.names())}, {text: phrase.Of("bay.importpage.jobs-already-open-keep-what-they-were")}}
		if n := len(s.found.warnings); n > 0 {
			text = append(text, line{role: draw.Warn, text: phrase.Of("bay.importpage.esc-goes-back-to-read", phrase.Count("count.warning", n))})
		}
		return Ask{Name: installName, Dialog: newCode(phrase.Of("bay.importpage.put-in-use"), text, e.Person, s.found.install)}
	}
	return s.pane.key(k)
}

// View shows the page, or what the checker said.
func (s *importPage) View(e *Env, w, h int) string {
	if s.found == nil {
		return s.page.view(e.Theme, w, h)
	}
	title, role := phrase.Of("bay.importpage.sound-enter-puts-it-in-use-with"), draw.Title
	if n := len(s.found.warnings); n > 0 {
		title, role = phrase.Of("bay.importpage.sound-with-read-it-first-enter", phrase.Count("count.warning", n)), draw.Warn
	}
	if off := s.found.off(); off != "" {
		title, role = off+".", draw.Warn
	}
	out := append(drawLines(e.Theme, []line{{role: role, text: title}}, w-2), "")
	return indent(append(out, s.pane.window(e.Theme, drawLines(e.Theme, s.found.lines(), min(w-2, 110)), h-len(out))...))
}
