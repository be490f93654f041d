package procedures

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawProcedure draws a small procedure without loops: two traits, two findings, two states, and
// stages that set, clear, record and ask at random. Most are unsound.
func drawProcedure(t *rapid.T) *Procedure {
	p := &Procedure{
		Format: Format, ID: "drawn", Title: "Drawn", Revision: "1",
		Phases:   []Phase{{ID: "work", Title: "Work"}},
		Traits:   []Trait{{ID: "springs", Title: "Springs", Values: []string{"steel", "air"}}, {ID: "sensor", Title: "Sensor", Values: []string{SideNone, string(Left), string(Right), SideBoth}}},
		Findings: []Question{{ID: "slides", Title: "Slides", Values: []string{"free", "seized"}}, {ID: "hose", Title: "Hose", Values: []string{"sound", "torn"}}},
		States:   []State{{ID: "raised", Title: "x", Danger: "x", Label: "x", IfStopped: "x"}, {ID: "hung", Title: "x", Danger: "x", Label: "x", IfStopped: "x", Sided: true}},
	}
	n := rapid.IntRange(2, 7).Draw(t, "stages")
	for i := range n {
		s := Stage{ID: fmt.Sprintf("stage-%c", 'a'+i), Title: "x", Phase: "work", Why: "x", Good: "x", Who: Mechanic, Second: SecondApprentice}
		switch rapid.IntRange(0, 4).Draw(t, "sides") {
		case 0:
			s.Sided = true
		case 1:
			s.SideTrait = "sensor"
		}
		sided := s.Sided || s.SideTrait != ""
		for k := range i {
			if rapid.IntRange(0, 2).Draw(t, "edge") > 0 {
				s.After = append(s.After, p.Stages[k].ID)
			}
		}
		if rapid.Bool().Draw(t, "records") {
			q := rapid.SampledFrom(p.Findings).Draw(t, "finding")
			pass := q.Values[:rapid.IntRange(1, 2).Draw(t, "pass")]
			s.Checks = append(s.Checks, Check{ID: "found", Kind: Choice, Title: "x", Options: q.Values, Pass: pass, Finding: q.ID})
		}
		if rapid.IntRange(0, 2).Draw(t, "asks") == 0 {
			q := rapid.SampledFrom(p.Findings).Draw(t, "asked")
			w := Condition{Finding: q.ID, Is: q.Values[1:]}
			if rapid.Bool().Draw(t, "not") {
				w = Condition{Finding: q.ID, Not: q.Values[1:]}
			}
			s.When = append(s.When, w)
		}
		if rapid.IntRange(0, 3).Draw(t, "trait") == 0 {
			s.When = append(s.When, Condition{Trait: "springs", Not: []string{"steel"}})
		}
		s.Checks = append(s.Checks, Check{ID: "done", Kind: Confirm, Title: "x"})
		for _, st := range p.States {
			if st.Sided && !sided {
				continue
			}
			switch rapid.IntRange(0, 3).Draw(t, st.ID) {
			case 0:
				s.Sets = append(s.Sets, st.ID)
			case 1, 2:
				s.Clears = append(s.Clears, Clear{State: st.ID, Proof: []string{"done"}})
			}
		}
		p.Stages = append(p.Stages, s)
	}
	last := Stage{ID: "let-go", Title: "x", Phase: "work", Why: "x", Good: "x", Who: Foreman, Second: SecondApprentice, Act: Release}
	for _, s := range p.Stages {
		last.After = append(last.After, s.ID)
	}
	// The order in the file says nothing about the order of work.
	p.Stages = append(rapid.Permutation(p.Stages).Draw(t, "order"), last)
	return p
}

// reaches walks backwards from b along after, the plain way.
func reaches(after func(int) []int, a, b int) bool {
	for _, d := range after(b) {
		if d == a || reaches(after, a, d) {
			return true
		}
	}
	return false
}

func TestClosureIsReachability(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProcedure(t)
		g, err := buildGraph(p)
		if err != nil {
			t.Fatal(err)
		}
		after := func(i int) []int { return g.nodes[i].after }
		for i, n := range g.nodes {
			for _, d := range n.after {
				if d >= i {
					t.Fatalf("%s stands before %s, which it comes after", n.ref, g.nodes[d].ref)
				}
			}
			if g.index[n.ref] != i {
				t.Fatalf("%s is indexed at %d, stands at %d", n.ref, g.index[n.ref], i)
			}
			for k := range g.nodes {
				if got, want := g.ancestors[i].has(k), reaches(after, k, i); got != want {
					t.Fatalf("%s before %s: closure %v, walk %v", g.nodes[k].ref, n.ref, got, want)
				}
			}
		}
	})
}

// everyWorld resolves the procedure for every vehicle and calls yield with the plan and what
// applies under every set of answers with which its stages can be signed.
func everyWorld(t *rapid.T, p *Procedure, yield func(plan *Plan, applies []Applies)) {
	sheet := &Sheet{ID: "none"}
	for _, springs := range p.Traits[0].Values {
		for _, sensor := range p.Traits[1].Values {
			plan, err := Resolve(p, sheet, map[string]string{"springs": springs, "sensor": sensor})
			if err != nil {
				t.Fatal(err)
			}
			say := map[string]string{}
			var ask func(i int)
			ask = func(i int) {
				if i == len(plan.Nodes) {
					yield(plan, plan.Applicability(answers(say)))
					return
				}
				ck := plan.Nodes[i].Check("found")
				if ck == nil {
					ask(i + 1)
					return
				}
				for _, v := range ck.Pass {
					say[plan.Nodes[i].Ref.String()+".found"] = v
					ask(i + 1)
				}
			}
			ask(0)
		}
	}
}

