package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// smallDisk mounts a disk of two mebibytes in memory, or skips the test.
func smallDisk(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("pawl-test", dir, "tmpfs", 0, "size=2m"); err != nil {
		t.Skipf("a small disk cannot be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Errorf("unmount the small disk: %v", err)
		}
	})
	return dir
}

// hog fills a disk but for so many bytes and returns the file that does.
func hog(t *testing.T, dir string, leave int64) string {
	t.Helper()
	name := filepath.Join(dir, "hog")
	file, err := os.Create(name)
	must(t, err)
	_, err = io.Copy(file, zeros{})
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("fill the disk: %v", err)
	}
	info, err := file.Stat()
	must(t, err)
	must(t, file.Truncate(max(0, info.Size()-leave)))
	must(t, file.Close())
	return name
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// A full disk refuses an entry in one sentence, leaves what was acknowledged alone, and the work
// goes on when there is room again.
func TestDiskFull(t *testing.T) {
	path := filepath.Join(smallDisk(t), "workshop.pawl")
	c := newClock()
	f := open(t, path, c)
	fill(t, f)
	openJob(t, f, "V1", "1")
	seq, err := enterUntil(f, 1, 1, 3)
	must(t, err)
	for round := range 4 {
		filler := hog(t, filepath.Dir(path), int64(round)*20<<10)
		seq, err = enterUntil(f, 1, seq, 5000)
		var full Full
		if !errors.As(err, &full) || !errors.Is(err, syscall.ENOSPC) {
			t.Fatalf("round %d: %v; want Full", round, err)
		}
		wantError(t, err, "is full; make room and do it again")
		card, err := f.Load(1)
		must(t, err)
		if card.Seq() != seq {
			t.Fatalf("round %d: the job stands at event %d; %d was acknowledged", round, card.Seq(), seq)
		}
		must(t, f.Verify(1))
		if err := f.PutVehicle(mechanic, register.Vehicle{ID: "V2", Name: strings.Repeat("x", 80), Sheet: "s"}); err != nil && !errors.As(err, &full) {
			t.Fatalf("round %d: a vehicle on a full disk: %v", round, err)
		}
		// A program started on a full disk can at least be read.
		must(t, f.Close())
		f = open(t, path, c)
		must(t, f.Verify(1))
		must(t, os.Remove(filler))
		seq, err = enterUntil(f, 1, seq, 2)
		must(t, err)
	}
	card, err := f.Load(1)
	must(t, err)
	for _, e := range card.Events[1:] {
		if in, ok := e.Body.(job.Entered); !ok || in.Raw != fmt.Sprint(e.Seq-1) {
			t.Fatalf("event %d is %+v", e.Seq, e.Body)
		}
	}
	must(t, f.Close())
}

// Without room for an empty file none is left behind.
func TestCreateOnFullDisk(t *testing.T) {
	dir := smallDisk(t)
	filler := hog(t, dir, 8<<10)
	path := filepath.Join(dir, "workshop.pawl")
	_, err := Open(path, options(newClock()))
	var full Full
	if !errors.As(err, &full) {
		t.Fatalf("error %v; want Full", err)
	}
	wantError(t, err, "is full")
	left, err := os.ReadDir(dir)
	must(t, err)
	if len(left) != 1 {
		t.Fatalf("left behind: %v", left)
	}
	must(t, os.Remove(filler))
	must(t, open(t, path, newClock()).Close())
}

