package procedures

import (
	"slices"
	"strings"
	"unicode/utf8"

	"bay.example/pawl/job/phrase"
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
				c.add(key, s.ID, "", "%s", phrase.Of("procedures.checkstage.check-number-has-the-id-an-id", k+1, ck.ID))
			case ids[ck.ID]:
				c.add(key, s.ID, "", "%s", phrase.Of("procedures.checkstage.check-stands-twice", ck.ID))
			}
			ids[ck.ID] = true
			c.check(s, ck)
		}
	}
}

func (c *checker) stageTexts(s *Stage) {
	for _, f := range []struct{ name, value string }{{"title", s.Title}, {"why", s.Why}, {"good", s.Good}} {
		if strings.TrimSpace(f.value) == "" {
			c.stage(s, "%s", phrase.Of("procedures.checkstage.has-no", f.name))
		}
	}
	if len(s.Steps) > 6 {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.has-steps-six-lines-are-what-a", len(s.Steps)))
	}
	for i, step := range s.Steps {
		if n := utf8.RuneCountInString(step); n > maxStep {
			c.stage(s, "%s", phrase.Of("procedures.checkstage.step-has-characters-fit-on-one-line", i+1, n, maxStep))
		}
	}
	if !slices.ContainsFunc(c.p.Phases, func(p Phase) bool { return p.ID == s.Phase }) {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.names-the-phase-which-the-file-does", s.Phase))
	}
}

