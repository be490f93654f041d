package job

import (
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// applyPeople folds the events of supervision, stopping and the ways out.
func (c *Card) applyPeople(mark Mark, body Body) error {
	switch b := body.(type) {
	case Swapped:
		return c.applySwapped(mark, b)
	case Checked:
		a, err := c.attempt(b.Stage, b.Attempt)
		if err != nil {
			return err
		}
		a.Checks = append(a.Checks, CheckedPull{mark, b})
	case CalledReal:
		return c.applyReal(mark, b)
	case Asked, Unsure, Helped, Blind:
		return c.applyBeside(mark, body)
	case Deviated:
		c.Deviations = append(c.Deviations, Deviation{mark, b})
	case SafeToLeave:
		c.Safe = &mark
	case Withheld:
		c.Holds = append(c.Holds, Withholding{Mark: mark, Withheld: b})
		c.Withheld = &c.Holds[len(c.Holds)-1]
	case Lifted:
		if c.Withheld == nil {
			return phrase.Error("job.foldpeople.lifts-a-withholding-that-is-not-there")
		}
		h := &c.Holds[len(c.Holds)-1]
		h.LiftedBy, h.Cure, h.CureWords = &mark, b.Cure, b.Words
		c.Withheld = nil
	case Declared:
		c.Declared = append(c.Declared, Declaration{mark, b})
	case Abandoned:
		c.Abandoned, c.AbandonedFor = &mark, b.Reason
	case Cancelled:
		c.Cancelled, c.CancelledFor = &mark, b.Reason
	default:
		return c.applyWords(mark, body)
	}
	return nil
}

// applyWords folds what is said rather than done.
func (c *Card) applyWords(mark Mark, body Body) error {
	switch b := body.(type) {
	case Advised:
		c.Advice = append(c.Advice, AdviceLine{Mark: mark, Advised: b})
	case AdviceDecided:
		for i := range c.Advice {
			if c.Advice[i].Seq == b.Advice {
				c.Advice[i].Decided, c.Advice[i].DecidedBy = &b, &mark
				return nil
			}
		}
		return phrase.Error("job.foldpeople.decides-advice-which-was-never-given", b.Advice)
	case Addendum:
		c.Addenda = append(c.Addenda, Note{mark, b.Text})
	case FollowUp:
		c.Acts = append(c.Acts, FollowUpAct{mark, b})
	case Answered:
		c.Answers = append(c.Answers, AnswerTo{mark, b})
	case TraitChanged:
		return c.applyTrait(mark, b)
	case SheetAdopted:
		return c.applySheet(mark, b)
	case Found:
		c.Finds = append(c.Finds, Find{mark, b})
	default:
		return phrase.Error("job.foldpeople.unknown-event", body)
	}
	return nil
}

// applyBeside folds what a second person does beside the doer.
func (c *Card) applyBeside(mark Mark, body Body) error {
	var at procedures.Ref
	switch b := body.(type) {
	case Asked:
		at = b.Stage
	case Unsure:
		at = b.Stage
	case Helped:
		at = b.Stage
	case Blind:
		at = b.Stage
	}
	s := c.Stage(at)
	if s == nil {
		return phrase.Error("job.fold.names-the-stage-which-this-vehicle-does", at)
	}
	if len(s.Attempts) == 0 {
		s.Attempts = append(s.Attempts, Attempt{No: 1, OpenedSeq: mark.Seq})
	}
	a := s.Current()
	switch b := body.(type) {
	case Asked:
		a.Questions = append(a.Questions, Question{mark, b})
	case Unsure:
		a.Unsure, a.UnsureNote = &mark, b.Note
	case Helped:
		a.Unsure = nil
	case Blind:
		a.Blinds = append(a.Blinds, BlindValue{mark, b})
	}
	return nil
}

// applySwapped exchanges the standing values of a check between left and right.
func (c *Card) applySwapped(mark Mark, b Swapped) error {
	l, r := c.Stage(procedures.Ref{Stage: b.Stage, Side: procedures.Left}), c.Stage(procedures.Ref{Stage: b.Stage, Side: procedures.Right})
	if l == nil || r == nil || l.Current() == nil || r.Current() == nil {
		return phrase.Error("job.foldpeople.exchanges-sides-of-which-does-not-have", b.Stage)
	}
	left, right := l.Current(), r.Current()
	if left.Signed != nil || right.Signed != nil {
		return phrase.Error("job.foldpeople.exchanges-sides-of-after-it-was-signed", b.Stage)
	}
	fromLeft, fromRight := left.take(b.Check, mark.Seq), right.take(b.Check, mark.Seq)
	left.put(fromRight, l.Node.Ref, left.No)
	right.put(fromLeft, r.Node.Ref, right.No)
	c.Swaps = append(c.Swaps, Swap{mark, b})
	return nil
}

// take marks the standing entries of a check as replaced and returns copies of them.
func (a *Attempt) take(check string, by uint32) []Entry {
	var out []Entry
	for i := range a.Entries {
		if e := &a.Entries[i]; e.Check == check && e.Counts() {
			out = append(out, *e)
			e.ReplacedBy = by
		}
	}
	return out
}

func (a *Attempt) put(entries []Entry, at procedures.Ref, no int) {
	for _, e := range entries {
		e.Stage, e.Attempt = at, no
		a.Entries = append(a.Entries, e)
	}
}
