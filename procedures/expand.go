package procedures

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// maxIncludes bounds the includes of a file, maxText the bytes of text all of them together bring
// in: a block included a hundred times with long values must not grow without end.
const (
	maxIncludes = 60
	maxText     = MaxFile / 2
)

// place is where something stands. Blocks are files of their own; what came from one also has the
// line of the procedure that brought it in, because that may be what is wrong.
type place struct {
	file string
	line int

	by      int  // the line of the include or change, 0 for what the procedure says itself
	changed bool // by is the line of a change
}

// path puts before what shows a fault which line of the procedure brought in what stands at the place.
func (at place) path(p *Procedure, shown string) string {
	if at.by == 0 {
		return shown
	}
	by := phrase.Of("procedures.expand.included-at", p.file, at.by)
	if at.changed {
		by = phrase.Of("procedures.expand.changed-at", p.file, at.by)
	}
	if shown == "" {
		return by
	}
	return by + "; " + shown
}

// expander puts blocks into a procedure.
type expander struct {
	p      *Procedure
	sc     *scanner
	find   Lookup
	faults Faults
	left   int // bytes of text that may still come in

	blocks map[string]*Block
	owners map[string]string // "state:raised" and the like to the block it came from
	loose  map[string]bool   // stages that came from a block: names with a question mark are settled there
}

// part is a run of stages: the file's own between two includes, or those of one include.
type part struct {
	line   int
	stages []Stage
}

// expand replaces the includes of a procedure by the stages of their blocks.
func (p *Procedure) expand(sc *scanner, find Lookup) error {
	p.places = map[string]place{}
	for key, line := range sc.lines {
		p.places[key] = place{file: p.file, line: line}
	}
	if len(p.Includes) == 0 {
		return nil
	}
	e := &expander{p: p, sc: sc, find: find, left: maxText, blocks: map[string]*Block{}, owners: map[string]string{}, loose: map[string]bool{}}
	if n := len(p.Includes); n > maxIncludes {
		return Faults{{File: p.file, Text: phrase.Of("procedures.expand.includes-at-most-are-taken", n, maxIncludes)}}
	}
	var parts []part
	for _, s := range p.Stages {
		parts = append(parts, part{sc.lines["stage:"+s.ID], []Stage{s}})
	}
	for i := range p.Includes {
		line := 0
		if i < len(sc.includes) {
			line = sc.includes[i]
		}
		parts = append(parts, part{line, e.include(&p.Includes[i], i, line)})
		if len(e.faults) >= maxFaults || e.left < 0 {
			break
		}
	}
	if e.left < 0 {
		return Faults{{File: p.file, Text: phrase.Of("procedures.expand.the-includes-bring-in-more-than-bytes", maxText)}}
	}
	if len(e.faults) > 0 {
		return e.faults.sorted()
	}
	slices.SortStableFunc(parts, func(a, b part) int { return cmp.Compare(a.line, b.line) })
	p.Stages = nil
	for _, x := range parts {
		p.Stages = append(p.Stages, x.stages...)
	}
	p.Includes = nil
	if err := e.bounds(); err != nil {
		return err
	}
	e.settleNames()
	return nil
}

// bounds holds the whole to what one file may hold.
func (e *expander) bounds() error {
	fault := func(format string, args ...any) error {
		return Faults{{File: e.p.file, Text: fmt.Sprintf(format, args...)}}
	}
	if n := len(e.p.Stages); n > maxStages {
		return fault("%s", phrase.Of("procedures.expand.stages-with-those-of-its-blocks-at", n, maxStages))
	}
	tables := 0
	for _, s := range e.p.Stages {
		tables += len(s.Checks) + len(s.Reworks)
	}
	if tables > maxTables {
		return fault("%s", phrase.Of("procedures.expand.checks-and-ways-out-with-those-of", tables, maxTables))
	}
	return tidy(e.p.file, e.p)
}

func (e *expander) add(line int, format string, args ...any) {
	if len(e.faults) < maxFaults {
		e.faults = append(e.faults, Fault{File: e.p.file, Line: line, Text: fmt.Sprintf(format, args...)})
	}
}

// block loads a block once. A block that holds an include itself does not load, so no chain of
// includes can run in a loop.
func (e *expander) block(in *Include, line int) *Block {
	if b, ok := e.blocks[in.Block]; ok {
		return b
	}
	e.blocks[in.Block] = nil
	file, data, ok := e.find(in.Block)
	if !ok {
		e.add(line, "%s", phrase.Of("procedures.expand.includes-the-unknown-block", in.Block))
		return nil
	}
	b, err := LoadBlock(file, data)
	if err != nil {
		if fs, ok := err.(Faults); ok {
			e.faults = append(e.faults, fs...)
		}
		return nil
	}
	e.blocks[in.Block] = b
	return b
}

