package walk

import (
	"slices"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// Most is a choice for Walker.Choose that takes, of every decision and finding, the answer after which
// the job has the most stages, and never withholds the vehicle: what can be asked is asked.
func Most(c *job.Card, _ procedures.Ref, pc *procedures.PlanCheck, _ string) string {
	id := pc.Decision + pc.Finding
	if pc.Kind != procedures.Choice || id == "" {
		return ""
	}
	best, top := "", -1
	for _, o := range pc.Options {
		if len(pc.Pass) > 0 && !slices.Contains(pc.Pass, o) || withholds(c, pc.Decision, o) {
			continue
		}
		n := 0
		for _, st := range c.Plan.Procedure.Stages {
			for _, w := range st.When {
				if w.Decision+w.Finding == id && (slices.Contains(w.Is, o) || len(w.Is) == 0 && !slices.Contains(w.Not, o)) {
					n++
				}
			}
			if st.SideTrait == id && o == procedures.SideBoth {
				n++
			}
		}
		if n > top {
			best, top = o, n
		}
	}
	return best
}

func withholds(c *job.Card, decision, answer string) bool {
	for _, q := range c.Plan.Procedure.Decisions {
		if q.ID == decision && slices.Contains(q.Withholds, answer) {
			return true
		}
	}
	return false
}
