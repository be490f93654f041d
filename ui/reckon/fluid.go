package reckon

import (
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

func fluidQuestion() *Question {
	var required, offered string
	var boiling quantity.Quantity
	limits := brakes.DemoBoilingLimits()
	c := &Question{
		Use:     "fluid",
		Short:   phrase.Of("reckon.fluid.may-this-brake-fluid-go-in-and"),
		Example: "  pawl reckon fluid --required 'DOT 4' --offered 'DOT 5.1' --boiling 168",
		Long:    phrase.Of("reckon.fluid.the-class-of-brake-fluid-offered-against"),
	}
	c.Flags().StringVar(&required, "required", "", phrase.Of("reckon.fluid.class-on-the-cap-such-as-dot"))
	c.Flags().StringVar(&offered, "offered", "", phrase.Of("reckon.fluid.class-on-the-bottle"))
	c.Flags().Var(quantityFlag{&boiling, quantity.Celsius}, "boiling", phrase.Of("reckon.fluid.boiling-point-measured"))
	c.Flags().Var(quantityFlag{&limits.Now, quantity.Celsius}, "now", phrase.Of("reckon.fluid.below-it-is-renewed-now"))
	c.Flags().Var(quantityFlag{&limits.Soon, quantity.Celsius}, "soon", phrase.Of("reckon.fluid.below-it-is-renewed-soon"))
	c.Needed = []string{"required", "offered"}
	return c.answers(func([]string) (Answer, error) {
		want, err := brakes.ParseFluidClass(required)
		if err != nil {
			return Answer{}, wrong("required", "%w", phrase.Error("reckon.fluid.required", err))
		}
		have, err := brakes.ParseFluidClass(offered)
		if err != nil {
			return Answer{}, wrong("offered", "%w", phrase.Error("reckon.fluid.offered", err))
		}
		offer, err := brakes.OfferFluid(want, have)
		if err != nil {
			return Answer{}, err
		}
		a := Answer{Source: []string{phrase.Of("reckon.fluid.least-boiling-points-and-viscosities-of-49")}}
		a.Given.add("required", phrase.Of("reckon.fluid.required-2"), want.Name)
		a.Given.add("offered", phrase.Of("reckon.fluid.offered-2"), have.Name)
		a.Result.add("accepted", phrase.Of("reckon.fluid.may-go-in"), offer.Accepted)
		a.Result.add("why", phrase.Of("reckon.fluid.because"), offer.Why)
		verdict := phrase.Of("reckon.fluid.refused")
		if offer.Accepted {
			verdict = phrase.Of("reckon.fluid.may-go-in-2")
		}
		a.Say = []string{phrase.Of("reckon.fluid.where-is-required", have.Name, want.Name, verdict, offer.Why)}
		if boiling.IsZero() {
			return a, nil
		}
		state, odd, err := brakes.JudgeBoiling(boiling, limits)
		if err != nil {
			return Answer{}, err
		}
		a.Given.add("boiling", phrase.Of("reckon.fluid.boiling-point"), boiling)
		a.Given.add("now", phrase.Of("reckon.fluid.renewed-now-below"), limits.Now)
		a.Given.add("soon", phrase.Of("reckon.fluid.renewed-soon-below"), limits.Soon)
		a.Result.add("state", phrase.Of("reckon.fluid.fluid-in-the-vehicle"), string(state))
		a.Say = append(a.Say, phrase.Of("reckon.fluid.fluid-that-boils-at", boiling, state))
		a.oddities(odd)
		return a, nil
	})
}
