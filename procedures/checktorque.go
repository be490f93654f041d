package procedures

import (
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// torque checks that a torque window is one a wrench can meet: none turns with less than nothing, and
// none meets a window without width but by chance.
func (c *sheetChecker) torque(id string, w quantity.Window) {
	if w.Dimension() != quantity.Torque {
		return
	}
	if w.Low.Negative() || w.High.Negative() {
		c.add("window:"+id, "%s", phrase.Of("procedures.checktorque.below-nothing", id, w))
	}
	if w.Low.IsZero() || w.High.IsZero() {
		return
	}
	if order, err := w.Low.Cmp(w.High); err == nil && order == 0 {
		c.add("window:"+id, "%s", phrase.Of("procedures.checktorque.has-no-width", id, w))
	}
}

// fastener checks what a group says of its fasteners for the plausibility of a torque. A thread
// without a class is not reckoned with and may be one of another standard.
func (c *sheetChecker) fastener(g Group) {
	fault := func(err error) {
		if err != nil {
			c.add("group:"+g.ID, "%s", phrase.Of("procedures.doubt.group", g.ID, err))
		}
	}
	if g.Thread != "" && g.Class != "" {
		_, err := fastening.ParseThread(g.Thread)
		fault(err)
	}
	if g.Class != "" {
		_, err := fastening.ParseClass(g.Class)
		fault(err)
	}
	if g.Friction != "" {
		q, err := quantity.Parse(g.Friction, quantity.Count)
		switch {
		case err != nil:
			fault(phrase.Error("procedures.doubt.friction", err))
		case q.Unit != quantity.Count || q.Float() <= 0 || q.Float() >= 1:
			c.add("group:"+g.ID, "%s", phrase.Of("procedures.checktorque.friction-is-out-of-range", g.ID, shown(g.Friction)))
		}
	}
}
