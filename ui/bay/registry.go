package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/ui/draw"
)

// The lists of the register, in the order of their tabs.
const (
	tabPeople = iota
	tabTools
	tabVehicles
	tabWorkshop
	tabLibrary
)

// tabNames are the same as the head of the screen names them.
var tabNames = []string{phrase.Of("bay.registry.head-people"), phrase.Of("bay.registry.head-instruments"), phrase.Of("bay.registry.head-vehicles"), phrase.Of("bay.registry.head-workshop"), phrase.Of("bay.registry.head-procedures")}

var tabWords = []string{phrase.Of("bay.registry.people"), phrase.Of("bay.registry.instruments"), phrase.Of("bay.registry.vehicles"), phrase.Of("bay.registry.workshop"), phrase.Of("bay.registry.procedures")}

// registry shows who and what the workshop has.
type registry struct {
	tab     int
	at      [5]int // the marked row of each list
	stock   stock
	loaded  bool
	about   string  // the id a dialog is about
	earlier earlier // what the dialog of other revisions lists
}

// newRegister shows the people, instruments, vehicles and settings of the workshop, and the procedures
// and spec sheets in use.
func newRegister() Screen { return &registry{} }

// Head says which list it is.
func (s *registry) Head(*Env) string {
	return phrase.Of("bay.registry.register", tabNames[s.tab])
}

// Focus is nowhere: letters are commands.
func (s *registry) Focus() Focus { return FocusNone }

// Keys are the tabs and what can be done with the list.
func (s *registry) Keys(e *Env) []Binding {
	var own []Binding
	switch s.tab {
	case tabPeople:
		own = s.peopleKeys(e)
	case tabTools:
		own = s.toolKeys(e)
	case tabVehicles:
		own = s.vehicleKeys(e)
	case tabLibrary:
		own = s.libraryKeys(e)
	default:
		own = s.workshopKeys(e)
	}
	return append(own, Binding{Key: "Left Right", Word: phrase.Of("bay.registry.other-list"), Bar: s.tab == tabWorkshop}, Binding{Key: "1 2 3 4 5", Word: phrase.Of("bay.registry.that-list")}, Binding{Key: "Up Down", Word: phrase.Of("bay.registry.move")}, Binding{Key: "Esc", Word: phrase.Of("bay.registry.back"), Bar: true})
}

// Update moves, and hands what the list can do to the list.
func (s *registry) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "stock", Do: readStock}
	case Result:
		return s.result(in)
	case Answer:
		return s.answer(e, in)
	case Scan:
		return s.scanned(e, string(in))
	case Key:
		return s.key(e, in)
	}
	return ignore(in)
}

func (s *registry) result(r Result) Action {
	if st, ok := r.Value.(stock); ok {
		s.stock, s.loaded = st, true
		if r.Err != nil {
			return Say{Text: phrase.Of("bay.finished.the-jobs-cannot-be-read", r.Err), Role: draw.Bad}
		}
		return nil
	}
	if r.Err != nil {
		return Say{Text: sentence(r.Err.Error()), Role: draw.Bad}
	}
	if list, ok := r.Value.(earlier); ok {
		return s.earlierRead(list)
	}
	if text, ok := r.Value.(string); ok {
		return Say{Text: text, Role: draw.Good}
	}
	return nil
}

func (s *registry) key(e *Env, k Key) Action {
	switch {
	case k.Sym == Esc:
		return Pop{}
	case k.Sym == Left:
		s.tab = (s.tab + len(tabWords) - 1) % len(tabWords)
	case k.Sym == Right:
		s.tab = (s.tab + 1) % len(tabWords)
	case k.Digit() >= 1 && k.Digit() <= len(tabWords):
		s.tab = k.Digit() - 1
	case k.Sym == Up:
		s.at[s.tab] = max(s.at[s.tab]-1, 0)
	case k.Sym == Down:
		s.at[s.tab] = max(min(s.at[s.tab]+1, s.rows(e)-1), 0)
	default:
		return s.command(e, k)
	}
	return nil
}

func (s *registry) command(e *Env, k Key) Action {
	switch s.tab {
	case tabPeople:
		return s.peopleKey(e, k)
	case tabTools:
		return s.toolKey(e, k)
	case tabVehicles:
		return s.vehicleKey(e, k)
	case tabLibrary:
		return s.libraryKey(e, k)
	}
	return s.workshopKey(e, k)
}

