package reckon

import (
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

var sourceAdapter = phrase.Of("reckon.torque.set-target-l-l-a-cos-navedtra")

// adapterFlags adds the three measures of an adapter.
func adapterFlags(f *pflag.FlagSet, a *fastening.Adapter) {
	f.Var(quantityFlag{&a.Length, quantity.Millimetre}, "length", phrase.Of("reckon.torque.l-middle-of-the-drive-to-the"))
	f.Var(quantityFlag{&a.Offset, quantity.Millimetre}, "adapter", phrase.Of("reckon.torque.a-middle-of-the-drive-to-the"))
	f.Var(quantityFlag{&a.Angle, quantity.Degree}, "angle", phrase.Of("reckon.torque.between-adapter-and-handle-0-is-straight"))
}

func ableQuestion() *Question {
	var set quantity.Quantity
	var acc fastening.Accuracy
	var adapter fastening.Adapter
	c := &Question{
		Use:     `able "SPEC"`,
		Short:   phrase.Of("reckon.torque.can-a-wrench-prove-a-torque-window"),
		Example: "  pawl reckon able '27..29 N·m' --set 28 --error 4% --resolution 0.5",
		Long:    phrase.Of("reckon.torque.whether-a-wrench-set-to-v-proves"),
		Args:    exactly(1, phrase.Of("reckon.torque.a-window")),
	}
	c.Flags().Var(quantityFlag{&set, quantity.NewtonMetre}, "set", phrase.Of("reckon.torque.what-the-wrench-is-set-to-or"))
	c.Flags().Var(quantityFlag{&acc.Error, quantity.Percent}, "error", phrase.Of("reckon.torque.error-of-the-wrench-per-cent"))
	c.Flags().Var(quantityFlag{&acc.Resolution, quantity.NewtonMetre}, "resolution", phrase.Of("reckon.torque.step-of-the-scale"))
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
		a.Given.add("window", phrase.Of("reckon.inputs.window-of-the-bolt"), w.String())
		a.Given.add("set", phrase.Of("reckon.torque.wrench-set-to"), set)
		a.Given.add("error", phrase.Of("reckon.torque.error-of-the-wrench"), acc.Error)
		a.Given.add("resolution", phrase.Of("reckon.torque.step-of-the-scale-2"), acc.Resolution)
		if proof.Adapted || !adapter.IsZero() {
			a.Given.adapter(adapter)
			a.Source = append(a.Source, sourceAdapter)
		}
		a.Result.add("verdict", phrase.Of("reckon.torque.verdict"), proof.Verdict.String())
		a.Result.add("able", phrase.Of("reckon.torque.able"), proof.Able())
		a.Result.add("bolt", phrase.Of("reckon.torque.torque-at-the-bolt"), proof.Bolt)
		a.Result.add("lowest", phrase.Of("reckon.torque.lowest-it-may-have"), proof.Lowest)
		a.Result.add("highest", phrase.Of("reckon.torque.highest-it-may-have"), proof.Highest)
		a.Result.add("error_that_would_do", phrase.Of("reckon.torque.error-that-would-do-here"), proof.WouldDo)
		a.Result.add("set_from", phrase.Of("reckon.torque.able-when-set-from"), proof.SettingLow)
		a.Result.add("set_to", phrase.Of("reckon.torque.able-when-set-up-to"), proof.SettingHigh)
		a.Say = []string{proof.Sentence(phrase.Of("reckon.torque.the-wrench"))}
		a.proven(proof)
		return a, nil
	})
}

func (r *Rows) adapter(a fastening.Adapter) {
	r.add("length", phrase.Of("reckon.torque.l-drive-to-hand-point"), a.Length)
	r.add("adapter", phrase.Of("reckon.torque.a-drive-to-bolt"), a.Offset)
	r.add("angle", phrase.Of("reckon.torque.angle-to-the-handle"), a.Angle)
}

func adapterQuestion() *Question {
	var target, set quantity.Quantity
	var adapter fastening.Adapter
	var window quantity.Window
	c := &Question{
		Use:     "adapter",
		Short:   phrase.Of("reckon.torque.the-setting-of-a-wrench-with-an"),
		Example: "  pawl reckon adapter --target 28 --length 300 --adapter 40 --window '26..30 N·m'\n  pawl reckon adapter --set 24.5 --length 300 --adapter 40",
		Long:    phrase.Of("reckon.torque.what-to-set-a-wrench-to-so"),
	}
	c.Flags().Var(quantityFlag{&target, quantity.NewtonMetre}, "target", phrase.Of("reckon.torque.torque-wanted-at-the-bolt"))
	c.Flags().Var(quantityFlag{&set, quantity.NewtonMetre}, "set", phrase.Of("reckon.torque.what-the-wrench-is-set-to-instead"))
	c.Flags().Var(windowFlag{&window}, "window", phrase.Of("reckon.torque.window-of-the-bolt-to-judge-it"))
	adapterFlags(c.Flags(), &adapter)
	c.Needed = []string{"length", "adapter"}
	return c.answers(func([]string) (Answer, error) { return adapterAnswer(target, set, adapter, window) })
}

