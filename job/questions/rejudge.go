package questions

import (
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Rejudgement is a recorded value held against another revision of the spec sheet, or corrected by
// what an instrument turned out to show. Both verdicts are shown; the record stays as it is.
type Rejudgement struct {
	job.Mark
	At    time.Time
	Stage string
	Item  string
	Value quantity.Quantity // what is judged: at the fastener, where an adapter was used
	True  quantity.Quantity // corrected by the instrument's error; else as Value
	Old   quantity.Window
	New   quantity.Window
	Then  quantity.Verdict
	Now   quantity.Verdict
	Why   string // why it cannot be judged again
}

// Rejudged holds every standing value of a job against the windows of another sheet, by their ids.
func Rejudged(c *job.Card, sheet *procedures.Sheet) []Rejudgement {
	var out []Rejudgement
	eachJudged(c, func(s *job.StageCard, e *job.Entry) {
		r := rejudgement(s, e)
		w, ok := sheet.Window(e.Window.ID)
		if !ok {
			r.Why = phrase.Of("questions.rejudge.revision-of-the-sheet-has-no-window", sheet.Revision, e.Window.ID)
			out = append(out, r)
			return
		}
		parsed, err := quantity.ParseWindow(w.Value)
		if err != nil {
			r.Why = err.Error()
			out = append(out, r)
			return
		}
		r.New = parsed
		r.judge(e, !w.Simple)
		out = append(out, r)
	})
	return out
}

// Misread judges again every standing value an instrument gave in a time, corrected by what it showed
// too much: true value = reading − error, or reading × (1 − error) for a percentage.
func Misread(c *job.Card, instrument string, from, to time.Time, showsTooMuch quantity.Quantity) []Rejudgement {
	var out []Rejudgement
	eachJudged(c, func(s *job.StageCard, e *job.Entry) {
		if e.Instrument == nil || e.Instrument.ID != instrument || e.At.Before(from) || !e.At.Before(to) {
			return
		}
		r := rejudgement(s, e)
		r.New = r.Old
		var err error
		if r.True, err = corrected(r.Value, showsTooMuch); err != nil {
			r.Why = err.Error()
		} else {
			r.judge(e, e.Window.Guarded)
		}
		out = append(out, r)
	})
	return out
}

func corrected(value, tooMuch quantity.Quantity) (quantity.Quantity, error) {
	if tooMuch.Unit != quantity.Percent {
		return value.Sub(tooMuch)
	}
	r := tooMuch.Rat()
	r.Quo(r, quantity.Quantity{Number: "100", Unit: quantity.Percent}.Rat())
	r.Mul(r, value.Rat())
	off := quantity.FromRat(r, value.Unit, value.Places()+tooMuch.Places()+2)
	return value.Sub(off)
}

// eachJudged visits every standing value of a job that was judged by a window.
func eachJudged(c *job.Card, do func(*job.StageCard, *job.Entry)) {
	for i := range c.Stages {
		s := &c.Stages[i]
		a := s.Current()
		if a == nil || s.Status == job.LeftOut {
			continue
		}
		for k := range a.Entries {
			e := &a.Entries[k]
			if e.Counts() && e.Window != nil && !e.Value.IsZero() && e.Item != procedures.ItemNew && !e.Window.Window.IsZero() && alone(s, e) {
				do(s, e)
			}
		}
	}
}

// alone leaves out single dial readings, whose window is for the whole turn, and counts, which come
// from no window of the sheet.
func alone(s *job.StageCard, e *job.Entry) bool {
	pc := s.Node.Check(e.Check)
	return pc != nil && pc.Kind != procedures.RunOut && pc.Kind != procedures.Count
}

func rejudgement(s *job.StageCard, e *job.Entry) Rejudgement {
	r := Rejudgement{Mark: e.Mark, At: e.At, Stage: job.Title(s.Node), Item: checkTitle(s, e), Value: e.Value, Old: e.Window.Window, Then: e.Verdict}
	if !e.Bolt.IsZero() {
		r.Value = e.Bolt
	}
	r.True = r.Value
	return r
}

// judge judges the true value by the new window; guarded as the sheet wants it.
func (r *Rejudgement) judge(e *job.Entry, guarded bool) {
	var err error
	if guarded && e.Instrument != nil && !e.Instrument.Wrench() {
		r.Now, err = r.New.JudgeWithin(r.True, e.Instrument.Uncertainty(r.True))
	} else {
		r.Now, err = r.New.Judge(r.True)
	}
	if err != nil {
		r.Why = err.Error()
	}
}
