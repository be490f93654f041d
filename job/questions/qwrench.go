package questions

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
)

// The questions about wrenches and their certificates.

var wrenchActions = &question{
	Question: Question{Number: 1, Name: "wrench-actions", Title: phrase.Of("questions.qwrench.which-vehicles-were-torqued-with-a-wrench"),
		Params: withSpan(instrumentParam),
		Columns: []Column{colVehicle, colOwner, colJob, colDate, colStage, column("fastener", phrase.Of("questions.qwrench.fastener")), column("set", phrase.Of("questions.qwrench.set-or-reached")), column("window", phrase.Of("questions.qwrench.window")),
			column("true", phrase.Of("questions.qwrench.in-truth")), column("verdict", phrase.Of("questions.qwrench.verdict")), column("healed", phrase.Of("questions.qwrench.put-right-by")), column("recall", phrase.Of("questions.qwrench.recall"))}},
	wants: func(a Args, l Line) bool {
		return l.Tags == nil || slices.Contains(l.Tags.Instruments, a.Text("wrench"))
	},
	perVehicle: func(p *pass, cs []*job.Card) {
		for _, s := range p.suspects(cs, p.Text("wrench")) {
			if !p.inSpan(s.When) {
				continue
			}
			healed, truth, verdict := "", shown(s.True), s.Again.String()
			if s.Healed != nil {
				healed = phrase.Of("questions.qwrench.job-at", s.Healed.Job, s.Healed.When.Format(dayForm), s.Healed.Instrument.ID, s.Healed.Value)
			}
			if s.Why != "" {
				verdict = ""
				p.cannot(s.Job, "%s", phrase.Of("questions.qwrench.event", s.Seq, s.Why))
			}
			if s.True.IsZero() && s.Why == "" {
				verdict = s.Verdict.String()
			}
			recalled := ""
			if p.Recalled != nil {
				recalled = p.Recalled(s.Vehicle.ID, p.Text("wrench"))
			}
			window := ""
			if s.Window != nil {
				window = s.Window.Window.String()
			}
			p.row(s.Job, s.Seq, s.Vehicle.ID, p.vehicle(s.Vehicle.ID).Owner, fmt.Sprint(s.Job), s.When.Format(timeForm), s.Stage, s.Check+" "+s.Item,
				s.Value.String(), window, truth, verdict, healed, recalled)
		}
	},
	finish: func(p *pass) {
		if len(register.OfInstrument(p.Certificates, p.Text("wrench"))) == 0 {
			p.note("%s", phrase.Of("questions.qwrench.no-certificate-of-is-kept-so-nothing", p.Text("wrench")))
		}
	},
}

