package fastening

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Kind is how a wrench tells the torque.
type Kind string

const (
	// SettingWrench is a wrench set to a value that clicks or slips when it is reached.
	SettingWrench Kind = "setting"
	// IndicatingWrench is a wrench read from a pointer, dial or beam.
	IndicatingWrench Kind = "indicating"
	// ElectronicWrench is a wrench with a display, read or stored as a peak.
	ElectronicWrench Kind = "electronic"
)

// RecalibrationMonths and RecalibrationCycles are the interval of a wrench for
// which the workshop has no procedure of its own: whichever comes first.
// Source: ISO 6789:2003 and ISO 6789-1:2017 as summarised by makers
// (hand_torque_tools.csv). A workshop may shorten both.
const (
	RecalibrationMonths = 12
	RecalibrationCycles = 5000
)

// DefaultDeviation is the permissible deviation of a wrench without a
// certificate figure: for an adjustable graduated setting wrench 4 % above a
// maximum of 10 N·m, 6 % up to and including it. Source: ISO 6789:2003 as
// summarised by makers (hand_torque_tools.csv). That table prints no figure for
// the other kinds, so for those the certificate must give it.
func DefaultDeviation(kind Kind, maximum quantity.Quantity) (quantity.Quantity, error) {
	most, err := positive(phrase.Of("fastening.isowrench.the-wrenchs-highest-value"), maximum, quantity.NewtonMetre)
	if err != nil {
		return quantity.Quantity{}, err
	}
	switch kind {
	case SettingWrench:
		if most.Cmp(big.NewRat(10, 1)) <= 0 {
			return quantity.Quantity{Number: "6", Unit: quantity.Percent}, nil
		}
		return quantity.Quantity{Number: "4", Unit: quantity.Percent}, nil
	case IndicatingWrench, ElectronicWrench:
		return quantity.Quantity{}, phrase.Error("fastening.isowrench.there-is-no-default-error-for-an", kind)
	default:
		return quantity.Quantity{}, phrase.Error("fastening.isowrench.wrench-kind-is-not-known-expected-setting", kind)
	}
}

// Range is what a wrench may be set to, both ends inclusive.
type Range struct{ Low, High quantity.Quantity }

// WorkingRange gives the range of a wrench: from its lowest marked value, or
// from 20 % of its maximum when none is given, to its maximum. Source: ISO
// 6789-2:2017 (lowest marked value; 20 % in the edition before), as summarised
// by makers (hand_torque_tools.csv).
func WorkingRange(maximum, lowestMarked quantity.Quantity) (Range, error) {
	most, err := positive(phrase.Of("fastening.isowrench.the-wrenchs-highest-value"), maximum, maximum.Unit)
	if err != nil {
		return Range{}, err
	}
	if maximum.Unit.Dimension() != quantity.NewtonMetre.Dimension() {
		return Range{}, phrase.Error("fastening.isowrench.the-wrenchs-highest-value-is-no-torque", maximum)
	}
	if lowestMarked.IsZero() {
		fifth := new(big.Rat).Quo(most, big.NewRat(5, 1))
		return Range{Low: rounded(fifth, maximum.Unit, maximum.Places()+1), High: maximum}, nil
	}
	least, err := positive(phrase.Of("fastening.isowrench.the-wrenchs-lowest-marked-value"), lowestMarked, maximum.Unit)
	if err != nil {
		return Range{}, err
	}
	if least.Cmp(most) >= 0 {
		return Range{}, phrase.Error("fastening.isowrench.the-wrenchs-lowest-marked-value-is-not", lowestMarked, maximum)
	}
	return Range{Low: lowestMarked, High: maximum}, nil
}

// Check refuses a setting outside the range with a sentence naming both.
func (r Range) Check(set quantity.Quantity) error {
	value, err := positive(phrase.Of("fastening.isowrench.the-wrench-setting"), set, r.High.Unit)
	if err != nil {
		return err
	}
	low, err := r.Low.In(r.High.Unit)
	if err != nil {
		return err
	}
	switch {
	case value.Cmp(low) < 0:
		return phrase.Error("fastening.isowrench.is-below-the-lowest-this-wrench-may", set, r.Low)
	case value.Cmp(r.High.Rat()) > 0:
		return phrase.Error("fastening.isowrench.is-above-the-most-this-wrench-may", set, r.High)
	}
	return nil
}
