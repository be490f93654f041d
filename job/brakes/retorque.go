package brakes

import (
	"math/big"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// RetorqueRule is the workshop's rule for tightening the wheel fasteners again
// after the first distance.
type RetorqueRule struct {
	Due, Late quantity.Quantity // distance after release
	Days      int               // or this many days, whichever first
}

// DemoRetorqueRule is 50 km, late after 100 km, or 7 days. Common practice, no
// source; a workshop sets its own.
func DemoRetorqueRule() RetorqueRule {
	return RetorqueRule{
		Due:  quantity.Quantity{Number: "50", Unit: quantity.Kilometre},
		Late: quantity.Quantity{Number: "100", Unit: quantity.Kilometre},
		Days: 7,
	}
}

// Retorque is the plan that follows from a release.
type Retorque struct {
	DueAt, LateAfter quantity.Quantity // odometer in km
	Released, DueOn  time.Time         // days; the time of day is not used

	release, due, late *big.Rat
}

// PlanRetorque works out when the re-torque is due. Errors: odometer or rule
// without value or not a distance, late before due, no days.
func PlanRetorque(odometer quantity.Quantity, released time.Time, rule RetorqueRule) (Retorque, error) {
	at, err := exactIn(odometer, quantity.Kilometre, phrase.Of("brakes.retorque.odometer-at-release"))
	if err != nil {
		return Retorque{}, err
	}
	due, err := exactIn(rule.Due, quantity.Kilometre, phrase.Of("brakes.retorque.distance-to-the-re-torque"))
	if err != nil {
		return Retorque{}, err
	}
	late, err := exactIn(rule.Late, quantity.Kilometre, phrase.Of("brakes.retorque.distance-from-which-it-is-late"))
	if err != nil {
		return Retorque{}, err
	}
	if due.Sign() <= 0 || late.Cmp(due) < 0 || rule.Days < 1 {
		return Retorque{}, phrase.Error("brakes.retorque.re-torque-due-after-late-after-days", rule.Due, rule.Late, rule.Days)
	}
	p := Retorque{Released: released, DueOn: released.AddDate(0, 0, rule.Days), release: at, due: plus(at, due), late: plus(at, late)}
	p.DueAt, p.LateAfter = asQuantity(p.due, quantity.Kilometre), asQuantity(p.late, quantity.Kilometre)
	return p, nil
}

// RetorqueState is where a re-torque stands.
type RetorqueState string

// The states: the first three before it is done, the last three judge a
// re-torque that was done.
const (
	RetorqueNotYet   RetorqueState = "not yet"
	RetorqueDue      RetorqueState = "due"
	RetorqueLate     RetorqueState = "late"
	RetorqueTooEarly RetorqueState = "too early"
	RetorqueInTime   RetorqueState = "done in time"
	RetorqueDoneLate RetorqueState = "done late"
)

// Standing says where the re-torque stands on a day. odometer is the reading
// if one is known, else zero; perDay is what the vehicle usually runs, else
// zero, and serves only when no reading is known: estimated is then true, and
// an estimate makes a re-torque due but never late. Without either only the
// days count. Due from the due distance or on the due day; late beyond the
// late distance or after the due day.
func (p Retorque) Standing(on time.Time, odometer, perDay quantity.Quantity) (state RetorqueState, estimated bool, err error) {
	days := daysBetween(p.Released, on)
	if days < 0 {
		return "", false, phrase.Error("brakes.retorque.is-before-the-release-on", day(on), day(p.Released))
	}
	km := p.release
	switch {
	case !odometer.IsZero():
		if km, err = p.reading(odometer); err != nil {
			return "", false, err
		}
	case !perDay.IsZero():
		daily, err := exactIn(perDay, quantity.Kilometre, phrase.Of("brakes.retorque.distance-per-day"))
		if err != nil {
			return "", false, err
		}
		km, estimated = plus(p.release, times(daily, ratio(int64(days), 1))), true
	}
	left := daysBetween(on, p.DueOn)
	switch {
	case left < 0 || !estimated && km.Cmp(p.late) > 0:
		return RetorqueLate, estimated, nil
	case km.Cmp(p.due) >= 0 || left == 0:
		return RetorqueDue, estimated, nil
	}
	return RetorqueNotYet, estimated, nil
}

// ExpectedOn is the day on which the due distance is reached by a vehicle that
// runs perDay, or the due day when that comes first.
func (p Retorque) ExpectedOn(perDay quantity.Quantity) (time.Time, error) {
	daily, err := exactIn(perDay, quantity.Kilometre, phrase.Of("brakes.retorque.distance-per-day"))
	if err != nil {
		return time.Time{}, err
	}
	if daily.Sign() <= 0 {
		return time.Time{}, phrase.Error("brakes.retorque.distance-per-day-is-more-than-zero", perDay)
	}
	days := over(minus(p.due, p.release), daily)
	if days.Cmp(ratio(int64(daysBetween(p.Released, p.DueOn)), 1)) >= 0 {
		return p.DueOn, nil
	}
	whole, rest := new(big.Int).QuoRem(days.Num(), days.Denom(), new(big.Int))
	on := p.Released.AddDate(0, 0, int(whole.Int64()))
	if rest.Sign() > 0 {
		on = on.AddDate(0, 0, 1)
	}
	return on, nil
}

// Done judges a re-torque that was carried out. Too early means the joint has
// not settled yet: it is still due. Done late stands and is marked.
func (p Retorque) Done(on time.Time, odometer quantity.Quantity) (RetorqueState, error) {
	if odometer.IsZero() {
		return "", phrase.Error("brakes.retorque.no-odometer-reading-with-the-re-torque")
	}
	state, _, err := p.Standing(on, odometer, quantity.Quantity{})
	if err != nil {
		return "", err
	}
	switch state {
	case RetorqueNotYet:
		return RetorqueTooEarly, nil
	case RetorqueLate:
		return RetorqueDoneLate, nil
	}
	return RetorqueInTime, nil
}

// reading converts an odometer and refuses one below that of the release.
func (p Retorque) reading(odometer quantity.Quantity) (*big.Rat, error) {
	km, err := exactIn(odometer, quantity.Kilometre, "odometer")
	if err != nil {
		return nil, err
	}
	if km.Cmp(p.release) < 0 {
		return nil, phrase.Error("brakes.retorque.odometer-is-lower-than-at-release", odometer, shown(p.release, quantity.Kilometre, 0))
	}
	return km, nil
}

// daysBetween counts calendar days, each date read in its own offset.
func daysBetween(from, to time.Time) int {
	civil := func(t time.Time) time.Time {
		y, m, d := t.Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	return int(civil(to).Sub(civil(from)) / (24 * time.Hour))
}

// Settling is how far a fastener of the given pitch went on when it was turned
// by an angle: pitch × angle ÷ 360°, exact when it ends. Source: geometry of
// the thread.
func Settling(pitch, angle quantity.Quantity) (quantity.Quantity, error) {
	p, err := exactIn(pitch, quantity.Millimetre, "pitch")
	if err != nil {
		return quantity.Quantity{}, err
	}
	a, err := exactIn(angle, quantity.Degree, "angle")
	if err != nil {
		return quantity.Quantity{}, err
	}
	if p.Sign() <= 0 || a.Sign() < 0 {
		return quantity.Quantity{}, phrase.Error("brakes.retorque.pitch-and-angle-a-pitch-above-zero", pitch, angle)
	}
	return asQuantity(times(p, over(a, ratio(360, 1))), quantity.Millimetre), nil
}

// NutsMoved judges the angles by which the nuts of one wheel went on at the
// re-torque (0° for a click without movement). Two or more that moved, or one
// by more than 30°, mean the wheel comes off, the faces are looked at and the
// distance starts again. Common practice, no source. An empty sentence means
// the wheel is settled.
func NutsMoved(angles []quantity.Quantity) (string, error) {
	moved, most := 0, new(big.Rat)
	for i, q := range angles {
		a, err := exactIn(q, quantity.Degree, phrase.Of("brakes.retorque.nut", i+1))
		if err != nil {
			return "", err
		}
		if a.Sign() < 0 {
			return "", phrase.Error("brakes.retorque.nut-a-nut-is-never-slackened-for", i+1, q)
		}
		if a.Sign() > 0 {
			moved++
		}
		if a.Cmp(most) > 0 {
			most = a
		}
	}
	if moved >= 2 || most.Cmp(ratio(30, 1)) > 0 {
		return phrase.Of("brakes.retorque.of-nuts-moved-at-most-by-wheel", moved, len(angles), asQuantity(most, quantity.Degree)), nil
	}
	return "", nil
}
