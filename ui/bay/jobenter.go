package bay

import (
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// maxToolAge is how long the tool a person used stays the one in hand without being asked for.
const maxToolAge = 12 * time.Hour

// Names of the dialogs of entering.
const (
	reasonName   = "reason"
	ownName      = "own-reason"
	doubtName    = "slip-or-real"
	allClickName = "all-clicked"
	slipName     = "second-slip"
)

// kinds names the instruments a check takes; checks with the same kinds share the tool in hand.
func kinds(pc *procedures.PlanCheck) string {
	return strings.Join(pc.Tools, phrase.Of("bay.jobenter.or"))
}

// commit begins to record a value for the item in focus: it finds the tool and, for an item with a
// value, the reason first.
func (s *jobScreen) commit(e *Env, text, source string) Action {
	it, ok := s.current()
	if !ok {
		return nil
	}
	if why := s.closed(); why != "" {
		return Say{Text: why, Role: draw.Warn}
	}
	if act := s.readFirst(e); act != nil {
		return act
	}
	want := job.Enter{Stage: s.at, Check: it.check.ID, Item: it.name, Value: s.withUnit(e, it, text), Source: source, Reason: s.reason}
	return s.prepare(e, it, want)
}

// clicked begins to record the click of a setting wrench, on this fastener or on all that are left.
func (s *jobScreen) clicked(e *Env, all bool) Action {
	it, ok := s.current()
	if !ok {
		return nil
	}
	want := job.Enter{Stage: s.at, Check: it.check.ID, Item: it.name, Clicked: true, All: all, Reason: s.reason}
	if all {
		s.want = &want
		return Ask{Name: allClickName, Dialog: newYesNo(phrase.Of("bay.jobenter.every-fastener-left-clicked"),
			phrase.Of("bay.jobenter.each-one-left-of-clicked-at-the", it.check.Title))}
	}
	return s.prepare(e, it, want)
}

// prepare asks for what is still missing and then records.
func (s *jobScreen) prepare(e *Env, it item, want job.Enter) Action {
	s.want = &want
	if it.entry != nil && want.Reason == "" && !want.All {
		return s.askReason(it, want)
	}
	if len(it.check.Tools) > 0 && it.name != procedures.ItemNew {
		tool := s.tool(e, it.check)
		if tool == "" {
			return s.askTool(e)
		}
		want.With = tool
		if it.check.Kind == procedures.Torque {
			want.Adapter = s.adapter(it)
			if want.Adapter == nil && it.check.Adapter && s.wrenchInHand(e, it) {
				return s.askAdapter(it)
			}
		}
	}
	return s.record(e, want)
}

// record sends the value to the store.
func (s *jobScreen) record(e *Env, want job.Enter) Action {
	s.want = &want
	n, who := s.number, e.Actor()
	return Call{Name: "record", Do: func(f *store.File) (any, error) {
		c, ev, err := f.Do(n, who, want)
		return recorded{c, ev}, err
	}}
}

// tool is the instrument in the hand of the person signed in, or nothing.
func (s *jobScreen) tool(e *Env, pc *procedures.PlanCheck) string {
	k := kinds(pc)
	if s.toolBy[k] != e.Person.ID {
		return ""
	}
	return s.tools[k]
}

// unitOf is the unit a bare number is taken in: that of the window, or of the scale in hand.
func (s *jobScreen) unitOf(e *Env, it item) quantity.Unit {
	unit := quantity.Unit(it.check.Unit)
	for _, w := range []*procedures.PlanWindow{it.check.Nominal, it.check.Window} {
		if w != nil {
			unit = w.Window.Unit()
		}
	}
	if it.check.Kind == procedures.Count || it.name == procedures.ItemNew {
		return quantity.Count
	}
	if in, ok := e.Register.Instrument(s.tool(e, it.check)); ok && len(in.Scales) > 0 && in.Scales[0].Same(unit) {
		if u := s.units[in.ID]; u != "" {
			return u
		}
		for _, sc := range in.Scales {
			if sc == unit {
				return unit
			}
		}
		return in.Scales[0]
	}
	return unit
}

// withUnit adds the unit shown beside the field to a bare number, when it is not the window's own.
func (s *jobScreen) withUnit(e *Env, it item, text string) string {
	if !numeric(it.check.Kind) || it.name == procedures.ItemNew {
		return text
	}
	if _, err := quantity.ParseNumber(text); err != nil {
		return text
	}
	u := s.unitOf(e, it)
	if w := it.check.Window; w == nil || u == w.Window.Unit() || u == quantity.Count {
		return text
	}
	return text + " " + string(u)
}

func numeric(k procedures.Kind) bool {
	switch k {
	case procedures.Count, procedures.Torque, procedures.Thickness, procedures.RunOut, procedures.Reading:
		return true
	}
	return false
}

// slipReasons are the reasons of a correction that are offered by number, as they are recorded.
var slipReasons = []string{job.ReasonSlip, "wrong instrument", "wrong side", "wrong unit"}

// reasonOptions offers them, and own words. What was called real is no slip of the keys.
func reasonOptions(it item) []option {
	var out []option
	for _, r := range slipReasons {
		o := option{text: phrase.Word(r)}
		if r == job.ReasonSlip && it.entry.Real != nil {
			o.off = phrase.Of("bay.jobenter.called-it-real-so-it-is-no", it.entry.Real.By.Name)
		}
		out = append(out, o)
	}
	return append(out, option{text: phrase.Of("bay.jobenter.own-words")})
}

// askReason asks why a value that stands is replaced.
func (s *jobScreen) askReason(it item, want job.Enter) Action {
	now := want.Value
	if want.Clicked {
		now = phrase.Of("bay.jobenter.clicked")
	}
	return Ask{Name: reasonName, Dialog: newChooser(phrase.Of("bay.jobenter.why-is-it-corrected"), []line{{text: phrase.Of("bay.jobenter.stands-at-is-to-replace-it-the", label(it), shown(it.entry), now)}}, reasonOptions(it))}
}

// label names an item.
func label(it item) string {
	if it.name == "" {
		return it.check.Title
	}
	if it.name == procedures.ItemNew {
		return phrase.Of("bay.jobenter.new-ones-of", it.check.Title)
	}
	return it.check.Title + ", " + it.name
}

// shortLabel names an item in w cells. Where there is no room for all of it the title gives way, so
// that the items of one check can be told apart.
func shortLabel(t *draw.Theme, it item, w int) string {
	full := t.Plain(label(it))
	if draw.Width(full) <= w || it.name == "" || it.name == procedures.ItemNew {
		return t.Truncate(full, w)
	}
	name := ", " + t.Plain(it.name)
	if left := w - draw.Width(name); left >= 6 {
		return t.Truncate(t.Plain(it.check.Title), left) + name
	}
	return t.Truncate(full, w)
}

// shown is the value of an entry.
func shown(x *job.Entry) string {
	if !x.Value.IsZero() {
		return x.Value.Shown()
	}
	return x.Answer
}

// adopt takes the job as it stands after a write and moves on.
func (s *jobScreen) adopt(e *Env, r recorded) Action {
	s.card, s.want = r.card, nil
	if len(r.events) == 0 {
		return nil
	}
	switch b := r.events[len(r.events)-1].Body.(type) {
	case job.Entered:
		return s.entered(e, b, len(r.events))
	case job.Broken:
		s.goStage(b.Stage)
		return Say{Text: phrase.Of("bay.jobenter.the-pass-starts-again-at-the-first"), Role: draw.Warn}
	case job.Signed:
		return s.signed(b)
	case job.Countersigned:
		s.goStage(s.present())
		return Say{Text: phrase.Of("bay.jobenter.countersigned"), Role: draw.Good}
	case job.Reopened:
		s.goStage(b.Stage)
		return Say{Text: phrase.Of("bay.jobenter.attempt-the-ones-before-are-kept", b.Attempt), Role: draw.Warn}
	case job.Paused:
		return Say{Text: phrase.Of("bay.jobenter.the-job-is-paused"), Role: draw.Warn}
	case job.Resumed:
		s.goStage(s.at)
		return Say{Text: phrase.Of("bay.jobenter.the-job-goes-on"), Role: draw.Good}
	case job.Released:
		s.goStage(s.present())
		if b.Outcome != "" && b.Outcome != job.OutcomeReleased {
			return Say{Text: phrase.Of("bay.jobenter.signed", phrase.Word(b.Outcome)), Role: draw.Warn}
		}
		return Say{Text: phrase.Of("bay.jobenter.released-the-vehicle-may-leave"), Role: draw.Good}
	default:
		if s.card.Stage(s.at) == nil {
			s.goStage(s.present())
		}
		return s.happened(b)
	}
}

// entered says what a value came to and goes to the next item.
func (s *jobScreen) entered(e *Env, b job.Entered, events int) Action {
	i := s.item
	it, _ := s.current()
	s.next()
	s.lastEntry = e.Now
	x := &job.Entry{Entered: b}
	said := shown(x)
	if !b.Bolt.IsZero() {
		said += phrase.Of("bay.jobenter.set-at-the-fastener", shortBolt(x).Shown())
	}
	if numeric(it.check.Kind) {
		said = strings.TrimSpace(said + " " + strings.ToUpper(verdictWord(b.Verdict)))
	}
	if events > 1 && b.AllAtOnce {
		said = phrase.Of("bay.jobenter.fasteners-confirmed-at-once", events)
	}
	role := draw.Good
	switch b.Verdict {
	case quantity.NotProven:
		role = draw.Warn
		said += phrase.Of("bay.jobenter.the-instrument-cannot-tell-it-from-the")
	case quantity.Outside:
		role = draw.Bad
		if numeric(it.check.Kind) && b.Window != nil {
			s.item = i
			return s.doubt(it, b)
		}
		said += phrase.Of("bay.jobenter.it-blocks-the-signature")
	}
	for _, f := range s.figures(b.Check) {
		said += "; " + f.Name + " " + f.Value.Shown() + " " + strings.ToUpper(verdictWord(f.Verdict))
		if f.Verdict == quantity.Outside {
			role = draw.Bad
		}
	}
	switch {
	case !s.allIn() || role == draw.Bad:
	case len(s.card.Blockers(s.at, e.Context())) == 0:
		said += phrase.Of("bay.jobenter.every-item-has-its-value-s-signs")
	default:
		said += phrase.Of("bay.jobenter.every-item-has-its-value-b-says")
	}
	return Say{Text: phrase.Of("bay.jobenter.recorded", said), Role: role}
}

func verdictWord(v quantity.Verdict) string {
	if v == quantity.Unjudged {
		return ""
	}
	return phrase.Word(v.String())
}

// doubt asks of a value outside its window whether it is a slip of the keys or real.
func (s *jobScreen) doubt(it item, b job.Entered) Action {
	value := b.Value
	if !b.Bolt.IsZero() {
		value = b.Bolt
	}
	text := []line{{role: draw.Bad, text: phrase.Of("bay.jobenter.outside", outsideBy(value, b.Window.Window)) + " "}}
	if h, ok := hint(value, b.Window.Window); ok {
		text = append(text, line{text: h})
	}
	text = append(text, line{role: draw.Title, text: phrase.Of("bay.jobenter.slip-of-the-keys-or-real")})
	return Ask{Name: doubtName, Dialog: newChooser(label(it)+": "+value.String(), text, []option{
		{text: phrase.Of("bay.jobenter.a-slip-type-it-again"), note: phrase.Of("bay.jobenter.the-value-stays-in-the-record-replaced")},
		{text: phrase.Of("bay.jobenter.real-it-stays"), note: phrase.Of("bay.jobenter.the-stage-cannot-be-signed-on-it")}})}
}

// outsideBy says how far a value is outside a window.
func outsideBy(v quantity.Quantity, w quantity.Window) string {
	if c, err := v.Cmp(w.Low); !w.Low.IsZero() && err == nil && c < 0 {
		if d, err := w.Low.Sub(v); err == nil {
			return phrase.Of("bay.jobenter.is-under", v, d, w.Low)
		}
	}
	if c, err := v.Cmp(w.High); !w.High.IsZero() && err == nil && c > 0 {
		if d, err := v.Sub(w.High); err == nil {
			return phrase.Of("bay.jobenter.is-over", v, d, w.High)
		}
	}
	return phrase.Of("bay.jobenter.is-not-in", v, w)
}

// hint looks for the one slip that would explain a value.
func hint(v quantity.Quantity, w quantity.Window) (string, bool) {
	var h fastening.Hint
	ok := false
	switch w.Dimension() {
	case quantity.Torque:
		h, ok = fastening.HintTorque(v, w)
	case quantity.Length:
		h, ok = fastening.HintLength(v, w, quantity.Window{})
	case quantity.Force:
		h, ok = fastening.HintForce(v, w, quantity.Window{})
	case quantity.Temperature:
		h, ok = fastening.HintTemperature(v, w, quantity.Window{})
	}
	return h.Text, ok
}

// refused shows every reason; a second slip on one fastener asks for a second person.
func (s *jobScreen) refused(e *Env, r job.Refused) Action {
	want := s.want
	if want != nil && len(r) == 1 && r[0].Code == job.CodeSecond && want.Reason == job.ReasonSlip {
		n, doer := s.number, e.Actor()
		return Ask{Name: slipName, Dialog: newWho(phrase.Of("bay.jobenter.second-slip-who-confirms"), []line{{text: sentence(r[0].Text) + ". " + sentence(r[0].WayOut) + "."}}, s.qualified(e),
			func(f *store.File, who store.Actor) (any, error) {
				again := *want
				again.Second = &who.Person
				c, ev, err := f.Do(n, doer, again)
				return recorded{c, ev}, err
			})}
	}
	s.want = nil
	if len(r) > 1 {
		return Ask{Name: "refused", Dialog: newPane(phrase.Of("bay.jobenter.not-recorded"), blockerLines(r)...)}
	}
	text := phrase.Of("bay.jobenter.not-recorded-2", r[0].Text)
	if it, ok := s.current(); ok && r[0].Code == job.CodeInstrument && it.check.Window != nil && want != nil {
		if v, err := quantity.Parse(want.Value, it.check.Window.Window.Unit()); err == nil {
			if h, ok := hint(v, it.check.Window.Window); ok {
				text += ". " + h
			}
		}
	}
	if r[0].WayOut != "" {
		text = strings.TrimSuffix(text, ".") + phrase.Of("bay.jobenter.way-out", r[0].WayOut)
	}
	return Say{Text: text, Role: draw.Warn}
}

// qualified lists who may vouch besides the person signed in.
func (s *jobScreen) qualified(e *Env) []register.Person {
	var out []register.Person
	for _, p := range working(e.Register, e.Person.ID) {
		if p.Qualified() {
			out = append(out, p)
		}
	}
	return out
}

// scanned takes a scan where the stage asks for one: a tool anywhere, a part number or words in
// their field. In a number field it is refused and the field stays as it is.
func (s *jobScreen) scanned(e *Env, text string) Action {
	for _, in := range e.Register.Instruments {
		if strings.EqualFold(in.ID, text) || strings.EqualFold(in.Serial, text) {
			return s.toolScanned(e, in)
		}
	}
	switch s.Focus() {
	case FocusText:
		return s.commit(e, text, job.SourceScan)
	case FocusNumber:
		return Say{Text: phrase.Of("bay.jobenter.is-a-scan-not-a-measurement-nothing", text), Role: draw.Warn}
	}
	return Say{Text: phrase.Of("bay.jobenter.the-scan-fits-nothing-that-is-asked", text), Role: draw.Warn}
}

func (s *jobScreen) toolScanned(e *Env, in register.Instrument) Action {
	it, ok := s.current()
	if !ok || len(it.check.Tools) == 0 {
		return Say{Text: phrase.Of("bay.jobenter.was-scanned-and-this-value-is-taken", in.ID), Role: draw.Warn}
	}
	if why := unfit(e, it.check, in, s.adapter(it)); why != "" {
		return Say{Text: why, Role: draw.Warn}
	}
	s.tools[kinds(it.check)], s.toolBy[kinds(it.check)] = in.ID, e.Person.ID
	return Say{Text: phrase.Of("bay.jobenter.is-in-hand-now", in.ID), Role: draw.Good}
}
