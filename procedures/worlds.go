package procedures

import (
	"cmp"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// maxCombinations bounds what one claim may need. A claim only varies the traits and answers its
// own stages ask about, so a procedure that comes near it asks too much of one stage.
const maxCombinations = 1 << 16

// maxWork bounds the conditions weighed for all claims of one procedure together, which keeps a
// hostile file to a few seconds. The shipped procedure needs less than a hundredth of it.
const maxWork = 5_000_000

// traitKey marks the variables that are traits. An id has no colon, so no answer begins so.
const traitKey = "trait:"

// variable is one thing that may turn out differently: a trait, or the answer to one choice.
type variable struct {
	name   string // "trait:wear-sensor" or "stage/side.check", in no language
	values []string
}

// world is one combination: a value for each variable that matters.
type world map[string]string

func (w world) String() string {
	if len(w) == 0 {
		return phrase.Of("procedures.worlds.whatever-the-traits-and-answers")
	}
	keys := make([]string, 0, len(w))
	for k := range w {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for i, k := range keys {
		name := k
		if id, ok := strings.CutPrefix(k, traitKey); ok {
			name = phrase.Of("procedures.worlds.trait", id)
		}
		keys[i] = name + " = " + w[k]
	}
	return strings.Join(keys, ", ")
}

// witness is a choice that records a finding or a decision, on one side.
type witness struct {
	node    int
	name    string // "stage/side.check"
	answers []string
}

// recorders lists who records each finding and decision.
func (c *checker) recorders() map[string][]witness {
	if c.witnesses != nil {
		return c.witnesses
	}
	c.witnesses = map[string][]witness{}
	for i, n := range c.g.nodes {
		for _, k := range n.stage.Checks {
			if id := cmp.Or(k.Finding, k.Decision); id != "" {
				c.witnesses[id] = append(c.witnesses[id], witness{i, n.ref.String() + "." + k.ID, passing(k)})
			}
		}
	}
	return c.witnesses
}

// passing are the answers with which a stage can be signed; others never reach what follows.
func passing(k Check) []string {
	if len(k.Pass) > 0 {
		return k.Pass
	}
	return k.Options
}

type asked struct {
	node int
	id   string
}

// heard lists the recorders that node i listens to: those before it, on its side.
func (c *checker) heard(i int, id string) []witness {
	key := asked{i, id}
	out, ok := c.hearing[key]
	if ok {
		return out
	}
	for _, r := range c.recorders()[id] {
		if c.g.ancestors[i].has(r.node) && sameSide(c.g.nodes[i].ref.Side, c.g.nodes[r.node].ref.Side) {
			out = append(out, r)
		}
	}
	if c.hearing == nil {
		c.hearing = map[asked][]witness{}
	}
	c.hearing[key] = out
	return out
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
			for _, r := range c.heard(i, cmp.Or(w.Finding, w.Decision)) {
				visit(r.node)
				add(variable{r.name, r.answers})
			}
		}
	}
	for _, i := range nodes {
		visit(i)
	}
	return out
}

func (c *checker) traitVariable(id string) variable {
	for _, t := range c.p.Traits {
		if t.ID == id {
			return variable{traitKey + id, t.Values}
		}
	}
	return variable{traitKey + id, nil}
}

// applies decides whether node i is part of a job in that world.
func (c *checker) applies(i int, w world) bool {
	if v, ok := c.known[i]; ok {
		return v
	}
	c.work++
	v := c.weigh(i, w)
	c.known[i] = v
	return v
}

func (c *checker) weigh(i int, w world) bool {
	n := c.g.nodes[i]
	if t := n.stage.SideTrait; t != "" {
		if v := w[traitKey+t]; v != string(n.ref.Side) && v != SideBoth {
			return false
		}
	}
	for _, cond := range n.stage.When {
		if cond.Trait != "" {
			if !cond.admits(w[traitKey+cond.Trait]) {
				return false
			}
			continue
		}
		told, hit := false, false
		for _, r := range c.heard(i, cmp.Or(cond.Finding, cond.Decision)) {
			if !c.applies(r.node, w) {
				continue
			}
			v := w[r.name]
			told = true
			hit = hit || slices.Contains(cond.Is, v) || slices.Contains(cond.Not, v)
		}
		if want := len(cond.Is) > 0; !told || hit != want {
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
			return phrase.Error("procedures.worlds.more-than-combinations-of-traits-and-answers", maxCombinations)
		}
	}
	w := world{}
	var walk func(k int) bool
	walk = func(k int) bool {
		if k == len(vars) {
			c.tried++
			c.work++
			c.known = map[int]bool{}
			return yield(w) && c.work < maxWork
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
	if c.work >= maxWork {
		return phrase.Error("procedures.worlds.the-combinations-of-traits-and-answers-are")
	}
	return nil
}
