// Package register knows the people and instruments of a workshop and whether each may be used on
// a given day. It is pure: dates and times are handed in. It imports quantities and roles only.
package register

import (
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// Person is somebody who works in the workshop. People who leave are closed, never removed, so that
// old records keep their names.
type Person struct {
	ID     string          `cbor:"1,keyasint" json:"id"`
	Name   string          `cbor:"2,keyasint" json:"name"`
	Role   procedures.Role `cbor:"3,keyasint" json:"role"`
	Closed bool            `cbor:"4,keyasint,omitempty" json:"closed,omitempty"`
	// Levels says how far an apprentice has come, per task; a task not named is done beside somebody.
	Levels map[string]Level `cbor:"5,keyasint,omitempty" json:"levels,omitempty"`
	// Qualifications are what the person has been taught or licensed for, each until a day.
	Qualifications []Qualification `cbor:"6,keyasint,omitempty" json:"qualifications,omitempty"`
	Absent         bool            `cbor:"7,keyasint,omitempty" json:"absent,omitempty"` // not on duty today
}

// Level says how an apprentice does a task.
type Level uint8

// The levels, lowest first. None lifts the countersign of a torque group or a hold point.
const (
	LevelUnset   Level = iota // as Beside
	LevelWatch                // watches, enters nothing
	LevelBeside               // does it with a mechanic beside; every stage is countersigned
	LevelAtHolds              // does it; countersigned at holds and torque groups
	LevelAlone                // does it alone; countersigned at the critical holds and torque groups
)

// String is the level in words.
func (l Level) String() string {
	switch l {
	case LevelWatch:
		return "watch"
	case LevelAtHolds:
		return "at holds"
	case LevelAlone:
		return "alone"
	}
	return "beside"
}

// Level returns how the person does a task; only apprentices have levels below alone.
func (p Person) Level(task string) Level {
	if p.Role != procedures.Apprentice {
		return LevelAlone
	}
	if l := p.Levels[task]; l != LevelUnset {
		return l
	}
	return LevelBeside
}

// Qualification is something a person may do until a day, such as driving a road test.
type Qualification struct {
	ID    string `cbor:"1,keyasint" json:"id"`
	Until string `cbor:"2,keyasint" json:"until"` // ISO date, itself still valid
}

// QualifiedFor returns why the person may not do what needs that qualification at that moment, or nil.
func (p Person) QualifiedFor(id string, at time.Time) error {
	day := at.Format(time.DateOnly)
	for _, q := range p.Qualifications {
		if q.ID != id {
			continue
		}
		if day > q.Until {
			return phrase.Error("register.person.the-of-ran-out-on", id, p.Name, q.Until)
		}
		return nil
	}
	return phrase.Error("register.person.has-no-on-the-register", p.Name, id)
}

// OnDuty reports whether the person can be fetched today.
func (p Person) OnDuty() bool { return !p.Closed && !p.Absent }

// MayDo reports whether the person's role reaches the one asked for. Auditors do nothing.
func (p Person) MayDo(who procedures.Role) bool {
	return !p.Closed && p.Role.Rank() >= who.Rank() && p.Role.Rank() > procedures.Auditor.Rank()
}

// Qualified reports whether the person may countersign the work of others: a mechanic or a foreman.
func (p Person) Qualified() bool { return p.MayDo(procedures.Mechanic) }

// Register is what the workshop has on a day: everybody and everything that could take part.
type Register struct {
	People      []Person
	Instruments []Instrument
}

// Person returns the person with that id.
func (r Register) Person(id string) (Person, bool) {
	for _, p := range r.People {
		if p.ID == id {
			return p, true
		}
	}
	return Person{}, false
}

// Instrument returns the instrument with that id.
func (r Register) Instrument(id string) (Instrument, bool) {
	for _, i := range r.Instruments {
		if i.ID == id {
			return i, true
		}
	}
	return Instrument{}, false
}
