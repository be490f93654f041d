package store

import (
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/procedures"
)

// Draft is what was half typed and where the screen stood. It outlives a killed program.
type Draft struct {
	Job    uint64         `cbor:"1,keyasint"`
	Stage  procedures.Ref `cbor:"2,keyasint"`
	Check  string         `cbor:"3,keyasint,omitempty"`
	Item   string         `cbor:"4,keyasint,omitempty"`
	Text   string         `cbor:"5,keyasint,omitempty"`
	With   string         `cbor:"6,keyasint,omitempty"` // instrument id
	Person string         `cbor:"7,keyasint,omitempty"` // id

	// A job that is being opened: its vehicle, and the rows of its page as the screen keeps them.
	Vehicle string `cbor:"8,keyasint,omitempty"` // id
	Rows    string `cbor:"9,keyasint,omitempty"`
}

var keyDraft = []byte("draft")

// Draft returns the draft kept, if there is one.
func (f *File) Draft() (Draft, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var d Draft
	var ok bool
	err := f.view(func(tx *bolt.Tx) (err error) {
		d, ok, err = getRow[Draft](tx, draft, keyDraft)
		return err
	})
	return d, ok && err == nil
}

// SaveDraft keeps a draft in place of the one before.
func (f *File) SaveDraft(d Draft) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error { return putRow(tx, draft, keyDraft, d) })
}

// ClearDraft forgets the draft.
func (f *File) ClearDraft() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.update(func(tx *bolt.Tx) error { return draft.remove(tx, keyDraft) })
}
