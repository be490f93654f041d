package procedures

import (
	"slices"

	"bay.example/pawl/job/phrase"
)

// looksBack checks that what a stage says of other stages speaks of those before it: whoever signs
// independently looks at work that was done, a way out does again what was done, and nothing made
// safe after a stage is the release, behind which nothing is owed.
func (c *checker) looksBack() {
	release := ""
	for _, n := range c.g.nodes {
		if n.stage.Act == Release {
			release = n.stage.ID
		}
	}
	for i, n := range c.g.nodes {
		s := n.stage
		for _, id := range s.IndependentOf {
			if id != "all" && !c.comesBefore(id, i) {
				c.stage(s, "%s", phrase.Of("procedures.proveorder.independent-of-what-comes-later", id))
			}
		}
		for _, r := range s.Reworks {
			for _, id := range r.Again {
				if id != s.ID && !c.comesBefore(id, i) {
					c.stage(s, "%s", phrase.Of("procedures.proveorder.rework-repeats-what-comes-later", r.ID, id))
				}
			}
		}
		switch {
		case len(s.MakeSafeAfter) > 0 && s.ID == release:
			c.stage(s, "%s", phrase.Of("procedures.proveorder.the-release-makes-nothing-safe"))
		case slices.Contains(s.MakeSafeAfter, release):
			c.stage(s, "%s", phrase.Of("procedures.proveorder.make-safe-after-the-release", release))
		}
	}
}

// comesBefore reports whether a stage stands before node i on a side that node meets.
func (c *checker) comesBefore(id string, i int) bool {
	return slices.ContainsFunc(c.g.targets(c.g.nodes[i].ref.Side, id), func(t int) bool { return c.g.ancestors[i].has(t) })
}
