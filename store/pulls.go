package store

import (
	"bytes"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
)

// pullCounts is how often each instrument was pulled on each day, over all jobs but practice.
type pullCounts map[string]map[string]int

// pullKey is the key of one instrument on one day (ISO date).
func pullKey(id, day string) []byte { return []byte(id + "\x00" + day) }

func splitPullKey(key []byte) (id, day string, ok bool) {
	i := bytes.IndexByte(key, 0)
	if i < 0 {
		return "", "", false
	}
	return string(key[:i]), string(key[i+1:]), true
}

// pullsOf counts the torque actions of some events of a job, tightening and checks alike, by key.
// It counts as job.Card.Pulls does.
func pullsOf(c *job.Card, events []job.Event) map[string]int {
	out := map[string]int{}
	if c.Opened.Practice {
		return out
	}
	for _, e := range events {
		var in *register.Instrument
		switch b := e.Body.(type) {
		case job.Entered:
			in = b.Instrument
		case job.Checked:
			in = b.Instrument
		}
		if in != nil && in.Wrench() {
			out[string(pullKey(in.ID, e.At.Format(time.DateOnly)))]++
		}
	}
	return out
}

// countPulls adds the pulls among new events to the days they were made on.
func (f *File) countPulls(tx *bolt.Tx, c *job.Card, events []job.Event) error {
	for key, n := range pullsOf(c, events) {
		old, _, err := getRow[int](tx, pulls, []byte(key))
		if err != nil {
			return err
		}
		if err := putRow(tx, pulls, []byte(key), old+n); err != nil {
			return err
		}
		if id, day, ok := splitPullKey([]byte(key)); ok && f.pulls != nil {
			if f.pulls[id] == nil {
				f.pulls[id] = map[string]int{}
			}
			f.pulls[id][day] = old + n
		}
	}
	return nil
}

// cycles returns, for every wrench of the register, the torque actions since its calibration. The
// day of calibration counts.
func (f *File) cycles(r register.Register) (map[string]int, error) {
	if f.pulls == nil || f.broken != nil {
		all := pullCounts{}
		err := f.view(func(tx *bolt.Tx) error {
			return pulls.each(tx, func(key, content []byte) error {
				id, day, ok := splitPullKey(key)
				if !ok {
					return Damaged{What: phrase.Of("store.pulls.the-count-of-pulls-has-the-key", key)}
				}
				n, err := decodeRow[int](pulls, key, content)
				if all[id] == nil {
					all[id] = map[string]int{}
				}
				all[id][day] = n
				return err
			})
		})
		if err != nil {
			return nil, err
		}
		f.pulls = all
	}
	out := map[string]int{}
	for _, in := range r.Instruments {
		if !in.Wrench() {
			continue
		}
		n := 0
		for day, k := range f.pulls[in.ID] {
			if day >= in.Calibrated {
				n += k
			}
		}
		out[in.ID] = n
	}
	return out, nil
}
