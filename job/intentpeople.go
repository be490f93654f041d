package job

import "bay.example/pawl/procedures"

// SwapSides exchanges the values of one check between left and right: one correction for a whole set
// typed on the wrong side.
type SwapSides struct{ Stage, Check, Reason string }

// Recheck is a second person's own tool on a fastener somebody else tightened.
type Recheck struct {
	Stage procedures.Ref
	Check string
	Item  string
	Value string
	With  string
	Moved bool
	All   bool // every fastener of the check not checked yet, confirmed at once
}

// Ask records the question asked aloud at a hold and how the answer went.
type Ask struct {
	Stage  procedures.Ref
	Whom   string // person id
	Result string // AskedKnew, AskedHelp or AskedExplained
}

// NotSure is "I am not sure, fetch somebody".
type NotSure struct {
	Stage procedures.Ref
	Note  string
}

// Help answers NotSure.
type Help struct {
	Stage procedures.Ref
	Note  string
}

// MeasureBlind is a second measurement without sight of the first.
type MeasureBlind struct {
	Stage procedures.Ref
	Check string
	Item  string
	Value string
	With  string
}

// Advise gives the customer a line of advice.
type Advise struct{ Text, Urgency string }

// DecideAdvice records the customer's answer.
type DecideAdvice struct {
	Advice uint32
	Answer string
	Words  string
	ByWhom string
}

// Append adds words after the release.
type Append struct{ Text string }

// Follow moves or ends a follow-up.
type Follow struct{ Key, Act, Until, Words string }

// AnswerQuestion answers a question the measurements raise.
type AnswerQuestion struct{ Key, Answer string }

// FindFault says which planted fault of a practice job was noticed.
type FindFault struct{ Fault string }

func (Deviate) intent()        {}
func (Withhold) intent()       {}
func (Lift) intent()           {}
func (Abandon) intent()        {}
func (Declare) intent()        {}
func (Cancel) intent()         {}
func (SignSafe) intent()       {}
func (SwapSides) intent()      {}
func (Recheck) intent()        {}
func (Ask) intent()            {}
func (NotSure) intent()        {}
func (Help) intent()           {}
func (MeasureBlind) intent()   {}
func (Advise) intent()         {}
func (DecideAdvice) intent()   {}
func (Append) intent()         {}
func (Follow) intent()         {}
func (AnswerQuestion) intent() {}
func (FindFault) intent()      {}
