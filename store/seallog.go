package store

import (
	"encoding/binary"

	bolt "go.etcd.io/bbolt"
	"golang.org/x/mod/sumdb/tlog"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/seal"
)

// The seals of all jobs stand in one log in the order they were made. Its hashes form the tree of
// RFC 6962, so that a short checkpoint kept elsewhere shows later whether the log only grew. The
// hashes are derived from the seals.

// sealCount is the number of seals in the log.
func sealCount(tx *bolt.Tx) (int64, error) {
	n, err := seals.tally(tx)
	return n.rows, err
}

// sealsNow is the number of seals in the log.
func (f *File) sealsNow() (n int64, err error) {
	err = f.view(func(tx *bolt.Tx) (err error) {
		n, err = sealCount(tx)
		return err
	})
	return n, err
}

// nodes reads the stored hashes of the log.
type nodes struct{ tx *bolt.Tx }

// ReadHashes is what tlog asks for.
func (n nodes) ReadHashes(indexes []int64) ([]tlog.Hash, error) {
	out := make([]tlog.Hash, len(indexes))
	for i, x := range indexes {
		h, err := sealNodes.get(n.tx, uintKey(uint64(x)))
		if err != nil {
			return nil, err
		}
		if len(h) != tlog.HashSize {
			return nil, Damaged{What: phrase.Of("store.seallog.hash-of-the-log-of-seals-is", x)}
		}
		copy(out[i][:], h)
	}
	return out, nil
}

// addSeal puts a seal at the end of the log and returns its place, from 0.
func addSeal(tx *bolt.Tx, s seal.Seal) (int64, error) {
	n, err := sealCount(tx)
	if err != nil {
		return 0, err
	}
	if err := seals.put(tx, uintKey(uint64(n)), s.Text()); err != nil {
		return 0, err
	}
	return n, addNodes(tx, n, s.Text())
}

// addNodes stores the hashes that the seal in place n completes.
func addNodes(tx *bolt.Tx, n int64, text []byte) error {
	hashes, err := tlog.StoredHashes(n, text, nodes{tx})
	if err != nil {
		return err
	}
	first := tlog.StoredHashIndex(0, n)
	for i, h := range hashes {
		if err := sealNodes.put(tx, uintKey(uint64(first)+uint64(i)), h[:]); err != nil {
			return err
		}
	}
	return nil
}

// readSeal reads the seal in a place of the log.
func readSeal(tx *bolt.Tx, place int64) (seal.Seal, error) {
	text, err := seals.get(tx, uintKey(uint64(place)))
	if err != nil {
		return seal.Seal{}, err
	}
	if text == nil {
		return seal.Seal{}, Damaged{What: phrase.Of("store.seallog.seal-is-missing", place+1)}
	}
	return parseSeal(uint64(place), text)
}

func parseSeal(place uint64, text []byte) (seal.Seal, error) {
	s, err := seal.Parse(text)
	if err != nil {
		return s, Damaged{What: phrase.Of("store.seallog.seal", place+1, err)}
	}
	return s, nil
}

// eachSeal calls do with every seal in the order of the log.
func eachSeal(tx *bolt.Tx, do func(place uint64, s seal.Seal) error) error {
	next := uint64(0)
	return seals.each(tx, func(key, text []byte) error {
		if len(key) != 8 || binary.BigEndian.Uint64(key) != next {
			return Damaged{What: phrase.Of("store.seallog.seal-is-missing", next+1)}
		}
		s, err := parseSeal(next, text)
		if err != nil {
			return err
		}
		next++
		return do(next-1, s)
	})
}

// sealRoot is the root hash of the log over its first n seals.
func sealRoot(tx *bolt.Tx, n int64) (tlog.Hash, error) {
	if n == 0 {
		return tlog.Hash(emptyRoot), nil
	}
	return tlog.TreeHash(n, nodes{tx})
}
