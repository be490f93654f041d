package store

import (
	"crypto/rand"
	"crypto/subtle"
	"time"

	bolt "go.etcd.io/bbolt"
	"golang.org/x/crypto/argon2"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Cost says how much work argon2id puts into the hash of a code.
type Cost struct {
	Memory uint32 `cbor:"1,keyasint"` // KiB
	Passes uint32 `cbor:"2,keyasint"`
	Lanes  uint8  `cbor:"3,keyasint"`
}

// DefaultCost is the second recommended option of RFC 9106, section 4: 64 MiB, 3 passes, 4 lanes,
// with a salt of 128 and a tag of 256 bits. No cost protects four digits in a copied file; the code
// tells people apart at the bay.
var DefaultCost = Cost{Memory: 64 << 10, Passes: 3, Lanes: 4}

// hashed is a personal code as kept.
type hashed struct {
	Cost Cost   `cbor:"1,keyasint"`
	Salt []byte `cbor:"2,keyasint"`
	Hash []byte `cbor:"3,keyasint"`
}

const (
	saltSize = 16
	hashSize = 32
)

// valid bounds what a foreign file can make this program spend.
func (h hashed) valid() bool {
	return h.Cost.Passes >= 1 && h.Cost.Passes <= 64 && h.Cost.Lanes >= 1 && h.Cost.Memory <= 1<<20 &&
		len(h.Salt) == saltSize && len(h.Hash) == hashSize
}

func (h hashed) of(code string) []byte {
	return argon2.IDKey([]byte(code), h.Salt, h.Cost.Passes, h.Cost.Memory, h.Cost.Lanes, hashSize)
}

// hashCode checks the form of a new code and hashes it.
func (f *File) hashCode(code string) (hashed, error) {
	if err := checkCodeForm(code); err != nil {
		return hashed{}, err
	}
	h := hashed{Cost: f.cost, Salt: make([]byte, saltSize)}
	rand.Read(h.Salt) // never fails, by its documentation
	f.codeMu.Lock()
	defer f.codeMu.Unlock()
	h.Hash = h.of(code)
	return h, nil
}

func checkCodeForm(code string) error {
	for _, r := range code {
		if r < '0' || r > '9' {
			return phrase.Error("store.codes.a-personal-code-is-4-to-12")
		}
	}
	if len(code) < 4 || len(code) > 12 {
		return phrase.Error("store.codes.a-personal-code-is-4-to-12-2", len(code))
	}
	return nil
}

// SetCode gives somebody a new code: a person to himself, a foreman to everybody. It also ends the
// waiting after wrong tries.
func (f *File) SetCode(by register.Person, id, code string) error {
	hash, err := f.hashCode(code)
	if err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error {
		p, err := person(tx, id)
		if err != nil {
			return err
		}
		if p.Closed {
			return phrase.Error("store.codes.is-no-longer-on-the-register-and", p.Name)
		}
		if by.ID != id {
			if by, err = mayChange(tx, by, procedures.Foreman, phrase.Of("store.codes.sets-the-code-of-somebody-else")); err != nil {
				return err
			}
		} else {
			by = p
		}
		if err := putRow(tx, codes, []byte(id), hash); err != nil {
			return err
		}
		if err := tries.remove(tx, []byte(id)); err != nil {
			return err
		}
		return f.log(tx, change{By: by, Act: "code set", Table: codes, Key: id}, nil)
	})
}

// tried counts wrong tries in a row.
type tried struct {
	Wrong int       `cbor:"1,keyasint"`
	Last  time.Time `cbor:"2,keyasint"`
}

// delay is how long the next try has to wait: 1, 2, 4 … 60 seconds.
func (t tried) delay() time.Duration {
	switch {
	case t.Wrong < 1:
		return 0
	case t.Wrong > 6:
		return time.Minute
	}
	return time.Second << (t.Wrong - 1)
}

// CheckCode returns nil for the right code, an error that is ErrWrongCode for a wrong one, and Wait
// while the delay after wrong tries runs. The count is kept in the file and never locks for good.
func (f *File) CheckCode(id, code string) error {
	f.codeMu.Lock()
	defer f.codeMu.Unlock()
	p, h, before, err := f.codeOf(id)
	if err != nil {
		return err
	}
	if left, err := f.waiting(p, before); err != nil || left > 0 {
		if err == nil {
			err = Wait{p.Name, left}
		}
		return err
	}
	right := checkCodeForm(code) == nil && subtle.ConstantTimeCompare(h.of(code), h.Hash) == 1
	f.mu.Lock()
	defer f.mu.Unlock()
	if right {
		if before.Wrong == 0 {
			return nil
		}
		return f.update(func(tx *bolt.Tx) error { return tries.remove(tx, []byte(id)) })
	}
	after := tried{before.Wrong + 1, f.Now()}
	err = f.update(func(tx *bolt.Tx) error {
		if err := putRow(tx, tries, []byte(id), after); err != nil {
			return err
		}
		return f.log(tx, change{By: p, Act: "wrong code", Table: codes, Key: id}, nil)
	})
	if err != nil {
		return err
	}
	return phrase.Error("store.codes.that-is-not-the-code-of-the", p.Name, int(after.delay()/time.Second), ErrWrongCode)
}

// codeOf reads what a check of a code needs.
func (f *File) codeOf(id string) (p register.Person, h hashed, t tried, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	err = f.view(func(tx *bolt.Tx) (err error) {
		if p, err = person(tx, id); err != nil {
			return err
		}
		if p.Closed {
			return phrase.Error("store.codes.is-no-longer-on-the-register", p.Name)
		}
		var ok bool
		if h, ok, err = getRow[hashed](tx, codes, []byte(id)); err != nil {
			return err
		}
		if !ok || !h.valid() {
			return phrase.Error("store.codes.has-no-code-that-can-be-checked", p.Name)
		}
		t, _, err = getRow[tried](tx, tries, []byte(id))
		return err
	})
	return p, h, t, err
}

// waiting returns how much of the delay is left. A clock that was set back starts the delay again
// from now, so that it can be neither jumped over nor last for ever.
func (f *File) waiting(p register.Person, t tried) (time.Duration, error) {
	now := f.Now()
	if t.Wrong == 0 {
		return 0, nil
	}
	if now.Before(t.Last) {
		t.Last = now
		f.mu.Lock()
		defer f.mu.Unlock()
		if err := f.update(func(tx *bolt.Tx) error { return putRow(tx, tries, []byte(p.ID), t) }); err != nil {
			return 0, err
		}
	}
	return t.Last.Add(t.delay()).Sub(now), nil
}
