package draw

import (
	"math"
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
)

// Curve is a set of run-out readings over one turn, equally spaced, with the
// first harmonic that was fitted to them.
type Curve struct {
	Readings []Amount
	Fit      *Harmonic // nil for none
	Unit     string
	Note     string // what follows from it, such as "total 0.12, tilt 0.127 at 40°"
}

// Harmonic is Mean + Amplitude·cos(θ − Peak), θ counted from the first reading.
type Harmonic struct {
	Mean, Amplitude float64
	Peak            float64 // degrees
}

// at is the height of the harmonic at an angle in degrees.
func (f Harmonic) at(degrees float64) float64 {
	return f.Mean + f.Amplitude*math.Cos((degrees-f.Peak)*math.Pi/180)
}

// curveSteps are the heights a fitted line can have within one row.
const curveSteps = 3

// Draw shows readings and fitted curve in w×h cells, one turn from left to
// right, with the highest and the lowest reading on the axis.
func (c Curve) Draw(t *Theme, w, h int) string {
	high, low := c.ends()
	if high < 0 || w < 24 || h < 6 {
		text := c.Note
		if high >= 0 {
			text = phrase.Of("draw.curve.highest-lowest", withUnit(c.Readings[high].Text, c.Unit), withUnit(c.Readings[low].Text, c.Unit), text)
		} else {
			text = phrase.Of("draw.curve.no-readings-yet", text)
		}
		return t.Fit(strings.Join(t.Wrap(text, w), "\n"), w, h)
	}
	g := newGrid(t, w, h)
	top, foot := 1, h-3
	left := max(Width(t.Plain(c.Readings[high].Text)), Width(t.Plain(c.Readings[low].Text)), 1) + 1
	if left > w/2 {
		left = w / 2
	}
	from, to := c.Readings[low].At, c.Readings[high].At
	if c.Fit != nil && !math.IsNaN(c.Fit.Mean+c.Fit.Amplitude) && !math.IsInf(c.Fit.Mean+c.Fit.Amplitude, 0) {
		from, to = min(from, c.Fit.Mean-math.Abs(c.Fit.Amplitude)), max(to, c.Fit.Mean+math.Abs(c.Fit.Amplitude))
	}
	if from == to {
		from, to = from-1, to+1
	}
	rows := scale{from: to, to: from, a: top, b: foot}
	across := scale{from: 0, to: 360, a: left + 1, b: w - 2}
	c.axes(g, left, foot, across, rows, high, low)
	if c.Fit != nil {
		fine := scale{from: to, to: from, a: top*curveSteps + 1, b: foot*curveSteps + 1}
		marks := [curveSteps]string{t.Glyphs.High, t.Glyphs.Middle, t.Glyphs.Low}
		for x := across.a; x <= across.b; x++ {
			y := fine.at(c.Fit.at(360 * float64(x-across.a) / float64(max(across.b-across.a, 1))))
			g.put(x, y/curveSteps, Good, marks[y%curveSteps])
		}
	}
	for i, p := range c.Readings {
		if !p.known() {
			continue
		}
		role := Text
		if i == high || i == low {
			role = Title
		}
		g.put(across.at(360*float64(i)/float64(len(c.Readings))), rows.at(p.At), role, t.Glyphs.Reading)
	}
	legend := []label{{Title, t.Glyphs.Reading}, {Text, phrase.Of("draw.curve.reading")}}
	if c.Fit != nil {
		dots := t.Glyphs.Low + t.Glyphs.Middle + t.Glyphs.High
		legend = append(legend, label{Good, dots}, label{Text, phrase.Of("draw.curve.fitted-tilt")})
	}
	g.row(0, 0, append(legend, label{Text, c.Note})...)
	return g.String()
}

// ends are the indexes of the highest and the lowest reading, -1 for none.
func (c Curve) ends() (high, low int) {
	high, low = -1, -1
	for i, p := range c.Readings {
		if !p.known() {
			continue
		}
		if high < 0 || p.At > c.Readings[high].At {
			high = i
		}
		if low < 0 || p.At < c.Readings[low].At {
			low = i
		}
	}
	return high, low
}

// axes draws the two axes, the heights of the extremes and of zero, and the
// quarter turns.
func (c Curve) axes(g *grid, left, foot int, across, rows scale, high, low int) {
	gl := g.t.Glyphs
	for y := rows.a; y <= foot; y++ {
		g.put(left, y, Frame, gl.Down)
	}
	tick := func(y int, text string) {
		g.put(left-1-Width(g.t.Plain(text)), y, Text, text)
		g.put(left, y, Frame, gl.TeeRight)
	}
	if rows.to < 0 && rows.from > 0 {
		tick(rows.at(0), "0")
	}
	tick(rows.at(c.Readings[low].At), c.Readings[low].Text)
	tick(rows.at(c.Readings[high].At), c.Readings[high].Text)
	g.put(left, foot+1, Frame, gl.BottomLeft)
	g.fill(left+1, g.w-1, foot+1, Frame, gl.Across)
	for d := 0; d <= 360; d += 90 {
		x := across.at(float64(d))
		g.put(x, foot+1, Frame, gl.TeeUp)
		text := strconv.Itoa(d)
		if !g.t.ascii {
			text += "°"
		}
		g.centre(x, foot+2, label{Text, text})
	}
}
