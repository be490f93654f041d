package fastening

import (
	"slices"
	"testing"
)

func wheel(t *testing.T, n int) Group {
	t.Helper()
	order, err := StarOrder(n)
	if err != nil {
		t.Fatal(err)
	}
	return Group{Noun: "wheel nut", Order: order, Passes: 2}
}

// pulls numbers a list in its order.
func pulls(list ...Pull) []Pull {
	for i := range list {
		list[i].Sequence = i + 1
	}
	return list
}

func pass(p int, fasteners ...int) []Pull {
	var list []Pull
	for _, f := range fasteners {
		list = append(list, Pull{Act: Tightened, Fastener: f, Pass: p})
	}
	return list
}

var stop = Pull{Act: Interrupted}

func join(parts ...[]Pull) []Pull { return pulls(slices.Concat(parts...)...) }

// Source: trade.md 4.6 and acceptance cases 3 and 19, worked example, workshop
// paper, invented demo values.
func TestGroupTorque(t *testing.T) {
	g := wheel(t, 6)
	full := []int{1, 4, 2, 5, 3, 6}
	for _, tc := range []struct {
		name     string
		pulls    []Pull
		want     Progress
		sentence string
	}{
		{"nothing yet", nil, Progress{Pass: 1, Next: 1, Missing: full},
			"Pass 1: 0 of 6 recorded, missing wheel nuts 1, 4, 2, 5, 3 and 6."},
		{"five of six", join(pass(1, 1, 4, 2, 5, 3)), Progress{Pass: 1, Next: 6, Missing: []int{6}},
			"Pass 1: 5 of 6 recorded, missing wheel nut 6."},
		{"pass 1 done", join(pass(1, full...)), Progress{Pass: 2, Next: 1, Missing: full}, ""},
		{"all done", join(pass(1, full...), pass(2, full...)), Progress{Pass: 2, Complete: true},
			"All 6 recorded in 2 of 2 passes: wheel nuts 1, 4, 2, 5, 3 and 6."},
		{"second pull", join(pass(1, 1, 4, 2, 2)), Progress{Pass: 1, Next: 5, Missing: []int{5, 3, 6}, Findings: []Finding{
			{4, SecondPull, "wheel nut 2 already tightened in pass 1: second pull? mark it as a check"}}}, ""},
		{"marked as a check", join(pass(1, 1, 4), []Pull{{Act: Checked, Fastener: 4, Pass: 1}}, pass(1, 2)),
			Progress{Pass: 1, Next: 5, Missing: []int{5, 3, 6}}, ""},
		{"check of nothing", join([]Pull{{Act: Checked, Fastener: 4, Pass: 1}}), Progress{Pass: 1, Next: 1, Missing: full, Findings: []Finding{
			{1, NothingToCheck, "wheel nut 4 is not yet tightened in pass 1, there is nothing to check"}}}, ""},
		{"pass 2 before pass 1", join(pass(1, 1, 4, 2, 5), pass(2, 1)), Progress{Pass: 1, Next: 3, Missing: []int{3, 6}, Findings: []Finding{
			{5, EarlyPass, "pass 2 before pass 1 is complete: missing wheel nuts 3 and 6"}}}, ""},
		{"pass 1 again after pass 1", join(pass(1, full...), pass(1, 1)), Progress{Pass: 2, Next: 1, Missing: full, Findings: []Finding{
			{7, SecondPull, "wheel nut 1 already tightened in pass 1: second pull? mark it as a check"}}}, ""},
		{"out of order counts and is named", join(pass(1, 1, 2)), Progress{Pass: 1, Next: 4, Missing: []int{4, 5, 3, 6}, Findings: []Finding{
			{2, OutOfOrder, "wheel nut 2 tightened where wheel nut 4 was expected"}}}, ""},
		{"stopped after nut 4 of pass 2", join(pass(1, full...), pass(2, 1, 4, 2, 5), []Pull{stop}),
			Progress{Pass: 2, Next: 1, Missing: full, Restarted: true}, "Pass 2 was interrupted: do all of it again, starting with wheel nut 1."},
		{"pass 2 again from nut 1", join(pass(1, full...), pass(2, 1, 4, 2, 5), []Pull{stop}, pass(2, 1)),
			Progress{Pass: 2, Next: 4, Missing: []int{4, 2, 5, 3, 6}}, ""},
		{"and through", join(pass(1, full...), pass(2, 1, 4, 2, 5), []Pull{stop}, pass(2, full...)), Progress{Pass: 2, Complete: true}, ""},
		{"stopped between passes", join(pass(1, full...), []Pull{stop}), Progress{Pass: 2, Next: 1, Missing: full}, ""},
		{"stopped when done", join(pass(1, full...), pass(2, full...), []Pull{stop}), Progress{Pass: 2, Complete: true}, ""},
		{"stopped before the first", join([]Pull{stop}, pass(1, 1)), Progress{Pass: 1, Next: 4, Missing: []int{4, 2, 5, 3, 6}}, ""},
		{"one too many", join(pass(1, 1), pass(1, 7), pass(3, 4), []Pull{{Act: "clicked", Fastener: 4, Pass: 1}}),
			Progress{Pass: 1, Next: 4, Missing: []int{4, 2, 5, 3, 6}, Findings: []Finding{
				{2, NoSuchPull, "there is no wheel nut 7, expected 1 to 6"},
				{3, NoSuchPull, "there is no pass 3, expected 1 to 2"},
				{4, NoSuchPull, `"clicked" is not known, expected tightened, checked, interrupted or renewed`}}}, ""},
		{"a new stud in pass 2", join(pass(1, full...), pass(2, 1), []Pull{{Act: Renewed, Fastener: 4}}),
			Progress{Pass: 1, Next: 4, Missing: []int{4}}, "Pass 1: 5 of 6 recorded, missing wheel nut 4."},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got, err := g.Check(tc.pulls)
			if err != nil {
				t.Fatal(err)
			}
			diff(t, tc.want, got)
			if tc.sentence != "" {
				diff(t, tc.sentence, g.Sentence(got))
			}
		})
	}
}

