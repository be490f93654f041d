package draw

import (
	"math"

	"bay.example/pawl/job/phrase"
)

// Gauge is one value in its window. Either limit may be left out.
type Gauge struct {
	Value       Amount
	Low, High   Amount  // the limits, both belonging to the window
	Aim         Amount  // the target, where the window was written with one
	Full        Amount  // the end of the scale of a window with one limit, such as the thickness when new
	Uncertainty float64 // half-width of what the instrument leaves open, 0 for none
	Unit        string
	State       State // the verdict, found elsewhere
}

// axis is a gauge laid out on a row of cells.
type axis struct {
	scale
	low, high int // cells of the limits; beyond the ends where there is none
	value     int // cell of the value
	left      bool
	right     bool // the value lies below or above the window
}

// Draw shows the gauge in three lines of w cells: the limits by name, the bar,
// and the value with its verdict below its place. A value outside is an arrow,
// at the edge if the scale does not reach it, with the amount in words.
func (g Gauge) Draw(t *Theme, w int) string {
	s := newGrid(t, w, 3)
	if w < 1 {
		return s.String()
	}
	x := g.lay(0, w-1)
	g.limits(s, x)
	g.bar(s, x, 1)
	s.centre(x.value, 2, g.words(t, x)...)
	return s.String()
}

// Line shows the gauge in one line of w cells: the value, the bar between its
// limits, the verdict. The parts keep their places, so that lines of one window
// stand in columns. Without room for the bar, the words remain.
func (g Gauge) Line(t *Theme, w int) string {
	const (
		value   = 10 // cells for the value with its unit
		off     = 10 // cells for how far it is off
		least   = 11 // cells below which a bar shows nothing
		spacing = 2
	)
	s := newGrid(t, w, 1)
	words := g.words(t, g.lay(0, w-1))
	low, high := t.Plain(g.Low.Text), t.Plain(g.High.Text)
	verdict := w - off - Width(t.badge(NotProven))
	head := max(Width(t.Plain(words[0].text)), value)
	from := head + spacing
	if low != "" {
		from += Width(low) + 1
	}
	to := verdict - spacing - 1
	if high != "" {
		to -= Width(high) + 1
	}
	if to-from+1 < least {
		s.row(0, 0, words...)
		return s.String()
	}
	s.put(head-Width(t.Plain(words[0].text)), 0, words[0].role, words[0].text)
	s.put(from-Width(low)-1, 0, Text, low)
	g.bar(s, g.lay(from, to), 0)
	s.put(to+2, 0, Text, high)
	s.row(verdict, 0, words[2:]...)
	return s.String()
}

// lay places window and value on the cells from a to b.
func (g Gauge) lay(a, b int) axis {
	low, high := g.Low.known(), g.High.known()
	v := g.Value.At
	if !g.Value.known() {
		v = g.Low.At
		if high {
			v = g.High.At
		}
	}
	x := axis{low: a - 1, high: b + 1, scale: scale{a: a + 1, b: b - 1}}
	switch {
	case low && high:
		x.from, x.to = stretch(g.Low.At, g.High.At, 0.35, 0.35)
	case high:
		// Most upper limits stand alone because the quantity cannot go below zero.
		floor := g.High.At - math.Abs(g.High.At)
		if floor == g.High.At {
			floor--
		}
		x.from, x.to = stretch(min(floor, v), g.High.At, 0, 0.35)
	case low:
		top := max(g.Low.At+math.Abs(g.Low.At)*0.25, v+(v-g.Low.At)*0.25)
		if g.Full.known() && g.Full.At > g.Low.At {
			top = max(g.Full.At, v)
		}
		x.from, x.to = stretch(g.Low.At, top, 0.35, 0)
	default:
		x.from, x.to = stretch(v, v, 1, 1)
	}
	if low {
		x.low = x.at(g.Low.At)
	}
	if high {
		x.high = max(x.at(g.High.At), x.low+2)
	}
	g.place(&x, a, b, v)
	return x
}

