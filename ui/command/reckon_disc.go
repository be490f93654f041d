package command

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
)

func (p *Program) discCommand() *cobra.Command {
	var d discQuestion
	c := &cobra.Command{
		Use:   "disc",
		Short: "Thickness, variation and taper of a disc from its points",
		Example: "  pawl reckon disc --min 16.00 --refit 16.50 --variation 0.015 --resolution 0.001 --uncertainty 0.004 \\\n" +
			"    --points 16.421,16.415,16.418,16.427,16.436,16.441,16.433,16.426",
		Long: `The figures of a disc from points round one radius, held against its limits, and
what a careful colleague would ask about the points. With --nominal the first
point is also held against the size of a new part.

Result: minimum and minimum_at; mean; variation; taper with --inner; verdicts
minimum_verdict, refit_verdict, variation_verdict; new_part; oddities, each with
code, point, text and refused.`,
		Args: cobra.NoArgs,
	}
	f := c.Flags()
	f.Var(listFlag{&d.readings.Points, quantity.Millimetre}, "points", "thickness points in the order taken")
	f.Var(listFlag{&d.readings.Inner, quantity.Millimetre}, "inner", "points near the inner radius, for the taper")
	f.Var(quantityFlag{&d.min, quantity.Millimetre}, "min", "smallest thickness in service")
	f.Var(quantityFlag{&d.refit, quantity.Millimetre}, "refit", "smallest thickness of a disc that goes back on")
	f.Var(quantityFlag{&d.variation, quantity.Millimetre}, "variation", "most thickness variation")
	f.Var(windowFlag{&d.spec.Nominal}, "nominal", "size of a new disc, such as '18.00 ± 0.10 mm'")
	f.Var(quantityFlag{&d.previous, quantity.Millimetre}, "previous", "thinnest point at the last visit")
	f.Var(quantityFlag{&d.instrument.Resolution, quantity.Millimetre}, "resolution", "smallest step of the instrument")
	f.Var(quantityFlag{&d.instrument.Uncertainty, quantity.Millimetre}, "uncertainty", "expanded uncertainty of one reading")
	f.BoolVar(&d.used, "used", false, "the disc has run")
	needed(c, "points")
	return p.reckon(c, func([]string) (answer, error) { return d.answer() })
}

type discQuestion struct {
	readings              brakes.DiscReadings
	spec                  brakes.DiscSpec
	min, refit, variation quantity.Quantity
	previous              quantity.Quantity
	instrument            brakes.Instrument
	used                  bool
}

// limit makes a one-sided window of a figure.
func limit(sign string, q quantity.Quantity) (quantity.Window, error) {
	if q.IsZero() {
		return quantity.Window{}, nil
	}
	return quantity.ParseWindow(sign + " " + q.String())
}

func (d discQuestion) answer() (answer, error) {
	var err1, err2, err3 error
	d.spec.Minimum, err1 = limit(">=", d.min)
	d.spec.Refit, err2 = limit(">=", d.refit)
	d.spec.Variation, err3 = limit("<=", d.variation)
	if err := errors.Join(err1, err2, err3); err != nil {
		return answer{}, err
	}
	d.spec.Points = min(8, len(d.readings.Points)) // fewer than eight is this question's own choice
	figures, err := d.readings.Figures()
	if err != nil {
		return answer{}, err
	}
	verdicts, err := d.spec.Judge(figures, d.instrument)
	if err != nil {
		return answer{}, err
	}
	odd, err := d.readings.Oddities(brakes.DiscContext{Spec: d.spec, Instrument: d.instrument, Used: d.used, Previous: d.previous})
	if err != nil {
		return answer{}, err
	}
	a := answer{source: []string{sourceGuard, "thresholds of the questions: common practice, no source"}}
	a.given.add("points", "Points", quantities(d.readings.Points))
	a.given.add("min", "Smallest in service", d.min)
	a.given.add("refit", "Smallest to go back on", d.refit)
	a.given.add("variation", "Most variation", d.variation)
	a.given.add("uncertainty", "Uncertainty of a reading", d.instrument.Uncertainty)
	a.result.add("minimum", "Thinnest", figures.Minimum)
	a.result.add("minimum_at", "At point", figures.MinimumAt)
	a.result.add("mean", "Mean", quantity.FromRat(figures.Mean, quantity.Millimetre, 4))
	a.result.add("variation", "Thickness variation", figures.Variation)
	taper := quantity.Quantity{}
	if figures.Taper != nil {
		taper = quantity.FromRat(figures.Taper, quantity.Millimetre, 4)
	}
	a.result.add("taper", "Taper, outer less inner", taper)
	a.result.add("minimum_verdict", "Against the smallest", verdicts.Minimum.String())
	a.result.add("refit_verdict", "Against going back on", verdicts.Refit.String())
	a.result.add("variation_verdict", "Against the variation", verdicts.Variation.String())
	a.say = append(a.say, verdicts.Reasons...)
	if err := a.newPart(d); err != nil {
		return answer{}, err
	}
	a.oddities(odd)
	if len(a.say) == 0 {
		a.say = []string{"Nothing speaks against it"}
	}
	return a, nil
}

// newPart holds the first point against the size of a part out of the box.
func (a *answer) newPart(d discQuestion) error {
	if d.spec.Nominal.IsZero() {
		a.result.add("new_part", "Against a new disc", "")
		return nil
	}
	a.given.add("nominal", "Size of a new disc", d.spec.Nominal.String())
	part, err := brakes.CheckNewPart("thickness", d.spec.Nominal, d.readings.Points[0], d.instrument.Uncertainty, d.min)
	if err != nil {
		return err
	}
	a.result.add("new_part", "Against a new disc", part.Verdict.String())
	a.say = append(a.say, part.Text)
	return nil
}

// oddities lists what is doubted about readings.
func (a *answer) oddities(odd []brakes.Oddity) {
	g := grid{keys: []string{"point", "code", "refused", "text"}, titles: []string{"Point", "Kind", "Refused", "Question"}}
	for _, o := range odd {
		g.lines = append(g.lines, []any{o.Point, string(o.Code), o.Refused, o.Text})
		a.say = append(a.say, o.Text)
	}
	if len(g.lines) > 0 {
		a.result.add("oddities", "Questions about the readings", oddityGrid(g))
		return
	}
	a.result.add("oddities", "Questions about the readings", []string{})
}

// oddityGrid is a grid whose sentences stand below anyway: in text only their kind and place are
// listed.
type oddityGrid grid

// String names the kinds and places.
func (g oddityGrid) String() string {
	s := ""
	for i, line := range g.lines {
		if i > 0 {
			s += ", "
		}
		s += words(line[1])
		if at, ok := line[0].(int); ok && at > 0 {
			s += fmt.Sprintf(" at point %d", at)
		}
	}
	return s
}

// MarshalJSON writes the whole list.
func (g oddityGrid) MarshalJSON() ([]byte, error) {
	r := rows{{"oddities", "", grid(g)}}
	return marshal(r.object()[0].value)
}
