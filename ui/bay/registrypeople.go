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

// Names of the dialogs about people.
const (
	closePersonName = "close-person"
	closeCodeName   = "close-person-code"
	newCodeFormName = "new-code"
	newCodeName     = "new-code-code"
	absentName      = "here-or-absent"
)

func (s *registry) peopleKeys(e *Env) []Binding {
	foreman := mayDo(e, procedures.Foreman, phrase.Of("bay.registrypeople.adds-changes-and-closes-people"))
	p, ok := s.person(e)
	change, shut, code, today := foreman, foreman, "", ""
	word := phrase.Of("bay.registrypeople.absent")
	if p.Absent {
		word = phrase.Of("bay.registrypeople.here-again")
	}
	switch {
	case !ok:
		nobody := phrase.Of("bay.registrypeople.there-is-nobody-on-this-list")
		change, shut, code, today = nobody, nobody, nobody, nobody
	case p.Closed:
		gone := phrase.Of("bay.registrypeople.is-closed-already-and-stays-for-the", p.Name)
		change, shut, code, today = gone, gone, gone, gone
	case p.ID != e.Person.ID:
		code = mayDo(e, procedures.Foreman, phrase.Of("bay.registrypeople.gives-somebody-else-a-new-code"))
		today = mayDo(e, procedures.Foreman, phrase.Of("bay.registrypeople.says-of-others-whether-they-are-here"))
	}
	if change == "" && len(newPersonPage(e, s.stock, &p).page.rows) == 0 {
		change = phrase.Of("bay.registrypeople.no-procedure-in-use-asks-for-a", p.Name)
	}
	return []Binding{{Key: "A", Word: phrase.Of("bay.registrypeople.add"), Off: foreman, Bar: true}, {Key: "E", Word: phrase.Of("bay.registrypeople.change"), Off: change, Bar: true},
		{Key: "H", Word: word, Off: today, Bar: true},
		{Key: "C", Word: phrase.Of("bay.registrypeople.code"), Off: code, Bar: true}, {Key: "X", Word: phrase.Of("bay.registrypeople.close-3"), Off: shut, Bar: true}}
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
			return Ask{Name: absentName, Dialog: newYesNo(phrase.Of("bay.registrypeople.is-here-again", p.Name), phrase.Of("bay.registrypeople.can-be-fetched-as-the-second-person", p.Name))}
		}
		return Ask{Name: absentName, Dialog: newYesNo(phrase.Of("bay.registrypeople.is-absent-today", p.Name), phrase.Of("bay.registrypeople.nobody-can-fetch-as-the-second-person", p.Name))}
	case 'X':
		s.about = p.ID
		return Ask{Name: closePersonName, Dialog: newYesNo(phrase.Of("bay.registrypeople.close", p.Name), phrase.Of("bay.registrypeople.loses-every-right-for-good-and-cannot", p.Name))}
	case 'C':
		if !ok {
			return Unknown{}
		}
		s.about = p.ID
		again := formField{label: phrase.Of("bay.registrypeople.the-same-again"), secret: true}
		return Ask{Name: newCodeFormName, Dialog: newForm(phrase.Of("bay.registrypeople.new-code-for", p.Name), []line{{text: phrase.Of("bay.registrypeople.4-to-12-digits-known-to-alone", p.Name)}},
			[]formField{{label: phrase.Of("bay.registrypeople.new-code"), secret: true, check: codeForm}, again})}
	}
	return Unknown{}
}

