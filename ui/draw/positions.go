package draw

import "bay.example/pawl/job/phrase"

// Position is one way the disc can sit on the studs.
type Position struct {
	Name      string
	TIR       Amount // predicted total run-out
	Over      bool   // beyond the limit, found elsewhere
	Permitted bool   // the parts allow it
}

// Positions compares the predicted run-out of every stud position.
type Positions struct {
	Rows  []Position
	Limit Amount
	Best  int // index of the position to try, -1 for none
	Unit  string
}

// Draw shows one line per position in w×h cells: a bar that runs past the mark
// of the limit where the prediction does, the number, and in words whether it is
// over and whether the parts permit it. The position to try has the marker.
func (p Positions) Draw(t *Theme, w, h int) string {
	name, number := 0, 0
	top := p.Limit.At * 1.25
	for _, r := range p.Rows {
		name = max(name, Width(t.Plain(r.Name)))
		number = max(number, Width(t.Plain(r.TIR.Text)))
		if r.TIR.known() {
			top = max(top, r.TIR.At)
		}
	}
	over := phrase.Of("draw.positions.over-limit")
	words := Width(over) + 2 + Width(t.badge(NotPermitted))
	from := 2 + name + 1
	bar := w - from - 1 - number - 2 - words
	if bar < 8 { // narrow: the bar gives way to the words
		bar = 0
	}
	across := scale{from: 0, to: top, a: from, b: from + bar - 1}
	g := newGrid(t, w, len(p.Rows)+1)
	mark := across.at(p.Limit.At)
	limit := phrase.Of("draw.positions.limit", withUnit(p.Limit.Text, p.Unit))
	if p.Limit.Text == "" {
		limit = phrase.Of("draw.positions.no-limit-given")
	}
	g.centre(max(mark, from), 0, label{Text, limit})
	for i, r := range p.Rows {
		y := i + 1
		if i == p.Best {
			g.put(0, y, Selected, t.Glyphs.Marker)
		}
		g.put(2, y, Text, r.Name)
		x := from
		if bar > 0 {
			if r.TIR.known() && r.TIR.At > 0 {
				end := across.at(r.TIR.At)
				g.fill(from, min(end, mark), y, Title, t.Glyphs.Bar)
				g.fill(mark+1, end, y, Text, t.Glyphs.Shade)
			}
			if p.Limit.known() {
				g.put(mark, y, Title, t.Glyphs.Post)
			}
			x += bar + 1
		}
		g.put(x+number-Width(t.Plain(r.TIR.Text)), y, Title, r.TIR.Text)
		x += number + 2
		if r.Over {
			g.put(x, y, Warn, over)
		}
		state := Permitted
		if !r.Permitted {
			state = NotPermitted
		}
		g.row(x+Width(over)+1, y, label{state.Role(), t.badge(state)})
	}
	return t.Fit(g.String(), w, h)
}
