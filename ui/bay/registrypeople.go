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

// Names of the dialogs about people.
const (
	closePersonName = "close person"
	closeCodeName   = "close person, code"
	newCodeFormName = "new code"
	newCodeName     = "new code, code"
	absentName      = "here or absent"
)

func (s *registry) peopleKeys(e *Env) []Binding {
	foreman := mayDo(e, procedures.Foreman, "adds, changes and closes people")
	p, ok := s.person(e)
	change, shut, code, today := foreman, foreman, "", ""
	word := "absent"
	if p.Absent {
		word = "here again"
	}
	switch {
	case !ok:
		nobody := "There is nobody on this list"
		change, shut, code, today = nobody, nobody, nobody, nobody
	case p.Closed:
		gone := p.Name + " is closed already and stays for the old records"
		change, shut, code, today = gone, gone, gone, gone
	case p.ID != e.Person.ID:
		code = mayDo(e, procedures.Foreman, "gives somebody else a new code")
		today = mayDo(e, procedures.Foreman, "says of others whether they are here")
	}
	if change == "" && len(newPersonPage(e, s.stock, &p).page.rows) == 0 {
		change = "No procedure in use asks " + p.Name + " for a qualification or a level"
	}
	return []Binding{{Key: "A", Word: "add", Off: foreman, Bar: true}, {Key: "E", Word: "change", Off: change, Bar: true},
		{Key: "H", Word: word, Off: today, Bar: true},
		{Key: "C", Word: "code", Off: code, Bar: true}, {Key: "X", Word: "close", Off: shut, Bar: true}}
}

func (s *registry) peopleKey(e *Env, k Key) Action {
	p, ok := s.person(e)
	switch k.Letter() {
	case 'A':
		return Push{newPersonPage(e, s.stock, nil)}
	case 'E':
		return Push{newPersonPage(e, s.stock, &p)}
	case 'H':
		s.about = p.ID
		if p.Absent {
			return Ask{Name: absentName, Dialog: newYesNo("Is "+p.Name+" here again?", p.Name+" can be fetched as the second person from now on.")}
		}
		return Ask{Name: absentName, Dialog: newYesNo("Is "+p.Name+" absent today?", "Nobody can fetch "+p.Name+" as the second person then.")}
	case 'X':
		s.about = p.ID
		return Ask{Name: closePersonName, Dialog: newYesNo("Close "+p.Name+"?", p.Name+" loses every right for good and cannot sign in again. The name stays on the old records, and the short id is never given to anybody else.")}
	case 'C':
		if !ok {
			return Unknown{}
		}
		s.about = p.ID
		again := formField{label: "The same again", secret: true}
		return Ask{Name: newCodeFormName, Dialog: newForm("New code for "+p.Name, []line{{text: "4 to 12 digits, known to " + p.Name + " alone."}},
			[]formField{{label: "New code", secret: true, check: codeForm}, again})}
	}
	return Unknown{}
}

// turn notes that somebody came or went.
func (s *registry) turn(e *Env) Action {
	p, ok := e.Register.Person(s.about)
	if !ok {
		return nil
	}
	by, text := e.Person, p.Name+" is noted as absent"
	if p.Absent {
		text = p.Name + " is noted as here again"
	}
	return Call{Name: "absent", Do: func(f *store.File) (any, error) { return text, f.SetAbsent(by, p.ID, !p.Absent) }}
}

// closeConfirmed asks the foreman for the code before somebody is closed.
func (s *registry) closeConfirmed(e *Env) Action {
	id := s.about
	p, ok := e.Register.Person(id)
	if !ok {
		return nil
	}
	return Ask{Name: closeCodeName, Dialog: newCode("Close "+p.Name, []line{{text: "This closes " + p.Name + " on the register for good."}}, e.Person, func(f *store.File, who store.Actor) (any, error) {
		return p.Name + " is closed; the name stays on the old records", f.ClosePerson(who.Person, id)
	})}
}

