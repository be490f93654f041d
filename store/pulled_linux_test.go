package store

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"syscall"
	"testing"
	"time"

	"bay.example/pawl/job"
)

// failingDisk mounts a disk with a journal from a file of 16 mebibytes, or skips the test. What it
// returns makes the disk read-only at once while files on it are open for writing, as the kernel does
// after an error of the disk (ext4(5), the mount option "abort").
func failingDisk(t *testing.T) (dir string, fail func()) {
	t.Helper()
	dir, image := t.TempDir(), filepath.Join(t.TempDir(), "disk")
	must(t, os.WriteFile(image, nil, 0o600))
	must(t, os.Truncate(image, 16<<20))
	run := func(name string, args ...string) error {
		out, err := exec.Command(name, args...).CombinedOutput()
		if err != nil {
			t.Logf("%s %q: %v: %s", name, args, err, out)
		}
		return err
	}
	if err := run("mkfs.ext4", "-q", "-F", image); err != nil {
		t.Skip("no disk with a journal can be made here")
	}
	if err := run("mount", "-o", "loop", image, dir); err != nil {
		t.Skip("a disk from a file cannot be mounted here")
	}
	t.Cleanup(func() { must(t, run("umount", dir)) })
	return dir, func() {
		if err := run("mount", "-o", "remount,abort", dir); err != nil {
			t.Skip("a mounted disk cannot be made to fail here")
		}
	}
}

// A disk that turns read-only under the work refuses entries in one sentence; everything acknowledged
// can still be read, and stands in the file afterwards.
func TestDiskTurnsReadOnly(t *testing.T) {
	dir, fail := failingDisk(t)
	path := filepath.Join(dir, "workshop.pawl")
	f, err := Open(path, options(newClock()))
	must(t, err)
	defer f.Close() // before the disk is taken away
	fill(t, f)
	openJob(t, f, "V1", "1")
	seq, err := enterUntil(f, 1, 1, 5)
	must(t, err)
	fail()
	for range 2 {
		_, err = enterUntil(f, 1, seq, 1)
		var full Full
		if !errors.As(err, &full) || !errors.Is(err, syscall.EROFS) {
			t.Fatalf("%v; want Full", err)
		}
		wantError(t, err, "is read-only")
		card, err := f.Load(1)
		must(t, err)
		if card.Seq() != seq {
			t.Fatalf("the job stands at event %d; %d was acknowledged", card.Seq(), seq)
		}
		must(t, f.Verify(1))
	}
	saved, err := f.BackupTo(context.Background(), t.TempDir())
	must(t, err)
	must(t, f.Close())
	g, err := Open(saved, Options{ReadOnly: true})
	must(t, err)
	card, err := g.Load(1)
	must(t, err)
	if card.Seq() != seq {
		t.Errorf("the backup stands at event %d; %d was acknowledged", card.Seq(), seq)
	}
	must(t, g.Close())
}

// A disk mounted read-only and then writable again: the work goes on without a new start.
func TestReadOnlyAndBack(t *testing.T) {
	dir := smallDisk(t)
	path := filepath.Join(dir, "workshop.pawl")
	f := open(t, path, newClock())
	fill(t, f)
	openJob(t, f, "V1", "1")
	seq, err := enterUntil(f, 1, 1, 3)
	must(t, err)
	remount := func(flags uintptr) error {
		return syscall.Mount("pawl-test", dir, "tmpfs", syscall.MS_REMOUNT|flags, "")
	}
	if err := remount(syscall.MS_RDONLY); !errors.Is(err, syscall.EBUSY) {
		t.Fatalf("the kernel lets a disk with a file open for writing become read-only: %v", err)
	}
	seq, err = enterUntil(f, 1, seq, 2)
	must(t, err)
	must(t, f.db.Close()) // what follows is what comes of a commit that the disk refused
	must(t, remount(syscall.MS_RDONLY))
	wantError(t, f.afterFailedCommit(1<<30, syscall.EROFS), "is read-only")
	_, err = enterUntil(f, 1, seq, 1)
	wantError(t, err, "is read-only")
	must(t, f.Verify(1))
	must(t, remount(0))
	again, err := enterUntil(f, 1, seq, 3)
	must(t, err)
	if again != seq+3 {
		t.Errorf("event %d after %d", again, seq)
	}
	must(t, f.Close())
}

