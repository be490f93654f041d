package bay

import (
	"fmt"
	"strconv"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/ui/draw"
	"bay.example/pawl/ui/reckon"
)

// picture draws what the answer has to draw, in at most w by h cells; empty where it has nothing or
// there is no room.
func (s *benchAnswer) picture(e *Env, w, h int) string {
	t := e.Theme
	switch p := s.answer.Picture.(type) {
	case reckon.InWindow:
		return benchGauge(e, p).Draw(t, w)
	case reckon.Disc:
		return benchRing(e, p).Draw(t, min(w, 40), min(h, 13))
	case reckon.Turn:
		return benchCurve(e, p).Draw(t, min(w, 90), min(h, 13))
	case reckon.Studs:
		return benchPositions(e, p).Draw(t, min(w, 76), min(h, len(p.Positions)+1))
	case reckon.PadPair:
		return benchPads(e, p).Draw(t, min(w, 64))
	case reckon.WearLine:
		if len(p.Visits) > 0 {
			return benchWear(e, p).Draw(t, min(w, 90), min(h, 14))
		}
	}
	return ""
}

func benchGauge(e *Env, p reckon.InWindow) draw.Gauge {
	w := p.Window
	return draw.Gauge{Value: amount(e, p.Value), Low: amount(e, w.Low), High: amount(e, w.High), Aim: amount(e, w.Target),
		Uncertainty: p.Uncertainty.Float(), Unit: string(w.Unit()), State: verdictState(p.Verdict)}
}

func amounts(e *Env, qs []quantity.Quantity) []draw.Amount {
	out := make([]draw.Amount, len(qs))
	for i, q := range qs {
		out[i] = amount(e, q)
	}
	return out
}

func unitOfAll(qs []quantity.Quantity) string {
	if len(qs) == 0 {
		return ""
	}
	return string(qs[0].Unit)
}

func benchRing(e *Env, p reckon.Disc) draw.Ring {
	notes := []string{phrase.Of("bay.benchpicture.mean", e.number(p.Mean)), phrase.Of("bay.benchpicture.varies", e.number(p.Variation))}
	if !p.Smallest.IsZero() {
		notes = append(notes, phrase.Of("bay.benchpicture.least", e.number(p.Smallest)))
	}
	return draw.Ring{Points: amounts(e, p.Points), Next: -1, Unit: unitOfAll(p.Points), Notes: notes}
}

func benchCurve(e *Env, p reckon.Turn) draw.Curve {
	c := draw.Curve{Readings: amounts(e, p.Readings), Unit: unitOfAll(p.Readings)}
	mean := 0.0
	for _, a := range c.Readings {
		mean += a.At / float64(len(c.Readings))
	}
	c.Fit = &draw.Harmonic{Mean: mean, Amplitude: p.Tilt.Amplitude, Peak: p.Tilt.HighSpot}
	c.Note = phrase.Of("bay.benchpicture.tir", e.number(p.TIR), phrase.Of("bay.benchpicture.high", p.Tilt.HighSpot))
	return c
}

func benchPositions(e *Env, p reckon.Studs) draw.Positions {
	out := draw.Positions{Best: -1, Limit: amount(e, p.Limit), Unit: string(quantity.Millimetre)}
	for i, x := range p.Positions {
		name := phrase.Of("bay.benchpicture.as-it-sits-now")
		if x.Turned > 0 {
			name = phrase.Of("bay.benchpicture.turned-by", strconv.Itoa(x.Turned))
		}
		if x.Turned == p.Best {
			out.Best = i
		}
		out.Rows = append(out.Rows, draw.Position{Name: name, Permitted: x.Permitted, Over: !p.Limit.IsZero() && x.TIR > p.Limit.Float(),
			TIR: draw.Amount{At: x.TIR, Text: e.decimals(fmt.Sprintf("%.3f", x.TIR))}})
	}
	return out
}

func benchPads(e *Env, p reckon.PadPair) draw.PadPoints {
	return draw.PadPoints{OuterLeading: amount(e, p.Pads.OuterLead), OuterTrailing: amount(e, p.Pads.OuterTrail),
		InnerLeading: amount(e, p.Pads.InnerLead), InnerTrailing: amount(e, p.Pads.InnerTrail), New: amount(e, p.New), Unit: string(p.Pads.InnerLead.Unit)}
}

func benchWear(e *Env, p reckon.WearLine) draw.WearLine {
	out := draw.WearLine{Limit: amount(e, p.Limit), Unit: string(p.Limit.Unit), Soonest: amount(e, p.Soonest), Latest: amount(e, p.Latest)}
	for _, v := range p.Visits {
		out.Points = append(out.Points, draw.WearPoint{Km: amount(e, v.Odometer), Thickness: amount(e, v.Thickness)})
		out.Uncertainty = v.Uncertainty.Float()
	}
	return out
}
