package procedures

import (
	"cmp"
	"slices"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Plan is a procedure resolved for one vehicle: every stage that its traits let exist, side by
// side, in an order that respects the graph, with windows and fasteners filled in from the sheet.
type Plan struct {
	Procedure *Procedure
	Sheet     *Sheet
	Traits    map[string]string
	Nodes     []Node // an ancestor always stands before its followers

	index     map[Ref]int
	ancestors []bits
	recorders map[string][]recorder
}

// Node is one stage on one side.
type Node struct {
	Ref      Ref
	Stage    *Stage
	Phase    *Phase
	After    []Ref // the stages right before, those the traits leave out already handed through
	Disturbs []Ref // what a new attempt here undoes
	Checks   []PlanCheck
	Sets     []StateRef
	Clears   []PlanClear
}

// StateRef names a standing state on one side, or of the whole vehicle.
type StateRef struct {
	State string `cbor:"1,keyasint" json:"state"`
	Side  Side   `cbor:"2,keyasint,omitempty" json:"side,omitempty"`
}

// String returns "state" or "state/side".
func (s StateRef) String() string { return Ref{Stage: s.State, Side: s.Side}.String() }

// PlanClear is a state this node puts back and the checks that prove it.
type PlanClear struct {
	State StateRef
	Proof []string
}

// PlanWindow is a window of the sheet, parsed, with the document it stands in.
type PlanWindow struct {
	ID       string          `cbor:"1,keyasint" json:"id"`
	Window   quantity.Window `cbor:"2,keyasint" json:"window"`
	Document string          `cbor:"3,keyasint" json:"document"`
	Revision string          `cbor:"4,keyasint" json:"revision"`
	Guarded  bool            `cbor:"5,keyasint" json:"guarded"`
}

type recorder struct {
	node  int
	check string
}

// Resolve builds the plan of a procedure for one vehicle with the windows of a sheet. Traits win
// over the sheet's own; a trait with a value the procedure does not know is a fault. The procedure
// and the sheet must have passed Check.
func Resolve(p *Procedure, s *Sheet, traits map[string]string) (*Plan, error) {
	plan := &Plan{Procedure: p, Sheet: s, Traits: map[string]string{}}
	for _, t := range p.Traits {
		v, ok := traits[t.ID]
		if !ok {
			v, ok = s.Traits[t.ID]
		}
		if !ok {
			return nil, Faults{{File: s.ID, Text: phrase.Of("procedures.checksheet.trait-has-no-value-expected-one-of", t.ID, t.Title, quoted(t.Values))}}
		}
		if !slices.Contains(t.Values, v) {
			return nil, Faults{{File: s.ID, Text: phrase.Of("procedures.checksheet.trait-has-the-value-expected-one-of", t.ID, shown(v), quoted(t.Values))}}
		}
		plan.Traits[t.ID] = v
	}
	g, err := buildGraph(p)
	if err != nil {
		return nil, err
	}
	exists := make([]bool, len(g.nodes))
	for i, n := range g.nodes {
		exists[i] = n.stage.existsOn(n.ref.Side, plan.Traits) && n.stage.traitsAllow(plan.Traits)
	}
	plan.index = map[Ref]int{}
	for i := range g.nodes {
		if !exists[i] {
			continue
		}
		node, err := plan.resolveNode(g, i, exists)
		if err != nil {
			return nil, err
		}
		plan.index[node.Ref] = len(plan.Nodes)
		plan.Nodes = append(plan.Nodes, node)
	}
	plan.link()
	return plan, nil
}

func (plan *Plan) resolveNode(g *graph, i int, exists []bool) (Node, error) {
	p, s, n := plan.Procedure, plan.Sheet, g.nodes[i]
	node := Node{Ref: n.ref, Stage: n.stage, Phase: p.phase(n.stage.Phase)}
	for _, d := range g.through(i, exists) {
		node.After = append(node.After, g.nodes[d].ref)
	}
	node.Disturbs = g.disturbed(p, i, exists)
	for _, id := range n.stage.Sets {
		node.Sets = append(node.Sets, p.stateRef(id, n.ref.Side))
	}
	for _, c := range n.stage.Clears {
		node.Clears = append(node.Clears, PlanClear{State: p.stateRef(c.State, n.ref.Side), Proof: c.Proof})
	}
	for k := range n.stage.Checks {
		if !traitsAllow(n.stage.Checks[k].When, plan.Traits) {
			continue
		}
		pc, err := resolveCheck(&n.stage.Checks[k], s)
		if err != nil {
			return node, Faults{{File: s.file, Stage: n.stage.ID + "." + n.stage.Checks[k].ID, Text: err.Error()}}
		}
		node.Checks = append(node.Checks, pc)
	}
	return node, nil
}

// disturbed lists what a new attempt at node i undoes: what its stage says, and every stage that
// puts back a state it sets, because setting it again leaves it standing again.
func (g *graph) disturbed(p *Procedure, i int, exists []bool) []Ref {
	n := g.nodes[i]
	var out []Ref
	add := func(t int) {
		if r := g.nodes[t].ref; exists[t] && t != i && !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, id := range n.stage.Disturbs {
		for _, t := range g.targets(n.ref.Side, id) {
			add(t)
		}
	}
	for _, id := range n.stage.Sets {
		for t, m := range g.nodes {
			if slices.Contains(clearsOf(m.stage), id) && p.stateRef(id, n.ref.Side) == p.stateRef(id, m.ref.Side) {
				add(t)
			}
		}
	}
	return out
}

func (p *Procedure) phase(id string) *Phase {
	for i := range p.Phases {
		if p.Phases[i].ID == id {
			return &p.Phases[i]
		}
	}
	return &Phase{ID: id, Title: id}
}

// State returns the standing state with that id, or nil.
func (p *Procedure) State(id string) *State {
	for i := range p.States {
		if p.States[i].ID == id {
			return &p.States[i]
		}
	}
	return nil
}

// Stage returns the stage with that id, or nil.
func (p *Procedure) Stage(id string) *Stage {
	for i := range p.Stages {
		if p.Stages[i].ID == id {
			return &p.Stages[i]
		}
	}
	return nil
}

func (p *Procedure) stateRef(id string, side Side) StateRef {
	if st := p.State(id); st == nil || !st.Sided {
		side = NoSide
	}
	return StateRef{State: id, Side: side}
}

// link fills in the closure and the recorders of findings and decisions.
func (p *Plan) link() {
	p.ancestors = make([]bits, len(p.Nodes))
	p.recorders = map[string][]recorder{}
	for i, n := range p.Nodes {
		p.ancestors[i] = newBits(len(p.Nodes))
		for _, r := range n.After {
			d := p.index[r]
			p.ancestors[i].set(d)
			p.ancestors[i].or(p.ancestors[d])
		}
		for _, c := range n.Checks {
			if id := cmp.Or(c.Finding, c.Decision); id != "" {
				p.recorders[id] = append(p.recorders[id], recorder{i, c.ID})
			}
		}
	}
}

// Index returns the place of a stage in Nodes, or -1 when the vehicle has no such stage.
func (p *Plan) Index(r Ref) int {
	if i, ok := p.index[r]; ok {
		return i
	}
	return -1
}

// Node returns the node of a stage, or nil when the vehicle has no such stage.
func (p *Plan) Node(r Ref) *Node {
	if i, ok := p.index[r]; ok {
		return &p.Nodes[i]
	}
	return nil
}

// Before reports whether stage a must be done before stage b on every way through the graph.
func (p *Plan) Before(a, b Ref) bool {
	i, j := p.Index(a), p.Index(b)
	return i >= 0 && j >= 0 && p.ancestors[j].has(i)
}

// ReleaseRef returns the stage whose signature releases the vehicle.
func (p *Plan) ReleaseRef() Ref {
	for _, n := range p.Nodes {
		if n.Stage.Act == Release {
			return n.Ref
		}
	}
	return Ref{}
}

// Figures is the prefix of the figures of a stage, its own or the procedure's: it tells the axle.
func (p *Plan) Figures(r Ref) string {
	if n := p.Node(r); n != nil && n.Stage.Figures != "" {
		return n.Stage.Figures
	}
	return p.Procedure.Figures
}

// SheetWindow returns the window that calculations look for under an id: the one with the prefix of
// the figures where the sheet has it. For the procedure's own figures that of the id alone will do.
func (p *Plan) SheetWindow(figures, id string) (SpecWindow, bool) {
	if w, ok := p.Sheet.Window(figures + id); ok || figures != p.Procedure.Figures {
		return w, ok
	}
	return p.Sheet.Window(id)
}

// SheetFact is SheetWindow for facts.
func (p *Plan) SheetFact(figures, id string) (string, bool) {
	if text, ok := p.Sheet.Fact(figures + id); ok || figures != p.Procedure.Figures {
		return text, ok
	}
	return p.Sheet.Fact(id)
}

// Trait returns the value of a trait that calculations look for, with the prefix of the procedure's
// figures where it has that trait.
func (p *Plan) Trait(id string) string {
	if v, ok := p.Traits[p.Procedure.Figures+id]; ok {
		return v
	}
	return p.Traits[id]
}

// Check returns the check with that id on the node, or nil.
func (n *Node) Check(id string) *PlanCheck {
	for i := range n.Checks {
		if n.Checks[i].ID == id {
			return &n.Checks[i]
		}
	}
	return nil
}
