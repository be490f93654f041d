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
	now := brakes.OdometerReading{Shown: c.Opened.Odometer, On: time.Date(c.OpenedAt.Year(), c.OpenedAt.Month(), c.OpenedAt.Day(), 0, 0, 0, 0, time.UTC)}
	odd, err := brakes.CheckOdometer(now, brakes.OdometerReading{Shown: past[len(past)-1].Value, On: on})
	if err != nil {
		return nil
	}
	return oddities("odometer", c.Stages[0].Node.Ref, odd)
}
