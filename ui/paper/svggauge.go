package paper

import (
	"math"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// gaugeRow is one value in the window it shares with others.
type gaugeRow struct {
	name    string
	value   quantity.Quantity
	verdict quantity.Verdict
}

// gaugesOf draws the values of a torque group in their window.
func gaugesOf(g group) (figure, bool) {
	var rows []gaugeRow
	var w *procedures.PlanWindow
	for _, e := range g.counting() {
		if e.Item == procedures.ItemNew || e.Value.IsZero() || e.Window == nil {
			continue
		}
		v := e.Value
		if !e.Bolt.IsZero() {
			v = e.Bolt
		}
		if !v.Unit.Same(e.Window.Window.Unit()) {
			continue
		}
		w = e.Window
		rows = append(rows, gaugeRow{e.Item, v, e.Verdict})
	}
	if len(rows) == 0 || w.Window.IsZero() {
		return figure{}, false
	}
	what := phrase.Of("paper.svggauge.reached")
	if setValue(g.entries[len(g.entries)-1]) != "" {
		what = phrase.Of("paper.svggauge.set")
	}
	return figure{caption: phrase.Of("paper.svggauge.in-the-window", what, w.Window.Shown()), svg: gauges(g.title(), w.Window, rows)}, true
}

// inUnit is the float of a quantity in a unit, for places in a picture only.
func inUnit(q quantity.Quantity, u quantity.Unit) float64 {
	r, err := q.In(u)
	if err != nil {
		return math.NaN()
	}
	f, _ := r.Float64()
	return f
}

// gauges draws a window as a grey band with its two posts and every value as a diamond below its
// name: solid inside, open otherwise, an arrow where it lies beyond the picture.
func gauges(title string, w quantity.Window, rows []gaugeRow) string {
	const width, left, right, pitch, top = 330.0, 76.0, 254.0, 13.0, 14.0
	u := w.Unit()
	low, high := inUnit(w.Low, u), inUnit(w.High, u)
	lo, hi := low, high
	for _, r := range rows {
		if v := inUnit(r.value, u); known(v) {
			if math.IsNaN(lo) {
				lo = min(v, high)
			}
			if math.IsNaN(hi) {
				hi = max(v, low)
			}
		}
	}
	room := max(hi-lo, 1e-9) * 0.35
	x := stretch{lo - room, hi + room, left, right}
	from, to := left, right
	if known(low) {
		from = x.at(low)
	}
	if known(high) {
		to = x.at(high)
	}
	var p picture
	bottom := top + pitch*float64(len(rows))
	p.rect(from, top, to-from, bottom-top, inkBand)
	if known(low) {
		p.line(from, top-2, from, bottom+1, inkThick)
		p.words(from, top-5, "middle", inkSmall, phrase.Decimal(w.Low.Number))
	}
	if known(high) {
		p.line(to, top-2, to, bottom+1, inkThick)
		p.words(to, top-5, "middle", inkSmall, w.High.Shown())
	}
	for i, r := range rows {
		y := top + pitch*(float64(i)+0.5)
		p.line(left, y, right, y, inkThin)
		p.words(left-6, y+3, "end", inkSmall, r.name)
		style := inkSolid
		if r.verdict != quantity.Inside {
			style = inkOpen
		}
		p.diamond(x.at(inUnit(r.value, u)), y, 4, style)
		text := rounded(r.value)
		if r.verdict != quantity.Inside {
			text += " " + verdictWord(r.verdict)
		}
		p.words(right+6, y+3, "start", inkSmall, text)
	}
	return p.done(width, bottom+4, 84, title)
}

// figureValue picks a worked-out figure of a check by name.
func figureValue(c *job.Card, g group, name string) (job.Valued, bool) {
	for _, r := range c.Results(g.stage.Node.Ref) {
		if r.Check.ID != g.check.ID {
			continue
		}
		for _, v := range r.Values {
			if v.Entry == nil && v.Name == name {
				return v, true
			}
		}
	}
	return job.Valued{}, false
}
