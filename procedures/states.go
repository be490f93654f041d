package procedures

import (
	"slices"

	"bay.example/pawl/job/phrase"
)

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
					c.stage(c.g.nodes[i].stage, "%s", phrase.Of("procedures.states.clears-which-no-stage-sets-on-that", st.ID))
				}
				continue
			}
			err := c.worlds(c.variables(append(slices.Clone(set), clear...)), func(w world) bool {
				return c.stateIn(w, st, side, set, clear, rel)
			})
			if err != nil {
				c.add("state:"+st.ID, "", "", "%s", phrase.Of("procedures.states.state", st.ID, err))
			}
		}
		if !touched {
			c.add("state:"+st.ID, "", "", "%s", phrase.Of("procedures.states.state-is-never-set", st.ID))
		}
	}
}

// touching lists the nodes that set and that clear the state on that side.
func (c *checker) touching(st *State, side Side) (set, clear []int) {
	ref := StateRef{st.ID, side}
	if t, ok := c.touched[ref]; ok {
		return t[0], t[1]
	}
	if c.touched == nil {
		c.touched = map[StateRef][2][]int{}
	}
	defer func() { c.touched[ref] = [2][]int{set, clear} }()
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
	c.work += len(set) * len(clear)
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
				c.add("stage:"+closer.ID, closer.ID, w.String(), "%s", phrase.Of("procedures.states.may-clear-before-sets-it-there-is", name, setter.ID, c.g.path(s, k)))
				return false
			}
			if k == rel || c.g.ancestors[rel].has(k) {
				put = true
			}
		}
		if !put {
			c.add("stage:"+setter.ID, setter.ID, w.String()+"; "+c.g.path(s, rel), "%s", phrase.Of("procedures.states.sets-which-no-stage-puts-back-before", name))
			return false
		}
	}
	return true
}

// needs checks, in every combination that bears on it, that a state a stage wants open has been
// set before it and not put back, and that one it wants put back has been. Otherwise the stage
// could never be signed.
func (c *checker) needs() {
	for i, n := range c.g.nodes {
		for _, open := range []bool{true, false} {
			list := n.stage.NeedsShut
			if open {
				list = n.stage.NeedsOpen
			}
			for _, id := range list {
				st := c.p.State(id)
				for _, side := range st.sidesFor(n.ref.Side) {
					set, clear := c.touching(st, side)
					set, clear = c.before(i, set), c.before(i, clear)
					err := c.worlds(c.variables(slices.Concat([]int{i}, set, clear)), func(w world) bool {
						return !c.applies(i, w) || c.needIn(w, i, StateRef{id, side}, open, set, clear)
					})
					if err != nil {
						c.stage(n.stage, "%s", phrase.Of("procedures.states.state", id, err))
						return
					}
				}
			}
		}
	}
}

// beside checks stages that stand neither before nor behind each other, in every combination that
// bears on them: none may put back a state while another, which wants it open, is still to come, and
// none may leave a state standing for a stage that wants it put back and that every way of putting it
// back waits for. Done in the wrong order, such a job could not go on.
func (c *checker) beside() {
	for i, n := range c.g.nodes {
		for _, open := range []bool{true, false} {
			list := n.stage.NeedsShut
			if open {
				list = n.stage.NeedsOpen
			}
			for _, id := range list {
				st := c.p.State(id)
				for _, side := range st.sidesFor(n.ref.Side) {
					if err := c.besideIn(i, StateRef{id, side}, open); err != nil {
						c.stage(n.stage, "%s", phrase.Of("procedures.states.state", id, err))
						return
					}
				}
			}
		}
	}
}

