package bay

import (
	"fmt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// stage writes one stage with all its attempts.
func (b *recordText) stage(s *job.StageCard) {
	b.part(sideTitle(s.Node))
	words := sentence(s.Status.String())
	if s.Node.Stage.Hold {
		words += "; hold point"
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
		b.say(draw.Warn, 2, "It rests on %q, which was done again afterwards.", b.title(*s.StaleBy))
	}
	for i := range s.Attempts {
		b.attempt(s, &s.Attempts[i], len(s.Attempts))
	}
	if len(s.Attempts) == 0 {
		b.say(draw.Faint, 0, "Nothing was entered.")
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
		text := fmt.Sprintf("Attempt %d of %d", a.No, of)
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
		b.say(draw.Faint, 4, "  Tool %s", text)
	}
	for _, q := range a.Questions {
		b.say(draw.Text, 4, "  Question asked aloud by %s of %s: %s", markWords(q.Mark), q.Whom.Name, q.Result)
	}
	for _, x := range a.Checks {
		moved := "did not move"
		if x.Moved {
			moved = "it MOVED"
		}
		b.say(draw.Text, 4, "  Tried by a second person on %s%s: %s, %s; %s", itemWords(x.Item), withTool(x.Instrument), b.e.number(x.Value), moved, markWords(x.Mark))
	}
	for _, x := range a.Blinds {
		text := fmt.Sprintf("  Measured again%s without sight of the first, %s: %s", withTool(x.Instrument), x.Item, b.e.number(x.Value))
		if d, agree := b.c.Agreement(x); agree {
			text += ", agrees within the errors (" + b.e.number(d) + " apart)"
		} else if !d.IsZero() {
			text += ", does NOT agree (" + b.e.number(d) + " apart)"
		}
		b.say(draw.Text, 4, "%s; %s", text, markWords(x.Mark))
	}
	if a.Unsure != nil || a.UnsureNote != "" {
		b.say(draw.Warn, 4, "  Somebody was fetched: %s", a.UnsureNote)
	}
	b.signatures(a)
}

// withTool is " with the instrument", or nothing.
func withTool(in *register.Instrument) string {
	if in == nil {
		return ""
	}
	return " with " + in.ID
}

// itemWords is the item of a check as people say it.
func itemWords(item string) string {
	if item == procedures.ItemNew {
		return "new ones"
	}
	return item
}

func (b *recordText) signatures(a *job.Attempt) {
	if a.Signed != nil {
		b.say(draw.Good, 4, "  Signed: %s", markWords(*a.Signed))
	} else if len(a.Entries) > 0 {
		b.say(draw.Warn, 4, "  Not signed.")
	}
	switch {
	case a.Countersigned != nil:
		b.say(draw.Good, 4, "  Countersigned: %s", markWords(*a.Countersigned))
	case a.NoSecond:
		b.say(draw.Warn, 4, "  NO SECOND PERSON: the workshop had nobody else.")
	case a.Owed:
		b.say(draw.Warn, 4, "  SECOND PERSON OWED: nobody has countersigned.")
	}
}
