package reckon

import (
	"strings"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

func preloadQuestion() *Question {
	var thread, class, friction, head string
	var window quantity.Window
	c := &Question{
		Use:     "preload",
		Short:   phrase.Of("reckon.preload.what-a-fastener-is-tightened-to-from"),
		Example: "  pawl reckon preload --thread M12x1.5 --class 10.9 --friction 0.12 --window '90..100 N·m'",
		Long:    phrase.Of("reckon.preload.the-preload-and-tightening-torque-that-load"),
	}
	c.Flags().StringVar(&thread, "thread", "", phrase.Of("reckon.preload.such-as-m12x1-5-or-m12-for"))
	c.Flags().StringVar(&class, "class", "", phrase.Of("reckon.preload.property-class-8-8-9-8-10"))
	c.Flags().StringVar(&friction, "friction", "0.12", phrase.Of("reckon.preload.coefficient-between-the-threads"))
	c.Flags().StringVar(&head, "head-friction", "", phrase.Of("reckon.preload.coefficient-under-the-head-as-between-the"))
	c.Flags().Var(windowFlag{&window}, "window", phrase.Of("reckon.preload.a-written-torque-to-be-doubted"))
	c.Needed = []string{"thread", "class"}
	return c.answers(func([]string) (Answer, error) {
		if head == "" {
			head = friction
		}
		return preload(thread, class, friction, head, window)
	})
}

func preload(threadText, classText, friction, head string, w quantity.Window) (Answer, error) {
	t, err := fastening.ParseThread(threadText)
	if err != nil {
		return Answer{}, wrong("thread", "%w", err)
	}
	c, err := fastening.ParseClass(classText)
	if err != nil {
		return Answer{}, wrong("class", "%w", err)
	}
	var f fastening.Friction
	for _, x := range []struct {
		text, flag string
		to         *float64
	}{{friction, "friction", &f.Thread}, {head, "head-friction", &f.Head}} {
		q, err := quantity.Parse(x.text, quantity.Count)
		if err != nil || q.Unit != quantity.Count || q.Negative() {
			return Answer{}, wrong(x.flag, "%s", phrase.Of("reckon.preload.is-no-coefficient-of-friction-expected-a", x.flag, x.text))
		}
		*x.to = q.Float()
	}
	load, err := fastening.AssemblyPreload(t, c, f, fastening.Joint{})
	if err != nil {
		return Answer{}, err
	}
	proof, err := fastening.ProofLoad(t, c)
	if err != nil {
		return Answer{}, err
	}
	share, err := fastening.ProofShare(load.Force, t, c)
	if err != nil {
		return Answer{}, err
	}
	tensile, err := fastening.TensileLoad(t, c)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Source: []string{phrase.Of("reckon.preload.vdi-2230-2001-2003-90-f-the"), phrase.Of("reckon.preload.iso-898-1-for-proof-and-tensile")}}
	a.Given.add("thread", phrase.Of("reckon.preload.thread"), t.String())
	a.Given.add("class", phrase.Of("reckon.preload.property-class"), string(c))
	a.Given.add("friction", phrase.Of("reckon.preload.friction-of-the-thread"), friction)
	a.Given.add("head_friction", phrase.Of("reckon.inputs.friction-under-the-head"), head)
	a.Result.add("preload", phrase.Of("reckon.preload.preload"), load.Force)
	a.Result.add("torque", phrase.Of("reckon.preload.tightening-torque"), load.Torque)
	a.Result.add("proof_load", phrase.Of("reckon.preload.proof-load"), proof)
	a.Result.add("share_of_proof", phrase.Of("reckon.preload.preload-of-proof-load"), share)
	a.Result.add("tensile_load", phrase.Of("reckon.preload.least-breaking-load"), tensile)
	a.Result.add("stress_area", phrase.Of("reckon.preload.stress-area-in-mm"), decimal(t.StressArea(), 2))
	a.Say = []string{phrase.Of("reckon.preload.of-class-friction-of-preload-at-about", t, c, friction, Round(load.Force, 1), Round(load.Torque, 0))}
	if w.IsZero() {
		return a, nil
	}
	a.Given.add("window", phrase.Of("reckon.preload.written-torque"), w.String())
	doubt, err := fastening.Plausible(w, t, c, f)
	if err != nil {
		return Answer{}, err
	}
	a.Result.add("doubt", phrase.Of("reckon.preload.doubt-about-it"), doubt)
	if doubt == "" {
		doubt = phrase.Of("reckon.preload.can-be-carried-by-the-fastener-named", w)
	}
	a.Say = append(a.Say, strings.TrimSpace(doubt))
	return a, nil
}
