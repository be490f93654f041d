package store

import (
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// ChangePerson changes what the register says of somebody who works here: name, role, levels,
// qualifications, and whether he is absent. Only a foreman does that. It never closes anybody and
// never leaves the workshop without a foreman.
func (f *File) ChangePerson(by register.Person, p register.Person) error {
	if err := checkPerson(p); err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error {
		by, err := mayChange(tx, by, procedures.Foreman, phrase.Of("store.changeperson.changes-people-on-the-register"))
		if err != nil {
			return err
		}
		old, err := person(tx, p.ID)
		if err != nil {
			return err
		}
		if old.Closed || p.Closed {
			return phrase.Error("store.changeperson.is-closed-what-the-register-says-of", old.Name)
		}
		all, err := allRows[register.Person](tx, people)
		if err != nil {
			return err
		}
		foremen := 0
		for _, x := range all {
			if x.ID == p.ID {
				x = p
			}
			if x.MayDo(procedures.Foreman) {
				foremen++
			}
		}
		if foremen == 0 {
			return phrase.Error("store.changeperson.is-the-only-foreman-make-another-one", old.Name)
		}
		return f.keep(tx, change{By: by, Act: "changed", Table: people, Key: p.ID}, p)
	})
}
