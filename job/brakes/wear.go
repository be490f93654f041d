package brakes

import (
	"math/big"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Visit is one measurement of the thinnest point of one part.
type Visit struct {
	Thickness, Odometer quantity.Quantity
	// Uncertainty is the expanded uncertainty of the thickness; zero means
	// the reading is taken as it stands.
	Uncertainty quantity.Quantity
	// Renewed is true when the part was renewed since the visit before: what
	// was measured earlier belongs to another part.
	Renewed bool
}

// Forecast is how far a part goes until a limit, plainly and cautiously. Both
// are for the workshop; a customer is told Advice.
type Forecast struct {
	Rate, CautiousRate           *big.Rat // mm per 1000 km
	Remaining, CautiousRemaining *big.Rat // km from the last visit, never negative
	// LastInterval is true when the last interval wore faster than the whole
	// and its rate was used.
	LastInterval bool
	// Trend is the line through three or more visits; nil when there are
	// fewer or the line does not fall.
	Trend *Trend

	now, cautiousNow, odometer *big.Rat
}

// NoForecast is the error that says why no forecast is made.
type NoForecast struct {
	Reason NoForecastReason
	Text   string
}

// Error is the sentence.
func (n *NoForecast) Error() string { return n.Text }

// NoForecastReason is a stable word for the reason.
type NoForecastReason string

// The reasons for making no forecast.
const (
	FirstReading NoForecastReason = "first reading"
	TooShort     NoForecastReason = "distance too short"
	NoWearYet    NoForecastReason = "no wear measurable"
	Grew         NoForecastReason = "thickness grew"
)

// shortest is the least distance between visits that carries a rate, in km.
// Common practice, no source.
var shortest = ratio(3000, 1)

// span is a wear interval with its uncertainty.
type span struct{ worn, spread, driven *big.Rat }

// usable says why a span carries no rate, or nil.
func (s span) usable() *NoForecast {
	switch {
	case magnitudeOver(s.worn, s.spread) && s.worn.Sign() < 0:
		return &NoForecast{Grew, phrase.Of("brakes.wear.thickness-grew-by-renewed-in-between-sides", shown(magnitude(s.worn), quantity.Millimetre, 2))}
	case s.driven.Cmp(shortest) < 0:
		return &NoForecast{TooShort, phrase.Of("brakes.wear.only-driven-at-least-3000-km-are", shown(s.driven, quantity.Kilometre, 0))}
	case s.worn.Cmp(s.spread) <= 0:
		return &NoForecast{NoWearYet, phrase.Of("brakes.wear.no-wear-measurable-yet-is-not-more", shown(s.worn, quantity.Millimetre, 2), shown(s.spread, quantity.Millimetre, 2))}
	}
	return nil
}

// magnitudeOver says whether |a| > b.
func magnitudeOver(a, b *big.Rat) bool { return magnitude(a).Cmp(b) > 0 }

// rate in mm per 1000 km.
func (s span) rate() *big.Rat { return times(over(s.worn, s.driven), ratio(1000, 1)) }

// exactVisit is a visit in millimetres and kilometres.
type exactVisit struct{ thickness, uncertainty, odometer *big.Rat }

// between builds the span from a to b; u of the difference is √(ua² + ub²),
// rounded up.
func between(a, b exactVisit) span {
	return span{
		worn:   minus(a.thickness, b.thickness),
		spread: rootUp(plus(times(a.uncertainty, a.uncertainty), times(b.uncertainty, b.uncertainty)), 9),
		driven: minus(b.odometer, a.odometer),
	}
}

// ForecastWear takes the visits of one point, oldest first, and the limit.
// Only visits since the last renewal count.
//
//	rate = Δt/Δkm, remaining = (t − limit)/rate
//	cautious rate = (Δt + u)/Δkm with u = √(u₁² + u₂²)
//	cautious remaining = (t − u₂ − limit)/cautious rate
//
// When the last interval wore faster than the whole, its rate is used.
// The error is a *NoForecast when the readings allow no forecast.
// Source: linear wear, common practice, no source; u by JCGM 100:2008 5.1.2.
func ForecastWear(visits []Visit, limit quantity.Quantity) (Forecast, error) {
	least, err := exactIn(limit, quantity.Millimetre, "limit")
	if err != nil {
		return Forecast{}, err
	}
	same, err := sinceRenewal(visits)
	if err != nil {
		return Forecast{}, err
	}
	if len(same) < 2 {
		return Forecast{}, &NoForecast{FirstReading, phrase.Of("brakes.wear.first-reading-of-this-part-nothing-is")}
	}
	for i := range same[1:] {
		step := between(same[i], same[i+1])
		if step.driven.Sign() < 0 {
			return Forecast{}, phrase.Error("brakes.wear.visit-has-a-lower-odometer-than-the", i+2)
		}
		if reason := step.usable(); reason != nil && reason.Reason == Grew {
			return Forecast{}, reason
		}
	}
	last := same[len(same)-1]
	used := between(same[0], last)
	whole := used.usable()
	var f Forecast
	if recent := between(same[len(same)-2], last); len(same) > 2 && recent.usable() == nil &&
		(whole != nil || recent.rate().Cmp(used.rate()) > 0) {
		used, whole, f.LastInterval = recent, nil, true
	}
	if whole != nil {
		return Forecast{}, whole
	}
	f.now, f.cautiousNow, f.odometer = last.thickness, minus(last.thickness, last.uncertainty), last.odometer
	f.Rate = used.rate()
	f.CautiousRate = span{plus(used.worn, used.spread), nil, used.driven}.rate()
	f.Remaining = remaining(minus(f.now, least), f.Rate)
	f.CautiousRemaining = remaining(minus(f.cautiousNow, least), f.CautiousRate)
	if len(same) > 2 {
		if f.Trend, err = trendOf(same, least); err != nil {
			return Forecast{}, err
		}
	}
	return f, nil
}

// sinceRenewal converts the visits that belong to the part now fitted.
func sinceRenewal(visits []Visit) ([]exactVisit, error) {
	start := 0
	for i, v := range visits {
		if v.Renewed {
			start = i
		}
	}
	var out []exactVisit
	for i, v := range visits[start:] {
		name := phrase.Of("brakes.wear.visit", start+i+1)
		t, err := exactIn(v.Thickness, quantity.Millimetre, name)
		if err != nil {
			return nil, err
		}
		km, err := exactIn(v.Odometer, quantity.Kilometre, name)
		if err != nil {
			return nil, err
		}
		u := new(big.Rat)
		if !v.Uncertainty.IsZero() {
			if u, err = exactIn(v.Uncertainty, quantity.Millimetre, name); err != nil {
				return nil, err
			}
		}
		if t.Sign() < 0 || u.Sign() < 0 {
			return nil, phrase.Error("brakes.wear.neither-thickness-nor-uncertainty-may-be", name)
		}
		out = append(out, exactVisit{t, u, km})
	}
	return out, nil
}

// remaining is room ÷ rate in km, not below zero.
func remaining(room, rate *big.Rat) *big.Rat {
	if room.Sign() <= 0 {
		return new(big.Rat)
	}
	return times(over(room, rate), ratio(1000, 1))
}

// After gives the thickness expected after a further distance, plainly and
// cautiously, in millimetres.
func (f Forecast) After(distance quantity.Quantity) (plain, cautious *big.Rat, err error) {
	km, err := exactIn(distance, quantity.Kilometre, "distance")
	if err != nil {
		return nil, nil, err
	}
	thousands := over(km, ratio(1000, 1))
	return minus(f.now, times(f.Rate, thousands)), minus(f.cautiousNow, times(f.CautiousRate, thousands)), nil
}

// Advice is what a customer is told: the cautious distance with two figures
// and a check at half of it. The half is common practice, no source.
func (f Forecast) Advice() string {
	if f.CautiousRemaining.Cmp(ratio(1000, 1)) < 0 {
		return phrase.Of("brakes.wear.due-now")
	}
	check := plus(f.odometer, over(f.CautiousRemaining, ratio(2, 1)))
	return phrase.Of("brakes.wear.about-check-again-at-or-in-12", TwoFigures(f.CautiousRemaining), TwoFigures(check))
}

// TwoFigures writes a distance in km rounded down to two significant figures,
// thousands apart: more would claim knowledge that nobody has.
func TwoFigures(km *big.Rat) string {
	whole := new(big.Int).Quo(km.Num(), km.Denom())
	digits := whole.String()
	if len(digits) > 2 && whole.Sign() > 0 {
		digits = digits[:2] + strings.Repeat("0", len(digits)-2)
	}
	var grouped strings.Builder
	for i, c := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			grouped.WriteByte(' ')
		}
		grouped.WriteRune(c)
	}
	return grouped.String() + " km"
}
