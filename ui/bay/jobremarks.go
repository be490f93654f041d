package bay

import (
	"fmt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// remarked keeps what the figures of a stage say, worked out once for each card.
type remarked struct {
	card *job.Card
	at   procedures.Ref
	list []job.Remark
}

// said is what the recorded figures mean at the stage shown.
func (s *jobScreen) said() []job.Remark {
	if s.remark.card != s.card || s.remark.at != s.at {
		s.remark = remarked{s.card, s.at, append(s.card.RemarksAt(s.at), s.measuredBefore()...)}
	}
	return s.remark.list
}

// unanswered are the questions without an answer.
func (s *jobScreen) unanswered() []job.Remark {
	var out []job.Remark
	for _, m := range s.said() {
		if m.Ask != "" && s.card.Answer(m.Key) == nil {
			out = append(out, m)
		}
	}
	return out
}

// remarkLines is the short line on the stage: how many questions, or the first note.
func (s *jobScreen) remarkLines(t *draw.Theme, w int) []string {
	all := s.said()
	if len(all) == 0 {
		return nil
	}
	asked := s.unanswered()
	if len(asked) == 0 {
		more := ""
		if len(all) > 1 {
			more = fmt.Sprintf(" (R: %d)", len(all))
		}
		return []string{t.Style(draw.Faint, t.Truncate(t.Plain(phrase.Of("bay.jobremarks.figures", all[0].Text)), w-draw.Width(more))+more)}
	}
	text := phrase.Of("bay.jobremarks.r-the-figures-raise", phrase.Count("count.question", len(asked)), asked[0].Text)
	return []string{t.Style(draw.Warn, t.Truncate(t.Plain(text), w-1)+" ")}
}

// remarks shows what the figures say; a question among it is answered by its number.
func (s *jobScreen) remarks(*Env) Action {
	var text []line
	for _, m := range s.said() {
		answer := s.card.Answer(m.Key)
		if m.Ask != "" && answer == nil {
			continue
		}
		text = append(text, line{head: "-", indent: 3, text: sentence(m.Text)})
		if answer != nil {
			text = append(text, line{role: draw.Faint, text: phrase.Of("bay.jobremarks.answered-by", answer.By.Name, answer.Answer), indent: 3})
		}
	}
	asked := s.unanswered()
	if len(asked) == 0 {
		if len(text) == 0 {
			text = []line{{text: phrase.Of("bay.jobremarks.the-figures-of-this-stage-say-nothing")}}
			if s.allIn() {
				text = []line{{text: phrase.Of("bay.jobremarks.nothing-is-worked-out-of-the-values")}}
			}
		}
		return Ask{Name: "remarks", Dialog: newPane(phrase.Of("bay.jobremarks.what-the-figures-say"), text...)}
	}
	rows := make([]choice, len(asked))
	for i, m := range asked {
		rows[i] = choice{option{text: sentence(m.Text), note: m.Ask}, func(*Env) Action { return s.askAnswer(m) }}
	}
	return s.menu(phrase.Of("bay.jobremarks.the-figures-ask-which-question-is-answered"), text, rows)
}

// askAnswer takes the answer in words, by somebody who may give it.
func (s *jobScreen) askAnswer(m job.Remark) Action {
	return s.words(phrase.Of("bay.jobremarks.answer"), []line{{text: sentence(m.Text)}, {role: draw.Title, text: m.Ask}}, phrase.Of("bay.jobremarks.look-and-type-the-answer-in-a"), func(e *Env, w string) Action {
		want := job.AnswerQuestion{Key: m.Key, Answer: w}
		if e.Person.Qualified() {
			return s.do(e, want)
		}
		return s.byQualified(e, phrase.Of("bay.jobremarks.who-answers"), []line{{text: w}}, want)
	})
}

// otherQualified is a mechanic or foreman other than that person.
func (s *jobScreen) otherQualified(but string) func(register.Person) bool {
	return func(p register.Person) bool { return p.Qualified() && p.ID != but }
}
