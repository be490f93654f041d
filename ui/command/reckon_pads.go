package command

import (
	"fmt"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
)

func (p *Program) padsCommand() *cobra.Command {
	var inner, outer, otherInner, otherOuter []quantity.Quantity
	var side string
	var context brakes.PadContext
	t := brakes.DemoPadThresholds()
	c := &cobra.Command{
		Use:     "pads",
		Short:   "The wear pattern of the pads, its likely cause and what to look at",
		Example: "  pawl reckon pads --inner 3.1,3.0 --outer 7.4,7.5 --other-inner 6.2,6.1 --other-outer 6.4,6.3",
		Long: `The wear pattern at one caliper, and with --other-inner and --other-outer across
the axle. Each pad is its leading and its trailing end, friction only. Thresholds
are demo values of the workshop. The pattern proposes a cause; whoever looks
answers, and the foreman decides.

Result: inner, outer, difference, inner_taper, outer_taper, minimum, thinnest;
findings, each with side, pattern, text, cause, question; oddities.`,
		Args: cobra.NoArgs,
	}
	f := c.Flags()
	f.Var(listFlag{&inner, quantity.Millimetre}, "inner", "inner pad: leading, trailing end")
	f.Var(listFlag{&outer, quantity.Millimetre}, "outer", "outer pad: leading, trailing end")
	f.Var(listFlag{&otherInner, quantity.Millimetre}, "other-inner", "the same of the other side")
	f.Var(listFlag{&otherOuter, quantity.Millimetre}, "other-outer", "the same of the other side")
	f.StringVar(&side, "side", "left", "which side the first pads are: left or right, facing forward")
	f.Var(quantityFlag{&context.New, quantity.Millimetre}, "new", "friction of a new pad")
	f.Var(quantityFlag{&context.Over, quantity.Millimetre}, "over", "allowed above a new pad")
	f.Var(quantityFlag{&context.Plate, quantity.Millimetre}, "plate", "thickness of the backing plate")
	f.Var(quantityFlag{&t.InnerOuter, quantity.Millimetre}, "inner-outer", "difference asked about, inner against outer")
	f.Var(quantityFlag{&t.Taper, quantity.Millimetre}, "taper", "taper asked about")
	f.Var(quantityFlag{&t.Sides, quantity.Millimetre}, "sides", "difference asked about, side against side")
	needed(c, "inner", "outer")
	return p.reckon(c, func([]string) (answer, error) {
		pads, err := padsOf(inner, outer, "--inner", "--outer")
		if err != nil {
			return answer{}, err
		}
		other := pads // nothing to compare: both sides alike say nothing
		both := len(otherInner)+len(otherOuter) > 0
		if both {
			if other, err = padsOf(otherInner, otherOuter, "--other-inner", "--other-outer"); err != nil {
				return answer{}, err
			}
		}
		here := brakes.Side(side)
		if here != brakes.Left && here != brakes.Right {
			return answer{}, fmt.Errorf("--side %q; expected left or right, facing forward", side)
		}
		a, err := padFigures(pads, context)
		if err != nil {
			return answer{}, err
		}
		a.given = append(rows{{"side", "Side", side}}, a.given...)
		if both {
			a.given.add("other_inner", "Inner pad, other side", quantities(otherInner))
			a.given.add("other_outer", "Outer pad, other side", quantities(otherOuter))
		}
		return a, a.padFindings(pads, other, here, both, t)
	})
}

func padsOf(inner, outer []quantity.Quantity, innerFlag, outerFlag string) (brakes.Pads, error) {
	if len(inner) != 2 {
		return brakes.Pads{}, fmt.Errorf("%s has %d values; expected two, leading and trailing end", innerFlag, len(inner))
	}
	if len(outer) != 2 {
		return brakes.Pads{}, fmt.Errorf("%s has %d values; expected two, leading and trailing end", outerFlag, len(outer))
	}
	return brakes.Pads{InnerLead: inner[0], InnerTrail: inner[1], OuterLead: outer[0], OuterTrail: outer[1]}, nil
}

func padFigures(pads brakes.Pads, context brakes.PadContext) (answer, error) {
	f, err := pads.Figures()
	if err != nil {
		return answer{}, err
	}
	a := answer{source: []string{"patterns, causes and thresholds: common practice, no source"}}
	a.given.add("inner", "Inner pad", quantities{pads.InnerLead, pads.InnerTrail})
	a.given.add("outer", "Outer pad", quantities{pads.OuterLead, pads.OuterTrail})
	mm := quantity.Millimetre
	a.result.add("inner", "Inner pad, mean", quantity.FromRat(f.Inner, mm, 3))
	a.result.add("outer", "Outer pad, mean", quantity.FromRat(f.Outer, mm, 3))
	a.result.add("difference", "Outer less inner", quantity.FromRat(f.Difference, mm, 3))
	a.result.add("inner_taper", "Taper of the inner pad", quantity.FromRat(f.InnerTaper, mm, 3))
	a.result.add("outer_taper", "Taper of the outer pad", quantity.FromRat(f.OuterTaper, mm, 3))
	a.result.add("minimum", "Thinnest", f.Minimum)
	a.result.add("thinnest", "At", f.Thinnest)
	if !context.New.IsZero() || !context.Plate.IsZero() {
		odd, err := pads.Oddities(context)
		if err != nil {
			return answer{}, err
		}
		a.oddities(odd)
	}
	return a, nil
}

func (a *answer) padFindings(pads, other brakes.Pads, side brakes.Side, both bool, t brakes.PadThresholds) error {
	axle := brakes.Axle{Left: pads, Right: other}
	if side == brakes.Right {
		axle.Left, axle.Right = other, pads
	}
	findings, err := axle.Diagnose(t)
	if err != nil {
		return err
	}
	g := grid{keys: []string{"side", "pattern", "text", "cause", "question"}}
	for _, f := range findings {
		if !both && f.Side != side {
			continue // the other side only repeats this one
		}
		g.lines = append(g.lines, []any{string(f.Side), string(f.Pattern), f.Text, f.Cause, f.Question})
		a.say = append(a.say, f.Text, "Likely cause: "+f.Cause, "Answer at the decision: "+f.Question)
	}
	if len(g.lines) == 0 {
		a.say = append(a.say, "The wear is even")
	}
	a.result.add("findings", "Pattern", findingGrid(g))
	return nil
}

// findingGrid is a grid whose sentences stand below: in text only the patterns are named.
type findingGrid grid

// String names the patterns.
func (g findingGrid) String() string {
	if len(g.lines) == 0 {
		return "even"
	}
	s := ""
	for i, line := range g.lines {
		if i > 0 {
			s += ", "
		}
		s += fmt.Sprintf("%s (%s)", line[1], line[0])
	}
	return s
}

// MarshalJSON writes the whole list.
func (g findingGrid) MarshalJSON() ([]byte, error) {
	r := rows{{"findings", "", grid(g)}}
	return marshal(r.object()[0].value)
}
