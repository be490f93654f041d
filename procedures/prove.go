package procedures

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// maxCombinations bounds what one claim may need. A claim only varies the traits and answers its
// own stages ask about, so a procedure that comes near it asks too much of one stage.
const maxCombinations = 1 << 16

// release checks that exactly one stage releases and that every other stands before or after it.
func (c *checker) release() {
	rel := -1
	for i, n := range c.g.nodes {
		if n.stage.Act != Release {
			continue
		}
		if rel >= 0 {
			c.stage(n.stage, "is a second release; a procedure has one")
		}
		rel = i
		if len(n.stage.When) > 0 {
			c.stage(n.stage, "releases the vehicle and so always applies; remove its conditions")
		}
	}
	if rel < 0 {
		c.add("", "", "", "no stage has act = \"release\", so no job could ever end")
		return
	}
	for i, n := range c.g.nodes {
		if i != rel && !c.g.ancestors[rel].has(i) && !c.g.ancestors[i].has(rel) {
			c.stage(n.stage, "stands neither before nor after the release, so the vehicle could leave without it (%s)", c.g.path(i, rel))
		}
		if c.g.ancestors[i].has(rel) && len(n.stage.Sets) > 0 {
			c.stage(n.stage, "sets a state after the release, where nothing would hold the vehicle back")
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
			for k, r := range c.g.nodes {
				if !records(r.stage, id) || !sameSide(n.ref.Side, r.ref.Side) {
					continue
				}
				found = true
				before = before || c.g.ancestors[i].has(k)
			}
			switch {
			case !found:
				c.stage(n.stage, "asks for %q, which no check records on its side", id)
			case !before:
				c.stage(n.stage, "asks for %q, which is recorded only later or on another branch", id)
			}
		}
		for _, k := range n.stage.Checks {
			if k.Same == "" {
				continue
			}
			id, _, _ := strings.Cut(k.Same, ".")
			for _, t := range c.g.targets(n.ref.Side, id) {
				if !c.g.ancestors[i].has(t) {
					c.stage(n.stage, "check %q must equal a count of %q, which does not come before", k.ID, id)
				}
			}
		}
	}
}

func records(s *Stage, id string) bool {
	return slices.ContainsFunc(s.Checks, func(k Check) bool { return k.Finding == id || k.Decision == id })
}

func sameSide(a, b Side) bool { return a == NoSide || b == NoSide || a == b }

// variable is one thing that may turn out differently: a trait, or the answer to one choice.
type variable struct {
	name   string // "trait air_susp" or "stage/side.check"
	values []string
}

// world is one combination: a value for each variable that matters.
type world map[string]string

func (w world) String() string {
	if len(w) == 0 {
		return "whatever the traits and answers"
	}
	keys := make([]string, 0, len(w))
	for k := range w {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for i, k := range keys {
		keys[i] = k + " = " + w[k]
	}
	return strings.Join(keys, ", ")
}

// variables collects what decides whether the nodes apply, with what decides it for the stages
// whose answers they ask for.
func (c *checker) variables(nodes []int) []variable {
	var out []variable
	have := map[string]bool{}
	add := func(v variable) {
		if !have[v.name] {
			have[v.name] = true
			out = append(out, v)
		}
	}
	seen := newBits(len(c.g.nodes))
	var visit func(i int)
	visit = func(i int) {
		if seen.has(i) {
			return
		}
		seen.set(i)
		n := c.g.nodes[i]
		if t := n.stage.SideTrait; t != "" {
			add(c.traitVariable(t))
		}
		for _, w := range n.stage.When {
			if w.Trait != "" {
				add(c.traitVariable(w.Trait))
				continue
			}
			for _, r := range c.recordersOf(i, w) {
				visit(r.node)
				k := c.g.nodes[r.node].stage
				ck := k.Checks[slices.IndexFunc(k.Checks, func(x Check) bool { return x.ID == r.check })]
				add(variable{c.answerName(r), passing(ck)})
			}
		}
	}
	for _, i := range nodes {
		visit(i)
	}
	return out
}

// passing are the answers with which a stage can be signed; others never reach what follows.
func passing(k Check) []string {
	if len(k.Pass) > 0 {
		return k.Pass
	}
	return k.Options
}

func (c *checker) traitVariable(id string) variable {
	for _, t := range c.p.Traits {
		if t.ID == id {
			return variable{"trait " + id, t.Values}
		}
	}
	return variable{"trait " + id, nil}
}

func (c *checker) answerName(r recorder) string {
	return c.g.nodes[r.node].ref.String() + "." + r.check
}

func (c *checker) recordersOf(i int, w Condition) []recorder {
	var out []recorder
	id := cmp.Or(w.Finding, w.Decision)
	for k, n := range c.g.nodes {
		if k == i || !c.g.ancestors[i].has(k) || !sameSide(c.g.nodes[i].ref.Side, n.ref.Side) {
			continue
		}
		for _, ck := range n.stage.Checks {
			if ck.Finding == id || ck.Decision == id {
				out = append(out, recorder{k, ck.ID})
			}
		}
	}
	return out
}

// applies decides whether node i is part of a job in that world.
func (c *checker) applies(i int, w world) bool {
	n := c.g.nodes[i]
	if t := n.stage.SideTrait; t != "" {
		if v := w["trait "+t]; v != string(n.ref.Side) && v != SideBoth {
			return false
		}
	}
	for _, cond := range n.stage.When {
		if cond.Trait != "" {
			if !cond.admits(w["trait "+cond.Trait]) {
				return false
			}
			continue
		}
		known, hit := false, false
		for _, r := range c.recordersOf(i, cond) {
			if !c.applies(r.node, w) {
				continue
			}
			v := w[c.answerName(r)]
			known = true
			hit = hit || slices.Contains(cond.Is, v) || slices.Contains(cond.Not, v)
		}
		if want := len(cond.Is) > 0; !known || hit != want {
			return false
		}
	}
	return true
}

// worlds calls yield with every combination of the variables until it returns false.
func (c *checker) worlds(vars []variable, yield func(world) bool) error {
	n := 1
	for _, v := range vars {
		if n *= max(1, len(v.values)); n > maxCombinations {
			return fmt.Errorf("more than %d combinations of traits and answers bear on it; split the stage", maxCombinations)
		}
	}
	w := world{}
	var walk func(k int) bool
	walk = func(k int) bool {
		if k == len(vars) {
			c.tried++
			return yield(w)
		}
		for _, v := range vars[k].values {
			w[vars[k].name] = v
			if !walk(k + 1) {
				return false
			}
		}
		return true
	}
	walk(0)
	return nil
}

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
			c.stage(s, "can never be reached: no traits and answers make it apply")
		}
	}
}