// suspects returns every tightening with a wrench, each corrected by the error the next certificate
// found, where it found one.
func (p *pass) suspects(cs []*job.Card, wrench string) []Suspect {
	own := register.OfInstrument(p.Certificates, wrench)
	if len(own) == 0 {
		own = []register.Certificate{{Instrument: wrench}}
	}
	var out []Suspect
	seen := map[[2]uint64]bool{}
	for i := range own {
		e, ok := ErrorFound(own, i, p.Now)
		if !ok {
			continue
		}
		for _, s := range Suspects(cs, e) {
			seen[[2]uint64{s.Job, uint64(s.Seq)}] = true
			out = append(out, s)
		}
	}
	for _, c := range cs {
		for _, x := range PullsOf(c) {
			if x.Instrument.ID == wrench && !x.Second && !seen[[2]uint64{x.Job, uint64(x.Seq)}] {
				out = append(out, Suspect{Pull: x, Again: x.Verdict})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Suspect) int { return cmp.Or(cmp.Compare(a.Job, b.Job), cmp.Compare(a.Seq, b.Seq)) })
	return out
}

// ErrorFound returns the error that the i-th certificate of an instrument, oldest first, found in it,
// with the time it reaches back to: the certificate before, or all of it where there is none. ok is
// false when nothing was wrong.
func ErrorFound(own []register.Certificate, i int, near time.Time) (e WrenchError, ok bool) {
	c := own[i]
	if c.AsFound.IsZero() || c.AsFound.Rat().Sign() == 0 || c.AsFound.Unit != quantity.Percent {
		return e, false
	}
	e = WrenchError{Instrument: c.Instrument, Error: c.AsFound, Of: fastening.Reference(cmp.Or(c.Of, string(fastening.OfSetting)))}
	var err error
	if e.To, err = c.Since(near); err != nil {
		return e, false
	}
	if i > 0 {
		if e.From, err = own[i-1].Since(near); err != nil {
			return e, false
		}
	}
	return e, true
}

var weakEvidence = &question{
	Question: Question{Number: 13, Name: "weak-evidence", Title: phrase.Of("questions.qwrench.which-torque-entries-on-hold-stages-are"),
		Params: spanParams,
		Columns: []Column{colVehicle, colJob, colTime, colStage, column("fastener", phrase.Of("questions.qwrench.fastener")), column("value", phrase.Of("questions.qwrench.value")), column("evidence", phrase.Of("questions.qwrench.evidence")),
			column("wrench", phrase.Of("questions.qwrench.wrench")), colWho}},
	perJob: func(p *pass, c *job.Card) {
		for _, x := range PullsOf(c) {
			if x.Second || !x.Hold || !x.Counts || !p.inSpan(x.When) {
				continue
			}
			weak := x.Evidence == job.ClickHeard || x.Evidence == job.ToldLater
			if !weak {
				p.rows = append(p.rows, Row{carry: strongPull{}})
				continue
			}
			p.row(x.Job, x.Seq, x.Vehicle.ID, fmt.Sprint(x.Job), x.When.Format(timeForm), x.Stage, x.Check+" "+x.Item, x.Value.String(), x.Evidence.String(), x.Instrument.ID, whoWords(x.By))
		}
	},
	finish: func(p *pass) {
		all := len(p.rows)
		p.rows = slices.DeleteFunc(p.rows, func(r Row) bool { _, strong := r.carry.(strongPull); return strong })
		p.note("%s", phrase.Of("questions.qwrench.of-torque-entries-on-hold-stages", len(p.rows), all, share(len(p.rows), all)))
	},
}

type strongPull struct{}

// leastForShare is below which no percentage is shown: it would say more than it knows.
const leastForShare = 10

// share is a percentage in words, or nothing under leastForShare.
func share(part, of int) string {
	if of < leastForShare {
		return ""
	}
	return fmt.Sprintf(", %d %%", (200*part+of)/(2*of))
}

var wrenchesDue = &question{
	Question: Question{Number: 14, Name: "wrenches-due", Title: phrase.Of("questions.qwrench.which-instruments-fall-due-for-calibration-soon"),
		Params: []Param{{Name: "days", Title: phrase.Of("questions.qwrench.days-ahead"), Kind: Number, Default: "30"}, {Name: "cycles", Title: phrase.Of("questions.qwrench.cycles-left"), Kind: Number, Default: "500"}},
		Columns: []Column{column("instrument", phrase.Of("questions.qwrench.instrument")), column("kind", phrase.Of("questions.qwrench.kind")), column("due", phrase.Of("questions.qwrench.due")), figures("days", phrase.Of("questions.qwrench.days-left")),
			figures("cycles", phrase.Of("questions.qwrench.cycles-left-2")), column("certificate", phrase.Of("questions.qwrench.certificate")), column("status", phrase.Of("questions.qwrench.status"))}},
	always: true,
	register: func(p *pass) {
		today := p.Now.Format(dayForm)
		for _, in := range p.Register.Instruments {
			if in.Status == register.Withdrawn {
				continue
			}
			due, err := time.Parse(dayForm, in.Due)
			now, _ := time.Parse(dayForm, today)
			if err != nil {
				p.cannot(0, "%s", phrase.Of("questions.qwrench.the-due-date-reads", in.ID, in.Due))
				continue
			}
			days := int(due.Sub(now).Hours() / 24)
			left, cycles := "", 1<<30
			if in.CycleLimit > 0 && in.Wrench() {
				cycles = in.CycleLimit - p.Cycles[in.ID]
				left = fmt.Sprint(cycles)
			}
			if days <= p.Int("days") || cycles <= p.Int("cycles") {
				p.row(0, 0, in.ID, in.Kind, in.Due, fmt.Sprint(days), left, in.Certificate, string(in.Status))
			}
		}
	},
}

var inCalibration = &question{
	Question: Question{Number: 15, Name: "in-calibration", Title: phrase.Of("questions.qwrench.was-an-instrument-in-calibration-at-a"),
		Params: []Param{instrumentParam, {Name: "moment", Title: phrase.Of("questions.qwrench.day-and-time"), Kind: Moment}},
		Columns: []Column{column("which", phrase.Of("questions.qwrench.certificate")), column("number", phrase.Of("questions.qwrench.number")), column("calibrated", phrase.Of("questions.qwrench.calibrated")), column("due", phrase.Of("questions.qwrench.due")), column("as-found", phrase.Of("questions.qwrench.as-found")),
			column("verdict", phrase.Of("questions.qwrench.at-that-moment"))}},
	always: true,
	register: func(p *pass) {
		at, err := time.ParseInLocation(momentForm, p.Text("moment"), p.Now.Location())
		if err != nil {
			return // checked before
		}
		before, after := register.Around(p.Certificates, p.Text("wrench"), at)
		if before == nil {
			p.cannot(0, "%s", phrase.Of("questions.qwrench.no-certificate-of-from-before-is-kept", p.Text("wrench"), p.Text("moment")))
		}
		say := func(which string, c *register.Certificate, verdict string) {
			if c != nil {
				p.row(0, 0, which, c.Number, c.Calibrated+" "+c.Clock, c.Due, shown(c.AsFound), verdict)
			}
		}
		verdict := ""
		if before != nil {
			verdict = phrase.Of("questions.qwrench.in-calibration")
			if at.Format(dayForm) > before.Due {
				verdict = phrase.Of("questions.qwrench.ran-out-on", before.Due)
			}
		}
		if after != nil && !after.AsFound.IsZero() && after.AsFound.Rat().Sign() != 0 {
			verdict += phrase.Of("questions.qwrench.and-found-off-afterwards")
		}
		say("before", before, verdict)
		say("after", after, "")
	},
}
