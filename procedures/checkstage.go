package procedures

import (
	"slices"
	"strings"
	"unicode/utf8"

	"bay.example/pawl/job/quantity"
)

// maxStep is what fits on a line of 80 columns beside its number.
const maxStep = 74

func (c *checker) stages() {
	for i := range c.p.Stages {
		s := &c.p.Stages[i]
		c.stageTexts(s)
		c.stageNames(s)
		c.stageRoles(s)
		ids := map[string]bool{}
		for k := range s.Checks {
			ck := &s.Checks[k]
			switch key := "stage:" + s.ID + ".check:" + ck.ID; {
			case !idForm.MatchString(ck.ID):
				c.add(key, s.ID, "", "check number %d has the id %+q; an id is lower-case letters, digits and single hyphens", k+1, ck.ID)
			case ids[ck.ID]:
				c.add(key, s.ID, "", "check %q stands twice", ck.ID)
			}
			ids[ck.ID] = true
			c.check(s, ck)
		}
	}
}

func (c *checker) stageTexts(s *Stage) {
	for _, f := range []struct{ name, value string }{{"title", s.Title}, {"why", s.Why}, {"good", s.Good}} {
		if strings.TrimSpace(f.value) == "" {
			c.stage(s, "has no %s", f.name)
		}
	}
	if len(s.Steps) > 6 {
		c.stage(s, "has %d steps; six lines are what a screen at the bay can show", len(s.Steps))
	}
	for i, step := range s.Steps {
		if n := utf8.RuneCountInString(step); n > maxStep {
			c.stage(s, "step %d has %d characters; %d fit on one line", i+1, n, maxStep)
		}
	}
	if !slices.ContainsFunc(c.p.Phases, func(p Phase) bool { return p.ID == s.Phase }) {
		c.stage(s, "names the phase %q, which the file does not define", s.Phase)
	}
}

func (c *checker) stageNames(s *Stage) {
	p := c.p
	known := func(what string, ids []string) {
		for _, id := range ids {
			if p.Stage(id) == nil {
				c.stage(s, "%s names the unknown stage %+q", what, id)
			}
		}
	}
	known("after", s.After)
	known("disturbs", s.Disturbs)
	known("make_safe_after", s.MakeSafeAfter)
	for _, r := range s.Reworks {
		known("rework "+r.ID, r.Again)
		if r.Title == "" || len(r.Again) == 0 {
			c.stage(s, "rework %q needs a title and the stages that are done again", r.ID)
		}
	}
	if !slices.Equal(s.IndependentOf, []string{"all"}) {
		known("independent_of", s.IndependentOf)
	}
	for _, list := range [][]string{s.Sets, s.NeedsOpen, s.NeedsShut} {
		for _, id := range list {
			if p.State(id) == nil {
				c.stage(s, "names the unknown state %+q", id)
			}
		}
	}
	for _, cl := range s.Clears {
		c.clear(s, cl)
	}
	for _, w := range s.When {
		c.condition(s, w)
	}
	for _, k := range s.Checks {
		for _, w := range k.When {
			c.condition(s, w)
		}
	}
	if s.SideTrait != "" {
		c.sideTrait(s)
	}
	for _, list := range [][]string{s.Sets, clearsOf(s)} {
		for _, id := range list {
			if st := p.State(id); st != nil && st.Sided && !s.Sided && s.SideTrait == "" {
				c.stage(s, "touches the state %q, which stands per side, but the stage has no sides", id)
			}
		}
	}
}

func clearsOf(s *Stage) []string {
	var out []string
	for _, c := range s.Clears {
		out = append(out, c.State)
	}
	return out
}

func (c *checker) clear(s *Stage, cl Clear) {
	if c.p.State(cl.State) == nil {
		c.stage(s, "clears the unknown state %+q", cl.State)
	}
	if len(cl.Proof) == 0 {
		c.stage(s, "clears %q without naming the checks that prove it", cl.State)
	}
	for _, id := range cl.Proof {
		k := slices.IndexFunc(s.Checks, func(x Check) bool { return x.ID == id })
		switch {
		case k < 0:
			c.stage(s, "clears %q by the check %q, which is not on this stage", cl.State, id)
		case s.Checks[k].Optional:
			c.stage(s, "clears %q by the check %q, which is optional and so proves nothing", cl.State, id)
		case len(s.Checks[k].When) > 0:
			c.stage(s, "clears %q by the check %q, which some vehicles do not have and so proves nothing", cl.State, id)
		}
	}
}