// A file moved away, deleted or replaced while it is in use: the next entry is refused in one
// sentence, and a backup still copies everything acknowledged.
func TestFileVanishes(t *testing.T) {
	away := map[string]func(path string) error{
		"moved":    func(path string) error { return os.Rename(path, path+".old") },
		"deleted":  os.Remove,
		"replaced": func(path string) error { return os.Rename(path+".other", path) },
	}
	for name, do := range away {
		t.Run(name, func(t *testing.T) {
			path := newPath(t)
			f, err := Open(path, options(newClock()))
			must(t, err)
			fill(t, f)
			openJob(t, f, "V1", "1")
			seq, err := enterUntil(f, 1, 1, 5)
			must(t, err)
			other, err := Open(path+".other", options(newClock()))
			must(t, err)
			must(t, other.Close())
			must(t, do(path))
			_, err = enterUntil(f, 1, seq, 1)
			var gone Gone
			if !errors.As(err, &gone) || gone.Replaced != (name == "replaced") {
				t.Fatalf("%v; want Gone", err)
			}
			wantError(t, err, "nothing was written: the workshop file "+path+" is no longer in its place")
			saved, err := f.BackupTo(context.Background(), t.TempDir())
			must(t, err)
			if name == "moved" { // put back, the work goes on
				must(t, os.Rename(path+".old", path))
				if seq, err = enterUntil(f, 1, seq, 2); err != nil || seq != 8 {
					t.Errorf("event %d, %v", seq, err)
				}
				seq -= 2
			}
			must(t, f.Close())
			g := open(t, saved, newClock())
			card, err := g.Load(1)
			must(t, err)
			if card.Seq() != seq {
				t.Errorf("the backup stands at event %d; %d was acknowledged", card.Seq(), seq)
			}
		})
	}
}

// pulling is a context that pulls a disk when the backup first looks at it, while the copy is checked.
type pulling struct {
	context.Context
	pull func()
}

func (p pulling) Err() error { p.pull(); return p.Context.Err() }

// A backup disk pulled in the middle, by its cable or its folder, is one sentence; the file in use
// keeps everything, and the next backup on another disk is good.
func TestBackupPulledInTheMiddle(t *testing.T) {
	for _, name := range []string{"unmounted", "removed"} {
		t.Run(name, func(t *testing.T) {
			f, c, good := withBackup(t)
			openJob(t, f, "V1", "100")
			seq, err := enterUntil(f, 1, 1, 5)
			must(t, err)
			dir := filepath.Join(t.TempDir(), "stick")
			must(t, os.Mkdir(dir, 0o700))
			pull := func() error { return os.RemoveAll(dir) }
			if name == "unmounted" {
				if err := syscall.Mount("pawl-test", dir, "tmpfs", 0, "size=8m"); err != nil {
					t.Skipf("a small disk cannot be mounted here: %v", err)
				}
				pull = func() error { return syscall.Unmount(dir, syscall.MNT_DETACH) }
			}
			pulled := false
			once := sync.OnceFunc(func() {
				pulled = true
				if err := pull(); err != nil {
					t.Error(err)
				}
			})
			_, err = f.BackupTo(pulling{context.Background(), once}, dir)
			if !pulled {
				t.Fatal("the backup never looked at its context")
			}
			wantError(t, err, "the backup folder "+dir+" went away while the backup was written; connect its disk again")
			must(t, f.Verify(1))
			do(t, f, 1, apprentice, number(int(seq)))
			c.forward(time.Minute)
			path, err := f.BackupTo(context.Background(), good)
			must(t, err)
			g, err := Open(path, Options{ReadOnly: true})
			must(t, err)
			card, err := g.Load(1)
			must(t, err)
			if card.Seq() != seq+1 {
				t.Errorf("the backup stands at event %d, want %d", card.Seq(), seq+1)
			}
			must(t, g.Close())
			do(t, f, 1, apprentice, job.Sign{Stage: measure})
		})
	}
}
