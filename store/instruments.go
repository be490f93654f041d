package store

import (
	"cmp"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
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
		by, err := mayChange(tx, by, procedures.Mechanic, phrase.Of("store.instruments.changes-the-register-of-instruments"))
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
				return phrase.Error("store.instruments.is-the-with-serial-number-give-another", x.ID, x.Kind, x.Serial)
			case x.ID == i.ID:
				act = "changed"
			case x.Serial == i.Serial:
				return phrase.Error("store.instruments.the-serial-number-belongs-to-already-read", i.Serial, x.ID)
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
		return phrase.Error("store.instruments.has-no-serial-number-type-what-is", i.ID)
	}
	switch i.Status {
	case register.InUse, register.Dropped, register.Withdrawn:
	default:
		return phrase.Error("store.instruments.has-the-status-expected-or", i.ID, i.Status, register.InUse, register.Dropped, register.Withdrawn)
	}
	return cmp.Or(checkID(phrase.Of("store.instruments.the-instrument"), i.ID), checkText(phrase.Of("store.instruments.the-serial-number"), i.Serial), checkText(phrase.Of("store.instruments.the-title"), i.Title),
		checkText(phrase.Of("store.instruments.the-certificate-number"), i.Certificate), checkText(phrase.Of("store.instruments.the-note"), i.StatusNote))
}
