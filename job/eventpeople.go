package job

import (
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Swapped exchanges the values of one check between left and right: a whole set was typed on the
// wrong side. It is one correction, however many values it moves.
type Swapped struct {
	Stage  string `cbor:"1,keyasint"`
	Check  string `cbor:"2,keyasint"`
	Reason string `cbor:"3,keyasint"`
}

// Checked is what a second person found with a tool in his own hand on a fastener somebody else
// tightened. It proves that the joint is not loose; it is never a value of the doer.
type Checked struct {
	Stage      procedures.Ref       `cbor:"1,keyasint"`
	Attempt    int                  `cbor:"2,keyasint"`
	Check      string               `cbor:"3,keyasint"`
	Item       string               `cbor:"4,keyasint"`
	Raw        string               `cbor:"5,keyasint"`
	Value      quantity.Quantity    `cbor:"6,keyasint"`
	Instrument *register.Instrument `cbor:"7,keyasint"`
	Moved      bool                 `cbor:"8,keyasint,omitempty"` // the fastener turned before the value was reached
	AllAtOnce  bool                 `cbor:"9,keyasint,omitempty"`
}

// The results of the question asked aloud at a hold.
const (
	AskedKnew      = "knew"
	AskedHelp      = "with help"
	AskedExplained = "explained again"
)

// Asked records the question asked aloud at a hold and how it went. The person of the event asked.
type Asked struct {
	Stage  procedures.Ref `cbor:"1,keyasint"`
	Whom   Who            `cbor:"2,keyasint"`
	Result string         `cbor:"3,keyasint"`
}

// Unsure is "I am not sure, fetch somebody". It stops the stage without blame.
type Unsure struct {
	Stage procedures.Ref `cbor:"1,keyasint"`
	Note  string         `cbor:"2,keyasint,omitempty"`
}

// Helped is a qualified person's answer to Unsure; the stage goes on.
type Helped struct {
	Stage procedures.Ref `cbor:"1,keyasint"`
	Note  string         `cbor:"2,keyasint"`
}

// Blind is a second measurement taken without sight of the first. It changes nothing; the agreement
// is shown.
type Blind struct {
	Stage      procedures.Ref       `cbor:"1,keyasint"`
	Check      string               `cbor:"2,keyasint"`
	Item       string               `cbor:"3,keyasint"`
	Raw        string               `cbor:"4,keyasint"`
	Value      quantity.Quantity    `cbor:"5,keyasint"`
	Instrument *register.Instrument `cbor:"6,keyasint"`
}

// Deviated is a deviation of the procedure's closed list, granted by the foreman for this job only.
type Deviated struct {
	Deviation string         `cbor:"1,keyasint"`
	Title     string         `cbor:"2,keyasint"`
	Stage     procedures.Ref `cbor:"3,keyasint"`
	Reason    string         `cbor:"4,keyasint"`
	OwnWork   bool           `cbor:"5,keyasint,omitempty"` // granted on own work, because nobody else was there
}

// Withheld says the vehicle must not be driven, and why.
type Withheld struct {
	Class string `cbor:"1,keyasint"` // one of WithheldClasses
	Words string `cbor:"2,keyasint"` // what was measured or seen
	Told  string `cbor:"3,keyasint"` // who was told, in what words
}

// Lifted takes a withholding back, after its cause was cured at the stage named.
type Lifted struct {
	Cure  procedures.Ref `cbor:"1,keyasint"`
	Words string         `cbor:"2,keyasint"`
}

// Abandoned ends the work without finishing it. What is left is the make-safe branch.
type Abandoned struct {
	Reason string `cbor:"1,keyasint"`
}

// Declared names a standing state that cannot be put back on a withheld vehicle that leaves on a
// recovery vehicle.
type Declared struct {
	State procedures.StateRef `cbor:"1,keyasint"`
	Words string              `cbor:"2,keyasint"`
}

// Cancelled ends a job before anything was done to the vehicle.
type Cancelled struct {
	Reason string `cbor:"1,keyasint"`
}

// Advised is a line of advice to the customer.
type Advised struct {
	Text    string `cbor:"1,keyasint"`
	Urgency string `cbor:"2,keyasint"` // one of Urgencies
}

// AdviceDecided is the customer's answer to a line of advice, in his words.
type AdviceDecided struct {
	Advice uint32 `cbor:"1,keyasint"` // the event that gave it
	Answer string `cbor:"2,keyasint"` // one of AdviceAnswers
	Words  string `cbor:"3,keyasint"`
	ByWhom string `cbor:"4,keyasint"` // who decided, and how he was told
}

// Addendum is words added after the release. Nothing before it changes.
type Addendum struct {
	Text string `cbor:"1,keyasint"`
}

// FollowUp moves or ends something promised. Nothing promised is ever deleted.
type FollowUp struct {
	Key   string `cbor:"1,keyasint"`           // which one: see FollowUps
	Act   string `cbor:"2,keyasint"`           // one of FollowUpActs
	Until string `cbor:"3,keyasint,omitempty"` // moved: the new date
	Words string `cbor:"4,keyasint"`           // reason or proof
}

// Answered answers a question the program raised about what was measured.
type Answered struct {
	Key    string `cbor:"1,keyasint"` // which one: see Remarks
	Answer string `cbor:"2,keyasint"`
}

// Found is a planted fault that was noticed in a practice job.
type Found struct {
	Fault string `cbor:"1,keyasint"` // as written in Opened.Planted, or words
}

func (Opened) kind() kind        { return kindOpened }
func (Entered) kind() kind       { return kindEntered }
func (Signed) kind() kind        { return kindSigned }
func (Countersigned) kind() kind { return kindCountersigned }
func (Reopened) kind() kind      { return kindReopened }
func (Broken) kind() kind        { return kindBroken }
func (Paused) kind() kind        { return kindPaused }
func (Resumed) kind() kind       { return kindResumed }
func (Released) kind() kind      { return kindReleased }
func (Swapped) kind() kind       { return kindSwapped }
func (Checked) kind() kind       { return kindChecked }
func (Asked) kind() kind         { return kindAsked }
func (Unsure) kind() kind        { return kindUnsure }
func (Helped) kind() kind        { return kindHelped }
func (Blind) kind() kind         { return kindBlind }
func (Deviated) kind() kind      { return kindDeviated }
func (SafeToLeave) kind() kind   { return kindSafeToLeave }
func (Withheld) kind() kind      { return kindWithheld }
func (Lifted) kind() kind        { return kindLifted }
func (Abandoned) kind() kind     { return kindAbandoned }
func (Declared) kind() kind      { return kindDeclared }
func (Cancelled) kind() kind     { return kindCancelled }
func (Advised) kind() kind       { return kindAdvised }
func (AdviceDecided) kind() kind { return kindAdviceDecided }
func (Addendum) kind() kind      { return kindAddendum }
func (FollowUp) kind() kind      { return kindFollowUp }
func (Answered) kind() kind      { return kindAnswered }
func (Found) kind() kind         { return kindFound }