// place finds the cell of the value. Whatever the rounding, a value outside is
// drawn outside its limit and a value inside between the limits.
func (g Gauge) place(x *axis, a, b int, v float64) {
	x.left = g.Value.known() && g.Low.known() && v < g.Low.At
	x.right = g.Value.known() && g.High.known() && v > g.High.At
	x.value = x.at(v)
	switch {
	case x.left && v < x.from:
		x.value = a
	case x.left:
		x.value = max(min(x.value, x.low-1), a)
	case x.right && v > x.to:
		x.value = b
	case x.right:
		x.value = min(max(x.value, x.high+1), b)
	default:
		x.value = max(min(x.value, x.high-1, b), x.low+1, a)
	}
}

// stretch widens a range by parts of its span, and a range without a span by
// something that can be drawn.
func stretch(from, to, below, above float64) (float64, float64) {
	span := to - from
	if span <= 0 {
		span = max(math.Abs(to)*0.1, 1e-6)
		below, above = max(below, 0.5), max(above, 0.5)
	}
	return from - span*below, to + span*above
}

// bar draws the line of the gauge.
func (g Gauge) bar(s *grid, x axis, y int) {
	gl := s.t.Glyphs
	from, to := x.a-1, x.b+1
	s.fill(from, to, y, Frame, gl.Light)
	if !g.Low.known() && !g.High.known() {
		s.fill(from, to, y, Frame, gl.Across)
	} else {
		s.fill(max(x.low, from), min(x.high, to), y, Good, gl.Track)
	}
	if g.Aim.known() {
		s.put(x.at(g.Aim.At), y, Good, gl.Aim)
	}
	if g.Value.known() && g.Uncertainty > 0 {
		s.fill(x.at(g.Value.At-g.Uncertainty), x.at(g.Value.At+g.Uncertainty), y, Text, gl.Shade)
	}
	if g.Low.known() {
		s.put(x.low, y, Title, gl.PostLow)
		if !g.High.known() {
			s.put(to, y, Good, gl.Ahead)
		}
	}
	if g.High.known() {
		s.put(x.high, y, Title, gl.PostHigh)
	}
	switch {
	case !g.Value.known():
	case x.left:
		s.put(x.value, y, g.State.Role(), gl.Below)
	case x.right:
		s.put(x.value, y, g.State.Role(), gl.Above)
	default:
		s.put(x.value, y, g.State.Role(), gl.Value)
	}
}

// limits names the limits above their posts, with "min" and "max" where there
// is room for it.
func (g Gauge) limits(s *grid, x axis) {
	t := s.t
	low, high := phrase.Of("draw.gauge.min", g.Low.Text), phrase.Of("draw.gauge.max", withUnit(g.High.Text, g.Unit))
	if !g.High.known() {
		high, low = "", withUnit(low, g.Unit)
	}
	if !g.Low.known() {
		low = ""
	}
	if Width(t.Plain(low))+Width(t.Plain(high))+2 > s.w {
		low, high = g.Low.Text, g.High.Text
	}
	lw, hw := Width(t.Plain(low)), Width(t.Plain(high))
	lx := max(0, min(x.low-lw/2, s.w-lw))
	hx := max(0, min(x.high-hw/2, s.w-hw))
	if low != "" && high != "" && lx+lw+1 > hx { // push them apart
		hx = min(max(hx, lx+lw+1), s.w-hw)
		lx = max(0, min(lx, hx-lw-1))
	}
	s.put(lx, 0, Text, low)
	s.put(hx, 0, Text, high)
	if aim := phrase.Of("draw.gauge.aim", g.Aim.Text); g.Aim.known() {
		ax := x.at(g.Aim.At) - Width(t.Plain(aim))/2
		if ax > lx+lw+1 && ax+Width(t.Plain(aim))+1 < hx {
			s.put(ax, 0, Text, aim)
		}
	}
}

// words are the value, its verdict and how far it is off.
func (g Gauge) words(t *Theme, x axis) []label {
	value := withUnit(g.Value.Text, g.Unit)
	if !g.Value.known() {
		value = phrase.Of("draw.gauge.no-value")
	}
	out := []label{{Title, value}, {Text, " "}, {g.State.Role(), t.badge(g.State)}}
	off, word := "", ""
	switch {
	case x.left:
		off, word = difference(g.Low, g.Value), phrase.Of("draw.gauge.under")
	case x.right:
		off, word = difference(g.Value, g.High), phrase.Of("draw.gauge.over")
	default:
		return out
	}
	if off != "" {
		word = withUnit(off, g.Unit) + " " + word
	}
	return append(out, label{Text, " " + word})
}
