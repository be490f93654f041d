package job

import (
	"sort"

	"bay.example/pawl/procedures"
)

// TaskRecord is what one apprentice has done of one task, over any number of jobs.
type TaskRecord struct {
	Task       string `json:"task"`
	Done       int    `json:"done"`       // stages signed
	FirstRight int    `json:"first_time"` // of those, at the first attempt and without rework
	Knew       int    `json:"knew"`       // questions at holds
	WithHelp   int    `json:"with_help"`
	Explained  int    `json:"explained_again"`
	Asked      int    `json:"fetched_somebody"` // good practice, not a fault
	Left       int    `json:"left"`             // on that side, without rework
	Right      int    `json:"right"`
	Last       string `json:"last"` // ISO date
}

// RaiseAfter is how often a task is done on each side without rework before the foreman may raise
// the level (common practice, no source).
const RaiseAfter = 3

// PracticeRecord adds up what a person did of each task, practice jobs included, by task.
func PracticeRecord(person string, cards []*Card) []TaskRecord {
	by := map[string]*TaskRecord{}
	for _, c := range cards {
		for i := range c.Stages {
			c.Stages[i].practised(person, by)
		}
		// From the events: an answer takes the mark off the attempt, and asking still counts.
		for _, e := range c.Events {
			if b, ok := e.Body.(Unsure); ok && e.By.ID == person {
				if s := c.Stage(b.Stage); s != nil {
					s.countAsked(by)
				}
			}
		}
	}
	out := make([]TaskRecord, 0, len(by))
	for _, r := range by {
		out = append(out, *r)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Task < out[j].Task })
	return out
}

func (s *StageCard) countAsked(by map[string]*TaskRecord) {
	task := s.Node.Stage.Task
	if task == "" {
		return
	}
	if by[task] == nil {
		by[task] = &TaskRecord{Task: task}
	}
	by[task].Asked++
}

func (s *StageCard) practised(person string, by map[string]*TaskRecord) {
	task := s.Node.Stage.Task
	if task == "" {
		return
	}
	rec := func() *TaskRecord {
		if by[task] == nil {
			by[task] = &TaskRecord{Task: task}
		}
		return by[task]
	}
	for k := range s.Attempts {
		a := &s.Attempts[k]
		for _, q := range a.Questions {
			if q.Whom.ID != person {
				continue
			}
			switch q.Result {
			case AskedKnew:
				rec().Knew++
			case AskedHelp:
				rec().WithHelp++
			case AskedExplained:
				rec().Explained++
			}
		}
		if a.Signed == nil || a.Signed.By.ID != person {
			continue
		}
		r := rec()
		r.Done++
		if day := a.Signed.At.Format("2006-01-02"); day > r.Last {
			r.Last = day
		}
		if a.No == 1 && len(s.Attempts) == 1 {
			r.FirstRight++
			switch s.Node.Ref.Side {
			case procedures.Left:
				r.Left++
			case procedures.Right:
				r.Right++
			default:
				r.Left++
				r.Right++
			}
		}
	}
}

// MayRaise reports whether the record is long enough for the foreman to raise the level.
func (r TaskRecord) MayRaise() bool { return r.Left >= RaiseAfter && r.Right >= RaiseAfter }
