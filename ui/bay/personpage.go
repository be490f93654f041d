package bay

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// personPage adds somebody to the register or changes what it says of him.
type personPage struct {
	page page
	old  *register.Person
}

const (
	personCodeName = "person, code"
	qualifiedRow   = "qualified/"
	levelRow       = "level/"
)

// newPersonPage asks what the register needs; old is nil for somebody new.
func newPersonPage(e *Env, st stock, old *register.Person) *personPage {
	s := &personPage{old: old}
	p, title := register.Person{}, "Somebody new on the register"
	if old != nil {
		p, title = *old, old.Name
	}
	roles := []procedures.Role{procedures.Apprentice, procedures.Mechanic, procedures.Foreman, procedures.Auditor}
	var values, words []string
	for _, r := range roles {
		values, words = append(values, string(r)), append(words, string(r))
	}
	name := textRow("name", "Name", p.Name, "As it goes on the record of every job.")
	role := choiceRow("role", "Role", string(p.Role), values, words, "Apprentice, mechanic, foreman: each may do what the one before may. An auditor reads and enters nothing.")
	var rows []pageRow
	if old == nil {
		id := textRow("id", "Short id", "", "Typed at every sign-in, such as initials or a staff number. It is never given to anybody else.")
		id.check = func(text string) error { return freeID(e.Register, text) }
		code := codeRow("code", "Personal code", "4 to 12 digits, typed by the new person and known to nobody else.")
		code.check = codeForm
		again := codeRow("again", "The code again", "The same digits once more.")
		again.check = func(text string) error { return sameCode(s.page.value("code"), text) }
		rows = []pageRow{id, name, role, code, again}
	}
	rows = append(rows, qualificationRows(st.procedures, p)...)
	if old != nil && p.Role == procedures.Apprentice {
		rows = append(rows, levelRows(st, p)...)
	}
	s.page = page{title: title, rows: rows, last: "write it down"}
	return s
}

// freeID refuses a short id somebody has or had.
func freeID(r register.Register, text string) error {
	for _, p := range r.People {
		if strings.EqualFold(p.ID, text) {
			return fmt.Errorf("the short id %s belongs to %s and is never given again; choose another", p.ID, p.Name)
		}
	}
	return idForm(text)
}

// qualificationRows asks until when somebody may do what the procedures need a qualification for.
func qualificationRows(ps []*procedures.Procedure, p register.Person) []pageRow {
	var out []pageRow
	for _, id := range qualificationIDs(ps, p) {
		until := ""
		for _, q := range p.Qualifications {
			if q.ID == id {
				until = q.Until
			}
		}
		r := textRow(qualifiedRow+id, sentence(id)+" until", until, "The last day it is valid, as year-month-day such as 2027-03-31. Empty where there is none.")
		r.optional, r.check = until == "", isDate // what was written down is not taken back: it runs out
		out = append(out, r)
	}
	return out
}

// qualificationIDs lists what the procedures ask for and what the person has, sorted.
func qualificationIDs(ps []*procedures.Procedure, p register.Person) []string {
	ids := map[string]bool{}
	for _, pr := range ps {
		for i := range pr.Stages {
			if q := pr.Stages[i].Qualification; q != "" {
				ids[q] = true
			}
		}
	}
	for _, q := range p.Qualifications {
		ids[q.ID] = true
	}
	return slices.Sorted(maps.Keys(ids))
}

// qualifications reads the rows of qualificationRows.
func qualifications(p *page) []register.Qualification {
	var out []register.Qualification
	for i := range p.rows {
		if id, ok := strings.CutPrefix(p.rows[i].id, qualifiedRow); ok && p.rows[i].value() != "" {
			out = append(out, register.Qualification{ID: id, Until: p.rows[i].value()})
		}
	}
	return out
}

func isDate(text string) error {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return fmt.Errorf("%q is no date; expected year-month-day such as 2027-03-31", text)
	}
	return nil
}

