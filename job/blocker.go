package job

import (
	"strings"

	"bay.example/pawl/procedures"
)

// Code names a reason against something, for programs; people read Text and WayOut.
type Code string

// The reasons.
const (
	CodeUnknown       Code = "unknown"       // no such stage, check or item
	CodeLeftOut       Code = "left-out"      // the stage is not part of this job
	CodeUndecided     Code = "undecided"     // depends on a decision not made
	CodeBefore        Code = "before"        // a stage before it is not complete
	CodeStale         Code = "stale"         // what it rests on was done again
	CodeMissing       Code = "missing"       // an entry is missing
	CodeOutside       Code = "outside"       // a value is outside its window
	CodeNotProven     Code = "not-proven"    // inside, but the instrument cannot tell
	CodeInstrument    Code = "instrument"    // the instrument may not or cannot give the value
	CodeNewOnes       Code = "new-ones"      // single-use fasteners not ticked new
	CodeStateOpen     Code = "state-open"    // a standing state is in the way
	CodeStateShut     Code = "state-shut"    // a state that must stand does not
	CodeRole          Code = "role"          // the person's role does not reach
	CodeSamePerson    Code = "same-person"   // the person did the work himself
	CodeSecond        Code = "second"        // a second person has to look first
	CodeSigned        Code = "signed"        // already signed
	CodeNotSigned     Code = "not-signed"    // nothing signed to look at
	CodeNotOwed       Code = "not-owed"      // no second person is asked for
	CodePaused        Code = "paused"        // the job is paused
	CodeNotPaused     Code = "not-paused"    // the job is not paused
	CodeReleased      Code = "released"      // the vehicle has been released
	CodeValue         Code = "value"         // the value typed is no value
	CodeFilled        Code = "filled"        // the item has a value; correct it with a reason
	CodeReason        Code = "reason"        // a reason is missing
	CodeCode          Code = "code"          // the personal code was not given
	CodeClock         Code = "clock"         // the clock stands before the newest record
	CodeOrder         Code = "order"         // a fastener or a pass out of its order
	CodeQualification Code = "qualification" // a licence or an instruction is missing or ran out
	CodeUnsure        Code = "unsure"        // somebody was not sure here and waits for help
	CodeChecked       Code = "unchecked"     // the second person has not had a tool on it
	CodeShift         Code = "shift"         // the second person comes too late
	CodeBurst         Code = "burst"         // more countersignatures than anybody can look for
	CodeQuestion      Code = "question"      // a question the measurements raise is not answered
	CodeWithheld      Code = "withheld"      // the vehicle must not be driven
	CodeDeviation     Code = "deviation"     // not on the list of what may be granted
	CodeAdvice        Code = "advice"        // a line of advice is not decided
	CodeReadBack      Code = "read-back"     // the stop sheet was not read back
	CodeEnded         Code = "ended"         // the job has ended or takes another way now
	CodeEvidence      Code = "evidence"      // the evidence is too weak for a hold point
)

// Blocker is one reason against something, with the way out.
type Blocker struct {
	Code   Code           `json:"code"`
	Stage  procedures.Ref `json:"stage,omitzero"`
	Check  string         `json:"check,omitempty"`
	Item   string         `json:"item,omitempty"`
	Text   string         `json:"text"`
	WayOut string         `json:"way_out"`
}

// Refused is the error of Decide: every reason at once.
type Refused []Blocker

// Error joins the reasons into one line.
func (r Refused) Error() string {
	parts := make([]string, len(r))
	for i, b := range r {
		parts[i] = b.Text
	}
	return strings.Join(parts, "; ")
}

func refuse(code Code, at procedures.Ref, text, wayOut string) Refused {
	return Refused{{Code: code, Stage: at, Text: text, WayOut: wayOut}}
}
