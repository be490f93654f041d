package store

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
	"time"
)

// The errors a caller tells apart; they come wrapped in a sentence.
var (
	ErrNoJob     = errors.New("no such job")
	ErrWrongCode = errors.New("wrong code")
	ErrStale     = errors.New("the job has gone on since")
)

// InUse is the error of opening a file that another program holds.
type InUse struct{ Path, Holder string }

func (e InUse) Error() string {
	return fmt.Sprintf("the workshop file %s is in use by %s; close it there first", e.Path, e.Holder)
}

// Newer is the error of opening a file that a newer program has written.
type Newer struct {
	Path   string
	Format int
}

func (e Newer) Error() string {
	return fmt.Sprintf("the workshop file %s has format %d; this program reads format %d and a newer one is needed", e.Path, e.Format, Format)
}

// Damaged says that the file does not hold what was written to it, and where that shows.
type Damaged struct{ Path, What string }

func (e Damaged) Error() string {
	return fmt.Sprintf("the workshop file %s is damaged: %s; take the newest backup and keep this file as it is", e.Path, e.What)
}

// Gone says that the file no longer lies where it was opened. Nothing was written; what was
// acknowledged before is in the file that is still open, and a backup copies that one.
type Gone struct {
	Path     string
	Replaced bool // another file bears its name now
}

func (e Gone) Error() string {
	what := "it was moved or deleted"
	if e.Replaced {
		what = "another file has its name"
	}
	return fmt.Sprintf("nothing was written: the workshop file %s is no longer in its place, %s; move it back, or make a backup before this program ends and restore that", e.Path, what)
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
		return fmt.Sprintf("nothing was written: the disk that holds %s is full; make room and do it again", e.Path)
	case errors.Is(e.Err, syscall.EFBIG), strings.Contains(text, syscall.EFBIG.Error()):
		return fmt.Sprintf("nothing was written: %s has reached the size this computer allows a file", e.Path)
	case errors.Is(e.Err, syscall.EROFS):
		return fmt.Sprintf("nothing was written: the disk that holds %s is read-only", e.Path)
	case errors.Is(e.Err, fs.ErrPermission):
		return fmt.Sprintf("%s cannot be written: this account may not; have its owner allow it", e.Path)
	default:
		return fmt.Sprintf("nothing was written to %s: %v", e.Path, e.Err)
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
	return fmt.Sprintf("the disk reported an error (%v) while %s was written; the entry is there now, but check it after the next start", e.Err, e.Path)
}

func (e Unsure) Unwrap() error { return e.Err }

// Wait says that after wrong tries the next one has to wait.
type Wait struct {
	Name string
	For  time.Duration
}

func (e Wait) Error() string {
	n := int((e.For + time.Second - 1) / time.Second)
	return fmt.Sprintf("after a wrong code %s has to wait %d s before the next try", e.Name, n)
}
