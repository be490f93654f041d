package procedures

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// Drawn is a stage on a side as a drawing or a preview shows it.
type Drawn struct {
	Ref    Ref
	Stage  *Stage
	Layer  int        // 1 for stages that wait for nothing, else one more than the latest it waits for
	After  []Ref      // the stages right before, without those that others of them imply
	Sets   []StateRef // what it leaves standing
	Clears []StateRef
	When   string // what still decides whether it is part of the job, in words; empty: always
}

// Draw lays the stages of a procedure out in layers, for the vehicles whose traits have the values
// given. Traits not given stay open: stages some vehicle has are drawn with what decides. It serves
// as the preview of a vehicle's stages when every trait is given. An unknown trait or value is a
// Fault, and so is a loop.
func Draw(p *Procedure, traits map[string]string) ([]Drawn, error) {
	for _, id := range sortedKeys(traits) {
		i := slices.IndexFunc(p.Traits, func(t Trait) bool { return t.ID == id })
		if i < 0 {
			return nil, Faults{{File: p.file, Text: phrase.Of("procedures.drawing.the-procedure-asks-for-no-trait", p.ID, id)}}
		}
		if t := p.Traits[i]; !slices.Contains(t.Values, traits[id]) {
			return nil, Faults{{File: p.file, Text: phrase.Of("procedures.checksheet.trait-has-the-value-expected-one-of", id, shown(traits[id]), quoted(t.Values))}}
		}
	}
	g, err := buildGraph(p)
	if err != nil {
		return nil, err
	}
	exists := make([]bool, len(g.nodes))
	for i, n := range g.nodes {
		exists[i] = n.mayExist(traits)
	}
	var out []Drawn
	place := map[Ref]int{}
	for i, n := range g.nodes {
		if !exists[i] {
			continue
		}
		d := Drawn{Ref: n.ref, Stage: n.stage, Layer: 1, When: n.words(traits)}
		before := g.through(i, exists)
		for _, k := range before {
			implied := slices.ContainsFunc(before, func(o int) bool { return o != k && g.ancestors[o].has(k) })
			if !implied {
				d.After = append(d.After, g.nodes[k].ref)
			}
			d.Layer = max(d.Layer, out[place[g.nodes[k].ref]].Layer+1)
		}
		for _, id := range n.stage.Sets {
			d.Sets = append(d.Sets, p.stateRef(id, n.ref.Side))
		}
		for _, id := range clearsOf(n.stage) {
			d.Clears = append(d.Clears, p.stateRef(id, n.ref.Side))
		}
		place[d.Ref] = len(out)
		out = append(out, d)
	}
	slices.SortStableFunc(out, func(a, b Drawn) int { return a.Layer - b.Layer })
	return out, nil
}

// mayExist reports whether some vehicle with those traits has the stage on that side.
func (n gnode) mayExist(traits map[string]string) bool {
	if v, ok := traits[n.stage.SideTrait]; n.stage.SideTrait != "" && ok && v != string(n.ref.Side) && v != SideBoth {
		return false
	}
	for _, c := range n.stage.When {
		if v, ok := traits[c.Trait]; c.Trait != "" && ok && !c.admits(v) {
			return false
		}
	}
	return true
}

// words says what the traits given leave open.
func (n gnode) words(traits map[string]string) string {
	var parts []string
	if _, ok := traits[n.stage.SideTrait]; n.stage.SideTrait != "" && !ok {
		parts = append(parts, phrase.Of("procedures.drawing.is-or", n.stage.SideTrait, n.ref.Side, SideBoth))
	}
	for _, c := range n.stage.When {
		if _, ok := traits[c.Trait]; c.Trait != "" && ok {
			continue
		}
		parts = append(parts, c.String())
	}
	return strings.Join(parts, "; ")
}

// String is the condition in words: scope is "all" or "pads only"; springs is not "steel".
func (c Condition) String() string {
	id := c.Trait + c.Finding + c.Decision
	if len(c.Is) > 0 {
		return phrase.Of("procedures.drawing.is", id, alternatives(c.Is))
	}
	return phrase.Of("procedures.drawing.is-not", id, alternatives(c.Not))
}

// alternatives lists values of which any will do.
func alternatives(values []string) string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = shown(v)
	}
	return strings.Join(out, " "+phrase.Of("procedures.drawing.or")+" ")
}
