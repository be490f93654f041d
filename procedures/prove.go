package procedures

import (
	"cmp"
	"strings"

	"bay.example/pawl/job/phrase"
)

// release checks that exactly one stage releases and that every other stands before or after it.
func (c *checker) release() {
	rel := -1
	for i, n := range c.g.nodes {
		if n.stage.Act != Release {
			continue
		}
		if rel >= 0 {
			c.stage(n.stage, "%s", phrase.Of("procedures.prove.is-a-second-release-a-procedure-has"))
		}
		rel = i
		if len(n.stage.When) > 0 {
			c.stage(n.stage, "%s", phrase.Of("procedures.prove.releases-the-vehicle-and-so-always-applies"))
		}
	}
	if rel < 0 {
		c.add("", "", "", "%s", phrase.Of("procedures.prove.no-stage-has-act-release-so-no"))
		return
	}
	for i, n := range c.g.nodes {
		if i != rel && !c.g.ancestors[rel].has(i) && !c.g.ancestors[i].has(rel) {
			c.stage(n.stage, "%s", phrase.Of("procedures.prove.stands-neither-before-nor-after-the-release", c.g.path(i, rel)))
		}
		if c.g.ancestors[i].has(rel) && len(n.stage.Sets) > 0 {
			c.stage(n.stage, "%s", phrase.Of("procedures.prove.sets-a-state-after-the-release-where"))
		}
	}
}

// recorded checks that every finding and decision asked for is recorded, and only asked for behind
// the stage that records it.
func (c *checker) recorded() {
	for i, n := range c.g.nodes {
		for _, w := range n.stage.When {
			id := cmp.Or(w.Finding, w.Decision)
			if id == "" {
				continue
			}
			found, before := false, false
			for _, r := range c.recorders()[id] {
				if !sameSide(n.ref.Side, c.g.nodes[r.node].ref.Side) {
					continue
				}
				found = true
				before = before || c.g.ancestors[i].has(r.node)
			}
			switch {
			case !found:
				c.stage(n.stage, "%s", phrase.Of("procedures.prove.asks-for-which-no-check-records-on", id))
			case !before:
				c.stage(n.stage, "%s", phrase.Of("procedures.prove.asks-for-which-is-recorded-only-later", id))
			}
		}
		for _, k := range n.stage.Checks {
			if k.Same == "" {
				continue
			}
			id, _, _ := strings.Cut(k.Same, ".")
			for _, t := range c.g.targets(n.ref.Side, id) {
				if !c.g.ancestors[i].has(t) {
					c.stage(n.stage, "%s", phrase.Of("procedures.prove.check-must-equal-a-count-of-which", k.ID, id))
				}
			}
		}
	}
}

func sameSide(a, b Side) bool { return a == NoSide || b == NoSide || a == b }

// reachable checks that some vehicle and some answers make each stage part of the job.
func (c *checker) reachable() {
	done := map[string]bool{}
	for i, n := range c.g.nodes {
		if done[n.stage.ID] {
			continue
		}
		ok := false
		err := c.worlds(c.variables([]int{i}), func(w world) bool {
			ok = c.applies(i, w)
			return !ok
		})
		if err != nil {
			c.stage(n.stage, "%v", err)
			done[n.stage.ID] = true
			continue
		}
		if ok {
			done[n.stage.ID] = true
		}
	}
	for i := range c.p.Stages {
		if s := &c.p.Stages[i]; !done[s.ID] {
			c.stage(s, "%s", phrase.Of("procedures.prove.can-never-be-reached-no-traits-and"))
		}
	}
}

// disturbs checks that a stage only undoes what can have been done after it.
func (c *checker) disturbs() {
	told := map[string]bool{}
	for i, n := range c.g.nodes {
		for _, id := range n.stage.Disturbs {
			for _, t := range c.g.targets(n.ref.Side, id) {
				if key := n.stage.ID + ">" + id; !c.g.ancestors[t].has(i) && !told[key] {
					told[key] = true
					c.stage(n.stage, "%s", phrase.Of("procedures.prove.disturbs-which-does-not-come-after-it", id))
				}
			}
		}
	}
}
