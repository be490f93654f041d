package reckon

import (
	"math/big"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/quantity"
)

// Picture is what a drawing of an answer needs: numbers and verdicts, no cells and no colours. The
// set is closed: the types of this file.
type Picture interface{ picture() }

// InWindow is a value in its window, with what the instrument leaves open.
type InWindow struct {
	Window      quantity.Window
	Value       quantity.Quantity // in the unit of the window
	Uncertainty quantity.Quantity // half-width; zero for none
	Verdict     quantity.Verdict
}

// Disc is the thickness round a disc, the points in the order taken.
type Disc struct {
	Points                    []quantity.Quantity
	Mean, Variation, Smallest quantity.Quantity // Smallest in service; zero when not given
}

// Turn is one turn of dial readings with the tilt fitted to them.
type Turn struct {
	Readings []quantity.Quantity
	TIR      quantity.Quantity
	Tilt     brakes.Harmonic
}

// Studs is the run-out predicted for every stud position. A prediction is never the record.
type Studs struct {
	Positions []brakes.Prediction
	Limit     quantity.Quantity // zero for none
	Best      int               // position to try, -1 when none fits
}

// PadPair is the friction of both pads at their ends.
type PadPair struct {
	Pads brakes.Pads
	New  quantity.Quantity // friction of a new pad; zero when not given
}

// WearLine is thickness against distance, from the last renewal on.
type WearLine struct {
	Visits          []brakes.Visit
	Limit           quantity.Quantity
	Soonest, Latest quantity.Quantity // odometer at the limit, cautiously and plainly; zero without a forecast
}

func (InWindow) picture() {}
func (Disc) picture()     {}
func (Turn) picture()     {}
func (Studs) picture()    {}
func (PadPair) picture()  {}
func (WearLine) picture() {}

// picturePlaces is how many decimals a value keeps that is drawn in another unit than its own.
const picturePlaces = 3

// inWindow adds the picture of a value in its window; without one where the units do not allow it.
func (a *Answer) inWindow(w quantity.Window, q, uncertainty quantity.Quantity, v quantity.Verdict) {
	for _, x := range []*quantity.Quantity{&q, &uncertainty} {
		if x.IsZero() || x.Unit == w.Unit() {
			continue
		}
		there, err := x.Convert(w.Unit(), picturePlaces)
		if err != nil || w.Dimension() == quantity.Temperature { // a width is not converted like a temperature
			return
		}
		*x = there
	}
	a.Picture = InWindow{Window: w, Value: Round(q, picturePlaces), Uncertainty: uncertainty, Verdict: v}
}

// proven adds the picture of a torque: what the bolt may have on either side is the width.
func (a *Answer) proven(p fastening.Proof) {
	width := new(big.Rat).Sub(p.Highest.Rat(), p.Lowest.Rat())
	half := quantity.FromRat(width.Quo(width, big.NewRat(2, 1)), p.Bolt.Unit, 4)
	a.inWindow(p.Window, p.Bolt, half, p.Verdict)
}

// inUnit is the values in one unit; a value that is there already stays as typed.
func inUnit(u quantity.Unit, qs ...quantity.Quantity) []quantity.Quantity {
	out := make([]quantity.Quantity, len(qs))
	for i, q := range qs {
		out[i] = q
		if there, err := q.Convert(u, 4); err == nil && q.Unit != u {
			out[i] = there
		}
	}
	return out
}
