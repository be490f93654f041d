package paper

import (
	"slices"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// span is one time a state stood: opened by the first entry of a stage that sets it, put back by
// the signature, and where owed the countersignature, of a stage that clears it.
type span struct {
	ref    procedures.StateRef
	state  *procedures.State
	opened job.Mark
	at     procedures.Ref
	back   *job.Mark // nil while it stands
	backAt procedures.Ref
	again  bool // what put it back was disturbed, so that it stands again
}

// turnOf is one opening or closing of a state.
type turnOf struct {
	ref  procedures.StateRef
	mark job.Mark
	at   procedures.Ref
	open bool
}

// spans lists every time a state stood, in the order of opening.
func spans(c *job.Card) []span {
	var turns []turnOf
	for i := range c.Stages {
		s := &c.Stages[i]
		for k := range s.Attempts {
			a := &s.Attempts[k]
			for _, ref := range s.Node.Sets {
				if len(a.Entries) > 0 {
					turns = append(turns, turnOf{ref, a.Entries[0].Mark, s.Node.Ref, true})
				}
			}
			done := a.Signed
			if a.Owed && done != nil {
				done = a.Countersigned
			}
			for _, cl := range s.Node.Clears {
				if done != nil {
					turns = append(turns, turnOf{cl.State, *done, s.Node.Ref, false})
				}
			}
		}
	}
	slices.SortStableFunc(turns, func(a, b turnOf) int { return int(a.mark.Seq) - int(b.mark.Seq) })
	var out []span
	open := map[procedures.StateRef]int{}
	for _, t := range turns {
		i, standing := open[t.ref]
		switch {
		case t.open && !standing:
			open[t.ref] = len(out)
			out = append(out, span{ref: t.ref, state: c.Plan.Procedure.State(t.ref.State), opened: t.mark, at: t.at})
		case !t.open && standing:
			m := t.mark
			out[i].back, out[i].backAt = &m, t.at
			delete(open, t.ref)
		}
	}
	for _, st := range c.Open {
		if _, ok := open[st.Ref]; !ok {
			out = append(out, span{ref: st.Ref, state: st.State, opened: st.Since, at: st.SetAt, again: true})
		}
	}
	return out
}

// name is the state with its side spelled out.
func (s span) name() string { return stateName(s.state, s.ref) }

func stateName(st *procedures.State, ref procedures.StateRef) string {
	text := ref.State
	if st != nil {
		text = st.Title
	}
	if ref.Side != procedures.NoSide {
		text += ", " + phrase.Word(ref.Side)
	}
	return text
}
