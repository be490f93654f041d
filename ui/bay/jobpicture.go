package bay

import (
	"fmt"
	"strconv"
	"strings"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// picture draws the set in focus where there is room: the pads, the disc or the curve of the dial,
// and below it what follows for the stud positions or the wear.
func (s *jobScreen) picture(e *Env, w, room int) []string {
	it, ok := s.current()
	if !ok || s.closed() != "" {
		return nil
	}
	if room--; room < 7 {
		return nil
	}
	block := s.drawSet(e, it, w, room, false)
	if block == "" {
		return nil
	}
	return append([]string{""}, strings.Split(block, "\n")...)
}

// drawSet draws a set in w by h cells; full gives it all the room there is.
func (s *jobScreen) drawSet(e *Env, it item, w, h int, full bool) string {
	t := e.Theme
	points := s.points(e, it.check)
	most := func(n int) int {
		if full {
			return h
		}
		return min(n, h)
	}
	main, under := "", ""
	switch {
	case it.check.Kind == procedures.RunOut && h >= 7:
		rows := s.positionRows(e)
		high := most(12)
		if need := rows + 2; rows > 0 && h-need >= 7 {
			high = min(high, h-need)
			under = s.positions(e).Draw(t, w, rows+1)
		}
		main = s.curve(e, points, it).Draw(t, w, high)
	default:
		high := min(h, 13)
		if full {
			high = min(h, 21)
		}
		main = s.drawSetAlone(e, it, points, w, high)
	}
	if main == "" {
		return ""
	}
	if wear, ok := s.wearLine(e, it.check); ok {
		if full && w >= 70 && h < 24 { // too low for both below each other
			wide := w * 11 / 20
			return t.Columns(h, 2, draw.Column{Block: s.drawSetAlone(e, it, points, wide, min(h, 13)), Width: wide},
				draw.Column{Block: wear.Draw(t, w-wide-2, min(h, 13)), Width: w - wide - 2})
		}
		if left := h - strings.Count(main, "\n") - 2; left >= 9 {
			under = wear.Draw(t, min(w, 90), min(left, 14))
		}
	}
	if under != "" {
		main += "\n\n" + under
	}
	return main
}

// drawSetAlone draws the points of a thickness set: the pads, or the ring of the disc.
func (s *jobScreen) drawSetAlone(e *Env, it item, points []draw.Amount, w, h int) string {
	switch {
	case it.check.Kind != procedures.Thickness:
		return ""
	case isPads(it.check):
		return s.pads(e, points, it).Draw(e.Theme, min(w, 64))
	case len(points) > 2 && h >= 11:
		return s.ring(points, it).Draw(e.Theme, min(w, h*3+1), h)
	}
	return ""
}

// drawable is the first set of the stage that can be drawn, the one in focus before the others.
func (s *jobScreen) drawable() (item, bool) {
	items := s.items()
	if it, ok := s.current(); ok {
		items = append([]item{it}, items...)
	}
	for _, it := range items {
		if it.check.Kind == procedures.RunOut || it.check.Kind == procedures.Thickness && len(it.check.Items) > 2 {
			return it, true
		}
	}
	return item{}, false
}

func (s *jobScreen) pictureOff() string {
	if _, ok := s.drawable(); !ok {
		return phrase.Of("bay.jobpicture.there-is-no-set-of-readings-to")
	}
	return ""
}

// picturePane shows the set as large as the terminal.
func (s *jobScreen) picturePane(*Env) Action {
	it, ok := s.drawable()
	if !ok {
		return Say{Text: s.pictureOff(), Role: draw.Warn}
	}
	return Ask{Name: "picture", Dialog: &setPicture{screen: s, it: it}}
}

// setPicture is a drawing that fills the terminal.
type setPicture struct {
	screen *jobScreen
	it     item
}

// Head is the set and its side.
func (d *setPicture) Head(*Env) string {
	return d.screen.title(d.screen.at) + ": " + d.it.check.Title
}

// Focus is nowhere.
func (d *setPicture) Focus() Focus { return FocusNone }

// Keys close it.
func (d *setPicture) Keys(*Env) []Binding {
	return []Binding{{Key: "Enter Esc", Word: phrase.Of("bay.jobpicture.close"), Bar: true}}
}

// Update closes it.
func (d *setPicture) Update(_ *Env, in Input) Action {
	if k, ok := in.(Key); ok && (k.Sym == Enter || k.Sym == Esc) {
		return Cancel{}
	}
	return ignore(in)
}

// Height asks for the whole terminal.
func (d *setPicture) Height(e *Env, _ int) int { return e.H }

// View draws the set.
func (d *setPicture) View(e *Env, w, h int) string {
	block := d.screen.drawSet(e, d.it, w, h, true)
	if block == "" {
		return strings.Join(e.Theme.Wrap(phrase.Of("bay.jobpicture.there-is-no-room-to-draw-this"), w), "\n")
	}
	return block
}

// positionRows is how many stud positions there are to compare; none before two were measured.
func (s *jobScreen) positionRows(e *Env) int { return len(s.positions(e).Rows) }

// positions compares what is predicted for every stud position from the mountings measured so far.
// A prediction is never the record.
func (s *jobScreen) positions(e *Env) draw.Positions {
	out := draw.Positions{Best: -1}
	studs, permitted, err := s.card.Positions()
	if err != nil {
		return out
	}
	sep, err := brakes.Separate(studs, s.card.Mountings(s.at))
	if err != nil {
		return out
	}
	for i := range s.stage().Node.Checks {
		if pc := &s.stage().Node.Checks[i]; pc.Kind == procedures.RunOut && pc.Window != nil {
			out.Limit, out.Unit = amount(e, pc.Window.Window.High), string(pc.Window.Window.Unit())
		}
	}
	least := 0.0
	for i, p := range sep.Predict(permitted) {
		name := phrase.Of("bay.jobpicture.as-marked")
		if p.Turned > 0 {
			name = phrase.Of("bay.jobpicture.turned-by", strconv.Itoa(p.Turned))
		}
		out.Rows = append(out.Rows, draw.Position{Name: name, Permitted: p.Permitted, Over: out.Limit.At > 0 && p.TIR > out.Limit.At,
			TIR: draw.Amount{At: p.TIR, Text: e.decimals(fmt.Sprintf("%.3f", p.TIR))}})
		if p.Permitted && (out.Best < 0 || p.TIR < least) {
			out.Best, least = i, p.TIR
		}
	}
	return out
}

// wearLine is thickness against distance over the visits of the vehicle, with the forecast. There is
// one where an earlier visit measured the same figure.
func (s *jobScreen) wearLine(e *Env, pc *procedures.PlanCheck) (draw.WearLine, bool) {
	var visits []brakes.Visit
	for _, v := range s.card.Past(s.card.FigureKey(pc.Reckon, s.at)) {
		visits = append(visits, brakes.Visit{Thickness: v.Value, Odometer: v.Odometer, Uncertainty: v.Within, Renewed: v.New})
	}
	if len(visits) == 0 || pc.Window == nil || pc.Window.Window.Low.IsZero() {
		return draw.WearLine{}, false
	}
	if now, ok := s.thinnest(pc); ok {
		visits = append(visits, brakes.Visit{Thickness: now, Odometer: s.card.Opened.Odometer})
	}
	out := draw.WearLine{Limit: amount(e, pc.Window.Window.Low), Unit: string(pc.Window.Window.Unit())}
	for _, v := range visits {
		if v.Renewed {
			out.Points = nil
		}
		out.Points = append(out.Points, draw.WearPoint{Km: amount(e, v.Odometer), Thickness: amount(e, v.Thickness)})
		out.Uncertainty = v.Uncertainty.Float()
	}
	f, err := brakes.ForecastWear(visits, pc.Window.Window.Low)
	if err != nil {
		out.Note = sentence(err.Error())
		return out, true
	}
	last := out.Points[len(out.Points)-1].Km.At
	plain, _ := f.Remaining.Float64()
	cautious, _ := f.CautiousRemaining.Float64()
	whole := func(km float64) draw.Amount { return draw.Amount{At: km, Text: strconv.Itoa(int(km))} }
	out.Soonest, out.Latest = whole(last+cautious), whole(last+plain)
	out.Note = f.Advice()
	return out, true
}

// thinnest is the smallest value of a complete set.
func (s *jobScreen) thinnest(pc *procedures.PlanCheck) (quantity.Quantity, bool) {
	var least quantity.Quantity
	for _, it := range s.items() {
		if it.check.ID != pc.ID {
			continue
		}
		if it.entry == nil {
			return least, false
		}
		if c, err := it.entry.Value.Cmp(least); least.IsZero() || err == nil && c < 0 {
			least = it.entry.Value
		}
	}
	return least, !least.IsZero()
}
