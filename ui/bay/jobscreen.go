package bay

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// jobScreen is the work on one job: one stage at a time, its items one below the other.
type jobScreen struct {
	number    uint64
	card      *job.Card
	at        procedures.Ref
	item      int // the row of items() that has the focus
	field     field
	out       bool // stepped out of the field: letters are commands
	click     bool // the field says "clicked"; Enter records it
	reason    string
	lastEntry time.Time         // when a value was recorded last
	tools     map[string]string // the instrument in hand, by the kinds a check takes
	toolBy    map[string]string // who chose it
	with      *job.AdapterUse   // the adapter on the wrench, at the check of withAt
	withAt    string            // the stage and check it is used at
	want      *job.Enter        // what waits for a tool, a reason or a second person
	checkers  []register.Person // who may countersign, then the one who does
	rechecks  []job.Recheck     // what the own wrench of the second person said so far
	stopKind  string            // chosen for the stop that is being written down
	brokenAt  *job.Broken       // the pass broken off on the stage shown
	goOn      func(e *Env, v any) Action
	readBy    map[string]int           // who opened the exceptions page, with how many on it
	units     map[string]quantity.Unit // the scale read, by instrument with several
	remark    remarked
	cover     coverage
}

// newJobScreen is the work on the job with that number. Text half typed there comes back.
func newJobScreen(number uint64) *jobScreen {
	return &jobScreen{number: number, field: field{most: 200}, tools: map[string]string{}, toolBy: map[string]string{}, readBy: map[string]int{}, units: map[string]quantity.Unit{}}
}

// loaded is a job with the draft that belongs to it.
type loaded struct {
	card  *job.Card
	draft store.Draft
	half  bool // there is a draft
}

// recorded is what a write came to.
type recorded struct {
	card   *job.Card
	events []job.Event
}

// Head is the job and the vehicle.
func (s *jobScreen) Head(*Env) string {
	if s.card == nil {
		return phrase.Of("bay.jobscreen.job", s.number)
	}
	return phrase.Of("bay.jobscreen.job-2", practiceMark(s.card), s.number, s.card.Opened.Vehicle.ID, s.card.Opened.Vehicle.Name)
}

func (s *jobScreen) demo() bool { return s.card != nil && s.card.Demo() }

// Draft is where the screen stands and what is half typed.
func (s *jobScreen) Draft() (store.Draft, bool) {
	if s.card == nil {
		return store.Draft{}, false
	}
	d := store.Draft{Job: s.number, Stage: s.at, Text: s.field.text}
	if it, ok := s.current(); ok {
		d.Check, d.Item, d.With = it.check.ID, it.name, s.tools[kinds(it.check)]
	}
	return d, true
}

// Update takes one input.
func (s *jobScreen) Update(e *Env, in Input) Action {
	s.sync(e)
	act := s.update(e, in)
	s.sync(e)
	return act
}

// sync finds out whether a torque pass of the stage shown was broken off: that depends on who is
// signed in.
func (s *jobScreen) sync(e *Env) {
	s.brokenAt = nil
	for _, b := range s.interrupted(e) {
		if b.Stage == s.at {
			s.brokenAt = &b
			return
		}
	}
}

func (s *jobScreen) update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		n := s.number
		s.cover = coverage{} // the register may have changed
		return Call{Name: "load", Do: func(f *store.File) (any, error) {
			c, err := f.Load(n)
			d, half := f.Draft()
			return loaded{c, d, half && d.Job == n}, err
		}}
	case Result:
		return s.result(e, in)
	case Answer:
		return s.answer(e, in)
	}
	if s.card == nil {
		if k, ok := in.(Key); ok && k.Sym == Esc {
			return Pop{}
		}
		return ignore(in)
	}
	switch in := in.(type) {
	case Key:
		return s.key(e, in)
	case Reading:
		return s.commit(e, string(in), job.SourceTyped)
	case Scan:
		return s.scanned(e, string(in))
	case Paste:
		if s.Focus() == FocusText || s.Focus() == FocusNumber {
			s.field.put(string(in))
			return nil
		}
	}
	return ignore(in)
}

// result takes what the store answered.
func (s *jobScreen) result(e *Env, r Result) Action {
	var refused job.Refused
	switch v := r.Value.(type) {
	case loaded:
		if r.Err != nil || v.card == nil {
			return Say{Text: phrase.Of("bay.jobscreen.job-cannot-be-read", s.number, r.Err), Role: draw.Bad}
		}
		first := s.card == nil
		s.card = v.card
		if first || s.card.Stage(s.at) == nil {
			s.place(e, v)
		}
		return nil
	case recorded:
		if errors.As(r.Err, &refused) {
			return s.refused(e, refused)
		}
		if v.card == nil {
			return Say{Text: phrase.Of("bay.jobscreen.not-recorded", fmt.Sprint(r.Err)), Role: draw.Bad}
		}
		act := s.adopt(e, v)
		if r.Err != nil { // stored, and yet the disk reported something
			return Many{act, Say{Text: r.Err.Error(), Role: draw.Bad}}
		}
		return act
	case revisions:
		return s.sheetsRead(v)
	case ownMistake:
		if r.Err == nil && v.stage == s.at.Stage {
			return Ask{Name: "why", Dialog: s.whyPane(v.text)}
		}
	case printedTo:
		return printed(v)
	}
	if r.Err != nil && r.Name == "print" {
		return Say{Text: phrase.Of("bay.jobscreen.not-printed", r.Err.Error()), Role: draw.Warn}
	}
	if r.Err != nil {
		return Say{Text: phrase.Of("bay.jobscreen.not-recorded", r.Err.Error()), Role: draw.Bad}
	}
	return nil
}

