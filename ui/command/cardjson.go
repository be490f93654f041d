package command

import (
	"reflect"

	"bay.example/pawl/job"
)

// showFormat is the version of the JSON that pawl show writes; see the package comment.
const showFormat = 1

// cardObject is a whole job as JSON.
func cardObject(c *job.Card, status string) object {
	o := object{}
	o.add("format", showFormat)
	o.add("job", c.Number())
	o.add("status", status)
	o.add("demo", c.Demo())
	o.add("vehicle", c.Opened.Vehicle)
	o.add("complaint", c.Opened.Complaint)
	o.add("customer", plain(c.Opened.Customer))
	o.add("odometer", c.Opened.Odometer)
	o.add("traits", c.Opened.Traits)
	o.add("procedure", c.Opened.Procedure)
	o.add("sheet", c.Opened.Sheet)
	o.add("opened", markObject(&job.Mark{Seq: 1, By: c.OpenedBy, At: c.OpenedAt}))
	o.add("seq", c.Seq())
	o.add("digest", c.Head.String())
	o.add("paused", markObject(c.Paused))
	o.add("released", releaseObject(c))
	open := make([]object, len(c.Open))
	for i, st := range c.Open {
		s := object{}
		s.add("state", st.Ref.String())
		s.add("title", st.State.Title)
		s.add("danger", st.State.Danger)
		s.add("since", markObject(&st.Since))
		s.add("set_at", st.SetAt.String())
		back := []string{}
		for _, r := range st.PutBackAt {
			back = append(back, r.String())
		}
		s.add("put_back_at", back)
		open[i] = s
	}
	o.add("open", open)
	stages := make([]object, len(c.Stages))
	for i := range c.Stages {
		stages[i] = stageObject(c, &c.Stages[i])
	}
	o.add("stages", stages)
	remarks := []object{}
	for _, m := range c.Remarks() {
		remarks = append(remarks, remarkObject(m))
	}
	o.add("remarks", remarks)
	exceptions := []object{}
	for _, x := range c.Exceptions() {
		e := object{}
		e.add("seq", x.Seq)
		e.add("kind", x.Kind)
		e.add("stage", plain(x.Stage.String()))
		e.add("text", x.Text)
		e.add("strong", x.Strong)
		exceptions = append(exceptions, e)
	}
	o.add("exceptions", exceptions)
	events := make([]object, len(c.Events))
	for i, e := range c.Events {
		events[i] = eventObject(e)
	}
	o.add("events", events)
	return o
}

func markObject(m *job.Mark) any {
	if m == nil {
		return nil
	}
	o := object{}
	o.add("seq", m.Seq)
	o.add("by", m.By)
	o.add("at", stamp(m.At))
	return o
}

func releaseObject(c *job.Card) any {
	if c.Released == nil {
		return nil
	}
	o := object{}
	o.add("seq", c.Released.Seq)
	o.add("by", c.Released.By)
	o.add("at", stamp(c.Released.At))
	o.add("independent", c.Released.Independent)
	o.add("outcome", plain(c.Released.Outcome))
	o.add("note", plain(c.Released.Note))
	return o
}

func stageObject(c *job.Card, s *job.StageCard) object {
	o := object{}
	o.add("stage", s.Node.Ref.String())
	o.add("title", s.Node.Stage.Title)
	o.add("side", plain(string(s.Node.Ref.Side)))
	o.add("phase", s.Node.Phase.ID)
	o.add("status", s.Status.String())
	stale := ""
	if s.StaleBy != nil {
		stale = s.StaleBy.String()
	}
	o.add("stale_by", plain(stale))
	attempts := make([]object, len(s.Attempts))
	for i := range s.Attempts {
		a := &s.Attempts[i]
		x := object{}
		x.add("no", a.No)
		x.add("reason", plain(a.Reason))
		entries := make([]object, len(a.Entries))
		for k := range a.Entries {
			entries[k] = entryObject(&a.Entries[k])
		}
		x.add("entries", entries)
		checks := []any{}
		for _, k := range a.Checks {
			checks = append(checks, shown(reflect.ValueOf(k)))
		}
		x.add("second_person_checks", checks)
		x.add("signed", markObject(a.Signed))
		x.add("second_owed", a.Owed)
		x.add("no_second_available", a.NoSecond)
		x.add("countersigned", markObject(a.Countersigned))
		attempts[i] = x
	}
	o.add("attempts", attempts)
	results := []object{}
	if s.Applicable() {
		for _, r := range c.Results(s.Node.Ref) {
			results = append(results, resultObject(r))
		}
	}
	o.add("results", results)
	return o
}

func entryObject(e *job.Entry) object {
	o := object{}
	o.add("seq", e.Seq)
	o.add("at", stamp(e.At))
	o.add("by", e.By)
	for _, m := range fieldsOf(reflect.ValueOf(e.Entered)) {
		if m.key != "stage" && m.key != "attempt" { // both stand above
			o = append(o, m)
		}
	}
	o.add("stands", e.Counts())
	if e.ReplacedBy != 0 {
		o.add("replaced_by", e.ReplacedBy)
	}
	if e.Broken {
		o.add("broken", true)
	}
	return o
}

func resultObject(r job.Result) object {
	o := object{}
	o.add("check", r.Check.ID)
	o.add("kind", string(r.Check.Kind))
	o.add("title", r.Check.Title)
	o.add("missing", orNone(r.Missing))
	o.add("verdict", r.Verdict.String())
	figures := []object{}
	for _, v := range r.Values {
		if v.Entry == nil {
			figures = append(figures, figureObject(v))
		}
	}
	o.add("figures", figures)
	return o
}
