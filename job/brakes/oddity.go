package brakes

// Code names a kind of oddity or finding. Codes are stable: records keep them.
type Code string

// The oddities a set of readings can show.
const (
	CodeIncomplete      Code = "incomplete"
	CodeCopied          Code = "copied"
	CodeNeighbour       Code = "far from its neighbours"
	CodeSwappedDigits   Code = "swapped digits"
	CodeDecimal         Code = "decimal slip"
	CodeOtherUnit       Code = "other unit"
	CodeThickerThanNew  Code = "thicker than new"
	CodeThickerThanLast Code = "thicker than last time"
	CodeTooFine         Code = "finer than the instrument"
	CodeTooCoarse       Code = "instrument too coarse"
	CodeOtherPart       Code = "another part"
	CodeUsedPart        Code = "used part"
	CodeSidesUnlike     Code = "sides unlike"
	CodeNoReturn        Code = "return to start not read"
	CodeGaugeMoved      Code = "gauge moved"
	CodeSignLost        Code = "sign lost"
	CodeHubReadings     Code = "hub readings in the disc set"
	CodeRadius          Code = "other radius"
	CodeBackingPlate    Code = "backing plate counted"
	CodeNotMeasured     Code = "not measured"
	CodeSidesSwapped    Code = "sides swapped"
	CodeLower           Code = "lower than last time"
	CodeJump            Code = "jump"
	CodeImpossible      Code = "impossible"
	CodeMass            Code = "mass"
	CodeSameEverywhere  Code = "same everywhere"
	CodeLessThanBefore  Code = "less than before the work"
)

// Oddity is something about readings that a careful colleague would ask about.
// It never changes a value; the mechanic answers or types again.
type Oddity struct {
	Code Code
	// Point is the reading meant, counted from 1; 0 means the whole set.
	Point int
	// Text is one sentence.
	Text string
	// Refused is true when the value or set cannot be accepted at all; false
	// when it may stand once the question is answered.
	Refused bool
}
