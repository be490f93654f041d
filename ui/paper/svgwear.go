package paper

import (
	"errors"
	"math/big"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// wearOf draws the thinnest values of earlier visits and of this one against the distance, with the
// forecast to the limit; false where there are no earlier visits.
func wearOf(c *job.Card, g group, limitID string) (figure, bool) {
	var visits []brakes.Visit
	for _, v := range c.Past(c.FigureKey(g.check.Reckon, g.stage.Node.Ref)) {
		visits = append(visits, brakes.Visit{Thickness: v.Value, Odometer: v.Odometer, Uncertainty: v.Within, Renewed: v.New})
	}
	now, ok := thinnest(g)
	limit, err := windowOf(c, c.Plan.Figures(g.stage.Node.Ref), limitID)
	if len(visits) == 0 || !ok || err != nil || limit.Low.IsZero() {
		return figure{}, false
	}
	visits = append(visits, brakes.Visit{Thickness: now, Odometer: c.Opened.Odometer})
	line := draw.WearLine{Limit: amountOf(limit.Low), Unit: string(now.Unit)}
	for _, v := range visits {
		line.Points = append(line.Points, draw.WearPoint{Km: amountOf(v.Odometer), Thickness: amountOf(v.Thickness)})
	}
	f, err := brakes.ForecastWear(visits, limit.Low)
	if err == nil {
		line.Soonest, line.Latest = meets(c, f.CautiousRemaining), meets(c, f.Remaining)
		line.Note = phrase.Of("paper.svgwear.about-left", brakes.TwoFigures(f.CautiousRemaining))
		if plain := brakes.TwoFigures(f.Remaining); plain != brakes.TwoFigures(f.CautiousRemaining) {
			line.Note = phrase.Of("paper.svgwear.cautiously-to-left", brakes.TwoFigures(f.CautiousRemaining), plain)
		}
	} else {
		line.Note = err.Error()
	}
	title := phrase.Of("paper.svgwear.wear", g.check.Title)
	if side := g.stage.Node.Ref.Side; side != procedures.NoSide {
		title += ", " + phrase.Word(side)
	}
	return figure{caption: title, svg: wearSVG(title, line),
		drawn: func(t *draw.Theme, w int) string { return line.Draw(t, w, figuresHigh) }}, true
}

// meets is the odometer at which a distance from this visit ends, to a whole kilometre.
func meets(c *job.Card, distance *big.Rat) draw.Amount {
	odo := c.Opened.Odometer.Rat()
	if odo == nil || distance == nil {
		return draw.Amount{}
	}
	return amountOf(quantity.FromRat(new(big.Rat).Add(odo, distance), quantity.Kilometre, 0))
}

// thinnest is the smallest value of a group.
func thinnest(g group) (quantity.Quantity, bool) {
	var low quantity.Quantity
	for _, e := range g.counting() {
		if cmp, err := e.Value.Cmp(low); low.IsZero() || (err == nil && cmp < 0) {
			low = e.Value
		}
	}
	return low, !low.IsZero()
}

// windowOf reads a window of the sheet by its conventional name.
func windowOf(c *job.Card, figures, id string) (quantity.Window, error) {
	w, ok := c.Plan.SheetWindow(figures, id)
	if !ok {
		return quantity.Window{}, errors.New(phrase.Of("paper.svgwear.the-sheet-has-no-window", id))
	}
	return quantity.ParseWindow(w.Value)
}

func wearSVG(title string, l draw.WearLine) string {
	const w, h, left, right, top, foot = 330.0, 150.0, 38.0, 318.0, 22.0, 122.0
	kmFrom, kmTo := l.Points[0].Km.At, l.Points[0].Km.At
	tTo := l.Limit.At
	for _, p := range l.Points {
		kmFrom, kmTo = min(kmFrom, p.Km.At), max(kmTo, p.Km.At)
		tTo = max(tTo, p.Thickness.At)
	}
	forecast := l.Latest.Text != "" && l.Soonest.Text != ""
	if forecast {
		kmTo = max(kmTo, l.Latest.At)
	}
	room := max(tTo-l.Limit.At, 0.1) * 0.15
	x, y := stretch{kmFrom, kmTo, left + 8, right - 8}, stretch{tTo, l.Limit.At - room, top + 6, foot - 2}
	last := l.Points[len(l.Points)-1]
	var p picture
	if forecast {
		band := [][2]float64{{x.at(last.Km.At), y.at(last.Thickness.At)}, {x.at(l.Soonest.At), y.at(l.Limit.At)}, {x.at(l.Latest.At), y.at(l.Limit.At)}}
		p.path(band, `fill="#e2e2e2" stroke="#000" stroke-width="0.7" stroke-dasharray="2 2"`)
	}
	p.line(left, top, left, foot, inkLine)
	p.line(left, foot, right, foot, inkLine)
	p.line(left, y.at(l.Limit.At), right, y.at(l.Limit.At), inkDash)
	p.words(left-4, y.at(l.Limit.At)+3, "end", inkBold+` font-size="8"`, l.Limit.Text)
	p.words(left+4, y.at(l.Limit.At)-3, "start", inkSmall, "limit")
	var line [][2]float64
	for i, q := range l.Points {
		line = append(line, [2]float64{x.at(q.Km.At), y.at(q.Thickness.At)})
		p.circle(x.at(q.Km.At), y.at(q.Thickness.At), 3, inkSolid)
		p.words(x.at(q.Km.At), y.at(q.Thickness.At)-6, "middle", inkSmall, q.Thickness.Text)
		anchor := "middle"
		if i == 0 {
			anchor = "start"
		}
		p.words(x.at(q.Km.At), foot+12, anchor, inkSmall, q.Km.Text)
	}
	p.path(line, inkLine)
	p.words(right, 12, "end", inkSmall, phrase.Of("paper.svgwear.over-km", l.Unit))
	p.words(left, h-4, "start", inkSmall, l.Note)
	return p.done(w, h, 84, title)
}
