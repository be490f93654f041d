package bay

import (
	"maps"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
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
	personCodeName = "person-code"
	qualifiedRow   = "qualified/"
	levelRow       = "level/"
)

// newPersonPage asks what the register needs; old is nil for somebody new.
func newPersonPage(e *Env, st stock, old *register.Person) *personPage {
	s := &personPage{old: old}
	p, title := register.Person{}, phrase.Of("bay.personpage.somebody-new-on-the-register")
	if old != nil {
		p, title = *old, old.Name
	}
	roles := []procedures.Role{procedures.Apprentice, procedures.Mechanic, procedures.Foreman, procedures.Auditor}
	var values, words []string
	for _, r := range roles {
		values, words = append(values, string(r)), append(words, string(r))
	}
	name := textRow("name", phrase.Of("bay.personpage.name"), p.Name, phrase.Of("bay.personpage.as-it-goes-on-the-record-of"))
	role := choiceRow("role", phrase.Of("bay.personpage.role"), string(p.Role), values, words, phrase.Of("bay.personpage.apprentice-mechanic-foreman-each-may-do-what"))
	var rows []pageRow
	if old == nil {
		id := textRow("id", phrase.Of("bay.personpage.short-id"), "", phrase.Of("bay.personpage.typed-at-every-sign-in-such-as"))
		id.check = func(text string) error { return freeID(e.Register, text) }
		code := codeRow("code", phrase.Of("bay.personpage.personal-code"), phrase.Of("bay.personpage.4-to-12-digits-typed-by-the"))
		code.check = codeForm
		again := codeRow("again", phrase.Of("bay.personpage.the-code-again"), phrase.Of("bay.firstrun.the-same-digits-once-more"))
		again.check = func(text string) error { return sameCode(s.page.value("code"), text) }
		rows = []pageRow{name, id, role, code, again} // as at the first start
	}
	rows = append(rows, qualificationRows(st.procedures, p)...)
	if old != nil && p.Role == procedures.Apprentice {
		rows = append(rows, levelRows(st, p)...)
	}
	s.page = page{title: title, rows: rows, last: phrase.Of("bay.personpage.write-it-down")}
	return s
}

// freeID refuses a short id somebody has or had.
func freeID(r register.Register, text string) error {
	for _, p := range r.People {
		if strings.EqualFold(p.ID, text) {
			return phrase.Error("bay.personpage.the-short-id-belongs-to-and-is", p.ID, p.Name)
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
		r := textRow(qualifiedRow+id, phrase.Of("bay.personpage.until", sentence(id)), until, phrase.Of("bay.personpage.the-last-day-it-is-valid-as"))
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
		return phrase.Error("bay.personpage.is-no-date-expected-year-month-day", text)
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
	about := []string{phrase.Of("bay.personpage.watches-and-enters-nothing"), phrase.Of("bay.personpage.does-it-with-somebody-beside-every-stage"), phrase.Of("bay.personpage.does-it-countersigned-at-holds-and-torque"), phrase.Of("bay.personpage.does-it-alone-countersigned-at-the-critical")}
	var values, words []string
	for i, l := range levels {
		values, words = append(values, l.String()), append(words, phrase.Word(l.String())+": "+about[i])
	}
	var out []pageRow
	for _, t := range slices.Sorted(maps.Keys(tasks)) {
		out = append(out, choiceRow(levelRow+t, phrase.Of("bay.personpage.task", t), p.Level(t).String(), values, words, phrase.Of("bay.personpage.how-far-the-apprentice-has-come-with")))
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
func (s *personPage) Head(*Env) string { return phrase.Of("bay.personpage.register-people") }

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
	text := phrase.Of("bay.personpage.is-added-to-the-register-with-the", p.Name, p.Role)
	return Ask{Name: personCodeName, Dialog: newCode(phrase.Of("bay.personpage.register", p.Name), []line{{text: text}}, e.Person, func(f *store.File, who store.Actor) (any, error) {
		return phrase.Of("bay.personpage.is-on-the-register", p.Name), f.AddPerson(who.Person, p, typed)
	})}
}

// change asks for the foreman's code and writes what is new.
func (s *personPage) change(e *Env) Action {
	todo, name := s.changes(), s.old.Name
	if len(todo) == 0 {
		return Say{Text: phrase.Of("bay.personpage.nothing-is-changed-on-this-page-esc"), Role: draw.Warn}
	}
	text := phrase.Of("bay.personpage.in-what-the-register-says-of", phrase.Count("count.change", len(todo)), name)
	return Ask{Name: personCodeName, Dialog: newCode(phrase.Of("bay.personpage.register", name), []line{{text: text}}, e.Person, func(f *store.File, who store.Actor) (any, error) {
		for i, one := range todo {
			if err := one(f, who.Person); err != nil {
				if i > 0 {
					err = phrase.Error("bay.personpage.before-it-stands-written-down", err, phrase.Count("count.change", i))
				}
				return nil, err
			}
		}
		return phrase.Of("bay.personpage.the-register-says-so-of-now", name), nil
	})}
}

// View shows the page.
func (s *personPage) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }
