package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Interval is the wear of one point of one part between two odometer
// readings.
type Interval struct {
	Before, After quantity.Quantity // thickness
	From, To      quantity.Quantity // odometer
}

// Rate is the wear in millimetres per 1000 km, exact:
// (before − after) ÷ (to − from) × 1000. Errors: a value missing or of the
// wrong kind, no distance driven, thickness grown.
func (i Interval) Rate() (*big.Rat, error) {
	worn, driven, err := i.exact()
	if err != nil {
		return nil, err
	}
	if driven.Sign() <= 0 {
		return nil, phrase.Error("brakes.interval.odometer-went-from-to-a-distance-driven", i.From, i.To)
	}
	if worn.Sign() < 0 {
		return nil, phrase.Error("brakes.interval.thickness-grew-from-to-wear-is-expected", i.Before, i.After)
	}
	return times(over(worn, driven), ratio(1000, 1)), nil
}

// exact gives the wear in millimetres and the distance in kilometres.
func (i Interval) exact() (worn, driven *big.Rat, err error) {
	before, err := exactIn(i.Before, quantity.Millimetre, phrase.Of("brakes.interval.thickness-before"))
	if err != nil {
		return nil, nil, err
	}
	after, err := exactIn(i.After, quantity.Millimetre, phrase.Of("brakes.interval.thickness-after"))
	if err != nil {
		return nil, nil, err
	}
	from, err := exactIn(i.From, quantity.Kilometre, phrase.Of("brakes.interval.odometer-before"))
	if err != nil {
		return nil, nil, err
	}
	to, err := exactIn(i.To, quantity.Kilometre, phrase.Of("brakes.interval.odometer-after"))
	if err != nil {
		return nil, nil, err
	}
	return minus(before, after), minus(to, from), nil
}
