package job

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// Exception is one line of the foreman's page: something that did not go straight.
type Exception struct {
	Seq    uint32         `json:"seq"` // the event it rests on
	Kind   string         `json:"kind"`
	Stage  procedures.Ref `json:"stage,omitzero"`
	Text   string         `json:"text"`
	Strong bool           `json:"strong"` // read these first: they could hide a fault
}

// The kinds of exception, in the order of the page.
const (
	ExOutsideInside = "outside turned inside"
	ExFailed        = "failed attempt"
	ExAgain         = "done again"
	ExSlip          = "typing slip"
	ExCorrection    = "correction"
	ExSwap          = "sides exchanged"
	ExDeviation     = "deviation"
	ExEvidence      = "weak evidence"
	ExLate          = "entered later"
	ExAllAtOnce     = "clicks confirmed at once"
	ExAlike         = "readings all alike"
	ExOrder         = "out of order"
	ExBroken        = "pass broken off"
	ExNoSecond      = "no second person"
	ExUnsure        = "somebody was fetched"
	ExWithheld      = "withheld"
	ExQuestion      = "question answered"
	ExTrait         = "trait changed"
	ExSheet         = "spec sheet changed"
)

// Exceptions lists everything the foreman reads before he releases, the strongest first, then in
// the order it happened.
func (c *Card) Exceptions() []Exception {
	var out []Exception
	for i := range c.Stages {
		out = append(out, c.stageExceptions(&c.Stages[i])...)
	}
	for _, d := range c.Deviations {
		text := phrase.Of("job.exceptions.granted", d.By.Name, d.Title, d.Reason)
		if d.OwnWork {
			text += phrase.Of("job.exceptions.on-own-work-nobody-else-was-on")
		}
		out = append(out, Exception{d.Seq, ExDeviation, d.Stage, text, true})
	}
	for _, s := range c.Swaps {
		out = append(out, Exception{s.Seq, ExSwap, procedures.Ref{Stage: s.Stage}, phrase.Of("job.exceptions.exchanged-left-and-right-of", s.By.Name, s.Check, s.Reason), true})
	}
	for _, h := range c.Holds {
		text := phrase.Of("job.exceptions.withheld-by", h.By.Name, phrase.Word(h.Class), h.Words)
		if h.LiftedBy != nil {
			text += phrase.Of("job.exceptions.lifted-by", h.LiftedBy.By.Name, h.CureWords)
		}
		out = append(out, Exception{h.Seq, ExWithheld, h.Cure, text, true})
	}
	for _, x := range c.Traits {
		out = append(out, Exception{x.Seq, ExTrait, procedures.Ref{}, phrase.Of("job.exceptions.changed-from-to", x.By.Name, x.Trait, x.Was, x.Value, x.Reason), true})
	}
	for _, x := range c.Sheets {
		out = append(out, Exception{x.Seq, ExSheet, procedures.Ref{}, phrase.Of("job.exceptions.adopted-revision", x.By.Name, x.Sheet.Title, x.Sheet.Revision, x.Reason), true})
	}
	for _, r := range c.Rejudged() {
		out = append(out, Exception{r.Seq, ExSheet, r.Stage, phrase.Of("job.exceptions.rejudged", c.title(r.Stage), r.Words()), r.Turned()})
	}
	for _, a := range c.Answers {
		out = append(out, Exception{a.Seq, ExQuestion, procedures.Ref{}, phrase.Of("job.exceptions.answered", a.By.Name, a.Answer), false})
	}
	slices.SortStableFunc(out, func(a, b Exception) int {
		if a.Strong != b.Strong {
			if a.Strong {
				return -1
			}
			return 1
		}
		return int(a.Seq) - int(b.Seq)
	})
	return out
}

func (c *Card) stageExceptions(s *StageCard) []Exception {
	var out []Exception
	r := s.Node.Ref
	for k := range s.Attempts {
		a := &s.Attempts[k]
		if a.No > 1 {
			out = append(out, Exception{a.OpenedSeq, ExAgain, r, phrase.Of("job.exceptions.attempt", c.title(r), a.No, a.Reason), false})
		}
		if k < len(s.Attempts)-1 {
			if seq, what := c.failure(s, a); what != "" {
				out = append(out, Exception{seq, ExFailed, r, phrase.Of("job.exceptions.attempt", c.title(r), a.No, what), true})
			}
		}
		out = append(out, c.entryExceptions(s, a)...)
		if a.NoSecond {
			out = append(out, Exception{a.Signed.Seq, ExNoSecond, r, phrase.Of("job.exceptions.no-second-person-in-the-workshop", c.title(r)), true})
		}
		if a.UnsureNote != "" || a.Unsure != nil {
			out = append(out, Exception{a.OpenedSeq, ExUnsure, r, phrase.Of("job.exceptions.somebody-was-fetched", c.title(r), a.UnsureNote), false})
		}
	}
	return out
}

