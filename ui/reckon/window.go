package reckon

import (
	"fmt"
	"math/big"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/quantity"
)

const (
	sourceGuard       = "ILAC-G8:09/2019: simple acceptance 4.2.1, guard band as wide as the expanded uncertainty 4.2.2"
	sourceProbability = "JCGM 106:2012, 7.3, normal distribution with half the expanded uncertainty"
	sourceProof       = "set·(1+p) + r/2 ≤ high and set·(1−p) − r/2 ≥ low: the guard band of ILAC-G8 with the wrench's whole error and half a scale step; common practice for the half step, no source"
	sourceExpanded    = "JCGM 100:2008 4.3.7 and F.2.2.1: error limit and resolution as rectangular, U = 2·√(a²/3 + r²/12)"
)

func windowQuestion() *Question {
	var errorText, resolutionText, uncertaintyText string
	c := &Question{
		Use:     `window "SPEC" VALUE`,
		Short:   "A value held against its window, with the instrument's uncertainty",
		Example: "  pawl reckon window '>= 16.00 mm' 16.004 --uncertainty 0.005\n  pawl reckon window '152..168 N·m' 160 --error 4% --resolution 1",
		Long: `A value held against its window. A bare value takes the unit of the window.

Without an instrument the value is judged as it stands. --uncertainty is the
expanded uncertainty of the reading. --error with --resolution is the instrument
itself: for a torque the wrench's error in per cent and its scale step, for a
length the error limit and the step, from which the uncertainty follows.

Result: simple, "inside" or "outside"; with an instrument also guarded, "inside",
"outside" or "not proven", and uncertainty and probability that the true value
conforms (information, it decides nothing), or for a torque lowest and highest,
what the bolt may have; hint, the slip that would explain a value outside.`,
		Args: exactly(2, "a window and a value"),
	}
	c.Flags().StringVar(&errorText, "error", "", "error limit: a bare number is per cent for a torque, else in the unit of the value")
	c.Flags().StringVar(&resolutionText, "resolution", "", "smallest step the instrument shows")
	c.Flags().StringVar(&uncertaintyText, "uncertainty", "", "expanded uncertainty of the reading")
	return c.answers(func(args []string) (Answer, error) {
		w, q, err := windowAndValue(args)
		if err != nil {
			return Answer{}, err
		}
		if uncertaintyText != "" && (errorText != "" || resolutionText != "") {
			return Answer{}, wrong("uncertainty error resolution", "--uncertainty stands alone: it already holds error and resolution")
		}
		if resolutionText != "" && errorText == "" {
			return Answer{}, wrong("resolution error", "--resolution belongs to --error; the error limit is missing")
		}
		a := Answer{}
		a.Given.add("window", "Window", w.String())
		a.Given.add("value", "Value", q)
		if errorText == "" {
			u, err := optional(uncertaintyText, w.Unit(), "uncertainty")
			if err != nil {
				return Answer{}, err
			}
			return a, a.judge(w, q, u)
		}
		unit := q.Unit
		if w.Dimension() == quantity.Torque {
			unit = quantity.Percent
		}
		limit, err := optional(errorText, unit, "error")
		if err != nil {
			return Answer{}, err
		}
		resolution, err := optional(resolutionText, q.Unit, "resolution")
		if err != nil {
			return Answer{}, err
		}
		a.Given.add("error", "Error limit", limit)
		a.Given.add("resolution", "Resolution", resolution)
		if w.Dimension() == quantity.Torque {
			return a, a.judgeTorque(w, q, fastening.Accuracy{Error: limit, Resolution: resolution})
		}
		u, err := uncertaintyOf(q, limit, resolution)
		if err != nil {
			return Answer{}, err
		}
		if w.Dimension() == quantity.Length {
			a.Source = append(a.Source, sourceExpanded)
		}
		return a, a.judge(w, q, u)
	})
}