// turn notes that somebody came or went.
func (s *registry) turn(e *Env) Action {
	p, ok := e.Register.Person(s.about)
	if !ok {
		return nil
	}
	by, text := e.Person, phrase.Of("bay.registrypeople.is-noted-as-absent", p.Name)
	if p.Absent {
		text = phrase.Of("bay.registrypeople.is-noted-as-here-again", p.Name)
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
	return Ask{Name: closeCodeName, Dialog: newCode(phrase.Of("bay.registrypeople.close-2", p.Name), []line{{text: phrase.Of("bay.registrypeople.this-closes-on-the-register-for-good", p.Name)}}, e.Person, func(f *store.File, who store.Actor) (any, error) {
		return phrase.Of("bay.registrypeople.is-closed-the-name-stays-on-the", p.Name), f.ClosePerson(who.Person, id)
	})}
}

// codeTyped compares the two codes, and asks for the code that is right until now.
func (s *registry) codeTyped(e *Env, a Answer) Action {
	typed, ok := a.Value.([]string)
	if !ok || len(typed) != 2 {
		return nil
	}
	if err := sameCode(typed[0], typed[1]); err != nil {
		return Say{Text: phrase.Of("bay.registrypeople.the-two-codes-were-not-the-same"), Role: draw.Warn}
	}
	id := s.about
	p, ok := e.Register.Person(id)
	if !ok {
		return nil
	}
	return Ask{Name: newCodeName, Dialog: newCode(phrase.Of("bay.registrypeople.new-code-for", p.Name), []line{{text: phrase.Of("bay.registrypeople.vouches-with-the-code-that-has-been", e.Person.Name)}}, e.Person, func(f *store.File, who store.Actor) (any, error) {
		return phrase.Of("bay.registrypeople.has-a-new-code", p.Name), f.SetCode(who.Person, id, typed[0])
	})}
}

// standingWords is whether somebody works here today.
func standingWords(p register.Person) string {
	switch {
	case p.Closed:
		return phrase.Of("bay.registrypeople.closed")
	case p.Absent:
		return phrase.Of("bay.registrypeople.absent")
	}
	return phrase.Of("bay.registrypeople.here")
}

func (s *registry) peopleList(e *Env, tb draw.Table) (draw.Table, []line) {
	tb.Empty = phrase.Of("bay.registrypeople.nobody-is-on-the-register")
	tb.Headings = []draw.Heading{{Title: phrase.Of("bay.registrypeople.id")}, {Title: phrase.Of("bay.registrypeople.name")}, {Title: phrase.Of("bay.registrypeople.role")}, {Title: phrase.Of("bay.registrypeople.today")}, {Title: phrase.Of("bay.registrypeople.may-also")}}
	for _, p := range e.Register.People {
		tb.Rows = append(tb.Rows, cells(p.ID, p.Name, phrase.Word(p.Role), standingWords(p), qualificationWords(p, e.Now)))
	}
	p, ok := s.person(e)
	if !ok {
		return tb, nil
	}
	about := []line{{role: draw.Title, text: p.Name}}
	switch {
	case p.Closed:
		about = append(about, line{role: draw.Warn, text: phrase.Of("bay.registrypeople.closed-no-longer-here-the-name-stays")})
	case p.Absent:
		about = append(about, line{role: draw.Warn, text: phrase.Of("bay.registrypeople.absent-not-on-duty-today-cannot-be")})
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
		return phrase.Of("bay.registrypeople.a-foreman-does-every-stage-decides-releases")
	case procedures.Mechanic:
		return phrase.Of("bay.registrypeople.a-mechanic-opens-jobs-works-countersigns-the")
	case procedures.Apprentice:
		return phrase.Of("bay.registrypeople.an-apprentice-does-what-the-stage-allows")
	}
	return phrase.Of("bay.registrypeople.an-auditor-reads-everything-and-enters-nothing")
}

func qualificationWords(p register.Person, now time.Time) string {
	var out []string
	for _, q := range p.Qualifications {
		if p.QualifiedFor(q.ID, now) == nil {
			out = append(out, q.ID)
		} else {
			out = append(out, phrase.Of("bay.registrypeople.ran-out", q.ID))
		}
	}
	return strings.Join(out, ", ")
}

func qualificationLine(p register.Person, q register.Qualification, now time.Time) line {
	if err := p.QualifiedFor(q.ID, now); err != nil {
		return line{role: draw.Warn, text: sentence(err.Error())}
	}
	return line{text: phrase.Of("bay.registrypeople.until", sentence(q.ID), q.Until)}
}

// levelWords is how far an apprentice has come.
func levelWords(p register.Person) string {
	var out []string
	for _, task := range slices.Sorted(maps.Keys(p.Levels)) {
		out = append(out, task+": "+phrase.Word(p.Level(task).String()))
	}
	if len(out) == 0 {
		return phrase.Of("bay.registrypeople.every-task-with-somebody-beside")
	}
	return phrase.Of("bay.registrypeople.tasks-any-other-with-somebody-beside", strings.Join(out, "; "))
}
