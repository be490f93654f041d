package walk_test

import (
	"slices"
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// lent is a sheet with the figures of the other sheets where it has none (the van has no height
// control), and of a hub nut that no shipped sheet has. All invented.
func lent(s *procedures.Sheet, others []*procedures.Sheet) *procedures.Sheet {
	out := *s
	source := s.Sources[0].ID
	out.Windows = lend(out.Windows, []procedures.SpecWindow{{ID: "hub-nut-torque", Title: "Hub nut", Value: "190..210 N·m", Source: source}}, func(x procedures.SpecWindow) string { return x.ID })
	out.Groups = lend(out.Groups, []procedures.Group{{ID: "hub-nut", Title: "Hub nut", Names: []string{"nut"}, SingleUse: true, Source: source}}, func(x procedures.Group) string { return x.ID })
	for _, o := range others {
		out.Sources = lend(out.Sources, o.Sources, func(x procedures.Source) string { return x.ID })
		out.Windows = lend(out.Windows, o.Windows, func(x procedures.SpecWindow) string { return x.ID })
		out.Groups = lend(out.Groups, o.Groups, func(x procedures.Group) string { return x.ID })
		out.Counts = lend(out.Counts, o.Counts, func(x procedures.SpecCount) string { return x.ID })
		out.Parts = lend(out.Parts, o.Parts, func(x procedures.SpecPart) string { return x.ID })
	}
	return &out
}

func lend[T any](have, more []T, id func(T) string) []T {
	have = slices.Clone(have)
	for _, x := range more {
		if !slices.ContainsFunc(have, func(y T) bool { return id(y) == id(x) }) {
			have = append(have, x)
		}
	}
	return have
}

// TestEveryTraitIsWalked walks every procedure, on a vehicle with each value of each trait it claims,
// to its release, with the figures of a sheet that serves it.
func TestEveryTraitIsWalked(t *testing.T) {
	if testing.Short() || raced {
		t.Skip("hundreds of walks; .ci/run has them without the race detector")
	}
	ps, ss := library(t)
	for _, p := range ps {
		t.Run(p.ID, func(t *testing.T) {
			t.Parallel()
			for _, trait := range p.Traits {
				for _, v := range trait.Values {
					name, traits := trait.ID+" "+v, map[string]string{trait.ID: v}
					var plan *procedures.Plan // on the vehicle that has the most to do
					for _, s := range ss {
						if !s.ServesProcedure(p.ID) {
							continue
						}
						x, err := procedures.Resolve(p, lent(s, ss), traits)
						if err != nil {
							t.Fatalf("%s on %s: %v", name, s.ID, err)
						}
						if plan == nil || len(x.Nodes) > len(plan.Nodes) {
							plan = x
						}
					}
					b := open(t, name, plan, nil)
					b.run(func(int) {})
					if got := b.card.Outcome(); got != job.OutcomeReleased {
						t.Errorf("%s: ended %q", name, got)
					}
				}
			}
		})
	}
}
