package draw

import (
	"math"
	"strings"

	"bay.example/pawl/job/phrase"
)

// WearPoint is a thickness measured at an odometer reading.
type WearPoint struct{ Km, Thickness Amount }

// WearLine is thickness against distance, with the forecast to the limit.
type WearLine struct {
	Points      []WearPoint // in the order they were measured
	Limit       Amount      // the least thickness
	Warning     Amount      // where a sensor speaks, if there is one
	Uncertainty float64     // half-width of what the instrument leaves open
	Soonest     Amount      // odometer at which the cautious reckoning meets the limit
	Latest      Amount      // odometer at which the plain reckoning meets it
	Unit        string
	Note        string
}

// Draw shows the line in w×h cells. Between the plain and the cautious
// reckoning lies the band of the forecast; without both there is none.
func (wl WearLine) Draw(t *Theme, w, h int) string {
	var known []WearPoint
	for _, p := range wl.Points {
		if p.Km.known() && p.Thickness.known() {
			known = append(known, p)
		}
	}
	if len(known) == 0 || w < 30 || h < 7 {
		text := phrase.Of("draw.wear.no-reading-yet")
		if n := len(known); n > 0 {
			text = phrase.Of("draw.wear.at-km", withUnit(known[n-1].Thickness.Text, wl.Unit), known[n-1].Km.Text)
		}
		if wl.Limit.Text != "" {
			text += phrase.Of("draw.wear.limit", withUnit(wl.Limit.Text, wl.Unit))
		}
		return t.Fit(strings.Join(t.Wrap(text+"\n"+wl.Note, w), "\n"), w, h)
	}
	g := newGrid(t, w, h)
	gutter := Width(t.Plain(wl.Limit.Text))
	for _, p := range known {
		gutter = max(gutter, Width(t.Plain(p.Thickness.Text)))
	}
	gutter = min(gutter, w/3)
	x, y := wl.scales(known, gutter+2, w-2, 1, h-3)
	last := known[len(known)-1]
	if wl.forecast() {
		wl.band(g, x, y, last)
	}
	wl.axes(g, x, y, gutter, known)
	for i, p := range known {
		if i > 0 {
			g.line(x.at(known[i-1].Km.At), y.at(known[i-1].Thickness.At), x.at(p.Km.At), y.at(p.Thickness.At), Frame, t.Glyphs.Light)
		}
	}
	for _, p := range known {
		g.put(x.at(p.Km.At), y.at(p.Thickness.At), Title, t.Glyphs.Reading)
	}
	legend := []label{{Title, t.Glyphs.Reading}, {Text, phrase.Of("draw.wear.measured")}}
	if wl.forecast() {
		legend = append(legend, label{Text, phrase.Of("draw.wear.forecast", t.Glyphs.Shade)})
	}
	g.row(0, 0, append(legend, label{Text, wl.Note})...)
	return g.String()
}

// forecast reports whether there is a band to draw.
func (wl WearLine) forecast() bool {
	return wl.Soonest.known() && wl.Latest.known() && wl.Limit.known()
}

// scales finds the ranges of distance and thickness.
func (wl WearLine) scales(known []WearPoint, left, right, top, foot int) (x, y scale) {
	x = scale{from: known[0].Km.At, to: known[0].Km.At, a: left, b: right}
	y = scale{from: known[0].Thickness.At, to: known[0].Thickness.At, a: top, b: foot}
	for _, p := range known {
		x.from, x.to = min(x.from, p.Km.At), max(x.to, p.Km.At)
		y.from, y.to = max(y.from, p.Thickness.At), min(y.to, p.Thickness.At)
	}
	if wl.forecast() {
		x.to = max(x.to, wl.Soonest.At, wl.Latest.At)
	}
	if wl.Limit.known() {
		y.to = min(y.to, wl.Limit.At)
	}
	margin := (y.from - y.to) * 0.08
	if margin == 0 {
		margin = max(math.Abs(y.from)*0.1, 1e-6)
	}
	y.from, y.to = y.from+margin, y.to-margin
	if x.from == x.to {
		x.to++
	}
	return x, y
}

