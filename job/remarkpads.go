package job

import (
	"fmt"
	"strings"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// padPoints are the names of the four points of a pad set, in the order brakes.Pads has them.
var padPoints = [4]string{"inner leading", "inner trailing", "outer leading", "outer trailing"}

// padsOf turns a set into the four friction thicknesses, false when its points have other names.
func padsOf(m *measured) (brakes.Pads, bool) {
	at := map[string]quantity.Quantity{}
	for i, item := range m.check.Items {
		at[strings.ToLower(item)] = m.values[i]
	}
	p := brakes.Pads{InnerLead: at[padPoints[0]], InnerTrail: at[padPoints[1]], OuterLead: at[padPoints[2]], OuterTrail: at[padPoints[3]]}
	return p, !p.InnerLead.IsZero() && !p.InnerTrail.IsZero() && !p.OuterLead.IsZero() && !p.OuterTrail.IsZero()
}

// padRemarks reads the wear pattern: each pattern is a question for the decision; slips of the set
// are questions too. Thresholds are those of brakes.DemoPadThresholds.
func (c axle) padRemarks() []Remark {
	sets := c.figuresOf(reckonPads)
	var out []Remark
	sides := map[procedures.Side]brakes.Pads{}
	refs := map[procedures.Side]procedures.Ref{}
	for i := range sets {
		p, ok := padsOf(&sets[i])
		if !ok {
			continue
		}
		side := sets[i].at.Side
		sides[side], refs[side] = p, sets[i].at
		out = append(out, c.padOddities(sets[i].at, p)...)
		out = append(out, c.padWear(&sets[i], p)...)
	}
	left, okLeft := sides[procedures.Left]
	right, okRight := sides[procedures.Right]
	if !okLeft || !okRight {
		return out
	}
	found, err := brakes.Axle{Left: left, Right: right}.Diagnose(brakes.DemoPadThresholds())
	if err != nil {
		return out
	}
	for _, f := range found {
		side := procedures.Side(f.Side)
		out = append(out, Remark{Key: c.key(fmt.Sprintf("pads/%s/%s", side, f.Pattern)), Stage: refs[side],
			Text: phrase.Of("job.remarkpads.likely", phrase.Capital(f.Text), f.Cause), Ask: phrase.Capital(f.Question)})
	}
	return append(out, c.padSidesExchanged(left, right, refs[procedures.Left])...)
}

func (c axle) padOddities(at procedures.Ref, p brakes.Pads) []Remark {
	w, ok := c.sheetWindow(sheetPadNew)
	if !ok {
		return nil
	}
	ctx := brakes.PadContext{New: nominal(w)}
	if over, err := w.High.Sub(ctx.New); err == nil {
		ctx.Over = over
	}
	ctx.Plate, _ = c.sheetFact(factPlate)
	odd, err := p.Oddities(ctx)
	if err != nil {
		return nil
	}
	return oddities("pads", at, odd)
}

// stopped ends a sentence that has no mark at its end yet.
func stopped(text string) string {
	if strings.HasSuffix(text, "?") || strings.HasSuffix(text, ".") {
		return text
	}
	return text + "."
}

// oddities turns what a careful colleague would ask into remarks that want an answer.
func oddities(what string, at procedures.Ref, odd []brakes.Oddity) []Remark {
	out := make([]Remark, 0, len(odd))
	for _, o := range odd {
		out = append(out, Remark{Key: fmt.Sprintf("%s/%s/%s/%d", what, at, o.Code, o.Point), Stage: at,
			Text: phrase.Capital(sideWords(at.Side)) + stopped(o.Text), Ask: phrase.Of("job.remarkpads.is-it-so-correct-it-or-say")})
	}
	return out
}

func (c axle) padSidesExchanged(left, right brakes.Pads, at procedures.Ref) []Remark {
	l, r := c.past(reckonPads, procedures.Left), c.past(reckonPads, procedures.Right)
	fl, err1 := left.Figures()
	fr, err2 := right.Figures()
	if len(l) == 0 || len(r) == 0 || err1 != nil || err2 != nil {
		return nil
	}
	u := l[len(l)-1].Within
	if u.IsZero() {
		u = quantity.Quantity{Number: "0.3", Unit: quantity.Millimetre} // agreement of two pad gauges: common practice, no source
	}
	odd, err := brakes.SidesExchanged(l[len(l)-1].Value, r[len(r)-1].Value, fl.Minimum, fr.Minimum, u)
	if err != nil {
		return nil
	}
	return oddities("pads", at, odd)
}

// padWear forecasts how far the pads go, or says why it cannot.
func (c axle) padWear(m *measured, p brakes.Pads) []Remark {
	w, ok := c.sheetWindow(sheetPadMin)
	f, err := p.Figures()
	if !ok || err != nil {
		return nil
	}
	return c.wear("pads", reckonPads, m, f.Minimum, w)
}

// wear forecasts the distance to a lower limit from the earlier visits and the present value.
func (c axle) wear(what, figure string, m *measured, now quantity.Quantity, limit quantity.Window) []Remark {
	at := m.at
	var visits []brakes.Visit
	for _, v := range c.past(figure, at.Side) {
		visits = append(visits, brakes.Visit{Thickness: v.Value, Odometer: v.Odometer, Uncertainty: v.Within, Renewed: v.New})
	}
	visits = append(visits, brakes.Visit{Thickness: now, Odometer: c.Opened.Odometer, Uncertainty: m.within()})
	text := ""
	if f, err := brakes.ForecastWear(visits, limit.Low); err != nil {
		text = phrase.Of("job.remarkpads.no-forecast", err.Error())
	} else {
		text = phrase.Of("job.remarkpads.to-about-left-cautiously", what, limit.Low, brakes.TwoFigures(f.Remaining), brakes.TwoFigures(f.CautiousRemaining))
	}
	return []Remark{{Key: fmt.Sprintf("wear/%s/%s", what, at), Stage: at, Text: phrase.Capital(sideWords(at.Side)) + text + "."}}
}
