package job

import (
	"fmt"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// discRemarks reads the old discs and the new ones.
func (c axle) discRemarks() []Remark {
	var out []Remark
	for _, m := range c.figuresOf(reckonDisc) {
		out = append(out, c.oldDisc(m)...)
	}
	for _, m := range c.figuresOf(reckonDiscNew) {
		out = append(out, c.newDisc(m)...)
	}
	return out
}

func (c axle) oldDisc(m measured) []Remark {
	readings := brakes.DiscReadings{Points: m.values}
	f, err := readings.Figures()
	if err != nil {
		return nil
	}
	var out []Remark
	note := func(key, format string, args ...any) {
		out = append(out, Remark{Key: "disc/" + m.at.String() + "/" + key, Stage: m.at, Text: phrase.Capital(sideWords(m.at.Side)) + fmt.Sprintf(format, args...)})
	}
	mean, _ := f.Mean.Float64()
	note("figures", "%s", phrase.Of("job.remarkdisc.thinnest-at-point-mean-mm-thickness-variation", f.Minimum, f.MinimumAt, mean, f.Variation))
	spec := brakes.DiscSpec{Points: len(m.check.Items)}
	spec.Minimum, _ = c.sheetWindow(sheetDiscMin)
	spec.Refit, _ = c.sheetWindow(sheetDiscRefit)
	spec.Variation, _ = c.sheetWindow(sheetDiscVar)
	spec.Nominal, _ = c.sheetWindow(sheetDiscNew)
	ctx := brakes.DiscContext{Spec: spec, Used: true}
	if m.tool != nil && m.tool.Instrument != nil {
		ctx.Instrument = brakes.Instrument{Resolution: m.tool.Instrument.Resolution, Uncertainty: m.tool.Instrument.Uncertainty(m.tool.Value)}
		if able, reason, err := ctx.Instrument.CanShow(spec.Variation); err == nil && !able {
			note("coarse", "%s.", reason)
		}
	}
	if past := c.past(reckonDisc, m.at.Side); len(past) > 0 {
		ctx.Previous = past[len(past)-1].Value
	}
	if odd, err := readings.Oddities(ctx); err == nil {
		out = append(out, oddities("disc", m.at, odd)...)
	}
	if j, err := spec.Judge(f, ctx.Instrument); err == nil {
		switch {
		case j.Minimum == quantity.Outside:
			note("minimum", "%s", phrase.Of("job.remarkdisc.is-below-the-disc-is-done", f.Minimum, spec.Minimum))
		case j.Minimum == quantity.NotProven:
			note("minimum", "%s", phrase.Of("job.remarkdisc.cannot-be-told-from-with-this-instrument", f.Minimum, spec.Minimum))
		case j.Refit == quantity.Outside:
			note("refit", "%s", phrase.Of("job.remarkdisc.is-below-the-disc-does-not-go", f.Minimum, spec.Refit))
		}
		if j.Variation == quantity.Outside {
			note("variation", "%s", phrase.Of("job.remarkdisc.thickness-variation-is-above-that-explains-a", f.Variation, spec.Variation.High))
		}
	}
	out = append(out, c.outlast(m, f.Minimum)...)
	return append(out, c.wear("disc", reckonDisc, &m, f.Minimum, spec.Minimum)...)
}

// outlast asks whether a disc that stays would outlast the new pads, when the wear of both is known.
func (c axle) outlast(m measured, now quantity.Quantity) []Remark {
	padNew, ok1 := c.sheetWindow(sheetPadNew)
	padMin, ok2 := c.sheetWindow(sheetPadMin)
	discMin, ok3 := c.sheetWindow(sheetDiscMin)
	disc, pad := c.past(reckonDisc, m.at.Side), c.past(reckonPads, m.at.Side)
	sets := c.figuresOf(reckonPads)
	set := onSide(sets, m.at.Side)
	if !ok1 || !ok2 || !ok3 || len(disc) == 0 || len(pad) == 0 || set == nil {
		return nil
	}
	p, ok := padsOf(set)
	f, err := p.Figures()
	if !ok || err != nil {
		return nil
	}
	d, q := disc[len(disc)-1], pad[len(pad)-1]
	o, err := brakes.DiscOutlastsPads(
		brakes.Interval{Before: d.Value, After: now, From: d.Odometer, To: c.Opened.Odometer},
		brakes.Interval{Before: q.Value, After: f.Minimum, From: q.Odometer, To: c.Opened.Odometer},
		nominal(padNew), padMin.Low, discMin.Low)
	if err != nil {
		return []Remark{{Key: "outlast/" + m.at.String(), Stage: m.at, Text: phrase.Of("job.remarkdisc.whether-the-disc-outlasts-new-pads-cannot", phrase.Capital(sideWords(m.at.Side)), err.Error())}}
	}
	return []Remark{{Key: "outlast/" + m.at.String(), Stage: m.at, Text: phrase.Capital(sideWords(m.at.Side)) + o.Text + "."}}
}

func (c axle) newDisc(m measured) []Remark {
	if m.check.Nominal == nil {
		return nil
	}
	worn, _ := c.sheetWindow(sheetDiscMin)
	var out []Remark
	for i, v := range m.values {
		part, err := brakes.CheckNewPart("disc", m.check.Nominal.Window, v, quantity.Quantity{}, worn.Low)
		if err != nil || part.Text == "" {
			continue
		}
		out = append(out, Remark{Key: fmt.Sprintf("new-disc/%s/%d", m.at, i+1), Stage: m.at, Text: phrase.Capital(sideWords(m.at.Side)) + part.Text + "."})
	}
	return out
}

// runOutRemarks reads the dial: tilt or wave, what the hub gives, and what turning the disc would do.
func (c axle) runOutRemarks() []Remark {
	var out []Remark
	for _, m := range c.figuresOf(reckonHubRunOut) {
		out = append(out, c.hubRunOut(m)...)
	}
	for _, m := range c.figuresOf(reckonRunOut) {
		out = append(out, c.installedRunOut(m)...)
	}
	return out
}

// turn splits a set into its readings and the return to start, when that was asked for.
func turn(m measured) brakes.RunOut {
	r := brakes.RunOut{Readings: m.values}
	if n := len(m.values); m.check.Items[n-1] == procedures.ItemReturn {
		r.Readings, r.Return = m.values[:n-1], m.values[n-1]
	}
	return r
}

func (c axle) hubRunOut(m measured) []Remark {
	near, ok1 := c.sheetFact(factHubRadius)
	far, ok2 := c.sheetFact(factDiscRadius)
	tir, err := turn(m).TIR()
	if !ok1 || !ok2 || err != nil {
		return nil
	}
	at, err := brakes.HubAtDisc(tir, near, far)
	if err != nil {
		return nil
	}
	return []Remark{{Key: "hub/" + m.at.String(), Stage: m.at,
		Text: phrase.Of("job.remarkdisc.the-hubs-at-is-mm-at-the", phrase.Capital(sideWords(m.at.Side)), tir, near, at.Float(), far)}}
}

func (c axle) installedRunOut(m measured) []Remark {
	if m.check.Window == nil {
		return nil
	}
	r := turn(m)
	tir, err := r.TIR()
	h, herr := r.Harmonic()
	if err != nil || herr != nil {
		return nil
	}
	var out []Remark
	note := func(key, text string) {
		out = append(out, Remark{Key: key + "/" + m.at.String(), Stage: m.at, Text: phrase.Capital(sideWords(m.at.Side)) + text})
	}
	var ctx brakes.RunOutContext
	ctx.Points, ctx.Limit = len(r.Readings), m.check.Window.Window
	if odd, err := r.Oddities(ctx); err == nil {
		for _, o := range odd {
			if !o.Refused { // what is refused already blocks as a figure of the set
				out = append(out, oddities("run-out", m.at, []brakes.Oddity{o})...)
			}
		}
	}
	if v, err := m.check.Window.Window.Judge(tir); err != nil || v == quantity.Inside {
		return out
	}
	note("tilt", phrase.Of("job.remarkdisc.run-out-the-tilt-alone-gives-mm", tir, h.TIR, h.HighSpot))
	if h.Waved() {
		note("waved", phrase.Of("job.remarkdisc.more-than-half-is-left-without-the"))
		return out
	}
	note("index", c.indexAdvice(m))
	return out
}

// Mountings returns every stud position the disc of a side was measured in, with the tilt there, in
// the order of the attempts. A prediction from them is never the record.
func (c *Card) Mountings(at procedures.Ref) []brakes.Mounting {
	s := c.Stage(at)
	if s == nil {
		return nil
	}
	var out []brakes.Mounting
	for k := range s.Attempts {
		for _, m := range s.measuredIn(&s.Attempts[k], reckonRunOut) {
			h, err := turn(m).Harmonic()
			if err != nil {
				continue
			}
			out = append(out, brakes.Mounting{Turned: c.positionAt(at.Side, m.seq), Tilt: h})
		}
	}
	return out
}

// positionAt is the stud position recorded last before an event, on that side; 0 when none was.
func (c *Card) positionAt(side procedures.Side, before uint32) int {
	best, seq := 0, uint32(0)
	for i := range c.Stages {
		s := &c.Stages[i]
		if s.Node.Ref.Side != side {
			continue
		}
		for _, a := range s.Attempts {
			for _, e := range a.Entries {
				pc := s.Node.Check(e.Check)
				if pc != nil && pc.Reckon == reckonPosition && e.ReplacedBy == 0 && e.Seq < before && e.Seq > seq {
					best, seq = int(e.Value.Rat().Num().Int64()), e.Seq
				}
			}
		}
	}
	return best
}

// Positions says which stud positions the disc of this vehicle fits in.
func (c *Card) Positions() (studs int, permitted []int, err error) {
	studs, ok := c.Plan.Sheet.Count(countStuds)
	if !ok {
		return 0, nil, phrase.Error("job.remarkdisc.the-sheet-does-not-say-how-many")
	}
	screws := 0
	if _, err := fmt.Sscanf(c.Plan.Trait(traitScrews), "%d", &screws); err != nil {
		return 0, nil, phrase.Error("job.remarkdisc.the-vehicle-does-not-say-how-many")
	}
	permitted, err = brakes.PermittedPositions(studs, screws)
	return studs, permitted, err
}

func (c axle) indexAdvice(m measured) string {
	studs, permitted, err := c.Positions()
	if err != nil {
		return phrase.Of("job.remarkdisc.turning-the-disc-cannot-be-advised", err.Error())
	}
	if len(permitted) < 2 {
		return phrase.Of("job.remarkdisc.the-disc-fits-in-one-position-only")
	}
	mountings := c.Mountings(m.at)
	sep, err := brakes.Separate(studs, mountings)
	if err != nil {
		now := 0
		if len(mountings) > 0 {
			now = mountings[len(mountings)-1].Turned
		}
		for _, k := range permitted {
			if k != now {
				return phrase.Of("job.remarkdisc.the-disc-fits-in-the-positions-turn", joinInts(permitted), k, studs)
			}
		}
	}
	advice, err := sep.Advise(permitted, m.check.Window.Window)
	if err != nil {
		return phrase.Of("job.remarkdisc.turning-the-disc-cannot-be-advised", err.Error())
	}
	return advice.Text + "."
}

func joinInts(ns []int) string {
	out := ""
	for i, n := range ns {
		switch {
		case i == 0:
		case i == len(ns)-1:
			out += phrase.Of("job.remarkdisc.and")
		default:
			out += ", "
		}
		out += fmt.Sprint(n)
	}
	return out
}