// band fills what lies between the plain and the cautious reckoning.
func (wl WearLine) band(g *grid, x, y scale, last WearPoint) {
	fall := func(from, end, km float64) float64 {
		if end <= last.Km.At {
			return wl.Limit.At
		}
		part := min((km-last.Km.At)/(end-last.Km.At), 1)
		return from + part*(wl.Limit.At-from)
	}
	start := x.at(last.Km.At)
	for c := start; c <= x.b; c++ {
		km := x.from + (x.to-x.from)*float64(c-x.a)/float64(max(x.b-x.a, 1))
		upper := y.at(fall(last.Thickness.At, wl.Latest.At, km))
		lower := y.at(fall(max(last.Thickness.At-wl.Uncertainty, wl.Limit.At), wl.Soonest.At, km))
		for r := upper; r <= lower; r++ {
			g.put(c, r, Text, g.t.Glyphs.Shade)
		}
	}
}

// axes draws the axes, the limit, the warning level and the distances.
func (wl WearLine) axes(g *grid, x, y scale, gutter int, known []WearPoint) {
	gl, left, last := g.t.Glyphs, gutter+1, known[len(known)-1]
	for r := y.a; r <= y.b; r++ {
		g.put(left, r, Frame, gl.Down)
	}
	tick := func(a Amount) {
		g.put(gutter-Width(g.t.Plain(a.Text)), y.at(a.At), Text, a.Text)
		g.put(left, y.at(a.At), Frame, gl.TeeRight)
	}
	tick(known[0].Thickness)
	tick(last.Thickness)
	if wl.Warning.known() && wl.Warning.At >= y.to && wl.Warning.At <= y.from {
		for c := left + 1; c < g.w; c += 2 {
			g.put(c, y.at(wl.Warning.At), Frame, gl.Across)
		}
		g.put(left+2, y.at(wl.Warning.At), Text, phrase.Of("draw.wear.sensor", wl.Warning.Text)+" ")
	}
	if wl.Limit.known() {
		g.fill(left+1, g.w-1, y.at(wl.Limit.At), Title, gl.Track)
		g.put(left+2, y.at(wl.Limit.At), Title, phrase.Of("draw.wear.limit-2", withUnit(wl.Limit.Text, wl.Unit))+" ")
		tick(wl.Limit)
	}
	g.put(left, y.b+1, Frame, gl.BottomLeft)
	g.fill(left+1, g.w-1, y.b+1, Frame, gl.Across)
	wl.distances(g, x, y.b+1, known[0].Km, last.Km)
}

// distances marks the odometer readings on the axis and names them below. The
// newest and the forecast are named before the first, which gives way to them.
func (wl WearLine) distances(g *grid, x scale, row int, first, last Amount) {
	free := g.w // names are set from right to left
	name := func(middle int, text string) {
		n := Width(g.t.Plain(text))
		at := max(0, min(middle-n/2, g.w-n))
		if at+n <= free {
			g.put(at, row+1, Text, text)
			free = at - 2
		}
	}
	if wl.forecast() {
		soon, late := x.at(wl.Soonest.At), x.at(wl.Latest.At)
		g.put(soon, row, Frame, g.t.Glyphs.TeeUp)
		g.put(late, row, Frame, g.t.Glyphs.TeeUp)
		name((soon+late)/2, phrase.Of("draw.wear.to-km", wl.Soonest.Text, wl.Latest.Text))
	}
	g.put(x.at(last.At), row, Frame, g.t.Glyphs.TeeUp)
	name(x.at(last.At), last.Text+" km")
	if first != last {
		g.put(x.at(first.At), row, Frame, g.t.Glyphs.TeeUp)
		name(x.at(first.At), first.Text)
	}
}

// line draws a straight row of marks between two cells.
func (g *grid) line(x0, y0, x1, y1 int, r Role, glyph string) {
	steps := max(x1-x0, x0-x1, y1-y0, y0-y1)
	for i := 1; i < steps; i++ {
		part := float64(i) / float64(steps)
		g.put(x0+int(math.Round(part*float64(x1-x0))), y0+int(math.Round(part*float64(y1-y0))), r, glyph)
	}
}
