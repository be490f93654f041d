package fastening

import (
	"math"
	"math/big"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Thread is a metric ISO thread. Lengths are in millimetres.
type Thread struct {
	Diameter quantity.Quantity // d, the nominal diameter
	Pitch    quantity.Quantity // P
}

// coarsePitches are the pitches a thread named without one has. Source: ISO 261
// by way of metric_threads.csv for M6 and M8 to M20 in steps of 2; the others
// from memory.
var coarsePitches = map[string]string{
	"3": "0.5", "4": "0.7", "5": "0.8", "6": "1", "7": "1", "8": "1.25", "10": "1.5", "12": "1.75",
	"14": "2", "16": "2", "18": "2.5", "20": "2.5", "22": "2.5", "24": "3", "27": "3", "30": "3.5",
}

// ParseThread reads a thread name such as M12x1.5 or, for coarse pitch, M12.
// The cross may be x, X, × or *, the decimal mark a point or a comma, with blanks
// around the cross.
func ParseThread(text string) (Thread, error) {
	name := strings.TrimSpace(text)
	if name == "" {
		return Thread{}, phrase.Error("fastening.thread.the-thread-is-missing-expected-one-like")
	}
	rest, isMetric := strings.CutPrefix(strings.ToUpper(name), "M")
	if !isMetric {
		return Thread{}, phrase.Error("fastening.thread.thread-does-not-begin-with-m-expected", text)
	}
	diameter, pitch := rest, ""
	if at := strings.IndexAny(rest, "X×*"); at >= 0 {
		diameter = rest[:at]
		pitch = strings.TrimLeft(rest[at:], "X×*")
		if crosses := strings.Count(rest, "X") + strings.Count(rest, "×") + strings.Count(rest, "*"); crosses != 1 {
			return Thread{}, phrase.Error("fastening.thread.thread-has-crosses-expected-one-like-m12x1", text, crosses)
		}
	}
	d, err := millimetres(diameter)
	if err != nil {
		return Thread{}, phrase.Error("fastening.thread.thread-diameter", text, err)
	}
	if !strings.ContainsAny(rest, "X×*") {
		coarse, known := coarsePitches[d.Number]
		if !known {
			return Thread{}, phrase.Error("fastening.thread.thread-names-no-pitch-and-has-no", text, d)
		}
		pitch = coarse
	}
	p, err := millimetres(pitch)
	if err != nil {
		return Thread{}, phrase.Error("fastening.thread.thread-pitch", text, err)
	}
	thread := Thread{Diameter: d, Pitch: p}
	if err := thread.Valid(); err != nil {
		return Thread{}, err
	}
	return thread, nil
}

// millimetres reads a bare number and drops zeros that say nothing, so that
// M12x1.50 and M12x1.5 are one thread.
func millimetres(text string) (quantity.Quantity, error) {
	number, err := quantity.ParseNumber(strings.ReplaceAll(strings.TrimSpace(text), ",", "."))
	if err != nil {
		return quantity.Quantity{}, err
	}
	q := quantity.Quantity{Number: number, Unit: quantity.Millimetre}
	return rounded(q.Rat(), quantity.Millimetre, q.Places()), nil
}

// Valid refuses a thread that cannot be: a diameter outside 1 to 100 mm, or a
// pitch outside 0.2 mm to a quarter of the diameter.
func (t Thread) Valid() error {
	if t.Diameter.Unit != quantity.Millimetre || t.Pitch.Unit != quantity.Millimetre {
		return phrase.Error("fastening.thread.a-metric-thread-is-given-in-mm")
	}
	d, err := positive(phrase.Of("fastening.thread.the-thread-diameter"), t.Diameter, quantity.Millimetre)
	if err != nil {
		return err
	}
	if d.Cmp(one) < 0 || d.Cmp(hundred) > 0 {
		return phrase.Error("fastening.thread.thread-the-diameter-is-not-between-1", t)
	}
	p, err := positive(phrase.Of("fastening.thread.the-thread-pitch"), t.Pitch, quantity.Millimetre)
	if err != nil {
		return err
	}
	if p.Cmp(big.NewRat(1, 5)) < 0 || new(big.Rat).Mul(p, big.NewRat(4, 1)).Cmp(d) > 0 {
		return phrase.Error("fastening.thread.thread-the-pitch-is-not-between-0", t)
	}
	return nil
}

// String gives the name: M12 for coarse pitch, M12x1.5 otherwise.
func (t Thread) String() string {
	pitch := rounded(t.Pitch.Rat(), t.Pitch.Unit, t.Pitch.Places()).Number
	if coarsePitches[t.size()] == pitch {
		return "M" + t.size()
	}
	return "M" + t.size() + "x" + pitch
}

// size is the diameter without zeros that say nothing, as the tables are keyed.
func (t Thread) size() string {
	return rounded(t.Diameter.Rat(), t.Diameter.Unit, t.Diameter.Places()).Number
}

// PitchDiameter is d2 = d − 0.649519 P in mm. Source: ISO 724.
func (t Thread) PitchDiameter() float64 { return t.Diameter.Float() - 0.649519*t.Pitch.Float() }

// RootDiameter is d3 = d − 1.226869 P in mm. Source: ISO 724 / ISO 898-1.
func (t Thread) RootDiameter() float64 { return t.Diameter.Float() - 1.226869*t.Pitch.Float() }

// StressDiameter is d0 = (d2 + d3)/2 in mm. Source: ISO 898-1, VDI 2230.
func (t Thread) StressDiameter() float64 { return (t.PitchDiameter() + t.RootDiameter()) / 2 }

// StressArea is As = π/4·((d2 + d3)/2)² in mm². Source: ISO 898-1.
func (t Thread) StressArea() float64 { return math.Pi / 4 * t.StressDiameter() * t.StressDiameter() }

// Class is a property class of steel bolts and screws.
type Class string

// The property classes of ISO 898-1 that the tables cover.
const (
	Class8_8  Class = "8.8"
	Class9_8  Class = "9.8"
	Class10_9 Class = "10.9"
	Class12_9 Class = "12.9"
)

// stresses are proof stress, minimum tensile strength and 0.2 % yield strength
// in MPa.
type stresses struct{ proof, tensile, yield float64 }

// ParseClass reads a property class, decimal comma allowed.
func ParseClass(text string) (Class, error) {
	switch class := Class(strings.ReplaceAll(strings.TrimSpace(text), ",", ".")); class {
	case Class8_8, Class9_8, Class10_9, Class12_9:
		return class, nil
	default:
		return "", phrase.Error("fastening.thread.property-class-is-not-known-expected-8", text)
	}
}

// stress gives the strengths of the class at a diameter. Source: ISO 898-1,
// proof and tensile by way of bolt_loads_coarse.csv, yield of 8.8, 10.9 and 12.9
// by way of preload_torque_fine_thread.csv; the yield of 9.8 is from memory.
func (c Class) stress(t Thread) (stresses, error) {
	if err := t.Valid(); err != nil {
		return stresses{}, err
	}
	thick := t.Diameter.Float() > 16
	switch c {
	case Class8_8:
		if thick {
			return stresses{600, 830, 660}, nil
		}
		return stresses{580, 800, 640}, nil
	case Class9_8:
		if thick {
			return stresses{}, phrase.Error("fastening.thread.property-class-9-8-ends-at-m16", t)
		}
		return stresses{650, 900, 720}, nil
	case Class10_9:
		return stresses{830, 1040, 940}, nil
	case Class12_9:
		return stresses{970, 1220, 1100}, nil
	default:
		_, err := ParseClass(string(c))
		return stresses{}, err
	}
}

// nominalArea is the stress area to three significant digits, as the load tables
// of ISO 898-1 use it.
func (t Thread) nominalArea() float64 {
	area := t.StressArea()
	step := math.Pow10(int(math.Floor(math.Log10(area))) - 2)
	return math.Round(area/step) * step
}

// ProofLoad is the load a bolt bears without lasting stretch, stress area to
// three digits × proof stress, in N without decimals. Source: ISO 898-1.
func ProofLoad(t Thread, c Class) (quantity.Quantity, error) {
	s, err := c.stress(t)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return estimate(t.nominalArea()*s.proof, quantity.Newton, 0), nil
}

// TensileLoad is the least load that breaks a bolt, stress area to three digits
// × minimum tensile strength, in N without decimals. Source: ISO 898-1.
func TensileLoad(t Thread, c Class) (quantity.Quantity, error) {
	s, err := c.stress(t)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return estimate(t.nominalArea()*s.tensile, quantity.Newton, 0), nil
}

// estimate turns a reckoned float into a quantity for showing. The value is
// finite: its inputs are bounded by Thread.Valid and Joint.
func estimate(value float64, u quantity.Unit, n int) quantity.Quantity {
	r := new(big.Rat)
	r.SetFloat64(value)
	return rounded(r, u, n)
}