func windowAndValue(args []string) (quantity.Window, quantity.Quantity, error) {
	w, err := parseWindow(args[0])
	if err != nil {
		return w, quantity.Quantity{}, err
	}
	q, err := quantity.Parse(args[1], w.Unit())
	if err != nil {
		return w, q, wrong("value", "%w", err)
	}
	if !q.Unit.Same(w.Unit()) {
		err = wrong("value", "%s is no %s; expected a value in %s", q, w.Dimension(), w.Unit())
	}
	return w, q, err
}

// optional reads a flag's text as a quantity, or nothing.
func optional(text string, unit quantity.Unit, flag string) (quantity.Quantity, error) {
	if text == "" {
		return quantity.Quantity{}, nil
	}
	q, err := quantity.Parse(text, unit)
	if err != nil {
		return q, wrong(flag, "--%s: %w", flag, err)
	}
	return q, nil
}

// uncertaintyOf is the expanded uncertainty of a reading from its instrument. Only for lengths is
// the resolution reckoned in; elsewhere the error limit stands for both.
func uncertaintyOf(q, limit, resolution quantity.Quantity) (quantity.Quantity, error) {
	if limit.Unit == quantity.Percent && q.Unit != quantity.Percent {
		r := new(big.Rat).Mul(new(big.Rat).Abs(q.Rat()), limit.Rat())
		limit = quantity.FromRat(r.Quo(r, big.NewRat(100, 1)), q.Unit, q.Places()+limit.Places()+2)
	}
	if !limit.Unit.Same(q.Unit) {
		return limit, wrong("error", "the error limit %s does not fit %s; expected per cent or a value in %s", limit, q, q.Unit)
	}
	if q.Unit.Dimension() == quantity.Length {
		return brakes.ExpandedUncertainty(limit, resolution)
	}
	return limit, nil
}

// judge adds both acceptance rules, the probability and a hint.
func (a *Answer) judge(w quantity.Window, q, u quantity.Quantity) error {
	if u.IsZero() {
		v, err := w.Judge(q)
		if err != nil {
			return err
		}
		a.Result.add("simple", "Simple acceptance", v.String())
		a.inWindow(w, q, u, v)
		a.Say = append(a.Say, verdictSentence(w, q, u, v))
		a.hint(w, q, v)
		a.Source = append(a.Source, sourceGuard)
		return nil
	}
	d, err := brakes.Decide(w, q, u)
	if err != nil {
		return err
	}
	a.Result.add("simple", "Simple acceptance", d.Simple.String())
	a.Result.add("guarded", "Guarded acceptance", d.Guarded.String())
	a.Result.add("uncertainty", "Expanded uncertainty", u)
	a.Result.add("probability", "Probability that it conforms", decimal(d.Probability, 4))
	a.inWindow(w, q, u, d.Guarded)
	a.Say = append(a.Say, verdictSentence(w, q, u, d.Guarded))
	a.hint(w, q, d.Simple)
	a.Source = append([]string{sourceGuard, sourceProbability}, a.Source...)
	return nil
}

func verdictSentence(w quantity.Window, q, u quantity.Quantity, v quantity.Verdict) string {
	if v == quantity.NotProven {
		return fmt.Sprintf("%s is inside %s, but nearer to a limit than the uncertainty of %s: not proven, measure with a finer instrument", q, w, u)
	}
	return fmt.Sprintf("%s is %s %s", q, v, w)
}

func (a *Answer) judgeTorque(w quantity.Window, q quantity.Quantity, acc fastening.Accuracy) error {
	proof, err := fastening.Prove(q, w, acc, fastening.Adapter{})
	if err != nil {
		return err
	}
	simple, err := w.Judge(q)
	if err != nil {
		return err
	}
	a.Result.add("simple", "Simple acceptance", simple.String())
	a.Result.add("guarded", "Guarded acceptance", proof.Verdict.String())
	a.Result.add("lowest", "The bolt may have, lowest", proof.Lowest)
	a.Result.add("highest", "The bolt may have, highest", proof.Highest)
	a.proven(proof)
	a.Say = append(a.Say, proof.Sentence("The wrench"))
	a.hint(w, q, simple)
	a.Source = append(a.Source, sourceProof)
	return nil
}

