package reckon

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
)

const sourceWear = "linear wear, common practice, no source; uncertainty of a difference by JCGM 100:2008 5.1.2"

func wearQuestion() *Question {
	var limitTo, uncertainty, after quantity.Quantity
	c := &Question{
		Use:     "wear KM=MM …",
		Short:   "How far a part goes until its limit, from two or more visits",
		Example: "  pawl reckon wear --limit 2.0 --uncertainty 0.2 42180=11.5 61430=7.9",
		Long: `How far a part goes until its limit, plainly and cautiously, from the thinnest
point at two or more visits, oldest first. A visit at which the part had been
renewed begins with new: new:42180=11.5. When no forecast can be made the answer
says why.

Result: forecast, false when none can be made; reason; rate and cautious_rate in
mm per 1000 km; remaining and cautious_remaining; last_interval when the last
interval wore faster and was used; trend_remaining and trend_cautious, a line
through three or more visits and its lower prediction band (95 %, one-sided);
expected and expected_cautious with --after; advice, what a customer is told.`,
		Args: func(path string, args []string) error {
			if len(args) == 0 {
				return wrong("visits", "%s takes at least one visit, written KM=MM such as 61430=7.9", path)
			}
			return nil
		},
	}
	c.Flags().Var(quantityFlag{&limitTo, quantity.Millimetre}, "limit", "smallest thickness")
	c.Flags().Var(quantityFlag{&uncertainty, quantity.Millimetre}, "uncertainty", "expanded uncertainty of each thickness")
	c.Flags().Var(quantityFlag{&after, quantity.Kilometre}, "after", "distance for which the thickness is expected")
	c.Needed = []string{"limit"}
	return c.answers(func(args []string) (Answer, error) { return wear(args, limitTo, uncertainty, after) })
}

