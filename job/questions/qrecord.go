package questions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// The questions about one job's record and about what did not go straight.

var tightened = &question{
	Question: Question{Number: 4, Name: "tightened", Title: phrase.Of("questions.qrecord.what-exactly-was-tightened-on-a-vehicle"),
		Params: []Param{vehicleParam, {Name: "day", Title: phrase.Of("questions.qrecord.which-day"), Kind: Day}, {Name: "side", Title: phrase.Of("questions.qrecord.only-this-side"), Kind: Choice, Options: []string{"left", "right"}, Optional: true}},
		Columns: []Column{colJob, colTime, colStage, column("fastener", phrase.Of("questions.qrecord.fastener")), figures("pass", phrase.Of("questions.qrecord.pass")), figures("attempt", phrase.Of("questions.qrecord.attempt")), column("value", phrase.Of("questions.qrecord.set-reached-or-checked")),
			column("window", phrase.Of("questions.qrecord.window")), column("verdict", phrase.Of("questions.qrecord.verdict")), column("wrench", phrase.Of("questions.qrecord.wrench")), column("certificate", phrase.Of("questions.qrecord.certificate")), column("evidence", phrase.Of("questions.qrecord.evidence")), colWho,
			column("stands", phrase.Of("questions.qrecord.stands"))}},
	always: true, practice: true, wants: ofVehicle,
	perJob: func(p *pass, c *job.Card) {
		for _, x := range PullsOf(c) {
			if x.When.Format(dayForm) != p.Text("day") || (p.Text("side") != "" && string(x.At.Side) != p.Text("side")) {
				continue
			}
			stands, evidence, window, pass := "yes", x.Evidence.String(), "", ""
			switch {
			case x.Second && x.Moved:
				stands, evidence = phrase.Of("questions.qrecord.it-moved"), phrase.Of("questions.qrecord.second-persons-check")
			case x.Second:
				stands, evidence = "held", phrase.Of("questions.qrecord.second-persons-check")
			case !x.Counts:
				stands = phrase.Of("questions.qrecord.no-corrected-or-the-pass-was-broken")
			}
			if x.Window != nil {
				window = x.Window.Window.String()
			}
			if x.PassNo > 0 {
				pass = fmt.Sprint(x.PassNo)
			}
			p.row(x.Job, x.Seq, fmt.Sprint(x.Job), x.When.Format(timeForm), x.Stage, x.Check+" "+x.Item, pass, fmt.Sprint(x.Attempt), x.Value.String(), window, x.Verdict.String(),
				x.Instrument.ID, x.Instrument.Certificate, evidence, whoWords(x.By), stands)
		}
	},
}

var corrections = &question{
	Question: Question{Number: 11, Name: "outside-to-inside", Title: phrase.Of("questions.qrecord.every-correction-that-turned-outside-into"),
		Params: spanParams,
		Columns: []Column{colVehicle, colJob, colTime, colStage, column("item", phrase.Of("questions.qrecord.what")), column("was", phrase.Of("questions.qrecord.was")), column("became", phrase.Of("questions.qrecord.became")), column("reason", phrase.Of("questions.qrecord.reason")), colWho,
			figures("minutes", phrase.Of("questions.qrecord.minutes-between"))}},
	wants: withException(job.ExOutsideInside),
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			for k := range s.Attempts {
				for n := range s.Attempts[k].Entries {
					e := &s.Attempts[k].Entries[n]
					old := replacedBy(&s.Attempts[k], e)
					if old == nil || old.Verdict != quantity.Outside || e.Verdict != quantity.Inside || !p.inSpan(e.At) {
						continue
					}
					p.row(c.Number(), e.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), e.At.Format(timeForm), job.Title(s.Node), checkTitle(s, e), old.Raw, e.Raw, e.Reason, whoWords(e.By),
						fmt.Sprint(int(e.At.Sub(old.At).Minutes())))
				}
			}
		}
	},
}

// replacedBy is the entry another one corrects, or nil.
func replacedBy(a *job.Attempt, e *job.Entry) *job.Entry {
	for i := range a.Entries {
		if e.Replaces != 0 && a.Entries[i].Seq == e.Replaces {
			return &a.Entries[i]
		}
	}
	return nil
}

func checkTitle(s *job.StageCard, e *job.Entry) string {
	if pc := s.Node.Check(e.Check); pc != nil {
		return strings.TrimSpace(pc.Title + " " + e.Item)
	}
	return strings.TrimSpace(e.Check + " " + e.Item)
}

