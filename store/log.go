package store

import (
	"encoding/binary"
	"fmt"
	"time"

	"github.com/fxamacker/cbor/v2"
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
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
	content, err := encMode.Marshal(v)
	if err != nil {
		return fmt.Errorf("write %s: %w", c.Table, err)
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
			return Damaged{What: fmt.Sprintf("the register log has the key %q", last)}
		}
		next = binary.BigEndian.Uint64(last) + 1
	}
	return putRow(tx, registerLog, uintKey(next), logged{At: f.Now(), By: job.Who{ID: c.By.ID, Name: c.By.Name, Role: c.By.Role},
		Station: f.station, Act: c.Act, Table: string(c.Table), Key: c.Key, After: after})
}
