package procedures

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Check proves a sheet sound by itself: every window parses, is not empty and names a source with
// document and revision; groups, counts and parts are complete; ids do not repeat.
func (s *Sheet) Check() error {
	c := &sheetChecker{s: s}
	c.head()
	c.entries()
	if len(c.faults) > 0 {
		return c.faults.sorted()
	}
	return nil
}

type sheetChecker struct {
	s      *Sheet
	faults Faults
}

func (c *sheetChecker) add(key, format string, args ...any) {
	f := Fault{File: c.s.file, Line: c.s.lines[key], Text: fmt.Sprintf(format, args...)}
	if len(c.faults) < maxFaults && !slices.Contains(c.faults, f) {
		c.faults = append(c.faults, f)
	}
}

func (c *sheetChecker) head() {
	s := c.s
	if !idForm.MatchString(s.ID) {
		c.add("key:id", "%s", phrase.Of("procedures.checksheet.the-sheets-id-is-an-id-is", s.ID))
	}
	for _, f := range []struct{ name, value string }{{"title", s.Title}, {"revision", s.Revision}, {"author", s.Author}} {
		if strings.TrimSpace(f.value) == "" {
			c.add("key:"+f.name, "%s", phrase.Of("procedures.checksheet.the-sheet-has-no", f.name))
		}
	}
	if _, err := time.Parse(time.DateOnly, s.Date); err != nil {
		c.add("key:date", "%s", phrase.Of("procedures.checksheet.the-sheets-date-is-expected-year-month", shown(s.Date)))
	}
	seen := map[string]bool{}
	for i, id := range s.Serves {
		if !idForm.MatchString(id) || slices.Contains(s.Serves[:i], id) {
			c.add("key:procedures", "%s", phrase.Of("procedures.checksheet.procedures-names-which-is-no-id-or", id))
		}
	}
	for _, x := range s.Sources {
		if x.Document == "" || x.Revision == "" {
			c.add("source:"+x.ID, "%s", phrase.Of("procedures.checksheet.source-needs-a-document-and-a-revision", x.ID))
		}
		c.id(seen, "source", x.ID)
	}
}

func (c *sheetChecker) id(seen map[string]bool, table, id string) {
	key := table + ":" + id
	if !idForm.MatchString(id) {
		c.add(key, "%s", phrase.Of("procedures.checksheet.id-an-id-is-lower-case-letters", table, id))
	}
	if seen[key] {
		c.add(key, "%s", phrase.Of("procedures.check.stands-twice", table, id))
	}
	seen[key] = true
}

func (c *sheetChecker) source(table, id, source string) {
	if _, ok := c.s.Source(source); !ok {
		c.add(table+":"+id, "%s", phrase.Of("procedures.checksheet.has-no-source-name-a-source-with", table, id))
	}
}

func (c *sheetChecker) entries() {
	seen := map[string]bool{}
	for _, w := range c.s.Windows {
		c.id(seen, "window", w.ID)
		c.source("window", w.ID, w.Source)
		parsed, err := quantity.ParseWindow(w.Value)
		if err != nil {
			c.add("window:"+w.ID, "%s", phrase.Of("procedures.checksheet.window", w.ID, err))
			continue
		}
		c.torque(w.ID, parsed)
	}
	for _, g := range c.s.Groups {
		c.id(seen, "group", g.ID)
		c.source("group", g.ID, g.Source)
		c.group(g)
		c.fastener(g)
	}
	for _, n := range c.s.Counts {
		c.id(seen, "count", n.ID)
		c.source("count", n.ID, n.Source)
		if n.Value < 1 || n.Value > 99 {
			c.add("count:"+n.ID, "%s", phrase.Of("procedures.checksheet.count-is-expected-1-to-99", n.ID, n.Value))
		}
	}
	for _, p := range c.s.Parts {
		c.id(seen, "part", p.ID)
		c.source("part", p.ID, p.Source)
		if p.Title == "" || p.Number == "" {
			c.add("part:"+p.ID, "%s", phrase.Of("procedures.checksheet.part-needs-a-title-and-a-number", p.ID))
		}
	}
	for _, f := range c.s.Facts {
		c.id(seen, "fact", f.ID)
		c.source("fact", f.ID, f.Source)
		if _, err := quantity.Parse(f.Value, ""); err != nil {
			c.add("fact:"+f.ID, "%s", phrase.Of("procedures.checksheet.fact", f.ID, err))
		}
	}
}

