package job

import (
	"time"
)

// PastValues are the figures of this job that later visits of the vehicle work with: for every
// complete set of pads and discs the thinnest value of its side, and with New those of the new parts,
// under the same figure, because they begin its wear anew. A practice job has none.
func (c *Card) PastValues() []PastValue {
	if c.Opened.Practice {
		return nil
	}
	var out []PastValue
	for _, reckon := range []struct {
		word, figure string
		fitted       bool
	}{{reckonPads, reckonPads, false}, {reckonDisc, reckonDisc, false}, {reckonPadsNew, reckonPads, true}, {reckonDiscNew, reckonDisc, true}} {
		for _, a := range c.axles() {
			for _, m := range a.figuresOf(reckon.word) {
				out = append(out, c.pastValue(m, reckon.figure, reckon.fitted))
			}
		}
	}
	return out
}

func (c *Card) pastValue(m measured, figure string, fitted bool) PastValue {
	v := PastValue{Figure: c.FigureKey(figure, m.at), Job: c.Number(),
		Date: c.Events[m.last-1].At.Format(time.DateOnly), Odometer: c.Odometer(), New: fitted}
	for _, x := range m.values {
		if cmp, err := x.Cmp(v.Value); v.Value.IsZero() || (err == nil && cmp < 0) {
			v.Value = x
		}
	}
	if m.tool != nil && m.tool.Instrument != nil {
		v.Within = m.tool.Instrument.Uncertainty(v.Value)
	}
	return v
}
