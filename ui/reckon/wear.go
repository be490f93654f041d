package reckon

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

var sourceWear = phrase.Of("reckon.wear.linear-wear-common-practice-no-source")

func wearQuestion() *Question {
	var limitTo, uncertainty, after quantity.Quantity
	c := &Question{
		Use:     "wear KM=MM …",
		Short:   phrase.Of("reckon.wear.how-far-a-part-goes-until-its"),
		Example: "  pawl reckon wear --limit 2.0 --uncertainty 0.2 42180=11.5 61430=7.9",
		Long:    phrase.Of("reckon.wear.how-far-a-part-goes-until-its-2"),
		Args: func(path string, args []string) error {
			if len(args) == 0 {
				return wrong("visits", "%s", phrase.Of("reckon.wear.takes-at-least-one-visit-written-km", path))
			}
			return nil
		},
	}
	c.Flags().Var(quantityFlag{&limitTo, quantity.Millimetre}, "limit", phrase.Of("reckon.wear.smallest-thickness"))
	c.Flags().Var(quantityFlag{&uncertainty, quantity.Millimetre}, "uncertainty", phrase.Of("reckon.wear.expanded-uncertainty-of-each-thickness"))
	c.Flags().Var(quantityFlag{&after, quantity.Kilometre}, "after", phrase.Of("reckon.wear.distance-for-which-the-thickness-is-expected"))
	c.Needed = []string{"limit"}
	return c.answers(func(args []string) (Answer, error) { return wear(args, limitTo, uncertainty, after) })
}

// pair cuts "X=Y" and reads both sides.
func pair(text string, xUnit, yUnit quantity.Unit, example string) (x, y quantity.Quantity, err error) {
	left, right, ok := strings.Cut(text, "=")
	if !ok {
		return x, y, phrase.Error("reckon.wear.expected-a-pair-such-as", text, example)
	}
	if x, err = quantity.Parse(left, xUnit); err != nil {
		return x, y, fmt.Errorf("%q: %w", text, err)
	}
	if y, err = quantity.Parse(right, yUnit); err != nil {
		return x, y, fmt.Errorf("%q: %w", text, err)
	}
	return x, y, nil
}

// visit reads "61430=7.9", with new: before it when the part had been renewed.
func visit(text string) (brakes.Visit, error) {
	rest, renewed := strings.CutPrefix(text, "new:")
	km, mm, err := pair(rest, quantity.Kilometre, quantity.Millimetre, "61430=7.9")
	return brakes.Visit{Thickness: mm, Odometer: km, Renewed: renewed}, err
}

