package procedures

import (
	"slices"

	"bay.example/pawl/job/phrase"
)

// UnknownServed returns a warning for each procedure a sheet lists whose id is not among those known.
// A slip in an id is no fault of the sheet by itself, but the sheet is then never held against the
// procedure that was meant.
func (s *Sheet) UnknownServed(known []string) Faults {
	var out Faults
	for _, id := range s.Serves {
		if !slices.Contains(known, id) {
			out = append(out, Fault{File: s.file, Line: s.lines["key:procedures"], Text: phrase.Of("procedures.serves.lists-a-procedure-that-is-not-here", id)})
		}
	}
	return out
}
