package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// withBackup is a filled file whose backups go to another folder.
func withBackup(t testing.TB) (*File, *clock, string) {
	t.Helper()
	f, c := filled(t)
	dir := t.TempDir()
	w, _ := f.Workshop()
	w.Backup = dir
	must(t, f.SaveWorkshop(w))
	return f, c, dir
}

func TestBackupAndRestore(t *testing.T) {
	f, c, dir := withBackup(t)
	openJob(t, f, "V1", "100")
	do(t, f, 1, apprentice, number(1))
	ctx := context.Background()
	path, err := f.Backup(ctx)
	must(t, err)
	if s := f.BackupState(); s.Path != path || s.Err != nil || !s.At.Equal(c.at) {
		t.Errorf("state %+v", s)
	}
	before, err := f.Load(1)
	must(t, err)
	do(t, f, 1, apprentice, job.Sign{Stage: measure}) // after the backup

	to := filepath.Join(t.TempDir(), "new", "workshop.pawl")
	r, err := Restore(ctx, path, to)
	must(t, err)
	if r.Jobs != 1 || r.Events != 2 || r.People != 3 || r.Instruments != 2 || r.Vehicles != 1 || !r.Newest.Equal(c.at) {
		t.Errorf("restored %+v", r)
	}
	g := open(t, to, c)
	after, err := g.Load(1)
	must(t, err)
	if after.Head != before.Head {
		t.Error("the restored job is another one")
	}
	if _, err := Restore(ctx, path, to); err == nil || !strings.Contains(err.Error(), "there already") {
		t.Errorf("over a file: %v", err)
	}
	again, err := Rehearse(ctx, path)
	must(t, err)
	if d := cmp.Diff(r, again, sameTime); d != "" {
		t.Error(d)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Every release copies the file by itself, and only so many copies stay.
func TestBackupAtRelease(t *testing.T) {
	f, c, dir := withBackup(t)
	for n := range uint64(keepBackups + 2) {
		openJob(t, f, "V1", "100")
		do(t, f, n+1, apprentice, number(1))
		do(t, f, n+1, apprentice, job.Sign{Stage: measure})
		do(t, f, n+1, mechanic, job.Enter{Stage: lower, Check: "down", Value: "yes"})
		do(t, f, n+1, mechanic, job.Sign{Stage: lower})
		do(t, f, n+1, foreman, job.Sign{Stage: procedures.Ref{Stage: "release"}})
		f.backing.Wait()
		if s := f.BackupState(); s.Err != nil || s.Running || s.Path == "" {
			t.Fatalf("after release %d: %+v", n+1, s)
		}
		do(t, f, n+1, mechanic, job.Sign{Stage: procedures.Ref{Stage: "close"}})
		c.forward(time.Hour)
	}
	all, err := Backups(context.Background(), dir)
	must(t, err)
	if len(all) != keepBackups {
		t.Fatalf("%d backups", len(all))
	}
	for i, b := range all {
		if b.Err != nil || b.Held.Jobs != keepBackups+2-i {
			t.Errorf("%s holds %d jobs, %v", b.Path, b.Held.Jobs, b.Err)
		}
	}
}

// A damaged backup is named, and neither restored nor rehearsed.
func TestDamagedBackups(t *testing.T) {
	f, c, dir := withBackup(t)
	openJob(t, f, "V1", "100")
	finish(t, f, 1)
	f.backing.Wait()
	for range 2 {
		c.forward(time.Minute)
		_, err := f.Backup(context.Background())
		must(t, err)
	}
	all, err := Backups(context.Background(), dir)
	must(t, err)
	raw(t, all[1].Path, func(tx *bolt.Tx) error { return sealed.remove(tx, uintKey(1)) })
	must(t, os.Truncate(all[2].Path, 9000))
	all, err = Backups(context.Background(), dir)
	must(t, err)
	if all[0].Err != nil || all[0].At.IsZero() {
		t.Errorf("the good one: %+v", all[0])
	}
	asDamaged(t, all[1].Err, "sealed events of job 1 are missing")
	asDamaged(t, all[2].Err, all[2].Path)
	for _, b := range all[1:] {
		_, err := Rehearse(context.Background(), b.Path)
		var d Damaged
		if !errors.As(err, &d) {
			t.Errorf("rehearsed %s: %v", b.Path, err)
		}
	}
}

// A backup folder that is gone or cannot be written is one clear sentence, and the work goes on.
func TestBackupTargetPulled(t *testing.T) {
	f, _, dir := withBackup(t)
	must(t, os.RemoveAll(dir))
	_, err := f.Backup(context.Background())
	wantError(t, err, "is not there; connect its disk")
	openJob(t, f, "V1", "100")
	finish(t, f, 1)
	f.backing.Wait()
	wantError(t, f.BackupState().Err, "is not there; connect its disk")
	must(t, f.Verify(1))
	if _, err := Backups(context.Background(), dir); err == nil {
		t.Error("backups of a folder that is gone are listed")
	}
	w, _ := f.Workshop()
	w.Backup = ""
	must(t, f.SaveWorkshop(w))
	_, err = f.Backup(context.Background())
	wantError(t, err, "no backup folder is set")
	w.Backup = "somewhere"
	wantError(t, f.SaveWorkshop(w), "not a whole path")
}

// A file opened for reading is not changed by anything.
func TestReadOnly(t *testing.T) {
	path, c, _ := sealedFile(t)
	before := readFile(t, path)
	o := options(c)
	o.ReadOnly = true
	f, err := Open(path, o)
	must(t, err)
	wantError(t, f.SaveDraft(Draft{Job: 1}), "reading only")
	if v, err := f.VerifyAll(context.Background()); err != nil || !v.Whole() {
		t.Errorf("verified %+v, %v", v, err)
	}
	must(t, f.Close())
	if string(readFile(t, path)) != string(before) {
		t.Error("the file was changed")
	}
	if left, _ := filepath.Glob(path + ".*"); len(left) > 0 {
		t.Error(fmt.Sprint("left behind: ", left))
	}
	if _, err := Open(path+"x", o); err == nil {
		t.Error("a file that is not there is opened for reading")
	}
}
