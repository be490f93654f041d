package questions

import (
	"fmt"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// WrenchError is what a wrench turned out to do between two calibrations.
type WrenchError struct {
	Instrument string
	From, To   time.Time         // from the last good certificate to the one that found the error
	Error      quantity.Quantity // per cent
	Of         fastening.Reference
}

// covers reports whether a pull was made with the wrench in that time. Another tool found under the
// same number would have another serial number; the store never gives a number twice.
func (e WrenchError) covers(p Pull) bool {
	return p.Instrument.ID == e.Instrument && !p.When.Before(e.From) && p.When.Before(e.To)
}

// Suspect is a torque action judged again with what its wrench turned out to do.
type Suspect struct {
	Pull
	True   quantity.Quantity // what the fastener got
	Again  quantity.Verdict
	Why    string // why it cannot be judged again; empty when it was
	Healed *Pull  // the later tightening that puts it right
}

// Calls reports whether the vehicle has to come in for this fastener.
func (s Suspect) Calls() bool { return s.Healed == nil && (s.Again == quantity.Outside || s.Why != "") }

// Suspects judges every tightening a wrench did in that time again, over all jobs of one vehicle in
// the order they were done. A fastener that got too little, or nobody knows how much, is healed by any
// later tightening of it that stands inside its window with a sound wrench. One that got too much is
// healed only where it was undone in between: by a later attempt at the stage, or by a later job
// before its release, never by a re-torque on top. Values told later heal nothing. Second persons'
// checks with the wrench are not tightenings and are left out.
func Suspects(cards []*job.Card, e WrenchError) []Suspect {
	var pulls []Pull
	for _, c := range cards {
		pulls = append(pulls, PullsOf(c)...)
	}
	var out []Suspect
	for i, p := range pulls {
		if p.Second || !e.covers(p) {
			continue
		}
		s := e.judge(p)
		if s.Again != quantity.Inside {
			for k := i + 1; k < len(pulls) && s.Healed == nil; k++ {
				if s.healedBy(pulls[k], e) {
					s.Healed = &pulls[k]
				}
			}
		}
		out = append(out, s)
	}
	return out
}

func (e WrenchError) judge(p Pull) Suspect {
	s := Suspect{Pull: p}
	switch {
	case p.Window == nil || p.Window.Window.Dimension() != quantity.Torque:
		s.Why = phrase.Of("questions.suspect.it-is-no-torque-that-the-error")
	case p.Value.IsZero():
		s.Why = phrase.Of("questions.suspect.no-value-was-kept")
	default:
		found, err := fastening.JudgeAsFound(p.Value, e.Error, e.Of, p.Window.Window, p.Adapter)
		if err != nil {
			s.Why = err.Error()
			break
		}
		s.True, s.Again = found.Torque, found.Verdict
	}
	return s
}

func (s *Suspect) healedBy(p Pull, e WrenchError) bool {
	if p.Second || p.fastener() != s.fastener() || p.Verdict != quantity.Inside || p.Evidence == job.ToldLater || !p.Counts {
		return false
	}
	if e.covers(p) && e.judge(p).Again != quantity.Inside {
		return false
	}
	if s.Window == nil || s.True.IsZero() || s.Window.Window.High.IsZero() {
		return true
	}
	if above, err := s.True.Cmp(s.Window.Window.High); err != nil || above <= 0 {
		return true
	}
	if p.Job != s.Job {
		return !p.afterLeave
	}
	return p.At == s.At && p.Attempt > s.Attempt
}

// Words says in one sentence what came of it.
func (s Suspect) Words() string {
	what := fmt.Sprintf("%s, %s %s", s.Stage, s.Check, s.Item)
	switch {
	case s.Why != "":
		what += phrase.Of("questions.suspect.cannot-be-judged-again", s.Why)
	case s.Again == quantity.Inside:
		return phrase.Of("questions.suspect.was-in-truth-still-inside", what, s.Value, s.True, s.Window.Window)
	default:
		what += phrase.Of("questions.suspect.was-in-truth-outside", s.Value, s.True, s.Window.Window)
	}
	if s.Healed != nil {
		return phrase.Of("questions.suspect.put-right-on-in-job-with-at", what, s.Healed.When.Format(time.DateOnly), s.Healed.Job, s.Healed.Instrument.ID, s.Healed.Value)
	}
	return what
}