func wear(args []string, limitTo, uncertainty, after quantity.Quantity) (Answer, error) {
	a := Answer{Source: []string{sourceWear}}
	g := Grid{Keys: []string{"odometer", "thickness", "renewed"}, Titles: []string{phrase.Of("reckon.wear.odometer"), phrase.Of("reckon.wear.thickness"), phrase.Of("reckon.wear.renewed")}}
	var visits []brakes.Visit
	for _, text := range args {
		v, err := visit(text)
		if err != nil {
			return Answer{}, wrong("visits", "%w", err)
		}
		v.Uncertainty = uncertainty
		visits = append(visits, v)
		g.Lines = append(g.Lines, []any{v.Odometer, v.Thickness, v.Renewed})
	}
	a.Given.add("limit", phrase.Of("reckon.wear.limit"), limitTo)
	a.Given.add("uncertainty", phrase.Of("reckon.wear.uncertainty-of-each"), uncertainty)
	a.Given.add("visits", phrase.Of("reckon.wear.visits"), g)
	f, err := brakes.ForecastWear(visits, limitTo)
	var none *brakes.NoForecast
	if errors.As(err, &none) {
		a.Result.add("forecast", phrase.Of("reckon.wear.forecast"), false)
		a.Result.add("reason", phrase.Of("reckon.wear.reason"), string(none.Reason))
		a.Say = []string{phrase.Of("reckon.wear.no-forecast", none.Text)}
		a.Picture = wearLine(visits, limitTo, nil)
		return a, nil
	}
	if err != nil {
		return Answer{}, err
	}
	a.Picture = wearLine(visits, limitTo, &f)
	a.Result.add("forecast", phrase.Of("reckon.wear.forecast"), true)
	a.Result.add("rate", phrase.Of("reckon.wear.wear-per-1000-km"), quantity.FromRat(f.Rate, quantity.Millimetre, 4))
	a.Result.add("cautious_rate", phrase.Of("reckon.wear.the-same-cautiously"), quantity.FromRat(f.CautiousRate, quantity.Millimetre, 4))
	a.Result.add("remaining", phrase.Of("reckon.wear.to-the-limit"), wholeKilometres(f.Remaining))
	a.Result.add("cautious_remaining", phrase.Of("reckon.wear.to-the-limit-cautiously"), wholeKilometres(f.CautiousRemaining))
	a.Result.add("last_interval", phrase.Of("reckon.wear.rate-of-the-last-interval"), f.LastInterval)
	if f.Trend != nil {
		a.Result.add("trend_remaining", phrase.Of("reckon.wear.by-the-line-of-all-visits"), approx(f.Trend.Remaining, quantity.Kilometre, 0))
		a.Result.add("trend_cautious", phrase.Of("reckon.wear.by-its-lower-band"), approx(f.Trend.CautiousRemaining, quantity.Kilometre, 0))
		a.Source = append(a.Source, sourceLine)
	}
	if !after.IsZero() {
		plainly, cautious, err := f.After(after)
		if err != nil {
			return Answer{}, err
		}
		a.Given.add("after", phrase.Of("reckon.wear.expected-after"), after)
		a.Result.add("expected", phrase.Of("reckon.wear.thickness-expected-then"), quantity.FromRat(plainly, quantity.Millimetre, 2))
		a.Result.add("expected_cautious", phrase.Of("reckon.wear.the-same-cautiously"), quantity.FromRat(cautious, quantity.Millimetre, 2))
	}
	a.Result.add("advice", phrase.Of("reckon.wear.for-the-customer"), f.Advice())
	a.Say = []string{phrase.Of("reckon.wear.to-plainly-cautiously-advise-on-the-cautious", limitTo, brakes.TwoFigures(f.Remaining), brakes.TwoFigures(f.CautiousRemaining))}
	return a, nil
}

// wearLine is the picture of visits; where no forecast can be made it has none.
func wearLine(visits []brakes.Visit, limitTo quantity.Quantity, f *brakes.Forecast) WearLine {
	line := WearLine{Limit: limitTo}
	for _, v := range visits {
		if v.Renewed {
			line.Visits = nil
		}
		v.Odometer = inUnit(quantity.Kilometre, v.Odometer)[0]
		v.Thickness = inUnit(quantity.Millimetre, v.Thickness)[0]
		line.Visits = append(line.Visits, v)
	}
	if f == nil || len(line.Visits) == 0 {
		return line
	}
	last := line.Visits[len(line.Visits)-1].Odometer
	at := func(further *big.Rat) quantity.Quantity {
		return wholeKilometres(new(big.Rat).Add(last.Rat(), further))
	}
	line.Soonest, line.Latest = at(f.CautiousRemaining), at(f.Remaining)
	return line
}

func wholeKilometres(r *big.Rat) quantity.Quantity {
	down := new(big.Int).Quo(r.Num(), r.Denom())
	return quantity.FromRat(new(big.Rat).SetInt(down), quantity.Kilometre, 0)
}

var sourceLine = phrase.Of("reckon.wear.least-squares-nist-sematech-e-handbook-4")