// pair cuts "X=Y" and reads both sides.
func pair(text string, xUnit, yUnit quantity.Unit, example string) (x, y quantity.Quantity, err error) {
	left, right, ok := strings.Cut(text, "=")
	if !ok {
		return x, y, fmt.Errorf("%q; expected a pair such as %s", text, example)
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
	g := Grid{Keys: []string{"odometer", "thickness", "renewed"}, Titles: []string{"Odometer", "Thickness", "Renewed"}}
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
	a.Given.add("limit", "Limit", limitTo)
	a.Given.add("uncertainty", "Uncertainty of each", uncertainty)
	a.Given.add("visits", "Visits", g)
	f, err := brakes.ForecastWear(visits, limitTo)
	var none *brakes.NoForecast
	if errors.As(err, &none) {
		a.Result.add("forecast", "Forecast", false)
		a.Result.add("reason", "Reason", string(none.Reason))
		a.Say = []string{"No forecast: " + none.Text}
		a.Picture = wearLine(visits, limitTo, nil)
		return a, nil
	}
	if err != nil {
		return Answer{}, err
	}
	a.Picture = wearLine(visits, limitTo, &f)
	a.Result.add("forecast", "Forecast", true)
	a.Result.add("rate", "Wear per 1000 km", quantity.FromRat(f.Rate, quantity.Millimetre, 4))
	a.Result.add("cautious_rate", "The same, cautiously", quantity.FromRat(f.CautiousRate, quantity.Millimetre, 4))
	a.Result.add("remaining", "To the limit", wholeKilometres(f.Remaining))
	a.Result.add("cautious_remaining", "To the limit, cautiously", wholeKilometres(f.CautiousRemaining))
	a.Result.add("last_interval", "Rate of the last interval", f.LastInterval)
	if f.Trend != nil {
		a.Result.add("trend_remaining", "By the line of all visits", approx(f.Trend.Remaining, quantity.Kilometre, 0))
		a.Result.add("trend_cautious", "By its lower band", approx(f.Trend.CautiousRemaining, quantity.Kilometre, 0))
		a.Source = append(a.Source, sourceLine)
	}
	if !after.IsZero() {
		plainly, cautious, err := f.After(after)
		if err != nil {
			return Answer{}, err
		}
		a.Given.add("after", "Expected after", after)
		a.Result.add("expected", "Thickness expected then", quantity.FromRat(plainly, quantity.Millimetre, 2))
		a.Result.add("expected_cautious", "The same, cautiously", quantity.FromRat(cautious, quantity.Millimetre, 2))
	}
	a.Result.add("advice", "For the customer", f.Advice())
	a.Say = []string{fmt.Sprintf("To %s: %s plainly, %s cautiously; advise on the cautious one", limitTo, brakes.TwoFigures(f.Remaining), brakes.TwoFigures(f.CautiousRemaining))}
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

const sourceLine = "least squares, NIST/SEMATECH e-Handbook 4.1.4.1; prediction band 4.5.1.2"

func regressQuestion() *Question {
	var at, confidence string
	c := &Question{
		Use:     "regress X=Y …",
		Short:   "A straight line through points, by least squares",
		Example: "  pawl reckon regress 0.2=0.1 337.4=338.8 118.2=118.1",
		Long: `A straight line through three or more points, by least squares; sums are exact.

Result: n, intercept, slope with intercept_sd and slope_sd, residual_sd,
r_squared; at and below_at with --at, the line there and the lower bound of the
prediction band (--confidence, one-sided). Figures are strings with 15
significant digits; intercept_exact and slope_exact are fractions.`,
		Args: func(string, []string) error { return nil }, // too few points are refused with the line
	}
	c.Flags().StringVar(&at, "at", "", "X at which the line is read")
	c.Flags().StringVar(&confidence, "confidence", "0.95", "of the lower bound, one-sided")
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
			return Answer{}, wrong("points", "%q carries a unit; expected bare numbers", text)
		}
		xs, ys = append(xs, x.Rat()), append(ys, y.Rat())
		g.Lines = append(g.Lines, []any{x.Number, y.Number})
	}
	line, err := brakes.Line(xs, ys)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Source: []string{sourceLine}}
	a.Given.add("points", "Points", g)
	a.Result.add("n", "Number of points", line.N)
	intercept, _ := line.Intercept.Float64()
	slope, _ := line.Slope.Float64()
	for _, x := range []struct {
		key, title string
		value      float64
	}{
		{"intercept", "Intercept", intercept}, {"intercept_sd", "its deviation", line.InterceptSD},
		{"slope", "Slope", slope}, {"slope_sd", "its deviation", line.SlopeSD},
		{"residual_sd", "Residual deviation", line.ResidualSD}, {"r_squared", "R squared", line.RSquared},
	} {
		a.Result.add(x.key, x.title, fmt.Sprintf("%.15g", x.value))
	}
	a.Result.add("intercept_exact", "Intercept, exact", line.Intercept.RatString())
	a.Result.add("slope_exact", "Slope, exact", line.Slope.RatString())
	a.Say = []string{fmt.Sprintf("The line is y = %.6g + %.6g · x", intercept, slope)}
	if at == "" {
		return a, nil
	}
	x, err := quantity.Parse(at, quantity.Count)
	if err != nil {
		return Answer{}, wrong("at", "--at: %w", err)
	}
	sure, err := quantity.Parse(confidence, quantity.Count)
	if err != nil || sure.Float() <= 0 || sure.Float() >= 1 {
		return Answer{}, wrong("confidence", "--confidence %q; expected a number between 0 and 1 such as 0.95", confidence)
	}
	y, _ := line.At(x.Rat()).Float64()
	a.Given.add("at", "Read at", x.Number)
	a.Result.add("at", "The line there", fmt.Sprintf("%.15g", y))
	a.Result.add("below_at", "Lower prediction bound", fmt.Sprintf("%.15g", line.Below(x.Float(), sure.Float())))
	return a, nil
}
