package reckon

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/quantity"
)

const sourceAdapter = "set = target·L/(L + a·cos θ): NAVEDTRA 14315 fig. 3-45 and US Army TM 9-2350-261-20-1 p. 2-29"

// adapterFlags adds the three measures of an adapter.
func adapterFlags(f *pflag.FlagSet, a *fastening.Adapter) {
	f.Var(quantityFlag{&a.Length, quantity.Millimetre}, "length", "L, middle of the drive to the marked hand point")
	f.Var(quantityFlag{&a.Offset, quantity.Millimetre}, "adapter", "a, middle of the drive to the middle of the bolt")
	f.Var(quantityFlag{&a.Angle, quantity.Degree}, "angle", "between adapter and handle; 0 is straight ahead")
}

func ableQuestion() *Question {
	var set quantity.Quantity
	var acc fastening.Accuracy
	var adapter fastening.Adapter
	c := &Question{
		Use:     `able "SPEC"`,
		Short:   "Can a wrench prove a torque window at this setting?",
		Example: "  pawl reckon able '27..29 N·m' --set 28 --error 4% --resolution 0.5",
		Long: `Whether a wrench set to V proves the window, with its error and the step of its
scale, and through an adapter when --length and --adapter are given.

Result: verdict "inside" (able), "not proven" (not able) or "outside"; bolt,
lowest and highest, what the bolt gets or may get; error_that_would_do, the
largest wrench error that proves the window at this setting; set_from and
set_to, the marks of this wrench that would be able, null when none is.`,
		Args: exactly(1, "a window"),
	}
	c.Flags().Var(quantityFlag{&set, quantity.NewtonMetre}, "set", "what the wrench is set to, or the reading")
	c.Flags().Var(quantityFlag{&acc.Error, quantity.Percent}, "error", "error of the wrench, per cent")
	c.Flags().Var(quantityFlag{&acc.Resolution, quantity.NewtonMetre}, "resolution", "step of the scale")
	adapterFlags(c.Flags(), &adapter)
	c.Needed = []string{"set", "error"}
	return c.answers(func(args []string) (Answer, error) {
		w, err := parseWindow(args[0])
		if err != nil {
			return Answer{}, err
		}
		proof, err := fastening.Prove(set, w, acc, adapter)
		if err != nil {
			return Answer{}, err
		}
		a := Answer{Source: []string{sourceProof}}
		a.Given.add("window", "Window of the bolt", w.String())
		a.Given.add("set", "Wrench set to", set)
		a.Given.add("error", "Error of the wrench", acc.Error)
		a.Given.add("resolution", "Step of the scale", acc.Resolution)
		if proof.Adapted || !adapter.IsZero() {
			a.Given.adapter(adapter)
			a.Source = append(a.Source, sourceAdapter)
		}
		a.Result.add("verdict", "Verdict", proof.Verdict.String())
		a.Result.add("able", "Able", proof.Able())
		a.Result.add("bolt", "Torque at the bolt", proof.Bolt)
		a.Result.add("lowest", "Lowest it may have", proof.Lowest)
		a.Result.add("highest", "Highest it may have", proof.Highest)
		a.Result.add("error_that_would_do", "Error that would do here", proof.WouldDo)
		a.Result.add("set_from", "Able when set from", proof.SettingLow)
		a.Result.add("set_to", "Able when set up to", proof.SettingHigh)
		a.Say = []string{proof.Sentence("The wrench")}
		a.proven(proof)
		return a, nil
	})
}

func (r *Rows) adapter(a fastening.Adapter) {
	r.add("length", "L, drive to hand point", a.Length)
	r.add("adapter", "a, drive to bolt", a.Offset)
	r.add("angle", "Angle to the handle", a.Angle)
}

func adapterQuestion() *Question {
	var target, set quantity.Quantity
	var adapter fastening.Adapter
	var window quantity.Window
	c := &Question{
		Use:     "adapter",
		Short:   "The setting of a wrench with an open-end or crow-foot adapter, and back",
		Example: "  pawl reckon adapter --target 28 --length 300 --adapter 40 --window '26..30 N·m'\n  pawl reckon adapter --set 24.5 --length 300 --adapter 40",
		Long: `What to set a wrench to so that the bolt gets the wanted torque through an
adapter, or with --set what the bolt gets. A straight extension in line with the
drive changes nothing and is no adapter.

Result: setting and bolt, whichever was asked for; gain, torque at the bolt for
each unit of the scale; uncorrected, by how much the bolt misses when the wrench
is set as if no adapter were fitted; uncorrected_verdict with --window.`,
	}
	c.Flags().Var(quantityFlag{&target, quantity.NewtonMetre}, "target", "torque wanted at the bolt")
	c.Flags().Var(quantityFlag{&set, quantity.NewtonMetre}, "set", "what the wrench is set to, instead of --target")
	c.Flags().Var(windowFlag{&window}, "window", "window of the bolt, to judge it")
	adapterFlags(c.Flags(), &adapter)
	c.Needed = []string{"length", "adapter"}
	return c.answers(func([]string) (Answer, error) { return adapterAnswer(target, set, adapter, window) })
}