// place puts the screen where work goes on: the draft, a broken-off pass, or the present stage.
func (s *jobScreen) place(e *Env, v loaded) {
	s.remember(e)
	s.goStage(s.present())
	if half := s.interrupted(e); len(half) > 0 {
		s.goStage(half[0].Stage)
	}
	if !v.half || s.card.Stage(v.draft.Stage) == nil {
		return
	}
	s.goStage(v.draft.Stage)
	for i, it := range s.items() {
		if it.check.ID == v.draft.Check && it.name == v.draft.Item {
			s.item = i
			if v.draft.Person == e.Person.ID {
				s.field.put(v.draft.Text)
				if v.draft.With != "" {
					s.tools[kinds(it.check)], s.toolBy[kinds(it.check)] = v.draft.With, e.Person.ID
				}
			}
		}
	}
}

// present is the stage work stands at; when nothing is left to do, the first that waits for a second
// person, else the last.
func (s *jobScreen) present() procedures.Ref {
	if r := s.card.Next(); r != (procedures.Ref{}) {
		return r
	}
	for _, want := range []job.Status{job.SecondOwed} {
		for i := range s.card.Stages {
			if s.card.Stages[i].Status == want {
				return s.card.Stages[i].Node.Ref
			}
		}
	}
	return s.card.Stages[len(s.card.Stages)-1].Node.Ref
}

func (s *jobScreen) stage() *job.StageCard { return s.card.Stage(s.at) }

// goStage shows a stage with the focus on its first missing item.
func (s *jobScreen) goStage(r procedures.Ref) {
	s.at = r
	s.item = s.firstMissing()
	s.leaveField()
	if it, ok := s.current(); ok && it.entry != nil {
		s.out = s.Focus() == FocusText
	}
}

func (s *jobScreen) leaveField() {
	s.field.clear()
	s.out, s.click, s.reason = false, false, ""
}

func (s *jobScreen) firstMissing() int {
	items := s.items()
	for i, it := range items {
		if it.entry == nil && !it.check.Optional {
			return i
		}
	}
	for i, it := range items {
		if it.entry == nil {
			return i
		}
	}
	return max(len(items)-1, 0)
}

// item is one line of a stage: one value of one check.
type item struct {
	check *procedures.PlanCheck
	name  string
	entry *job.Entry
	no    int // its number in the check, from 1
}

// items lists what the stage asks for, in order, with what stands there now.
func (s *jobScreen) items() []item {
	st := s.stage()
	if st == nil {
		return nil
	}
	var out []item
	for _, res := range s.card.Results(s.at) {
		for i, name := range res.Check.Items {
			it := item{check: res.Check, name: name, no: i + 1}
			for _, v := range res.Values {
				if v.Entry != nil && v.Name == name {
					it.entry = v.Entry
				}
			}
			out = append(out, it)
		}
	}
	return out
}

// current is the item in focus.
func (s *jobScreen) current() (item, bool) {
	items := s.items()
	if s.item < 0 || s.item >= len(items) {
		return item{}, false
	}
	return items[s.item], true
}

// closed says in words why no value can be entered on the stage now, or nothing.
func (s *jobScreen) closed() string {
	switch st := s.stage(); {
	case s.card.Paused != nil:
		return phrase.Of("bay.jobscreen.paused-p-resumes", s.card.PauseFor)
	case st.Status == job.Complete || st.Status == job.SecondOwed:
		return phrase.Of("bay.jobscreen.this-stage-is-signed-a-begins-a")
	case st.Status == job.LeftOut:
		return phrase.Of("bay.jobscreen.this-stage-is-not-part-of-this")
	case st.Status == job.Undecided:
		return phrase.Of("bay.jobscreen.this-stage-depends-on-a-decision-or")
	case st.Status == job.Waiting:
		return phrase.Of("bay.jobscreen.a-stage-before-this-one-is-not")
	}
	return ""
}

// Focus follows the kind of the item.
func (s *jobScreen) Focus() Focus {
	if s.card == nil || s.closed() != "" || s.out || s.broken() != nil {
		return FocusNone
	}
	it, ok := s.current()
	if !ok {
		return FocusNone
	}
	switch it.check.Kind {
	case procedures.Confirm, procedures.Choice:
		return FocusNone
	case procedures.Text, procedures.Part:
		return FocusText
	}
	return FocusNumber
}

// remember takes up the tools this person used on this job today.
func (s *jobScreen) remember(e *Env) {
	for _, ev := range slices.Backward(s.card.Events) {
		b, ok := ev.Body.(job.Entered)
		if !ok || b.Instrument == nil || ev.By.ID != e.Person.ID || e.Now.Sub(ev.At) > maxToolAge {
			continue
		}
		st := s.card.Stage(b.Stage)
		if st == nil || st.Node.Check(b.Check) == nil {
			continue
		}
		k := kinds(st.Node.Check(b.Check))
		if s.tools[k] == "" {
			s.tools[k], s.toolBy[k] = b.Instrument.ID, e.Person.ID
		}
		if s.with == nil && b.Adapter != nil {
			s.with, s.withAt = b.Adapter, b.Stage.String()+"."+b.Check
		}
	}
}
