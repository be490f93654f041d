package store

import (
	"fmt"

	"bay.example/pawl/job"
)

// history gathers what earlier visits of a vehicle measured, oldest first. Practice jobs and visits
// that are still going on say nothing.
func (f *File) history(vehicle string, newestFirst []Summary) ([]job.PastValue, error) {
	var out []job.PastValue
	for i := len(newestFirst) - 1; i >= 0; i-- {
		s := newestFirst[i]
		if s.Vehicle.ID != vehicle || s.Practice || s.Outcome == "" {
			continue
		}
		c, err := f.load(s.Number)
		if err != nil {
			return nil, fmt.Errorf("read what job %d measured on %s: %w", s.Number, vehicle, err)
		}
		out = append(out, c.PastValues()...)
	}
	return out, nil
}
