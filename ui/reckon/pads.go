package reckon

import (
	"fmt"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

func padsQuestion() *Question {
	var inner, outer, otherInner, otherOuter []quantity.Quantity
	var side string
	var context brakes.PadContext
	t := brakes.DemoPadThresholds()
	c := &Question{
		Use:     "pads",
		Short:   phrase.Of("reckon.pads.the-wear-pattern-of-the-pads-its"),
		Example: "  pawl reckon pads --inner 3.1,3.0 --outer 7.4,7.5 --other-inner 6.2,6.1 --other-outer 6.4,6.3",
		Long:    phrase.Of("reckon.pads.the-wear-pattern-at-one-caliper-and"),
	}
	f := c.Flags()
	f.Var(listFlag{&inner, quantity.Millimetre}, "inner", phrase.Of("reckon.pads.inner-pad-leading-trailing-end"))
	f.Var(listFlag{&outer, quantity.Millimetre}, "outer", phrase.Of("reckon.pads.outer-pad-leading-trailing-end"))
	f.Var(listFlag{&otherInner, quantity.Millimetre}, "other-inner", phrase.Of("reckon.pads.the-same-of-the-other-side"))
	f.Var(listFlag{&otherOuter, quantity.Millimetre}, "other-outer", phrase.Of("reckon.pads.the-same-of-the-other-side"))
	f.StringVar(&side, "side", "left", phrase.Of("reckon.pads.which-side-the-first-pads-are-left"))
	f.Var(quantityFlag{&context.New, quantity.Millimetre}, "new", phrase.Of("reckon.pads.friction-of-a-new-pad"))
	f.Var(quantityFlag{&context.Over, quantity.Millimetre}, "over", phrase.Of("reckon.pads.allowed-above-a-new-pad"))
	f.Var(quantityFlag{&context.Plate, quantity.Millimetre}, "plate", phrase.Of("reckon.pads.thickness-of-the-backing-plate"))
	f.Var(quantityFlag{&t.InnerOuter, quantity.Millimetre}, "inner-outer", phrase.Of("reckon.pads.difference-asked-about-inner-against-outer"))
	f.Var(quantityFlag{&t.Taper, quantity.Millimetre}, "taper", phrase.Of("reckon.pads.taper-asked-about"))
	f.Var(quantityFlag{&t.Sides, quantity.Millimetre}, "sides", phrase.Of("reckon.pads.difference-asked-about-side-against-side"))
	c.Needed = []string{"inner", "outer"}
	return c.answers(func([]string) (Answer, error) {
		pads, err := padsOf(inner, outer, "inner", "outer")
		if err != nil {
			return Answer{}, err
		}
		other := pads // nothing to compare: both sides alike say nothing
		both := len(otherInner)+len(otherOuter) > 0
		if both {
			if other, err = padsOf(otherInner, otherOuter, "other-inner", "other-outer"); err != nil {
				return Answer{}, err
			}
		}
		here := brakes.Side(side)
		if here != brakes.Left && here != brakes.Right {
			return Answer{}, wrong("side", "%s", phrase.Of("reckon.pads.side-expected-left-or-right-facing-forward", side))
		}
		a, err := padFigures(pads, context)
		if err != nil {
			return Answer{}, err
		}
		a.Given = append(Rows{{"side", phrase.Of("reckon.pads.side"), side}}, a.Given...)
		if both {
			a.Given.add("other_inner", phrase.Of("reckon.pads.inner-pad-other-side"), quantities(otherInner))
			a.Given.add("other_outer", phrase.Of("reckon.pads.outer-pad-other-side"), quantities(otherOuter))
		}
		return a, a.padFindings(pads, other, here, both, t)
	})
}

func padsOf(inner, outer []quantity.Quantity, innerFlag, outerFlag string) (brakes.Pads, error) {
	if len(inner) != 2 {
		return brakes.Pads{}, wrong(innerFlag, "%s", phrase.Of("reckon.pads.has-values-expected-two-leading-and-trailing", innerFlag, len(inner)))
	}
	if len(outer) != 2 {
		return brakes.Pads{}, wrong(outerFlag, "%s", phrase.Of("reckon.pads.has-values-expected-two-leading-and-trailing", outerFlag, len(outer)))
	}
	return brakes.Pads{InnerLead: inner[0], InnerTrail: inner[1], OuterLead: outer[0], OuterTrail: outer[1]}, nil
}

func padFigures(pads brakes.Pads, context brakes.PadContext) (Answer, error) {
	f, err := pads.Figures()
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Source: []string{phrase.Of("reckon.pads.patterns-causes-and-thresholds-common-practice")}}
	a.Given.add("inner", phrase.Of("reckon.pads.inner-pad"), quantities{pads.InnerLead, pads.InnerTrail})
	a.Given.add("outer", phrase.Of("reckon.pads.outer-pad"), quantities{pads.OuterLead, pads.OuterTrail})
	ends := inUnit(quantity.Millimetre, pads.InnerLead, pads.InnerTrail, pads.OuterLead, pads.OuterTrail)
	a.Picture = PadPair{Pads: brakes.Pads{InnerLead: ends[0], InnerTrail: ends[1], OuterLead: ends[2], OuterTrail: ends[3]}, New: context.New}
	mm := quantity.Millimetre
	a.Result.add("inner", phrase.Of("reckon.pads.inner-pad-mean"), quantity.FromRat(f.Inner, mm, 3))
	a.Result.add("outer", phrase.Of("reckon.pads.outer-pad-mean"), quantity.FromRat(f.Outer, mm, 3))
	a.Result.add("difference", phrase.Of("reckon.pads.outer-less-inner"), quantity.FromRat(f.Difference, mm, 3))
	a.Result.add("inner_taper", phrase.Of("reckon.pads.taper-of-the-inner-pad"), quantity.FromRat(f.InnerTaper, mm, 3))
	a.Result.add("outer_taper", phrase.Of("reckon.pads.taper-of-the-outer-pad"), quantity.FromRat(f.OuterTaper, mm, 3))
	a.Result.add("minimum", phrase.Of("reckon.pads.thinnest"), f.Minimum)
	a.Result.add("thinnest", "At", f.Thinnest)
	if !context.New.IsZero() || !context.Plate.IsZero() {
		odd, err := pads.Oddities(context)
		if err != nil {
			return Answer{}, err
		}
		a.oddities(odd)
	}
	return a, nil
}