func adapterAnswer(target, set quantity.Quantity, adapter fastening.Adapter, w quantity.Window) (Answer, error) {
	if target.IsZero() == set.IsZero() {
		return Answer{}, wrong("target set", "give one of --target (torque wanted at the bolt) and --set (what the wrench is set to)")
	}
	gain, err := adapter.Gain()
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Source: []string{sourceAdapter}}
	a.Given.add("target", "Wanted at the bolt", target)
	a.Given.add("set", "Wrench set to", set)
	a.Given.adapter(adapter)
	a.Result.add("gain", "Gain", exact(gain))
	bolt := target
	if set.IsZero() {
		setting, err := adapter.Setting(target)
		if err != nil {
			return Answer{}, err
		}
		a.Result.add("setting", "Set the wrench to", setting)
		text, err := adapter.Uncorrected(target, target)
		if err != nil {
			return Answer{}, err
		}
		a.Say = append(a.Say, fmt.Sprintf("Set the wrench to %s, rounded to its scale, for %s at the bolt", Round(setting, 2), target), text)
	} else {
		if bolt, err = adapter.BoltTorque(set); err != nil {
			return Answer{}, err
		}
		a.Say = append(a.Say, fmt.Sprintf("Set to %s the wrench gives the bolt %s", set, Round(bolt, 2)))
	}
	a.Result.add("bolt", "The bolt gets", bolt)
	off, err := adapter.UncorrectedError()
	if err != nil {
		return Answer{}, err
	}
	a.Result.add("uncorrected", "Error when not corrected", off)
	return a, a.adapterWindow(adapter, target, bolt, w)
}

// adapterWindow judges the bolt, and what it would get without the correction.
func (a *Answer) adapterWindow(adapter fastening.Adapter, target, bolt quantity.Quantity, w quantity.Window) error {
	if w.IsZero() {
		return nil
	}
	a.Given.add("window", "Window of the bolt", w.String())
	v, err := w.Judge(bolt)
	if err != nil {
		return err
	}
	a.Result.add("verdict", "The bolt is", v.String())
	a.inWindow(w, bolt, quantity.Quantity{}, v)
	a.Say = append(a.Say, fmt.Sprintf("%s at the bolt is %s %s; the range of the wrench is judged by its setting", Round(bolt, 2), v, w))
	if target.IsZero() {
		return nil
	}
	raw, err := adapter.BoltTorque(target)
	if err != nil {
		return err
	}
	if v, err = w.Judge(raw); err != nil {
		return err
	}
	a.Result.add("uncorrected_verdict", "Not corrected the bolt is", v.String())
	return nil
}

// roundTo rounds for reading.
func Round(q quantity.Quantity, places int) quantity.Quantity {
	if q.IsZero() || q.Places() <= places {
		return q
	}
	return quantity.FromRat(q.Rat(), q.Unit, places)
}

func orderQuestion() *Question {
	var own string
	c := &Question{
		Use:     "order N",
		Short:   "The star order of N fasteners on a circle, or a check of another order",
		Example: "  pawl reckon order 6\n  pawl reckon order 5 --check 1-3-5-2-4",
		Long: `The order in which N fasteners on a circle are tightened, numbered clockwise. The
vehicle maker's own order comes first; --check looks one over.

Result: order, a list of numbers; findings, what breaks the order checked.`,
		Args: exactly(1, "the number of fasteners"),
	}
	c.Flags().StringVar(&own, "check", "", "an order to look over, such as 1-4-2-5-3-6")
	return c.answers(func(args []string) (Answer, error) {
		n, err := Whole(args[0], "the number of fasteners")
		if err != nil {
			return Answer{}, wrong("fasteners", "%w", err)
		}
		a := Answer{Source: []string{"opposite pairs, and a constant stride for an odd number: US Army TM 10-4320-344-24 for 5, the others from the pair rule; a vehicle maker's order overrides it"}}
		a.Given.add("fasteners", "Fasteners", n)
		order, err := fastening.StarOrder(n)
		if err != nil {
			return Answer{}, err
		}
		findings := []string{}
		if own != "" {
			order = nil
			for _, part := range strings.FieldsFunc(own, func(r rune) bool { return strings.ContainsRune("-, ", r) }) {
				k, err := Whole(part, "each place of the order")
				if err != nil {
					return Answer{}, wrong("check", "%w", err)
				}
				order = append(order, k)
			}
			findings = append(findings, fastening.CheckOrder(order, n)...)
			a.Given.add("order", "Order to look over", own)
		}
		a.Result.add("order", "Order", numbers(order))
		a.Result.add("findings", "Findings", findings)
		switch {
		case own == "":
			a.Say = []string{"Tighten in the order " + fastening.FormatOrder(order) + ", numbered clockwise"}
		case len(findings) == 0:
			a.Say = []string{"The order is sound"}
		default:
			a.Say = findings
		}
		return a, nil
	})
}

// numbers is a list of whole numbers: numbers in JSON, an order in text.
type numbers []int

// String is the list the way the trade writes an order.
func (n numbers) String() string { return fastening.FormatOrder(n) }

// whole reads a whole number that is not negative.
func Whole(text, what string) (int, error) {
	q, err := quantity.Parse(text, quantity.Count)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", what, err)
	}
	if q.Unit != quantity.Count || !q.Rat().IsInt() || q.Negative() || len(q.Number) > 9 {
		return 0, fmt.Errorf("%s: %q is no whole number", what, text)
	}
	return int(q.Rat().Num().Int64()), nil
}
