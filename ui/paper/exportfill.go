package paper

import (
	"bay.example/pawl/job"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

func instrumentOf(in *register.Instrument) Tool {
	if in == nil {
		return Tool{}
	}
	return Tool{in.ID, in.Kind, in.Serial, in.Certificate, in.Due}
}

func standingOf(e *job.Entry) Standing {
	return Standing{e.Counts(), e.Replaces, e.ReplacedBy, e.Reason, e.Source, recordedVerdict(e.Verdict)}
}

// Readings lists every value entered, torque excepted, in the order of the graph.
func Readings(c *job.Card) []ReadingRow {
	var out []ReadingRow
	for _, g := range groups(c, func(pc *procedures.PlanCheck) bool { return !isTorque(pc) }) {
		for _, e := range g.entries {
			out = append(out, ReadingRow{whereOf(c, g.stage, g.attempt.No), deedOf(e.Mark), g.check.ID, g.check.Title, e.Item, e.Raw, e.Value, e.Answer,
				limitsOf(e.Window), instrumentOf(e.Instrument), standingOf(e)})
		}
	}
	return out
}

// Torques lists every action on a fastener.
func Torques(c *job.Card) []TorqueRow {
	var out []TorqueRow
	for _, g := range groups(c, isTorque) {
		for _, e := range g.entries {
			r := TorqueRow{Where: whereOf(c, g.stage, g.attempt.No), Deed: deedOf(e.Mark), Check: g.check.ID, Group: g.check.Group.Title, Fastener: e.Item, Pass: g.check.PassNo,
				Bolt: e.Bolt, AllAtOnce: e.AllAtOnce, Limits: limitsOf(e.Window), Tool: instrumentOf(e.Instrument), Standing: standingOf(e)}
			r.Evidence = e.Evidence.Level()
			switch {
			case e.Item == procedures.ItemNew:
				r.Fastener, r.NewOnes = "", e.Value.Number
			case setValue(e) != "":
				r.Set, r.Clicked = e.Value, e.Evidence == job.ClickHeard
			default:
				r.Reached = e.Value
			}
			out = append(out, r)
		}
	}
	return out
}

// Checks lists what second persons found with a tool in hand.
func Checks(c *job.Card) []CheckedRow {
	var out []CheckedRow
	for i := range c.Stages {
		s := &c.Stages[i]
		for _, a := range s.Attempts {
			for _, k := range a.Checks {
				out = append(out, CheckedRow{whereOf(c, s, a.No), deedOf(k.Mark), k.Check, k.Item, k.Value, k.Moved, instrumentOf(k.Instrument)})
			}
		}
	}
	return out
}

// Figures lists the figures worked out of the attempts that count.
func Figures(c *job.Card) []FigureRow {
	var out []FigureRow
	for i := range c.Stages {
		s := &c.Stages[i]
		for _, r := range c.Results(s.Node.Ref) {
			for _, v := range r.Values {
				if v.Entry == nil {
					out = append(out, FigureRow{whereOf(c, s, s.Current().No), r.Check.ID, v.Name, v.Value, limitsOf(v.Window), recordedVerdict(v.Verdict)})
				}
			}
		}
	}
	return out
}

// Signatures lists every signature, countersignature and the release.
func Signatures(c *job.Card) []SignatureRow {
	var out []SignatureRow
	for i := range c.Stages {
		s := &c.Stages[i]
		for _, a := range s.Attempts {
			if a.Signed != nil {
				out = append(out, SignatureRow{whereOf(c, s, a.No), deedOf(*a.Signed), "signed", a.Owed, a.NoSecond})
			}
			if a.Countersigned != nil {
				out = append(out, SignatureRow{whereOf(c, s, a.No), deedOf(*a.Countersigned), "countersigned", false, false})
			}
		}
		if c.Released != nil && s.Node.Ref == c.Plan.ReleaseRef() {
			out = append(out, SignatureRow{whereOf(c, s, len(s.Attempts)), deedOf(c.Released.Mark), "released", false, !c.Released.Independent})
		}
	}
	return out
}

// States lists every time a state stood.
func States(c *job.Card) []StateRow {
	var out []StateRow
	for _, s := range spans(c) {
		r := StateRow{Job: c.Number(), Mark: markOf(c), State: s.ref.State, Side: string(s.ref.Side), OpenedSeq: s.opened.Seq, Opened: s.opened.At,
			OpenedBy: s.opened.By.Name, OpenedAt: s.at.String(), Open: s.back == nil}
		if s.state != nil {
			r.Title = s.state.Title
		}
		if s.back != nil {
			at := s.back.At
			r.PutBackSeq, r.PutBack, r.PutBackBy, r.PutBackAt = s.back.Seq, &at, s.back.By.Name, s.backAt.String()
		}
		out = append(out, r)
	}
	return out
}

// Exceptions lists what did not go straight, the strongest first.
func Exceptions(c *job.Card) []ExceptionRow {
	var out []ExceptionRow
	for _, x := range c.Exceptions() {
		out = append(out, ExceptionRow{c.Number(), markOf(c), x.Seq, x.Kind, x.Stage.Stage, sideOf(x.Stage), x.Strong, x.Text})
	}
	return out
}
