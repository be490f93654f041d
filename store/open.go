package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"syscall"
	"time"

	bolt "go.etcd.io/bbolt"
	boltErrors "go.etcd.io/bbolt/errors"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Format is the version of the file layout this program writes and the newest it reads.
const Format = 1

var keyFormat = []byte("format")

// Options say how a file is opened.
type Options struct {
	Now      func() time.Time // the clock; nil: the computer's
	Station  string           // name of the bay's computer; empty: its host name
	Timeout  time.Duration    // how long to wait for another program to let go; 0: one second
	HashCost Cost             // of new personal codes; zero: DefaultCost
	ReadOnly bool             // for looking at a backup: nothing is written, not even who holds the file
}

// File is an open workshop file. Its methods may be called from several goroutines; no other
// program can have the file open at the same time.
type File struct {
	path    string
	now     func() time.Time
	station string
	timeout time.Duration
	cost    Cost
	reads   bool // read only

	backing sync.WaitGroup // backups that run beside the work

	codeMu sync.Mutex // held while a code is hashed, so that tries cannot run side by side
	mu     sync.Mutex // guards everything below
	db     *bolt.DB
	inode  os.FileInfo // the file that db has open, whatever name it bears now
	fell   bool        // the disk became read-only; the file is open for reading until it can be written again
	backup BackupState
	broken error              // set when the file cannot be used any more
	reg    *register.Register // nil: read it anew
	pulls  pullCounts         // nil: read it anew
	list   []Summary          // of every job, oldest first; nil: read it anew
	tags   map[uint64]*found  // what jobs are found by
	typed  typing
	words  map[string]string // those shared by tags
	cards  map[uint64]*job.Card
	plans  map[string]*procedures.Plan      // by what they were resolved from
	procs  map[string]*procedures.Procedure // by digest
	sheets map[string]*procedures.Sheet     // by digest
}

// DefaultPath is where the workshop file lies unless the user says otherwise: in the folder of
// XDG_DATA_HOME, or .local/share in the home folder.
func DefaultPath() (string, error) {
	dir := os.Getenv("XDG_DATA_HOME")
	if !filepath.IsAbs(dir) { // the XDG base directory specification has relative ones ignored
		home, err := os.UserHomeDir()
		if err != nil {
			return "", phrase.Error("store.open.find-the-home-folder-for-the-workshop", err)
		}
		dir = filepath.Join(home, ".local", "share")
	}
	return filepath.Join(dir, "pawl", "workshop.pawl"), nil
}

// Open opens a workshop file, or creates an empty one with its folder. The errors InUse, Newer,
// Damaged and Full say what is in the way.
func Open(path string, o Options) (*File, error) {
	f := &File{path: path, now: o.Now, station: o.Station, timeout: o.Timeout, cost: o.HashCost, reads: o.ReadOnly,
		cards: map[uint64]*job.Card{}, tags: map[uint64]*found{}, words: map[string]string{}, plans: map[string]*procedures.Plan{}, procs: map[string]*procedures.Procedure{}, sheets: map[string]*procedures.Sheet{}}
	if f.now == nil {
		f.now = time.Now
	}
	if f.station == "" {
		f.station, _ = os.Hostname() // without one the records say nothing of the station
	}
	if f.timeout == 0 {
		f.timeout = time.Second
	}
	if f.cost == (Cost{}) {
		f.cost = DefaultCost
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && !o.ReadOnly:
		if err := create(path); err != nil {
			return nil, Full{path, err}
		}
	case err != nil:
		return nil, phrase.Error("store.open.open-the-workshop-file", err)
	case !info.Mode().IsRegular():
		return nil, Damaged{path, phrase.Of("store.open.it-is-not-a-file-but-a")}
	case info.Mode().Perm()&0o077 != 0 && !o.ReadOnly:
		// The file holds hashes of codes; whoever restored it left it open to others. Only its
		// owner can shut it, and for anybody else it is not worse than it was.
		os.Chmod(path, 0o600)
	}
	if err := f.reopen(); err != nil {
		return nil, err
	}
	if err := f.inspect(); err != nil {
		return nil, errors.Join(err, f.db.Close())
	}
	if !f.reads {
		writeHolder(path, f.station, f.Now())
	}
	return f, nil
}