func (c *checker) besideIn(i int, ref StateRef, open bool) error {
	s := c.g.nodes[i].stage
	set, clear := c.touching(c.p.State(ref.State), ref.Side)
	apart := clear
	if !open {
		apart = set
	}
	for _, k := range apart {
		if k == i || c.g.ancestors[i].has(k) || c.g.ancestors[k].has(i) {
			continue
		}
		err := c.worlds(c.variables(append([]int{i, k}, clear...)), func(w world) bool {
			c.work += len(clear)
			if !c.applies(i, w) || !c.applies(k, w) {
				return true
			}
			if open {
				c.add("stage:"+s.ID, s.ID, w.String(), "%s", phrase.Of("procedures.states.needs-open-but-may-put-it-back-first", ref, c.g.nodes[k].ref))
				return false
			}
			if slices.ContainsFunc(clear, func(m int) bool {
				return c.applies(m, w) && (m == k || c.g.ancestors[m].has(k)) && !c.g.ancestors[m].has(i)
			}) {
				return true
			}
			c.add("stage:"+s.ID, s.ID, w.String(), "%s", phrase.Of("procedures.states.needs-put-back-but-may-set-it-first", ref, c.g.nodes[k].ref))
			return false
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// sidesFor lists the sides on which a stage on side meets the state.
func (st *State) sidesFor(side Side) []Side {
	switch {
	case !st.Sided:
		return []Side{NoSide}
	case side != NoSide:
		return []Side{side}
	}
	return []Side{Left, Right}
}

func (c *checker) before(i int, nodes []int) []int {
	var out []int
	for _, k := range nodes {
		if c.g.ancestors[i].has(k) {
			out = append(out, k)
		}
	}
	return out
}

func (c *checker) needIn(w world, i int, ref StateRef, open bool, set, clear []int) bool {
	s := c.g.nodes[i].stage
	c.work += len(set) * len(clear)
	left := -1 // a setter nothing has put back
	for _, k := range set {
		back := func(m int) bool { return c.applies(m, w) && (m == k || c.g.ancestors[m].has(k)) }
		if c.applies(k, w) && !slices.ContainsFunc(clear, back) {
			left = k
		}
	}
	switch {
	case open && left < 0:
		c.add("stage:"+s.ID, s.ID, w.String(), "%s", phrase.Of("procedures.states.needs-open-but-no-stage-before-it", ref))
		return false
	case !open && left >= 0:
		c.add("stage:"+s.ID, s.ID, w.String()+"; "+c.g.path(left, i), "%s", phrase.Of("procedures.states.needs-put-back-but-sets-it-and", ref, c.g.nodes[left].ref))
		return false
	}
	return true
}

// oneSide checks, in every combination that bears on it, that a state a stage wants put back on the
// other side can be put back there while the stage waits: by a stage that neither comes after it nor,
// on the way, waits for another side itself. Otherwise the two sides would wait for each other.
func (c *checker) oneSide() {
	for i, n := range c.g.nodes {
		for _, id := range n.stage.OtherShut {
			st := c.p.State(id)
			if st == nil || !st.Sided || n.ref.Side == NoSide {
				continue // a fault of its own
			}
			ref := StateRef{id, n.ref.Side.Other()}
			set, clear := c.touching(st, ref.Side)
			err := c.worlds(c.variables(slices.Concat([]int{i}, set, clear)), func(w world) bool {
				return !c.applies(i, w) || c.free(w, i, ref, set, clear)
			})
			if err != nil {
				c.stage(n.stage, "%s", phrase.Of("procedures.states.state", id, err))
				return
			}
		}
	}
}

func (c *checker) free(w world, i int, ref StateRef, set, clear []int) bool {
	c.work += len(set) * len(clear)
	for _, k := range set {
		back := func(m int) bool {
			return c.applies(m, w) && (m == k || c.g.ancestors[m].has(k)) && !c.g.ancestors[m].has(i) && !c.waitsBetween(k, m)
		}
		if c.applies(k, w) && !c.g.ancestors[k].has(i) && !slices.ContainsFunc(clear, back) {
			s := c.g.nodes[i].stage
			c.add("stage:"+s.ID, s.ID, w.String(), "%s", phrase.Of("procedures.states.waits-for-the-other-side", ref, c.g.nodes[k].ref))
			return false
		}
	}
	return true
}

// waitsBetween reports whether a stage on the way from k to m, m among them, waits for another side.
func (c *checker) waitsBetween(k, m int) bool {
	for x, n := range c.g.nodes {
		if len(n.stage.OtherShut) > 0 && x != k && c.g.ancestors[x].has(k) && (x == m || c.g.ancestors[m].has(x)) {
			return true
		}
	}
	return false
}
