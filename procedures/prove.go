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
			c.add("stage:"+n.stage.ID, n.stage.ID, c.g.path(i, rel), "%s", phrase.Of("procedures.prove.stands-neither-before-nor-after-the-release"))
		}
		if c.g.ancestors[i].has(rel) && len(n.stage.Sets) > 0 {
			c.stage(n.stage, "%s", phrase.Of("procedures.prove.sets-a-state-after-the-release-where"))
		}
	}
}

// last checks that the vehicle is handed over once and the job closed once, behind the release and in
// that order.
func (c *checker) last() {
	at := map[Act]int{}
	for i, n := range c.g.nodes {
		act := n.stage.Act
		if act == "" {
			continue
		}
		if _, twice := at[act]; twice && act != Release { // a second release is a fault of its own
			c.stage(n.stage, "%s", phrase.Of("procedures.prove.is-a-second", act))
		}
		at[act] = i
	}
	for _, pair := range [][2]Act{{Release, HandOver}, {Release, Close}, {HandOver, Close}} {
		before, ok := at[pair[0]]
		after, also := at[pair[1]]
		if ok && also && !c.g.ancestors[after].has(before) {
			c.add("stage:"+c.g.nodes[after].stage.ID, c.g.nodes[after].stage.ID, c.g.path(before, after), "%s", phrase.Of("procedures.prove.does-not-come-after", pair[1], pair[0], c.g.nodes[before].stage.ID))
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
