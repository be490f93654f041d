package store

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"bay.example/pawl/job/phrase"
)

// BackupFile is one backup in a folder and what came of looking into it.
type BackupFile struct {
	Path string
	At   time.Time // when it was made, by its name
	Held Rehearsal
	Err  error // why it is no good; nil when it is
}

// Backups opens every backup in a folder, newest first, checks all digests in it and names the
// damaged ones.
func Backups(ctx context.Context, dir string) ([]BackupFile, error) {
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return nil, phrase.Error("store.restore.the-backup-folder-is-not-there-connect", dir)
	}
	paths, err := backupPaths(dir)
	if err != nil {
		return nil, err
	}
	var out []BackupFile
	for _, p := range paths {
		if ctx.Err() != nil {
			return out, ctx.Err()
		}
		b := BackupFile{Path: p}
		b.At, _ = time.Parse(backupForm, filepath.Base(p)) // a renamed one has no time
		b.Held, b.Err = look(ctx, p)
		out = append(out, b)
	}
	return out, nil
}

// Rehearsal is what a file holds, counted after opening it and checking all of it.
type Rehearsal struct {
	Jobs, Events, Seals           int
	People, Instruments, Vehicles int
	Checkpoint                    Checkpoint
	Newest                        time.Time // of the newest event
}

// rehearsedJobs is how many of the newest jobs a rehearsal reads event by event.
const rehearsedJobs = 20

// look opens a file for reading, checks all digests and reads the newest jobs.
func look(ctx context.Context, path string) (Rehearsal, error) {
	var r Rehearsal
	f, err := Open(path, Options{ReadOnly: true})
	if err != nil {
		return r, err
	}
	err = func() error {
		v, err := f.VerifyAll(ctx)
		if err != nil {
			return err
		}
		if !v.Whole() {
			return v.Faults[0].Err
		}
		reg := f.Register()
		r = Rehearsal{Jobs: v.Jobs, Events: v.Events, Seals: v.Seals, People: len(reg.People), Instruments: len(reg.Instruments),
			Vehicles: len(f.Vehicles()), Checkpoint: v.Checkpoint}
		all, err := f.Jobs()
		if err != nil {
			return err
		}
		for i, s := range all {
			if s.Last.After(r.Newest) {
				r.Newest = s.Last
			}
			if i < rehearsedJobs {
				if _, err := f.Load(s.Number); err != nil {
					return err
				}
			}
		}
		return nil
	}()
	return r, errors.Join(err, f.Close())
}

// Restore copies a backup into a new file and checks the copy. It never writes over a file: the one
// that is there is moved away by hand first, and kept.
func Restore(ctx context.Context, backup, to string) (Rehearsal, error) {
	if _, err := os.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
		return Rehearsal{}, phrase.Error("store.restore.is-there-already-a-backup-is-restored", to)
	}
	dir := filepath.Dir(to)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return Rehearsal{}, phrase.Error("store.restore.make-the-folder-of-the-restored-file", err)
	}
	temp, err := copyFile(backup, dir)
	if err != nil {
		return Rehearsal{}, err
	}
	defer os.Remove(temp)
	r, err := look(ctx, temp)
	if err != nil {
		return r, phrase.Error("store.restore.the-backup-is-no-good", backup, err)
	}
	if err := os.Link(temp, to); errors.Is(err, fs.ErrExist) {
		return r, phrase.Error("store.restore.is-there-already-a-backup-is-restored", to)
	} else if err != nil {
		if err := os.Rename(temp, to); err != nil { // a disk without hard links
			return r, Full{to, err}
		}
	}
	return r, syncFolder(dir)
}

// Rehearse restores a backup into a file that is thrown away, opens that and counts what it holds.
func Rehearse(ctx context.Context, backup string) (Rehearsal, error) {
	dir, err := os.MkdirTemp("", "pawl-rehearsal-*")
	if err != nil {
		return Rehearsal{}, phrase.Error("store.restore.make-room-for-the-rehearsal", err)
	}
	defer os.RemoveAll(dir)
	return Restore(ctx, backup, filepath.Join(dir, "workshop.pawl"))
}

// copyFile copies a file under a temporary name into a folder and has the disk confirm it.
func copyFile(from, dir string) (string, error) {
	in, err := os.Open(from)
	if err != nil {
		return "", phrase.Error("store.restore.open-the-backup", err)
	}
	defer in.Close()
	out, err := os.CreateTemp(dir, ".pawl-restore-*")
	if err != nil {
		return "", Full{dir, err}
	}
	_, err = io.Copy(out, in)
	if err == nil {
		err = out.Sync()
	}
	if err := errors.Join(err, out.Close()); err != nil {
		os.Remove(out.Name())
		return "", Full{dir, err}
	}
	return out.Name(), nil
}
