package procedures

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// bits is a set of node numbers.
type bits []uint64

func newBits(n int) bits      { return make(bits, (n+63)/64) }
func (b bits) set(i int)      { b[i/64] |= 1 << (i % 64) }
func (b bits) has(i int) bool { return b[i/64]&(1<<(i%64)) != 0 }
func (b bits) or(o bits) {
	for i := range b {
		b[i] |= o[i]
	}
}

// graph is the procedure with every stage on every side it could ever exist on, in an order that
// puts each stage behind all it comes after.
type graph struct {
	nodes     []gnode
	index     map[Ref]int
	ancestors []bits
}

type gnode struct {
	ref   Ref
	stage *Stage
	after []int
}

// sides returns the sides on which the stage may exist on some vehicle.
func (s *Stage) sides() []Side {
	if s.Sided || s.SideTrait != "" {
		return []Side{Left, Right}
	}
	return []Side{NoSide}
}

// buildGraph orders the stages. Its only fault is a loop, named with the stages it runs through;
// unknown names are skipped here and reported by Check.
func buildGraph(p *Procedure) (*graph, error) {
	var raw []gnode
	at := map[Ref]int{}
	for i := range p.Stages {
		for _, side := range p.Stages[i].sides() {
			r := Ref{p.Stages[i].ID, side}
			at[r] = len(raw)
			raw = append(raw, gnode{ref: r, stage: &p.Stages[i]})
		}
	}
	g := &graph{index: at}
	for i := range raw {
		for _, id := range raw[i].stage.After {
			raw[i].after = append(raw[i].after, lookup(at, raw[i].ref.Side, id)...)
		}
	}
	const (
		unseen = iota
		open
		done
	)
	state := make([]int, len(raw))
	var order, path []int
	var visit func(i int) error
	visit = func(i int) error {
		switch state[i] {
		case done:
			return nil
		case open:
			return loopFault(p, raw, path, i)
		}
		state[i] = open
		path = append(path, i)
		for _, d := range raw[i].after {
			if err := visit(d); err != nil {
				return err
			}
		}
		path = path[:len(path)-1]
		state[i] = done
		order = append(order, i)
		return nil
	}
	for i := range raw {
		if err := visit(i); err != nil {
			return nil, err
		}
	}
	place := make([]int, len(raw))
	for pos, i := range order {
		place[i] = pos
	}
	g.index = map[Ref]int{}
	for _, i := range order {
		n := raw[i]
		after := make([]int, len(n.after))
		for k, d := range n.after {
			after[k] = place[d]
		}
		n.after = after
		g.index[n.ref] = len(g.nodes)
		g.nodes = append(g.nodes, n)
	}
	g.ancestors = make([]bits, len(g.nodes))
	for i, n := range g.nodes {
		g.ancestors[i] = newBits(len(g.nodes))
		for _, d := range n.after {
			g.ancestors[i].set(d)
			g.ancestors[i].or(g.ancestors[d])
		}
	}
	return g, nil
}

func loopFault(p *Procedure, raw []gnode, path []int, back int) error {
	var names []string
	for k := len(path) - 1; k >= 0; k-- {
		names = append(names, raw[path[k]].ref.String())
		if path[k] == back {
			break
		}
	}
	// path runs from a follower to what it waits for; turned round it reads in working order.
	chain := append([]string{raw[back].ref.String()}, names...)
	id := raw[back].stage.ID
	at := p.at("stage:" + id)
	return Faults{{File: at.file, Line: at.line, Stage: id,
		Text: phrase.Of("procedures.graph.the-stages-run-in-a-loop-so"), Path: at.path(p, way(chain))}}
}

// lookup returns the nodes a name means when a stage on side says it: the same side where both
// are sided, every side otherwise.
func lookup(at map[Ref]int, side Side, id string) []int {
	if i, ok := at[Ref{id, side}]; ok {
		return []int{i}
	}
	if i, ok := at[Ref{id, NoSide}]; ok {
		return []int{i}
	}
	var out []int
	if side == NoSide {
		for _, s := range []Side{Left, Right} {
			if i, ok := at[Ref{id, s}]; ok {
				out = append(out, i)
			}
		}
	}
	return out
}

func (g *graph) targets(side Side, id string) []int { return lookup(g.index, side, id) }

// through returns the existing nodes right before node i, handing on through those left out.
func (g *graph) through(i int, exists []bool) []int {
	var out []int
	seen := newBits(len(g.nodes))
	var walk func(int)
	walk = func(k int) {
		for _, d := range g.nodes[k].after {
			if seen.has(d) {
				continue
			}
			seen.set(d)
			if exists[d] {
				out = append(out, d)
			} else {
				walk(d)
			}
		}
	}
	walk(i)
	return out
}

// path names a way from node a to node b along after, for messages.
func (g *graph) path(a, b int) string {
	if a == b || !g.ancestors[b].has(a) {
		return phrase.Of("procedures.graph.no-way-from-to", g.nodes[a].ref, g.nodes[b].ref)
	}
	names := []string{g.nodes[b].ref.String()}
	for at := b; at != a; {
		for _, d := range g.nodes[at].after {
			if d == a || g.ancestors[d].has(a) {
				names = append([]string{g.nodes[d].ref.String()}, names...)
				at = d
				break
			}
		}
	}
	return way(names)
}

// way writes a chain of stages, leaving out the middle of a long one.
func way(names []string) string {
	const ends = 5
	if len(names) > 2*ends+1 {
		names = slices.Concat(names[:ends], []string{"…"}, names[len(names)-ends:])
	}
	return strings.Join(names, " → ")
}
