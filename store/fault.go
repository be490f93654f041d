package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"runtime/debug"
	"syscall"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
)

// guard runs do and turns a panic or a fault of the memory map into Damaged: bbolt maps the file
// and answers damage with a panic or, past the end of a shortened file, a bus error.
func guard(do func() error) (err error) {
	old := debug.SetPanicOnFault(true)
	defer debug.SetPanicOnFault(old)
	defer func() {
		if r := recover(); r != nil {
			err = panicked{fmt.Sprint(r)}
		}
	}()
	return do()
}

type panicked struct{ what string }

func (p panicked) Error() string {
	return phrase.Of("store.fault.it-cannot-be-read-in-one-place", p.what)
}

// named puts the path into the errors that come from below.
func (f *File) named(err error) error {
	var p panicked
	var d Damaged
	switch {
	case err == nil:
		return nil
	case errors.As(err, &p):
		return Damaged{f.path, p.Error()}
	case errors.As(err, &d):
		d.Path = f.path
		return d
	}
	return err
}

// view runs a read transaction. Nothing that do gets may be kept without copying it, and do must
// not wait for anything.
func (f *File) view(do func(*bolt.Tx) error) error {
	if f.broken != nil {
		return f.broken
	}
	err := guard(func() error { return f.db.View(do) })
	var p panicked
	if errors.As(err, &p) {
		f.forget() // nothing that is remembered of such a file can be trusted
	}
	return f.named(err)
}

// update runs a write transaction. When the commit itself fails nobody knows what reached the disk,
// so the file is closed, opened again and asked: the error is Full when the change is not in it and
// Unsure when it is.
func (f *File) update(do func(*bolt.Tx) error) error {
	if f.broken != nil {
		return f.broken
	}
	if f.reads {
		return phrase.Error("store.fault.was-opened-for-reading-only", f.path)
	}
	if err := f.inPlace(); err != nil {
		return err
	}
	if f.fell {
		if err := f.writeAgain(); err != nil {
			return err
		}
	}
	id, ready := 0, false
	err := guard(func() error {
		return f.db.Update(func(tx *bolt.Tx) error {
			id = tx.ID()
			err := do(tx)
			ready = err == nil
			return err
		})
	})
	var p panicked
	switch {
	case err == nil:
		return nil
	case errors.As(err, &p):
		f.broken = f.named(err) // bbolt may hold its locks for ever now
		return f.broken
	case !ready:
		f.forget() // what was remembered may rest on what was not written
		return f.named(err)
	}
	return f.afterFailedCommit(id, err)
}

func (f *File) afterFailedCommit(id int, cause error) error {
	f.forget()
	if err := f.db.Close(); err != nil {
		f.broken = phrase.Error("store.fault.the-workshop-file-cannot-be-closed-after", f.path, cause, err)
		return f.broken
	}
	err := f.reopen()
	if errors.Is(err, syscall.EROFS) { // a disk that fails is often made read-only: what is there can still be read
		f.fell = true
		err = f.reopen()
	}
	if err != nil {
		f.broken = phrase.Error("store.fault.the-workshop-file-cannot-be-opened-again", f.path, cause, err)
		return f.broken
	}
	now := 0
	err = f.view(func(tx *bolt.Tx) error {
		now = tx.ID()
		return nil
	})
	switch {
	case err != nil:
		return err
	case now >= id:
		return Unsure{f.path, cause}
	}
	return Full{f.path, cause}
}

// inPlace makes sure that the file still bears its name, so that nothing is written into one that
// nobody will open again. Everything acknowledged is in the file that is open, and a backup copies
// that one.
func (f *File) inPlace() error {
	now, err := os.Stat(f.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return Gone{f.path, false}
	case err == nil && !os.SameFile(now, f.inode):
		return Gone{f.path, true}
	}
	return nil // where the folder cannot be read the write itself will tell
}

// writeAgain opens a file for writing whose disk was read-only when it was last written to.
func (f *File) writeAgain() error {
	f.forget()
	if err := f.db.Close(); err != nil {
		f.broken = phrase.Error("store.fault.the-workshop-file-cannot-be-closed-start", f.path, err)
		return f.broken
	}
	f.fell = false
	err := f.reopen()
	if err == nil {
		return nil
	}
	f.fell = true
	if again := f.reopen(); again != nil {
		f.broken = phrase.Error("store.fault.the-workshop-file-cannot-be-opened-again-2", f.path, again)
		return f.broken
	}
	return err
}

// forget drops everything remembered of the file; it is read again when it is wanted.
func (f *File) forget() {
	clear(f.cards)
	clear(f.tags)
	f.typed = typing{}
	f.reg, f.pulls, f.list = nil, nil, nil
}