func (c *checker) stageNames(s *Stage) {
	p := c.p
	known := func(what string, ids []string) {
		for _, id := range ids {
			if p.Stage(id) == nil {
				c.stage(s, "%s", phrase.Of("procedures.checkstage.names-the-unknown-stage", what, id))
			}
		}
	}
	known("after", s.After)
	known("disturbs", s.Disturbs)
	known("make_safe_after", s.MakeSafeAfter)
	for i, r := range s.Reworks {
		if slices.ContainsFunc(s.Reworks[:i], func(x Rework) bool { return x.ID == r.ID }) {
			c.stage(s, "%s", phrase.Of("procedures.checkstage.rework-stands-twice", r.ID))
		}
		known(phrase.Of("procedures.checkstage.rework", r.ID), r.Again)
		if r.Title == "" || len(r.Again) == 0 {
			c.stage(s, "%s", phrase.Of("procedures.checkstage.rework-needs-a-title-and-the-stages", r.ID))
		}
	}
	if !slices.Equal(s.IndependentOf, []string{"all"}) {
		known("independent_of", s.IndependentOf)
	}
	for _, list := range [][]string{s.Sets, s.NeedsOpen, s.NeedsShut, s.OtherShut} {
		for _, id := range list {
			if p.State(id) == nil {
				c.stage(s, "%s", phrase.Of("procedures.checkstage.names-the-unknown-state", id))
			}
		}
	}
	for _, id := range s.OtherShut {
		if st := p.State(id); st != nil && (!st.Sided || !s.Sided && s.SideTrait == "") {
			c.stage(s, "%s", phrase.Of("procedures.checkstage.other-shut-without-sides", id))
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
	if s.Figures != "" && !figuresForm.MatchString(s.Figures) {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.figures-is", s.Figures))
	}
	for _, list := range [][]string{s.Sets, clearsOf(s)} {
		for _, id := range list {
			if st := p.State(id); st != nil && st.Sided && !s.Sided && s.SideTrait == "" {
				c.stage(s, "%s", phrase.Of("procedures.checkstage.touches-the-state-which-stands-per-side", id))
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
		c.stage(s, "%s", phrase.Of("procedures.checkstage.clears-the-unknown-state", cl.State))
	}
	if len(cl.Proof) == 0 {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.clears-without-naming-the-checks-that-prove", cl.State))
	}
	for _, id := range cl.Proof {
		k := slices.IndexFunc(s.Checks, func(x Check) bool { return x.ID == id })
		switch {
		case k < 0:
			c.stage(s, "%s", phrase.Of("procedures.checkstage.clears-by-the-check-which-is-not", cl.State, id))
		case s.Checks[k].Optional:
			c.stage(s, "%s", phrase.Of("procedures.checkstage.clears-by-the-check-which-is-optional", cl.State, id))
		case len(s.Checks[k].When) > 0:
			c.stage(s, "%s", phrase.Of("procedures.checkstage.clears-by-the-check-which-some-vehicles", cl.State, id))
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
			c.stage(s, "%s", phrase.Of("procedures.checkstage.when-unknown", what, id))
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
		c.stage(s, "%s", phrase.Of("procedures.checkstage.when-a-condition-names-exactly-one-trait", named))
		return
	}
	if (len(w.Is) == 0) == (len(w.Not) == 0) {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.when-a-condition-on-has-either-is", w.Trait+w.Decision+w.Finding))
	}
	for _, v := range append(slices.Clone(w.Is), w.Not...) {
		if values != nil && !slices.Contains(values, v) {
			c.stage(s, "%s", phrase.Of("procedures.checkstage.when-is-not-one-of-the-values", shown(v), w.Trait+w.Decision+w.Finding, quoted(values)))
		}
	}
}

func (c *checker) sideTrait(s *Stage) {
	if s.Sided {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.has-both-sided-and-side-trait-one"))
	}
	t := slices.IndexFunc(c.p.Traits, func(x Trait) bool { return x.ID == s.SideTrait })
	if t < 0 {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.side-trait-names-the-unknown-trait", s.SideTrait))
		return
	}
	for _, v := range c.p.Traits[t].Values {
		if !slices.Contains([]string{SideNone, string(Left), string(Right), SideBoth}, v) {
			c.stage(s, "%s", phrase.Of("procedures.checkstage.side-trait-has-the-value-a-trait", s.SideTrait, shown(v)))
		}
	}
}

func (c *checker) stageRoles(s *Stage) {
	switch s.Who {
	case Apprentice, Mechanic, Foreman:
	default:
		c.stage(s, "%s", phrase.Of("procedures.checkstage.who-is-expected-apprentice-mechanic-or-foreman", s.Who))
	}
	switch s.Second {
	case SecondApprentice, SecondAlways, SecondNever:
	default:
		c.stage(s, "%s", phrase.Of("procedures.checkstage.second-is-expected-apprentice-always-or-never", s.Second))
	}
	if s.Hold && s.Second != SecondAlways && s.Who != Foreman && len(s.IndependentOf) == 0 {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.is-a-hold-point-that-nobody-else"))
	}
	if s.Hold && s.Second == SecondNever && s.Who == Apprentice {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.is-a-hold-point-that-an-apprentice"))
	}
	if slices.Contains(s.IndependentOf, s.ID) {
		c.stage(s, "%s", phrase.Of("procedures.checkstage.independent-of-names-the-stage-itself-so"))
	}
	switch s.Act {
	case NoAct:
	case Release:
		if s.Who != Foreman || s.Sided || s.SideTrait != "" {
			c.stage(s, "%s", phrase.Of("procedures.checkstage.releases-the-vehicle-only-the-foreman-does"))
		}
	case HandOver, Close:
		if s.Who == Apprentice {
			c.stage(s, "%s", phrase.Of("procedures.checkstage.is-not-for-an-apprentice", s.Act))
		}
	default:
		c.stage(s, "%s", phrase.Of("procedures.checkstage.act-is-expected-release-hand-over-or", s.Act))
	}
}

func (c *checker) check(s *Stage, k *Check) {
	at := func(format string, args ...any) {
		c.add("stage:"+s.ID+".check:"+k.ID, s.ID+"."+k.ID, "", format, args...)
	}
	if strings.TrimSpace(k.Title) == "" {
		at("%s", phrase.Of("procedures.checkstage.has-no-title"))
	}
	switch k.Kind {
	case Confirm, Text, Part:
	case Choice:
		c.choice(at, k)
	case Count:
		if k.Same != "" {
			id, check, _ := strings.Cut(k.Same, ".")
			if st := c.p.Stage(id); st == nil || !slices.ContainsFunc(st.Checks, func(x Check) bool { return x.ID == check && x.Kind == Count && len(x.When) == 0 }) {
				at("%s", phrase.Of("procedures.checkstage.same-names-which-is-no-count-check", k.Same))
			}
		}
	case Torque:
		if k.Group == "" || k.Window == "" {
			at("%s", phrase.Of("procedures.checkstage.a-torque-check-needs-a-fastener-group"))
		}
		if len(k.Tools) == 0 {
			at("%s", phrase.Of("procedures.checkstage.a-torque-check-names-the-kinds-of"))
		}
	case Thickness, RunOut:
		if k.Window == "" && k.Nominal == "" && k.Unit == "" {
			at("%s", phrase.Of("procedures.checkstage.a-check-needs-a-window-the-nominal", k.Kind))
		}
		if n := max(len(k.Points), k.NumPoints); n < 2 || n > 64 || (len(k.Points) > 0 && k.NumPoints > 0) {
			at("%s", phrase.Of("procedures.checkstage.a-check-lists-its-points-or-gives", k.Kind))
		}
		if len(k.Tools) == 0 {
			at("%s", phrase.Of("procedures.checkstage.a-check-names-the-kinds-of-instrument", k.Kind))
		}
	case Reading:
		if k.Window == "" && k.Unit == "" {
			at("%s", phrase.Of("procedures.checkstage.a-reading-needs-a-window-or-a"))
		}
	default:
		at("%s", phrase.Of("procedures.checkstage.kind-is-expected-confirm-choice-count-torque", k.Kind))
	}
	c.tools(at, k)
	c.keysOfKind(at, k)
	c.set(at, k)
	c.passNo(at, k)
	if k.Group != "" && k.Kind != Torque && k.Kind != Reading {
		at("%s", phrase.Of("procedures.checkstage.names-a-fastener-group-which-only-a"))
	}
	if k.Adapter && k.Kind != Torque {
		at("%s", phrase.Of("procedures.checkstage.asks-for-an-adapter-which-only-a"))
	}
	if k.Unit != "" && quantity.Unit(k.Unit).Dimension() == "" {
		at("%s", phrase.Of("procedures.checkstage.unit-is-not-known-expected-one-such", shown(k.Unit)))
	}
	for _, w := range k.When {
		if w.Trait == "" {
			at("%s", phrase.Of("procedures.checkstage.only-traits-may-leave-a-check-out"))
		}
	}
	if len(k.When) > 0 && (k.Finding != "" || k.Decision != "") {
		at("%s", phrase.Of("procedures.checkstage.records-a-finding-or-a-decision-so"))
	}
	if k.Reckon != "" && !slices.Contains(ReckonWords, k.Reckon) {
		at("%s", phrase.Of("procedures.checkstage.reckon-is-expected-one-of", k.Reckon, quoted(ReckonWords)))
	}
	if k.Against != "" {
		c.against(at, s, k)
	} else if k.Compare != "" && !s.Sided && s.SideTrait == "" {
		at("%s", phrase.Of("procedures.checkstage.compares-left-with-right-but-the-stage"))
	}
	if k.Kind != Choice && (k.Finding != "" || k.Decision != "") {
		at("%s", phrase.Of("procedures.checkstage.only-a-choice-records-a-finding-or"))
	}
}

func (c *checker) against(at func(string, ...any), s *Stage, k *Check) {
	i := slices.IndexFunc(s.Checks, func(x Check) bool { return x.ID == k.Against })
	switch {
	case k.Compare == "":
		at("%s", phrase.Of("procedures.checkstage.has-against-but-no-window-in-compare"))
	case i < 0 || s.Checks[i].ID == k.ID:
		at("%s", phrase.Of("procedures.checkstage.is-held-against-which-is-no-other", k.Against))
	case s.Checks[i].Kind != k.Kind:
		at("%s", phrase.Of("procedures.checkstage.is-a-held-against-which-is-a", k.Kind, k.Against, s.Checks[i].Kind))
	}
}

func (c *checker) choice(at func(string, ...any), k *Check) {
	if len(k.Options) < 2 || len(k.Options) > 9 {
		at("%s", phrase.Of("procedures.checkstage.a-choice-has-two-to-nine-options", len(k.Options)))
	}
	c.distinct(at, "options", k.Options)
	for _, v := range k.Pass {
		if !slices.Contains(k.Options, v) {
			at("%s", phrase.Of("procedures.checkstage.pass-names-which-is-not-among-the", shown(v)))
		}
	}
	if k.Finding != "" && k.Decision != "" {
		at("%s", phrase.Of("procedures.checkstage.records-a-finding-and-a-decision-a"))
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
			at("%s", phrase.Of("procedures.checkstage.records-the-unknown", q.what, q.id))
			continue
		}
		for _, v := range k.Options {
			if !slices.Contains(q.list[i].Values, v) {
				at("%s", phrase.Of("procedures.checkstage.offers-which-is-not-a-value-of", shown(v), q.what, q.id))
			}
		}
		if k.Optional {
			at("%s", phrase.Of("procedures.checkstage.records-the-so-it-cannot-be-optional", q.what, q.id))
		}
	}
}
