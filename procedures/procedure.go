// Package procedures holds the procedure graph as data: the stages of a job on a vehicle, what
// each asks for, what it switches and puts back, and the spec sheet with the windows of one
// vehicle type. It loads both from TOML, proves them sound with Check, and resolves them for one
// vehicle with Resolve. It knows quantities, never jobs, and imports no clock, terminal or store.
package procedures

import "strings"

// Format is the version of the procedure and sheet files this package reads.
const Format = 1

// Side says on which side of the vehicle a stage is done, seen facing forward from the driver's seat.
type Side string

// The sides. A stage of the whole vehicle has NoSide.
const (
	NoSide Side = ""
	Left   Side = "left"
	Right  Side = "right"
)

// Other returns the opposite side; NoSide stays NoSide.
func (s Side) Other() Side {
	switch s {
	case Left:
		return Right
	case Right:
		return Left
	}
	return NoSide
}

// Ref names one stage on one side.
type Ref struct {
	Stage string `cbor:"1,keyasint" json:"stage"`
	Side  Side   `cbor:"2,keyasint,omitempty" json:"side,omitempty"`
}

// String returns "stage" or "stage/side", the form used in files, messages and JSON.
func (r Ref) String() string {
	if r.Side == NoSide {
		return r.Stage
	}
	return r.Stage + "/" + string(r.Side)
}

// ParseRef reads the form String writes. The side is not checked against any procedure.
func ParseRef(text string) Ref {
	id, side, _ := strings.Cut(text, "/")
	return Ref{Stage: id, Side: Side(side)}
}

// Procedure is the graph of one kind of job, as its file states it.
type Procedure struct {
	Format     int         `toml:"format"`
	ID         string      `toml:"id"`
	Title      string      `toml:"title"`
	Revision   string      `toml:"revision"`
	Author     string      `toml:"author,omitempty"`
	Date       string      `toml:"date,omitempty"`   // ISO date of the revision
	Demo       bool        `toml:"demo,omitempty"`   // invented content, said on screen and paper
	Notice     string      `toml:"notice,omitempty"` // the limits of this text, shown with it
	Axle       string      `toml:"axle,omitempty"`   // the axle it works on, said before the side, such as "rear"
	Phases     []Phase     `toml:"phase"`
	Traits     []Trait     `toml:"trait"`
	Decisions  []Question  `toml:"decision,omitempty"`
	Findings   []Question  `toml:"finding,omitempty"`
	States     []State     `toml:"state,omitempty"`
	Deviations []Deviation `toml:"deviation,omitempty"` // what the foreman may grant: a closed list
	Never      []string    `toml:"never,omitempty"`     // what nobody may grant, in words, for screen and paper
	Figures    string      `toml:"figures,omitempty"`   // prefix of the sheet's figures that calculations look for, such as "front-"
	Stages     []Stage     `toml:"stage"`
	Includes   []Include   `toml:"include,omitempty"` // gone once loaded

	file   string           // where it was read from, for messages
	places map[string]place // "stage:id" and the like, for messages
}

// Phase groups stages for the strip at the top of the screen, in the order of the file.
type Phase struct {
	ID    string `toml:"id"`
	Title string `toml:"title"`
}

// Trait is a fact about the vehicle that shapes the graph, known at reception.
type Trait struct {
	ID     string   `toml:"id"`
	Title  string   `toml:"title"`
	Values []string `toml:"values"`
	Ask    string   `toml:"ask,omitempty"` // how to tell at the vehicle
}

// Question is something answered during the job that shapes the rest of it: a decision (somebody
// with authority chooses) or a finding (the vehicle shows it).
type Question struct {
	ID        string   `toml:"id"`
	Title     string   `toml:"title"`
	Values    []string `toml:"values"`
	Withholds []string `toml:"withholds,omitempty"` // decision: the values after which the vehicle is withheld and not released
}

// State is something switched, opened, hung, raised or borrowed that must be put back.
type State struct {
	ID        string `toml:"id"`
	Title     string `toml:"title"`
	Danger    string `toml:"danger"`     // what can happen while it stands
	Label     string `toml:"label"`      // words for the label on the vehicle
	IfStopped string `toml:"if_stopped"` // what to do when the job stops while it stands
	Sided     bool   `toml:"sided,omitempty"`
}

