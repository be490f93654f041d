package draw

import (
	"strings"

	"bay.example/pawl/job/phrase"
)

// Phase is one part of a job. A phase that is worked on each side by itself has
// a state for either; another has one state.
type Phase struct {
	Name        string
	State       State // for a phase without sides
	Sided       bool
	Left, Right State
}

// Phases is the course of a job.
type Phases []Phase

// phaseHeight is the number of lines the strip takes.
const phaseHeight = 5

// Draw shows the phases in five lines of w cells: the names, then a track that
// parts into left and right where the work does, and a legend of the states
// there are. Where the names have no room it lists phase and state instead, and
// Height says how many lines that takes.
func (ps Phases) Draw(t *Theme, w int) string {
	if !ps.wide(t, w) {
		return t.Fit(strings.Join(ps.list(t, w), "\n"), w, ps.Height(t, w))
	}
	const side = 7
	g := newGrid(t, w, phaseHeight)
	step := (w - side) / len(ps)
	for i, p := range ps {
		x := side + i*step
		mid := x + step/2
		g.put(mid-Width(t.Plain(p.Name))/2, 0, Title, p.Name)
		before := i > 0 && ps[i-1].Sided
		after := i+1 < len(ps) && ps[i+1].Sided
		if p.Sided {
			ps.branch(g, 1, x, x+step-1, mid, p.Left)
			ps.branch(g, 3, x, x+step-1, mid, p.Right)
			if i == 0 || !before {
				ps.fork(g, x, t.Glyphs.TopLeft, t.Glyphs.BottomLeft, t.Glyphs.TeeRight, i > 0)
			}
			if i+1 == len(ps) || !after {
				ps.fork(g, x+step-1, t.Glyphs.TopRight, t.Glyphs.BottomRight, t.Glyphs.TeeLeft, i+1 < len(ps))
			}
			continue
		}
		from, to := x, x+step-1
		if i == 0 {
			from = mid
		}
		if i+1 == len(ps) {
			to = mid
		}
		ps.branch(g, 2, from, to, mid, p.State)
	}
	if ps.sided() {
		g.put(0, 1, Title, phrase.Of("draw.phases.left"))
		g.put(0, 3, Title, phrase.Of("draw.phases.right"))
	}
	g.row(0, 4, ps.legend(t)...)
	return g.String()
}

// Height is the number of lines Draw takes.
func (ps Phases) Height(t *Theme, w int) int {
	if ps.wide(t, w) {
		return phaseHeight
	}
	return max(len(ps.list(t, w)), 1)
}

// wide reports whether every name has room above its part of the track.
func (ps Phases) wide(t *Theme, w int) bool {
	if len(ps) == 0 {
		return false
	}
	step := (w - 7) / len(ps)
	for _, p := range ps {
		if step < max(Width(t.Plain(p.Name))+1, 6) {
			return false
		}
	}
	return labelWidth(t, ps.legend(t)) <= w
}

func (ps Phases) sided() bool {
	for _, p := range ps {
		if p.Sided {
			return true
		}
	}
	return false
}

// branch draws a stretch of track with a state on it. What is done is a heavy
// line, so that one sees from afar how far the work has come.
func (ps Phases) branch(g *grid, y, from, to, mid int, s State) {
	line, role := g.t.Glyphs.Across, Frame
	if s == Done {
		line, role = g.t.Glyphs.Track, Good
	}
	g.fill(from, to, y, role, line)
	if mark := g.t.Mark(s); mark != "" {
		g.put(mid-1, y, s.Role(), " "+mark+" ")
	}
}

// fork joins the two sides to the common track at column x, or only ends them.
func (ps Phases) fork(g *grid, x int, top, bottom, tee string, join bool) {
	g.put(x, 1, Frame, top)
	g.put(x, 3, Frame, bottom)
	if join {
		g.put(x, 2, Frame, tee)
	} else {
		g.put(x, 2, Frame, g.t.Glyphs.Down)
	}
}

// legend says in words what the marks on the track mean.
func (ps Phases) legend(t *Theme) []label {
	var have [stateCount]bool
	note := func(s State) {
		if s < stateCount {
			have[s] = true
		}
	}
	for _, p := range ps {
		if p.Sided {
			note(p.Left)
			note(p.Right)
		} else {
			note(p.State)
		}
	}
	var out []label
	for s := NoState + 1; s < stateCount; s++ {
		if have[s] {
			out = append(out, label{s.Role(), t.badge(s)}, label{Text, " "})
		}
	}
	return out
}

// list is the course in words, for narrow places.
func (ps Phases) list(t *Theme, w int) []string {
	var lines []string
	for _, p := range ps {
		line := t.Style(Text, p.Name+" ") + t.Badge(p.State)
		if p.Sided {
			line = t.Style(Text, p.Name+" ") + t.Style(Title, phrase.Of("draw.phases.left-2")) + t.Badge(p.Left) + t.Style(Title, phrase.Of("draw.phases.right-2")) + t.Badge(p.Right)
		}
		lines = append(lines, t.Truncate(line, w))
	}
	return lines
}
