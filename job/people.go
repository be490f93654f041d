package job

import (
	"bay.example/pawl/procedures"
)

// People is what happened to a job when it did not go straight.
type People struct {
	Withheld     *Withholding  // nil unless the vehicle must not be driven now
	Holds        []Withholding // every withholding, also lifted ones
	Abandoned    *Mark
	AbandonedFor string
	Cancelled    *Mark
	CancelledFor string
	Declared     []Declaration
	Deviations   []Deviation
	Advice       []AdviceLine
	Addenda      []Note
	Acts         []FollowUpAct
	Answers      []AnswerTo
	Swaps        []Swap
	Finds        []Find
	Traits       []TraitChange
	Sheets       []Adoption
}

// Withholding is a vehicle withheld and, perhaps, lifted again.
type Withholding struct {
	Mark
	Withheld
	LiftedBy  *Mark
	Cure      procedures.Ref
	CureWords string
}

// Declaration is a standing state declared open on a vehicle that leaves on a recovery vehicle.
type Declaration struct {
	Mark
	Declared
}

// Deviation is one granted by the foreman.
type Deviation struct {
	Mark
	Deviated
}

// AdviceLine is one line of advice with the customer's answer, when there is one.
type AdviceLine struct {
	Mark
	Advised
	Decided   *AdviceDecided
	DecidedBy *Mark
}

// Note is words with their mark.
type Note struct {
	Mark
	Text string
}

// FollowUpAct is one move or end of a follow-up.
type FollowUpAct struct {
	Mark
	FollowUp
}

// AnswerTo is the answer to a question the program raised.
type AnswerTo struct {
	Mark
	Answered
}

// Swap is a set exchanged between left and right.
type Swap struct {
	Mark
	Swapped
}

// Find is a planted fault noticed.
type Find struct {
	Mark
	Found
}

// CheckedPull is what a second person found on a fastener.
type CheckedPull struct {
	Mark
	Checked
}

// Question is the question asked aloud at a hold.
type Question struct {
	Mark
	Asked
}

// BlindValue is a blind second measurement.
type BlindValue struct {
	Mark
	Blind
}

// WithheldClasses are the classes of reason for withholding a vehicle.
func WithheldClasses() []string {
	return []string{"no or weak brake force", "leak", "below minimum", "wheel security", "parking brake", "structure", "open state cannot be closed"}
}

// Urgencies are how urgent a line of advice is.
func Urgencies() []string { return []string{"advice", "soon", "do not drive"} }

// AdviceAnswers are what a customer may say to a line of advice.
func AdviceAnswers() []string { return []string{"accepted", "later", "refused"} }

// What can be done with a follow-up.
const (
	FollowMoved     = "moved"
	FollowDone      = "done"
	FollowElsewhere = "done elsewhere"
	FollowNotShown  = "not shown"
)

// FollowUpActs lists what can be done with a follow-up. None of it deletes one.
func FollowUpActs() []string {
	return []string{FollowMoved, FollowDone, FollowElsewhere, FollowNotShown}
}

// Finished reports whether nothing more can be recorded but addenda and follow-ups: the vehicle was
// released or left otherwise and the last stage is complete, or the job was cancelled.
func (c *Card) Finished() bool {
	if c.Cancelled != nil {
		return true
	}
	if c.Released == nil {
		return false
	}
	for i := range c.Stages {
		if s := &c.Stages[i]; s.Status != Complete && s.Status != LeftOut {
			return false
		}
	}
	return true
}

// Outcome is how the job ended, or empty while it runs.
func (c *Card) Outcome() string {
	switch {
	case c.Cancelled != nil:
		return OutcomeCancelled
	case c.Released != nil:
		return c.Released.Outcome
	}
	return ""
}
