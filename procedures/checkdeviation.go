package procedures

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// deviations checks that what the foreman may grant exists and is nothing that nobody may grant: no
// torque, no proof of a state, no finding or decision, no stage that a second person must look at.
func (c *checker) deviations() {
	for _, d := range c.p.Deviations {
		at := func(format string, args ...any) {
			c.add("deviation:"+d.ID, "", "", "%s", phrase.Of("procedures.checkdeviation.deviation", d.ID, fmt.Sprintf(format, args...)))
		}
		if strings.TrimSpace(d.Title) == "" || len(d.Excuses) == 0 {
			at("%s", phrase.Of("procedures.checkdeviation.needs-a-title-and-the-checks-it"))
		}
		for _, name := range d.Excuses {
			id, check, _ := strings.Cut(name, ".")
			s := c.p.Stage(id)
			if s == nil {
				at("%s", phrase.Of("procedures.checkdeviation.excuses-which-is-no-check-stage-check", name))
				continue
			}
			k := slices.IndexFunc(s.Checks, func(x Check) bool { return x.ID == check })
			switch {
			case k < 0:
				at("%s", phrase.Of("procedures.checkdeviation.excuses-which-is-no-check-stage-check", name))
			case s.Checks[k].Kind == Torque:
				at("%s", phrase.Of("procedures.checkdeviation.excuses-the-torque-which-nobody-may", name))
			case s.Checks[k].Finding != "" || s.Checks[k].Decision != "":
				at("%s", phrase.Of("procedures.checkdeviation.excuses-which-decides-what-belongs-to-the", name))
			case s.Hold || s.Second == SecondAlways || s.Act != NoAct:
				at("%s", phrase.Of("procedures.checkdeviation.excuses-of-a-stage-that-a-second", name))
			case slices.ContainsFunc(s.Clears, func(cl Clear) bool { return slices.Contains(cl.Proof, check) }):
				at("%s", phrase.Of("procedures.checkdeviation.excuses-which-proves-that-a-state-is", name))
			}
		}
	}
}
