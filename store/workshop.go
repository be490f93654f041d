package store

import (
	"cmp"
	"path/filepath"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Workshop is what the workshop says of itself, with the settings of this file.
type Workshop struct {
	Name         string    `cbor:"1,keyasint"`
	Demo         bool      `cbor:"2,keyasint"` // invented people, vehicles and figures
	Created      time.Time `cbor:"3,keyasint"` // filled in by SetUp
	Palette      string    `cbor:"4,keyasint"`
	DecimalComma bool      `cbor:"5,keyasint"`
	Backup       string    `cbor:"6,keyasint,omitempty"` // folder on another disk; empty: none is made
	IdleMinutes  int       `cbor:"7,keyasint,omitempty"` // somebody is signed out after so long without a key; 0 is DefaultIdle
	ASCII        bool      `cbor:"8,keyasint,omitempty"` // drawn with ASCII characters only

	// TorqueUnit is the unit torques are also shown in, beside that of their window; empty: in no other.
	TorqueUnit quantity.Unit `cbor:"9,keyasint,omitempty"`
}

// DefaultIdle is how long somebody stays signed in without a key where the workshop set nothing
// (common practice, no source).
const DefaultIdle = 10 * time.Minute

// Idle is how long somebody stays signed in without a key.
func (w Workshop) Idle() time.Duration {
	if w.IdleMinutes <= 0 {
		return DefaultIdle
	}
	return time.Duration(w.IdleMinutes) * time.Minute
}

var keyWorkshop = []byte("workshop")

// Workshop returns what SetUp wrote; false means that nothing has been set up yet, or that it
// cannot be read.
func (f *File) Workshop() (Workshop, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	w, ok, err := f.workshop()
	return w, ok && err == nil
}

func (f *File) workshop() (w Workshop, ok bool, err error) {
	err = f.view(func(tx *bolt.Tx) (err error) {
		w, ok, err = getRow[Workshop](tx, meta, keyWorkshop)
		return err
	})
	return w, ok, err
}

// SetUp names the workshop and its first foreman. It can be done once.
func (f *File) SetUp(w Workshop, foreman register.Person, code string) error {
	if err := checkWorkshop(w); err != nil {
		return err
	}
	if foreman.Role != procedures.Foreman {
		return phrase.Error("store.workshop.the-first-person-is-the-workshop-begins", foreman.Role)
	}
	if err := checkPerson(foreman); err != nil {
		return err
	}
	hash, err := f.hashCode(code)
	if err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	w.Created = f.Now()
	return f.update(func(tx *bolt.Tx) error {
		if _, ok, err := getRow[Workshop](tx, meta, keyWorkshop); err != nil {
			return err
		} else if ok {
			return phrase.Error("store.workshop.the-workshop-has-been-set-up-already")
		}
		if err := putRow(tx, meta, keyWorkshop, w); err != nil {
			return err
		}
		if err := putRow(tx, codes, []byte(foreman.ID), hash); err != nil {
			return err
		}
		return f.keep(tx, change{By: foreman, Act: "set up", Table: people, Key: foreman.ID}, foreman)
	})
}

// SaveWorkshop changes the settings. When and how it was set up does not change.
func (f *File) SaveWorkshop(w Workshop) error {
	if err := checkWorkshop(w); err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error {
		old, ok, err := getRow[Workshop](tx, meta, keyWorkshop)
		if err != nil {
			return err
		}
		if !ok {
			return phrase.Error("store.workshop.the-workshop-has-not-been-set-up")
		}
		w.Created, w.Demo = old.Created, old.Demo
		return putRow(tx, meta, keyWorkshop, w)
	})
}

func checkWorkshop(w Workshop) error {
	if strings.TrimSpace(w.Name) == "" {
		return phrase.Error("store.workshop.the-workshop-has-no-name-type-one")
	}
	if w.Backup != "" && !filepath.IsAbs(w.Backup) {
		return phrase.Error("store.workshop.the-backup-folder-is-not-a-whole", w.Backup)
	}
	if w.TorqueUnit != "" && w.TorqueUnit.Dimension() != quantity.Torque {
		return phrase.Error("store.workshop.is-no-unit-of-torque-expected-one", w.TorqueUnit)
	}
	return cmp.Or(checkText(phrase.Of("store.workshop.the-name-of-the-workshop"), w.Name), checkText(phrase.Of("store.workshop.the-name-of-the-palette"), w.Palette))
}

// maxName is the most characters a name or a number in the register may have.
const maxName = 80

// checkText refuses what cannot be printed as it is.
func checkText(what, s string) error {
	if n := utf8.RuneCountInString(s); n > maxName {
		return phrase.Error("store.workshop.has-characters-at-most-are-kept", what, n, maxName)
	}
	if !utf8.ValidString(s) {
		return phrase.Error("store.workshop.is-not-valid-utf-8-text", what)
	}
	for _, r := range s {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029' {
			return phrase.Error("store.workshop.holds-the-invisible-character-u-type-plain", what, r)
		}
	}
	return nil
}

// maxID keeps ids short enough to be typed and shown in a column.
const maxID = 32

// checkID refuses an id that could not be typed or told from another at sight.
func checkID(what, id string) error {
	switch {
	case id == "":
		return phrase.Error("store.workshop.has-no-number-or-short-name-type", what)
	case id != strings.TrimSpace(id):
		return phrase.Error("store.workshop.the-id-of-begins-or-ends-with", id, what)
	case utf8.RuneCountInString(id) > maxID:
		return phrase.Error("store.workshop.the-id-of-has-characters-at-most", what, utf8.RuneCountInString(id), maxID)
	}
	return checkText(phrase.Of("store.workshop.the-id-of", what), id)
}
