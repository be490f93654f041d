package procedures

import "slices"

// Sheet is the spec sheet of one vehicle type: its traits, windows, fastener groups, counts and
// parts, each with the document and revision it was taken from.
type Sheet struct {
	Format   int               `toml:"format"`
	ID       string            `toml:"id"`
	Title    string            `toml:"title"`
	Revision string            `toml:"revision"`
	Author   string            `toml:"author"`
	Date     string            `toml:"date"` // ISO date
	Demo     bool              `toml:"demo,omitempty"`
	Notice   string            `toml:"notice,omitempty"`
	Serves   []string          `toml:"procedures,omitempty"` // ids of the procedures it serves; empty: any it gives everything for
	Traits   map[string]string `toml:"traits"`
	Sources  []Source          `toml:"source"`
	Windows  []SpecWindow      `toml:"window"`
	Groups   []Group           `toml:"group,omitempty"`
	Counts   []SpecCount       `toml:"count,omitempty"`
	Parts    []SpecPart        `toml:"part,omitempty"`
	Facts    []Fact            `toml:"fact,omitempty"`

	file  string
	lines map[string]int
}

// Source is a document and its revision.
type Source struct {
	ID       string `toml:"id" cbor:"1,keyasint" json:"id"`
	Document string `toml:"document" cbor:"2,keyasint" json:"document"`
	Revision string `toml:"revision" cbor:"3,keyasint" json:"revision"`
}

// SpecWindow is a window with its source. A window for safety is guarded: a reading nearer to the
// limit than the instrument's uncertainty is not proven. Simple switches that off.
type SpecWindow struct {
	ID     string `toml:"id"`
	Title  string `toml:"title,omitempty"`
	Value  string `toml:"value"`
	Source string `toml:"source"`
	Simple bool   `toml:"simple,omitempty"`
}

// Group is a set of fasteners tightened together. Names run in the order of tightening; where the
// vehicle data give another order, Order lists the numbers from 1.
type Group struct {
	ID        string   `toml:"id"`
	Title     string   `toml:"title"`
	Names     []string `toml:"names"`
	Order     []int    `toml:"order,omitempty"`
	SingleUse bool     `toml:"single_use,omitempty"`
	Thread    string   `toml:"thread,omitempty"` // such as M12x1.5, for the plausibility check
	Class     string   `toml:"class,omitempty"`  // property class such as 10.9
	Friction  string   `toml:"friction,omitempty"`
	Source    string   `toml:"source"`
}

// SpecCount is a number the vehicle type fixes, such as wheel nuts per wheel.
type SpecCount struct {
	ID     string `toml:"id"`
	Value  int    `toml:"value"`
	Source string `toml:"source"`
}

// SpecPart is a part number of the type's parts list.
type SpecPart struct {
	ID     string `toml:"id"`
	Title  string `toml:"title"`
	Number string `toml:"number"`
	Source string `toml:"source"`
}

// Fact is a quantity of the type that calculations need and no reading is judged by, such as a
// piston diameter.
type Fact struct {
	ID     string `toml:"id"`
	Value  string `toml:"value"`
	Source string `toml:"source"`
}

// ServesProcedure reports whether the sheet says it serves a procedure; one that lists none may serve
// any. CheckPair proves it.
func (s *Sheet) ServesProcedure(id string) bool {
	return len(s.Serves) == 0 || slices.Contains(s.Serves, id)
}

// Window returns the window with that id.
func (s *Sheet) Window(id string) (SpecWindow, bool) {
	for _, w := range s.Windows {
		if w.ID == id {
			return w, true
		}
	}
	return SpecWindow{}, false
}

// Group returns the fastener group with that id.
func (s *Sheet) Group(id string) (Group, bool) {
	for _, g := range s.Groups {
		if g.ID == id {
			return g, true
		}
	}
	return Group{}, false
}

// Count returns the count with that id.
func (s *Sheet) Count(id string) (int, bool) {
	for _, c := range s.Counts {
		if c.ID == id {
			return c.Value, true
		}
	}
	return 0, false
}

// Part returns the parts-list entry with that id.
func (s *Sheet) Part(id string) (SpecPart, bool) {
	for _, p := range s.Parts {
		if p.ID == id {
			return p, true
		}
	}
	return SpecPart{}, false
}

// Fact returns the value of a fact as written, such as "43 mm".
func (s *Sheet) Fact(id string) (string, bool) {
	for _, f := range s.Facts {
		if f.ID == id {
			return f.Value, true
		}
	}
	return "", false
}

// Source returns the document behind a source id.
func (s *Sheet) Source(id string) (Source, bool) {
	for _, x := range s.Sources {
		if x.ID == id {
			return x, true
		}
	}
	return Source{}, false
}
