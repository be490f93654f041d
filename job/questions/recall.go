package questions

import (
	"cmp"
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

// RecallKind says what turned out to be wrong.
type RecallKind string

// The kinds of recall.
const (
	RecallWrench     RecallKind = "wrench"     // it gave another torque than it was set to
	RecallInstrument RecallKind = "instrument" // it showed another value than there was
	RecallBatch      RecallKind = "part batch" // parts of one batch
	RecallSheet      RecallKind = "spec sheet" // a revision of a sheet was wrong
)

// Recall is something found wrong afterwards, with the vehicles to call. Lines are worked off one by
// one and never taken away.
type Recall struct {
	Number uint64            `cbor:"1,keyasint" json:"number"`
	Kind   RecallKind        `cbor:"2,keyasint" json:"kind"`
	Title  string            `cbor:"3,keyasint" json:"title"`
	About  map[string]string `cbor:"4,keyasint" json:"about"` // instrument, certificate, batch, part, sheet, revision
	Opened time.Time         `cbor:"5,keyasint" json:"opened"`
	By     job.Who           `cbor:"6,keyasint" json:"by"`
	Lines  []RecallLine      `cbor:"7,keyasint" json:"lines"`
	Judged Judged            `cbor:"8,keyasint" json:"judged"`
}

// Judged counts what a recall went through.
type Judged struct {
	Jobs     int `cbor:"1,keyasint" json:"jobs"`     // jobs looked at
	Records  int `cbor:"2,keyasint" json:"records"`  // values or parts judged again
	Inside   int `cbor:"3,keyasint" json:"inside"`   // still right
	Healed   int `cbor:"4,keyasint" json:"healed"`   // wrong, and put right since
	Unjudged int `cbor:"5,keyasint" json:"unjudged"` // cannot be told: the vehicle is called
}

// RecallLine is one vehicle to call.
type RecallLine struct {
	Vehicle job.VehicleRef `cbor:"1,keyasint" json:"vehicle"`
	Jobs    []uint64       `cbor:"2,keyasint" json:"jobs"`
	Why     []string       `cbor:"3,keyasint" json:"why"`
	Acts    []RecallAct    `cbor:"4,keyasint,omitempty" json:"acts"`
}

// RecallAct is one step of working a line off.
type RecallAct struct {
	At    time.Time `cbor:"1,keyasint" json:"at"`
	By    job.Who   `cbor:"2,keyasint" json:"by"`
	Act   string    `cbor:"3,keyasint" json:"act"`
	Words string    `cbor:"4,keyasint" json:"words"` // what was said, or the proof
}

// The acts. The last three end a line.
const (
	RecallCalled      = "called"
	RecallNotReached  = "not reached"
	RecallAppointment = "appointment made"
	RecallPutRight    = "put right"
	RecallSound       = "found sound"
	RecallGone        = "sold or scrapped"
)

// RecallActs lists what can be done with a line.
func RecallActs() []string {
	return []string{RecallCalled, RecallNotReached, RecallAppointment, RecallPutRight, RecallSound, RecallGone}
}

// Ended is the act that ended the line, or empty.
func (l RecallLine) Ended() string {
	for _, a := range l.Acts {
		if a.Act == RecallPutRight || a.Act == RecallSound || a.Act == RecallGone {
			return a.Act
		}
	}
	return ""
}

// State is where the line stands, in words.
func (l RecallLine) State() string {
	if len(l.Acts) == 0 {
		return phrase.Of("questions.recall.to-be-called")
	}
	return l.Acts[len(l.Acts)-1].Act
}

// Left is how many vehicles are still to be dealt with.
func (r Recall) Left() int {
	n := 0
	for _, l := range r.Lines {
		if l.Ended() == "" {
			n++
		}
	}
	return n
}

// WorkOff adds an act to the line of a vehicle. The error is one sentence.
func (r *Recall) WorkOff(vehicle string, a RecallAct) error {
	i := slices.IndexFunc(r.Lines, func(l RecallLine) bool { return l.Vehicle.ID == vehicle })
	switch {
	case i < 0:
		return phrase.Error("questions.recall.vehicle-is-not-on-recall", vehicle, r.Number)
	case !slices.Contains(RecallActs(), a.Act):
		return phrase.Error("questions.recall.cannot-be-done-with-a-recall-expected", a.Act, RecallActs())
	case a.Words == "":
		return phrase.Error("questions.recall.say-in-words-what-came-of-it")
	case r.Lines[i].Ended() != "":
		return phrase.Error("questions.recall.vehicle-is-done-with", vehicle, r.Lines[i].Ended())
	}
	r.Lines[i].Acts = append(r.Lines[i].Acts, a)
	return nil
}

// Share is what the jobs of one vehicle add to a recall.
type Share struct {
	Line   RecallLine // without jobs when the vehicle need not be called
	Judged Judged
}

func (s *Share) why(vehicle job.VehicleRef, number uint64, words string) {
	s.Line.Vehicle = vehicle
	if !slices.Contains(s.Line.Jobs, number) {
		s.Line.Jobs = append(s.Line.Jobs, number)
	}
	s.Line.Why = append(s.Line.Why, words)
}

// WrenchShare judges what a wrench tightened on one vehicle; cs are all its jobs, oldest first.
func WrenchShare(cs []*job.Card, e WrenchError) Share {
	s := Share{Judged: Judged{Jobs: len(cs)}}
	for _, x := range Suspects(cs, e) {
		s.Judged.Records++
		switch {
		case x.Calls():
			if x.Why != "" {
				s.Judged.Unjudged++
			}
			s.why(x.Vehicle, x.Job, x.Words())
		case x.Healed != nil:
			s.Judged.Healed++
		default:
			s.Judged.Inside++
		}
	}
	return s
}

// InstrumentShare judges what a measuring instrument gave on one vehicle between two moments, when it
// showed so much too much. A value measured again later by a sound instrument on the same place and
// found inside heals it.
func InstrumentShare(cs []*job.Card, instrument string, from, to time.Time, tooMuch quantity.Quantity) Share {
	s := Share{Judged: Judged{Jobs: len(cs)}}
	for i, c := range cs {
		for _, r := range Misread(c, instrument, from, to, tooMuch) {
			s.Judged.Records++
			switch {
			case r.Why == "" && r.Now == quantity.Inside:
				s.Judged.Inside++
			case measuredAgain(cs[i+1:], r, instrument, from, to):
				s.Judged.Healed++
			default:
				if r.Why != "" {
					s.Judged.Unjudged++
				}
				s.why(c.Opened.Vehicle, c.Number(), phrase.Of("questions.recall.was-in-truth", r.Stage, r.Item, r.Value, r.True, cmp.Or(r.Why, r.Now.String()), r.New))
			}
		}
	}
	return s
}

func measuredAgain(later []*job.Card, r Rejudgement, instrument string, from, to time.Time) bool {
	for _, c := range later {
		found := false
		eachJudged(c, func(s *job.StageCard, e *job.Entry) {
			if job.Title(s.Node) == r.Stage && checkTitle(s, e) == r.Item && e.Verdict == quantity.Inside && e.Instrument != nil &&
				(e.Instrument.ID != instrument || e.At.Before(from) || !e.At.Before(to)) {
				found = true
			}
		})
		if found {
			return true
		}
	}
	return false
}

// BatchShare lists the parts of a batch still on one vehicle; part may be empty for every number.
func BatchShare(cs []*job.Card, batch, part string) Share {
	s := Share{Judged: Judged{Jobs: len(cs)}}
	a := Args{text: map[string]string{"batch": batch, "part": part}}
	var uses []PartUse
	for _, c := range cs {
		uses = append(uses, PartsOf(c)...)
	}
	for i, u := range uses {
		if !a.isBatch(u.Number, u.Batch) {
			continue
		}
		s.Judged.Records++
		replaced := slices.ContainsFunc(uses[i+1:], func(x PartUse) bool { return x.Place() == u.Place() && x.Job != u.Job && !a.isBatch(x.Number, x.Batch) })
		if replaced {
			s.Judged.Healed++
			continue
		}
		side := ""
		if u.At.Side != procedures.NoSide {
			side = ", " + string(u.At.Side)
		}
		s.why(u.Vehicle, u.Job, phrase.Of("questions.recall.batch-fitted-on", u.Title, side, u.Number, u.Batch, u.When.Format(dayForm)))
	}
	return s
}

// SheetShare holds what one vehicle's jobs recorded under a revision of a sheet against the right one.
// Values right by the old windows and not by the new call the vehicle in, unless a later job measured
// or tightened the same under another revision.
func SheetShare(cs []*job.Card, sheet, revision string, right *procedures.Sheet) Share {
	s := Share{}
	for i, c := range cs {
		if c.Opened.Sheet.ID != sheet || c.Opened.Sheet.Revision != revision {
			continue
		}
		s.Judged.Jobs++
		for _, r := range Rejudged(c, right) {
			s.Judged.Records++
			switch {
			case r.Why == "" && (r.Now == quantity.Inside || r.Now == r.Then):
				s.Judged.Inside++
			case slices.ContainsFunc(cs[i+1:], func(x *job.Card) bool { return x.Opened.Sheet.Revision != revision && doneSince(x, r) }):
				s.Judged.Healed++
			default:
				if r.Why != "" {
					s.Judged.Unjudged++
				}
				s.why(c.Opened.Vehicle, c.Number(), phrase.Of("questions.recall.was-then-and-is-now", r.Stage, r.Item, r.Value, r.Then, r.Old, cmp.Or(r.Why, r.Now.String()), r.New))
			}
		}
	}
	return s
}

func doneSince(c *job.Card, r Rejudgement) bool {
	found := false
	eachJudged(c, func(s *job.StageCard, e *job.Entry) {
		found = found || job.Title(s.Node) == r.Stage && checkTitle(s, e) == r.Item && e.Verdict == quantity.Inside
	})
	return found
}

// Standing tells where recalls stand for a vehicle and an instrument, for the answers.
func Standing(recalls []Recall) func(vehicle, instrument string) string {
	return func(vehicle, instrument string) string {
		for _, r := range slices.Backward(recalls) {
			if r.About["instrument"] != instrument {
				continue
			}
			for _, l := range r.Lines {
				if l.Vehicle.ID == vehicle {
					return phrase.Of("questions.recall.recall", r.Number, l.State())
				}
			}
		}
		return ""
	}
}

// Reach is the time an instrument's newest certificate reaches back over: from the certificate before
// it, or from the beginning, to itself.
func Reach(own []register.Certificate, near time.Time) (from, to time.Time, err error) {
	last := len(own) - 1
	if to, err = own[last].Since(near); err != nil || last == 0 {
		return from, to, err
	}
	from, err = own[last-1].Since(near)
	return from, to, err
}
