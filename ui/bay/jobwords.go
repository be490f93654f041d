package bay

import (
	"fmt"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// wordsMenu is what is said to the customer, and after the release to the record.
func (s *jobScreen) wordsMenu(*Env) Action {
	advise, addendum, decide := "", "", ""
	if s.card.Released != nil {
		advise = "The vehicle has been released: add an addendum"
	} else {
		addendum = "An addendum is for after the release; until then the entry itself is corrected"
	}
	open := s.undecided()
	if len(open) == 0 {
		decide = "No advice waits for an answer"
	}
	return s.menu("Words", nil, []choice{
		{option{text: "advice to the customer", off: advise}, s.advise},
		{option{text: fmt.Sprintf("the customer's answer to advice (%d waiting)", len(open)), off: decide}, s.decideAdvice},
		{option{text: "addendum after the release", off: addendum}, func(*Env) Action {
			return s.words("Addendum", nil, "Type what is to be added", func(e *Env, w string) Action { return s.do(e, job.Append{Text: w}) })
		}},
		{option{text: "read all advice and addenda"}, s.wordsPane},
	})
}

func (s *jobScreen) undecided() []job.AdviceLine {
	var out []job.AdviceLine
	for _, a := range s.card.Advice {
		if a.Decided == nil {
			out = append(out, a)
		}
	}
	return out
}

func (s *jobScreen) advise(*Env) Action {
	return s.pick("Advice: how urgent?", nil, job.Urgencies(), func(_ *Env, urgency string) Action {
		return s.words("Advice: "+urgency, nil, "Type the advice as the customer is to read it", func(e *Env, w string) Action {
			return s.do(e, job.Advise{Text: w, Urgency: urgency})
		})
	})
}

// decideAdvice takes what the customer said to one line.
func (s *jobScreen) decideAdvice(*Env) Action {
	var rows []choice
	for _, a := range s.undecided() {
		rows = append(rows, choice{option{text: a.Text, note: a.Urgency}, func(*Env) Action {
			return s.pick("What did the customer say?", []line{{text: a.Text}}, job.AdviceAnswers(), func(_ *Env, answer string) Action {
				form := newForm("Customer: "+answer, []line{{text: a.Text}}, []formField{
					{label: "own words", hint: "in the customer's own words"},
					{label: "who decided", hint: "who, and how he was told: at the counter, by telephone"},
				})
				return s.then(form, func(e *Env, v any) Action {
					f := v.([]string)
					want := job.DecideAdvice{Advice: a.Seq, Answer: answer, Words: f[0], ByWhom: f[1]}
					if e.Person.Qualified() {
						return s.do(e, want)
					}
					return s.byQualified(e, "Customer's answer", []line{{text: answer + ": " + f[0]}}, want)
				})
			})
		}})
	}
	return s.menu("Which advice?", nil, rows)
}

// wordsPane shows every line of advice with its answer, and the addenda.
func (s *jobScreen) wordsPane(e *Env) Action {
	var out []line
	for _, a := range s.card.Advice {
		text := "not decided yet"
		if a.Decided != nil {
			text = fmt.Sprintf("%s: %q, %s", a.Decided.Answer, a.Decided.Words, a.Decided.ByWhom)
		}
		out = append(out, line{head: a.Urgency, indent: 14, text: a.Text}, line{text: "              " + text, indent: 14})
	}
	for _, n := range s.card.Addenda {
		out = append(out, line{head: "addendum", indent: 14, text: since(e.Now, n.At) + " " + n.By.Name + ": " + n.Text})
	}
	if len(out) == 0 {
		out = []line{{text: "No advice and no addendum."}}
	}
	return Ask{Name: "words", Dialog: newPane("Advice and addenda", out...)}
}

// swapOff says why nothing can be exchanged here.
func (s *jobScreen) swapOff() string {
	if s.at.Side == procedures.NoSide {
		return "This stage has no sides; go to the stage of the set"
	}
	return ""
}

// swap exchanges a whole set between left and right: one correction instead of eight.
func (s *jobScreen) swap(*Env) Action {
	var rows []choice
	for i := range s.stage().Node.Checks {
		pc := &s.stage().Node.Checks[i]
		rows = append(rows, choice{option{text: pc.Title}, func(*Env) Action {
			return s.words("Exchange left and right: why?", []line{{text: pc.Title + ": every value changes its side. The first values stay in the record."}}, "An exchange of sides needs a reason", func(e *Env, w string) Action {
				return s.do(e, job.SwapSides{Stage: s.at.Stage, Check: pc.ID, Reason: w})
			})
		}})
	}
	return s.menu("Which set was typed on the wrong side?", nil, rows)
}