func regressQuestion() *Question {
	var at, confidence string
	c := &Question{
		Use:     "regress X=Y …",
		Short:   phrase.Of("reckon.wear.a-straight-line-through-points-by-least"),
		Example: "  pawl reckon regress 0.2=0.1 337.4=338.8 118.2=118.1",
		Long:    phrase.Of("reckon.wear.a-straight-line-through-three-or-more"),
		Args:    func(string, []string) error { return nil }, // too few points are refused with the line
	}
	c.Flags().StringVar(&at, "at", "", phrase.Of("reckon.wear.x-at-which-the-line-is-read"))
	c.Flags().StringVar(&confidence, "confidence", "0.95", phrase.Of("reckon.wear.of-the-lower-bound-one-sided"))
	return c.answers(func(args []string) (Answer, error) { return regress(args, at, confidence) })
}

func regress(args []string, at, confidence string) (Answer, error) {
	var xs, ys []*big.Rat
	g := Grid{Keys: []string{"x", "y"}, Titles: []string{"X", "Y"}}
	for _, text := range args {
		x, y, err := pair(text, quantity.Count, quantity.Count, "337.4=338.8")
		if err != nil {
			return Answer{}, wrong("points", "%w", err)
		}
		if x.Unit != quantity.Count || y.Unit != quantity.Count {
			return Answer{}, wrong("points", "%s", phrase.Of("reckon.wear.carries-a-unit-expected-bare-numbers", text))
		}
		xs, ys = append(xs, x.Rat()), append(ys, y.Rat())
		g.Lines = append(g.Lines, []any{x.Number, y.Number})
	}
	line, err := brakes.Line(xs, ys)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Source: []string{sourceLine}}
	a.Given.add("points", phrase.Of("reckon.wear.points"), g)
	a.Result.add("n", phrase.Of("reckon.wear.number-of-points"), line.N)
	intercept, _ := line.Intercept.Float64()
	slope, _ := line.Slope.Float64()
	for _, x := range []struct {
		key, title string
		value      float64
	}{
		{"intercept", phrase.Of("reckon.wear.intercept"), intercept}, {"intercept_sd", phrase.Of("reckon.wear.its-deviation"), line.InterceptSD},
		{"slope", phrase.Of("reckon.wear.slope"), slope}, {"slope_sd", phrase.Of("reckon.wear.its-deviation"), line.SlopeSD},
		{"residual_sd", phrase.Of("reckon.wear.residual-deviation"), line.ResidualSD}, {"r_squared", phrase.Of("reckon.wear.r-squared"), line.RSquared},
	} {
		a.Result.add(x.key, x.title, fmt.Sprintf("%.15g", x.value))
	}
	a.Result.add("intercept_exact", phrase.Of("reckon.wear.intercept-exact"), line.Intercept.RatString())
	a.Result.add("slope_exact", phrase.Of("reckon.wear.slope-exact"), line.Slope.RatString())
	a.Say = []string{phrase.Of("reckon.wear.the-line-is-y-x", intercept, slope)}
	if at == "" {
		return a, nil
	}
	x, err := quantity.Parse(at, quantity.Count)
	if err != nil {
		return Answer{}, wrong("at", "%w", phrase.Error("reckon.wear.at", err))
	}
	sure, err := quantity.Parse(confidence, quantity.Count)
	if err != nil || sure.Float() <= 0 || sure.Float() >= 1 {
		return Answer{}, wrong("confidence", "%s", phrase.Of("reckon.wear.confidence-expected-a-number-between-0-and", confidence))
	}
	y, _ := line.At(x.Rat()).Float64()
	a.Given.add("at", phrase.Of("reckon.wear.read-at"), x.Number)
	a.Result.add("at", phrase.Of("reckon.wear.the-line-there"), fmt.Sprintf("%.15g", y))
	a.Result.add("below_at", phrase.Of("reckon.wear.lower-prediction-bound"), fmt.Sprintf("%.15g", line.Below(x.Float(), sure.Float())))
	return a, nil
}
