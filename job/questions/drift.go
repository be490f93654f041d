package questions

import (
	"cmp"
	"math/big"
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
)

// DriftPoint is one fastener tightened with a wrench and then checked with another.
type DriftPoint struct {
	Job     uint64    `json:"job"`
	When    time.Time `json:"when"` // of the check
	By      string    `json:"by"`   // instrument of the check
	Percent *big.Rat  `json:"percent"`
}

// Drift is how a wrench compares with what second persons found, in time order. It is a reason to look
// at the wrench, never a verdict on it: the check reads a fastener at rest.
type Drift struct {
	Wrench string              `json:"wrench"`
	Points []DriftPoint        `json:"points"`
	Chart  *brakes.Individuals `json:"chart"` // nil with fewer than two points
}

// DriftPoints pairs every second person's check of a job with the tightening it checked: the
// difference of the check from the value reached, in per cent of the value reached. Setting wrenches
// that only clicked are left out, because what was reached is not known.
func DriftPoints(c *job.Card) map[string][]DriftPoint {
	out := map[string][]DriftPoint{}
	if c.Opened.Practice {
		return out
	}
	last := map[string]Pull{}
	for _, p := range PullsOf(c) {
		if !p.Second {
			if p.Counts {
				last[p.fastener()] = p
			}
			continue
		}
		was, ok := last[p.fastener()]
		if !ok || was.Instrument.ID == p.Instrument.ID || was.Instrument.Kind == register.SettingWrench || p.Instrument.Kind == register.SettingWrench {
			continue
		}
		if r, ok := differs(p.Value, was.Value); ok {
			out[was.Instrument.ID] = append(out[was.Instrument.ID], DriftPoint{c.Number(), p.When, p.Instrument.ID, r})
		}
	}
	return out
}

func differs(check, reached quantity.Quantity) (*big.Rat, bool) {
	d, err1 := check.Sub(reached)
	of, err2 := reached.In(d.Unit)
	if err1 != nil || err2 != nil || of.Sign() == 0 {
		return nil, false
	}
	r := d.Rat()
	r.Quo(r, of)
	return r.Mul(r, big.NewRat(100, 1)), true
}

// DriftsOf draws the control chart of every wrench, by its id.
func DriftsOf(points map[string][]DriftPoint) []Drift {
	var out []Drift
	for _, id := range sortedKeys(points) {
		d := Drift{Wrench: id, Points: slices.Clone(points[id])}
		slices.SortStableFunc(d.Points, func(a, b DriftPoint) int { return cmp.Or(a.When.Compare(b.When), cmp.Compare(a.Job, b.Job)) })
		values := make([]*big.Rat, len(d.Points))
		for i, p := range d.Points {
			values[i] = p.Percent
		}
		if chart, err := brakes.IndividualsChart(values); err == nil {
			d.Chart = &chart
		}
		out = append(out, d)
	}
	return out
}

// Delay is how long a stage waits for its second person.
type Delay struct {
	Stage   string        `json:"stage"`
	Times   int           `json:"times"`
	Median  time.Duration `json:"median"`
	Longest time.Duration `json:"longest"`
}

// DelaysOf adds up the countersign delays by stage, the longest median first.
func DelaysOf(times []StageTime) []Delay {
	by := map[string][]time.Duration{}
	for _, t := range times {
		if t.Seconded {
			by[t.Stage] = append(by[t.Stage], t.Second)
		}
	}
	var out []Delay
	for _, stage := range sortedKeys(by) {
		out = append(out, Delay{stage, len(by[stage]), Median(by[stage]), slices.Max(by[stage])})
	}
	slices.SortStableFunc(out, func(a, b Delay) int { return cmp.Compare(b.Median, a.Median) })
	return out
}

// Words says a drift in one sentence, for a list.
func (d Drift) Words() string {
	if d.Chart == nil {
		return phrase.Of("questions.drift.too-few-for-a-chart", d.Wrench, phrase.Count("count.comparison", len(d.Points)))
	}
	return phrase.Of("questions.drift.checks-differ-by-on-average-limits-to", d.Wrench, d.Chart.Mean.FloatString(1), d.Chart.Lower.FloatString(1), d.Chart.Upper.FloatString(1), len(d.Chart.Beyond), len(d.Points))
}
