package questions

import (
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// Pull is one torque action of the record: a fastener tightened, or checked by a second person.
type Pull struct {
	Job        uint64
	Seq        uint32
	When       time.Time
	By         job.Who
	Vehicle    job.VehicleRef
	At         procedures.Ref
	Stage      string // title with its side
	Check      string // title
	Item       string
	Attempt    int
	PassNo     int
	Value      quantity.Quantity // what the wrench gave or was set to
	Adapter    fastening.Adapter
	Bolt       quantity.Quantity // what the fastener got through an adapter
	Window     *procedures.PlanWindow
	Verdict    quantity.Verdict
	Evidence   job.Evidence
	Instrument *register.Instrument
	Counts     bool // the value stands: not corrected, not part of a pass broken off
	Second     bool // a second person's check
	Moved      bool // the fastener moved when it was checked
	Hold       bool // at a hold stage

	group      string
	afterLeave bool // at a stage after the release
}

// fastener names the fastener on the vehicle, whatever job and pass tightens it.
func (p Pull) fastener() string { return p.group + "/" + string(p.At.Side) + "/" + p.Item }

// PullsOf returns every torque action of a job in the order it was made.
func PullsOf(c *job.Card) []Pull {
	var out []Pull
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Attempts {
			out = append(out, pullsIn(c, s, &s.Attempts[k])...)
		}
	}
	slices.SortStableFunc(out, func(a, b Pull) int { return int(a.Seq) - int(b.Seq) })
	return out
}

func pullsIn(c *job.Card, s *job.StageCard, a *job.Attempt) []Pull {
	var out []Pull
	base := Pull{Job: c.Number(), Vehicle: c.Opened.Vehicle, At: s.Node.Ref, Stage: job.Title(s.Node), Attempt: a.No,
		Hold: s.Node.Stage.Hold, afterLeave: c.Plan.Before(c.Plan.ReleaseRef(), s.Node.Ref)}
	of := func(check string) (*procedures.PlanCheck, bool) {
		pc := s.Node.Check(check)
		return pc, pc != nil && pc.Kind == procedures.Torque && pc.Group != nil
	}
	for i := range a.Entries {
		e := &a.Entries[i]
		pc, ok := of(e.Check)
		if !ok || e.Item == procedures.ItemNew || e.Instrument == nil {
			continue
		}
		p := base
		p.Seq, p.When, p.By, p.Check, p.Item, p.PassNo, p.group = e.Seq, e.At, e.By, pc.Title, e.Item, pc.PassNo, pc.Group.ID
		p.Value, p.Bolt, p.Window, p.Verdict, p.Evidence, p.Instrument, p.Counts = e.Value, e.Bolt, e.Window, e.Verdict, e.Evidence, e.Instrument, e.Counts()
		if u := e.Adapter; u != nil {
			p.Adapter = fastening.Adapter{Length: u.Length, Offset: u.Offset, Angle: u.Angle}
		}
		out = append(out, p)
	}
	for _, k := range a.Checks {
		pc, ok := of(k.Check)
		if !ok || k.Instrument == nil {
			continue
		}
		p := base
		p.Seq, p.When, p.By, p.Check, p.Item, p.PassNo, p.group = k.Seq, k.At, k.By, pc.Title, k.Item, pc.PassNo, pc.Group.ID
		p.Value, p.Window, p.Instrument, p.Counts, p.Second, p.Moved = k.Value, pc.Window, k.Instrument, true, true, k.Moved
		out = append(out, p)
	}
	return out
}
