package procedures

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// phase checks that a phase has a title and a stage: the strip on the screen shows it empty otherwise.
func (c *checker) phase(x Phase) {
	if strings.TrimSpace(x.Title) == "" {
		c.add("phase:"+x.ID, "", "", "%s", phrase.Of("procedures.checkphase.has-no-title", x.ID))
	}
	if len(c.p.Stages) > 0 && !slices.ContainsFunc(c.p.Stages, func(s Stage) bool { return s.Phase == x.ID }) {
		c.add("phase:"+x.ID, "", "", "%s", phrase.Of("procedures.checkphase.has-no-stage", x.ID))
	}
}