// rows is the number of rows of the list shown.
func (s *registry) rows(e *Env) int {
	switch s.tab {
	case tabPeople:
		return len(e.Register.People)
	case tabTools:
		return len(e.Register.Instruments)
	case tabVehicles:
		return len(s.stock.vehicles)
	case tabLibrary:
		return len(s.stock.procedures) + len(s.stock.sheets)
	}
	return 0
}

// scanned marks what a scan names, on whichever list it stands.
func (s *registry) scanned(e *Env, text string) Action {
	mark := func(tab, row int, text string) Action {
		s.tab, s.at[tab] = tab, row
		return Say{Text: text}
	}
	for i, x := range e.Register.Instruments {
		if strings.EqualFold(x.ID, text) || strings.EqualFold(x.Serial, text) {
			return mark(tabTools, i, phrase.Of("bay.registry.the-scan-is-instrument", text))
		}
	}
	for i, v := range s.stock.vehicles {
		if strings.EqualFold(v.ID, text) || (v.VIN != "" && strings.EqualFold(v.VIN, text)) {
			return mark(tabVehicles, i, phrase.Of("bay.registry.the-scan-is-vehicle", text))
		}
	}
	return Say{Text: phrase.Of("bay.registry.the-scan-is-no-instrument-and-no", text), Role: draw.Warn}
}

// answer takes what a dialog ended with.
func (s *registry) answer(e *Env, a Answer) Action {
	switch a.Name {
	case earlierName:
		return Ask{Name: "stages", Dialog: s.earlier.panes[a.Value.(int)]}
	case absentName:
		return s.turn(e)
	case closePersonName:
		return s.closeConfirmed(e)
	case closeCodeName, newCodeName:
		return vouchedWords(a)
	case newCodeFormName:
		return s.codeTyped(e, a)
	case droppedName, withdrawnName:
		return s.markTool(e, a)
	}
	return nil
}

// vouchedWords says what was done with a code.
func vouchedWords(a Answer) Action {
	v, _ := a.Value.(vouched)
	if a.Err != nil {
		return Say{Text: sentence(a.Err.Error()), Role: draw.Bad}
	}
	text, _ := v.Value.(string)
	return Say{Text: text, Role: draw.Good}
}

// View shows the tabs, the list, and more of the marked row.
func (s *registry) View(e *Env, w, h int) string {
	if !s.loaded {
		return ""
	}
	t := e.Theme
	tabs := ""
	for i, word := range tabWords {
		text := fmt.Sprintf(" %d %s ", i+1, word)
		if i == s.tab {
			tabs += t.Style(draw.Selected, text) + " "
		} else {
			tabs += t.Style(draw.Text, text) + " "
		}
	}
	out := []string{tabs, ""}
	if s.tab == tabWorkshop {
		return indent(append(out, drawLines(t, s.workshopLines(e), min(w-2, 100))...))
	}
	tb, about := s.list(e)
	foot := append([]string{t.Style(draw.Frame, strings.Repeat(t.Glyphs.Across, w-2))}, drawLines(t, about, w-2)...)
	room := max(h-len(out)-len(foot), 5)
	if n := len(tb.Rows) + 1; n < room && len(tb.Rows) > 0 {
		room = n
	}
	out = append(out, strings.Split(tb.Draw(t, w-2, room), "\n")...)
	return indent(append(out, foot...))
}

// list is the table of the tab and the words about its marked row.
func (s *registry) list(e *Env) (draw.Table, []line) {
	s.at[s.tab] = max(min(s.at[s.tab], s.rows(e)-1), 0)
	tb := draw.Table{Selected: s.at[s.tab]}
	switch s.tab {
	case tabPeople:
		return s.peopleList(e, tb)
	case tabTools:
		return s.toolList(e, tb)
	case tabLibrary:
		return s.libraryList(e, tb)
	}
	return s.vehicleList(e, tb)
}

func cells(texts ...string) []draw.Cell {
	out := make([]draw.Cell, len(texts))
	for i, text := range texts {
		out[i] = draw.Cell{Text: text}
	}
	return out
}

// person is the marked person.
func (s *registry) person(e *Env) (register.Person, bool) {
	if i := s.at[tabPeople]; i < len(e.Register.People) {
		return e.Register.People[i], true
	}
	return register.Person{}, false
}
