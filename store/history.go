package store

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
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
			return nil, phrase.Error("store.history.read-what-job-measured-on", s.Number, vehicle, err)
		}
		out = append(out, c.PastValues()...)
	}
	return out, nil
}