// include returns the stages that include number n stands for, and adds what else the block defines
// to the procedure.
func (e *expander) include(in *Include, n, line int) []Stage {
	tmpl := e.block(in, line)
	if tmpl == nil {
		return nil
	}
	b := e.filled(tmpl, in, line)
	if b == nil {
		return nil
	}
	e.without(b, in, line)
	e.rename(b, in, line)
	e.change(b, in, n, line)
	e.tables(b, line)
	renamed := inverse(in.Rename)
	for _, s := range b.Stages {
		e.loose[s.ID] = true
		old := cmp.Or(renamed[s.ID], s.ID)
		at := place{file: tmpl.file, line: tmpl.lines["stage:"+old], by: line}
		if change, ok := e.sc.lines[changeKey(n, old)]; ok {
			at.by, at.changed = change, true
		}
		e.p.places["stage:"+s.ID] = at
		for _, c := range s.Checks {
			if line, ok := tmpl.lines["stage:"+old+".check:"+c.ID]; ok {
				if key := "stage:" + s.ID + ".check:" + c.ID; e.p.places[key].line == 0 {
					e.p.places[key] = place{file: tmpl.file, line: line, by: at.by, changed: at.changed}
				}
			}
		}
	}
	return b.Stages
}

func inverse(m map[string]string) map[string]string {
	out := map[string]string{}
	for k, v := range m {
		out[v] = k
	}
	return out
}

// tables adds phases, traits and the like. What the file says itself goes before what a block says;
// two blocks that both define a name must say the same.
func (e *expander) tables(b *Block, line int) {
	p := e.p
	merge(e, b, line, "phase", &p.Phases, b.Phases, func(x Phase) string { return x.ID })
	merge(e, b, line, "trait", &p.Traits, b.Traits, func(x Trait) string { return x.ID })
	merge(e, b, line, "decision", &p.Decisions, b.Decisions, func(x Question) string { return x.ID })
	merge(e, b, line, "finding", &p.Findings, b.Findings, func(x Question) string { return x.ID })
	merge(e, b, line, "state", &p.States, b.States, func(x State) string { return x.ID })
	merge(e, b, line, "deviation", &p.Deviations, b.Deviations, func(x Deviation) string { return x.ID })
	for _, words := range b.Never {
		if !slices.Contains(p.Never, words) {
			p.Never = append(p.Never, words)
		}
	}
}

func merge[T any](e *expander, b *Block, line int, table string, into *[]T, from []T, id func(T) string) {
	for _, x := range from {
		key := table + ":" + id(x)
		i := slices.IndexFunc(*into, func(y T) bool { return id(y) == id(x) })
		owner, fromBlock := e.owners[key]
		switch {
		case i < 0:
			*into = append(*into, x)
			e.owners[key] = b.ID
			e.p.places[key] = place{file: b.file, line: b.lines[key], by: line}
		case fromBlock && fmt.Sprint((*into)[i]) != fmt.Sprint(x):
			e.add(line, "%s", phrase.Of("procedures.expand.the-blocks-and-both-define-the-and", owner, b.ID, table, id(x)))
		}
	}
}

// without leaves stages and checks out. Stages behind one left out come after what it came after.
func (e *expander) without(b *Block, in *Include, line int) {
	for _, name := range in.Without {
		id, check, one := strings.Cut(name, ".")
		i := slices.IndexFunc(b.Stages, func(s Stage) bool { return s.ID == id })
		if i < 0 && !one && b.mentions(id) {
			for k := range b.Stages {
				b.Stages[k].pass(Stage{ID: id})
			}
			continue
		}
		if i < 0 {
			e.add(line, "%s", phrase.Of("procedures.expand.leaves-out-which-the-block-does-not", name, b.ID))
			continue
		}
		if !one {
			gone := b.Stages[i]
			b.Stages = slices.Delete(b.Stages, i, i+1)
			for k := range b.Stages {
				b.Stages[k].pass(gone)
			}
			b.excuse(func(x string) bool { return strings.HasPrefix(x, id+".") })
			continue
		}
		k := slices.IndexFunc(b.Stages[i].Checks, func(c Check) bool { return c.ID == check })
		if k < 0 {
			e.add(line, "%s", phrase.Of("procedures.expand.leaves-out-which-the-block-does-not", name, b.ID))
			continue
		}
		b.Stages[i].Checks = slices.Delete(b.Stages[i].Checks, k, k+1)
		b.excuse(func(x string) bool { return strings.TrimSuffix(x, "?") == name })
	}
}

// excuse takes what is left out from the deviations that excused it.
func (b *Block) excuse(gone func(string) bool) {
	for i := range b.Deviations {
		b.Deviations[i].Excuses = slices.DeleteFunc(b.Deviations[i].Excuses, gone)
	}
}

// mentions reports whether a block names a stage or state of others, with a question mark.
func (b *Block) mentions(id string) bool {
	id += "?"
	for _, s := range b.Stages {
		for _, list := range [][]string{s.After, s.Disturbs, s.MakeSafeAfter, s.IndependentOf, s.Sets, s.NeedsOpen, s.NeedsShut, s.OtherShut, clearsOf(&s)} {
			if slices.Contains(list, id) {
				return true
			}
		}
	}
	return false
}