// reopen checks the pages and opens the database itself.
func (f *File) reopen() error {
	if err := f.checkFile(); err != nil {
		return err
	}
	var db *bolt.DB
	var inode os.FileInfo
	opened := func(name string, flag int, mode os.FileMode) (*os.File, error) {
		file, err := os.OpenFile(name, flag, mode)
		if err != nil {
			return nil, err
		}
		if inode, err = file.Stat(); err != nil {
			return nil, errors.Join(err, file.Close())
		}
		return file, nil
	}
	err := guard(func() (err error) {
		db, err = bolt.Open(f.path, 0o600, &bolt.Options{Timeout: f.timeout, FreelistType: bolt.FreelistMapType, ReadOnly: f.readsOnly(), OpenFile: opened})
		return err
	})
	if errors.Is(err, boltErrors.ErrTimeout) { // somebody came between the check and this
		return InUse{f.path, readHolder(f.path, f.Now())}
	}
	if err != nil {
		return f.named(err)
	}
	f.db, f.inode = db, inode
	return nil
}

// readsOnly reports whether the file is open for reading only, by wish or because its disk is.
func (f *File) readsOnly() bool { return f.reads || f.fell }

// checkFile walks the pages while nobody else writes them.
func (f *File) checkFile() error {
	how := os.O_RDWR
	if f.readsOnly() {
		how = os.O_RDONLY
	}
	file, err := os.OpenFile(f.path, how, 0)
	if err != nil {
		if errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS) {
			return Full{f.path, err}
		}
		return phrase.Error("store.open.open-the-workshop-file", err)
	}
	defer file.Close() // lets go of the lock
	if ok, err := lockFile(file, f.timeout); err != nil {
		return phrase.Error("store.open.lock-the-workshop-file", f.path, err)
	} else if !ok {
		return InUse{f.path, readHolder(f.path, f.Now())}
	}
	info, err := file.Stat()
	if err != nil {
		return phrase.Error("store.open.open-the-workshop-file", err)
	}
	return f.named(checkPages(file, info.Size()))
}

// inspect reads the format number and then every table once, so that damage shows before work
// begins. The events of a job are checked when the job is loaded.
func (f *File) inspect() error {
	err := f.view(func(tx *bolt.Tx) error {
		if tx.Bucket([]byte(meta)) == nil {
			return Damaged{What: phrase.Of("store.open.it-is-no-workshop-file")}
		}
		format, ok, err := getRow[int](tx, meta, keyFormat)
		switch {
		case err != nil:
			return err
		case !ok:
			return Damaged{What: phrase.Of("store.open.it-is-no-workshop-file")}
		case format > Format:
			return Newer{f.path, format}
		case format < 1:
			return Damaged{What: phrase.Of("store.open.its-format-is", format)}
		}
		if _, err := bucket(tx, bucketJobs); err != nil {
			return err
		}
		for _, t := range tables {
			if t == heads {
				continue // read with the list of jobs, below
			}
			if slices.Contains(late, t) {
				if _, err := t.bucket(tx); err != nil {
					return err
				}
				if _, err := t.tally(tx); err != nil {
					return err
				}
				continue
			}
			if err := t.each(tx, func(_, _ []byte) error { return nil }); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	return f.readList()
}

// Close waits for a backup that is being written and lets go of the file.
func (f *File) Close() error {
	f.backing.Wait()
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.db == nil {
		return nil
	}
	if !f.reads {
		os.Remove(holderPath(f.path)) // while the lock is still ours; a rest of it does no harm
	}
	db := f.db
	f.db, f.broken = nil, phrase.Error("store.open.the-workshop-file-is-closed", f.path)
	done := make(chan error, 1)
	go func() { done <- guard(db.Close) }()
	select {
	case err := <-done:
		if err != nil {
			return phrase.Error("store.open.close-the-workshop-file", f.path, err)
		}
		return nil
	case <-time.After(time.Second): // a panic inside bbolt can leave its locks taken
		return phrase.Error("store.open.the-workshop-file-stays-locked-until-this", f.path)
	}
}

// Path is where the file lies.
func (f *File) Path() string { return f.path }

// Now is the time by the clock of this file, to the millisecond.
func (f *File) Now() time.Time { return f.now().Truncate(time.Millisecond) }

// Station is the name of this computer in the records.
func (f *File) Station() string { return f.station }