var deviations = &question{
	Question: Question{Number: 12, Name: "deviations", Title: phrase.Of("questions.qrecord.every-deviation-granted"),
		Params:  spanParams,
		Columns: []Column{colVehicle, colJob, colTime, colStage, column("what", phrase.Of("questions.qrecord.what")), column("by", phrase.Of("questions.qrecord.granted-by")), column("own", phrase.Of("questions.qrecord.on-own-work")), column("reason", phrase.Of("questions.qrecord.reason"))}},
	wants: withException(job.ExDeviation),
	perJob: func(p *pass, c *job.Card) {
		for _, d := range c.Deviations {
			if !p.inSpan(d.At) {
				continue
			}
			own := "no"
			if d.OwnWork {
				own = phrase.Of("questions.qrecord.yes-nobody-else-was-on-duty")
			}
			p.row(c.Number(), d.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), d.At.Format(timeForm), stageTitle(c, d.Stage), d.Title, whoWords(d.By), own, d.Reason)
		}
	},
}

var repeated = &question{
	Question: Question{Number: 16, Name: "repeated-stages", Title: phrase.Of("questions.qrecord.which-stages-took-a-new-attempt-most"),
		Params:  spanParams,
		Columns: []Column{colStage, figures("again", phrase.Of("questions.qrecord.new-attempts")), figures("of", phrase.Of("questions.qrecord.times-done")), figures("percent", phrase.Of("questions.qrecord.per-cent")), column("reasons", phrase.Of("questions.qrecord.commonest-reasons"))}},
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			if len(s.Attempts) == 0 {
				continue
			}
			t := tried{what: s.Node.Stage.Title, right: true}
			for k := range s.Attempts {
				if a := &s.Attempts[k]; a.No > 1 && p.inSpan(eventAt(c, a.OpenedSeq)) {
					t.right, t.why = false, append(t.why, a.Reason)
				}
			}
			if m, ok := begun(&s.Attempts[0]); !t.right || ok && p.inSpan(m.At) {
				p.rows = append(p.rows, Row{carry: t})
			}
		}
	},
	finish: func(p *pass) {
		sums := map[string]*rate{}
		again := map[string]int{}
		for _, r := range p.rows {
			t := r.carry.(tried)
			if sums[t.what] == nil {
				sums[t.what] = &rate{why: map[string]int{}}
			}
			sums[t.what].add(t)
			again[t.what] += len(t.why)
		}
		p.rows = nil
		stages := sortedKeys(again)
		slices.SortStableFunc(stages, func(a, b string) int { return cmp.Compare(again[b], again[a]) })
		for _, what := range stages {
			if s := sums[what]; again[what] > 0 {
				p.row(0, 0, what, fmt.Sprint(again[what]), fmt.Sprint(s.of), percent(s.of-s.right, s.of), s.reasons())
			}
		}
		p.note("%s", phrase.Of("questions.qrecord.candidates-for-training-or-for-a-better"))
	},
}

var withheld = &question{
	Question: Question{Number: 23, Name: "withheld", Title: phrase.Of("questions.qrecord.which-vehicles-were-withheld-who-lifted-it"),
		Params: spanParams,
		Columns: []Column{colVehicle, colJob, colTime, column("class", phrase.Of("questions.qrecord.why")), colWords, column("told", phrase.Of("questions.qrecord.who-was-told")), column("by", phrase.Of("questions.qrecord.withheld-by")), column("lifted", phrase.Of("questions.qrecord.lifted-by")),
			column("cure", phrase.Of("questions.qrecord.cured-at")), column("proof", phrase.Of("questions.qrecord.proof"))}},
	wants: withException(job.ExWithheld),
	perJob: func(p *pass, c *job.Card) {
		for _, h := range c.Holds {
			if !p.inSpan(h.At) {
				continue
			}
			lifted, cure := phrase.Of("questions.qrecord.not-lifted"), ""
			if h.LiftedBy != nil {
				lifted, cure = whoWords(h.LiftedBy.By)+" "+h.LiftedBy.At.Format(timeForm), stageTitle(c, h.Cure)
			}
			p.row(c.Number(), h.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), h.At.Format(timeForm), h.Class, h.Words, h.Told, whoWords(h.By), lifted, cure, h.CureWords)
		}
	},
}

var asReleased = &question{
	Question: Question{Number: 36, Name: "as-released", Title: phrase.Of("questions.qrecord.the-job-exactly-as-the-foreman-saw"),
		Params:  []Param{jobParam},
		Columns: []Column{colJob, figures("event", phrase.Of("questions.qrecord.event")), colTime, colWho, colStage, column("item", phrase.Of("questions.qrecord.what")), column("value", phrase.Of("questions.qrecord.value")), column("verdict", phrase.Of("questions.qrecord.verdict")), column("part", phrase.Of("questions.qrecord.part-of"))}},
	always: true, practice: true, wants: ofJob,
	perJob: func(p *pass, c *job.Card) {
		if c.Outcome() == "" {
			p.cannot(c.Number(), "%s", phrase.Of("questions.qrecord.it-has-not-been-released"))
			return
		}
		end := uint32(0)
		switch {
		case c.Released != nil:
			end = c.Released.Seq
		case c.Cancelled != nil:
			end = c.Cancelled.Seq
		}
		for _, e := range c.Events {
			part := phrase.Of("questions.qrecord.the-release")
			if e.Seq > end {
				part = phrase.Of("questions.qrecord.added-later")
			}
			stage, item, value, verdict := describe(c, e)
			p.row(c.Number(), e.Seq, fmt.Sprint(c.Number()), fmt.Sprint(e.Seq), e.At.Format(timeForm), whoWords(e.By), stage, item, value, verdict, part)
		}
	},
}

