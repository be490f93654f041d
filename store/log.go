package store

import (
	"encoding/binary"
	"slices"
	"time"

	"github.com/fxamacker/cbor/v2"
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
)

// change is what somebody does to one entry of a table.
type change struct {
	By    register.Person
	Act   string // in words, such as "added"
	Table table
	Key   string
}

// logged is one entry of the register log.
type logged struct {
	At      time.Time       `cbor:"1,keyasint"`
	By      job.Who         `cbor:"2,keyasint"`
	Station string          `cbor:"3,keyasint"`
	Act     string          `cbor:"4,keyasint"`
	Table   string          `cbor:"5,keyasint"`
	Key     string          `cbor:"6,keyasint"`
	After   cbor.RawMessage `cbor:"7,keyasint,omitempty"` // the entry as it stands now; nothing for codes
}

// keep writes an entry and logs who did it.
func (f *File) keep(tx *bolt.Tx, c change, v any) error {
	f.reg = nil
	content, err := encMode.Marshal(v)
	if err != nil {
		return phrase.Error("store.log.write", c.Table, err)
	}
	if err := c.Table.put(tx, []byte(c.Key), content); err != nil {
		return err
	}
	return f.log(tx, c, content)
}

// log adds to the register log.
func (f *File) log(tx *bolt.Tx, c change, after []byte) error {
	b, err := registerLog.bucket(tx)
	if err != nil {
		return err
	}
	next := uint64(1)
	if last, _ := b.Cursor().Last(); last != nil {
		if len(last) != 8 {
			return Damaged{What: phrase.Of("store.log.the-register-log-has-the-key", last)}
		}
		next = binary.BigEndian.Uint64(last) + 1
	}
	return putRow(tx, registerLog, uintKey(next), logged{At: f.Now(), By: job.Who{ID: c.By.ID, Name: c.By.Name, Role: c.By.Role},
		Station: f.station, Act: c.Act, Table: string(c.Table), Key: c.Key, After: after})
}

// LogEntry is one change of the register: who did what to which entry, when and where.
type LogEntry struct {
	Number  uint64    `json:"number"` // from 1, without a gap
	At      time.Time `json:"at"`
	By      job.Who   `json:"by"`
	Station string    `json:"station"`
	Act     string    `json:"act"`   // in words, such as "added"
	Table   string    `json:"table"` // such as "people" or "instruments"
	Key     string    `json:"key"`   // the id of the entry
}

// RegisterLog returns every change of the register, newest first.
func (f *File) RegisterLog() ([]LogEntry, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var out []LogEntry
	err := f.view(func(tx *bolt.Tx) error {
		return registerLog.each(tx, func(key, content []byte) error {
			l, err := decodeRow[logged](registerLog, key, content)
			if err == nil && (len(key) != 8 || binary.BigEndian.Uint64(key) != uint64(len(out)+1)) {
				err = Damaged{What: phrase.Of("store.log.entry-of-the-register-log-is-missing", len(out)+1)}
			}
			out = append(out, LogEntry{uint64(len(out) + 1), l.At, l.By, l.Station, l.Act, l.Table, l.Key})
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	slices.Reverse(out)
	return out, nil
}
