package store

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
)

// keepBackups is how many backups stay in the folder; older ones make room.
const keepBackups = 12

const (
	backupForm = "pawl-backup-20060102-150405.pawl"
	backupGlob = "pawl-backup-*.pawl"
)

// BackupState says when the file was last copied to its second place, and what went wrong last.
type BackupState struct {
	Running bool
	At      time.Time // of the newest good backup made while this file was open; zero: none
	Path    string
	Err     error // why the newest try failed; nil when it did not
}

// BackupState tells how the backups stand.
func (f *File) BackupState() BackupState {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.backup
}

// Backup copies the file to the folder of the settings while work goes on: it writes a copy under
// another name, has the disk confirm it, opens the copy, checks every digest in it and holds its
// seals and jobs against what was copied, and only then gives it its name. It returns the path.
func (f *File) Backup(ctx context.Context) (string, error) {
	f.mu.Lock()
	w, _, err := f.workshop()
	f.mu.Unlock()
	if err != nil {
		return "", err
	}
	if w.Backup == "" {
		return "", phrase.Error("store.backup.no-backup-folder-is-set-choose-one")
	}
	path, err := f.backUpTo(ctx, w.Backup)
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.backup.Err = err; err == nil {
		f.backup.At, f.backup.Path = f.Now(), path
	}
	return path, err
}

// backUpBeside starts a backup that nobody waits for, unless one is running or none is wanted.
func (f *File) backUpBeside() {
	if w, ok, err := f.workshop(); err != nil || !ok || w.Backup == "" || f.backup.Running {
		return
	}
	f.backup.Running = true
	f.backing.Go(func() {
		f.Backup(context.Background()) // what went wrong stands in the state
		f.mu.Lock()
		defer f.mu.Unlock()
		f.backup.Running = false
	})
}

func (f *File) backUpTo(ctx context.Context, dir string) (string, error) {
	info, err := os.Stat(dir)
	if err != nil || !info.IsDir() {
		return "", phrase.Error("store.backup.the-backup-folder-is-not-there-connect", dir)
	}
	temp, err := os.CreateTemp(dir, ".pawl-backup-*") // with mode 0600
	if err != nil {
		return "", backupFault(dir, err)
	}
	defer os.Remove(temp.Name())
	want, err := f.copyTo(temp)
	if err == nil {
		err = temp.Sync()
	}
	if err := errors.Join(err, temp.Close()); err != nil {
		return "", backupFault(dir, err)
	}
	have, err := inspectCopy(ctx, temp.Name())
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", backupFault(dir, err)
	case err != nil:
		return "", phrase.Error("store.backup.the-backup-was-written-and-cannot-be", err)
	case have.Checkpoint != want.Checkpoint || have.Jobs != want.Jobs:
		return "", phrase.Error("store.backup.the-backup-holds-jobs-and-seals-where", have.Jobs, have.Checkpoint.Seals, want.Jobs, want.Checkpoint.Seals, dir)
	}
	path := filepath.Join(dir, f.Now().UTC().Format(backupForm))
	if err := os.Rename(temp.Name(), path); err != nil {
		return "", backupFault(dir, err)
	}
	if err := syncFolder(dir); err != nil {
		return "", backupFault(dir, err)
	}
	return path, prune(dir)
}

func backupFault(dir string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return phrase.Error("store.backup.the-backup-folder-went-away-while-the", dir)
	}
	return phrase.Error("store.backup.the-backup-was-not-made", Full{dir, err})
}

// contents is what a copy must hold.
type contents struct {
	Checkpoint Checkpoint
	Jobs       int
}

// copyTo writes the file as it stands at one moment. Others may go on writing meanwhile.
func (f *File) copyTo(to *os.File) (contents, error) {
	var c contents
	f.mu.Lock()
	if f.broken != nil {
		f.mu.Unlock()
		return c, f.broken
	}
	tx, err := f.db.Begin(false)
	f.mu.Unlock()
	if err != nil {
		return c, f.named(err)
	}
	err = guard(func() (err error) {
		defer tx.Rollback()
		if c, err = contentsOf(tx); err != nil {
			return err
		}
		_, err = tx.WriteTo(to)
		return err
	})
	return c, f.named(err)
}

func contentsOf(tx *bolt.Tx) (contents, error) {
	c, err := checkpointNow(tx)
	if err != nil {
		return contents{}, err
	}
	n, err := heads.tally(tx)
	return contents{c, int(n.rows)}, err
}

// inspectCopy opens a copy and checks all of it.
func inspectCopy(ctx context.Context, path string) (contents, error) {
	f, err := Open(path, Options{ReadOnly: true})
	if err != nil {
		return contents{}, err
	}
	v, err := f.VerifyAll(ctx)
	if err == nil && !v.Whole() {
		err = v.Faults[0].Err
	}
	return contents{v.Checkpoint, v.Jobs}, errors.Join(err, f.Close())
}

// prune removes the oldest backups beyond those kept.
func prune(dir string) error {
	paths, err := backupPaths(dir)
	if err != nil {
		return err
	}
	for _, p := range paths[min(keepBackups, len(paths)):] {
		if err := os.Remove(p); err != nil {
			return phrase.Error("store.backup.remove-an-old-backup", err)
		}
	}
	return nil
}

// backupPaths lists the backups in a folder, newest first.
func backupPaths(dir string) ([]string, error) {
	paths, err := filepath.Glob(filepath.Join(dir, backupGlob))
	if err != nil {
		return nil, phrase.Error("store.backup.list-the-backups-in", dir, err)
	}
	slices.Sort(paths)
	slices.Reverse(paths)
	return paths, nil
}