// hint adds the slip that would explain a value outside. The word is a suggestion; nothing is converted.
func (a *Answer) hint(w quantity.Window, q quantity.Quantity, v quantity.Verdict) {
	var h fastening.Hint
	var ok bool
	if v == quantity.Outside {
		switch w.Dimension() {
		case quantity.Torque:
			h, ok = fastening.HintTorque(q, w)
		case quantity.Length:
			h, ok = fastening.HintLength(q, w, quantity.Window{})
		case quantity.Force:
			h, ok = fastening.HintForce(q, w, quantity.Window{})
		case quantity.Temperature:
			h, ok = fastening.HintTemperature(q, w, quantity.Window{})
		}
	}
	text := ""
	if ok {
		text = h.Text
	}
	a.Result.add("hint", "Slip that would explain it", text)
}

func conformQuestion() *Question {
	var u, standard string
	c := &Question{
		Use:     `conform "SPEC" VALUE`,
		Short:   "The probability that a measured item conforms",
		Example: "  pawl reckon conform '>= 16.00 mm' 16.004 --uncertainty 0.005",
		Long: `The probability that the true value lies in the window, for a normal
distribution. It is information for who wants it and decides nothing.

Result: probability, 0 to 1; standard_uncertainty; simple and guarded, the
verdicts of both acceptance rules.`,
		Args: exactly(2, "a window and a value"),
	}
	c.Flags().StringVar(&u, "uncertainty", "", "expanded uncertainty (k = 2)")
	c.Flags().StringVar(&standard, "standard", "", "standard uncertainty (k = 1), instead of --uncertainty")
	return c.answers(func(args []string) (Answer, error) {
		w, q, err := windowAndValue(args)
		if err != nil {
			return Answer{}, err
		}
		if (u == "") == (standard == "") {
			return Answer{}, wrong("uncertainty standard", "give one of --uncertainty (k = 2) and --standard (k = 1)")
		}
		expanded, err := optional(u, w.Unit(), "uncertainty")
		if err != nil {
			return Answer{}, err
		}
		one, err := optional(standard, w.Unit(), "standard")
		if err != nil {
			return Answer{}, err
		}
		if u != "" {
			one = quantity.FromRat(new(big.Rat).Quo(expanded.Rat(), big.NewRat(2, 1)), expanded.Unit, expanded.Places()+1)
		} else {
			expanded = quantity.FromRat(new(big.Rat).Mul(one.Rat(), big.NewRat(2, 1)), one.Unit, one.Places())
		}
		prob, err := brakes.ConformanceProbability(w, q, one)
		if err != nil {
			return Answer{}, err
		}
		d, err := brakes.Decide(w, q, expanded)
		if err != nil {
			return Answer{}, err
		}
		a := Answer{Source: []string{sourceProbability, sourceGuard}}
		a.Given.add("window", "Window", w.String())
		a.Given.add("value", "Value", q)
		a.Given.add("uncertainty", "Expanded uncertainty", expanded)
		a.Result.add("probability", "Probability that it conforms", decimal(prob, 9))
		a.Result.add("standard_uncertainty", "Standard uncertainty", one)
		a.Result.add("simple", "Simple acceptance", d.Simple.String())
		a.Result.add("guarded", "Guarded acceptance", d.Guarded.String())
		a.inWindow(w, q, expanded, d.Guarded)
		a.Say = []string{fmt.Sprintf("%s conforms to %s with a probability of %s %%", q, w, decimal(prob*100, 1)), "The probability is information; the guarded rule decides"}
		return a, nil
	})
}

func parseWindow(text string) (quantity.Window, error) {
	w, err := quantity.ParseWindow(text)
	if err != nil {
		return w, wrong("window", "the window: %w", err)
	}
	return w, nil
}