func (c *Card) entryExceptions(s *StageCard, a *Attempt) []Exception {
	var out []Exception
	r := s.Node.Ref
	at := map[string]bool{}
	once := func(e *Entry, kind, text string, strong bool) {
		if key := kind + e.Check; !at[key] {
			at[key] = true
			out = append(out, Exception{e.Seq, kind, r, text, strong})
		}
	}
	for i := range a.Entries {
		e := &a.Entries[i]
		name := c.placed(s, entryName(s.Node, e))
		if e.Replaces != 0 {
			out = append(out, c.correctionException(a, e, name))
		}
		switch {
		case e.Broken:
			once(e, ExBroken, phrase.Of("job.exceptions.the-pass-was-broken-off-and-begun", name), false)
		case e.Evidence == ToldLater:
			once(e, ExEvidence, phrase.Of("job.exceptions.told-later", name), true)
		case e.AllAtOnce:
			once(e, ExAllAtOnce, phrase.Of("job.exceptions.the-clicks-were-confirmed-all-at-once", name), false)
		case e.Source == SourcePaper:
			once(e, ExLate, phrase.Of("job.exceptions.entered-from-paper-by", name, e.By.Name), true)
		}
	}
	for i := range s.Node.Checks {
		if pc := &s.Node.Checks[i]; a.OutOfOrder(pc) != "" {
			e := a.Entry(pc.ID, a.OutOfOrder(pc))
			once(e, ExOrder, phrase.Of("job.exceptions.tightened-out-of-its-order", c.placed(s, pc.Title), a.OutOfOrder(pc)), false)
		}
		if pc := &s.Node.Checks[i]; allAlike(a, pc) {
			e := a.Entry(pc.ID, pc.Items[len(pc.Items)-1])
			once(e, ExAlike, phrase.Of("job.exceptions.every-reading-is-to-the-last-digit", c.placed(s, pc.Title), e.Value), false)
		}
	}
	return out
}

// allAlike reports whether every reading of an indicating wrench in a group of three or more is the
// same to the last digit, which real fasteners hardly give.
func allAlike(a *Attempt, pc *procedures.PlanCheck) bool {
	if pc.Kind != procedures.Torque {
		return false
	}
	var first *Entry
	n := 0
	for _, item := range pc.Items {
		e := a.Entry(pc.ID, item)
		if item == procedures.ItemNew {
			continue
		}
		if e == nil || (e.Evidence != ReadByEye && e.Evidence != StoredPeak) || (first != nil && e.Value != first.Value) {
			return false
		}
		if first == nil {
			first = e
		}
		n++
	}
	return n >= 3
}

// placed names something of a stage with the stage, whose title is not said twice.
func (c *Card) placed(s *StageCard, what string) string {
	title := c.title(s.Node.Ref)
	if rest, ok := strings.CutPrefix(what, s.Node.Stage.Title); ok {
		return title + rest
	}
	return title + ", " + what
}

func (c *Card) correctionException(a *Attempt, e *Entry, name string) Exception {
	var old *Entry
	for i := range a.Entries {
		if a.Entries[i].Seq == e.Replaces {
			old = &a.Entries[i]
		}
	}
	was := ""
	if old != nil {
		was = shown(old)
	}
	text := phrase.Of("job.exceptions.became", name, was, shown(e), phrase.Word(e.Reason), e.By.Name)
	if old != nil && old.Real != nil {
		text += phrase.Of("job.exceptions.called-real-by", old.Real.By.Name)
	}
	if e.Confirmed != nil {
		text += phrase.Of("job.exceptions.confirmed-by", e.Confirmed.Name)
	}
	switch {
	case old != nil && old.Verdict == quantity.Outside && e.Verdict == quantity.Inside:
		return Exception{e.Seq, ExOutsideInside, e.Stage, text, true}
	case e.Reason == ReasonSlip:
		return Exception{e.Seq, ExSlip, e.Stage, text, false}
	}
	return Exception{e.Seq, ExCorrection, e.Stage, text, false}
}

// failure says what did not pass in an attempt, an entry or a figure worked out of several, and by
// which event it is known; the words are empty when everything entered passed.
func (c *Card) failure(s *StageCard, a *Attempt) (uint32, string) {
	for i := range s.Node.Checks {
		res := c.resultIn(s, a, &s.Node.Checks[i])
		last := uint32(0)
		for _, v := range res.Values {
			if v.Entry != nil {
				last = max(last, v.Entry.Seq)
			}
			if v.Verdict != quantity.Outside && v.Verdict != quantity.NotProven {
				continue
			}
			if v.Entry != nil {
				return v.Entry.Seq, itemName(res.Check, v.Name) + " " + outsideWords(v.Entry)
			}
			return last, phrase.Of("job.exceptions.figure-judged", res.Check.Title, phrase.Word(v.Name), v.Value, v.Verdict, windowText(v.Window.Window))
		}
	}
	return 0, ""
}

func entryName(n *procedures.Node, e *Entry) string {
	if pc := n.Check(e.Check); pc != nil {
		return itemName(pc, e.Item)
	}
	return e.Check
}

func outsideWords(e *Entry) string {
	if e.Window == nil || e.Window.Window.IsZero() {
		return phrase.Of("job.exceptions.was", shown(e))
	}
	return phrase.Of("job.exceptions.judged", shown(e), e.Verdict, windowText(e.Window.Window))
}
