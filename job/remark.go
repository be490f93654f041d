package job

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// Remark is what the recorded values mean, worked out anew from the card: a note, or a question that
// must be answered before the job goes on. It is never itself a record.
type Remark struct {
	Key   string         // names it within the job
	Stage procedures.Ref // where the values stand
	Text  string
	Ask   string // the question; empty for a note
}

// Answer returns the answer given to the remark's question, or nil.
func (c *Card) Answer(key string) *AnswerTo {
	for i := len(c.Answers) - 1; i >= 0; i-- {
		if c.Answers[i].Key == key {
			return &c.Answers[i]
		}
	}
	return nil
}

// owedAt is the stage whose signature waits for the answer: the first decision after the stage that
// raised the question, or that stage itself when it comes after the decisions.
func (c *Card) owedAt(r procedures.Ref) procedures.Ref {
	for i := range c.Stages {
		n := c.Stages[i].Node
		if !c.Plan.Before(r, n.Ref) {
			continue
		}
		if slices.ContainsFunc(n.Checks, func(k procedures.PlanCheck) bool { return k.Decision != "" }) {
			return n.Ref
		}
	}
	return r
}

// questionsOwed names the questions that stand between this stage and its signature.
func (c *Card) questionsOwed(s *StageCard) Refused {
	if !mayAsk(s.Node) {
		return nil
	}
	var out Refused
	for _, m := range c.Remarks() {
		if m.Ask == "" || c.Answer(m.Key) != nil || c.owedAt(m.Stage) != s.Node.Ref {
			continue
		}
		out = append(out, Blocker{Code: CodeQuestion, Stage: m.Stage, Item: m.Key, Text: m.Text + " " + m.Ask, WayOut: phrase.Of("job.remark.look-and-answer-the-question")})
	}
	return out
}

// mayAsk reports whether a stage can owe an answer at all: it decides, or it measures or tightens
// something the calculations read. It spares all others the working out.
func mayAsk(n *procedures.Node) bool {
	return n.Ref == (procedures.Ref{}) || slices.ContainsFunc(n.Checks, func(k procedures.PlanCheck) bool {
		return k.Decision != "" || k.Reckon != "" || k.Kind == procedures.Torque || unjudgedSet(&k)
	})
}

func (c *Card) decideAnswer(w AnswerQuestion, ctx Context) ([]Body, error) {
	i := slices.IndexFunc(c.Remarks(), func(m Remark) bool { return m.Key == w.Key && m.Ask != "" })
	if i < 0 {
		return nil, refuse(CodeUnknown, procedures.Ref{}, phrase.Of("job.remark.no-question-is-called", w.Key), phrase.Of("job.remark.choose-one-of-the-questions"))
	}
	var out Refused
	if !ctx.By.Qualified() {
		out = append(out, Blocker{Code: CodeRole, Text: phrase.Of("job.remark.a-mechanic-or-the-foreman-answers-what"), WayOut: phrase.Of("job.decidepeople.fetch-one-of-them")})
	}
	out = append(out, words(c.Remarks()[i].Stage, w.Answer, phrase.Of("job.remark.an-answer-needs-words"))...)
	if len(out) > 0 {
		return nil, out
	}
	return []Body{Answered{w.Key, strings.TrimSpace(w.Answer)}}, nil
}