func (c *checker) condition(s *Stage, w Condition) {
	named, values := 0, []string(nil)
	find := func(what, id string, list []string, ok bool) {
		if id == "" {
			return
		}
		named++
		if !ok {
			c.stage(s, "when: unknown %s %q", what, id)
		}
		values = list
	}
	t := slices.IndexFunc(c.p.Traits, func(x Trait) bool { return x.ID == w.Trait })
	d := slices.IndexFunc(c.p.Decisions, func(x Question) bool { return x.ID == w.Decision })
	f := slices.IndexFunc(c.p.Findings, func(x Question) bool { return x.ID == w.Finding })
	pick := func(i int, get func(int) []string) []string {
		if i < 0 {
			return nil
		}
		return get(i)
	}
	find("trait", w.Trait, pick(t, func(i int) []string { return c.p.Traits[i].Values }), t >= 0)
	find("decision", w.Decision, pick(d, func(i int) []string { return c.p.Decisions[i].Values }), d >= 0)
	find("finding", w.Finding, pick(f, func(i int) []string { return c.p.Findings[i].Values }), f >= 0)
	if named != 1 {
		c.stage(s, "when: a condition names exactly one trait, decision or finding; this one names %d", named)
		return
	}
	if (len(w.Is) == 0) == (len(w.Not) == 0) {
		c.stage(s, "when: a condition on %q has either is = [...] or not = [...]", w.Trait+w.Decision+w.Finding)
	}
	for _, v := range append(slices.Clone(w.Is), w.Not...) {
		if values != nil && !slices.Contains(values, v) {
			c.stage(s, "when: %q is not one of the values of %[3]q: %[2]s", v, quoted(values), w.Trait+w.Decision+w.Finding)
		}
	}
}

func (c *checker) sideTrait(s *Stage) {
	if s.Sided {
		c.stage(s, "has both sided and side_trait; one of them says where it is done")
	}
	t := slices.IndexFunc(c.p.Traits, func(x Trait) bool { return x.ID == s.SideTrait })
	if t < 0 {
		c.stage(s, "side_trait names the unknown trait %q", s.SideTrait)
		return
	}
	for _, v := range c.p.Traits[t].Values {
		if !slices.Contains([]string{SideNone, string(Left), string(Right), SideBoth}, v) {
			c.stage(s, "side_trait %q has the value %q; a trait of sides has none, left, right or both", s.SideTrait, v)
		}
	}
}

func (c *checker) stageRoles(s *Stage) {
	switch s.Who {
	case Apprentice, Mechanic, Foreman:
	default:
		c.stage(s, "who is %q; expected apprentice, mechanic or foreman", s.Who)
	}
	switch s.Second {
	case SecondApprentice, SecondAlways, SecondNever:
	default:
		c.stage(s, "second is %q; expected apprentice, always or never", s.Second)
	}
	if s.Hold && s.Second != SecondAlways && s.Who != Foreman && len(s.IndependentOf) == 0 {
		c.stage(s, "is a hold point that nobody else looks at; it needs second = \"always\", who = \"foreman\" or independent_of")
	}
	if s.Hold && s.Second == SecondNever && s.Who == Apprentice {
		c.stage(s, "is a hold point that an apprentice could pass alone")
	}
	if slices.Contains(s.IndependentOf, s.ID) {
		c.stage(s, "independent_of names the stage itself, so nobody could ever sign it")
	}
	switch s.Act {
	case NoAct:
	case Release:
		if s.Who != Foreman || s.Sided || s.SideTrait != "" {
			c.stage(s, "releases the vehicle; only the foreman does that, for the whole vehicle")
		}
	case HandOver, Close:
		if s.Who == Apprentice {
			c.stage(s, "%s is not for an apprentice", s.Act)
		}
	default:
		c.stage(s, "act is %q; expected release, hand-over or close", s.Act)
	}
}

