package job

import (
	"cmp"
	"slices"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// Fold works out the job from its events. It is total over well-formed histories: an event that
// Decide could not have written after those before it is an error that names its number.
func Fold(plan *procedures.Plan, events []Event) (*Card, error) { return fold(plan, events, nil) }

// fold is Fold; stored are the bytes of the events where they are at hand.
func fold(plan *procedures.Plan, events []Event, stored [][]byte) (*Card, error) {
	if len(events) == 0 {
		return nil, phrase.Error("job.fold.a-job-without-events-is-no-job")
	}
	first, ok := events[0].Body.(Opened)
	if !ok {
		return nil, phrase.Error("job.fold.event-1-does-not-open-the-job")
	}
	c := &Card{Plan: plan, Opened: first, OpenedBy: events[0].By, OpenedAt: events[0].At,
		Events: slices.Clip(events), Stages: make([]StageCard, len(plan.Nodes)), Head: Origin(first.Number)}
	for i := range plan.Nodes {
		c.Stages[i].Node = &plan.Nodes[i]
	}
	if err := c.take(0, events, stored); err != nil {
		return nil, err
	}
	return c, nil
}

// With returns the card after some more events; the card itself stays as it is. It says the same as
// Fold over the whole, in the time the new events take.
func (c *Card) With(events []Event) (*Card, error) {
	next := c.clone()
	next.Events = append(slices.Clip(c.Events), events...)
	if err := next.take(len(c.Events), events, nil); err != nil {
		return nil, err
	}
	return next, nil
}

// take applies events that follow the first done ones, and works out where the job stands then. The
// digests are taken of the stored bytes where there are any.
func (c *Card) take(done int, events []Event, stored [][]byte) error {
	for i, e := range events {
		if e.Seq != uint32(done+i+1) {
			return phrase.Error("job.fold.event-stands-in-place", e.Seq, done+i+1)
		}
		if err := c.apply(e); err != nil {
			return phrase.Error("job.fold.event", e.Seq, err)
		}
		if stored != nil {
			c.Head = Link(c.Head, stored[i])
			continue
		}
		data, err := Encode(e)
		if err != nil {
			return err
		}
		c.Head = Link(c.Head, data)
	}
	c.settle()
	c.meant = &meant{}
	return nil
}

// clone copies everything apply and settle change.
func (c *Card) clone() *Card {
	next := *c
	next.Stages = slices.Clone(c.Stages)
	for i := range next.Stages {
		s := &next.Stages[i]
		s.Attempts = slices.Clone(s.Attempts)
		for k := range s.Attempts {
			a := &s.Attempts[k]
			a.Entries = slices.Clone(a.Entries)
			a.Checks, a.Questions, a.Blinds = slices.Clip(a.Checks), slices.Clip(a.Questions), slices.Clip(a.Blinds)
		}
	}
	p := &next.People
	p.Holds, p.Advice = slices.Clone(p.Holds), slices.Clone(p.Advice)
	p.Declared, p.Deviations, p.Addenda, p.Acts = slices.Clip(p.Declared), slices.Clip(p.Deviations), slices.Clip(p.Addenda), slices.Clip(p.Acts)
	p.Answers, p.Swaps, p.Finds = slices.Clip(p.Answers), slices.Clip(p.Swaps), slices.Clip(p.Finds)
	p.Traits, p.Sheets = slices.Clip(p.Traits), slices.Clip(p.Sheets)
	if p.Withheld != nil {
		p.Withheld = &p.Holds[len(p.Holds)-1]
	}
	return &next
}

func (c *Card) apply(e Event) error {
	mark := Mark{e.Seq, e.By, e.At}
	switch b := e.Body.(type) {
	case Opened:
		if e.Seq != 1 {
			return phrase.Error("job.fold.opens-the-job-a-second-time")
		}
	case Entered:
		return c.applyEntered(mark, b)
	case Signed:
		if s := c.Stage(b.Stage); s != nil && len(s.Attempts) == 0 && b.Attempt == 1 {
			s.Attempts = append(s.Attempts, Attempt{No: 1, OpenedSeq: e.Seq}) // a stage that asks for nothing
		}
		a, err := c.attempt(b.Stage, b.Attempt)
		if err != nil {
			return err
		}
		if a.Signed != nil {
			return phrase.Error("job.fold.signs-a-second-time", b.Stage)
		}
		a.Signed, a.NoSecond, a.Owed = &mark, b.NoSecond, b.Owed
	case Countersigned:
		a, err := c.attempt(b.Stage, b.Attempt)
		if err != nil {
			return err
		}
		if a.Signed == nil || a.Countersigned != nil {
			return phrase.Error("job.fold.countersigns-which-is-not-waiting-for-it", b.Stage)
		}
		a.Countersigned = &mark
	case Reopened:
		return c.applyReopened(mark, b)
	case Broken:
		a, err := c.attempt(b.Stage, b.Attempt)
		if err != nil {
			return err
		}
		a.breakPass(c.Stage(b.Stage).Node, b.Check)
	case Paused:
		c.Paused, c.PauseFor, c.Stop, c.Safe = &mark, b.Note, b, nil
	case Resumed:
		c.Paused, c.PauseFor = nil, ""
	case Released:
		if c.Released != nil {
			return phrase.Error("job.fold.releases-the-vehicle-a-second-time")
		}
		c.Released = &Release{mark, b.Independent, b.Note, cmp.Or(b.Outcome, OutcomeReleased)}
	default:
		return c.applyPeople(mark, e.Body)
	}
	return nil
}

// attempt returns the attempt with that number, which must be the newest of its stage.
func (c *Card) attempt(r procedures.Ref, no int) (*Attempt, error) {
	s := c.Stage(r)
	if s == nil {
		return nil, phrase.Error("job.fold.names-the-stage-which-this-vehicle-does", r)
	}
	if a := s.Current(); a != nil && a.No == no {
		return a, nil
	}
	return nil, phrase.Error("job.fold.names-attempt-at-which-is-not-the", no, r)
}

func (c *Card) applyEntered(mark Mark, b Entered) error {
	s := c.Stage(b.Stage)
	if s == nil {
		return phrase.Error("job.fold.names-the-stage-which-this-vehicle-does", b.Stage)
	}
	pc := s.Node.Check(b.Check)
	if pc == nil || !slices.Contains(pc.Items, b.Item) {
		return phrase.Error("job.fold.names-which-does-not-ask-for", b.Check, b.Item, b.Stage)
	}
	if len(s.Attempts) == 0 && b.Attempt == 1 {
		s.Attempts = append(s.Attempts, Attempt{No: 1, OpenedSeq: mark.Seq})
	}
	a, err := c.attempt(b.Stage, b.Attempt)
	if err != nil {
		return err
	}
	if a.Signed != nil {
		return phrase.Error("job.fold.adds-to-after-it-was-signed", b.Stage)
	}
	old := a.Entry(b.Check, b.Item)
	switch {
	case b.Replaces == 0 && old != nil:
		return phrase.Error("job.fold.enters-a-second-time-without-naming-event", b.Check, b.Item, old.Seq)
	case b.Replaces != 0 && (old == nil || old.Seq != b.Replaces):
		return phrase.Error("job.fold.corrects-event-which-is-not-the-value", b.Replaces)
	case old != nil:
		old.ReplacedBy = mark.Seq
	}
	a.Entries = append(a.Entries, Entry{Mark: mark, Entered: b})
	return nil
}

func (c *Card) applyReopened(mark Mark, b Reopened) error {
	s := c.Stage(b.Stage)
	if s == nil || len(s.Attempts)+1 != b.Attempt || len(s.Attempts) == 0 {
		return phrase.Error("job.fold.opens-attempt-at-which-is-not-the", b.Attempt, b.Stage)
	}
	s.Attempts = append(s.Attempts, Attempt{No: b.Attempt, Reason: b.Reason, OpenedSeq: mark.Seq})
	c.disturb(s.Node, b.Stage)
	return nil
}

// disturb makes stale what physically rests on a stage that is done again, and what rests on that.
func (c *Card) disturb(n *procedures.Node, by procedures.Ref) {
	seen := map[procedures.Ref]bool{by: true}
	var walk func(*procedures.Node)
	walk = func(n *procedures.Node) {
		for _, r := range n.Disturbs {
			if seen[r] {
				continue
			}
			seen[r] = true
			t := c.Stage(r)
			if a := t.Current(); a != nil && (a.Signed != nil || len(a.Entries) > 0) && !a.stale {
				a.stale, a.staleBy = true, by
			}
			walk(t.Node)
		}
	}
	walk(n)
}

// settle works out the status of every stage and the standing states.
func (c *Card) settle() {
	applies := c.Plan.Applicability(c.answer)
	c.keepClosers(applies)
	safe := c.makeSafe()
	for i := range c.Stages {
		s := &c.Stages[i]
		s.Settled, s.StaleBy = false, nil
		before := true
		for _, r := range s.Node.After {
			before = before && c.Stage(r).Settled
		}
		a := s.Current()
		switch {
		case applies[i] == procedures.NotApplicable, c.leftBehind(s, safe):
			s.Status = LeftOut
			s.Settled = before
			continue
		case applies[i] == procedures.Undecided && !safe[s.Node.Ref]: // what makes safe waits for no answer that never comes
			s.Status = Undecided
		case a == nil || (a.Signed == nil && len(a.Entries) == 0 && !a.stale):
			s.Status = Waiting
			if before || s.Node.Stage.Early {
				s.Status = Ready
			}
		case a.stale:
			s.Status, s.StaleBy = Stale, &a.staleBy
		case a.Signed == nil:
			s.Status = Begun
		case a.Owed && a.Countersigned == nil:
			s.Status = SecondOwed
		default:
			s.Status = Complete
			s.Settled = before
		}
	}
	c.standing()
}

// keepClosers keeps the stages that put back a state in the job when a later decision or finding
// would leave every one of them out although the state was set: what was opened can always be shut.
func (c *Card) keepClosers(applies []procedures.Applies) {
	closers := map[procedures.StateRef][]int{}
	for i := range c.Stages {
		for _, cl := range c.Stages[i].Node.Clears {
			closers[cl.State] = append(closers[cl.State], i)
		}
	}
	for state, stages := range closers {
		left := slices.ContainsFunc(stages, func(i int) bool { return applies[i] != procedures.NotApplicable })
		if left || !c.everSet(state) {
			continue
		}
		for _, i := range stages {
			applies[i] = procedures.Applicable
		}
	}
}

// leftBehind reports whether ending the work leaves a stage out: it is not part of the make-safe
// branch and was not finished before.
func (c *Card) leftBehind(s *StageCard, safe map[procedures.Ref]bool) bool {
	if safe == nil || safe[s.Node.Ref] {
		return false
	}
	a := s.Current()
	return a == nil || a.Signed == nil || a.stale || (a.Owed && a.Countersigned == nil)
}

// answer looks up a choice in the newest attempt that has one; an answer in doubt because its stage
// is being done again still shapes the job until another is given.
func (c *Card) answer(r procedures.Ref, check string) (string, bool) {
	s := c.Stage(r)
	for i := len(s.Attempts) - 1; i >= 0; i-- {
		a := &s.Attempts[i]
		if e := a.Entry(check, ""); e != nil && (a.Signed != nil || i < len(s.Attempts)-1) {
			return e.Answer, true
		}
	}
	return "", false
}

// standing lists the states set and not put back. A state is set by the first entry of an attempt
// at a stage that sets it, and put back only by a stage that stands complete and was signed later.
func (c *Card) standing() {
	type found struct {
		since Mark
		at    procedures.Ref
	}
	set := map[procedures.StateRef]found{}   // oldest entry since it was last put back
	back := map[procedures.StateRef]uint32{} // event that put it back
	closers := map[procedures.StateRef][]procedures.Ref{}
	for i := range c.Stages {
		s := &c.Stages[i]
		for _, cl := range s.Node.Clears {
			if s.Status == Complete {
				a := s.Current()
				done := a.Signed.Seq
				if a.Countersigned != nil {
					done = a.Countersigned.Seq
				}
				back[cl.State] = max(back[cl.State], done)
			}
			if s.Status != LeftOut {
				closers[cl.State] = append(closers[cl.State], s.Node.Ref)
			}
		}
	}
	for i := range c.Stages {
		s := &c.Stages[i]
		for _, ref := range s.Node.Sets {
			for k := range s.Attempts {
				if len(s.Attempts[k].Entries) == 0 {
					continue
				}
				m := s.Attempts[k].Entries[0].Mark
				if m.Seq <= back[ref] {
					continue
				}
				if old, ok := set[ref]; !ok || m.Seq < old.since.Seq {
					set[ref] = found{m, s.Node.Ref}
				}
			}
		}
	}
	c.Open = nil
	for ref, f := range set {
		c.Open = append(c.Open, Standing{Ref: ref, State: c.Plan.Procedure.State(ref.State), Since: f.since, SetAt: f.at, PutBackAt: closers[ref]})
	}
	slices.SortFunc(c.Open, func(a, b Standing) int {
		if a.Since.Seq != b.Since.Seq {
			return int(a.Since.Seq) - int(b.Since.Seq)
		}
		if a.Ref.String() < b.Ref.String() {
			return -1
		}
		return 1
	})
}
