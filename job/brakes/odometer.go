package brakes

import (
	"math/big"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// OdometerReading is what the instrument showed on a day.
type OdometerReading struct {
	Shown quantity.Quantity // kilometres or miles
	// Offset is what the vehicle had run before the instrument was replaced;
	// zero when it never was.
	Offset quantity.Quantity
	On     time.Time
}

// Driven is shown + offset in kilometres, exact.
func (r OdometerReading) Driven() (quantity.Quantity, error) {
	km, err := r.exact()
	if err != nil {
		return quantity.Quantity{}, err
	}
	return asQuantity(km, quantity.Kilometre), nil
}

// exact is Driven as a rational.
func (r OdometerReading) exact() (*big.Rat, error) {
	km, err := exactIn(r.Shown, quantity.Kilometre, "odometer")
	if err != nil {
		return nil, err
	}
	if r.Offset.IsZero() {
		return km, nil
	}
	offset, err := exactIn(r.Offset, quantity.Kilometre, phrase.Of("brakes.odometer.odometer-offset"))
	if err != nil {
		return nil, err
	}
	return plus(km, offset), nil
}

// perDay is the distance per day from which on a reading is asked about, in
// km; usualPerDay bounds what a hint may assume. Common practice, no source.
var perDay, usualPerDay = ratio(1500, 1), ratio(300, 1)

// kilometresPerMile is exact: international yard and pound agreement of 1959.
var kilometresPerMile = ratio(1609344, 1000000)

// CheckOdometer doubts a reading against the last one of the same vehicle;
// last may be the zero value at the first visit. Zero and 999 999 are refused,
// a blank is an error. Days are counted as days begun, so two visits on one
// day are one day apart.
func CheckOdometer(now, last OdometerReading) ([]Oddity, error) {
	shownKm, err := exactIn(now.Shown, quantity.Kilometre, "odometer")
	if err != nil {
		return nil, err
	}
	typed, _ := new(big.Rat).SetString(now.Shown.Number)
	if shownKm.Sign() <= 0 || typed.Cmp(ratio(999999, 1)) >= 0 {
		return []Oddity{{Code: CodeImpossible, Refused: true,
			Text: phrase.Of("brakes.odometer.is-no-odometer-reading-type-what-the", now.Shown)}}, nil
	}
	if last.Shown.IsZero() {
		return nil, nil
	}
	km, err := now.exact()
	if err != nil {
		return nil, err
	}
	before, err := last.exact()
	if err != nil {
		return nil, phrase.Error("brakes.odometer.last-visit", err)
	}
	if now.On.Before(last.On) {
		return nil, phrase.Error("brakes.odometer.the-reading-is-dated-before-the-last", day(now.On), day(last.On))
	}
	days := int64(now.On.Sub(last.On)/(24*time.Hour)) + 1
	top := plus(before, times(perDay, ratio(days, 1)))
	usual := plus(before, times(usualPerDay, ratio(days, 1)))
	switch {
	case km.Cmp(before) < 0:
		text := phrase.Of("brakes.odometer.is-lower-than-on-typing-other-vehicle", now.Shown, last.Shown, day(last.On))
		if asMiles := plus(times(shownKm, kilometresPerMile), minus(km, shownKm)); now.Shown.Unit == quantity.Kilometre && within(asMiles, before, usual) {
			text = phrase.Of("brakes.odometer.is-lower-than-on-read-in-miles", now.Shown, last.Shown, day(last.On), now.Shown.Number, shown(asMiles, quantity.Kilometre, 0))
		}
		return []Oddity{{Code: CodeLower, Text: text}}, nil
	case km.Cmp(top) > 0:
		text := phrase.Of("brakes.odometer.is-more-than-on-over-1500-km", now.Shown, shown(minus(km, before), quantity.Kilometre, 0), day(last.On))
		if asKm := over(shownKm, kilometresPerMile); now.Shown.Unit == quantity.Mile && within(plus(asKm, minus(km, shownKm)), before, usual) {
			text = phrase.Of("brakes.odometer.would-be-too-much-since-were-kilometres", now.Shown, shown(shownKm, quantity.Kilometre, 0), day(last.On))
		} else if tenth := over(shownKm, ratio(10, 1)); within(plus(tenth, minus(km, shownKm)), before, usual) {
			text += phrase.Of("brakes.odometer.or-was-the-last-digit-a-tenth")
		}
		return []Oddity{{Code: CodeJump, Text: text}}, nil
	}
	return nil, nil
}

// day writes a date for a sentence.
func day(t time.Time) string { return t.Format("2006-01-02") }
