package bay

import (
	"errors"
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// lastWords says what the odometer showed last time.
func (s *jobPage) lastWords() string {
	last, ok := s.vehicle.LastOdometer()
	if !ok {
		return phrase.Of("bay.newjobodometer.no-reading-of-this-vehicle-is-known")
	}
	return phrase.Of("bay.newjobodometer.last-time-it-showed-on", last.Value, last.Date, visit(last))
}

// odometerCheck refuses what is no reading, and one below the last of this vehicle unless the job is
// an exercise.
func (s *jobPage) odometerCheck(text string) error {
	q, err := quantity.Parse(text, quantity.Kilometre)
	if err != nil {
		return err
	}
	if q.Unit.Dimension() != quantity.Distance || q.Negative() || !q.Rat().IsInt() || q.Rat().Sign() == 0 || len(q.Number) > 7 {
		return phrase.Error("bay.newjobodometer.is-no-odometer-reading-expected-whole", text)
	}
	for _, o := range s.doubts(text) {
		if o.Refused {
			return errors.New(o.Text)
		}
	}
	if s.lower(text) && !s.foreman {
		return phrase.Error("bay.newjobodometer.only-the-foreman-takes-it-as-it", s.lowerWords(text))
	}
	return nil
}

// whyRow is the row that asks why the odometer reads lower than last time.
const whyRow = "odometer-why"

// lower reports whether the reading is under the last one of this vehicle, where that matters: an
// exercise leaves the vehicle's history alone.
func (s *jobPage) lower(text string) bool {
	return s.lowerWords(text) != "" && s.page.value("kind") != practiceKind
}

func (s *jobPage) lowerWords(text string) string {
	for _, o := range s.doubts(text) {
		if o.Code == brakes.CodeLower {
			return o.Text
		}
	}
	return ""
}

// askWhyLower puts the row for the reason behind the odometer once a lower reading was typed and
// left, and takes it away with the reading. Only the foreman gets that far.
func (s *jobPage) askWhyLower() {
	odo := slices.IndexFunc(s.page.rows, func(r pageRow) bool { return r.id == "odometer" })
	has := s.page.row(whyRow) != nil
	wants := s.foreman && s.lower(s.page.value("odometer"))
	switch {
	case wants && !has && s.page.at != odo:
		why := textRow(whyRow, phrase.Of("bay.newjobodometer.why-it-is-lower"), "", phrase.Of("bay.newjobodometer.it-reads-lower-than-last-time-a"))
		why.field.most = job.MaxText
		s.page.rows = slices.Insert(s.page.rows, odo+1, why)
		if s.page.at > odo+1 {
			s.page.at++
		}
	case has && !wants:
		s.page.rows = slices.Delete(s.page.rows, odo+1, odo+2)
		if s.page.at > odo {
			s.page.at = max(s.page.at-1, odo)
		}
	}
}

// doubts is what a careful colleague would ask about the reading.
func (s *jobPage) doubts(text string) []brakes.Oddity {
	q, err := quantity.Parse(text, quantity.Kilometre)
	if err != nil {
		return nil
	}
	// Only the day counts: the last visit is known by its date.
	today, err := time.Parse(time.DateOnly, s.now.Format(time.DateOnly))
	if err != nil {
		return nil
	}
	now := brakes.OdometerReading{Shown: q, On: today}
	var before brakes.OdometerReading
	if last, ok := s.vehicle.LastOdometer(); ok {
		if on, err := time.Parse(time.DateOnly, last.Date); err == nil {
			before = brakes.OdometerReading{Shown: last.Value, On: on}
		}
	}
	odd, err := brakes.CheckOdometer(now, before)
	if err != nil {
		return []brakes.Oddity{{Text: err.Error()}}
	}
	return odd
}
