package store

import (
	"fmt"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// SetLevel says how an apprentice does a task from now on. Only the foreman does that, and he may
// raise it only when the practice record over all jobs of this file is long enough; lowering it
// needs no record.
func (f *File) SetLevel(by register.Person, id, task string, level register.Level) error {
	if level < register.LevelWatch || level > register.LevelAlone {
		return phrase.Error("store.personchange.is-no-level-expected-watch-beside-at", level)
	}
	if err := checkID(phrase.Of("store.personchange.the-task"), task); err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	r, err := f.register()
	if err != nil {
		return err
	}
	p, ok := r.Person(id)
	if ok && p.Role == procedures.Apprentice && level > p.Level(task) {
		if err := f.mayRaise(p, task); err != nil {
			return err
		}
	}
	return f.changePerson(by, id, phrase.Of("store.personchange.sets-the-levels-of-apprentices"), fmt.Sprintf("set the level of %s of", task), func(p *register.Person) error {
		if p.Role != procedures.Apprentice {
			return phrase.Error("store.personchange.is-only-apprentices-have-levels", p.Name, p.Role)
		}
		levels := map[string]register.Level{task: level}
		for k, v := range p.Levels {
			if k != task {
				levels[k] = v
			}
		}
		p.Levels = levels
		return nil
	})
}

// mayRaise returns why the practice record does not allow a higher level, or nil.
func (f *File) mayRaise(p register.Person, task string) error {
	all, err := f.jobs()
	if err != nil {
		return err
	}
	var cards []*job.Card
	for _, s := range all {
		c, err := f.load(s.Number)
		if err != nil {
			return err
		}
		cards = append(cards, c)
	}
	record := job.TaskRecord{Task: task}
	for _, r := range job.PracticeRecord(p.ID, cards) {
		if r.Task == task {
			record = r
		}
	}
	if !record.MayRaise() {
		return phrase.Error("store.personchange.has-done-times-on-the-left-and", p.Name, task, record.Left, record.Right, job.RaiseAfter)
	}
	return nil
}

// SetQualification says until when (ISO date, itself still valid) somebody may do what needs that
// qualification. Only the foreman does that.
func (f *File) SetQualification(by register.Person, id, qualification, until string) error {
	if err := checkID(phrase.Of("store.personchange.the-qualification"), qualification); err != nil {
		return err
	}
	if _, err := time.Parse(time.DateOnly, until); err != nil {
		return phrase.Error("store.personchange.is-no-date-expected-year-month-day", until)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.changePerson(by, id, phrase.Of("store.personchange.changes-qualifications"), fmt.Sprintf("set the %s of", qualification), func(p *register.Person) error {
		next := slices.DeleteFunc(slices.Clone(p.Qualifications), func(q register.Qualification) bool { return q.ID == qualification })
		p.Qualifications = append(next, register.Qualification{ID: qualification, Until: until})
		return nil
	})
}

// SetAbsent says whether somebody can be fetched today. The foreman says it of anybody, and
// everybody of himself.
func (f *File) SetAbsent(by register.Person, id string, absent bool) error {
	act := "noted as present"
	if absent {
		act = "noted as absent"
	}
	set := func(p *register.Person) error {
		p.Absent = absent
		return nil
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if by.ID != id {
		return f.changePerson(by, id, phrase.Of("store.personchange.says-of-others-whether-they-are-here"), act, set)
	}
	return f.update(func(tx *bolt.Tx) error {
		p, err := person(tx, id)
		if err != nil {
			return err
		}
		if p.Closed {
			return phrase.Error("store.codes.is-no-longer-on-the-register", p.Name)
		}
		set(&p)
		return f.keep(tx, change{By: p, Act: act, Table: people, Key: id}, p)
	})
}

// changePerson lets a foreman change one entry that is not closed.
func (f *File) changePerson(by register.Person, id, what, act string, set func(*register.Person) error) error {
	return f.update(func(tx *bolt.Tx) error {
		by, err := mayChange(tx, by, procedures.Foreman, what)
		if err != nil {
			return err
		}
		p, err := person(tx, id)
		if err != nil {
			return err
		}
		if p.Closed {
			return phrase.Error("store.codes.is-no-longer-on-the-register", p.Name)
		}
		if err := set(&p); err != nil {
			return err
		}
		return f.keep(tx, change{By: by, Act: act, Table: people, Key: id}, p)
	})
}
