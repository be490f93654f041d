package store

import (
	"slices"
	"strings"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Register returns everybody, also those closed, and every instrument, sorted by id. What cannot
// be read is left out, so that a damaged entry can only take rights away.
func (f *File) Register() register.Register {
	f.mu.Lock()
	defer f.mu.Unlock()
	r, err := f.register()
	if err != nil {
		return register.Register{}
	}
	return r
}

func (f *File) register() (register.Register, error) {
	if f.reg == nil || f.broken != nil {
		var r register.Register
		err := f.view(func(tx *bolt.Tx) (err error) {
			if r.People, err = allRows[register.Person](tx, people); err != nil {
				return err
			}
			r.Instruments, err = allRows[register.Instrument](tx, instruments)
			return err
		})
		if err != nil {
			return register.Register{}, err
		}
		f.reg = &r
	}
	return register.Register{People: slices.Clone(f.reg.People), Instruments: slices.Clone(f.reg.Instruments)}, nil
}

// AddPerson puts somebody on the register with a personal code. Only a foreman does that, and an
// id is never given twice.
func (f *File) AddPerson(by register.Person, p register.Person, code string) error {
	if err := checkPerson(p); err != nil {
		return err
	}
	if p.Closed {
		return phrase.Error("store.people.is-closed-only-somebody-who-works-here", p.Name)
	}
	hash, err := f.hashCode(code)
	if err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error {
		by, err := mayChange(tx, by, procedures.Foreman, phrase.Of("store.people.adds-people-to-the-register"))
		if err != nil {
			return err
		}
		if old, ok, err := getRow[register.Person](tx, people, []byte(p.ID)); err != nil {
			return err
		} else if ok {
			return phrase.Error("store.people.the-id-belongs-to-and-is-never", p.ID, old.Name)
		}
		if err := putRow(tx, codes, []byte(p.ID), hash); err != nil {
			return err
		}
		return f.keep(tx, change{By: by, Act: "added", Table: people, Key: p.ID}, p)
	})
}

// ClosePerson takes somebody's rights away for good; the name stays for the old records. The last
// foreman cannot be closed, because nobody could undo what follows.
func (f *File) ClosePerson(by register.Person, id string) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error {
		by, err := mayChange(tx, by, procedures.Foreman, phrase.Of("store.people.closes-people-on-the-register"))
		if err != nil {
			return err
		}
		p, err := person(tx, id)
		if err != nil {
			return err
		}
		if p.Closed {
			return phrase.Error("store.people.is-closed-already", p.Name)
		}
		all, err := allRows[register.Person](tx, people)
		if err != nil {
			return err
		}
		others := 0
		for _, x := range all {
			if x.ID != id && x.MayDo(procedures.Foreman) {
				others++
			}
		}
		if others == 0 {
			return phrase.Error("store.people.is-the-only-foreman-add-another-before", p.Name)
		}
		p.Closed = true
		return f.keep(tx, change{By: by, Act: "closed", Table: people, Key: id}, p)
	})
}

func checkPerson(p register.Person) error {
	if err := checkID(phrase.Of("store.people.the-person"), p.ID); err != nil {
		return err
	}
	if strings.TrimSpace(p.Name) == "" {
		return phrase.Error("store.people.has-no-name-type-it-as-it", p.ID)
	}
	if p.Role.Rank() < 0 {
		return phrase.Error("store.people.is-no-role-expected-or", p.Role, procedures.Apprentice, procedures.Mechanic, procedures.Foreman, procedures.Auditor)
	}
	return checkText(phrase.Of("store.people.the-name"), p.Name)
}

// person reads somebody from the register.
func person(tx *bolt.Tx, id string) (register.Person, error) {
	p, ok, err := getRow[register.Person](tx, people, []byte(id))
	if err == nil && !ok {
		err = phrase.Error("store.people.nobody-on-the-register-has-the-id", id)
	}
	return p, err
}

// mayChange returns the person as the register has him, if the role reaches. What the caller
// believes of the role does not count.
func mayChange(tx *bolt.Tx, by register.Person, who procedures.Role, what string) (register.Person, error) {
	p, err := person(tx, by.ID)
	if err != nil {
		return p, err
	}
	if !p.MayDo(who) {
		role := phrase.Word(p.Role)
		if p.Closed {
			role = phrase.Of("store.people.no-longer-on-the-register")
		}
		return p, phrase.Error("store.people.is-only-a", p.Name, role, atLeast(who), what)
	}
	return p, nil
}

func atLeast(who procedures.Role) string {
	if who == procedures.Mechanic {
		return phrase.Of("store.people.mechanic-or-foreman")
	}
	return string(who)
}