func adapterAnswer(target, set quantity.Quantity, adapter fastening.Adapter, w quantity.Window) (Answer, error) {
	if target.IsZero() == set.IsZero() {
		return Answer{}, wrong("target set", "%s", phrase.Of("reckon.torque.give-one-of-target-torque-wanted-at"))
	}
	gain, err := adapter.Gain()
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Source: []string{sourceAdapter}}
	a.Given.add("target", phrase.Of("reckon.torque.wanted-at-the-bolt"), target)
	a.Given.add("set", phrase.Of("reckon.torque.wrench-set-to"), set)
	a.Given.adapter(adapter)
	a.Result.add("gain", phrase.Of("reckon.torque.gain"), exact(gain))
	bolt := target
	if set.IsZero() {
		setting, err := adapter.Setting(target)
		if err != nil {
			return Answer{}, err
		}
		a.Result.add("setting", phrase.Of("reckon.torque.set-the-wrench-to"), setting)
		text, err := adapter.Uncorrected(target, target)
		if err != nil {
			return Answer{}, err
		}
		a.Say = append(a.Say, phrase.Of("reckon.torque.set-the-wrench-to-rounded-to-its", Round(setting, 2), target), text)
	} else {
		if bolt, err = adapter.BoltTorque(set); err != nil {
			return Answer{}, err
		}
		a.Say = append(a.Say, phrase.Of("reckon.torque.set-to-the-wrench-gives-the-bolt", set, Round(bolt, 2)))
	}
	a.Result.add("bolt", phrase.Of("reckon.torque.the-bolt-gets"), bolt)
	off, err := adapter.UncorrectedError()
	if err != nil {
		return Answer{}, err
	}
	a.Result.add("uncorrected", phrase.Of("reckon.torque.error-when-not-corrected"), off)
	return a, a.adapterWindow(adapter, target, bolt, w)
}

// adapterWindow judges the bolt, and what it would get without the correction.
func (a *Answer) adapterWindow(adapter fastening.Adapter, target, bolt quantity.Quantity, w quantity.Window) error {
	if w.IsZero() {
		return nil
	}
	a.Given.add("window", phrase.Of("reckon.inputs.window-of-the-bolt"), w.String())
	v, err := w.Judge(bolt)
	if err != nil {
		return err
	}
	a.Result.add("verdict", phrase.Of("reckon.torque.the-bolt-is"), v.String())
	a.inWindow(w, bolt, quantity.Quantity{}, v)
	a.Say = append(a.Say, phrase.Of("reckon.torque.at-the-bolt-is-the-range-of", Round(bolt, 2), v, w))
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
	a.Result.add("uncorrected_verdict", phrase.Of("reckon.torque.not-corrected-the-bolt-is"), v.String())
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
		Short:   phrase.Of("reckon.torque.the-star-order-of-n-fasteners-on"),
		Example: "  pawl reckon order 6\n  pawl reckon order 5 --check 1-3-5-2-4",
		Long:    phrase.Of("reckon.torque.the-order-in-which-n-fasteners-on"),
		Args:    exactly(1, phrase.Of("reckon.inputs.the-number-of-fasteners")),
	}
	c.Flags().StringVar(&own, "check", "", phrase.Of("reckon.torque.an-order-to-look-over-such-as"))
	return c.answers(func(args []string) (Answer, error) {
		n, err := Whole(args[0], phrase.Of("reckon.inputs.the-number-of-fasteners"))
		if err != nil {
			return Answer{}, wrong("fasteners", "%w", err)
		}
		a := Answer{Source: []string{phrase.Of("reckon.torque.opposite-pairs-and-a-constant-stride-for")}}
		a.Given.add("fasteners", phrase.Of("reckon.torque.fasteners"), n)
		order, err := fastening.StarOrder(n)
		if err != nil {
			return Answer{}, err
		}
		findings := []string{}
		if own != "" {
			order = nil
			for _, part := range strings.FieldsFunc(own, func(r rune) bool { return strings.ContainsRune("-, ", r) }) {
				k, err := Whole(part, phrase.Of("reckon.torque.each-place-of-the-order"))
				if err != nil {
					return Answer{}, wrong("check", "%w", err)
				}
				order = append(order, k)
			}
			findings = append(findings, fastening.CheckOrder(order, n)...)
			a.Given.add("order", phrase.Of("reckon.inputs.order-to-look-over"), own)
		}
		a.Result.add("order", phrase.Of("reckon.torque.order"), numbers(order))
		a.Result.add("findings", phrase.Of("reckon.torque.findings"), findings)
		switch {
		case own == "":
			a.Say = []string{phrase.Of("reckon.torque.tighten-in-the-order-numbered-clockwise", fastening.FormatOrder(order))}
		case len(findings) == 0:
			a.Say = []string{phrase.Of("reckon.torque.the-order-is-sound")}
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
		return 0, phrase.Error("reckon.torque.is-no-whole-number", what, text)
	}
	return int(q.Rat().Num().Int64()), nil
}
