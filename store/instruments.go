package store

import (
	"cmp"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// PutInstrument adds an instrument or changes its entry. A serial number stands on the register
// once, and the kind and serial number of an entry never change: another tool gets another id. The
// certificate it names is kept with those before it.
func (f *File) PutInstrument(by register.Person, i register.Instrument) error {
	if err := checkInstrument(i); err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error {
		by, err := mayChange(tx, by, procedures.Mechanic, "changes the register of instruments")
		if err != nil {
			return err
		}
		all, err := allRows[register.Instrument](tx, instruments)
		if err != nil {
			return err
		}
		act := "added"
		for _, x := range all {
			switch {
			case x.ID == i.ID && (x.Serial != i.Serial || x.Kind != i.Kind):
				return fmt.Errorf("%s is the %s with serial number %s; give another tool another number", x.ID, x.Kind, x.Serial)
			case x.ID == i.ID:
				act = "changed"
			case x.Serial == i.Serial:
				return fmt.Errorf("the serial number %s belongs to %s already; read it again", i.Serial, x.ID)
			}
		}
		if err := f.keepCertificate(tx, by, register.Certificate{Instrument: i.ID, Number: i.Certificate, Calibrated: i.Calibrated, Due: i.Due}); err != nil {
			return err
		}
		return f.keep(tx, change{By: by, Act: act, Table: instruments, Key: i.ID}, i)
	})
}

func checkInstrument(i register.Instrument) error {
	if err := i.Check(); err != nil {
		return err
	}
	if i.Serial == "" {
		return fmt.Errorf("%s has no serial number; type what is stamped on it", i.ID)
	}
	switch i.Status {
	case register.InUse, register.Dropped, register.Withdrawn:
	default:
		return fmt.Errorf("%s has the status %q; expected %s, %s or %s", i.ID, i.Status, register.InUse, register.Dropped, register.Withdrawn)
	}
	return cmp.Or(checkID("the instrument", i.ID), checkText("the serial number", i.Serial), checkText("the title", i.Title),
		checkText("the certificate number", i.Certificate), checkText("the note", i.StatusNote))
}
