package job

import (
	"strings"
	"time"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// figureOdometer names the last odometer reading in Opened.History.
const figureOdometer = "odometer"

// odometerOwed refuses a reading lower than the last one, unless the foreman says in words that the
// instrument was replaced.
func odometerOwed(o Open, odo quantity.Quantity, ctx Context) Refused {
	last, ok := o.Vehicle.LastOdometer()
	if !ok || o.Practice {
		return nil
	}
	if cmp, err := odo.Cmp(last.Value); err != nil || cmp >= 0 {
		return nil
	}
	text := phrase.Of("job.odometer.is-lower-than-on-a-slip-miles", odo, last.Value, last.Date)
	if why := strings.TrimSpace(o.OdometerWhy); why != "" {
		if err := plainText(why); err != nil {
			return refuse(CodeValue, procedures.Ref{}, err.Error(), phrase.Of("job.odometer.type-it-again"))
		}
		if ctx.By.MayDo(procedures.Foreman) {
			return nil
		}
		return refuse(CodeRole, procedures.Ref{}, text, phrase.Of("job.odometer.only-the-foreman-says-that-the-instrument"))
	}
	return refuse(CodeValue, procedures.Ref{}, text, phrase.Of("job.odometer.read-the-odometer-again-or-have-the"))
}

// withOdometer keeps the last reading with the job, so that the record can be judged by itself.
func withOdometer(o Open) []PastValue {
	last, ok := o.Vehicle.LastOdometer()
	if !ok || o.Practice {
		return o.History
	}
	return append([]PastValue{{Figure: figureOdometer, Job: last.Job, Date: last.Date, Odometer: last.Value, Value: last.Value}}, o.History...)
}

// odometerRemarks doubts the reading at reception against the last one; the doubt is a question for
// the decision.
func (c *Card) odometerRemarks() []Remark {
	past := c.Past(figureOdometer)
	if len(past) == 0 || c.Opened.OdometerWhy != "" || len(c.Stages) == 0 {
		return nil
	}
	on, err := time.Parse(time.DateOnly, past[len(past)-1].Date)
	if err != nil {
		return nil
	}
	now := brakes.OdometerReading{Shown: c.Opened.Odometer, On: dayOf(c.OpenedAt)}
	odd, err := brakes.CheckOdometer(now, brakes.OdometerReading{Shown: past[len(past)-1].Value, On: on})
	if err != nil {
		return nil
	}
	return oddities("odometer", c.Stages[0].Node.Ref, odd)
}

// reckonOdometer marks a check that reads the odometer during the job.
const reckonOdometer = "odometer"

// odometerReadings doubts what the stages read against the reading before it, the first against the
// one the job was opened with.
func (c *Card) odometerReadings() []Remark {
	var out []Remark
	before := brakes.OdometerReading{Shown: c.Opened.Odometer, On: dayOf(c.OpenedAt)}
	for i := range c.Stages {
		s := &c.Stages[i]
		a := s.Current()
		if a == nil || a.stale || s.Status == LeftOut {
			continue
		}
		for _, m := range s.measuredIn(a, reckonOdometer) {
			now := brakes.OdometerReading{Shown: m.values[0], On: dayOf(c.Events[m.last-1].At)}
			odd, err := brakes.CheckOdometer(now, before)
			if err != nil {
				continue
			}
			if len(odd) == 0 {
				before = now
			}
			out = append(out, oddities("odometer-read", m.at, odd)...)
		}
	}
	return out
}

// dayOf is the day of a moment where it happened; only days count between two readings.
func dayOf(at time.Time) time.Time {
	return time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, time.UTC)
}