// putBack says for one world, straight from the resolved plan, whether every state that is set is
// put back behind its setter and by the release, and never put back ahead of it.
func putBack(plan *Plan, applies []Applies) bool {
	after := func(i int) []int {
		var out []int
		for _, r := range plan.Nodes[i].After {
			out = append(out, plan.Index(r))
		}
		return out
	}
	rel := plan.Index(plan.ReleaseRef())
	for s, setter := range plan.Nodes {
		if applies[s] != Applicable {
			continue
		}
		for _, ref := range setter.Sets {
			back := false
			for c, closer := range plan.Nodes {
				clears := slices.ContainsFunc(closer.Clears, func(x PlanClear) bool { return x.State == ref })
				if !clears || applies[c] != Applicable {
					continue
				}
				if c != s && !reaches(after, s, c) {
					return false
				}
				if c == s || c == rel || reaches(after, c, rel) {
					back = true
				}
			}
			if !back {
				return false
			}
		}
	}
	return true
}

func TestProofEqualsEnumeration(t *testing.T) {
	sound, unsound := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawProcedure(t)
		g, err := buildGraph(p)
		if err != nil {
			t.Fatal(err)
		}
		c := &checker{p: p, g: g}
		c.states()
		c.faults = slices.DeleteFunc(c.faults, func(f Fault) bool {
			// About names rather than combinations: a state nobody sets, a clearing of nothing.
			return f.Path == ""
		})
		want := true
		everyWorld(t, p, func(plan *Plan, applies []Applies) {
			if slices.Contains(applies, Undecided) {
				t.Fatal("a stage is undecided though every question is answered")
			}
			want = want && putBack(plan, applies)
		})
		if got := len(c.faults) == 0; got != want {
			t.Fatalf("checker says %v, enumeration says %v\n%v", got, want, c.faults)
		}
		if want {
			sound++
		} else {
			unsound++
		}
	})
	if !testing.Short() && (sound == 0 || unsound == 0) { // -short draws a fifth as many
		t.Errorf("%d sound and %d unsound procedures drawn; both kinds are needed", sound, unsound)
	}
}

// Where the checker finds nothing wrong with states, no stage is left waiting for one: walking the
// plan in order, every state a stage needs is as it needs it, and none stands at the end.
func TestSoundProcedureNeverSticks(t *testing.T) {
	sound := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawProcedure(t)
		// Few drawn procedures put everything back: here the first stage always sets the one state
		// that is left, and the release always clears it.
		isHung := func(id string) bool { return id == "hung" }
		for i := range p.Stages {
			s := &p.Stages[i]
			s.Sets = slices.DeleteFunc(s.Sets, isHung)
			s.Clears = slices.DeleteFunc(s.Clears, func(c Clear) bool { return isHung(c.State) || rapid.Bool().Draw(t, "drop") })
			if s.ID == "stage-a" {
				s.Sets, s.Clears, s.When, s.Sided, s.SideTrait = []string{"raised"}, nil, nil, false, ""
				continue
			}
			if s.Act == Release {
				s.Checks = []Check{{ID: "done", Kind: Confirm, Title: "x"}}
				s.Clears = []Clear{{State: "raised", Proof: []string{"done"}}}
				continue
			}
			switch rapid.IntRange(0, 5).Draw(t, "needs") {
			case 0:
				s.NeedsOpen = []string{"raised"}
			case 1:
				s.NeedsShut = []string{"raised"}
			}
		}
		g, err := buildGraph(p)
		if err != nil {
			t.Fatal(err)
		}
		c := &checker{p: p, g: g}
		c.states()
		c.needs()
		if slices.ContainsFunc(c.faults, func(f Fault) bool { return f.Path != "" }) {
			return
		}
		needs := false
		everyWorld(t, p, func(plan *Plan, applies []Applies) {
			open := map[StateRef]bool{}
			for i, n := range plan.Nodes {
				if applies[i] != Applicable {
					continue
				}
				needs = needs || len(n.Stage.NeedsOpen) > 0
				for _, id := range n.Stage.NeedsOpen {
					if ref := (StateRef{State: id}); !open[ref] && !parallel(plan, applies, i, id) {
						t.Fatalf("%s needs %s open", n.Ref, ref)
					}
				}
				for _, id := range n.Stage.NeedsShut {
					if ref := (StateRef{State: id}); open[ref] && !parallel(plan, applies, i, id) {
						t.Fatalf("%s needs %s put back", n.Ref, ref)
					}
				}
				for _, ref := range n.Sets {
					open[ref] = true
				}
				for _, cl := range n.Clears {
					delete(open, cl.State)
				}
			}
			if len(open) > 0 {
				t.Fatalf("at the end %v stands open", open)
			}
		})
		if needs {
			sound++
		}
	})
	t.Logf("%d sound procedures walked", sound)
	if !testing.Short() && sound < 3 { // -short draws a fifth as many
		t.Error("hardly a sound procedure with a stage that needs a state was drawn, so little was walked")
	}
}

// parallel reports whether a stage that touches the state runs beside node i, so that the order of
// the walk decides and not the graph.
func parallel(plan *Plan, applies []Applies, i int, state string) bool {
	me := plan.Nodes[i].Ref
	for k, n := range plan.Nodes {
		touches := slices.Contains(n.Stage.Sets, state) || slices.Contains(clearsOf(n.Stage), state)
		if k != i && applies[k] == Applicable && touches && !plan.Before(n.Ref, me) && !plan.Before(me, n.Ref) {
			return true
		}
	}
	return false
}
