package procedures

import (
	"slices"
	"strings"
)

// deviations checks that what the foreman may grant exists and is nothing that nobody may grant: no
// torque, no proof of a state, no finding or decision, no stage that a second person must look at.
func (c *checker) deviations() {
	for _, d := range c.p.Deviations {
		at := func(format string, args ...any) {
			c.add("deviation:"+d.ID, "", "", "deviation %q "+format, append([]any{d.ID}, args...)...)
		}
		if strings.TrimSpace(d.Title) == "" || len(d.Excuses) == 0 {
			at("needs a title and the checks it excuses")
		}
		for _, name := range d.Excuses {
			id, check, _ := strings.Cut(name, ".")
			s := c.p.Stage(id)
			if s == nil {
				at("excuses %+q, which is no check (stage.check)", name)
				continue
			}
			k := slices.IndexFunc(s.Checks, func(x Check) bool { return x.ID == check })
			switch {
			case k < 0:
				at("excuses %+q, which is no check (stage.check)", name)
			case s.Checks[k].Kind == Torque:
				at("excuses the torque %q, which nobody may", name)
			case s.Checks[k].Finding != "" || s.Checks[k].Decision != "":
				at("excuses %q, which decides what belongs to the job", name)
			case s.Hold || s.Second == SecondAlways || s.Act != NoAct:
				at("excuses %q of a stage that a second person answers for", name)
			case slices.ContainsFunc(s.Clears, func(cl Clear) bool { return slices.Contains(cl.Proof, check) }):
				at("excuses %q, which proves that a state is put back", name)
			}
		}
	}
}