func (c *sheetChecker) group(g Group) {
	key := "group:" + g.ID
	if g.Title == "" || len(g.Names) == 0 || len(g.Names) > 24 {
		c.add(key, "%s", phrase.Of("procedures.checksheet.group-needs-a-title-and-1-to", g.ID))
	}
	for i, n := range g.Names {
		if strings.TrimSpace(n) == "" || n == ItemNew || slices.Contains(g.Names[:i], n) {
			c.add(key, "%s", phrase.Of("procedures.checksheet.group-the-fastener-name-is-empty-reserved", g.ID, shown(n)))
		} else if other, ok := alike(g.Names, i); ok {
			c.add(key, "%s", phrase.Of("procedures.checksheet.group-two-names-look-alike", g.ID, shown(other), shown(n)))
		}
	}
	if len(g.Order) == 0 {
		return
	}
	sorted := slices.Sorted(slices.Values(g.Order))
	for i, n := range sorted {
		if len(sorted) != len(g.Names) || n != i+1 {
			c.add(key, "%s", phrase.Of("procedures.checksheet.group-the-order-names-each-of-its", g.ID, len(g.Names)))
			return
		}
	}
}

// kindDimensions says what a window of a check may be in.
var kindDimensions = map[Kind][]quantity.Dimension{
	Torque:    {quantity.NewtonMetre.Dimension(), quantity.Degree.Dimension()},
	Thickness: {quantity.Millimetre.Dimension()},
	RunOut:    {quantity.Millimetre.Dimension()},
	Count:     {quantity.Count.Dimension()},
}

// CheckPair proves that a sheet serves a procedure: it gives every trait, and every window, group,
// count and part that a check names, in a unit that fits the kind of check. Checks on stages that
// the sheet's own traits leave out need nothing.
func CheckPair(p *Procedure, s *Sheet) error {
	var faults Faults
	addAt := func(line int, stage, format string, args ...any) {
		if len(faults) < maxFaults {
			faults = append(faults, Fault{File: s.file, Line: line, Procedure: p.ID, Stage: stage, Text: fmt.Sprintf(format, args...)})
		}
	}
	add := func(stage, format string, args ...any) { addAt(0, stage, format, args...) }
	table := s.lines["table:traits"]
	for _, t := range p.Traits {
		if v, ok := s.Traits[t.ID]; !ok {
			addAt(table, "", "%s", phrase.Of("procedures.checksheet.trait-has-no-value-expected-one-of", t.ID, t.Title, quoted(t.Values)))
		} else if !slices.Contains(t.Values, v) {
			addAt(s.lines["traits:"+t.ID], "", "%s", phrase.Of("procedures.checksheet.trait-has-the-value-expected-one-of", t.ID, shown(v), quoted(t.Values)))
		}
	}
	if len(faults) > 0 {
		return faults
	}
	for i := range p.Stages {
		st := &p.Stages[i]
		if !st.traitsAllow(s.Traits) || (st.SideTrait != "" && s.Traits[st.SideTrait] == SideNone) {
			continue
		}
		for k := range st.Checks {
			ck := &st.Checks[k]
			if !traitsAllow(ck.When, s.Traits) {
				continue
			}
			at := st.ID + "." + ck.ID
			pc, err := resolveCheck(ck, s)
			if err != nil {
				add(at, "%v", err)
				continue
			}
			for _, w := range []*PlanWindow{pc.Window, pc.Spread, pc.Nominal, pc.Compare} {
				if dims := kindDimensions[ck.Kind]; w != nil && dims != nil && !slices.Contains(dims, w.Window.Unit().Dimension()) {
					addAt(s.lines["window:"+w.ID], at, "%s", phrase.Of("procedures.checksheet.window-is-in-which-a-check-cannot", w.ID, w.Window.Unit(), ck.Kind))
				}
			}
			if u, w := quantity.Unit(ck.Unit), pc.Compare; ck.Unit != "" && w != nil && !u.Same(w.Window.Unit()) {
				addAt(s.lines["window:"+w.ID], at, "%s", phrase.Of("procedures.checksheet.window-is-in-but-the-reading-is", w.ID, w.Window.Unit(), u))
			}
		}
	}
	if len(faults) > 0 {
		return faults
	}
	return nil
}
