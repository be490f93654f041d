package paper

import (
	"fmt"
	"math"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// curveOf draws a run-out over one turn with the tilt fitted to it.
func curveOf(c *job.Card, g group) (figure, bool) {
	var points []*job.Entry
	for _, e := range g.counting() {
		if e.Item != procedures.ItemReturn {
			points = append(points, e)
		}
	}
	mm := make([]float64, len(points))
	curve := draw.Curve{}
	mean := 0.0
	for i, e := range points {
		mm[i] = e.Value.Float()
		mean += mm[i] / float64(len(points))
		curve.Readings = append(curve.Readings, amountOf(e.Value))
		curve.Unit = string(e.Value.Unit)
	}
	h, err := brakes.FirstHarmonic(mm)
	if err != nil || len(points) < len(g.check.Points) || len(points) < g.check.NumPoints {
		return figure{}, false
	}
	note := phrase.Of("paper.svgcurve.tilt-mm-high-spot-at-from-point", h.TIR, h.HighSpot)
	if h.TIR < 0.0005 {
		note = phrase.Of("paper.svgcurve.no-tilt")
	}
	if v, ok := figureValue(c, g, job.FigureRunOut); ok && g.last() {
		note = phrase.Of("paper.svgcurve.run-out", v.Value.Shown(), note)
	}
	curve.Fit, curve.Note = &draw.Harmonic{Mean: mean, Amplitude: h.Amplitude, Peak: h.HighSpot}, note
	title := g.title()
	return figure{caption: title, svg: curveSVG(title, points, mm, curve.Fit, note),
		drawn: func(t *draw.Theme, w int) string { return curve.Draw(t, w, figuresHigh) }}, true
}

func curveSVG(title string, points []*job.Entry, mm []float64, fit *draw.Harmonic, note string) string {
	const w, h, left, right, top, foot = 330.0, 150.0, 38.0, 322.0, 22.0, 122.0
	lo, hi := mm[0], mm[0]
	high, low := 0, 0
	for i, v := range mm {
		if v > mm[high] {
			high = i
		}
		if v < mm[low] {
			low = i
		}
		lo, hi = min(lo, v), max(hi, v)
	}
	lo, hi = min(lo, fit.Mean-fit.Amplitude), max(hi, fit.Mean+fit.Amplitude)
	if hi == lo {
		lo, hi = lo-0.01, hi+0.01
	}
	x, y := stretch{0, 360, left, right}, stretch{hi, lo, top + 6, foot - 6}
	var p picture
	p.line(left, top, left, foot, inkLine)
	p.line(left, foot, right, foot, inkLine)
	for d := 0.0; d <= 360; d += 90 {
		p.line(x.at(d), top, x.at(d), foot+3, inkThin)
		p.words(x.at(d), foot+12, "middle", inkSmall, fmt.Sprintf("%.0f°", d))
	}
	if lo < 0 && hi > 0 {
		p.line(left, y.at(0), right, y.at(0), inkThin)
	}
	for _, i := range []int{high, low} {
		p.words(left-4, y.at(mm[i])+3, "end", inkSmall, phrase.Decimal(points[i].Value.Number))
	}
	var fitted [][2]float64
	for d := 0.0; d <= 360; d += 5 {
		fitted = append(fitted, [2]float64{x.at(d), y.at(fit.Mean + fit.Amplitude*math.Cos((d-fit.Peak)*math.Pi/180))})
	}
	p.path(fitted, inkDash)
	for i, v := range mm {
		p.circle(x.at(360*float64(i)/float64(len(mm))), y.at(v), 3, inkSolid)
	}
	p.circle(left+5, 9, 3, inkSolid)
	p.words(left+12, 12, "start", inkSmall, "reading")
	p.line(left+50, 9, left+72, 9, inkDash)
	p.words(left+76, 12, "start", inkSmall, phrase.Of("paper.svgcurve.fitted-tilt"))
	p.words(right, 12, "end", inkSmall, phrase.Of("paper.svgcurve.over-the-angle-from-point-1", string(points[0].Value.Unit)))
	p.words(left, h-4, "start", inkSmall, note)
	return p.done(w, h, 84, title)
}