// pass takes a stage left out from the lists of another.
func (s *Stage) pass(gone Stage) {
	if slices.Contains(s.After, gone.ID) {
		for _, id := range gone.After {
			if !slices.Contains(s.After, id) {
				s.After = append(s.After, id)
			}
		}
	}
	same := func(id string) bool { return strings.TrimSuffix(id, "?") == gone.ID }
	for _, list := range []*[]string{&s.After, &s.Disturbs, &s.MakeSafeAfter, &s.IndependentOf, &s.Sets, &s.NeedsOpen, &s.NeedsShut, &s.OtherShut} {
		*list = slices.DeleteFunc(*list, same)
	}
	for i := range s.Reworks {
		s.Reworks[i].Again = slices.DeleteFunc(s.Reworks[i].Again, same)
	}
	s.Reworks = slices.DeleteFunc(s.Reworks, func(r Rework) bool { return len(r.Again) == 0 })
}

// settleNames drops the names with a question mark that the whole procedure does not have, and takes
// the mark off those it has.
func (e *expander) settleNames() {
	e.unset()
	k := e.known()
	for i := range e.p.Stages {
		if s := &e.p.Stages[i]; e.loose[s.ID] {
			k.settle(s)
		}
	}
	e.p.Stages = slices.DeleteFunc(e.p.Stages, func(s Stage) bool { return e.loose[s.ID] && !k.conditions(s.When) })
	for i := range e.p.Stages {
		for c := range e.p.Stages[i].When {
			bare(&e.p.Stages[i].When[c])
		}
	}
	for i := range e.p.Deviations {
		d := &e.p.Deviations[i]
		d.Excuses = k.names(d.Excuses, k.checks)
	}
	e.p.Deviations = slices.DeleteFunc(e.p.Deviations, func(d Deviation) bool {
		return len(d.Excuses) == 0 && e.owners["deviation:"+d.ID] != ""
	})
}

// unset drops the states of blocks that no stage sets once stages were left out.
func (e *expander) unset() {
	set := map[string]bool{}
	for _, s := range e.p.Stages {
		for _, id := range s.Sets {
			set[strings.TrimSuffix(id, "?")] = true
		}
	}
	e.p.States = slices.DeleteFunc(e.p.States, func(s State) bool { return !set[s.ID] && e.owners["state:"+s.ID] != "" })
}

func (e *expander) known() known {
	k := known{stages: map[string]bool{"all": true}, states: map[string]bool{}, asked: map[string]bool{}, checks: map[string]bool{}}
	for _, s := range e.p.Stages {
		k.stages[s.ID] = true
		for _, c := range s.Checks {
			k.checks[s.ID+"."+c.ID] = true
		}
	}
	for _, s := range e.p.States {
		k.states[s.ID] = true
	}
	for _, t := range e.p.Traits {
		k.asked[t.ID] = true
	}
	for _, q := range slices.Concat(e.p.Findings, e.p.Decisions) {
		k.asked[q.ID] = true
	}
	return k
}

// known is what a procedure has once its blocks are in it.
type known struct{ stages, states, asked, checks map[string]bool }

func (k known) names(list []string, have map[string]bool) []string {
	var out []string
	for _, id := range list {
		bare, maybe := strings.CutSuffix(id, "?")
		if (maybe && !have[bare]) || slices.Contains(out, bare) {
			continue
		}
		out = append(out, bare)
	}
	return out
}

func (k known) settle(s *Stage) {
	for _, list := range []*[]string{&s.After, &s.Disturbs, &s.MakeSafeAfter, &s.IndependentOf} {
		*list = k.names(*list, k.stages)
	}
	for _, list := range []*[]string{&s.Sets, &s.NeedsOpen, &s.NeedsShut, &s.OtherShut} {
		*list = k.names(*list, k.states)
	}
	var clears []Clear
	for _, cl := range s.Clears {
		if ids := k.names([]string{cl.State}, k.states); len(ids) == 1 {
			clears = append(clears, Clear{ids[0], cl.Proof})
		}
	}
	s.Clears = clears
	var reworks []Rework
	for _, r := range s.Reworks {
		if r.Again = k.names(r.Again, k.stages); len(r.Again) > 0 {
			reworks = append(reworks, r)
		}
	}
	s.Reworks = reworks
	var checks []Check
	for _, c := range s.Checks {
		if !k.conditions(c.When) || (strings.HasSuffix(c.Same, "?") && !k.checks[strings.TrimSuffix(c.Same, "?")]) {
			continue
		}
		c.Same = strings.TrimSuffix(c.Same, "?")
		for i := range c.When {
			bare(&c.When[i])
		}
		checks = append(checks, c)
	}
	s.Checks = checks
}

// conditions reports whether none of them asks, with a question mark, for what the procedure lacks.
func (k known) conditions(when []Condition) bool {
	return !slices.ContainsFunc(when, func(w Condition) bool {
		id, maybe := strings.CutSuffix(w.Trait+w.Finding+w.Decision, "?")
		return maybe && !k.asked[id]
	})
}

func bare(w *Condition) {
	w.Trait, w.Finding, w.Decision = strings.TrimSuffix(w.Trait, "?"), strings.TrimSuffix(w.Finding, "?"), strings.TrimSuffix(w.Decision, "?")
}

// sortedKeys gives a map's keys in order, so that faults come in one order.
func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
