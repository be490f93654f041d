package bay

import (
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

// mistakeJobs is how many of the newest finished jobs the workshop's own mistakes are taken from.
const mistakeJobs = 20

// ownMistake is the reason this workshop most often had to do a stage again.
type ownMistake struct {
	stage string
	text  string // empty: the stage went right the first time in every job looked at
}

// ownMistakes counts the reasons for new attempts at a stage over the newest finished jobs of the
// same procedure.
func ownMistakes(f *store.File, procedure, stage string) (ownMistake, error) {
	n := 0
	all, err := f.Jobs()
	if err != nil {
		return ownMistake{}, err
	}
	why := map[string]int{}
	for _, j := range all {
		if j.Outcome == "" || j.Practice || j.Procedure != procedure || n == mistakeJobs {
			continue
		}
		c, err := f.Load(j.Number)
		if err != nil {
			return ownMistake{}, err
		}
		n++
		for _, reason := range reasonsAgain(c, stage) {
			why[reason]++
		}
	}
	most := ""
	for reason, k := range why {
		if most == "" || k > why[most] || k == why[most] && reason < most {
			most = reason
		}
	}
	if most == "" {
		return ownMistake{stage: stage}, nil
	}
	return ownMistake{stage, phrase.Of("bay.jobmistakes.done-again-in-of-the-last", why[most], phrase.Count("count.job", n), most)}, nil
}

// reasonsAgain are the reasons for new attempts at a stage in one job, each once.
func reasonsAgain(c *job.Card, stage string) []string {
	var out []string
	for i := range c.Stages {
		st := &c.Stages[i]
		if st.Node.Ref.Stage != stage {
			continue
		}
		for _, a := range st.Attempts {
			if reason := strings.TrimSpace(a.Reason); a.No > 1 && reason != "" && !slices.Contains(out, reason) {
				out = append(out, reason)
			}
		}
	}
	return out
}

// why shows the reason for the stage, with the mistake this workshop makes most often.
func (s *jobScreen) why() Action {
	procedure, stage := s.card.Opened.Procedure.Title, s.at.Stage
	return Call{Name: "why", Do: func(f *store.File) (any, error) { return ownMistakes(f, procedure, stage) }}
}
