package questions

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// The questions about parts.

var batch = &question{
	Question: Question{Number: 2, Name: "batch", Title: phrase.Of("questions.qparts.which-vehicles-have-parts-of-a-batch"),
		Params: withSpan(Param{Name: "batch", Title: phrase.Of("questions.qparts.number-of-the-batch"), Kind: Words}, Param{Name: "part", Title: phrase.Of("questions.qparts.only-this-part-number"), Kind: Words, Optional: true}),
		Columns: []Column{colVehicle, colOwner, column("side", phrase.Of("questions.qparts.side")), column("part", phrase.Of("questions.qparts.part")), column("number", phrase.Of("questions.qparts.number")), colJob, colDate, colKm,
			column("still", phrase.Of("questions.qparts.still-on-the-vehicle"))}},
	wants: func(a Args, l Line) bool {
		return l.Tags == nil || slices.ContainsFunc(l.Tags.Parts, func(t Part) bool { return a.isBatch(t.Number, t.Batch) })
	},
	perVehicle: func(p *pass, cs []*job.Card) {
		var uses []PartUse
		km := map[uint64]string{}
		for _, c := range cs {
			uses = append(uses, PartsOf(c)...)
			km[c.Number()] = shown(c.Odometer())
		}
		for i, u := range uses {
			if !p.isBatch(u.Number, u.Batch) || !p.inSpan(u.When) {
				continue
			}
			still := phrase.Of("questions.qparts.yes-as-far-as-this-file-knows")
			for _, later := range uses[i+1:] {
				if later.Place() == u.Place() && later.Job != u.Job {
					still = phrase.Of("questions.qparts.replaced-in-job", later.Job)
					break
				}
			}
			p.row(u.Job, u.Seq, u.Vehicle.ID, p.vehicle(u.Vehicle.ID).Owner, string(u.At.Side), u.Title, u.Number, fmt.Sprint(u.Job), u.When.Format(dayForm), km[u.Job], still)
		}
	},
}

func (a Args) isBatch(number, batch string) bool {
	return strings.EqualFold(batch, a.Text("batch")) && (a.Text("part") == "" || strings.EqualFold(number, a.Text("part")))
}

var quarantined = &question{
	Question: Question{Number: 32, Name: "quarantined", Title: phrase.Of("questions.qparts.which-new-parts-were-not-what-they"),
		Params:  spanParams,
		Columns: []Column{colVehicle, colJob, colDate, colStage, column("part", phrase.Of("questions.qparts.part")), column("batch", phrase.Of("questions.qparts.batch")), column("measured", phrase.Of("questions.qparts.measured")), column("nominal", phrase.Of("questions.qparts.nominal")), colWords}},
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			for k := range s.Attempts {
				p.offNominal(c, s, &s.Attempts[k])
			}
		}
	},
}

// offNominal lists the measures of new parts outside their nominal window.
func (p *pass) offNominal(c *job.Card, s *job.StageCard, a *job.Attempt) {
	part, batch := "", ""
	for i := range a.Entries {
		switch e := &a.Entries[i]; { // the part measured is named first
		case e.Item == procedures.PartNumber && part == "":
			part = e.Answer
		case e.Item == procedures.PartBatch && batch == "":
			batch = e.Answer
		}
	}
	for i := range a.Entries {
		e := &a.Entries[i]
		pc := s.Node.Check(e.Check)
		if pc == nil || e.Value.IsZero() || e.Broken || !p.inSpan(e.At) {
			continue
		}
		nominal := pc.Nominal
		if nominal == nil && strings.HasSuffix(pc.Reckon, "-new") {
			nominal = pc.Window
		}
		if nominal == nil {
			continue
		}
		v, err := nominal.Window.Judge(e.Value)
		if err != nil {
			p.cannot(c.Number(), "%s", phrase.Of("questions.qparts.event", e.Seq, err))
			continue
		}
		if v != quantity.Outside {
			continue
		}
		words := phrase.Of("questions.qparts.stands-in-the-record")
		switch {
		case e.ReplacedBy != 0:
			words = phrase.Of("questions.qparts.corrected-by-event", e.ReplacedBy)
		case a.No < len(s.Attempts):
			words = phrase.Of("questions.qparts.a-new-attempt-followed", s.Attempts[a.No].Reason)
		}
		p.row(c.Number(), e.Seq, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), e.At.Format(dayForm), job.Title(s.Node), part, batch, e.Value.String(), nominal.Window.String(), words)
	}
}

var replacedNew = &question{
	Question: Question{Number: 35, Name: "replaced-new", Title: phrase.Of("questions.qparts.which-single-use-fasteners-were-replaced-by"),
		Params: spanParams,
		Columns: []Column{colVehicle, colJob, colDate, colStage, column("group", phrase.Of("questions.qparts.fasteners")), figures("needed", phrase.Of("questions.qparts.needed")), figures("new", phrase.Of("questions.qparts.new")),
			column("note", phrase.Of("questions.qparts.note"))}},
	perJob: func(p *pass, c *job.Card) {
		for i := range c.Stages {
			s := &c.Stages[i]
			for k := range s.Node.Checks {
				pc := &s.Node.Checks[k]
				if pc.Kind != procedures.Torque || pc.Group == nil || !pc.Group.SingleUse {
					continue
				}
				for n := range s.Attempts {
					e := s.Attempts[n].Entry(pc.ID, procedures.ItemNew)
					if e == nil || !p.inSpan(e.At) {
						continue
					}
					note := ""
					if s.Attempts[n].No > 1 {
						note = phrase.Of("questions.qparts.attempt", fmt.Sprint(s.Attempts[n].No))
					}
					p.carry(c.Number(), e.Seq, fittedNew{pc.Group.Title, len(pc.Group.Names), e.Value.Number}, c.Opened.Vehicle.ID, fmt.Sprint(c.Number()), e.At.Format(dayForm), job.Title(s.Node), pc.Group.Title,
						fmt.Sprint(len(pc.Group.Names)), e.Value.Number, note)
				}
			}
		}
	},
	finish: func(p *pass) {
		needed, fitted := 0, 0
		for _, r := range p.rows {
			f, ok := r.carry.(fittedNew)
			if !ok {
				continue
			}
			needed += f.needed
			n := 0
			fmt.Sscan(f.fitted, &n)
			fitted += n
		}
		p.note("%s", phrase.Of("questions.qparts.needed-new-ones-entered-the-stock-should", needed, fitted, fitted))
	},
}

type fittedNew struct {
	group  string
	needed int
	fitted string
}
