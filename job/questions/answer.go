package questions

import (
	"time"

	"bay.example/pawl/job/phrase"
)

// Question is one that can be asked by name.
type Question struct {
	Number  int      `json:"number"` // in the order of the list
	Name    string   `json:"name"`   // to type
	Title   string   `json:"title"`
	Params  []Param  `json:"params"`
	Columns []Column `json:"columns"`
}

// ParamKind says what a parameter is, for a form that offers choices.
type ParamKind string

// The kinds of parameter.
const (
	Day        ParamKind = "day"    // ISO date
	Moment     ParamKind = "moment" // "2026-03-03 10:12"
	Clock      ParamKind = "clock"  // "06:00"
	Number     ParamKind = "number" // a whole number
	JobNumber  ParamKind = "job"
	Instrument ParamKind = "instrument"
	Person     ParamKind = "person"
	Vehicle    ParamKind = "vehicle"
	Sheet      ParamKind = "sheet" // id of a spec sheet
	Words      ParamKind = "words"
	Choice     ParamKind = "choice"
)

// Param is one parameter of a question.
type Param struct {
	Name     string    `json:"name"`
	Title    string    `json:"title"`
	Kind     ParamKind `json:"kind"`
	Options  []string  `json:"options,omitempty"`  // of a choice
	Default  string    `json:"default,omitempty"`  // used when nothing is given
	Optional bool      `json:"optional,omitempty"` // may stay empty
}

// Column is one column of an answer.
type Column struct {
	Name    string `json:"name"` // a stable word, for machines
	Title   string `json:"title"`
	Numeric bool   `json:"numeric,omitempty"` // its cells are numbers without a unit, or empty
}

// Row is one line of an answer.
type Row struct {
	Job   uint64   `json:"job,omitempty"` // where it stands; 0 for lines over several jobs
	Seq   uint32   `json:"seq,omitempty"` // the event it rests on
	Cells []string `json:"cells"`

	carry any // what finish adds up
}

// Unjudged is a record that could not be judged, and why.
type Unjudged struct {
	Job uint64 `json:"job"`
	Why string `json:"why"`
}

// Answer is what a question comes to, with all that has to be said beside it.
type Answer struct {
	Question string            `json:"question"`
	Title    string            `json:"title"`
	Args     map[string]string `json:"args"`
	From     string            `json:"from"` // ISO date of the first day covered; empty: from the beginning
	To       string            `json:"to"`   // the last day covered
	AsOf     time.Time         `json:"as_of"`
	Revision string            `json:"revision"` // of the data: jobs and seals at that moment
	Searched int               `json:"searched"` // records looked at
	Unjudged []Unjudged        `json:"unjudged"`
	Columns  []Column          `json:"columns"`
	Rows     []Row             `json:"rows"`
	Notes    []string          `json:"notes,omitempty"` // shares, limits and what to keep in mind
}

// Found says in words how the answer came out: none found is not the same as cannot tell.
func (a Answer) Found() string {
	switch {
	case len(a.Rows) == 0 && len(a.Unjudged) > 0:
		return phrase.Of("questions.answer.cannot-tell-in-of-something-could-not", a.doubtful(), phrase.Count("count.record", a.Searched))
	case len(a.Rows) == 0:
		return phrase.Of("questions.answer.none-found-in", phrase.Count("count.record", a.Searched))
	case len(a.Unjudged) > 0:
		return phrase.Of("questions.answer.found-in-in-of-them-something-could", phrase.Count("count.line", len(a.Rows)), phrase.Count("count.record", a.Searched), a.doubtful())
	}
	return phrase.Of("questions.answer.found-in", phrase.Count("count.line", len(a.Rows)), phrase.Count("count.record", a.Searched))
}

// doubtful counts the records in which something could not be judged.
func (a Answer) doubtful() int {
	seen := map[uint64]bool{}
	for _, u := range a.Unjudged {
		seen[u.Job] = true
	}
	return len(seen)
}

// Span says in words what time the answer covers.
func (a Answer) Span() string {
	if a.From == "" {
		return phrase.Of("questions.answer.all-records-to", a.To)
	}
	return phrase.Of("questions.answer.to", a.From, a.To)
}
