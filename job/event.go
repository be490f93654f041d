package job

import (
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Event is one fact of a job. Events are numbered from 1 without a gap; the number, never the
// clock, gives the order.
type Event struct {
	Seq     uint32
	At      time.Time // to the millisecond, with the local offset of the station
	By      Who
	Station string // the bay's computer
	Body    Body
}

// Who is the person behind an event, with name and role as they were then.
type Who struct {
	ID   string          `cbor:"1,keyasint" json:"id"`
	Name string          `cbor:"2,keyasint" json:"name"`
	Role procedures.Role `cbor:"3,keyasint" json:"role"`
}

// Body is what happened. The set is closed: the types of this file.
type Body interface{ kind() kind }

// kind numbers the bodies in the stored form. A number is never used again for something else.
type kind uint8

const (
	kindOpened        kind = 1
	kindEntered       kind = 2
	kindSigned        kind = 3
	kindCountersigned kind = 4
	kindReopened      kind = 5
	kindBroken        kind = 6
	kindPaused        kind = 7
	kindResumed       kind = 8
	kindReleased      kind = 9
	kindSwapped       kind = 10
	kindChecked       kind = 11
	kindAsked         kind = 12
	kindUnsure        kind = 13
	kindHelped        kind = 14
	kindBlind         kind = 15
	kindDeviated      kind = 16
	kindSafeToLeave   kind = 17
	kindWithheld      kind = 18
	kindLifted        kind = 19
	kindAbandoned     kind = 20
	kindDeclared      kind = 21
	kindCancelled     kind = 22
	kindAdvised       kind = 23
	kindAdviceDecided kind = 24
	kindAddendum      kind = 25
	kindFollowUp      kind = 26
	kindAnswered      kind = 27
	kindFound         kind = 28
	kindTraitChanged  kind = 29
	kindSheetAdopted  kind = 30
	kindCalledReal    kind = 31
)

// Opened is the first event of every job.
type Opened struct {
	Number      uint64            `cbor:"1,keyasint"`
	Vehicle     VehicleRef        `cbor:"2,keyasint"`
	Complaint   string            `cbor:"3,keyasint"`
	Odometer    quantity.Quantity `cbor:"4,keyasint"`
	Traits      map[string]string `cbor:"5,keyasint"`
	Procedure   Pinned            `cbor:"6,keyasint"`
	Sheet       Pinned            `cbor:"7,keyasint"`
	Demo        bool              `cbor:"8,keyasint,omitempty"`
	Customer    string            `cbor:"9,keyasint,omitempty"`  // who ordered the work
	Practice    bool              `cbor:"10,keyasint,omitempty"` // an exercise: kept out of histories and cycle counts
	Planted     []string          `cbor:"11,keyasint,omitempty"` // practice: the faults put there to be found
	OdometerWhy string            `cbor:"13,keyasint,omitempty"` // why it may read lower than last time
	History     []PastValue       `cbor:"12,keyasint,omitempty"` // what earlier visits measured, as it was known then
}

// PastValue is one figure of an earlier visit of the vehicle.
type PastValue struct {
	Figure   string            `cbor:"1,keyasint" json:"figure"` // the Reckon word of the check with its side: "pads/left"
	Job      uint64            `cbor:"2,keyasint" json:"job"`
	Date     string            `cbor:"3,keyasint" json:"date"` // ISO date
	Odometer quantity.Quantity `cbor:"4,keyasint" json:"odometer"`
	Value    quantity.Quantity `cbor:"5,keyasint" json:"value"`
	New      bool              `cbor:"6,keyasint,omitempty" json:"new,omitempty"`  // measured on the part when it was fitted
	Within   quantity.Quantity `cbor:"7,keyasint,omitzero" json:"within,omitzero"` // uncertainty of the value
}

// VehicleRef is the vehicle as it was known when the job was opened.
type VehicleRef struct {
	ID   string `cbor:"1,keyasint" json:"id"`
	Name string `cbor:"2,keyasint" json:"name"`
	VIN  string `cbor:"3,keyasint,omitempty" json:"vin,omitempty"`
}

// Pinned names a procedure or sheet by the digest of its canonical bytes.
type Pinned struct {
	ID       string `cbor:"1,keyasint" json:"id"`
	Title    string `cbor:"2,keyasint" json:"title"`
	Revision string `cbor:"3,keyasint" json:"revision"`
	Digest   string `cbor:"4,keyasint" json:"digest"`
}

// Evidence says how well a torque value is known, strongest first.
type Evidence uint8

// The evidence levels.
const (
	NoEvidence Evidence = iota
	StoredPeak          // A: peak kept by an electronic wrench
	ReadByEye           // B: indicating tool read by a person
	ClickHeard          // C: setting wrench, click confirmed
	ToldLater           // D: entered afterwards, from paper or hearsay
)

// Level is the letter of the level, A for the strongest; empty where nothing is known.
func (e Evidence) Level() string {
	if e < StoredPeak || e > ToldLater {
		return ""
	}
	return string("ABCD"[e-StoredPeak])
}

// String is the words printed beside a value.
func (e Evidence) String() string {
	switch e {
	case StoredPeak:
		return phrase.Of("job.event.a-stored-peak")
	case ReadByEye:
		return phrase.Of("job.event.b-read-by-eye")
	case ClickHeard:
		return phrase.Of("job.event.c-click-confirmed")
	case ToldLater:
		return phrase.Of("job.event.d-told-later")
	}
	return ""
}

// Origin of a value, in Entered.Source.
const (
	SourceTyped = ""      // at the keyboard
	SourceScan  = "scan"  // read by a scanner
	SourcePaper = "paper" // copied from a paper sheet afterwards
)

// Entered records one value. What was typed is kept beside what was understood, with a copy of the
// window and the instrument it was judged by.
type Entered struct {
	Stage      procedures.Ref         `cbor:"1,keyasint"`
	Attempt    int                    `cbor:"2,keyasint"`
	Check      string                 `cbor:"3,keyasint"`
	Item       string                 `cbor:"4,keyasint,omitempty"`
	Raw        string                 `cbor:"5,keyasint"`
	Value      quantity.Quantity      `cbor:"6,keyasint,omitzero"` // readings and counts; for a setting wrench, what it was set to
	Answer     string                 `cbor:"7,keyasint,omitempty"`
	Verdict    quantity.Verdict       `cbor:"8,keyasint,omitempty"`
	Window     *procedures.PlanWindow `cbor:"9,keyasint,omitempty"`
	Instrument *register.Instrument   `cbor:"10,keyasint,omitempty"`
	Evidence   Evidence               `cbor:"11,keyasint,omitempty"`
	AllAtOnce  bool                   `cbor:"12,keyasint,omitempty"` // one confirmation for every fastener left
	Source     string                 `cbor:"13,keyasint,omitempty"`
	Replaces   uint32                 `cbor:"14,keyasint,omitempty"` // the event this one corrects
	Reason     string                 `cbor:"15,keyasint,omitempty"` // why it was corrected
	Adapter    *AdapterUse            `cbor:"16,keyasint,omitempty"` // torque: the adapter on the wrench
	Bolt       quantity.Quantity      `cbor:"17,keyasint,omitzero"`  // torque with an adapter: what the fastener gets, which is judged
	Confirmed  *Who                   `cbor:"18,keyasint,omitempty"` // a second slip on one fastener: who confirmed it
}

// AdapterUse is an open-end or crow-foot adapter as it stood on the wrench.
type AdapterUse struct {
	Length quantity.Quantity `cbor:"1,keyasint" json:"length"`         // drive to the marked hand point
	Offset quantity.Quantity `cbor:"2,keyasint" json:"offset"`         // drive to fastener
	Angle  quantity.Quantity `cbor:"3,keyasint,omitzero" json:"angle"` // to the handle; none is straight ahead
}

// Signed closes an attempt at a stage.
type Signed struct {
	Stage    procedures.Ref `cbor:"1,keyasint"`
	Attempt  int            `cbor:"2,keyasint"`
	NoSecond bool           `cbor:"3,keyasint,omitempty"` // a second person was owed and the workshop has none
	Owed     bool           `cbor:"4,keyasint,omitempty"` // a second person has to countersign, by the rules and levels of that moment
}

// Countersigned is a second person's signature under an attempt.
type Countersigned struct {
	Stage   procedures.Ref `cbor:"1,keyasint"`
	Attempt int            `cbor:"2,keyasint"`
}

// Reopened begins a new attempt at a stage. The attempts before it stay as they are.
type Reopened struct {
	Stage   procedures.Ref `cbor:"1,keyasint"`
	Attempt int            `cbor:"2,keyasint"` // the number of the new one
	Reason  string         `cbor:"3,keyasint"`
	Rework  string         `cbor:"4,keyasint,omitempty"` // id of the way out taken, with its stage: "stage:id"
}

// Broken marks a torque check that was interrupted between its first and last fastener. What was
// entered stays as evidence; the pass starts again from the first fastener.
type Broken struct {
	Stage   procedures.Ref `cbor:"1,keyasint"`
	Attempt int            `cbor:"2,keyasint"`
	Check   string         `cbor:"3,keyasint"`
	Last    string         `cbor:"4,keyasint"` // the last fastener entered before
}

// The kinds of stop.
const (
	StopPause   = "pause"
	StopSafe    = "stopped safe"
	StopStands  = "stopped on stands"
	StopParts   = "waiting for parts"
	StopHanded  = "handed to another"
	StopUnknown = "" // events written before there were kinds
)

// StopKinds lists the kinds of stop in the order the screen offers them.
func StopKinds() []string { return []string{StopPause, StopSafe, StopStands, StopParts, StopHanded} }

// Paused stops the job; nothing but Resumed may follow.
type Paused struct {
	Note    string `cbor:"1,keyasint"`
	Kind    string `cbor:"2,keyasint,omitempty"`
	PartsAt string `cbor:"3,keyasint,omitempty"` // where what was taken off lies
	KeyAt   string `cbor:"4,keyasint,omitempty"`
	Call    string `cbor:"5,keyasint,omitempty"` // whom to call
}

// SafeToLeave is the signature that a stopped vehicle may stand overnight as the stop sheet says.
type SafeToLeave struct{}

// Resumed goes on with a paused job, after the stop sheet was read back at the vehicle.
type Resumed struct {
	Lines     int  `cbor:"1,keyasint,omitempty"` // lines of the stop sheet read back
	TakenOver bool `cbor:"2,keyasint,omitempty"` // by somebody else than who stopped
}

// The outcomes of a job.
const (
	OutcomeReleased  = "released"
	OutcomeMadeSafe  = "made safe, not repaired"
	OutcomeRecovery  = "not roadworthy: leaves on a recovery vehicle only"
	OutcomeCancelled = "cancelled before work"
)

// Released says the vehicle may leave, or how it leaves. It follows the signature of the release
// stage.
type Released struct {
	Independent bool   `cbor:"1,keyasint"` // the foreman had no hand in the work
	Note        string `cbor:"2,keyasint,omitempty"`
	Outcome     string `cbor:"3,keyasint,omitempty"` // empty: OutcomeReleased
}
