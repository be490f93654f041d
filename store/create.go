package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
)

// create makes an empty workshop file. It is finished under another name first and only then gets
// its own, so that a loss of power leaves either no file or a whole one; and it never replaces a
// file that somebody else has made meanwhile.
func create(path string) error {
	dir := filepath.Dir(path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return phrase.Error("store.create.make-the-folder-of-the-workshop-file", err)
	}
	temp, err := os.CreateTemp(dir, ".pawl-new-*") // with mode 0600
	if err != nil {
		return phrase.Error("store.create.create-the-workshop-file", err)
	}
	defer os.Remove(temp.Name())
	if err := temp.Close(); err != nil {
		return phrase.Error("store.create.create-the-workshop-file", err)
	}
	if err := guard(func() error { return lay(temp.Name()) }); err != nil {
		return phrase.Error("store.create.create-the-workshop-file", err)
	}
	if err := os.Link(temp.Name(), path); err != nil && !errors.Is(err, fs.ErrExist) {
		if err := os.Rename(temp.Name(), path); err != nil { // a disk without hard links
			return phrase.Error("store.create.create-the-workshop-file", err)
		}
	}
	return syncFolder(dir)
}

// lay writes the empty tables.
func lay(path string) error {
	db, err := bolt.Open(path, 0o600, &bolt.Options{FreelistType: bolt.FreelistMapType})
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bolt.Tx) error {
		for _, name := range [][]byte{bucketJobs, bucketTally} {
			if _, err := tx.CreateBucket(name); err != nil {
				return err
			}
		}
		for _, t := range tables {
			if _, err := tx.CreateBucket([]byte(t)); err != nil {
				return err
			}
			if err := new(tally).write(tx, t); err != nil {
				return err
			}
		}
		return putRow(tx, meta, keyFormat, Format)
	})
	if err == nil {
		err = db.Sync()
	}
	return errors.Join(err, db.Close())
}

// syncFolder makes the name of a new file outlast a loss of power. A file system that cannot sync
// a folder keeps names in its own way.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return phrase.Error("store.create.open-the-folder-of-the-workshop-file", err)
	}
	err = d.Sync()
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) {
		err = nil
	}
	return errors.Join(err, d.Close())
}
