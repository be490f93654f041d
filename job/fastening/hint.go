package fastening

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Slip is the kind of slip a hint suspects.
type Slip string

const (
	// WrongScale is a value read on another unit's scale.
	WrongScale Slip = "wrong scale read"
	// WrongSetting is the true torque of a wrench set to the target's figure on
	// another unit's scale: the fastener really has the wrong torque.
	WrongSetting Slip = "wrong scale set"
	// SlippedDecimal is a value ten or a hundred times too large or too small.
	SlippedDecimal Slip = "slipped decimal"
	// KiloUnit is a torque in kN·m.
	KiloUnit Slip = "thousands of the unit"
	// Barcode is the number of an article, not a measurement.
	Barcode Slip = "barcode"
)

// Hint is one suggestion about a value that does not fit. It is text for a
// person and never a conversion: the value is typed again.
type Hint struct {
	Slip Slip
	// Fits is the figure that would fit, in the window's unit, at most four
	// decimals; the zero value for WrongSetting and Barcode, where nothing fits.
	Fits quantity.Quantity
	// Text is what to show.
	Text string
}

// HintTorque looks for the one slip that explains a torque outside its window,
// in this order: read in lbf·ft; ten times too small or large; read in kN·m;
// read in another torque unit; the wrench set to the target's figure on another
// scale. It is false for a value inside the window and for one that nothing
// explains. Source: workshop paper (trade.md 4.1).
func HintTorque(typed quantity.Quantity, window quantity.Window) (Hint, bool) {
	if verdict, err := window.Judge(typed); err == nil && verdict == quantity.Inside {
		return Hint{}, false
	}
	return explain(typed, window, quantity.Window{}, quantity.Torque,
		readIn(askScale, quantity.PoundFoot),
		slipped(10),
		readInKilo,
		readIn(askScale, quantity.NewtonMetre, quantity.PoundInch, quantity.KilogramForceMetre, quantity.KilogramForceCentimetre),
		setIn(quantity.PoundFoot, quantity.NewtonMetre, quantity.PoundInch, quantity.KilogramForceMetre),
	)
}

func askScale(u quantity.Unit) string {
	return phrase.Of("fastening.hint.was-the-wrong-scale-read-check-the", u)
}

func askUnit(u quantity.Unit) string {
	return phrase.Of("fastening.hint.was-the-unit-mixed-up-type-the", u)
}

// HintLength looks for the one slip that explains a thickness or run-out: a
// barcode, inches for millimetres or the other way round, a decimal slipped by
// one or two places, thousandths of an inch, micrometres, centimetres.
//
// Likely is what such a part can measure at all, sound or worn; it catches 164
// for 16.4 in a window that has only a lower limit. Its zero value is derived:
// with a lower limit only, up to twice that; with an upper limit only, from a
// tenth of it, and a value up to four times the limit is taken as real. It is
// false for a value inside both and for one that nothing explains. Source:
// workshop paper (trade.md 4.7, 4.8, 4.10); the derived bounds are common
// practice, no source.
func HintLength(typed quantity.Quantity, window, likely quantity.Window) (Hint, bool) {
	return explain(typed, window, likely, quantity.Length,
		readIn(askUnit, quantity.Inch, quantity.Millimetre),
		slipped(10),
		slipped(100),
		readIn(askUnit, quantity.Thou, quantity.Micrometre, quantity.Centimetre),
	)
}

// HintForce looks for the one slip that explains a brake force: a barcode, read
// in kN, daN, kgf, N or lbf, or a slipped decimal. Likely as in HintLength.
func HintForce(typed quantity.Quantity, window, likely quantity.Window) (Hint, bool) {
	return explain(typed, window, likely, quantity.Force,
		readIn(askUnit, quantity.Kilonewton, quantity.Decanewton, quantity.KilogramForce, quantity.Newton, quantity.PoundForce),
		slipped(10),
	)
}

// HintTemperature looks for the one slip that explains a temperature: a
// barcode, °F for °C or °C for °F, or a slipped decimal. Likely as in
// HintLength, but with a lower limit only it is derived up to 1.8 times that,
// because the °F figure of any temperature that passes lies above.
func HintTemperature(typed quantity.Quantity, window, likely quantity.Window) (Hint, bool) {
	return explain(typed, window, likely, quantity.Temperature,
		readIn(askUnit, quantity.Fahrenheit, quantity.Celsius),
		slipped(10),
	)
}

// LooksLikeBarcode reports whether a text is the number of an article: thirteen
// digits, or eight, twelve or fourteen whose last is the right check digit.
// Source: GS1 General Specifications, check digit (weights 1 and 3 from the
// right), from memory; thirteen without the check because a smudged scan is no
// measurement either (trade.md 4.10).
func LooksLikeBarcode(text string) bool {
	if strings.Trim(text, "0123456789") != "" {
		return false
	}
	switch len(text) {
	case 13:
		return true
	case 8, 12, 14:
		sum, weight := 0, 1
		for i := len(text) - 1; i >= 0; i-- {
			sum += weight * int(text[i]-'0')
			weight = 4 - weight
		}
		return sum%10 == 0
	default:
		return false
	}
}

// explain tries the steps in order and takes the first that fits.
func explain(typed quantity.Quantity, window, likely quantity.Window, d quantity.Dimension, steps ...step) (Hint, bool) {
	if LooksLikeBarcode(typed.Number) {
		return Hint{Slip: Barcode, Text: phrase.Of("fastening.hint.that-is-a-barcode-not-a-measurement", typed.Number)}, true
	}
	if window.Dimension() != d || typed.Unit.Dimension() != d {
		return Hint{}, false
	}
	s, err := newSearch(typed, window, likely)
	if err != nil || s.plain() {
		return Hint{}, false
	}
	for _, try := range steps {
		if hint, found := try(s); found {
			return hint, true
		}
	}
	return Hint{}, false
}
