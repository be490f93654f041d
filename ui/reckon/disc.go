package reckon

import (
	"errors"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

func discQuestion() *Question {
	var d discInputs
	c := &Question{
		Use:   "disc",
		Short: phrase.Of("reckon.disc.thickness-variation-and-taper-of-a-disc"),
		Example: phrase.Of("reckon.disc.pawl-reckon-disc-min-16-00-refit") +
			phrase.Of("reckon.disc.points-16-421-16-415-16-418"),
		Long: phrase.Of("reckon.disc.the-figures-of-a-disc-from-points"),
	}
	f := c.Flags()
	f.Var(listFlag{&d.readings.Points, quantity.Millimetre}, "points", phrase.Of("reckon.disc.thickness-points-in-the-order-taken"))
	f.Var(listFlag{&d.readings.Inner, quantity.Millimetre}, "inner", phrase.Of("reckon.disc.points-near-the-inner-radius-for-the"))
	f.Var(quantityFlag{&d.min, quantity.Millimetre}, "min", phrase.Of("reckon.disc.smallest-thickness-in-service"))
	f.Var(quantityFlag{&d.refit, quantity.Millimetre}, "refit", phrase.Of("reckon.disc.smallest-thickness-of-a-disc-that-goes"))
	f.Var(quantityFlag{&d.variation, quantity.Millimetre}, "variation", phrase.Of("reckon.disc.most-thickness-variation"))
	f.Var(windowFlag{&d.spec.Nominal}, "nominal", phrase.Of("reckon.disc.size-of-a-new-disc-such-as"))
	f.Var(quantityFlag{&d.previous, quantity.Millimetre}, "previous", phrase.Of("reckon.disc.thinnest-point-at-the-last-visit"))
	f.Var(quantityFlag{&d.instrument.Resolution, quantity.Millimetre}, "resolution", phrase.Of("reckon.disc.smallest-step-of-the-instrument"))
	f.Var(quantityFlag{&d.instrument.Uncertainty, quantity.Millimetre}, "uncertainty", phrase.Of("reckon.disc.expanded-uncertainty-of-one-reading"))
	f.BoolVar(&d.used, "used", false, phrase.Of("reckon.disc.the-disc-has-run"))
	c.Needed = []string{"points"}
	return c.answers(func([]string) (Answer, error) { return d.answer() })
}

type discInputs struct {
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

func (d discInputs) answer() (Answer, error) {
	var err1, err2, err3 error
	d.spec.Minimum, err1 = limit(">=", d.min)
	d.spec.Refit, err2 = limit(">=", d.refit)
	d.spec.Variation, err3 = limit("<=", d.variation)
	if err := errors.Join(err1, err2, err3); err != nil {
		return Answer{}, err
	}
	d.spec.Points = min(8, len(d.readings.Points)) // fewer than eight is this question's own choice
	figures, err := d.readings.Figures()
	if err != nil {
		return Answer{}, err
	}
	verdicts, err := d.spec.Judge(figures, d.instrument)
	if err != nil {
		return Answer{}, err
	}
	odd, err := d.readings.Oddities(brakes.DiscContext{Spec: d.spec, Instrument: d.instrument, Used: d.used, Previous: d.previous})
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Source: []string{sourceGuard, phrase.Of("reckon.disc.thresholds-of-the-questions-common-practice-no")}}
	a.Given.add("points", phrase.Of("reckon.disc.points"), quantities(d.readings.Points))
	a.Given.add("min", phrase.Of("reckon.disc.smallest-in-service"), d.min)
	a.Given.add("refit", phrase.Of("reckon.disc.smallest-to-go-back-on"), d.refit)
	a.Given.add("variation", phrase.Of("reckon.disc.most-variation"), d.variation)
	a.Given.add("uncertainty", phrase.Of("reckon.disc.uncertainty-of-a-reading"), d.instrument.Uncertainty)
	a.Result.add("minimum", phrase.Of("reckon.disc.thinnest"), figures.Minimum)
	a.Result.add("minimum_at", phrase.Of("reckon.disc.at-point"), figures.MinimumAt)
	a.Result.add("mean", phrase.Of("reckon.disc.mean"), quantity.FromRat(figures.Mean, quantity.Millimetre, 4))
	a.Result.add("variation", phrase.Of("reckon.disc.thickness-variation"), figures.Variation)
	a.Picture = Disc{Points: inUnit(quantity.Millimetre, d.readings.Points...), Mean: quantity.FromRat(figures.Mean, quantity.Millimetre, 3), Variation: figures.Variation, Smallest: d.min}
	taper := quantity.Quantity{}
	if figures.Taper != nil {
		taper = quantity.FromRat(figures.Taper, quantity.Millimetre, 4)
	}
	a.Result.add("taper", phrase.Of("reckon.disc.taper-outer-less-inner"), taper)
	a.Result.add("minimum_verdict", phrase.Of("reckon.disc.against-the-smallest"), verdicts.Minimum.String())
	a.Result.add("refit_verdict", phrase.Of("reckon.disc.against-going-back-on"), verdicts.Refit.String())
	a.Result.add("variation_verdict", phrase.Of("reckon.disc.against-the-variation"), verdicts.Variation.String())
	a.Say = append(a.Say, verdicts.Reasons...)
	if err := a.newPart(d); err != nil {
		return Answer{}, err
	}
	a.oddities(odd)
	if len(a.Say) == 0 {
		a.Say = []string{phrase.Of("reckon.disc.nothing-speaks-against-it")}
	}
	return a, nil
}

// newPart holds the first point against the size of a part out of the box.
func (a *Answer) newPart(d discInputs) error {
	if d.spec.Nominal.IsZero() {
		a.Result.add("new_part", phrase.Of("reckon.disc.against-a-new-disc"), "")
		return nil
	}
	a.Given.add("nominal", phrase.Of("reckon.disc.size-of-a-new-disc"), d.spec.Nominal.String())
	part, err := brakes.CheckNewPart("thickness", d.spec.Nominal, d.readings.Points[0], d.instrument.Uncertainty, d.min)
	if err != nil {
		return err
	}
	a.Result.add("new_part", phrase.Of("reckon.disc.against-a-new-disc"), part.Verdict.String())
	a.Say = append(a.Say, part.Text)
	return nil
}

// oddities lists what is doubted about readings.
func (a *Answer) oddities(odd []brakes.Oddity) {
	g := Grid{Keys: []string{"point", "code", "refused", "text"}, Titles: []string{phrase.Of("reckon.disc.point"), phrase.Of("reckon.disc.kind"), phrase.Of("reckon.disc.refused"), phrase.Of("reckon.disc.question")}}
	for i, o := range odd {
		if i > 0 {
			g.Brief += ", "
		}
		g.Brief += Words(string(o.Code))
		if o.Point > 0 {
			g.Brief += phrase.Of("reckon.disc.at-point-2", o.Point)
		}
		g.Lines = append(g.Lines, []any{o.Point, string(o.Code), o.Refused, o.Text})
		a.Say = append(a.Say, o.Text)
	}
	if len(g.Lines) > 0 {
		a.Result.add("oddities", phrase.Of("reckon.disc.questions-about-the-readings"), g)
		return
	}
	a.Result.add("oddities", phrase.Of("reckon.disc.questions-about-the-readings"), []string{})
}
