package procedures

import (
	"cmp"
	"slices"
)

// Applies says whether a stage is part of the job as far as is known.
type Applies uint8

// The answers of Applicability.
const (
	Undecided     Applies = iota // depends on a decision or a finding not made yet
	Applicable                   // part of the job
	NotApplicable                // left out
)

// Answer looks up what the choice check of a stage last recorded; ok is false when nothing yet.
type Answer func(stage Ref, check string) (value string, ok bool)

// Applicability works out, for every node in order, whether it is part of the job given the
// decisions and findings recorded so far. A finding whose stage is left out counts as never made,
// and a stage asking for it does not apply.
func (p *Plan) Applicability(answer Answer) []Applies {
	out := make([]Applies, len(p.Nodes))
	for i := range p.Nodes {
		out[i] = p.applies(i, out, answer)
	}
	return out
}

func (p *Plan) applies(i int, sofar []Applies, answer Answer) Applies {
	n := &p.Nodes[i]
	result := Applicable
	for _, c := range n.Stage.When {
		if c.Trait != "" {
			continue // settled in Resolve
		}
		switch p.holds(c, i, sofar, answer) {
		case NotApplicable:
			return NotApplicable
		case Undecided:
			result = Undecided
		}
	}
	return result
}

// holds weighs one condition of node i. For a stage of the whole vehicle a finding on either side
// counts.
func (p *Plan) holds(c Condition, i int, sofar []Applies, answer Answer) Applies {
	known, waiting, hit := false, false, false
	for _, r := range p.recorders[cmp.Or(c.Finding, c.Decision)] {
		rec := p.Nodes[r.node].Ref
		if !p.ancestors[i].has(r.node) || !sameSide(p.Nodes[i].Ref.Side, rec.Side) || sofar[r.node] == NotApplicable {
			continue
		}
		v, ok := answer(rec, r.check)
		if !ok {
			waiting = true
			continue
		}
		known = true
		if slices.Contains(c.Is, v) || slices.Contains(c.Not, v) {
			hit = true
		}
	}
	want := len(c.Is) > 0
	switch {
	case hit:
		if want {
			return Applicable
		}
		return NotApplicable
	case waiting:
		return Undecided
	case !known, want:
		return NotApplicable
	}
	return Applicable
}

// The values of a side trait besides left and right.
const (
	SideBoth = "both"
	SideNone = "none"
)

// existsOn reports whether the stage exists on that side of a vehicle with those traits.
func (s *Stage) existsOn(side Side, traits map[string]string) bool {
	if s.SideTrait == "" {
		return s.Sided == (side != NoSide)
	}
	v := traits[s.SideTrait]
	return side != NoSide && (v == string(side) || v == SideBoth)
}

func (s *Stage) traitsAllow(traits map[string]string) bool { return traitsAllow(s.When, traits) }

// traitsAllow weighs the conditions on traits and passes over the others.
func traitsAllow(when []Condition, traits map[string]string) bool {
	for _, c := range when {
		if c.Trait != "" && !c.admits(traits[c.Trait]) {
			return false
		}
	}
	return true
}

func (c Condition) admits(value string) bool {
	if len(c.Is) > 0 {
		return slices.Contains(c.Is, value)
	}
	return !slices.Contains(c.Not, value)
}