func (c *checker) check(s *Stage, k *Check) {
	at := func(format string, args ...any) {
		c.add("stage:"+s.ID+".check:"+k.ID, s.ID+"."+k.ID, "", format, args...)
	}
	if strings.TrimSpace(k.Title) == "" {
		at("has no title")
	}
	switch k.Kind {
	case Confirm, Text, Part:
	case Choice:
		c.choice(at, k)
	case Count:
		if k.Same != "" {
			id, check, _ := strings.Cut(k.Same, ".")
			if st := c.p.Stage(id); st == nil || !slices.ContainsFunc(st.Checks, func(x Check) bool { return x.ID == check && x.Kind == Count && len(x.When) == 0 }) {
				at("same names %q, which is no count check (stage.check) that every vehicle has", k.Same)
			}
		}
	case Torque:
		if k.Group == "" || k.Window == "" {
			at("a torque check needs a fastener group and a window")
		}
		if len(k.Tools) == 0 {
			at("a torque check names the kinds of tool that may give the value")
		}
	case Thickness, RunOut:
		if k.Window == "" && k.Nominal == "" && k.Unit == "" {
			at("a %s check needs a window, the nominal of a new part, or a unit when it is only kept", k.Kind)
		}
		if n := max(len(k.Points), k.NumPoints); n < 2 || n > 64 || (len(k.Points) > 0 && k.NumPoints > 0) {
			at("a %s check lists its points, or gives num_points from 2 to 64", k.Kind)
		}
		if len(k.Tools) == 0 {
			at("a %s check names the kinds of instrument that may give the value", k.Kind)
		}
	case Reading:
		if k.Window == "" && k.Unit == "" {
			at("a reading needs a window, or a unit when it is only kept")
		}
	default:
		at("kind is %q; expected confirm, choice, count, torque, thickness, run-out, reading, part or text", k.Kind)
	}
	if k.Group != "" && k.Kind != Torque && k.Kind != Reading {
		at("names a fastener group, which only a torque or a reading goes round")
	}
	if k.Adapter && k.Kind != Torque {
		at("asks for an adapter, which only a torque has")
	}
	if k.Unit != "" && quantity.Unit(k.Unit).Dimension() == "" {
		at("unit %q is not known; expected one such as mm, N·m, kN or %%", k.Unit)
	}
	for _, w := range k.When {
		if w.Trait == "" {
			at("only traits may leave a check out; move it to a stage of its own")
		}
	}
	if len(k.When) > 0 && (k.Finding != "" || k.Decision != "") {
		at("records a finding or a decision, so it cannot depend on a trait")
	}
	if k.Reckon != "" && !slices.Contains(ReckonWords, k.Reckon) {
		at("reckon is %q; expected one of %s", k.Reckon, quoted(ReckonWords))
	}
	if k.Against != "" {
		c.against(at, s, k)
	} else if k.Compare != "" && !s.Sided && s.SideTrait == "" {
		at("compares left with right, but the stage has no sides; name a check in against")
	}
	if k.Kind != Choice && (k.Finding != "" || k.Decision != "") {
		at("only a choice records a finding or a decision")
	}
}

func (c *checker) against(at func(string, ...any), s *Stage, k *Check) {
	i := slices.IndexFunc(s.Checks, func(x Check) bool { return x.ID == k.Against })
	switch {
	case k.Compare == "":
		at("has against but no window in compare")
	case i < 0 || s.Checks[i].ID == k.ID:
		at("is held against %q, which is no other check of this stage", k.Against)
	case s.Checks[i].Kind != k.Kind:
		at("is a %s held against %q, which is a %s", k.Kind, k.Against, s.Checks[i].Kind)
	}
}

func (c *checker) choice(at func(string, ...any), k *Check) {
	if len(k.Options) < 2 || len(k.Options) > 9 {
		at("a choice has two to nine options, one per digit key; this one has %d", len(k.Options))
	}
	for _, v := range k.Pass {
		if !slices.Contains(k.Options, v) {
			at("pass names %q, which is not among the options", v)
		}
	}
	if k.Finding != "" && k.Decision != "" {
		at("records a finding and a decision; a choice records one")
	}
	for _, q := range []struct {
		what, id string
		list     []Question
	}{{"finding", k.Finding, c.p.Findings}, {"decision", k.Decision, c.p.Decisions}} {
		if q.id == "" {
			continue
		}
		i := slices.IndexFunc(q.list, func(x Question) bool { return x.ID == q.id })
		if i < 0 {
			at("records the unknown %s %q", q.what, q.id)
			continue
		}
		for _, v := range k.Options {
			if !slices.Contains(q.list[i].Values, v) {
				at("offers %q, which is not a value of the %s %q", v, q.what, q.id)
			}
		}
		if k.Optional {
			at("records the %s %q, so it cannot be optional", q.what, q.id)
		}
	}
}
