package walk

import (
	"fmt"
	"maps"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// Ledger says from the plan and the events alone what must be refused. It is kept apart from the
// card and asks none of the card's gates, so that proofs can hold those against it.
type Ledger struct {
	plan     *procedures.Plan
	complete map[procedures.Ref]uint32            // since which event
	set      map[procedures.StateRef]uint32       // by which event last
	touched  map[procedures.Ref]int               // the newest attempt with an entry
	typed    map[procedures.Ref]map[string]string // answers of the attempt that is open
	answers  map[procedures.Ref]map[string]string // answers that shape the job
	declared map[procedures.StateRef]bool
	ended    bool // the work was ended unfinished: most stages are left out
}

// NewLedger begins a ledger for a job that was just opened.
func NewLedger(plan *procedures.Plan) *Ledger {
	return &Ledger{plan: plan, complete: map[procedures.Ref]uint32{}, set: map[procedures.StateRef]uint32{}, touched: map[procedures.Ref]int{},
		typed: map[procedures.Ref]map[string]string{}, answers: map[procedures.Ref]map[string]string{}, declared: map[procedures.StateRef]bool{}}
}

// Copy is a ledger that goes another way from here.
func (l *Ledger) Copy() *Ledger {
	next := *l
	next.complete, next.set, next.touched, next.declared = maps.Clone(l.complete), maps.Clone(l.set), maps.Clone(l.touched), maps.Clone(l.declared)
	next.typed, next.answers = map[procedures.Ref]map[string]string{}, map[procedures.Ref]map[string]string{}
	for r, a := range l.typed {
		next.typed[r] = maps.Clone(a)
	}
	for r, a := range l.answers {
		next.answers[r] = maps.Clone(a)
	}
	return &next
}

// Note takes an event in.
func (l *Ledger) Note(e job.Event) {
	switch x := e.Body.(type) {
	case job.Entered:
		if l.touched[x.Stage] < x.Attempt {
			l.touched[x.Stage] = x.Attempt
			for _, st := range l.states(x.Stage, l.plan.Node(x.Stage).Stage.Sets) {
				l.set[st] = e.Seq
			}
		}
		if l.typed[x.Stage] == nil {
			l.typed[x.Stage] = map[string]string{}
		}
		l.typed[x.Stage][x.Check] = x.Answer
	case job.Signed:
		l.answered(x.Stage)
		if !x.Owed {
			l.complete[x.Stage] = e.Seq
		}
	case job.Countersigned:
		l.complete[x.Stage] = e.Seq
	case job.Reopened:
		l.answered(x.Stage)
		l.undo(x.Stage)
	case job.Declared:
		l.declared[x.State] = true
	case job.Abandoned:
		l.ended = true
	}
}

// answered lets the answers of the open attempt shape the job.
func (l *Ledger) answered(at procedures.Ref) {
	if l.answers[at] == nil {
		l.answers[at] = map[string]string{}
	}
	maps.Copy(l.answers[at], l.typed[at])
	delete(l.typed, at)
}

// undo takes back that a stage is complete, and what physically rests on it.
func (l *Ledger) undo(at procedures.Ref) {
	seen := map[procedures.Ref]bool{at: true}
	for queue := []procedures.Ref{at}; len(queue) > 0; queue = queue[1:] {
		delete(l.complete, queue[0])
		for _, r := range l.plan.Node(queue[0]).Disturbs {
			if !seen[r] {
				seen[r] = true
				queue = append(queue, r)
			}
		}
	}
}

// states are those of a stage by their names in the file.
func (l *Ledger) states(at procedures.Ref, ids []string) []procedures.StateRef {
	var out []procedures.StateRef
	for _, id := range ids {
		st := procedures.StateRef{State: id}
		if l.plan.Procedure.State(id).Sided {
			st.Side = at.Side
		}
		out = append(out, st)
	}
	return out
}

// clears are the states that a stage puts back.
func (l *Ledger) clears(n *procedures.Node) []procedures.StateRef {
	var ids []string
	for _, cl := range n.Stage.Clears {
		ids = append(ids, cl.State)
	}
	return l.states(n.Ref, ids)
}

// Open are the states that stand: set, and put back by no stage that is complete since.
func (l *Ledger) Open() map[procedures.StateRef]bool {
	out := map[procedures.StateRef]bool{}
	for st := range l.set {
		out[st] = true
	}
	for i := range l.plan.Nodes {
		done, ok := l.complete[l.plan.Nodes[i].Ref]
		if !ok {
			continue
		}
		for _, st := range l.clears(&l.plan.Nodes[i]) {
			if done > l.set[st] {
				delete(out, st)
			}
		}
	}
	return out
}

// Forbids says why an entry or a signature must be refused, or nothing.
func (l *Ledger) Forbids(want job.Intent) string {
	switch x := want.(type) {
	case job.Enter:
		n := l.plan.Node(x.Stage)
		if why := l.misplaced(n); why != "" || n.Stage.Early {
			return why
		}
		return l.tooEarly(n)
	case job.Sign:
		n := l.plan.Node(x.Stage)
		if why := l.misplaced(n); why != "" {
			return why
		}
		if n.Stage.Act == procedures.Release {
			open := l.Open()
			for _, st := range l.clears(n) {
				delete(open, st)
			}
			for st := range open {
				if !l.declared[st] {
					return fmt.Sprintf("%s stands", st)
				}
			}
		}
		return l.tooEarly(n)
	}
	return ""
}

// tooEarly names a stage before this one that is part of the job and not complete.
func (l *Ledger) tooEarly(n *procedures.Node) string {
	if l.ended {
		return ""
	}
	applies := l.plan.Applicability(func(r procedures.Ref, check string) (string, bool) {
		a, ok := l.answers[r][check]
		return a, ok
	})
	for i := range l.plan.Nodes {
		before := l.plan.Nodes[i].Ref
		if _, done := l.complete[before]; !done && applies[i] != procedures.NotApplicable && l.plan.Before(before, n.Ref) {
			return fmt.Sprintf("%s comes before and is not complete", before)
		}
	}
	return ""
}

// misplaced names a state in the way of a stage, or one that it needs and that does not stand.
func (l *Ledger) misplaced(n *procedures.Node) string {
	open := l.Open()
	meets := func(st procedures.StateRef, id string) bool {
		return st.State == id && (st.Side == procedures.NoSide || n.Ref.Side == procedures.NoSide || st.Side == n.Ref.Side)
	}
	for st := range open {
		if l.declared[st] {
			continue
		}
		for _, id := range n.Stage.NeedsShut {
			if meets(st, id) {
				return fmt.Sprintf("%s stands", st)
			}
		}
		for _, id := range n.Stage.OtherShut {
			if st.State == id && st.Side == n.Ref.Side.Other() {
				return fmt.Sprintf("%s stands on the other side", st)
			}
		}
	}
	for _, id := range n.Stage.NeedsOpen {
		found := false
		for st := range open {
			found = found || meets(st, id)
		}
		if !found {
			return fmt.Sprintf("%s does not stand", id)
		}
	}
	return ""
}
