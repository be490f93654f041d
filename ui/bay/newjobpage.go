package bay

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// jobPage asks what is written down when a vehicle comes in, and shows the job before it is opened.
type jobPage struct {
	page    page
	stock   stock
	vehicle register.Vehicle
	now     time.Time
	foreman bool     // the one signed in may say that the odometer was replaced
	ahead   *preview // the job as it would be; nil while the page is being filled in
	kept    bool     // something was typed, so a draft of it may lie in the file
}

// The kinds of job.
const (
	workKind     = "work"
	practiceKind = "practice"
)

// newJobPage asks for a job on a known vehicle.
func newJobPage(st stock, v register.Vehicle) *jobPage {
	s := &jobPage{stock: st, vehicle: v}
	complaint := textRow("complaint", phrase.Of("bay.newjobpage.complaint"), "", phrase.Of("bay.newjobpage.in-the-customers-own-words-what-was"))
	complaint.field.most = job.MaxText
	by := textRow("customer", phrase.Of("bay.newjobpage.ordered-by"), v.Owner, phrase.Of("bay.newjobpage.who-ordered-the-work-it-may-stay"))
	by.optional = true
	odo := textRow("odometer", phrase.Of("bay.newjobpage.odometer"), "", phrase.Of("bay.newjobpage.what-the-instrument-shows-in-whole-km", s.lastWords()))
	odo.check = s.odometerCheck
	odo.remark = func(text string) string {
		for _, o := range s.doubts(text) {
			return sentence(o.Text)
		}
		return ""
	}
	var ids, words []string
	for _, p := range st.served(st.sheet(v.Sheet)) {
		ids, words = append(ids, p.ID), append(words, procedureWords(p))
	}
	first := ""
	if len(ids) == 1 {
		first = ids[0]
	}
	proc := choiceRow("procedure", phrase.Of("bay.newjobpage.procedure"), first, ids, words, phrase.Of("bay.newjobpage.what-is-to-be-done-among-what"))
	proc.check = s.procedureCheck
	proc.changed = func(id string) Action { s.traits(id); return nil }
	kind := choiceRow("kind", phrase.Of("bay.newjobpage.kind-of-job"), workKind, []string{workKind, practiceKind}, []string{phrase.Of("bay.newjobpage.work-on-the-vehicle"), phrase.Of("bay.newjobpage.practice-an-exercise-kept-out-of-the")}, phrase.Of("bay.newjobpage.a-practice-job-follows-the-same-rules"))
	s.page = page{title: phrase.Of("bay.newjobpage.new-job-for", v.ID, v.Name), rows: []pageRow{complaint, by, kind, odo, proc}, last: phrase.Of("bay.newjobpage.look-at-it")}
	s.traits(first)
	return s
}

func procedureWords(p *procedures.Procedure) string {
	text := phrase.Of("bay.newjobpage.revision", p.Title, p.Revision)
	if p.Demo {
		text += phrase.Of("bay.newjobpage.demo")
	}
	return text
}

// traits puts a row for every trait of the procedure, as the vehicle or its sheet says, and keeps
// what was chosen already.
func (s *jobPage) traits(procedure string) {
	kept := map[string]string{}
	var rows []pageRow
	for i := range s.page.rows {
		r := s.page.rows[i]
		if strings.HasPrefix(r.id, traitRow) {
			kept[r.id] = r.value()
		} else {
			rows = append(rows, r)
		}
	}
	p, sheet := s.stock.procedure(procedure), s.stock.sheet(s.vehicle.Sheet)
	if p != nil && sheet != nil {
		for _, t := range p.Traits {
			rows = append(rows, s.traitRow(t, sheet, kept[traitRow+t.ID]))
		}
	}
	s.page.rows = rows
}

func (s *jobPage) traitRow(t procedures.Trait, sheet *procedures.Sheet, kept string) pageRow {
	value, from := sheetTrait(s.vehicle, sheet, t.ID)
	r := choiceRow(traitRow+t.ID, t.Title, value, t.Values, t.Values, t.Ask)
	r.from = func(now string) string {
		switch {
		case value == "":
			return ""
		case now == value:
			return from
		}
		return phrase.Of("bay.newjobpage.changed-was", value)
	}
	if kept != "" {
		for i, v := range t.Values {
			if v == kept {
				r.at = i
			}
		}
	}
	return r
}

// procedureCheck refuses a procedure that the sheet of the vehicle does not serve.
func (s *jobPage) procedureCheck(id string) error {
	err := procedures.CheckPair(s.stock.procedure(id), s.stock.sheet(s.vehicle.Sheet))
	var faults procedures.Faults
	if errors.As(err, &faults) && len(faults) > 0 {
		return phrase.Error("bay.newjobpage.the-spec-sheet-does-not-serve-this", s.vehicle.Sheet, faults[0])
	}
	return err
}

// chosen is every trait as the page says.
func (s *jobPage) chosen() map[string]string {
	out := map[string]string{}
	for i := range s.page.rows {
		if id, ok := strings.CutPrefix(s.page.rows[i].id, traitRow); ok {
			out[id] = s.page.rows[i].value()
		}
	}
	return out
}

