package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// coverage keeps which wrenches can prove what, worked out once for each card.
type coverage struct {
	card *job.Card
	day  string
	list []job.Cover
}

// covers is whether the register's wrenches cover every torque window of the job today.
func (s *jobScreen) covers(e *Env) []job.Cover {
	if day := e.Now.Format("2006-01-02"); s.cover.card != s.card || s.cover.day != day {
		s.cover = coverage{s.card, day, s.card.Coverage(e.Context())}
	}
	return s.cover.list
}

// coverLines is the short line on the stages before anything is taken apart: which windows no wrench
// can prove, and at the tools stage also that all is well.
func (s *jobScreen) coverLines(e *Env, w int) []string {
	for i := range s.card.Stages {
		n := s.card.Stages[i].Node
		if n.Ref == s.at {
			break
		}
		if len(n.Sets) > 0 {
			return nil
		}
	}
	t := e.Theme
	var bare []string
	list := s.covers(e)
	for _, c := range list {
		if len(c.Able) == 0 {
			bare = append(bare, s.title(c.Stage))
		}
	}
	switch {
	case len(bare) > 0:
		text := phrase.Of("bay.jobcoverage.no-wrench-for-m-9-2", phrase.Count("count.torque-window", len(bare)), strings.Join(bare, "; "))
		return []string{t.Style(draw.Warn, t.Truncate(t.Plain(text), w-1)+" ")}
	case s.at.Stage == toolsStage && len(list) > 0:
		return []string{t.Style(draw.Good, phrase.Of("bay.jobcoverage.a-wrench-in-date-for-each-of", phrase.Count("count.torque-window", len(list))))}
	}
	return nil
}

// toolsStage is the stage that makes tools ready, in the shipped procedures.
const toolsStage = "tools-ready"

// coveragePane lists every torque window with the wrenches that can prove it, or why none can.
func (s *jobScreen) coveragePane(e *Env) Action {
	list := s.covers(e)
	if len(list) == 0 {
		return Ask{Name: "coverage", Dialog: newPane(phrase.Of("bay.jobcoverage.wrenches-for-this-job"), line{text: phrase.Of("bay.jobcoverage.nothing-is-left-to-tighten-in-this")})}
	}
	var out []line
	for _, bad := range []bool{true, false} {
		for _, c := range list {
			if (len(c.Able) == 0) != bad {
				continue
			}
			head := fmt.Sprintf("%s: %s, %s, %s", s.title(c.Stage), c.Title, e.decimals(windowWords(c.Window)), phrase.Count("count.fastener", c.Pulls))
			if bad {
				out = append(out, line{role: draw.Warn, text: phrase.Of("bay.jobcoverage.no-wrench", head) + " "})
				for _, why := range c.Why {
					out = append(out, line{text: "   " + sentence(why), indent: 3})
				}
				if len(c.Why) == 0 {
					out = append(out, line{text: phrase.Of("bay.jobcoverage.the-register-has-none-of-the-kinds"), indent: 3})
				}
				continue
			}
			out = append(out, line{role: draw.Title, text: head, indent: 2}, line{text: phrase.Of("bay.jobcoverage.with", strings.Join(c.Able, ", ")), indent: 3})
		}
	}
	return Ask{Name: "coverage", Dialog: newPane(phrase.Of("bay.jobcoverage.wrenches-for-this-job"), out...)}
}