// Deviation is something the foreman may grant with a reason, for one job: the checks named are no
// longer owed. Torque, proofs of states and stages that need a second person are never excused.
type Deviation struct {
	ID      string   `toml:"id"`
	Title   string   `toml:"title"`
	Excuses []string `toml:"excuses"` // "stage.check"
}

// Role is who may do a stage. Higher roles may do what lower ones may.
type Role string

// The roles of the workshop, lowest first. An auditor reads and never writes.
const (
	Auditor    Role = "auditor"
	Apprentice Role = "apprentice"
	Mechanic   Role = "mechanic"
	Foreman    Role = "foreman"
)

// Rank orders the roles: auditor 0, apprentice 1, mechanic 2, foreman 3, anything else -1.
func (r Role) Rank() int {
	switch r {
	case Auditor:
		return 0
	case Apprentice:
		return 1
	case Mechanic:
		return 2
	case Foreman:
		return 3
	}
	return -1
}

// Second says when a stage needs a second person's signature besides the doer's.
type Second string

// When a countersign is needed.
const (
	SecondApprentice Second = "apprentice" // when an apprentice did it: the default
	SecondAlways     Second = "always"     // whoever did it
	SecondNever      Second = "never"      // nothing that can hurt is done here
)

// Act marks the stages whose signature is more than the end of a stage.
type Act string

// The acts. A procedure has exactly one stage with Release.
const (
	NoAct    Act = ""
	Release  Act = "release"
	HandOver Act = "hand-over"
	Close    Act = "close"
)

// Condition is one requirement for a stage to apply: the trait, decision or finding named has one
// of the values in Is, or none of those in Not. Exactly one of Trait, Decision, Finding is set.
type Condition struct {
	Trait    string   `toml:"trait,omitempty"`
	Decision string   `toml:"decision,omitempty"`
	Finding  string   `toml:"finding,omitempty"`
	Is       []string `toml:"is,omitempty"`
	Not      []string `toml:"not,omitempty"`
}

// Stage is one node of the graph.
type Stage struct {
	ID       string   `toml:"id"`
	Title    string   `toml:"title"`
	Phase    string   `toml:"phase"`
	Steps    []string `toml:"steps,omitempty"` // what to do, at most six lines
	Why      string   `toml:"why"`             // two sentences for an apprentice
	Good     string   `toml:"good"`            // what good looks like
	Mistake  string   `toml:"mistake,omitempty"`
	Question string   `toml:"question,omitempty"` // answered aloud to the supervisor at a hold
	Cautions []string `toml:"cautions,omitempty"`
	WayOut   string   `toml:"way_out,omitempty"` // what to do when it fails

	After     []string    `toml:"after,omitempty"`
	Disturbs  []string    `toml:"disturbs,omitempty"` // stages that a new attempt here physically undoes, besides those that clear what it sets
	When      []Condition `toml:"when,omitempty"`
	Figures   string      `toml:"figures,omitempty"`    // prefix of this stage's figures where it is not the procedure's: another axle
	Sided     bool        `toml:"sided,omitempty"`      // done left and right, as two branches
	SideTrait string      `toml:"side_trait,omitempty"` // the trait whose value names the side or sides

	Sets      []string `toml:"sets,omitempty"`
	Clears    []Clear  `toml:"clears,omitempty"`
	NeedsOpen []string `toml:"needs_open,omitempty"` // states that must stand open to work here
	NeedsShut []string `toml:"needs_shut,omitempty"` // states that must be put back to work here
	OtherShut []string `toml:"other_shut,omitempty"` // states that must be put back on the other side to work here: one side at a time

	Who           Role     `toml:"who"`
	Hold          bool     `toml:"hold,omitempty"`
	Second        Second   `toml:"second,omitempty"`
	IndependentOf []string `toml:"independent_of,omitempty"` // the signer did none of these; "all" for every stage before
	Early         bool     `toml:"early,omitempty"`          // entries may be made before its turn (measuring only)
	Task          string   `toml:"task,omitempty"`           // the skill it belongs to in the practice record
	Act           Act      `toml:"act,omitempty"`
	Qualification string   `toml:"qualification,omitempty"`   // what the person must be licensed or instructed for
	MakeSafeAfter []string `toml:"make_safe_after,omitempty"` // when work stops for good, this is still owed if one of these was begun

	Checks  []Check  `toml:"check,omitempty"`
	Reworks []Rework `toml:"rework,omitempty"`
}

