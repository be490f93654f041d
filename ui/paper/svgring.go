package paper

import (
	"fmt"
	"math"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/ui/draw"
)

// ringOf draws the points of a disc with the thinnest marked.
func ringOf(g group) (figure, bool) {
	es := g.counting()
	if len(es) < 4 {
		return figure{}, false
	}
	ring := draw.Ring{Next: -1, Unit: string(es[0].Value.Unit)}
	for _, e := range es {
		ring.Points = append(ring.Points, amountOf(e.Value))
	}
	var notes []string
	var all brakes.RunOut
	for _, e := range es {
		all.Readings = append(all.Readings, e.Value)
	}
	if v, err := all.TIR(); err == nil {
		notes = append(notes, phrase.Of("paper.svgring.variation", v.String()))
	}
	ring.Notes = notes
	thin := 0
	for i, e := range es {
		if cmp, err := e.Value.Cmp(es[thin].Value); err == nil && cmp < 0 {
			thin = i
		}
	}
	title := g.title()
	return figure{caption: title, svg: ringSVG(title, es, thin, notes),
		drawn: func(t *draw.Theme, w int) string { return ring.Draw(t, min(w, 60), figuresHigh) }}, true
}

// amountOf is a quantity as the drawings take it.
func amountOf(q quantity.Quantity) draw.Amount {
	if q.IsZero() {
		return draw.Amount{}
	}
	return draw.Amount{At: q.Float(), Text: phrase.Decimal(q.Number)}
}

func ringSVG(title string, es []*job.Entry, thin int, notes []string) string {
	const w, h, cx, cy, r, hub = 240.0, 176.0, 120.0, 88.0, 56.0, 27.0
	var p picture
	p.circle(cx, cy, r, inkThick)
	p.circle(cx, cy, hub, inkLine)
	for i, e := range es {
		a := 2*math.Pi*float64(i)/float64(len(es)) - math.Pi/2
		x, y := cx+r*math.Cos(a), cy+r*math.Sin(a)
		style, weight := inkSolid, ""
		if i == thin {
			style, weight = inkOpen, inkBold
			p.circle(x, y, 5.5, style)
		} else {
			p.circle(x, y, 3, style)
		}
		anchor := "middle"
		switch {
		case math.Cos(a) > 0.3:
			anchor = "start"
		case math.Cos(a) < -0.3:
			anchor = "end"
		}
		tx, ty := cx+(r+10)*math.Cos(a), cy+(r+12)*math.Sin(a)+3
		p.words(tx, ty, anchor, weight, phrase.Decimal(e.Value.Number))
		p.words(cx+(r-11)*math.Cos(a), cy+(r-11)*math.Sin(a)+3, "middle", `font-size="7" fill="#444"`, fmt.Sprint(i+1))
	}
	lines := append([]string{phrase.Of("paper.svgring.thinnest"), es[thin].Value.Shown()}, notes...)
	for i, l := range lines {
		weight := inkSmall
		if i == 1 {
			weight = inkBold
		}
		if i < 2 {
			p.words(cx, cy-2+float64(i)*10, "middle", weight, l)
		} else {
			p.words(cx, h-2, "middle", inkSmall, l)
		}
	}
	return p.done(w, h, 62, title)
}
