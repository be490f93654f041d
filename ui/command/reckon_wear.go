package command

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
)

const sourceWear = "linear wear, common practice, no source; uncertainty of a difference by JCGM 100:2008 5.1.2"

func (p *Program) wearCommand() *cobra.Command {
	var limitTo, uncertainty, after quantity.Quantity
	c := &cobra.Command{
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
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return misused("%s takes at least one visit, written KM=MM such as 61430=7.9", c.CommandPath())
			}
			return nil
		},
	}
	c.Flags().Var(quantityFlag{&limitTo, quantity.Millimetre}, "limit", "smallest thickness")
	c.Flags().Var(quantityFlag{&uncertainty, quantity.Millimetre}, "uncertainty", "expanded uncertainty of each thickness")
	c.Flags().Var(quantityFlag{&after, quantity.Kilometre}, "after", "distance for which the thickness is expected")
	needed(c, "limit")
	return p.reckon(c, func(args []string) (answer, error) { return wear(args, limitTo, uncertainty, after) })
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

func wear(args []string, limitTo, uncertainty, after quantity.Quantity) (answer, error) {
	a := answer{source: []string{sourceWear}}
	g := grid{keys: []string{"odometer", "thickness", "renewed"}, titles: []string{"Odometer", "Thickness", "Renewed"}}
	var visits []brakes.Visit
	for _, text := range args {
		rest, renewed := strings.CutPrefix(text, "new:")
		km, mm, err := pair(rest, quantity.Kilometre, quantity.Millimetre, "61430=7.9")
		if err != nil {
			return answer{}, err
		}
		visits = append(visits, brakes.Visit{Thickness: mm, Odometer: km, Uncertainty: uncertainty, Renewed: renewed})
		g.lines = append(g.lines, []any{km, mm, renewed})
	}
	a.given.add("limit", "Limit", limitTo)
	a.given.add("uncertainty", "Uncertainty of each", uncertainty)
	a.given.add("visits", "Visits", g)
	f, err := brakes.ForecastWear(visits, limitTo)
	var none *brakes.NoForecast
	if errors.As(err, &none) {
		a.result.add("forecast", "Forecast", false)
		a.result.add("reason", "Reason", string(none.Reason))
		a.say = []string{"No forecast: " + none.Text}
		return a, nil
	}
	if err != nil {
		return answer{}, err
	}
	a.result.add("forecast", "Forecast", true)
	a.result.add("rate", "Wear per 1000 km", quantity.FromRat(f.Rate, quantity.Millimetre, 4))
	a.result.add("cautious_rate", "The same, cautiously", quantity.FromRat(f.CautiousRate, quantity.Millimetre, 4))
	a.result.add("remaining", "To the limit", wholeKilometres(f.Remaining))
	a.result.add("cautious_remaining", "To the limit, cautiously", wholeKilometres(f.CautiousRemaining))
	a.result.add("last_interval", "Rate of the last interval", f.LastInterval)
	if f.Trend != nil {
		a.result.add("trend_remaining", "By the line of all visits", approx(f.Trend.Remaining, quantity.Kilometre, 0))
		a.result.add("trend_cautious", "By its lower band", approx(f.Trend.CautiousRemaining, quantity.Kilometre, 0))
		a.source = append(a.source, sourceLine)
	}
	if !after.IsZero() {
		plainly, cautious, err := f.After(after)
		if err != nil {
			return answer{}, err
		}
		a.given.add("after", "Expected after", after)
		a.result.add("expected", "Thickness expected then", quantity.FromRat(plainly, quantity.Millimetre, 2))
		a.result.add("expected_cautious", "The same, cautiously", quantity.FromRat(cautious, quantity.Millimetre, 2))
	}
	a.result.add("advice", "For the customer", f.Advice())
	a.say = []string{fmt.Sprintf("To %s: %s plainly, %s cautiously; advise on the cautious one", limitTo, brakes.TwoFigures(f.Remaining), brakes.TwoFigures(f.CautiousRemaining))}
	return a, nil
}

func wholeKilometres(r *big.Rat) quantity.Quantity {
	down := new(big.Int).Quo(r.Num(), r.Denom())
	return quantity.FromRat(new(big.Rat).SetInt(down), quantity.Kilometre, 0)
}

const sourceLine = "least squares, NIST/SEMATECH e-Handbook 4.1.4.1; prediction band 4.5.1.2"

func (p *Program) regressCommand() *cobra.Command {
	var at, confidence string
	c := &cobra.Command{
		Use:     "regress X=Y …",
		Short:   "A straight line through points, by least squares",
		Example: "  pawl reckon regress 0.2=0.1 337.4=338.8 118.2=118.1",
		Long: `A straight line through three or more points, by least squares; sums are exact.

Result: n, intercept, slope with intercept_sd and slope_sd, residual_sd,
r_squared; at and below_at with --at, the line there and the lower bound of the
prediction band (--confidence, one-sided). Figures are strings with 15
significant digits; intercept_exact and slope_exact are fractions.`,
		Args: cobra.ArbitraryArgs,
	}
	c.Flags().StringVar(&at, "at", "", "X at which the line is read")
	c.Flags().StringVar(&confidence, "confidence", "0.95", "of the lower bound, one-sided")
	return p.reckon(c, func(args []string) (answer, error) { return regress(args, at, confidence) })
}

func regress(args []string, at, confidence string) (answer, error) {
	var xs, ys []*big.Rat
	g := grid{keys: []string{"x", "y"}, titles: []string{"X", "Y"}}
	for _, text := range args {
		x, y, err := pair(text, quantity.Count, quantity.Count, "337.4=338.8")
		if err != nil {
			return answer{}, err
		}
		if x.Unit != quantity.Count || y.Unit != quantity.Count {
			return answer{}, fmt.Errorf("%q carries a unit; expected bare numbers", text)
		}
		xs, ys = append(xs, x.Rat()), append(ys, y.Rat())
		g.lines = append(g.lines, []any{x.Number, y.Number})
	}
	line, err := brakes.Line(xs, ys)
	if err != nil {
		return answer{}, err
	}
	a := answer{source: []string{sourceLine}}
	a.given.add("points", "Points", g)
	a.result.add("n", "Number of points", line.N)
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
		a.result.add(x.key, x.title, fmt.Sprintf("%.15g", x.value))
	}
	a.result.add("intercept_exact", "Intercept, exact", line.Intercept.RatString())
	a.result.add("slope_exact", "Slope, exact", line.Slope.RatString())
	a.say = []string{fmt.Sprintf("The line is y = %.6g + %.6g · x", intercept, slope)}
	if at == "" {
		return a, nil
	}
	x, err := quantity.Parse(at, quantity.Count)
	if err != nil {
		return answer{}, fmt.Errorf("--at: %w", err)
	}
	sure, err := quantity.Parse(confidence, quantity.Count)
	if err != nil || sure.Float() <= 0 || sure.Float() >= 1 {
		return answer{}, fmt.Errorf("--confidence %q; expected a number between 0 and 1 such as 0.95", confidence)
	}
	y, _ := line.At(x.Rat()).Float64()
	a.given.add("at", "Read at", x.Number)
	a.result.add("at", "The line there", fmt.Sprintf("%.15g", y))
	a.result.add("below_at", "Lower prediction bound", fmt.Sprintf("%.15g", line.Below(x.Float(), sure.Float())))
	return a, nil
}
