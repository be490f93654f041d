package bay

import (
	"fmt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// wordsMenu is what is said to the customer, and after the release to the record.
func (s *jobScreen) wordsMenu(*Env) Action {
	advise, addendum, decide := "", "", ""
	if s.card.Released != nil {
		advise = phrase.Of("bay.jobwords.the-vehicle-has-been-released-add-an")
	} else {
		addendum = phrase.Of("bay.jobwords.an-addendum-is-for-after-the-release")
	}
	open := s.undecided()
	if len(open) == 0 {
		decide = phrase.Of("bay.jobwords.no-advice-waits-for-an-answer")
	}
	return s.menu(phrase.Of("bay.jobwords.words"), nil, []choice{
		{option{text: phrase.Of("bay.jobwords.advice-to-the-customer"), off: advise}, s.advise},
		{option{text: phrase.Of("bay.jobwords.the-customers-answer-to-advice-waiting", len(open)), off: decide}, s.decideAdvice},
		{option{text: phrase.Of("bay.jobwords.addendum-after-the-release"), off: addendum}, func(*Env) Action {
			return s.words(phrase.Of("bay.jobwords.addendum"), nil, phrase.Of("bay.jobwords.type-what-is-to-be-added"), func(e *Env, w string) Action { return s.do(e, job.Append{Text: w}) })
		}},
		{option{text: phrase.Of("bay.jobwords.read-all-advice-and-addenda")}, s.wordsPane},
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
	return s.pick(phrase.Of("bay.jobwords.advice-how-urgent"), nil, job.Urgencies(), func(_ *Env, urgency string) Action {
		return s.words(phrase.Of("bay.jobwords.advice", urgency), nil, phrase.Of("bay.jobwords.type-the-advice-as-the-customer-is"), func(e *Env, w string) Action {
			return s.do(e, job.Advise{Text: w, Urgency: urgency})
		})
	})
}

// decideAdvice takes what the customer said to one line.
func (s *jobScreen) decideAdvice(*Env) Action {
	var rows []choice
	for _, a := range s.undecided() {
		rows = append(rows, choice{option{text: a.Text, note: phrase.Word(a.Urgency)}, func(*Env) Action {
			return s.pick(phrase.Of("bay.jobwords.what-did-the-customer-say"), []line{{text: a.Text}}, job.AdviceAnswers(), func(_ *Env, answer string) Action {
				form := newForm(phrase.Of("bay.jobwords.customer", phrase.Word(answer)), []line{{text: a.Text}}, []formField{
					{label: phrase.Of("bay.jobwords.own-words"), hint: phrase.Of("bay.jobwords.in-the-customers-own-words")},
					{label: phrase.Of("bay.jobwords.who-decided"), hint: phrase.Of("bay.jobwords.who-and-how-he-was-told-at")},
				})
				return s.then(form, func(e *Env, v any) Action {
					f := v.([]string)
					want := job.DecideAdvice{Advice: a.Seq, Answer: answer, Words: f[0], ByWhom: f[1]}
					if e.Person.Qualified() {
						return s.do(e, want)
					}
					return s.byQualified(e, phrase.Of("bay.jobwords.customers-answer"), []line{{text: phrase.Word(answer) + ": " + f[0]}}, want)
				})
			})
		}})
	}
	return s.menu(phrase.Of("bay.jobwords.which-advice"), nil, rows)
}

// wordsPane shows every line of advice with its answer, and the addenda.
func (s *jobScreen) wordsPane(e *Env) Action {
	var out []line
	for _, a := range s.card.Advice {
		text := phrase.Of("bay.jobwords.not-decided-yet")
		if a.Decided != nil {
			text = fmt.Sprintf("%s: %q, %s", phrase.Word(a.Decided.Answer), a.Decided.Words, a.Decided.ByWhom)
		}
		out = append(out, line{head: phrase.Word(a.Urgency), indent: 14, text: a.Text}, line{text: "              " + text, indent: 14})
	}
	for _, n := range s.card.Addenda {
		out = append(out, line{head: phrase.Of("bay.jobwords.addendum-2"), indent: 14, text: since(e.Now, n.At) + " " + n.By.Name + ": " + n.Text})
	}
	if len(out) == 0 {
		out = []line{{text: phrase.Of("bay.jobwords.no-advice-and-no-addendum")}}
	}
	return Ask{Name: "words", Dialog: newPane(phrase.Of("bay.jobwords.advice-and-addenda"), out...)}
}

// swapOff says why nothing can be exchanged here.
func (s *jobScreen) swapOff() string {
	if s.at.Side == procedures.NoSide {
		return phrase.Of("bay.jobwords.this-stage-has-no-sides-go-to")
	}
	return ""
}

// swap exchanges a whole set between left and right: one correction instead of eight.
func (s *jobScreen) swap(*Env) Action {
	var rows []choice
	for i := range s.stage().Node.Checks {
		pc := &s.stage().Node.Checks[i]
		rows = append(rows, choice{option{text: pc.Title}, func(*Env) Action {
			return s.words(phrase.Of("bay.jobwords.exchange-left-and-right-why"), []line{{text: phrase.Of("bay.jobwords.every-value-changes-its-side-the-first", pc.Title)}}, phrase.Of("bay.jobwords.an-exchange-of-sides-needs-a-reason"), func(e *Env, w string) Action {
				return s.do(e, job.SwapSides{Stage: s.at.Stage, Check: pc.ID, Reason: w})
			})
		}})
	}
	return s.menu(phrase.Of("bay.jobwords.which-set-was-typed-on-the-wrong"), nil, rows)
}
