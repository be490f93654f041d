package reckon

import (
	"math/big"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

var (
	sourceGuard       = phrase.Of("reckon.window.ilac-g8-09-2019-simple-acceptance-4")
	sourceProbability = phrase.Of("reckon.window.jcgm-106-2012-7-3-normal-distribution")
	sourceProof       = phrase.Of("reckon.window.set-1-p-r-2-high-and")
	sourceExpanded    = phrase.Of("reckon.window.jcgm-100-2008-4-3-7-and")
)

func windowQuestion() *Question {
	var errorText, resolutionText, uncertaintyText string
	c := &Question{
		Use:     `window "SPEC" VALUE`,
		Short:   phrase.Of("reckon.window.a-value-held-against-its-window-with"),
		Example: "  pawl reckon window '>= 16.00 mm' 16.004 --uncertainty 0.005\n  pawl reckon window '152..168 N·m' 160 --error 4% --resolution 1",
		Long:    phrase.Of("reckon.window.a-value-held-against-its-window-a"),
		Args:    exactly(2, phrase.Of("reckon.window.a-window-and-a-value")),
	}
	c.Flags().StringVar(&errorText, "error", "", phrase.Of("reckon.window.error-limit-a-bare-number-is-per"))
	c.Flags().StringVar(&resolutionText, "resolution", "", phrase.Of("reckon.window.smallest-step-the-instrument-shows"))
	c.Flags().StringVar(&uncertaintyText, "uncertainty", "", phrase.Of("reckon.window.expanded-uncertainty-of-the-reading"))
	return c.answers(func(args []string) (Answer, error) {
		w, q, err := windowAndValue(args)
		if err != nil {
			return Answer{}, err
		}
		if uncertaintyText != "" && (errorText != "" || resolutionText != "") {
			return Answer{}, wrong("uncertainty error resolution", "%s", phrase.Of("reckon.window.uncertainty-stands-alone-it-already-holds-error"))
		}
		if resolutionText != "" && errorText == "" {
			return Answer{}, wrong("resolution error", "%s", phrase.Of("reckon.window.resolution-belongs-to-error-the-error-limit"))
		}
		a := Answer{}
		a.Given.add("window", phrase.Of("reckon.window.window"), w.String())
		a.Given.add("value", phrase.Of("reckon.window.value"), q)
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
		a.Given.add("error", phrase.Of("reckon.window.error-limit"), limit)
		a.Given.add("resolution", phrase.Of("reckon.window.resolution"), resolution)
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
		err = wrong("value", "%s", phrase.Of("reckon.values.is-no-expected-a-value-in", q, w.Dimension(), w.Unit()))
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
		return limit, wrong("error", "%s", phrase.Of("reckon.window.the-error-limit-does-not-fit-expected", limit, q, q.Unit))
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
		a.Result.add("simple", phrase.Of("reckon.window.simple-acceptance"), v.String())
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
	a.Result.add("simple", phrase.Of("reckon.window.simple-acceptance"), d.Simple.String())
	a.Result.add("guarded", phrase.Of("reckon.window.guarded-acceptance"), d.Guarded.String())
	a.Result.add("uncertainty", phrase.Of("reckon.window.expanded-uncertainty"), u)
	a.Result.add("probability", phrase.Of("reckon.window.probability-that-it-conforms"), decimal(d.Probability, 4))
	a.inWindow(w, q, u, d.Guarded)
	a.Say = append(a.Say, verdictSentence(w, q, u, d.Guarded))
	a.hint(w, q, d.Simple)
	a.Source = append([]string{sourceGuard, sourceProbability}, a.Source...)
	return nil
}

func verdictSentence(w quantity.Window, q, u quantity.Quantity, v quantity.Verdict) string {
	if v == quantity.NotProven {
		return phrase.Of("reckon.window.is-inside-but-nearer-to-a-limit", q, w, u)
	}
	return phrase.Of("reckon.window.is", q, v, w)
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
	a.Result.add("simple", phrase.Of("reckon.window.simple-acceptance"), simple.String())
	a.Result.add("guarded", phrase.Of("reckon.window.guarded-acceptance"), proof.Verdict.String())
	a.Result.add("lowest", phrase.Of("reckon.window.the-bolt-may-have-lowest"), proof.Lowest)
	a.Result.add("highest", phrase.Of("reckon.window.the-bolt-may-have-highest"), proof.Highest)
	a.proven(proof)
	a.Say = append(a.Say, proof.Sentence(phrase.Of("reckon.window.the-wrench")))
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
	a.Result.add("hint", phrase.Of("reckon.window.slip-that-would-explain-it"), text)
}

func conformQuestion() *Question {
	var u, standard string
	c := &Question{
		Use:     `conform "SPEC" VALUE`,
		Short:   phrase.Of("reckon.window.the-probability-that-a-measured-item-conforms"),
		Example: "  pawl reckon conform '>= 16.00 mm' 16.004 --uncertainty 0.005",
		Long:    phrase.Of("reckon.window.the-probability-that-the-true-value-lies"),
		Args:    exactly(2, phrase.Of("reckon.window.a-window-and-a-value")),
	}
	c.Flags().StringVar(&u, "uncertainty", "", phrase.Of("reckon.window.expanded-uncertainty-k-2"))
	c.Flags().StringVar(&standard, "standard", "", phrase.Of("reckon.window.standard-uncertainty-k-1-instead-of-uncertainty"))
	return c.answers(func(args []string) (Answer, error) {
		w, q, err := windowAndValue(args)
		if err != nil {
			return Answer{}, err
		}
		if (u == "") == (standard == "") {
			return Answer{}, wrong("uncertainty standard", "%s", phrase.Of("reckon.window.give-one-of-uncertainty-k-2-and"))
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
		a.Given.add("window", phrase.Of("reckon.window.window"), w.String())
		a.Given.add("value", phrase.Of("reckon.window.value"), q)
		a.Given.add("uncertainty", phrase.Of("reckon.window.expanded-uncertainty"), expanded)
		a.Result.add("probability", phrase.Of("reckon.window.probability-that-it-conforms"), decimal(prob, 9))
		a.Result.add("standard_uncertainty", phrase.Of("reckon.window.standard-uncertainty"), one)
		a.Result.add("simple", phrase.Of("reckon.window.simple-acceptance"), d.Simple.String())
		a.Result.add("guarded", phrase.Of("reckon.window.guarded-acceptance"), d.Guarded.String())
		a.inWindow(w, q, expanded, d.Guarded)
		a.Say = []string{phrase.Of("reckon.window.conforms-to-with-a-probability-of", q, w, decimal(prob*100, 1)), phrase.Of("reckon.window.the-probability-is-information-the-guarded-rule")}
		return a, nil
	})
}

func parseWindow(text string) (quantity.Window, error) {
	w, err := quantity.ParseWindow(text)
	if err != nil {
		return w, wrong("window", "%w", phrase.Error("reckon.window.the-window", err))
	}
	return w, nil
}
