package job

import (
	"time"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Card is a job as it stands: everything Fold derives from its events. Treat it as read only.
type Card struct {
	Plan     *procedures.Plan
	Opened   Opened
	OpenedBy Who
	OpenedAt time.Time
	Events   []Event
	Head     Digest // digest of the newest event
	Stages   []StageCard
	Open     []Standing // standing states, oldest first
	Paused   *Mark      // nil unless the job is paused
	PauseFor string
	Released *Release
	Stop     Paused // the details of the present or last stop
	Safe     *Mark  // signed safe to leave since that stop
	People          // what happened when the job did not go straight

	meant *meant // the remarks, worked out when first asked for
}

// Mark is who did something, when, by which event.
type Mark struct {
	Seq uint32    `json:"seq"`
	By  Who       `json:"by"`
	At  time.Time `json:"at"`
}

// Release is the fact of release.
type Release struct {
	Mark
	Independent bool
	Note        string
	Outcome     string
}

// Status says where a stage stands.
type Status uint8

// The statuses of a stage.
const (
	LeftOut    Status = iota // not part of this job, by trait, decision or finding
	Undecided                // depends on a decision or finding not made yet
	Waiting                  // a stage before it is not complete
	Ready                    // may be worked on now
	Begun                    // entries made, not signed
	SecondOwed               // signed; a second person has to look
	Complete                 // signed, and countersigned where that is owed
	Stale                    // what it rests on was done again after it
)

// String is the status in words.
func (s Status) String() string {
	switch s {
	case LeftOut:
		return "left out"
	case Undecided:
		return "depends on decision"
	case Waiting:
		return "waiting"
	case Ready:
		return "ready"
	case Begun:
		return "begun"
	case SecondOwed:
		return "second person owed"
	case Complete:
		return "complete"
	case Stale:
		return "stale"
	}
	return "unknown"
}

// MarshalText writes the status in words.
func (s Status) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// StageCard is one stage on one side, as it stands.
type StageCard struct {
	Node     *procedures.Node
	Status   Status
	Settled  bool            // complete or left out, and so is everything before it
	Attempts []Attempt       // oldest first; the last one counts
	StaleBy  *procedures.Ref // the stage whose new attempt made this one stale
}

// Attempt is one try at a stage.
type Attempt struct {
	No            int
	Reason        string // why there is another one; empty for the first
	OpenedSeq     uint32
	Entries       []Entry // all of them, also the replaced ones, in order
	Signed        *Mark
	NoSecond      bool
	Countersigned *Mark
	Owed          bool          // a second person's signature was owed when it was signed
	Checks        []CheckedPull // what a second person found with his own tool
	Questions     []Question
	Blinds        []BlindValue
	Unsure        *Mark // "not sure, fetch somebody", until somebody came
	UnsureNote    string
	stale         bool
	staleBy       procedures.Ref
}

// Entry is one recorded value with its event.
type Entry struct {
	Mark
	Entered
	ReplacedBy uint32 // the event that corrects it; 0 while it stands
	Broken     bool   // part of an interrupted pass: evidence only
	Real       *Mark  // said to be real although it is outside; nil while nobody said so
}

// Counts reports whether the entry is the value that stands.
func (e Entry) Counts() bool { return e.ReplacedBy == 0 && !e.Broken }

// Standing is a state that has not been put back.
type Standing struct {
	Ref       procedures.StateRef
	State     *procedures.State
	Since     Mark             // the entry that first set it
	SetAt     procedures.Ref   // the stage that set it
	PutBackAt []procedures.Ref // the stages that put it back
}

// Stage returns the card of a stage, or nil when the vehicle has no such stage.
func (c *Card) Stage(r procedures.Ref) *StageCard {
	if i := c.Plan.Index(r); i >= 0 {
		return &c.Stages[i]
	}
	return nil
}

// Number is the number of the job.
func (c *Card) Number() uint64 { return c.Opened.Number }

// Demo reports whether anything the job rests on is invented: its vehicle, its procedure or its sheet.
func (c *Card) Demo() bool {
	return c.Opened.Demo || c.Plan.Sheet.Demo || c.Plan.Procedure.Demo
}

// Seq is the number of the newest event.
func (c *Card) Seq() uint32 { return uint32(len(c.Events)) }

// Last returns the newest event.
func (c *Card) Last() Event { return c.Events[len(c.Events)-1] }

// Current returns the attempt that counts, or nil before the first entry.
func (s *StageCard) Current() *Attempt {
	if len(s.Attempts) == 0 {
		return nil
	}
	return &s.Attempts[len(s.Attempts)-1]
}

// Applicable reports whether the stage is part of the job for certain.
func (s *StageCard) Applicable() bool { return s.Status != LeftOut && s.Status != Undecided }

// Entry returns the standing entry of one item of a check, or nil.
func (a *Attempt) Entry(check, item string) *Entry {
	if a == nil {
		return nil
	}
	for i := len(a.Entries) - 1; i >= 0; i-- {
		if e := &a.Entries[i]; e.Check == check && e.Item == item && e.Counts() {
			return e
		}
	}
	return nil
}

// Doers returns everybody who made an entry in the attempt or signed it, each once.
func (a *Attempt) Doers() []Who {
	var out []Who
	add := func(w Who) {
		for _, x := range out {
			if x.ID == w.ID {
				return
			}
		}
		out = append(out, w)
	}
	for _, e := range a.Entries {
		add(e.By)
	}
	if a.Signed != nil {
		add(a.Signed.By)
	}
	return out
}

// Result is what a check amounts to so far.
type Result struct {
	Check   *procedures.PlanCheck
	Missing []string         // the items not entered yet, in order
	Values  []Valued         // what was entered and what was worked out of it
	Verdict quantity.Verdict // the worst of Values; Unjudged while something is missing
}

// Valued is one value of a check with its verdict: an entry, or a figure worked out of several.
type Valued struct {
	Name    string // the item, or the name of the figure
	Entry   *Entry // nil for a figure worked out
	Value   quantity.Quantity
	Window  *procedures.PlanWindow
	Verdict quantity.Verdict
}