// states checks, in every combination that bears on it, that each state set is put back behind its
// setter and before the release, and never put back ahead of it.
func (c *checker) states() {
	rel := slices.IndexFunc(c.g.nodes, func(n gnode) bool { return n.stage.Act == Release })
	for k := range c.p.States {
		st := &c.p.States[k]
		sides := []Side{NoSide}
		if st.Sided {
			sides = []Side{Left, Right}
		}
		touched := false
		for _, side := range sides {
			set, clear := c.touching(st, side)
			touched = touched || len(set) > 0
			if len(set) == 0 {
				for _, i := range clear {
					c.stage(c.g.nodes[i].stage, "clears %q, which no stage sets on that side", st.ID)
				}
				continue
			}
			err := c.worlds(c.variables(append(slices.Clone(set), clear...)), func(w world) bool {
				return c.stateIn(w, st, side, set, clear, rel)
			})
			if err != nil {
				c.add("state:"+st.ID, "", "", "state %q: %v", st.ID, err)
			}
		}
		if !touched {
			c.add("state:"+st.ID, "", "", "state %q is never set", st.ID)
		}
	}
}

func (c *checker) touching(st *State, side Side) (set, clear []int) {
	for i, n := range c.g.nodes {
		if st.Sided && n.ref.Side != side {
			continue
		}
		if slices.Contains(n.stage.Sets, st.ID) {
			set = append(set, i)
		}
		if slices.Contains(clearsOf(n.stage), st.ID) {
			clear = append(clear, i)
		}
	}
	return set, clear
}

func (c *checker) stateIn(w world, st *State, side Side, set, clear []int, rel int) bool {
	name := StateRef{st.ID, side}.String()
	for _, s := range set {
		if !c.applies(s, w) {
			continue
		}
		setter := c.g.nodes[s].stage
		put := false
		for _, k := range clear {
			if !c.applies(k, w) {
				continue
			}
			closer := c.g.nodes[k].stage
			if k == s {
				put = true // set and put back within one stage
				continue
			}
			if !c.g.ancestors[k].has(s) {
				c.add("stage:"+closer.ID, closer.ID, w.String(), "may clear %q before %q sets it: there is %s", name, setter.ID, c.g.path(s, k))
				return false
			}
			if k == rel || c.g.ancestors[rel].has(k) {
				put = true
			}
		}
		if !put {
			c.add("stage:"+setter.ID, setter.ID, w.String()+"; "+c.g.path(s, rel), "sets %q, which no stage puts back before the release", name)
			return false
		}
	}
	return true
}

// disturbs checks that a stage only undoes what can have been done after it.
func (c *checker) disturbs() {
	told := map[string]bool{}
	for i, n := range c.g.nodes {
		for _, id := range n.stage.Disturbs {
			for _, t := range c.g.targets(n.ref.Side, id) {
				if key := n.stage.ID + ">" + id; !c.g.ancestors[t].has(i) && !told[key] {
					told[key] = true
					c.stage(n.stage, "disturbs %q, which does not come after it", id)
				}
			}
		}
	}
}