// describe puts an event into words.
func describe(c *job.Card, e job.Event) (stage, item, value, verdict string) {
	at := func(r procedures.Ref) string { return stageTitle(c, r) }
	switch b := e.Body.(type) {
	case job.Opened:
		return "", "opened", b.Complaint, ""
	case job.Entered:
		item = b.Check
		if s := c.Stage(b.Stage); s != nil {
			item = checkTitle(s, &job.Entry{Entered: b})
		}
		if b.Verdict != quantity.Unjudged {
			verdict = b.Verdict.String()
		}
		if b.Replaces != 0 {
			item += phrase.Of("questions.qrecord.corrects-event", b.Replaces, b.Reason)
		}
		return at(b.Stage), item, b.Raw, verdict
	case job.Signed:
		return at(b.Stage), "signed", "", ""
	case job.Countersigned:
		return at(b.Stage), "countersigned", "", ""
	case job.Reopened:
		return at(b.Stage), phrase.Of("questions.qrecord.attempt-begun", b.Attempt), b.Reason, ""
	case job.Broken:
		return at(b.Stage), phrase.Of("questions.qrecord.pass-broken-off"), b.Last, ""
	case job.Paused:
		return "", "stopped", b.Note, ""
	case job.Resumed:
		return "", phrase.Of("questions.qrecord.gone-on"), "", ""
	case job.Released:
		return at(c.Plan.ReleaseRef()), cmp.Or(b.Outcome, job.OutcomeReleased), b.Note, ""
	case job.Swapped:
		return b.Stage, phrase.Of("questions.qrecord.sides-exchanged", b.Check), b.Reason, ""
	case job.Checked:
		return at(b.Stage), phrase.Of("questions.qrecord.checked-by-a-second-person", b.Item), b.Raw, ""
	}
	return describeWords(c, e)
}

// describeWords puts an event that is said rather than done into words.
func describeWords(c *job.Card, e job.Event) (stage, item, value, verdict string) {
	at := func(r procedures.Ref) string { return stageTitle(c, r) }
	switch b := e.Body.(type) {
	case job.Asked:
		return at(b.Stage), phrase.Of("questions.qrecord.question-asked-of", b.Whom.Name), b.Result, ""
	case job.Unsure:
		return at(b.Stage), phrase.Of("questions.qrecord.not-sure-somebody-fetched"), b.Note, ""
	case job.Helped:
		return at(b.Stage), "helped", b.Note, ""
	case job.CalledReal:
		return at(b.Stage), phrase.Of("questions.qrecord.called-real", b.Item), "", ""
	case job.Blind:
		return at(b.Stage), phrase.Of("questions.qrecord.measured-blind", b.Item), b.Raw, ""
	case job.Deviated:
		return at(b.Stage), phrase.Of("questions.qrecord.deviation", b.Title), b.Reason, ""
	case job.SafeToLeave:
		return "", phrase.Of("questions.qrecord.signed-safe-to-leave"), "", ""
	case job.Withheld:
		return "", phrase.Of("questions.qrecord.withheld", b.Class), b.Words, ""
	case job.Lifted:
		return at(b.Cure), phrase.Of("questions.qrecord.withholding-lifted"), b.Words, ""
	case job.Abandoned:
		return "", phrase.Of("questions.qrecord.work-ended"), b.Reason, ""
	case job.Declared:
		return "", phrase.Of("questions.qrecord.declared-open", b.State.String()), b.Words, ""
	case job.Cancelled:
		return "", job.OutcomeCancelled, b.Reason, ""
	case job.Advised:
		return "", phrase.Of("questions.qrecord.advice", b.Urgency), b.Text, ""
	case job.AdviceDecided:
		return "", phrase.Of("questions.qrecord.advice-2", b.Answer), b.Words, ""
	case job.Addendum:
		return "", "added", b.Text, ""
	case job.FollowUp:
		return "", b.Key + ": " + b.Act, b.Words, ""
	case job.Answered:
		return "", phrase.Of("questions.qrecord.answered", b.Key), b.Answer, ""
	case job.Found:
		return "", phrase.Of("questions.qrecord.planted-fault-found"), b.Fault, ""
	}
	return "", fmt.Sprintf("%T", e.Body), "", ""
}
