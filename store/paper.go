package store

import (
	bolt "go.etcd.io/bbolt"
	"golang.org/x/mod/sumdb/tlog"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/seal"
)

// ErrNoSeal says that a printed seal is of no job in this file.
var ErrNoSeal = phrase.Error("store.paper.no-job-of-this-file-has-that")

// VerifyPaper reads a printed seal and holds it against this file: the job is looked up by it, the
// job's digests are recomputed from the stored bytes, and the seal is proved to stand in the log. The
// error says what does not fit; ErrNoSeal means that the paper and this file do not belong together.
func (f *File) VerifyPaper(text string) (Sealed, error) {
	short, err := seal.ParseShort(text)
	if err != nil {
		return Sealed{}, err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	var found Sealed
	err = f.view(func(tx *bolt.Tx) error {
		err := eachSeal(tx, func(place uint64, s seal.Seal) error {
			if s.Short() == short {
				found = Sealed{place + 1, short.String(), s}
			}
			return nil
		})
		if err != nil {
			return err
		}
		if found.Place == 0 {
			return phrase.Error("store.paper.the-paper-is-of-another-workshop-or", ErrNoSeal)
		}
		h, rows, err := jobRows(tx, found.Job)
		if err != nil {
			return err
		}
		if found.Events > uint32(len(rows)) {
			return Damaged{What: phrase.Of("store.paper.job-has-events-the-seal-covers", found.Job, len(rows), found.Events)}
		}
		fits := false
		if err := checkChain(found.Job, h, rows, func(seq uint32, at job.Digest) {
			if seq == found.Events {
				fits = at == job.Digest(found.Head)
			}
		}); err != nil {
			return err
		}
		if !fits {
			return Damaged{What: phrase.Of("store.paper.the-first-events-of-job-are-not", found.Events, found.Job)}
		}
		return proveSeal(tx, found)
	})
	return found, err
}

// proveSeal proves that a seal stands in the log under its root.
func proveSeal(tx *bolt.Tx, s Sealed) error {
	n, err := sealCount(tx)
	if err != nil {
		return err
	}
	root, err := sealRoot(tx, n)
	if err != nil {
		return err
	}
	proof, err := tlog.ProveRecord(n, int64(s.Place)-1, nodes{tx})
	if err != nil {
		return err
	}
	if tlog.CheckRecord(proof, n, root, int64(s.Place)-1, tlog.RecordHash(s.Text())) != nil {
		return Damaged{What: phrase.Of("store.paper.seal-does-not-stand-in-the-log", s.Place)}
	}
	return nil
}
