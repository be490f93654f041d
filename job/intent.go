package job

import (
	"time"

	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Context is what Decide may know besides the card: who asks, when, where, with what register.
type Context struct {
	At        time.Time
	Station   string
	By        register.Person
	CodeGiven bool // the person's own code was checked for this very act
	Register  register.Register
	Cycles    map[string]int // torque actions per instrument since its calibration, over all jobs
}

// Intent is what a person wants. The set is closed: the types of this file.
type Intent interface{ intent() }

// Open begins a job. Plan is the procedure resolved for the vehicle; the digests are of its pinned
// bytes.
type Open struct {
	Number    uint64
	Vehicle   register.Vehicle
	Complaint string
	Customer  string
	Odometer  string // as typed; km unless it names a unit
	// OdometerWhy is the foreman's word for a reading lower than the last: the instrument was replaced.
	OdometerWhy string
	Plan        *procedures.Plan
	Procedure   Pinned
	Sheet       Pinned
	OpenJobs    []uint64 // jobs of this vehicle still in the bay: neither released nor ended otherwise
	Practice    bool
	Planted     []string    // practice: the faults put there to be found
	History     []PastValue // what earlier visits of the vehicle measured
}

// Enter records one value.
type Enter struct {
	Stage   procedures.Ref
	Check   string
	Item    string
	Value   string // as typed
	With    string // instrument id
	Clicked bool   // setting wrench: clicked at the value set before
	All     bool   // with Clicked: every fastener left, confirmed at once
	Source  string
	Reason  string           // why the value that stands is replaced: ReasonSlip or words
	Adapter *AdapterUse      // torque: the adapter on the wrench
	Second  *register.Person // who confirms a second slip on one fastener, code checked
}

// ReasonSlip is the reason of a correction for a typing slip. Any other reason is words.
const ReasonSlip = "typing slip"

// Sign ends the present attempt at a stage. At the release stage it releases the vehicle.
type Sign struct {
	Stage procedures.Ref
	Note  string // release: words for the record
}

// Countersign is the second person's signature.
type Countersign struct{ Stage procedures.Ref }

// Again begins a new attempt at a stage, or with Rework at every stage that way out names.
type Again struct {
	Stage  procedures.Ref
	Reason string
	Rework string
}

// Interrupted says that the pass of a torque check was broken off, by a pause or a stopped program.
type Interrupted struct {
	Stage procedures.Ref
	Check string
}

// Pause stops the job.
type Pause struct {
	Note    string
	Kind    string // one of StopKinds; empty is a short pause
	PartsAt string
	KeyAt   string
	Call    string
}

// Resume goes on. Read is the number of lines of the stop sheet read back at the vehicle; after a
// short pause none are owed.
type Resume struct{ Read int }

func (Open) intent()        {}
func (Enter) intent()       {}
func (Sign) intent()        {}
func (Countersign) intent() {}
func (Again) intent()       {}
func (Interrupted) intent() {}
func (Pause) intent()       {}
func (Resume) intent()      {}
