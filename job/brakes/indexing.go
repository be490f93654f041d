package brakes

import (
	"math"
	"math/cmplx"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Mounting is one fitting of the disc on the hub and the run-out read there.
type Mounting struct {
	// Turned is by how many studs the disc was turned from position 0, in the
	// direction in which the readings are counted.
	Turned int
	// Tilt is the first harmonic of the readings; in every mounting the first
	// reading is taken at stud 1 of the hub.
	Tilt Harmonic
}

// Separation is the tilt of hub and disc apart, in millimetres at the gauge
// radius, each pointing at its high spot in position 0.
type Separation struct {
	Studs     int
	Hub, Disc complex128
	// Misfit is the largest distance between a measured tilt and the one the
	// separation predicts for it; 0 for two mountings, which fit exactly.
	Misfit float64
}

// Separate works out hub and disc from two or more mountings. With
// z = e^{jα}, α = 360° k/n, every mounting is M = H + D·z. Two give
// D = (Mk − M0)/(zk − z0), H = M0 − D·z0; more are met by least squares.
// The vector arithmetic of single-plane balancing with index tests (ISO
// 21940). Errors: fewer than two different positions, no studs.
func Separate(studs int, mountings []Mounting) (Separation, error) {
	if studs < 2 {
		return Separation{}, phrase.Error("brakes.indexing.studs-at-least-2-are-expected", studs)
	}
	if len(mountings) < 2 {
		return Separation{}, phrase.Error("brakes.indexing.mounting-measured-at-least-2-positions-are", len(mountings))
	}
	count := complex(float64(len(mountings)), 0)
	var meanZ, meanM complex128
	for _, m := range mountings {
		meanZ += position(m.Turned, studs) / count
		meanM += m.Tilt.Vector / count
	}
	var up complex128
	down := 0.0
	for _, m := range mountings {
		dz := position(m.Turned, studs) - meanZ
		up += cmplx.Conj(dz) * (m.Tilt.Vector - meanM)
		down += real(dz)*real(dz) + imag(dz)*imag(dz)
	}
	if down < 1e-9 {
		return Separation{}, phrase.Error("brakes.indexing.all-mountings-are-in-one-position-turn")
	}
	s := Separation{Studs: studs, Disc: up / complex(down, 0)}
	s.Hub = meanM - s.Disc*meanZ
	if len(mountings) > 2 {
		for _, m := range mountings {
			s.Misfit = max(s.Misfit, cmplx.Abs(m.Tilt.Vector-s.tilt(m.Turned)))
		}
	}
	return s, nil
}

// position is e^{jα} for the disc turned by k of n studs.
func position(k, studs int) complex128 {
	return cmplx.Rect(1, turn(((k%studs)+studs)%studs, studs))
}

// tilt is what the gauge will see with the disc turned by k studs.
func (s Separation) tilt(k int) complex128 { return s.Hub + s.Disc*position(k, s.Studs) }

// Parts gives the run-out (TIR, mm) and the high spot (degrees) of hub and
// disc, each alone, in position 0.
func (s Separation) Parts() (hubTIR, hubAngle, discTIR, discAngle float64) {
	return 2 * cmplx.Abs(s.Hub), degrees(s.Hub), 2 * cmplx.Abs(s.Disc), degrees(s.Disc)
}

// Prediction is the run-out expected in one stud position. It is never the
// record: the disc is fitted there and measured again.
type Prediction struct {
	Turned  int     // studs
	Degrees float64 // the same as an angle
	TIR     float64 // mm, tilt only
	// Permitted is false where the disc screws do not fit.
	Permitted bool
}

// Predict gives all stud positions: TIR = 2·|H + D e^{j·360k/n}|.
func (s Separation) Predict(permitted []int) []Prediction {
	all := make([]Prediction, s.Studs)
	for k := range all {
		all[k] = Prediction{Turned: k, Degrees: 360 * float64(k) / float64(s.Studs), TIR: 2 * cmplx.Abs(s.tilt(k))}
	}
	for _, k := range permitted {
		if k >= 0 && k < s.Studs {
			all[k].Permitted = true
		}
	}
	return all
}

// PermittedPositions lists the stud positions in which a disc can be fitted:
// without disc screws all; with one screw only the one it has, so indexing is
// impossible; with two screws opposite each other 0 and half a turn when that
// is a stud position.
func PermittedPositions(studs, screws int) ([]int, error) {
	if studs < 2 {
		return nil, phrase.Error("brakes.indexing.studs-at-least-2-are-expected", studs)
	}
	switch screws {
	case 0:
		all := make([]int, studs)
		for k := range all {
			all[k] = k
		}
		return all, nil
	case 1:
		return []int{0}, nil
	case 2:
		if studs%2 == 0 {
			return []int{0, studs / 2}, nil
		}
		return []int{0}, nil
	}
	return nil, phrase.Error("brakes.indexing.disc-screws-0-1-or-2-opposite", screws)
}

// IndexAdvice is the proposal that follows from the predictions.
type IndexAdvice struct {
	Best Prediction
	// Cures is true when the best permitted position is expected within the
	// limit. A second measurement decides, not this.
	Cures bool
	Text  string
}

// Advise chooses the smallest predicted run-out among the permitted positions
// and says at once when indexing cannot cure it.
func (s Separation) Advise(permitted []int, limit quantity.Window) (IndexAdvice, error) {
	if limit.High.IsZero() {
		return IndexAdvice{}, phrase.Error("brakes.indexing.no-run-out-limit-a-window-such")
	}
	most, err := exactIn(limit.High, quantity.Millimetre, phrase.Of("brakes.indexing.run-out-limit"))
	if err != nil {
		return IndexAdvice{}, err
	}
	best := Prediction{TIR: math.Inf(1)}
	choices := 0
	for _, p := range s.Predict(permitted) {
		if !p.Permitted {
			continue
		}
		choices++
		if p.TIR < best.TIR {
			best = p
		}
	}
	if choices == 0 {
		return IndexAdvice{}, phrase.Error("brakes.indexing.no-permitted-position-among-studs", s.Studs)
	}
	a := IndexAdvice{Best: best, Cures: best.TIR <= approx(most)}
	hub, _, disc, _ := s.Parts()
	parts := phrase.Of("brakes.indexing.hub-part-mm-disc-part-mm", hub, disc)
	switch {
	case a.Cures:
		a.Text = phrase.Of("brakes.indexing.turn-the-disc-by-of-studs-mm", best.Turned, s.Studs, best.Degrees, best.TIR)
	case choices == 1:
		a.Text = phrase.Of("brakes.indexing.indexing-is-impossible-the-disc-fits-in", best.TIR, parts)
	default:
		a.Text = phrase.Of("brakes.indexing.indexing-cannot-cure-this-best-possible-mm", best.TIR, parts)
	}
	return a, nil
}
