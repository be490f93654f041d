package job

import (
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Rejudged is a value recorded under one revision of the spec sheet, with the verdict it was given
// then and the one another revision gives it. Neither takes the place of the other.
type Rejudged struct {
	Seq     uint32 // the newest event it rests on
	Stage   procedures.Ref
	Attempt int
	Last    bool // no later attempt at the stage has been begun
	Check   string
	Title   string // of the check
	Item    string // the fastener or point, or the name of a figure worked out of a set
	Value   quantity.Quantity
	Was     Judgement
	Now     Judgement
}

// Judgement is a verdict with the window and the revision of the sheet it was given by.
type Judgement struct {
	Revision string
	Window   quantity.Window
	Verdict  quantity.Verdict
}

// Words says both judgements in one line, without the stage.
func (r Rejudged) Words() string {
	what := r.Title
	if r.Item != "" {
		what += ", " + phrase.Word(r.Item)
	}
	return phrase.Of("job.rejudge.both", what, r.Value, r.Was.Verdict, windowText(r.Was.Window), r.Was.Revision, r.Now.Verdict, windowText(r.Now.Window), r.Now.Revision)
}

// Turned reports whether the other revision no longer lets the value stand.
func (r Rejudged) Turned() bool { return !blocks(r.Was.Verdict) && blocks(r.Now.Verdict) }

func blocks(v quantity.Verdict) bool { return v == quantity.Outside || v == quantity.NotProven }

// Rejudged lists the values on record that the sheet in use now judges by another window than the one
// they were entered under.
func (c *Card) Rejudged() []Rejudged {
	if len(c.Sheets) == 0 {
		return nil
	}
	return c.rejudgedBy(c.Plan)
}

// RejudgedBy lists what Rejudged would list once the job went on by that sheet.
func (c *Card) RejudgedBy(sheet *procedures.Sheet) ([]Rejudged, error) {
	plan, err := procedures.Resolve(c.Plan.Procedure, sheet, c.Plan.Traits)
	if err != nil {
		return nil, err
	}
	return c.rejudgedBy(plan), nil
}

func (c *Card) rejudgedBy(plan *procedures.Plan) []Rejudged {
	var out []Rejudged
	for i := range c.Stages {
		s := &c.Stages[i]
		node := plan.Node(s.Node.Ref)
		if node == nil {
			continue
		}
		for k := range s.Attempts {
			for n := range node.Checks {
				for _, r := range c.rejudge(s, &s.Attempts[k], &node.Checks[n], plan) {
					r.Last = k == len(s.Attempts)-1
					out = append(out, r)
				}
			}
		}
	}
	return out
}

// rejudge compares, in one attempt, what a check says by the plan it was worked under and by another.
func (c *Card) rejudge(s *StageCard, a *Attempt, now *procedures.PlanCheck, plan *procedures.Plan) []Rejudged {
	var out []Rejudged
	var seq uint32
	for i := range a.Entries {
		e := &a.Entries[i]
		if e.Check != now.ID || !e.Counts() {
			continue
		}
		seq = max(seq, e.Seq)
		w := windowNamed(now, e.Window)
		if w == nil || e.Verdict == quantity.Unjudged || w.Window == e.Window.Window {
			continue
		}
		out = append(out, Rejudged{Seq: e.Seq, Stage: s.Node.Ref, Attempt: a.No, Check: now.ID, Title: now.Title, Item: e.Item, Value: e.judged(),
			Was: Judgement{c.planAt(e.Seq).Sheet.Revision, e.Window.Window, e.Verdict},
			Now: Judgement{plan.Sheet.Revision, w.Window, e.verdictBy(w)}})
	}
	if seq == 0 {
		return out
	}
	then := c.planAt(seq)
	node := then.Node(s.Node.Ref)
	if node == nil || node.Check(now.ID) == nil {
		return out
	}
	byNow := c.resultIn(s, a, now).Values
	for _, was := range c.resultIn(s, a, node.Check(now.ID)).Values {
		if was.Entry != nil || was.Window == nil {
			continue // an entry, see above, or a figure nothing judges
		}
		for _, v := range byNow {
			if v.Entry == nil && v.Name == was.Name && v.Window != nil && v.Window.Window != was.Window.Window {
				out = append(out, Rejudged{Seq: seq, Stage: s.Node.Ref, Attempt: a.No, Check: now.ID, Title: now.Title, Item: v.Name, Value: v.Value,
					Was: Judgement{then.Sheet.Revision, was.Window.Window, was.Verdict},
					Now: Judgement{plan.Sheet.Revision, v.Window.Window, v.Verdict}})
			}
		}
	}
	return out
}

// windowNamed is the window of a check that has the name of the one a value was judged by.
func windowNamed(pc *procedures.PlanCheck, w *procedures.PlanWindow) *procedures.PlanWindow {
	if w == nil || w.Window.IsZero() {
		return nil
	}
	for _, now := range []*procedures.PlanWindow{pc.Nominal, pc.Window} {
		if now != nil && now.ID == w.ID {
			return now
		}
	}
	return nil
}

// planAt is the plan that was in use when an event was recorded.
func (c *Card) planAt(seq uint32) *procedures.Plan {
	for i := range c.Sheets {
		if seq < c.Sheets[i].Seq {
			return c.Sheets[i].before
		}
	}
	return c.Plan
}

// judged is the quantity the window is about: behind an adapter, what the fastener got.
func (e *Entry) judged() quantity.Quantity {
	if !e.Bolt.IsZero() {
		return e.Bolt
	}
	return e.Value
}

// verdictBy judges the entry by a window as it would be judged on entry, with the error of the
// instrument it was read with.
func (e *Entry) verdictBy(w *procedures.PlanWindow) quantity.Verdict {
	in := e.Instrument
	if in != nil && in.Wrench() {
		p, err := fastening.Prove(e.Value, w.Window, accuracy(*in, e.Value), e.Adapter.fastening())
		switch {
		case err != nil:
			return quantity.NotProven
		case p.Verdict == quantity.NotProven && !w.Guarded:
			return quantity.Inside
		}
		return p.Verdict
	}
	var u quantity.Quantity
	if w.Guarded && in != nil {
		u = in.Uncertainty(e.Value)
	}
	v, err := w.Window.JudgeWithin(e.judged(), u)
	if err != nil {
		return quantity.NotProven
	}
	return v
}