// Draft is what has been typed so far.
func (s *jobPage) Draft() (store.Draft, bool) {
	rows := s.page.typed()
	s.kept = s.kept || rows != ""
	return store.Draft{Vehicle: s.vehicle.ID, Rows: rows}, s.kept
}

// restore fills the page in as a draft has it. The procedure comes first: it brings the rows of its
// traits.
func (s *jobPage) restore(draft string) {
	var rows map[string]string
	if err := json.Unmarshal([]byte(draft), &rows); err != nil {
		return // of another program; what was typed is gone, nothing else
	}
	if r := s.page.row("procedure"); rows["procedure"] != "" {
		r.restore(rows["procedure"])
		s.traits(r.value())
	}
	for i := range s.page.rows {
		if v, ok := rows[s.page.rows[i].id]; ok {
			s.page.rows[i].restore(v)
		}
	}
	s.askWhyLower()
	if r := s.page.row(whyRow); r != nil {
		r.restore(rows[whyRow])
	}
}

// Head says what this is.
func (s *jobPage) Head(*Env) string {
	return phrase.Of("bay.newjobpage.new-job", s.vehicle.ID, s.vehicle.Name)
}

// Focus is the row's, and nowhere over the preview.
func (s *jobPage) Focus() Focus {
	if s.ahead != nil {
		return FocusNone
	}
	return s.page.focus()
}

// Keys are the row's, or those of the preview.
func (s *jobPage) Keys(*Env) []Binding {
	if s.ahead == nil {
		return s.page.keys()
	}
	return append([]Binding{{Key: "Enter", Word: phrase.Of("bay.newjobpage.open-the-job"), Bar: true}}, append(s.ahead.pane.scrollKeys(), Binding{Key: "Esc", Word: phrase.Of("bay.importpage.back-to-the-rows"), Bar: true})...)
}

// Update fills the page in, shows the job ahead, and opens it.
func (s *jobPage) Update(e *Env, in Input) Action {
	s.now, s.foreman = e.Now, e.Person.MayDo(procedures.Foreman)
	if r, ok := in.(Result); ok {
		return s.result(r)
	}
	if s.ahead != nil {
		return s.decide(e, in)
	}
	act, done := s.page.update(in)
	s.askWhyLower()
	if !done {
		return act
	}
	ahead, err := newPreview(s)
	if err != nil {
		return Say{Text: sentence(err.Error()), Role: draw.Warn}
	}
	s.ahead = ahead
	return nil
}

// decide opens the job or goes back to the rows.
func (s *jobPage) decide(e *Env, in Input) Action {
	k, ok := in.(Key)
	switch {
	case !ok:
		return ignore(in)
	case k.Sym == Esc:
		s.ahead = nil
		return nil
	case k.Sym == Enter && k.Again:
		return nil
	case k.Sym == Enter:
		n, who := s.job(), e.Actor()
		return Call{Name: "open", Do: func(f *store.File) (any, error) { return f.OpenJob(who, n) }}
	}
	return s.ahead.pane.key(k)
}

// job is what the page says, with the traits that differ.
func (s *jobPage) job() store.NewJob {
	n := store.NewJob{Vehicle: s.vehicle.ID, Complaint: s.page.value("complaint"), Customer: s.page.value("customer"),
		Odometer: s.page.value("odometer"), Procedure: s.page.value("procedure"), Traits: map[string]string{}, Practice: s.page.value("kind") == practiceKind,
		OdometerWhy: s.page.value(whyRow)}
	sheet := s.stock.sheet(s.vehicle.Sheet)
	for id, v := range s.chosen() {
		if known, _ := sheetTrait(s.vehicle, sheet, id); known != v {
			n.Traits[id] = v
		}
	}
	return n
}

func (s *jobPage) result(r Result) Action {
	c, ok := r.Value.(*job.Card)
	if !ok || c == nil {
		s.ahead = nil
		return Say{Text: refusalWords(r.Err), Role: draw.Bad}
	}
	act := Many{Pop{}, Replace{newJobScreen(c.Number())}} // also in the place of the list of vehicles
	if r.Err != nil {
		return append(act, Say{Text: sentence(r.Err.Error()), Role: draw.Bad})
	}
	return append(act, Say{Text: phrase.Of("bay.newjobpage.job-is-open", c.Number()), Role: draw.Good})
}

// refusalWords is an error as sentences, a refusal with its ways out.
func refusalWords(err error) string {
	var refused job.Refused
	if !errors.As(err, &refused) {
		return sentence(fmt.Sprint(err))
	}
	var out []string
	for _, b := range refused {
		out = append(out, sentence(b.Text)+": "+b.WayOut)
	}
	return strings.Join(out, ". ")
}

// View shows the page or the job ahead.
func (s *jobPage) View(e *Env, w, h int) string {
	if s.ahead != nil {
		return s.ahead.view(e, w, h)
	}
	return s.page.view(e.Theme, w, h)
}
