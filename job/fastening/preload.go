package fastening

import (
	"math"
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Friction holds the coefficients of friction; tables often use one for both.
type Friction struct {
	Thread float64 // between the threads
	Head   float64 // under the turned head or nut
}

// UsualFriction is the middle column of preload_torque_fine_thread.csv.
var UsualFriction = Friction{Thread: 0.12, Head: 0.12}

func (f Friction) valid() error {
	for _, mu := range []float64{f.Thread, f.Head} {
		if !(mu >= 0.03 && mu <= 0.6) { // also catches NaN
			return phrase.Error("fastening.preload.the-friction-is-expected-0-03-to", mu)
		}
	}
	return nil
}

// Joint is what the head of a fastener bears on. The zero value of a field
// takes the default for the thread diameter.
type Joint struct {
	Head quantity.Quantity // dw, outer diameter of the bearing face
	Hole quantity.Quantity // dh, diameter of the clearance hole
}

// bearings are dw and dh by thread diameter in mm. Source: header of
// preload_torque_fine_thread.csv for 8 to 20; M6 from memory of ISO 4014 and
// ISO 273.
var bearings = map[string]Joint{
	"6":  joint("8.9", "6.6"),
	"8":  joint("11.6", "9"),
	"10": joint("14.6", "11"),
	"12": joint("16.6", "13.5"),
	"14": joint("19.6", "15.5"),
	"16": joint("22.5", "17.5"),
	"18": joint("25.3", "20"),
	"20": joint("28.2", "22"),
}

func joint(head, hole string) Joint {
	return Joint{
		Head: quantity.Quantity{Number: head, Unit: quantity.Millimetre},
		Hole: quantity.Quantity{Number: hole, Unit: quantity.Millimetre},
	}
}

// Preload is what a fastener is tightened to.
type Preload struct {
	Force  quantity.Quantity // kN, three decimals
	Torque quantity.Quantity // N·m, three decimals
}

// usualShare is the share of the yield strength the tables tighten to.
const usualShare = 0.9

// AssemblyPreload is the preload and the tightening torque that load the
// fastener to 90 % of its yield strength, tension and twist together:
//
//	F = A0·0.9·Rp0.2 / √(1 + 3·(1.5·(d2/d0)·(P/(π·d2) + 1.155·μG))²)
//	T = F·(0.159155·P + 0.577350·d2·μG + μK·(dw + dh)/4)
//
// with d0 = (d2 + d3)/2. Source: VDI 2230 (2001/2003) as printed in the header
// of preload_torque_fine_thread.csv. An estimate for plain heads; a wheel nut's
// cone bears differently.
func AssemblyPreload(t Thread, c Class, f Friction, j Joint) (Preload, error) {
	force, torque, err := assembly(t, c, f, j)
	if err != nil {
		return Preload{}, err
	}
	return Preload{
		Force:  estimate(force/1000, quantity.Kilonewton, 3),
		Torque: estimate(torque, quantity.NewtonMetre, 3),
	}, nil
}

// assembly is AssemblyPreload in N and N·m.
func assembly(t Thread, c Class, f Friction, j Joint) (force, torque float64, err error) {
	s, err := c.stress(t)
	if err != nil {
		return 0, 0, err
	}
	if err := f.valid(); err != nil {
		return 0, 0, err
	}
	head, hole, err := j.diameters(t)
	if err != nil {
		return 0, 0, err
	}
	p, d2, d0 := t.Pitch.Float(), t.PitchDiameter(), t.StressDiameter()
	twist := 1.5 * (d2 / d0) * (p/(math.Pi*d2) + 1.155*f.Thread)
	force = t.StressArea() * usualShare * s.yield / math.Sqrt(1+3*twist*twist)
	torque = force * (0.159155*p + 0.577350*d2*f.Thread + f.Head*(head+hole)/4) / 1000
	return force, torque, nil
}

// diameters gives dw and dh in mm, with the defaults filled in.
func (j Joint) diameters(t Thread) (head, hole float64, err error) {
	usual, known := bearings[t.size()]
	if (j.Head.IsZero() || j.Hole.IsZero()) && !known {
		return 0, 0, phrase.Error("fastening.preload.has-no-head-and-hole-diameters-on", t)
	}
	if j.Head.IsZero() {
		j.Head = usual.Head
	}
	if j.Hole.IsZero() {
		j.Hole = usual.Hole
	}
	dw, err := positive(phrase.Of("fastening.preload.the-head-diameter"), j.Head, quantity.Millimetre)
	if err != nil {
		return 0, 0, err
	}
	dh, err := positive(phrase.Of("fastening.preload.the-hole-diameter"), j.Hole, quantity.Millimetre)
	if err != nil {
		return 0, 0, err
	}
	if dh.Cmp(dw) >= 0 || dw.Cmp(big.NewRat(300, 1)) > 0 {
		return 0, 0, phrase.Error("fastening.preload.head-on-hole-cannot-hold-expected-a", j.Head, j.Hole)
	}
	head, _ = dw.Float64()
	hole, _ = dh.Float64()
	return head, hole, nil
}

// ProofShare is a preload as a percentage of the proof load, one decimal.
// Source: the proof load of ISO 898-1, see ProofLoad.
func ProofShare(force quantity.Quantity, t Thread, c Class) (quantity.Quantity, error) {
	s, err := c.stress(t)
	if err != nil {
		return quantity.Quantity{}, err
	}
	newtons, err := notNegative(phrase.Of("fastening.preload.the-preload"), force, quantity.Newton)
	if err != nil {
		return quantity.Quantity{}, err
	}
	f, _ := newtons.Float64()
	if math.IsInf(f, 0) {
		return quantity.Quantity{}, phrase.Error("fastening.preload.the-preload-is-too-large-to-reckon", force)
	}
	return estimate(f/(t.nominalArea()*s.proof)*100, quantity.Percent, 1), nil
}

// Plausible compares a written torque window with what the fastener named can
// carry and gives one warning sentence, or an empty one. It warns when the
// window reaches above the torque that would bring the fastener to its yield
// strength, and when even ten times the window would stay below it; in both
// cases it names the slipped decimal if that would fit. It warns and never
// decides: friction is an assumption. Source: AssemblyPreload; the threshold of
// ten is common practice, no source.
func Plausible(window quantity.Window, t Thread, c Class, f Friction) (string, error) {
	_, usual, err := assembly(t, c, f, Joint{})
	if err != nil {
		return "", err
	}
	low, high, err := limits(window, quantity.NewtonMetre)
	if err != nil {
		return "", err
	}
	least, most := bound(low), bound(high)
	if low == nil {
		least = most
	}
	if high == nil {
		most = least
	}
	yield := usual / usualShare
	bolt := phrase.Of("fastening.preload.friction-usual", t, c, f.Thread, estimate(usual, quantity.NewtonMetre, 0))
	switch {
	case most > yield && most/10 <= yield && least >= yield:
		return phrase.Of("fastening.preload.is-more-than-can-carry-a-tenth", window, bolt), nil
	case most > yield:
		return phrase.Of("fastening.preload.is-more-than-can-carry-is-the", window, bolt), nil
	case most*10 <= yield:
		return phrase.Of("fastening.preload.is-less-than-a-tenth-of-what", window, bolt), nil
	}
	return "", nil
}

func bound(r *big.Rat) float64 {
	if r == nil {
		return 0
	}
	f, _ := r.Float64()
	return f
}
