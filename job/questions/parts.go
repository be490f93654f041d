package questions

import (
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// PartUse is one part put on a vehicle: the number, batch and mark entered for one check of one
// stage, as they stand in the attempt that counts.
type PartUse struct {
	Job     uint64
	Vehicle job.VehicleRef
	At      procedures.Ref
	Check   string
	Title   string // of the check
	Number  string
	Batch   string
	Mark    string
	Seq     uint32 // of the newest of the entries
	When    time.Time
}

// Place says where on a vehicle a part sits: a later part in the same place replaced it.
func (p PartUse) Place() string { return p.Check + "/" + string(p.At.Side) }

// PartsOf returns every part a job recorded, in the order of the graph.
func PartsOf(c *job.Card) []PartUse {
	var out []PartUse
	for i := range c.Stages {
		s := &c.Stages[i]
		if s.Status == job.LeftOut {
			continue
		}
		for k := range s.Node.Checks {
			pc := &s.Node.Checks[k]
			if pc.Kind != procedures.Part {
				continue
			}
			p := PartUse{Job: c.Number(), Vehicle: c.Opened.Vehicle, At: s.Node.Ref, Check: pc.ID, Title: pc.Title}
			for item, into := range map[string]*string{procedures.PartNumber: &p.Number, procedures.PartBatch: &p.Batch, procedures.PartMark: &p.Mark} {
				if e := s.Current().Entry(pc.ID, item); e != nil {
					*into = e.Answer
					if e.Seq > p.Seq {
						p.Seq, p.When = e.Seq, e.At
					}
				}
			}
			if p.Seq > 0 {
				out = append(out, p)
			}
		}
	}
	return out
}
