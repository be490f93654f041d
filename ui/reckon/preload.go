package reckon

import (
	"fmt"
	"strings"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/quantity"
)

func preloadQuestion() *Question {
	var thread, class, friction, head string
	var window quantity.Window
	c := &Question{
		Use:     "preload",
		Short:   "What a fastener is tightened to, from thread, property class and friction",
		Example: "  pawl reckon preload --thread M12x1.5 --class 10.9 --friction 0.12 --window '90..100 N·m'",
		Long: `The preload and tightening torque that load a fastener to 90 % of its yield
strength, for a plain head; a wheel nut's cone bears differently. An estimate for
whoever writes a spec sheet; friction is an assumption and the maker's figure
decides.

Result: preload, torque, proof_load, share_of_proof, tensile_load, stress_area
in mm²; doubt, what looks wrong about --window, empty when nothing does.`,
	}
	c.Flags().StringVar(&thread, "thread", "", "such as M12x1.5, or M12 for coarse pitch")
	c.Flags().StringVar(&class, "class", "", "property class: 8.8, 9.8, 10.9, 12.9")
	c.Flags().StringVar(&friction, "friction", "0.12", "coefficient between the threads")
	c.Flags().StringVar(&head, "head-friction", "", "coefficient under the head; as between the threads when not given")
	c.Flags().Var(windowFlag{&window}, "window", "a written torque, to be doubted")
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
			return Answer{}, wrong(x.flag, "--%s: %q is no coefficient of friction; expected a number such as 0.12", x.flag, x.text)
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
	a := Answer{Source: []string{"VDI 2230 (2001/2003), 90 % of the yield strength, tension and twist together", "ISO 898-1 for proof and tensile loads, ISO 724 for the thread"}}
	a.Given.add("thread", "Thread", t.String())
	a.Given.add("class", "Property class", string(c))
	a.Given.add("friction", "Friction of the thread", friction)
	a.Given.add("head_friction", "Friction under the head", head)
	a.Result.add("preload", "Preload", load.Force)
	a.Result.add("torque", "Tightening torque", load.Torque)
	a.Result.add("proof_load", "Proof load", proof)
	a.Result.add("share_of_proof", "Preload of proof load", share)
	a.Result.add("tensile_load", "Least breaking load", tensile)
	a.Result.add("stress_area", "Stress area in mm²", decimal(t.StressArea(), 2))
	a.Say = []string{fmt.Sprintf("%s of class %s, friction %s: %s of preload at about %s", t, c, friction, Round(load.Force, 1), Round(load.Torque, 0))}
	if w.IsZero() {
		return a, nil
	}
	a.Given.add("window", "Written torque", w.String())
	doubt, err := fastening.Plausible(w, t, c, f)
	if err != nil {
		return Answer{}, err
	}
	a.Result.add("doubt", "Doubt about it", doubt)
	if doubt == "" {
		doubt = fmt.Sprintf("%s can be carried by the fastener named", w)
	}
	a.Say = append(a.Say, strings.TrimSpace(doubt))
	return a, nil
}