// codeTyped compares the two codes, and asks for the code that is right until now.
func (s *registry) codeTyped(e *Env, a Answer) Action {
	typed, ok := a.Value.([]string)
	if !ok || len(typed) != 2 {
		return nil
	}
	if err := sameCode(typed[0], typed[1]); err != nil {
		return Say{Text: "The two codes were not the same; nothing is changed. C asks again.", Role: draw.Warn}
	}
	id := s.about
	p, ok := e.Register.Person(id)
	if !ok {
		return nil
	}
	return Ask{Name: newCodeName, Dialog: newCode("New code for "+p.Name, []line{{text: e.Person.Name + " vouches with the code that has been right until now."}}, e.Person, func(f *store.File, who store.Actor) (any, error) {
		return p.Name + " has a new code", f.SetCode(who.Person, id, typed[0])
	})}
}

// standingWords is whether somebody works here today.
func standingWords(p register.Person) string {
	switch {
	case p.Closed:
		return "closed"
	case p.Absent:
		return "absent"
	}
	return "here"
}

func (s *registry) peopleList(e *Env, tb draw.Table) (draw.Table, []line) {
	tb.Empty = "Nobody is on the register."
	tb.Headings = []draw.Heading{{Title: "id"}, {Title: "name"}, {Title: "role"}, {Title: "today"}, {Title: "may also"}}
	for _, p := range e.Register.People {
		tb.Rows = append(tb.Rows, cells(p.ID, p.Name, string(p.Role), standingWords(p), qualificationWords(p, e.Now)))
	}
	p, ok := s.person(e)
	if !ok {
		return tb, nil
	}
	about := []line{{role: draw.Title, text: p.Name}}
	switch {
	case p.Closed:
		about = append(about, line{role: draw.Warn, text: "Closed: no longer here. The name stays on the old records."})
	case p.Absent:
		about = append(about, line{role: draw.Warn, text: "Absent: not on duty today, cannot be fetched as the second person."})
	}
	about = append(about, line{text: roleWords(p.Role)})
	for _, q := range p.Qualifications {
		about = append(about, qualificationLine(p, q, e.Now))
	}
	if p.Role == procedures.Apprentice {
		about = append(about, line{text: levelWords(p), indent: 2})
	}
	return tb, about
}

// roleWords says what a role may do.
func roleWords(r procedures.Role) string {
	switch r {
	case procedures.Foreman:
		return "A foreman does every stage, decides, releases, and keeps the register."
	case procedures.Mechanic:
		return "A mechanic opens jobs, works, countersigns the work of others, and keeps instruments and vehicles."
	case procedures.Apprentice:
		return "An apprentice does what the stage allows; a mechanic or the foreman countersigns."
	}
	return "An auditor reads everything and enters nothing."
}

func qualificationWords(p register.Person, now time.Time) string {
	var out []string
	for _, q := range p.Qualifications {
		if p.QualifiedFor(q.ID, now) == nil {
			out = append(out, q.ID)
		} else {
			out = append(out, q.ID+" (ran out)")
		}
	}
	return strings.Join(out, ", ")
}

func qualificationLine(p register.Person, q register.Qualification, now time.Time) line {
	if err := p.QualifiedFor(q.ID, now); err != nil {
		return line{role: draw.Warn, text: sentence(err.Error())}
	}
	return line{text: fmt.Sprintf("%s until %s", sentence(q.ID), q.Until)}
}

// levelWords is how far an apprentice has come.
func levelWords(p register.Person) string {
	var out []string
	for _, task := range slices.Sorted(maps.Keys(p.Levels)) {
		out = append(out, task+": "+p.Level(task).String())
	}
	if len(out) == 0 {
		return "Every task with somebody beside."
	}
	return "Tasks: " + strings.Join(out, "; ") + ". Any other with somebody beside."
}
