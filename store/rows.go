package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash/crc32"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
)

// table is a bucket of checked rows.
type table string

const (
	meta        table = "meta"
	people      table = "people"
	codes       table = "codes"
	tries       table = "tries"
	instruments table = "instruments"
	vehicles    table = "vehicles"
	registerLog table = "register-log"
	pinned      table = "pinned"
	inUse       table = "in-use"
	heads       table = "heads"
	draft       table = "draft"
	pulls       table = "pulls"
	sealed      table = "sealed"
	seals       table = "seals"
	sealNodes   table = "seal-hashes"
	tagged      table = "tagged"
	certified   table = "certificates"
	recalls     table = "recalls"
)

var tables = []table{meta, people, codes, tries, instruments, vehicles, registerLog, pinned, inUse, heads, draft, pulls, sealed, seals, sealNodes, tagged, certified, recalls}

// late are the tables that grow with the years. They are not read through when the file is opened:
// a row is checked when it is read, and all of them by VerifyAll.
var late = []table{pulls, sealed, seals, sealNodes, tagged, certified, recalls}

// The buckets that are no tables.
var (
	bucketJobs  = []byte("jobs")
	bucketTally = []byte("tally")
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

const sumSize = 4

// withSum puts the checksum before a row's content.
func (t table) withSum(key, content []byte) []byte {
	row := make([]byte, sumSize, sumSize+len(content))
	row = append(row, content...)
	binary.BigEndian.PutUint32(row, t.sum(key, content))
	return row
}

func (t table) sum(key, content []byte) uint32 {
	c := crc32.Update(0, castagnoli, []byte(t))
	c = crc32.Update(c, castagnoli, []byte{0, byte(len(key)), byte(len(key) >> 8)})
	c = crc32.Update(c, castagnoli, key)
	return crc32.Update(c, castagnoli, content)
}

// withoutSum returns a copy of the content of a row.
func (t table) withoutSum(key, row []byte) ([]byte, error) {
	if len(row) < sumSize || binary.BigEndian.Uint32(row) != t.sum(key, row[sumSize:]) {
		return nil, Damaged{What: phrase.Of("store.rows.the-entry-in-does-not-have-its", keyWords(key), t)}
	}
	return bytes.Clone(row[sumSize:]), nil
}

// keyWords shows a key: as a number where it is one, as text otherwise.
func keyWords(key []byte) string {
	if len(key) == 8 && key[0] == 0 {
		return fmt.Sprint(binary.BigEndian.Uint64(key))
	}
	return fmt.Sprintf("%q", key)
}

func (t table) bucket(tx *bolt.Tx) (*bolt.Bucket, error) { return bucket(tx, []byte(t)) }

func bucket(tx *bolt.Tx, name []byte) (*bolt.Bucket, error) {
	if b := tx.Bucket(name); b != nil {
		return b, nil
	}
	return nil, Damaged{What: phrase.Of("store.rows.its-part-is-missing", name)}
}

// get returns the content of a row, or nil when there is none.
func (t table) get(tx *bolt.Tx, key []byte) ([]byte, error) {
	b, err := t.bucket(tx)
	if err != nil {
		return nil, err
	}
	row := b.Get(key)
	if row == nil {
		return nil, nil
	}
	return t.withoutSum(key, row)
}

// put writes a row and keeps the tally.
func (t table) put(tx *bolt.Tx, key, content []byte) error {
	return t.replace(tx, key, t.withSum(key, content))
}

// remove deletes a row and keeps the tally.
func (t table) remove(tx *bolt.Tx, key []byte) error { return t.replace(tx, key, nil) }

func (t table) replace(tx *bolt.Tx, key, row []byte) error {
	b, err := t.bucket(tx)
	if err != nil {
		return err
	}
	n, err := t.tally(tx)
	if err != nil {
		return err
	}
	if old := b.Get(key); old != nil {
		n.flip(key, old, -1)
	}
	if row == nil {
		err = b.Delete(key)
	} else {
		n.flip(key, row, 1)
		err = b.Put(key, row)
	}
	if err != nil {
		return phrase.Error("store.rows.write", t, err)
	}
	return n.write(tx, t)
}

// each calls do with a copy of every row in key order and checks the tally of the table.
func (t table) each(tx *bolt.Tx, do func(key, content []byte) error) error {
	b, err := t.bucket(tx)
	if err != nil {
		return err
	}
	want, err := t.tally(tx)
	if err != nil {
		return err
	}
	var have tally
	c := b.Cursor()
	for k, row := c.First(); k != nil; k, row = c.Next() {
		content, err := t.withoutSum(k, row)
		if err != nil {
			return err
		}
		have.flip(k, row, 1)
		if err := do(bytes.Clone(k), content); err != nil {
			return err
		}
	}
	if have != want {
		return Damaged{What: phrase.Of("store.rows.has-entries-where-were-written", t, have.rows, want.rows)}
	}
	return nil
}

// tally is the number of rows of a table and the exclusive-or of their sums: it finds rows lost or
// too many, which no checksum of a single row can.
type tally struct {
	rows int64
	sum  [sha256.Size]byte
}

func (n *tally) flip(key, row []byte, by int64) {
	h := sha256.New()
	h.Write(binary.BigEndian.AppendUint32(nil, uint32(len(key))))
	h.Write(key)
	h.Write(row)
	for i, x := range h.Sum(nil) {
		n.sum[i] ^= x
	}
	n.rows += by
}

// tally reads the tally of a table.
func (t table) tally(tx *bolt.Tx) (tally, error) {
	var n tally
	b, err := bucket(tx, bucketTally)
	if err != nil {
		return n, err
	}
	v := b.Get([]byte(t))
	if len(v) != 8+sha256.Size+sumSize || binary.BigEndian.Uint32(v[8+sha256.Size:]) != t.sum(nil, v[:8+sha256.Size]) {
		return n, Damaged{What: phrase.Of("store.rows.the-tally-of-is-missing-or-wrong", t)}
	}
	n.rows = int64(binary.BigEndian.Uint64(v))
	copy(n.sum[:], v[8:])
	return n, nil
}

func (n *tally) write(tx *bolt.Tx, t table) error {
	v := binary.BigEndian.AppendUint64(nil, uint64(n.rows))
	v = append(v, n.sum[:]...)
	b, err := bucket(tx, bucketTally)
	if err != nil {
		return err
	}
	if err := b.Put([]byte(t), binary.BigEndian.AppendUint32(v, t.sum(nil, v))); err != nil {
		return phrase.Error("store.rows.write-tally-of", t, err)
	}
	return nil
}

// putRow writes v as the content of a row.
func putRow(tx *bolt.Tx, t table, key []byte, v any) error {
	content, err := encMode.Marshal(v)
	if err != nil {
		return phrase.Error("store.rows.write", t, err)
	}
	return t.put(tx, key, content)
}

// getRow reads a row; ok is false when there is none.
func getRow[T any](tx *bolt.Tx, t table, key []byte) (v T, ok bool, err error) {
	content, err := t.get(tx, key)
	if err != nil || content == nil {
		return v, false, err
	}
	v, err = decodeRow[T](t, key, content)
	return v, err == nil, err
}

func decodeRow[T any](t table, key, content []byte) (T, error) {
	var v T
	if err := decMode.Unmarshal(content, &v); err != nil {
		return v, Damaged{What: phrase.Of("store.rows.the-entry-in-cannot-be-read", keyWords(key), t, err)}
	}
	return v, nil
}

// allRows reads a whole table in key order.
func allRows[T any](tx *bolt.Tx, t table) ([]T, error) {
	var out []T
	err := t.each(tx, func(key, content []byte) error {
		v, err := decodeRow[T](t, key, content)
		out = append(out, v)
		return err
	})
	return out, err
}