// Source: trade.md 4.2, worked example, workshop paper, invented demo values.
func TestGroupNamesTheMissingBolt(t *testing.T) {
	g := Group{Noun: "carrier bolt", Order: []int{1, 2, 3, 4}, Passes: 1,
		Names: []string{"left upper", "left lower", "right upper", "right lower"}}
	got, err := g.Check(join(pass(1, 1, 2, 4)))
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "Pass 1: 3 of 4 recorded, missing carrier bolt right upper.", g.Sentence(got))
	diff(t, []Finding{{3, OutOfOrder, "carrier bolt right lower tightened where carrier bolt right upper was expected"}}, got.Findings)
}

// The list is walked by running number, not by place.
func TestGroupWalksByRunningNumber(t *testing.T) {
	g := wheel(t, 4)
	list := join(pass(1, 1, 3, 2, 4), pass(2, 1))
	slices.Reverse(list)
	got, err := g.Check(list)
	if err != nil {
		t.Fatal(err)
	}
	diff(t, Progress{Pass: 2, Next: 3, Missing: []int{3, 2, 4}}, got)
	list = append(list, Pull{Sequence: 5, Act: Tightened, Fastener: 3, Pass: 2})
	got, err = g.Check(list)
	if err != nil {
		t.Fatal(err)
	}
	diff(t, []Finding{{5, NoSuchPull, "running number 5 is used twice"}}, got.Findings)
}

