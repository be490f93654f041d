package bay

import (
	"fmt"

	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// installName is the dialog that puts files in use.
const installName = "put in use"

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
	file := textRow("file", "File", "", "The whole path of a procedure or spec sheet file, such as one on a stick. It may be pasted. It is only read until the code is given.")
	with := textRow("with", "Together with", "", "A second file that goes with it: a block the procedure includes, or the sheet for a new procedure. It may stay empty.")
	with.optional = true
	file.field.most, with.field.most = 500, 500
	first := ""
	if len(st.vehicles) > 0 {
		first = st.vehicles[0].ID
	}
	vehicle := textRow("vehicle", "Shown for vehicle", first, "The number of a vehicle of the register: the stages are shown as it would have them. Empty: they are not shown.")
	vehicle.optional = true
	vehicle.check = func(text string) error {
		if _, ok := st.vehicle(text); !ok {
			return fmt.Errorf("no vehicle %q is on the register; type the number of one, or leave it empty", text)
		}
		return nil
	}
	return &importPage{stock: st, page: page{title: "Put a procedure or a spec sheet in use", last: "check it", rows: []pageRow{file, with, vehicle},
		intro: []line{{text: "The one in use under the same id makes way; jobs that rest on it keep it."}}}}
}

// Head says what this is.
func (s *importPage) Head(*Env) string { return "Register: put in use" }

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
	return append([]Binding{{Key: "Enter", Word: "put in use, with the code", Off: s.found.off(), Bar: s.found.off() == ""}},
		append(s.pane.scrollKeys(), Binding{Key: "Esc", Word: "back to the rows", Bar: true})...)
}

// Update fills the page in, has the files checked and puts them in use.
func (s *importPage) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Result:
		im, ok := in.Value.(*imported)
		if in.Err != nil || !ok {
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
	return Call{Name: "check", Doing: "checking", Do: func(f *store.File) (any, error) { return readImport(f, paths, vehicle) }}
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
		text := []line{{text: "From now on new jobs go by: " + s.found.names() + "."}, {text: "Jobs already open keep what they were begun with; the foreman may have them go on by a newer sheet."}}
		if n := len(s.found.warnings); n > 0 {
			text = append(text, line{role: draw.Warn, text: fmt.Sprintf(" %s: Esc goes back to read. ", plural(n, "warning"))})
		}
		return Ask{Name: installName, Dialog: newCode("Put in use", text, e.Person, s.found.install)}
	}
	return s.pane.key(k)
}

// View shows the page, or what the checker said.
func (s *importPage) View(e *Env, w, h int) string {
	if s.found == nil {
		return s.page.view(e.Theme, w, h)
	}
	title, role := "Sound. Enter puts it in use with your code; nothing is written before.", draw.Title
	if off := s.found.off(); off != "" {
		title, role = off+".", draw.Warn
	}
	out := append(drawLines(e.Theme, []line{{role: role, text: title}}, w-2), "")
	return indent(append(out, s.pane.window(e.Theme, drawLines(e.Theme, s.found.lines(), min(w-2, 110)), h-len(out))...))
}