// levelRows asks how far an apprentice has come with each task of the procedures.
func levelRows(st stock, p register.Person) []pageRow {
	tasks := map[string]bool{}
	for _, pr := range st.procedures {
		for i := range pr.Stages {
			if t := pr.Stages[i].Task; t != "" {
				tasks[t] = true
			}
		}
	}
	for t := range p.Levels {
		tasks[t] = true
	}
	levels := []register.Level{register.LevelWatch, register.LevelBeside, register.LevelAtHolds, register.LevelAlone}
	about := []string{"watches and enters nothing", "does it with somebody beside; every stage is countersigned", "does it; countersigned at holds and torque", "does it alone; countersigned at the critical holds and torque"}
	var values, words []string
	for i, l := range levels {
		values, words = append(values, l.String()), append(words, l.String()+": "+about[i])
	}
	var out []pageRow
	for _, t := range slices.Sorted(maps.Keys(tasks)) {
		out = append(out, choiceRow(levelRow+t, "Task: "+t, p.Level(t).String(), values, words, "How far the apprentice has come with this task. No level lifts the second signature on torque or a hold point."))
	}
	return out
}

// levelOf is the level a word stands for.
func levelOf(word string) register.Level {
	for l := register.LevelWatch; l <= register.LevelAlone; l++ {
		if l.String() == word {
			return l
		}
	}
	return register.LevelUnset
}

// person is somebody new as the page says.
func (s *personPage) person() register.Person {
	return register.Person{ID: s.page.value("id"), Name: s.page.value("name"), Role: procedures.Role(s.page.value("role")), Qualifications: qualifications(&s.page)}
}

// changes lists what the page says anew of somebody known, each as a call of the store.
func (s *personPage) changes() []func(f *store.File, by register.Person) error {
	id := s.old.ID
	var out []func(*store.File, register.Person) error
	for i := range s.page.rows {
		r := &s.page.rows[i]
		value := r.value()
		if !r.touched() {
			continue
		}
		if q, ok := strings.CutPrefix(r.id, qualifiedRow); ok {
			out = append(out, func(f *store.File, by register.Person) error { return f.SetQualification(by, id, q, value) })
		}
		if task, ok := strings.CutPrefix(r.id, levelRow); ok {
			out = append(out, func(f *store.File, by register.Person) error { return f.SetLevel(by, id, task, levelOf(value)) })
		}
	}
	return out
}

// Head says what this is.
func (s *personPage) Head(*Env) string { return "Register: people" }

// Focus is the row's.
func (s *personPage) Focus() Focus { return s.page.focus() }

// Keys are the row's.
func (s *personPage) Keys(*Env) []Binding { return s.page.keys() }

// Update fills the page in; the foreman's code writes it.
func (s *personPage) Update(e *Env, in Input) Action {
	if a, ok := in.(Answer); ok && a.Name == personCodeName {
		if a.Err != nil {
			return vouchedWords(a)
		}
		return Many{Pop{}, vouchedWords(a)}
	}
	act, done := s.page.update(in)
	if !done {
		return act
	}
	if s.old != nil {
		return s.change(e)
	}
	p, typed := s.person(), s.page.value("code")
	text := fmt.Sprintf("%s, %s, is added to the register with the code just typed.", p.Name, p.Role)
	return Ask{Name: personCodeName, Dialog: newCode("Register: "+p.Name, []line{{text: text}}, e.Person, func(f *store.File, who store.Actor) (any, error) {
		return p.Name + " is on the register", f.AddPerson(who.Person, p, typed)
	})}
}

// change asks for the foreman's code and writes what is new.
func (s *personPage) change(e *Env) Action {
	todo, name := s.changes(), s.old.Name
	if len(todo) == 0 {
		return Say{Text: "Nothing is changed on this page; Esc goes back", Role: draw.Warn}
	}
	text := fmt.Sprintf("%s in what the register says of %s.", plural(len(todo), "change"), name)
	return Ask{Name: personCodeName, Dialog: newCode("Register: "+name, []line{{text: text}}, e.Person, func(f *store.File, who store.Actor) (any, error) {
		for i, one := range todo {
			if err := one(f, who.Person); err != nil {
				if i > 0 {
					err = fmt.Errorf("%w; %s before it stands written down", err, plural(i, "change"))
				}
				return nil, err
			}
		}
		return "The register says so of " + name + " now", nil
	})}
}

// View shows the page.
func (s *personPage) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }
