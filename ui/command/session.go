package command

import (
	"errors"
	"reflect"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// session does entry lines on one file, one job, the way the screen does them: every deed goes
// through the store, and the store asks job.Decide.
type session struct {
	file *store.File
	job  uint64            // 0 until it is opened
	told map[string]string // the code each person has given rightly in this run
	// quiet leaves out the remarks, for a history that is played and not read.
	quiet bool
}

// reply is what became of one line.
type reply struct {
	line    entryLine
	card    *job.Card   // as it stands now; nil when there is no job yet
	events  []job.Event // what was recorded
	remarks []job.Remark
	refused job.Refused // every reason against it
	err     error       // what was wrong with the line or the file
	stop    bool        // err leaves nothing to go on with
}

// asExpected reports whether the line came out as its writer said: recorded, or refused for the
// reason named.
func (r reply) asExpected() bool {
	if r.line.expect == "" {
		return r.err == nil && len(r.refused) == 0
	}
	for _, b := range r.refused {
		if b.Code == r.line.expect {
			return true
		}
	}
	return false
}

// do carries out one line.
func (s *session) do(l entryLine) reply {
	r := reply{line: l}
	who, refused, err := s.identify(l.by, l.code)
	if err != nil || len(refused) > 0 {
		return r.ended(s, refused, err)
	}
	if l.open != nil {
		if s.job != 0 {
			return r.ended(s, nil, phrase.Error("command.session.job-is-open-in-this-run-another", s.job))
		}
		c, err := s.file.OpenJob(who, *l.open)
		if c != nil {
			s.job, r.card, r.events = c.Number(), c, c.Events
		}
		return r.ended(s, nil, err)
	}
	if s.job == 0 {
		return r.ended(s, nil, phrase.Error("command.session.no-job-has-been-opened-yet-the"))
	}
	for _, n := range l.people {
		p, refused, err := s.identify(n.id, n.code)
		if err == nil && len(refused) == 0 && !p.CodeGiven {
			refused = needsCode(n.id)
		}
		if err != nil || len(refused) > 0 {
			return r.ended(s, refused, err)
		}
		l.intent.Field(n.index).Set(reflect.ValueOf(&p.Person))
	}
	before, err := s.file.Load(s.job)
	if err != nil {
		return r.ended(s, nil, err)
	}
	r.card = before
	if l.values != nil {
		err = r.doValues(s, who, before)
	} else {
		err = r.doOne(s, who, l.intent.Interface().(job.Intent))
	}
	if len(r.events) > 0 && !s.quiet {
		r.remarks = newRemarks(before, r.card)
	}
	return r.ended(s, nil, err)
}

// doOne does one intent and adds what it recorded to the reply.
func (r *reply) doOne(s *session, who store.Actor, want job.Intent) error {
	c, events, err := s.file.Do(s.job, who, want)
	if c != nil {
		r.card = c
		r.events = append(r.events, events...)
	}
	return err
}

// doValues enters one value after the other at the items of a check that have none yet, from the
// item named on. It ends at the first that is refused; those before it are recorded.
func (r *reply) doValues(s *session, who store.Actor, c *job.Card) error {
	in := r.line.intent.Interface().(job.Enter)
	items, err := missingItems(c, in.Stage, in.Check, in.Item)
	if err != nil {
		return err
	}
	if len(items) < len(r.line.values) {
		return phrase.Error("command.session.values-for-the-items-of-that-have", len(r.line.values), len(items), in.Check)
	}
	for i, v := range r.line.values {
		in.Item, in.Value = items[i], v
		if err := r.doOne(s, who, in); err != nil {
			return err
		}
	}
	return nil
}

func missingItems(c *job.Card, at procedures.Ref, check, from string) ([]string, error) {
	for _, res := range c.Results(at) {
		if res.Check.ID != check {
			continue
		}
		for i, item := range res.Missing {
			if from == "" || item == from {
				return res.Missing[i:], nil
			}
		}
		return nil, phrase.Error("command.session.has-its-value-or-is-no-item", from, check)
	}
	return nil, phrase.Error("command.session.this-vehicle-has-no-check-at-the", check, at)
}

// ended sorts an error into refusal and failure.
func (r reply) ended(s *session, refused job.Refused, err error) reply {
	r.refused = refused
	var by job.Refused
	if errors.As(err, &by) {
		r.refused = append(r.refused, by...)
		err = nil
	}
	r.err = err
	var full store.Full
	var damaged store.Damaged
	var unsure store.Unsure
	var gone store.Gone
	r.stop = errors.As(err, &full) || errors.As(err, &gone) || errors.As(err, &damaged) || errors.As(err, &unsure)
	if r.card == nil && s.job != 0 {
		if c, err := s.file.Load(s.job); err == nil {
			r.card = c
		}
	}
	return r
}

// identify finds a person and checks the code, where one is given. Somebody who has given it in
// this run may leave it out; a signature still wants it in its own line.
func (s *session) identify(id, code string) (store.Actor, job.Refused, error) {
	p, ok := s.file.Register().Person(id)
	if !ok {
		return store.Actor{}, job.Refused{{Code: job.CodeUnknown, Text: phrase.Of("command.session.nobody-on-the-register-has-the-id", visible(cut(id))), WayOut: phrase.Of("command.session.name-somebody-by-the-id-on-the")}}, nil
	}
	who := store.Actor{Person: p}
	if code == "" {
		if _, in := s.told[id]; !in {
			return who, needsCode(id), nil
		}
		return who, nil, nil
	}
	who.CodeGiven = true
	if s.told[id] == code {
		return who, nil, nil
	}
	err := s.file.CheckCode(id, code)
	var wait store.Wait
	switch {
	case err == nil:
		s.told[id] = code
		return who, nil, nil
	case errors.Is(err, store.ErrWrongCode) || errors.As(err, &wait):
		return who, job.Refused{{Code: job.CodeCode, Text: err.Error(), WayOut: phrase.Of("command.session.give-the-personal-code-again")}}, nil
	}
	return who, nil, err
}

func needsCode(id string) job.Refused {
	return job.Refused{{Code: job.CodeCode, Text: phrase.Of("command.session.has-not-given-a-code-in-this", id), WayOut: phrase.Of("command.session.add-code-to-the-line")}}
}

// newRemarks are those that the newest events brought, each wording once.
func newRemarks(before, after *job.Card) []job.Remark {
	had := map[string]bool{}
	for _, m := range before.Remarks() {
		had[m.Text] = true
	}
	var out []job.Remark
	for _, m := range after.Remarks() {
		if !had[m.Text] {
			had[m.Text] = true
			out = append(out, m)
		}
	}
	return out
}

// entryOf finds the entry an event made.
func entryOf(c *job.Card, e job.Event) *job.Entry {
	b, ok := e.Body.(job.Entered)
	if !ok || c == nil {
		return nil
	}
	s := c.Stage(b.Stage)
	if s == nil {
		return nil
	}
	for i := range s.Attempts {
		for k := range s.Attempts[i].Entries {
			if x := &s.Attempts[i].Entries[k]; x.Seq == e.Seq {
				return x
			}
		}
	}
	return nil
}
