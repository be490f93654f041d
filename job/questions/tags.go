package questions

import (
	"slices"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// Tags are the words a job is found by, and what tells without reading the job that it has nothing
// to do with a question. They are derived from its card.
type Tags struct {
	Instruments []string `cbor:"1,keyasint,omitempty"` // ids of everything that gave a value
	People      []string `cbor:"2,keyasint,omitempty"` // ids of everybody who made an event
	Parts       []Part   `cbor:"3,keyasint,omitempty"`
	Repeated    []string `cbor:"4,keyasint,omitempty"` // ids of stages with more than one attempt
	Exceptions  []string `cbor:"5,keyasint,omitempty"` // kinds of job.Exception
	Reckoned    []string `cbor:"6,keyasint,omitempty"` // meanings of the values recorded (Check.Reckon)
	Sheet       string   `cbor:"7,keyasint"`           // digest of the spec sheet
	Advised     bool     `cbor:"8,keyasint,omitempty"` // advice was given
	Text        string   `cbor:"9,keyasint"`           // everything searched, small letters, one thing a line
}

// Part is a part by number and batch.
type Part struct {
	Number string `cbor:"1,keyasint"`
	Batch  string `cbor:"2,keyasint"`
}

// TagsOf works out the tags of a job.
func TagsOf(c *job.Card) Tags {
	t := Tags{Sheet: c.Opened.Sheet.Digest, Advised: len(c.Advice) > 0}
	var lines []string
	say := func(parts ...string) {
		for _, p := range parts {
			if p = strings.ToLower(strings.TrimSpace(p)); p != "" && !slices.Contains(lines, p) {
				lines = append(lines, p)
			}
		}
	}
	o := c.Opened
	say(phrase.Of("questions.tags.job", o.Number), o.Vehicle.ID, o.Vehicle.Name, o.Vehicle.VIN, o.Complaint, o.Customer, o.Procedure.Title, o.Sheet.Title, c.Outcome())
	if o.Practice {
		say("practice")
	}
	for _, e := range c.Events {
		add(&t.People, e.By.ID)
		say(e.By.ID, e.By.Name)
		switch b := e.Body.(type) {
		case job.Entered:
			if b.Instrument != nil {
				add(&t.Instruments, b.Instrument.ID)
				say(b.Instrument.ID)
			}
		case job.Checked:
			if b.Instrument != nil {
				add(&t.Instruments, b.Instrument.ID)
				say(b.Instrument.ID)
			}
		}
	}
	for _, p := range PartsOf(c) {
		if tag := (Part{p.Number, p.Batch}); !slices.Contains(t.Parts, tag) {
			t.Parts = append(t.Parts, tag)
		}
		say(p.Number, p.Batch, p.Mark)
	}
	for i := range c.Stages {
		t.stage(&c.Stages[i], say)
	}
	for _, x := range c.Exceptions() {
		add(&t.Exceptions, x.Kind)
		say(x.Kind, x.Text)
	}
	for _, a := range c.Advice {
		say(a.Text)
		if a.Decided != nil {
			say(a.Decided.Words)
		}
	}
	for _, n := range c.Addenda {
		say(n.Text)
	}
	for _, l := range [][]string{t.Instruments, t.People, t.Repeated, t.Exceptions, t.Reckoned} {
		slices.Sort(l)
	}
	t.Text = strings.Join(lines, "\n")
	return t
}

func (t *Tags) stage(s *job.StageCard, say func(...string)) {
	if len(s.Attempts) > 1 {
		add(&t.Repeated, s.Node.Ref.Stage)
		say(job.Title(s.Node))
	}
	for i := range s.Node.Checks {
		if pc := &s.Node.Checks[i]; pc.Reckon != "" && s.Current().Entry(pc.ID, pc.Items[0]) != nil {
			add(&t.Reckoned, pc.Reckon)
		}
	}
	for k := range s.Attempts {
		for i := range s.Attempts[k].Entries {
			e := &s.Attempts[k].Entries[i]
			if pc := s.Node.Check(e.Check); pc != nil && pc.Kind == procedures.Text {
				say(e.Answer)
			}
		}
	}
}

func add(list *[]string, s string) {
	if s != "" && !slices.Contains(*list, s) {
		*list = append(*list, s)
	}
}