func (a *Answer) padFindings(pads, other brakes.Pads, side brakes.Side, both bool, t brakes.PadThresholds) error {
	axle := brakes.Axle{Left: pads, Right: other}
	if side == brakes.Right {
		axle.Left, axle.Right = other, pads
	}
	findings, err := axle.Diagnose(t)
	if err != nil {
		return err
	}
	g := Grid{Keys: []string{"side", "pattern", "text", "cause", "question"}}
	for _, f := range findings {
		if !both && f.Side != side {
			continue // the other side only repeats this one
		}
		if g.Brief != "" {
			g.Brief += ", "
		}
		g.Brief += fmt.Sprintf("%s (%s)", phrase.Word(f.Pattern), phrase.Word(f.Side))
		g.Lines = append(g.Lines, []any{string(f.Side), string(f.Pattern), f.Text, f.Cause, f.Question})
		a.Say = append(a.Say, f.Text, phrase.Of("reckon.pads.likely-cause", f.Cause), phrase.Of("reckon.pads.answer-at-the-decision", f.Question))
	}
	if len(g.Lines) == 0 {
		a.Say, g.Brief = append(a.Say, phrase.Of("reckon.pads.the-wear-is-even")), phrase.Of("reckon.pads.even")
	}
	a.Result.add("findings", phrase.Of("reckon.pads.pattern"), g)
	return nil
}
