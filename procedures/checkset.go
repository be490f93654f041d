package procedures

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// padPoints are the points by which the calculations read a set of pads.
var padPoints = []string{"inner leading", "inner trailing", "outer leading", "outer trailing"}

// set checks the points of a set of readings: each has a name of its own, and a set of pads has those
// the calculations look for.
func (c *checker) set(at func(string, ...any), k *Check) {
	c.distinct(at, "points", k.Points)
	if k.Reckon != "pads" {
		return
	}
	for _, p := range padPoints {
		if !slices.Contains(k.Points, p) {
			at("%s", phrase.Of("procedures.checkset.pads-are-read-by-their-points", strings.Join(padPoints, ", ")))
			return
		}
	}
}