func TestReadOnlyDisk(t *testing.T) {
	dir := smallDisk(t)
	path := filepath.Join(dir, "workshop.pawl")
	must(t, open(t, path, newClock()).Close())
	must(t, syscall.Mount("pawl-test", dir, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
	for _, p := range []string{path, filepath.Join(dir, "new.pawl")} {
		_, err := Open(p, options(newClock()))
		var full Full
		if !errors.As(err, &full) {
			t.Fatalf("%s: %v; want Full", p, err)
		}
		wantError(t, err, "is read-only")
	}
}

func init() {
	children["limit"] = func(path string) {
		f, err := Open(path, options(newClock()))
		die(err)
		c, err := f.Load(1)
		die(err)
		info, err := os.Stat(path)
		die(err)
		var old syscall.Rlimit
		die(syscall.Getrlimit(syscall.RLIMIT_FSIZE, &old))
		limit := syscall.Rlimit{Cur: uint64(info.Size()), Max: old.Max}
		die(syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit))
		seq, err := enterUntil(f, 1, c.Seq(), 5000)
		var full Full
		fmt.Println("full", errors.As(err, &full), err)
		c, err = f.Load(1)
		die(err)
		fmt.Println("lost", int(seq)-int(c.Seq()))
		die(f.Verify(1))
		die(syscall.Setrlimit(syscall.RLIMIT_FSIZE, &old))
		seq, err = enterUntil(f, 1, seq, 2)
		die(err)
		die(f.Close())
		fmt.Println("after", seq)
	}
	children["unprivileged"] = func(path string) {
		die(syscall.Setgid(65534))
		die(syscall.Setuid(65534))
		_, err := Open(path, options(newClock()))
		var full Full
		fmt.Println(errors.As(err, &full), err)
	}
}

// The limit of a file's size works like a full disk.
func TestSizeLimit(t *testing.T) {
	path, c := closedFile(t, 3)
	ch := start(t, "limit", path)
	if line, _ := ch.line(); !strings.HasPrefix(line, "full true nothing was written") || !strings.Contains(line, "the size this computer allows") {
		t.Errorf("the child says %q", line)
	}
	if line, _ := ch.line(); line != "lost 0" {
		t.Errorf("the child says %q", line)
	}
	line, _ := ch.line()
	must(t, ch.cmd.Wait())
	f := open(t, path, c)
	must(t, f.Verify(1))
	card, err := f.Load(1)
	must(t, err)
	if want := fmt.Sprint("after ", card.Seq()); line != want {
		t.Errorf("the child says %q; the file says %q", line, want)
	}
}

// A file of another account is refused in words.
func TestNotAllowed(t *testing.T) {
	if os.Getuid() != 0 {
		t.Skip("only root can become somebody else")
	}
	path, _ := closedFile(t, 2)
	for dir := filepath.Dir(path); dir != filepath.Clean(os.TempDir()) && dir != "/"; dir = filepath.Dir(dir) {
		must(t, os.Chmod(dir, 0o755))
	}
	ch := start(t, "unprivileged", path)
	line, _ := ch.line()
	must(t, ch.cmd.Wait())
	if !strings.HasPrefix(line, "true ") || !strings.Contains(line, "this account may not") {
		t.Errorf("the child says %q", line)
	}
}

// After a failed commit the file itself says whether the change is in it. Whether it does is decided
// by the number of the newest transaction in the file.
func TestFailedCommit(t *testing.T) {
	f, _ := filled(t)
	openJob(t, f, "V1", "1")
	before := do(t, f, 1, apprentice, number(1))
	id := 0
	must(t, f.view(func(tx *bolt.Tx) error { id = tx.ID(); return nil }))
	var full Full
	var unsure Unsure
	if err := f.afterFailedCommit(id+1, syscall.EIO); !errors.As(err, &full) || !errors.Is(err, syscall.EIO) {
		t.Fatalf("not in the file: %v", err)
	} else {
		wantError(t, err, "nothing was written")
	}
	if err := f.afterFailedCommit(id, syscall.EIO); !errors.As(err, &unsure) || !errors.Is(err, syscall.EIO) {
		t.Fatalf("in the file: %v", err)
	} else {
		wantError(t, err, "the entry is there now")
	}
	after, err := f.Load(1)
	must(t, err)
	if after.Head != before.Head {
		t.Fatal("the job changed")
	}
	do(t, f, 1, apprentice, number(2))
}

// A full backup disk and one pulled while it is written to are one sentence each; nothing half
// written is left under a backup's name, and the work goes on.
func TestBackupDiskFull(t *testing.T) {
	f, _, _ := withBackup(t)
	dir := smallDisk(t)
	w, _ := f.Workshop()
	w.Backup = dir
	must(t, f.SaveWorkshop(w))
	openJob(t, f, "V1", "1")
	hog(t, dir, 20<<10)
	_, err := f.Backup(context.Background())
	wantError(t, err, "is full; make room and do it again")
	finish(t, f, 1)
	f.backing.Wait()
	if s := f.BackupState(); s.Err == nil {
		t.Error("a backup on a full disk is said to be good")
	}
	left, err := os.ReadDir(dir)
	must(t, err)
	if len(left) != 1 {
		t.Errorf("left on the disk: %v", left)
	}
	must(t, os.Remove(filepath.Join(dir, "hog")))
	path, err := f.Backup(context.Background())
	must(t, err)
	_, err = Rehearse(context.Background(), path)
	must(t, err)
}

// A disk that fills up at the very commit that seals a job leaves the job unreleased and whole; the
// release is given again when there is room.
func TestDiskFullAtSeal(t *testing.T) {
	path := filepath.Join(smallDisk(t), "workshop.pawl")
	c := newClock()
	f := open(t, path, c)
	fill(t, f)
	openJob(t, f, "V1", "1")
	do(t, f, 1, apprentice, number(1))
	do(t, f, 1, apprentice, job.Sign{Stage: measure})
	do(t, f, 1, mechanic, job.Enter{Stage: lower, Check: "down", Value: "yes"})
	before := do(t, f, 1, mechanic, job.Sign{Stage: lower})
	v2 := vehicle1
	v2.ID = "V2"
	must(t, f.PutVehicle(mechanic, v2))
	openJob(t, f, "V2", "1")
	filler := hog(t, filepath.Dir(path), 0)
	_, err := enterUntil(f, 2, 1, 5000) // until the room inside the file is used up as well
	var full Full
	if !errors.As(err, &full) {
		t.Fatalf("%v; want Full", err)
	}
	release := job.Sign{Stage: procedures.Ref{Stage: "release"}}
	_, _, err = f.Do(1, Actor{Person: foreman, CodeGiven: true}, release)
	if !errors.As(err, &full) {
		t.Fatalf("%v; want Full", err)
	}
	card, err := f.Load(1)
	must(t, err)
	none, err := f.SealsOf(1)
	must(t, err)
	if card.Head != before.Head || len(none) != 0 {
		t.Errorf("the job stands at event %d with %d seals", card.Seq(), len(none))
	}
	must(t, os.Remove(filler))
	do(t, f, 1, foreman, release)
	v, err := f.VerifyAll(context.Background())
	must(t, err)
	if !v.Whole() || v.Seals != 1 {
		t.Errorf("verified %+v", v)
	}
	must(t, f.Close())
}
