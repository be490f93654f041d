package paper

import (
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Where names the place a row of a table belongs to.
type Where struct {
	Job     uint64 `json:"job"`
	Mark    string `json:"mark"` // DEMO, PRACTICE, both, or empty for real work
	Stage   string `json:"stage"`
	Side    string `json:"side"`
	Title   string `json:"title"` // of the stage
	Attempt int    `json:"attempt"`
}

// Deed says when and by whom, with the number of the event.
type Deed struct {
	Seq  uint32    `json:"seq"`
	At   time.Time `json:"at"`
	By   string    `json:"by"`
	ByID string    `json:"by_id"`
	Role string    `json:"role"`
}

// Limits is a window with the document it stands in. A missing limit is empty.
type Limits struct {
	Low      quantity.Quantity `json:"low"`
	High     quantity.Quantity `json:"high"`
	Window   string            `json:"window"`
	Document string            `json:"document"`
	Revision string            `json:"revision"`
}

// Tool is an instrument as it was when it was used.
type Tool struct {
	Instrument  string `json:"instrument"`
	Kind        string `json:"kind"`
	Serial      string `json:"serial"`
	Certificate string `json:"certificate"`
	ValidTo     string `json:"valid_to"`
}

// Standing says whether an entry counts, and what it corrected or was corrected by.
type Standing struct {
	Counts     bool   `json:"counts"`
	Replaces   uint32 `json:"replaces"` // 0 for none
	ReplacedBy uint32 `json:"replaced_by"`
	Reason     string `json:"reason"`
	Source     string `json:"source"` // empty: typed; "scan", "paper"
	Verdict    string `json:"verdict"`
}

// ReadingRow is one value entered, torque excepted.
type ReadingRow struct {
	Where
	Deed
	Check      string            `json:"check"`
	CheckTitle string            `json:"check_title"`
	Item       string            `json:"item"`
	Raw        string            `json:"raw"` // as typed
	Value      quantity.Quantity `json:"value"`
	Answer     string            `json:"answer"`
	Limits
	Tool
	Standing
}

// TorqueRow is one action on one fastener. Set is what a setting wrench was set to; Reached is what
// an indicating wrench or an angle gauge showed, and empty for a click; Bolt is what reaches the
// fastener through an adapter.
type TorqueRow struct {
	Where
	Deed
	Check     string            `json:"check"`
	Group     string            `json:"group"`
	Fastener  string            `json:"fastener"`
	Pass      int               `json:"pass"`
	Set       quantity.Quantity `json:"set"`
	Clicked   bool              `json:"clicked"`
	Reached   quantity.Quantity `json:"reached"`
	Bolt      quantity.Quantity `json:"bolt"`
	Evidence  string            `json:"evidence"` // A, B, C or D
	AllAtOnce bool              `json:"all_at_once"`
	NewOnes   string            `json:"new_ones"` // fasteners counted in as new, on that line only
	Limits
	Tool
	Standing
}

// CheckedRow is what a second person found on a fastener with a tool in hand.
type CheckedRow struct {
	Where
	Deed
	Check    string            `json:"check"`
	Fastener string            `json:"fastener"`
	Value    quantity.Quantity `json:"value"`
	Moved    bool              `json:"moved"`
	Tool
}

// FigureRow is one figure worked out of a set.
type FigureRow struct {
	Where
	Check  string            `json:"check"`
	Figure string            `json:"figure"`
	Value  quantity.Quantity `json:"value"`
	Limits
	Verdict string `json:"verdict"`
}

// SignatureRow is one signature.
type SignatureRow struct {
	Where
	Deed
	Kind     string `json:"kind"` // signed, countersigned, released
	Owed     bool   `json:"second_owed"`
	NoSecond bool   `json:"no_second"`
}

// StateRow is one time a state stood. What still stands has no closing event.
type StateRow struct {
	Job        uint64     `json:"job"`
	Mark       string     `json:"mark"`
	State      string     `json:"state"`
	Side       string     `json:"side"`
	Title      string     `json:"title"`
	OpenedSeq  uint32     `json:"opened_seq"`
	Opened     time.Time  `json:"opened"`
	OpenedBy   string     `json:"opened_by"`
	OpenedAt   string     `json:"opened_at"` // stage
	PutBackSeq uint32     `json:"put_back_seq"`
	PutBack    *time.Time `json:"put_back"`
	PutBackBy  string     `json:"put_back_by"`
	PutBackAt  string     `json:"put_back_at"`
	Open       bool       `json:"open"`
}

// ExceptionRow is one thing that did not go straight.
type ExceptionRow struct {
	Job    uint64 `json:"job"`
	Mark   string `json:"mark"`
	Seq    uint32 `json:"seq"`
	Kind   string `json:"kind"`
	Stage  string `json:"stage"`
	Side   string `json:"side"`
	Strong bool   `json:"strong"`
	Text   string `json:"text"`
}

func whereOf(c *job.Card, s *job.StageCard, attempt int) Where {
	return Where{c.Number(), markOf(c), s.Node.Ref.Stage, sideOf(s.Node.Ref), s.Node.Stage.Title, attempt}
}

func deedOf(m job.Mark) Deed { return Deed{m.Seq, m.At, m.By.Name, m.By.ID, string(m.By.Role)} }

func limitsOf(w *procedures.PlanWindow) Limits {
	if w == nil {
		return Limits{}
	}
	return Limits{w.Window.Low, w.Window.High, w.Window.String(), w.Document, w.Revision}
}