// Clear is a standing state a stage puts back, and the checks of that stage that prove it.
type Clear struct {
	State string   `toml:"state"`
	Proof []string `toml:"proof"`
}

// Rework is a named way out of a failed stage: the stages that get a new attempt.
type Rework struct {
	ID    string   `toml:"id"`
	Title string   `toml:"title"`
	Again []string `toml:"again"`
}

// Kind is what a check asks for.
type Kind string

// The check kinds.
const (
	Confirm   Kind = "confirm"   // yes, or no which blocks
	Choice    Kind = "choice"    // one of Options; those not in Pass block
	Count     Kind = "count"     // a whole number, equal to Expect or inside the window
	Torque    Kind = "torque"    // a torque or an angle per fastener of a group
	Thickness Kind = "thickness" // a set of thickness points, each inside Window, spread inside Spread
	RunOut    Kind = "run-out"   // a set of dial readings over one turn; largest minus smallest inside Window
	Reading   Kind = "reading"   // one quantity, inside Window
	Part      Kind = "part"      // number, batch, maker's mark
	Text      Kind = "text"      // words
)

// Check is one thing a stage asks for.
type Check struct {
	ID       string `toml:"id"`
	Kind     Kind   `toml:"kind"`
	Title    string `toml:"title"`
	Help     string `toml:"help,omitempty"`
	Optional bool   `toml:"optional,omitempty"`

	// When leaves the check out where a trait says so. Only traits may be named, and nothing that
	// shapes the graph or proves a clearing may hang on it.
	When []Condition `toml:"when,omitempty"`

	Options  []string `toml:"options,omitempty"`  // choice
	Pass     []string `toml:"pass,omitempty"`     // choice: the answers that let the stage be signed; empty: all
	Finding  string   `toml:"finding,omitempty"`  // choice: the finding its answer records
	Decision string   `toml:"decision,omitempty"` // choice: the decision its answer records

	Count string `toml:"count,omitempty"` // count: name of a count in the sheet; empty: any number
	Same  string `toml:"same,omitempty"`  // count: must equal the count check "stage.check" recorded before

	Group   string `toml:"group,omitempty"`   // torque: fastener group in the sheet; reading: one value per member of the group, in its order
	PassNo  int    `toml:"pass_no,omitempty"` // torque: which pass of the group this is, from 1; 0 where there is one
	Adapter bool   `toml:"adapter,omitempty"` // torque: only an adapter beside the wrench's axis reaches it, so its length and offset are owed

	Window    string   `toml:"window,omitempty"`     // name of a window in the sheet
	Spread    string   `toml:"spread,omitempty"`     // thickness: window for largest minus smallest
	Unit      string   `toml:"unit,omitempty"`       // reading without a window: the unit it is kept in
	Points    []string `toml:"points,omitempty"`     // thickness, run-out: names of the points
	NumPoints int      `toml:"num_points,omitempty"` // thickness, run-out: number of points where they have no names
	Compare   string   `toml:"compare,omitempty"`    // window for the difference from the check in Against, or from the other side
	Against   string   `toml:"against,omitempty"`    // the check of this stage that Compare holds it against; empty: the same check on the other side
	Nominal   string   `toml:"nominal,omitempty"`    // thickness of a new part: window of its nominal size

	Reckon string   `toml:"reckon,omitempty"` // what the values mean to the calculations, one of ReckonWords
	Tools  []string `toml:"tools,omitempty"`  // instrument kinds that may give the value; empty: none needed
	Part   string   `toml:"part,omitempty"`   // part: entry of the sheet's parts list; empty: any number
}

// ReckonWords are the meanings Check.Reckon may have.
var ReckonWords = []string{"pads", "pads-new", "disc", "disc-new", "hub-run-out", "run-out", "position", "fluid-level", "fluid-before",
	"brake-left", "brake-right", "parking-left", "parking-right", "mass", "odometer", "fluid-boiling", "fluid-drawn", "end-torque"}
