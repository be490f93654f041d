package store

import (
	"encoding/binary"
	"slices"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
)

// Query is what somebody types into the one search line, with filters. Empty parts ask for nothing.
type Query struct {
	Text      string // words, numbers, batches, names: a job has to hold every one of them
	From, To  string // ISO dates, both counting: the job was worked on between them
	Vehicle   string // id
	Outcome   string // one of the outcomes of package job; "open" for jobs without one
	Exception string // one of the kinds of job.Exception
	Limit     int    // most hits returned; 0: all
}

// OutcomeOpen is the filter for jobs whose work goes on.
const OutcomeOpen = "open"

// Hits are the jobs a query found, newest first.
type Hits struct {
	Jobs     []Summary
	Matches  int // all of them, also those beyond the limit
	Searched int
}

// found is what one job is found by.
type found struct{ questions.Tags }

// Find searches all jobs. The first search after the start reads what sealed jobs are found by;
// after that it works in memory.
func (f *File) Find(q Query) (Hits, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.readTags(); err != nil {
		return Hits{}, err
	}
	terms := strings.Fields(strings.ToLower(q.Text))
	h := Hits{Searched: len(f.list)}
	among := f.typed.narrows(q)
	f.typed = typing{query: q}
	look := func(i int) {
		s := &f.list[i]
		if !q.lets(s) {
			return
		}
		t := f.tags[s.Number]
		if !t.holds(terms) || (q.Exception != "" && !slices.Contains(t.Exceptions, q.Exception)) {
			return
		}
		if h.Matches++; q.Limit == 0 || h.Matches <= q.Limit {
			h.Jobs = append(h.Jobs, *s)
		}
		f.typed.add(i)
	}
	if among != nil {
		for _, i := range among {
			look(i)
		}
		return h, nil
	}
	for i := range slices.Backward(f.list) {
		look(i)
	}
	return h, nil
}

// typing is the search of the key before: what is typed on to it can only narrow it.
type typing struct {
	query Query
	found []int // places in the list of jobs, newest first
	many  bool  // more than are kept
}

// mostTyped is how many hits are kept for the next key; with more of them the whole is searched again.
const mostTyped = 5000

func (y *typing) add(i int) {
	if y.many = y.many || len(y.found) == mostTyped; !y.many {
		y.found = append(y.found, i)
	}
}

// narrows returns the places among which a query's hits must be, or nil when they can be anywhere.
func (y *typing) narrows(q Query) []int {
	same := y.query
	same.Text, same.Limit = q.Text, q.Limit
	if same != q || y.many || len(y.found) == 0 || !strings.HasPrefix(q.Text, y.query.Text) {
		return nil
	}
	return y.found
}

// lets applies the filters that need the line of the job only.
func (q Query) lets(s *Summary) bool {
	switch {
	case q.Vehicle != "" && q.Vehicle != s.Vehicle.ID,
		q.From != "" && s.Last.Format(time.DateOnly) < q.From,
		q.To != "" && s.Opened.Format(time.DateOnly) > q.To,
		q.Outcome == OutcomeOpen && s.Outcome != "",
		q.Outcome != "" && q.Outcome != OutcomeOpen && q.Outcome != s.Outcome:
		return false
	}
	return true
}

func (f *found) holds(terms []string) bool {
	for _, t := range terms {
		if !strings.Contains(f.Text, t) {
			return false
		}
	}
	return true
}

// newFound keeps tags in memory; the short words that many jobs share are kept once.
func (f *File) newFound(t questions.Tags) *found {
	for _, list := range [][]string{t.Instruments, t.People, t.Repeated, t.Exceptions, t.Reckoned} {
		for i, s := range list {
			list[i] = f.word(s)
		}
	}
	for i := range t.Parts {
		t.Parts[i] = questions.Part{Number: f.word(t.Parts[i].Number), Batch: f.word(t.Parts[i].Batch)}
	}
	t.Sheet = f.word(t.Sheet)
	return &found{t}
}

func (f *File) word(s string) string {
	if have, ok := f.words[s]; ok {
		return have
	}
	f.words[s] = s
	return s
}

// readTags makes sure that what every job is found by is in memory: for sealed jobs it stands in the
// file, for the others it is worked out.
func (f *File) readTags() error {
	if err := f.readList(); err != nil {
		return err
	}
	if len(f.tags) == len(f.list) {
		return nil
	}
	if len(f.tags) == 0 {
		err := f.view(func(tx *bolt.Tx) error {
			return tagged.each(tx, func(key, content []byte) error {
				t, err := decodeRow[questions.Tags](tagged, key, content)
				if err == nil && len(key) != 8 {
					err = Damaged{What: phrase.Of("store.find.what-a-job-is-found-by-stands")}
				}
				if err == nil {
					f.tags[binary.BigEndian.Uint64(key)] = f.newFound(t)
				}
				return err
			})
		})
		if err != nil {
			return err
		}
	}
	for _, s := range f.list {
		if f.tags[s.Number] != nil {
			continue
		}
		c, err := f.load(s.Number)
		if err != nil {
			return err
		}
		f.tags[s.Number] = f.newFound(questions.TagsOf(c))
	}
	return nil
}
