package procedures

import (
	"strings"
	"testing"
)

// Each stage is drawn once, behind everything it waits for, and its ways back imply all of after.
func TestDrawLaysOutEveryProcedure(t *testing.T) {
	ps, err := Library()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ps {
		g, err := buildGraph(p)
		if err != nil {
			t.Fatal(err)
		}
		drawn, err := Draw(p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(drawn) != len(g.nodes) {
			t.Errorf("%s: %d drawn of %d", p.ID, len(drawn), len(g.nodes))
		}
		at := map[Ref]Drawn{}
		for i, d := range drawn {
			if i > 0 && d.Layer < drawn[i-1].Layer {
				t.Errorf("%s: %s stands above its layer", p.ID, d.Ref)
			}
			at[d.Ref] = d
		}
		var behind func(a, b Ref) bool
		behind = func(a, b Ref) bool {
			for _, r := range at[b].After {
				if r == a || behind(a, r) {
					return true
				}
			}
			return false
		}
		for _, d := range drawn {
			for _, k := range g.nodes[g.index[d.Ref]].after {
				before := g.nodes[k].ref
				if at[before].Layer >= d.Layer || !behind(before, d.Ref) {
					t.Errorf("%s: %s is not drawn behind %s", p.ID, d.Ref, before)
				}
			}
		}
	}
}

func TestDrawForAVehicle(t *testing.T) {
	p, s := shippedPair(t, "demo-minibus")
	plan, err := Resolve(p, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	drawn, err := Draw(p, plan.Traits)
	if err != nil {
		t.Fatal(err)
	}
	if len(drawn) != len(plan.Nodes) {
		t.Errorf("%d drawn, the vehicle has %d", len(drawn), len(plan.Nodes))
	}
	for _, d := range drawn {
		if plan.Node(d.Ref) == nil {
			t.Errorf("%s is drawn, the vehicle does not have it", d.Ref)
		}
		if strings.Contains(d.When, "parking-brake is") {
			t.Errorf("%s still asks for a trait: %s", d.Ref, d.When)
		}
	}
	for _, bad := range []map[string]string{{"wings": "two"}, {"height-control": "sometimes"}} {
		if _, err := Draw(p, bad); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

func TestConditionInWords(t *testing.T) {
	for _, c := range []struct {
		cond Condition
		want string
	}{
		{Condition{Decision: "cylinders", Is: []string{"wet, both are replaced"}}, `cylinders is "wet, both are replaced"`},
		{Condition{Finding: "slides", Not: []string{"free", "stiff"}}, `slides is not "free" or "stiff"`},
	} {
		if got := c.cond.String(); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}
