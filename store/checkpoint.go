package store

import (
	"crypto/sha256"
	"encoding/base64"
	"strconv"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
	"golang.org/x/mod/sumdb/tlog"

	"bay.example/pawl/job/phrase"
)

// emptyRoot is the root of a log without a seal: SHA-256 of nothing (RFC 6962 section 2.1).
var emptyRoot = sha256.Sum256(nil)

// Checkpoint is the log of seals at a moment, in two numbers. Kept somewhere else it shows later
// whether the file only grew.
type Checkpoint struct {
	Workshop time.Time // when the workshop was set up: it tells one workshop's log from another's
	Seals    int64
	Root     [sha256.Size]byte
}

const checkpointFirst = "pawl seals of the workshop set up "

// String writes the checkpoint as three lines: whose log, how many seals, the root in base64.
func (c Checkpoint) String() string {
	return checkpointFirst + c.Workshop.UTC().Format(time.RFC3339Nano) + "\n" + strconv.FormatInt(c.Seals, 10) + "\n" + base64.StdEncoding.EncodeToString(c.Root[:]) + "\n"
}

// ParseCheckpoint reads what String writes.
func ParseCheckpoint(text string) (Checkpoint, error) {
	var c Checkpoint
	lines := strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
	bad := phrase.Error("store.checkpoint.that-is-no-checkpoint-expected-three-lines", checkpointFirst)
	if len(lines) < 3 || strings.TrimSpace(strings.Join(lines[3:], "")) != "" {
		return c, bad
	}
	set, ok := strings.CutPrefix(lines[0], checkpointFirst)
	at, err1 := time.Parse(time.RFC3339Nano, set)
	n, err2 := strconv.ParseInt(lines[1], 10, 64)
	root, err3 := base64.StdEncoding.Strict().DecodeString(lines[2])
	if !ok || err1 != nil || err2 != nil || err3 != nil || n < 0 || len(root) != len(c.Root) {
		return c, bad
	}
	c.Workshop, c.Seals = at, n
	copy(c.Root[:], root)
	return c, nil
}

// Checkpoint returns the log of seals as it stands.
func (f *File) Checkpoint() (Checkpoint, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var c Checkpoint
	err := f.view(func(tx *bolt.Tx) (err error) {
		c, err = checkpointNow(tx)
		return err
	})
	return c, err
}

func checkpointNow(tx *bolt.Tx) (Checkpoint, error) {
	var c Checkpoint
	w, _, err := getRow[Workshop](tx, meta, keyWorkshop)
	if err != nil {
		return c, err
	}
	n, err := sealCount(tx)
	if err != nil {
		return c, err
	}
	root, err := sealRoot(tx, n)
	return Checkpoint{w.Created, n, root}, err
}

// Grown is the answer of VerifyAgainst.
type Grown struct {
	Then, Now Checkpoint
	New       int64 // seals since
}

// Shrunk says that the log of seals is not a continuation of the one a checkpoint was taken of.
type Shrunk struct{ What string }

func (e Shrunk) Error() string { return e.What }

// VerifyAgainst proves that every seal a checkpoint covers still stands in the log as it stood then.
// The error is Shrunk when it does not. It says nothing of whether the jobs fit their seals:
// VerifyAll does.
func (f *File) VerifyAgainst(then Checkpoint) (Grown, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	g := Grown{Then: then}
	err := f.view(func(tx *bolt.Tx) (err error) {
		if g.Now, err = checkpointNow(tx); err != nil {
			return err
		}
		switch g.New = g.Now.Seals - then.Seals; {
		case !g.Now.Workshop.Equal(then.Workshop):
			return Shrunk{phrase.Of("store.checkpoint.the-checkpoint-is-of-a-workshop-set", then.Workshop.UTC().Format(time.RFC3339), g.Now.Workshop.UTC().Format(time.RFC3339))}
		case g.New < 0:
			return Shrunk{phrase.Of("store.checkpoint.the-file-has-seals-and-had-when", g.Now.Seals, then.Seals)}
		case then.Seals == 0:
			if then.Root != emptyRoot {
				return Shrunk{phrase.Of("store.checkpoint.the-checkpoint-names-no-seals-but-not")}
			}
			return nil
		case g.New == 0:
			if then.Root != g.Now.Root {
				return Shrunk{phrase.Of("store.checkpoint.the-seals-are-not-those-the-checkpoint", then.Seals)}
			}
			return nil
		}
		proof, err := tlog.ProveTree(g.Now.Seals, then.Seals, nodes{tx})
		if err != nil {
			return err
		}
		if tlog.CheckTree(proof, g.Now.Seals, g.Now.Root, then.Seals, then.Root) != nil {
			return Shrunk{phrase.Of("store.checkpoint.the-first-seals-are-not-those-the", then.Seals)}
		}
		return nil
	})
	return g, err
}
