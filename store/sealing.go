package store

import (
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/seal"
)

// A job is sealed the moment its work ends: released, made safe, left on a recovery vehicle or
// cancelled. Its number, event count and newest digest join the log of seals in the transaction of
// that last event, and its events become one compressed value. What comes later stays possible and
// is sealed too: a signature, an addendum, an act on a follow-up or a customer's answer is sealed at
// once; entries of a stage done after the release are sealed by the signature under them. Each seal
// covers all events from the first, so the newest one vouches for the ones before.

// sealDue reports whether new events of a job are followed by a seal.
func sealDue(before, after *job.Card) bool {
	if after.Outcome() == "" {
		return false
	}
	if before == nil || before.Outcome() == "" {
		return true
	}
	for _, e := range after.Events[before.Seq():] {
		switch e.Body.(type) {
		case job.Signed, job.Countersigned, job.Addendum, job.FollowUp, job.Advised, job.AdviceDecided, job.Found:
			return true
		}
	}
	return false
}

// sealOf is the seal of a job as it stands.
func sealOf(c *job.Card) seal.Seal {
	return seal.Seal{Job: c.Number(), Events: c.Seq(), Head: c.Head, At: c.Last().At, Ended: c.Outcome()}
}

// sealJob seals a job whose events stand in the file already.
func sealJob(tx *bolt.Tx, c *job.Card, h *head) error {
	if _, err := addSeal(tx, sealOf(c)); err != nil {
		return err
	}
	return keepSealed(tx, c.Number(), h)
}

// Sealed is a seal with its place in the log.
type Sealed struct {
	Place uint64 `json:"place"` // from 1
	Short string `json:"short"` // as it is printed
	seal.Seal
}

// SealsOf returns the seals of a job, oldest first: none while the work goes on.
func (f *File) SealsOf(number uint64) ([]Sealed, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var out []Sealed
	err := f.view(func(tx *bolt.Tx) error {
		return eachSeal(tx, func(place uint64, s seal.Seal) error {
			if s.Job == number {
				out = append(out, Sealed{place + 1, s.Short().String(), s})
			}
			return nil
		})
	})
	return out, err
}
