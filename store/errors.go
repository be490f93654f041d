package store

import (
	"errors"
	"io/fs"
	"strings"
	"syscall"
	"time"

	"bay.example/pawl/job/phrase"
)

// The errors a caller tells apart; they come wrapped in a sentence.
var (
	ErrNoJob     = phrase.Error("store.errors.no-such-job")
	ErrWrongCode = phrase.Error("store.errors.wrong-code")
	ErrStale     = phrase.Error("store.errors.the-job-has-gone-on-since")
)

// InUse is the error of opening a file that another program holds.
type InUse struct{ Path, Holder string }

func (e InUse) Error() string {
	return phrase.Of("store.errors.the-workshop-file-is-in-use-by", e.Path, e.Holder)
}

// Newer is the error of opening a file that a newer program has written.
type Newer struct {
	Path   string
	Format int
}

func (e Newer) Error() string {
	return phrase.Of("store.errors.the-workshop-file-has-format-this-program", e.Path, e.Format, Format)
}

// Damaged says that the file does not hold what was written to it, and where that shows.
type Damaged struct{ Path, What string }

func (e Damaged) Error() string {
	return phrase.Of("store.errors.the-workshop-file-is-damaged-take-the", e.Path, e.What)
}

// Gone says that the file no longer lies where it was opened. Nothing was written; what was
// acknowledged before is in the file that is still open, and a backup copies that one.
type Gone struct {
	Path     string
	Replaced bool // another file bears its name now
}

func (e Gone) Error() string {
	what := phrase.Of("store.errors.it-was-moved-or-deleted")
	if e.Replaced {
		what = phrase.Of("store.errors.another-file-has-its-name")
	}
	return phrase.Of("store.errors.nothing-was-written-the-workshop-file-is", e.Path, what)
}

// Full says that the file cannot be written, mostly because the disk is full or read-only. What
// was to be written is not in the file, not even in part.
type Full struct {
	Path string
	Err  error
}

func (e Full) Error() string {
	switch text := e.Err.Error(); {
	case errors.Is(e.Err, syscall.ENOSPC), errors.Is(e.Err, syscall.EDQUOT):
		return phrase.Of("store.errors.nothing-was-written-the-disk-that-holds", e.Path)
	case errors.Is(e.Err, syscall.EFBIG), strings.Contains(text, syscall.EFBIG.Error()):
		return phrase.Of("store.errors.nothing-was-written-has-reached-the-size", e.Path)
	case errors.Is(e.Err, syscall.EROFS):
		return phrase.Of("store.errors.nothing-was-written-the-disk-that-holds-2", e.Path)
	case errors.Is(e.Err, fs.ErrPermission):
		return phrase.Of("store.errors.cannot-be-written-this-account-may-not", e.Path)
	default:
		return phrase.Of("store.errors.nothing-was-written-to", e.Path, e.Err)
	}
}

func (e Full) Unwrap() error { return e.Err }

// Unsure says that the disk reported an error although what was to be written stands in the file:
// it is there to be read, but may not outlast a loss of power.
type Unsure struct {
	Path string
	Err  error
}

func (e Unsure) Error() string {
	return phrase.Of("store.errors.the-disk-reported-an-error-while-was", e.Err, e.Path)
}

func (e Unsure) Unwrap() error { return e.Err }

// Wait says that after wrong tries the next one has to wait.
type Wait struct {
	Name string
	For  time.Duration
}

func (e Wait) Error() string {
	n := int((e.For + time.Second - 1) / time.Second)
	return phrase.Of("store.errors.after-a-wrong-code-has-to-wait", e.Name, n)
}
