package bay

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// stage writes one stage with all its attempts.
func (b *recordText) stage(s *job.StageCard) {
	b.part(sideTitle(s.Node))
	words := sentence(phrase.Word(s.Status.String()))
	if s.Node.Stage.Hold {
		words += phrase.Of("bay.recordstage.hold-point")
	}
	role := draw.Text
	switch s.Status {
	case job.Complete:
		role = draw.Good
	case job.Stale, job.SecondOwed:
		role = draw.Warn
	}
	b.say(role, 0, "%s", words)
	if s.StaleBy != nil {
		b.say(draw.Warn, 2, "%s", phrase.Of("bay.recordstage.stale", phrase.Capital(b.c.StaleWhy(s.Node.Ref))))
	}
	for i := range s.Attempts {
		b.attempt(s, &s.Attempts[i], len(s.Attempts))
	}
	if len(s.Attempts) == 0 {
		b.say(draw.Faint, 0, "%s", phrase.Of("bay.recordstage.nothing-was-entered"))
	}
}

func (b *recordText) title(r procedures.Ref) string {
	if s := b.c.Stage(r); s != nil {
		return job.Title(s.Node)
	}
	return r.String()
}

func (b *recordText) attempt(s *job.StageCard, a *job.Attempt, of int) {
	if of > 1 || a.Reason != "" {
		text := phrase.Of("bay.recordstage.attempt-of", a.No, of)
		if a.Reason != "" {
			text += ": " + a.Reason
		}
		b.say(draw.Title, 2, "%s", text)
	}
	b.tools = nil
	for i := range s.Node.Checks {
		b.check(s, a, &s.Node.Checks[i])
	}
	for _, text := range b.tools {
		b.say(draw.Faint, 4, "%s", phrase.Of("bay.recordstage.tool", text))
	}
	for _, q := range a.Questions {
		b.say(draw.Text, 4, "%s", phrase.Of("bay.recordstage.question-asked-aloud-by-of", markWords(q.Mark), q.Whom.Name, phrase.Word(q.Result)))
	}
	for _, x := range a.Checks {
		moved := phrase.Of("bay.recordstage.did-not-move")
		if x.Moved {
			moved = phrase.Of("bay.recordstage.it-moved")
		}
		b.say(draw.Text, 4, "%s", phrase.Of("bay.recordstage.tried-by-a-second-person-on", itemWords(x.Item), withTool(x.Instrument), b.e.number(x.Value), moved, markWords(x.Mark)))
	}
	for _, x := range a.Blinds {
		text := phrase.Of("bay.recordstage.measured-again-without-sight-of-the-first", withTool(x.Instrument), x.Item, b.e.number(x.Value))
		if d, agree := b.c.Agreement(x); agree {
			text += phrase.Of("bay.recordstage.agrees-within-the-errors-apart", b.e.number(d))
		} else if !d.IsZero() {
			text += phrase.Of("bay.recordstage.does-not-agree-apart", b.e.number(d))
		}
		b.say(draw.Text, 4, "%s; %s", text, markWords(x.Mark))
	}
	if a.Unsure != nil || a.UnsureNote != "" {
		b.say(draw.Warn, 4, "%s", phrase.Of("bay.recordstage.somebody-was-fetched", a.UnsureNote))
	}
	b.signatures(a)
}

// withTool is " with the instrument", or nothing.
func withTool(in *register.Instrument) string {
	if in == nil {
		return ""
	}
	return phrase.Of("bay.recordstage.with", in.ID)
}

// itemWords is the item of a check as people say it.
func itemWords(item string) string {
	if item == procedures.ItemNew {
		return phrase.Of("bay.recordstage.new-ones")
	}
	return item
}

func (b *recordText) signatures(a *job.Attempt) {
	if a.Signed != nil {
		b.say(draw.Good, 4, "%s", phrase.Of("bay.recordstage.signed", markWords(*a.Signed)))
	} else if len(a.Entries) > 0 {
		b.say(draw.Warn, 4, "%s", phrase.Of("bay.recordstage.not-signed"))
	}
	switch {
	case a.Countersigned != nil:
		b.say(draw.Good, 4, "%s", phrase.Of("bay.recordstage.countersigned", markWords(*a.Countersigned)))
	case a.NoSecond:
		b.say(draw.Warn, 4, "%s", phrase.Of("bay.recordstage.no-second-person-the-workshop-had-nobody"))
	case a.Owed:
		b.say(draw.Warn, 4, "%s", phrase.Of("bay.recordstage.second-person-owed-nobody-has-countersigned"))
	}
}
