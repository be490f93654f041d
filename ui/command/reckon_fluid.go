package command

import (
	"fmt"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
)

func (p *Program) fluidCommand() *cobra.Command {
	var required, offered string
	var boiling quantity.Quantity
	limits := brakes.DemoBoilingLimits()
	c := &cobra.Command{
		Use:     "fluid",
		Short:   "May this brake fluid go in, and must the old one come out?",
		Example: "  pawl reckon fluid --required 'DOT 4' --offered 'DOT 5.1' --boiling 168",
		Long: `The class of brake fluid offered against the class on the cap: same family,
boiling points not lower, viscosity not worse. The vehicle data must allow
another class all the same. --boiling judges a measured boiling point; the limits
are demo values unless --now and --soon give others.

Result: accepted; why; state with --boiling: "good", "renew soon", "renew now" or
"unread".`,
		Args: cobra.NoArgs,
	}
	c.Flags().StringVar(&required, "required", "", "class on the cap, such as 'DOT 4'")
	c.Flags().StringVar(&offered, "offered", "", "class on the bottle")
	c.Flags().Var(quantityFlag{&boiling, quantity.Celsius}, "boiling", "boiling point measured")
	c.Flags().Var(quantityFlag{&limits.Now, quantity.Celsius}, "now", "below it is renewed now")
	c.Flags().Var(quantityFlag{&limits.Soon, quantity.Celsius}, "soon", "below it is renewed soon")
	needed(c, "required", "offered")
	return p.reckon(c, func([]string) (answer, error) {
		want, err := brakes.ParseFluidClass(required)
		if err != nil {
			return answer{}, fmt.Errorf("--required: %w", err)
		}
		have, err := brakes.ParseFluidClass(offered)
		if err != nil {
			return answer{}, fmt.Errorf("--offered: %w", err)
		}
		offer, err := brakes.OfferFluid(want, have)
		if err != nil {
			return answer{}, err
		}
		a := answer{source: []string{"least boiling points and viscosities of 49 CFR 571.116; silicone and glycol are not mixed"}}
		a.given.add("required", "Required", want.Name)
		a.given.add("offered", "Offered", have.Name)
		a.result.add("accepted", "May go in", offer.Accepted)
		a.result.add("why", "Because", offer.Why)
		verdict := "refused"
		if offer.Accepted {
			verdict = "may go in"
		}
		a.say = []string{fmt.Sprintf("%s where %s is required: %s, %s", have.Name, want.Name, verdict, offer.Why)}
		if boiling.IsZero() {
			return a, nil
		}
		state, odd, err := brakes.JudgeBoiling(boiling, limits)
		if err != nil {
			return answer{}, err
		}
		a.given.add("boiling", "Boiling point", boiling)
		a.given.add("now", "Renewed now below", limits.Now)
		a.given.add("soon", "Renewed soon below", limits.Soon)
		a.result.add("state", "Fluid in the vehicle", string(state))
		a.say = append(a.say, fmt.Sprintf("Fluid that boils at %s: %s", boiling, state))
		a.oddities(odd)
		return a, nil
	})
}
