package draw

import "bay.example/pawl/job/phrase"

// PadPoints is the thickness of a pad pair at its four points.
type PadPoints struct {
	OuterLeading, OuterTrailing Amount
	InnerLeading, InnerTrailing Amount
	New, Limit                  Amount // the friction lining when new, and the least allowed
	Unit                        string
	State                       State // the verdict on the thinnest
}

// padHeight is the number of lines PadPoints takes.
const padHeight = 7

// Draw shows the four points in seven lines of w cells: the outer pad above the
// disc, the inner below, leading on the left, trailing on the right, each as a
// block as long as the lining is thick, against its length when new.
func (p PadPoints) Draw(t *Theme, w int) string {
	g := newGrid(t, w, padHeight)
	points := [4]Amount{p.OuterLeading, p.OuterTrailing, p.InnerLeading, p.InnerTrailing}
	names := [4]string{phrase.Of("draw.pads.outer-leading"), phrase.Of("draw.pads.outer-trailing"), phrase.Of("draw.pads.inner-leading"), phrase.Of("draw.pads.inner-trailing")}
	thin, top, number := -1, p.New.At, 4
	for i, a := range points {
		if a.known() && (thin < 0 || a.At < points[thin].At) {
			thin = i
		}
		if a.known() {
			top = max(top, a.At)
		}
		number = max(number, Width(t.Plain(a.Text))+2)
	}
	const side = 6
	half := (w - side) / 2
	bar := half - number - 2
	rows := [4]int{1, 1, 5, 5}
	g.put(0, 1, Title, phrase.Of("draw.pads.outer"))
	g.put(0, 5, Title, phrase.Of("draw.pads.inner"))
	g.put(side, 0, Text, phrase.Of("draw.pads.leading"))
	g.put(side+half, 0, Text, phrase.Of("draw.pads.trailing"))
	g.fill(side, w-2, 3, Frame, t.Glyphs.Track)
	g.put(side+2, 3, Frame, phrase.Of("draw.pads.disc"))
	for i, a := range points {
		x, y := side+i%2*half, rows[i]
		for dy := range 2 {
			// The two lines of a block grow away from the disc.
			p.block(g, x, y+dy-i/2, bar, top, a)
		}
		switch {
		case i == thin:
			g.put(x+max(bar, 0)+1, y, Caution, "["+a.Text+"]")
		case a.known():
			g.put(x+max(bar, 0)+2, y, Text, a.Text)
		default:
			g.put(x+max(bar, 0)+1, y, Missing.Role(), t.Mark(Missing)+"?")
		}
	}
	if thin < 0 {
		g.row(0, 6, label{Text, phrase.Of("draw.pads.no-reading-yet")}, label{Missing.Role(), t.badge(Missing)})
		return g.String()
	}
	words := []label{{Text, phrase.Of("draw.pads.thinnest")}, {Title, withUnit(points[thin].Text, p.Unit)}, {Text, " "},
		{p.State.Role(), t.badge(p.State)}, {Text, " " + names[thin]}}
	if p.Limit.known() {
		words = append(words, label{Text, phrase.Of("draw.pads.limit", withUnit(p.Limit.Text, p.Unit))})
	}
	g.row(0, 6, words...)
	return g.String()
}

// block draws one line of one block: lining, worn-off part, limit mark.
func (p PadPoints) block(g *grid, x, y, bar int, top float64, a Amount) {
	if bar < 4 || top <= 0 {
		return
	}
	gl := g.t.Glyphs
	across := scale{from: 0, to: top, a: x, b: x + bar - 1}
	g.fill(x, x+bar-1, y, Frame, gl.Light)
	if a.known() && a.At > 0 {
		g.fill(x, across.at(a.At), y, Title, gl.Solid)
	}
	if p.Limit.known() {
		g.put(across.at(p.Limit.At), y, Text, gl.Post)
	}
}