// Source: trade.md 4.3 and 3 (P8.5: four hub bolts, torque then angle), worked
// example, workshop paper, invented demo values.
func TestGroupTorqueAndAngle(t *testing.T) {
	g := Group{Noun: "hub bolt", Order: []int{1, 3, 2, 4}, Passes: 2, AngleFrom: 2}
	snug := pass(1, 1, 3, 2, 4)
	renew := func(f int) []Pull { return []Pull{{Act: Renewed, Fastener: f}} }
	for _, tc := range []struct {
		name  string
		pulls []Pull
		want  Progress
	}{
		{"lunch between snug and angle", join(snug, []Pull{stop}),
			Progress{Pass: 1, Next: 1, Missing: []int{1, 3, 2, 4}, Renew: []int{1, 2, 3, 4}}},
		{"power cut after two angles", join(snug, pass(2, 1, 3), []Pull{stop}),
			Progress{Pass: 1, Next: 2, Missing: []int{2, 4}, Renew: []int{2, 4}}},
		{"pulled without a new bolt", join(snug, pass(2, 1, 3), []Pull{stop}, pass(2, 2)),
			Progress{Pass: 1, Next: 2, Missing: []int{2, 4}, Renew: []int{2, 4}, Findings: []Finding{
				{8, NeedsNew, "hub bolt 2 was at snug when work was interrupted and its angle is unknown: fit a new one first"}}}},
		{"new bolts, snug, angle", join(snug, pass(2, 1, 3), []Pull{stop}, renew(2), renew(4), pass(1, 2, 4), pass(2, 2, 4)),
			Progress{Pass: 2, Complete: true}},
		{"new bolt turned before snug", join(snug, pass(2, 1, 3), []Pull{stop}, renew(2), renew(4), pass(2, 2)),
			Progress{Pass: 1, Next: 2, Missing: []int{2, 4}, Findings: []Finding{
				{10, EarlyPass, "pass 2 before pass 1 is complete: missing hub bolts 2 and 4"}}}},
		{"power cut in the snug pass", join(pass(1, 1, 3), []Pull{stop}),
			Progress{Pass: 1, Next: 1, Missing: []int{1, 3, 2, 4}, Renew: []int{1, 3}}},
		{"power cut when done", join(snug, pass(2, 1, 3, 2, 4), []Pull{stop}), Progress{Pass: 2, Complete: true}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got, err := g.Check(tc.pulls)
			if err != nil {
				t.Fatal(err)
			}
			diff(t, tc.want, got)
		})
	}
	stopped, err := g.Check(join(snug, pass(2, 1, 3), []Pull{stop}))
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "New fasteners needed: hub bolts 2 and 4; at snug when work was interrupted and the angle is unknown.", g.Sentence(stopped))

	// A torque pass before the snug pass restarts like any torque pass.
	three := Group{Noun: "hub bolt", Order: []int{1, 3, 2, 4}, Passes: 3, AngleFrom: 3}
	got, err := three.Check(join(pass(1, 1, 3), []Pull{stop}))
	if err != nil {
		t.Fatal(err)
	}
	diff(t, Progress{Pass: 1, Next: 1, Missing: []int{1, 3, 2, 4}, Restarted: true}, got)
}

func TestGroupRefusals(t *testing.T) {
	for _, tc := range []struct {
		group Group
		want  string
	}{
		{Group{Order: []int{1}, Passes: 1}, "has no name"},
		{Group{Noun: "bolt", Passes: 1}, "has 0 fasteners"},
		{Group{Noun: "bolt", Order: []int{1, 1}, Passes: 1}, "does not hold each of 1 to 2 once"},
		{Group{Noun: "bolt", Order: []int{1, 2}}, "has 0 passes"},
		{Group{Noun: "bolt", Order: []int{1, 2}, Passes: 2, AngleFrom: 1}, "from pass 1, expected a pass from 2 to 2"},
		{Group{Noun: "bolt", Order: []int{1, 2}, Passes: 2, AngleFrom: 3}, "from pass 3"},
		{Group{Noun: "bolt", Order: []int{1, 2}, Passes: 1, Names: []string{"front"}}, "has 1 names for 2 fasteners"},
	} {
		_, err := tc.group.Check(nil)
		refused(t, err, tc.want)
	}
}

func BenchmarkGroupCheck(b *testing.B) {
	order, err := StarOrder(10)
	if err != nil {
		b.Fatal(err)
	}
	g := Group{Noun: "wheel nut", Order: order, Passes: 2}
	list := join(pass(1, order...), pass(2, order...))
	for b.Loop() {
		if p, err := g.Check(list); err != nil || !p.Complete {
			b.Fatal("not complete")
		}
	}
}
