package reckon

import (
	"fmt"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
)

func fluidQuestion() *Question {
	var required, offered string
	var boiling quantity.Quantity
	limits := brakes.DemoBoilingLimits()
	c := &Question{
		Use:     "fluid",
		Short:   "May this brake fluid go in, and must the old one come out?",
		Example: "  pawl reckon fluid --required 'DOT 4' --offered 'DOT 5.1' --boiling 168",
		Long: `The class of brake fluid offered against the class on the cap: same family,
boiling points not lower, viscosity not worse. The vehicle data must allow
another class all the same. --boiling judges a measured boiling point; the limits
are demo values unless --now and --soon give others.

Result: accepted; why; state with --boiling: "good", "renew soon", "renew now" or
"unread".`,
	}
	c.Flags().StringVar(&required, "required", "", "class on the cap, such as 'DOT 4'")
	c.Flags().StringVar(&offered, "offered", "", "class on the bottle")
	c.Flags().Var(quantityFlag{&boiling, quantity.Celsius}, "boiling", "boiling point measured")
	c.Flags().Var(quantityFlag{&limits.Now, quantity.Celsius}, "now", "below it is renewed now")
	c.Flags().Var(quantityFlag{&limits.Soon, quantity.Celsius}, "soon", "below it is renewed soon")
	c.Needed = []string{"required", "offered"}
	return c.answers(func([]string) (Answer, error) {
		want, err := brakes.ParseFluidClass(required)
		if err != nil {
			return Answer{}, wrong("required", "--required: %w", err)
		}
		have, err := brakes.ParseFluidClass(offered)
		if err != nil {
			return Answer{}, wrong("offered", "--offered: %w", err)
		}
		offer, err := brakes.OfferFluid(want, have)
		if err != nil {
			return Answer{}, err
		}
		a := Answer{Source: []string{"least boiling points and viscosities of 49 CFR 571.116; silicone and glycol are not mixed"}}
		a.Given.add("required", "Required", want.Name)
		a.Given.add("offered", "Offered", have.Name)
		a.Result.add("accepted", "May go in", offer.Accepted)
		a.Result.add("why", "Because", offer.Why)
		verdict := "refused"
		if offer.Accepted {
			verdict = "may go in"
		}
		a.Say = []string{fmt.Sprintf("%s where %s is required: %s, %s", have.Name, want.Name, verdict, offer.Why)}
		if boiling.IsZero() {
			return a, nil
		}
		state, odd, err := brakes.JudgeBoiling(boiling, limits)
		if err != nil {
			return Answer{}, err
		}
		a.Given.add("boiling", "Boiling point", boiling)
		a.Given.add("now", "Renewed now below", limits.Now)
		a.Given.add("soon", "Renewed soon below", limits.Soon)
		a.Result.add("state", "Fluid in the vehicle", string(state))
		a.Say = append(a.Say, fmt.Sprintf("Fluid that boils at %s: %s", boiling, state))
		a.oddities(odd)
		return a, nil
	})
}
