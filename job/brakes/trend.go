package brakes

import "math/big"

// TrendConfidence is how sure the cautious end of a trend is.
const TrendConfidence = 0.95

// Trend is the straight line through three or more visits.
type Trend struct {
	Line Regression // y in mm, x in km
	// Remaining is where the line meets the limit, km from the last visit.
	Remaining float64
	// CautiousRemaining is where the lower prediction band (one-sided,
	// TrendConfidence) meets it. With three visits the band is very wide;
	// that is honest, not an error.
	CautiousRemaining float64
}

// trendOf fits the visits; a line that does not fall, or visits at one
// odometer, give no trend.
func trendOf(visits []exactVisit, least *big.Rat) (*Trend, error) {
	var x, y []*big.Rat
	alike := true
	for _, v := range visits {
		x, y = append(x, v.odometer), append(y, v.thickness)
		alike = alike && v.odometer.Cmp(visits[0].odometer) == 0
	}
	if alike {
		return nil, nil
	}
	line, err := Line(x, y)
	if err != nil {
		return nil, err
	}
	if line.Slope.Sign() >= 0 {
		return nil, nil
	}
	t := &Trend{Line: line}
	now, limit := approx(visits[len(visits)-1].odometer), approx(least)
	meets := approx(over(minus(least, line.Intercept), line.Slope))
	t.Remaining = max(0, meets-now)
	// Beyond the mean odometer the band falls steadily and lies below the
	// line, so it meets the limit once, between now and where the line does.
	if t.Remaining > 0 && line.Below(now, TrendConfidence) > limit {
		low, high := now, meets
		for high-low > 0.01 {
			middle := (low + high) / 2
			if line.Below(middle, TrendConfidence) > limit {
				low = middle
			} else {
				high = middle
			}
		}
		t.CautiousRemaining = low - now
	}
	return t, nil
}
