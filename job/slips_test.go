package job_test

import (
	"slices"
	"strings"
	"testing"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/job/walk"
	"bay.example/pawl/procedures"
)

// TestOdometerReadAtReceptionIsHeldAgainstTheOpening: a reading far from the one the job was opened
// with is a question, and the correction takes it away.
func TestOdometerReadAtReceptionIsHeldAgainstTheOpening(t *testing.T) {
	b, _ := openReal(t, nil)
	i := slices.IndexFunc(b.plan.Nodes, func(n procedures.Node) bool {
		return slices.ContainsFunc(n.Checks, func(k procedures.PlanCheck) bool { return k.Reckon == "odometer" })
	})
	at := b.plan.Nodes[i].Ref.String()
	for value, want := range map[string]string{"430": "lower than 61430 km", "614300": "more than", "61442": ""} {
		c := *b
		c.enter(b.person("M04"), at, "odometer", "", value, "")
		text := remarks(c.card)
		if (want == "") != (text == "") || !strings.Contains(text, want) {
			t.Errorf("%s: %q", value, text)
		}
		if want == "" {
			continue
		}
		c.must(b.person("M04"), job.Enter{Stage: ref(at), Check: "odometer", Value: "61442", Reason: job.ReasonSlip})
		if text := remarks(c.card); text != "" {
			t.Errorf("after the correction: %s", text)
		}
	}
}

// TestDecimalSlipInASetWithoutAWindow asks of the one diameter of a drum that is a tenth of the others
// before the decision is signed.
func TestDecimalSlipInASetWithoutAWindow(t *testing.T) {
	ps, ss, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	p := ps[slices.IndexFunc(ps, func(p *procedures.Procedure) bool { return p.ID == "rear-drum-shoes" })]
	plan, err := procedures.Resolve(p, ss[slices.IndexFunc(ss, func(s *procedures.Sheet) bool { return s.ServesProcedure(p.ID) })], nil)
	if err != nil {
		t.Fatal(err)
	}
	b, w := openReal(t, nil)
	b.plan, b.card = plan, nil
	for i := range b.reg.Instruments {
		if b.reg.Instruments[i].Kind == register.Micrometer {
			b.reg.Instruments[i].High = q("300 mm") // the walker takes the first that reads a lining
		}
	}
	b.must(b.person("F02"), job.Open{Number: 7, Vehicle: register.Vehicle{ID: "9", Demo: true}, Complaint: "grinds", Odometer: "61430", Plan: plan})
	w.Choose = func(_ *job.Card, at procedures.Ref, pc *procedures.PlanCheck, item string) string {
		if pc.ID != "diameter" || at != ref("drum-measured/left") {
			return ""
		}
		return map[string]string{"mouth, upright": "203.40", "mouth, level": "204.20", "back, upright": "20.35", "back, level": "203.90"}[item]
	}
	asked := func(c *job.Card) bool { return strings.Contains(remarks(c), "decimal slip") }
	b.walk(w, asked)
	if !asked(b.card) || !strings.Contains(remarks(b.card), "20.35 mm beside 203.90 mm") {
		t.Fatalf("remarks: %s", remarks(b.card))
	}
	b.walk(&walk.Walker{Crew: w.Crew, Register: w.Register}, nil)
	if !slices.ContainsFunc(b.card.Answers, func(a job.AnswerTo) bool { return strings.HasPrefix(a.Key, "set/diameter/drum-measured/left") }) {
		t.Errorf("it was never answered: %+v", b.card.Answers)
	}
}
