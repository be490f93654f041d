// Package register knows the people and instruments of a workshop and whether each may be used on
// a given day. It is pure: dates and times are handed in. It imports quantities and roles only.
package register

import (
	"bay.example/pawl/procedures"
)

// Person is somebody who works in the workshop. People who leave are closed, never removed, so that
// old records keep their names.
type Person struct {
	ID     string          `cbor:"1,keyasint" json:"id"`
	Name   string          `cbor:"2,keyasint" json:"name"`
	Role   procedures.Role `cbor:"3,keyasint" json:"role"`
	Closed bool            `cbor:"4,keyasint,omitempty" json:"closed,omitempty"`
}

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
