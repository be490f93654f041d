package job

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

var (
	two     = big.NewRat(2, 1)
	hundred = big.NewRat(100, 1)
)

// MaxText is the most characters a written entry may have.
const MaxText = 500

// The answers of a confirm check.
const (
	Yes = "yes"
	No  = "no"
)

// asking is one Enter on its way to an event: where it goes, and the entry filled in so far.
type asking struct {
	card   *Card
	stage  *StageCard
	check  *procedures.PlanCheck
	intent Enter
	ctx    Context
	entry  Entered
}

func (a *asking) refuse(code Code, wayOut, format string, args ...any) Refused {
	return Refused{{Code: code, Stage: a.intent.Stage, Check: a.intent.Check, Item: a.intent.Item,
		Text: fmt.Sprintf(format, args...), WayOut: wayOut}}
}

// understand turns what was typed into a value and judges it. A value outside its window is no
// refusal: it is kept and blocks the signature.
func (a *asking) understand() error {
	if err := plainText(a.intent.Value); err != nil {
		return a.refuse(CodeValue, phrase.Of("job.judge.type-it-again"), "%v", err)
	}
	a.entry.Raw = a.intent.Value
	switch a.check.Kind {
	case procedures.Confirm:
		return a.confirm()
	case procedures.Choice:
		return a.choice()
	case procedures.Count:
		return a.count(a.check.Expect)
	case procedures.Text:
		return a.words()
	case procedures.Part:
		return a.part()
	case procedures.Torque:
		return a.torque()
	}
	return a.reading()
}

// plainText refuses what cannot be printed as it is: control characters, marks that turn the
// direction of writing, and text that is too long.
func plainText(s string) error {
	if !utf8.ValidString(s) {
		return phrase.Error("job.judge.the-text-is-not-valid-utf-8")
	}
	if n := utf8.RuneCountInString(s); n > MaxText {
		return phrase.Error("job.judge.the-text-has-characters-at-most-are", n, MaxText)
	}
	for _, r := range s {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029' {
			return phrase.Error("job.judge.the-text-holds-the-invisible-character-u", r)
		}
	}
	return nil
}

func verdictIf(ok bool) quantity.Verdict {
	if ok {
		return quantity.Inside
	}
	return quantity.Outside
}

func (a *asking) confirm() error {
	v := strings.ToLower(strings.TrimSpace(a.intent.Value))
	if v != Yes && v != No {
		return a.refuse(CodeValue, phrase.Of("job.judge.answer-yes-or-no"), "%s", phrase.Of("job.judge.is-no-answer-to-expected-yes-or", a.intent.Value, a.check.Title))
	}
	a.entry.Answer, a.entry.Verdict = v, verdictIf(v == Yes)
	return nil
}

func (a *asking) choice() error {
	v := strings.TrimSpace(a.intent.Value)
	if len(v) == 1 && v[0] >= '1' && int(v[0]-'0') <= len(a.check.Options) && !slices.Contains(a.check.Options, v) {
		v = a.check.Options[v[0]-'1']
	}
	if !slices.Contains(a.check.Options, v) {
		return a.refuse(CodeValue, phrase.Of("job.decide.choose-one-by-its-number"), "%s", phrase.Of("job.judge.is-not-among-the-answers-expected-one", a.intent.Value, strings.Join(a.check.Options, ", ")))
	}
	a.entry.Answer = v
	a.entry.Verdict = verdictIf(len(a.check.Pass) == 0 || slices.Contains(a.check.Pass, v))
	return nil
}

func (a *asking) count(expect *int) error {
	q, err := quantity.Parse(a.intent.Value, quantity.Count)
	if err != nil {
		return a.refuse(CodeValue, phrase.Of("job.judge.type-a-whole-number"), "%v", err)
	}
	if q.Unit != quantity.Count || !q.Rat().IsInt() || q.Negative() || len(q.Number) > 4 {
		return a.refuse(CodeValue, phrase.Of("job.judge.type-a-whole-number"), "%s", phrase.Of("job.judge.is-no-count-expected-a-whole-number", a.intent.Value))
	}
	a.entry.Value, a.entry.Verdict = q, quantity.Inside
	n := int(q.Rat().Num().Int64())
	if a.check.Same != "" {
		other, ok := a.card.CountOf(a.check.Same, a.intent.Stage.Side)
		if !ok {
			return a.refuse(CodeMissing, phrase.Of("job.judge.record-that-count-first"), "%s", phrase.Of("job.judge.the-count-it-must-equal-has-not", a.check.Same))
		}
		expect = &other
	}
	if expect != nil {
		a.entry.Verdict = verdictIf(n == *expect)
		a.entry.Window = countWindow(*expect)
	}
	if a.check.Kind == procedures.Count && a.check.Window != nil {
		return a.judge(q)
	}
	return nil
}

// countWindow writes down the number that was expected, so that the record shows it in ten years.
func countWindow(n int) *procedures.PlanWindow {
	text := fmt.Sprintf("%d..%d count", n, n)
	w, err := quantity.ParseWindow(text)
	if err != nil {
		return nil
	}
	return &procedures.PlanWindow{ID: "count", Window: w, Document: "procedure"}
}

// CountOf finds the count "stage.check" recorded before, on the same side or for the vehicle.
func (c *Card) CountOf(ref string, side procedures.Side) (int, bool) {
	id, check, _ := strings.Cut(ref, ".")
	for _, s := range []procedures.Side{side, procedures.NoSide} {
		st := c.Stage(procedures.Ref{Stage: id, Side: s})
		if st == nil {
			continue
		}
		for k := len(st.Attempts) - 1; k >= 0; k-- { // a new attempt not counted yet leaves the old count standing
			if e := st.Attempts[k].Entry(check, ""); e != nil {
				return int(e.Value.Rat().Num().Int64()), true
			}
		}
	}
	return 0, false
}

func (a *asking) words() error {
	v := strings.TrimSpace(a.intent.Value)
	if v == "" {
		return a.refuse(CodeValue, phrase.Of("job.judge.type-a-few-words-or-a-dash"), "%s", phrase.Of("job.judge.needs-words-nothing-was-typed", a.check.Title))
	}
	a.entry.Answer, a.entry.Verdict = v, quantity.Inside
	return nil
}

func (a *asking) part() error {
	v := strings.TrimSpace(a.intent.Value)
	if v == "" {
		return a.refuse(CodeValue, phrase.Of("job.judge.scan-or-type-it-from-the-box"), "%s", phrase.Of("job.judge.the-of-is-empty", a.intent.Item, a.check.Title))
	}
	a.entry.Answer, a.entry.Verdict = v, quantity.Inside
	if a.intent.Item == procedures.PartNumber && a.check.Part != nil {
		a.entry.Verdict = verdictIf(v == a.check.Part.Number)
		if src, ok := a.card.Plan.Sheet.Source(a.check.Part.Source); ok {
			a.entry.Window = &procedures.PlanWindow{ID: fmt.Sprintf("part %s", a.check.Part.Number), Document: src.Document, Revision: src.Revision}
		}
	}
	return nil
}

// judge compares a value with the check's window, with the instrument's error as guard band where
// the window is guarded.
func (a *asking) judge(q quantity.Quantity) error {
	w := a.check.Window
	if a.check.Nominal != nil {
		w = a.check.Nominal
	}
	if w == nil {
		return nil
	}
	a.entry.Window = w
	if a.check.Kind == procedures.RunOut {
		return nil // points are not judged one by one; the run-out of the set is
	}
	var u quantity.Quantity
	if w.Guarded && a.entry.Instrument != nil {
		u = a.entry.Instrument.Uncertainty(q)
	}
	verdict, err := w.Window.JudgeWithin(q, u)
	if err != nil {
		return a.refuse(CodeValue, phrase.Of("job.judge.type-the-value-in", string(w.Window.Unit())), "%v", err)
	}
	a.entry.Verdict = verdict
	return nil
}

func (a *asking) reading() error {
	unit := quantity.Unit(a.check.Unit)
	for _, w := range []*procedures.PlanWindow{a.check.Nominal, a.check.Window} {
		if w != nil {
			unit = w.Window.Unit()
		}
	}
	if fastening.LooksLikeBarcode(strings.TrimSpace(a.intent.Value)) {
		return a.refuse(CodeValue, phrase.Of("job.judge.measure-and-type-the-value"), "%s", phrase.Of("job.judge.is-a-barcode-not-a-measurement", a.intent.Value))
	}
	q, err := quantity.Parse(a.intent.Value, unit)
	if err != nil {
		return a.refuse(CodeValue, phrase.Of("job.judge.type-the-value-again"), "%v", err)
	}
	if !q.Unit.Same(unit) {
		return a.refuse(CodeValue, phrase.Of("job.judge.type-the-value-in", string(unit)), "%s", phrase.Of("job.judge.is-no-expected-a-value-in", q, unit.Dimension(), unit))
	}
	if q.Negative() && (unit.Dimension() == quantity.Length && a.check.Kind != procedures.RunOut) {
		return a.refuse(CodeValue, phrase.Of("job.judge.type-the-value-again"), "%s", phrase.Of("job.judge.is-negative-which-a-thickness-cannot-be", q))
	}
	a.entry.Value = q
	if err := a.instrument(q); err != nil {
		return err
	}
	return a.judge(q)
}

// instrument finds the instrument named, refuses one that may not or cannot give the value, and
// keeps a copy of its entry with the reading.
func (a *asking) instrument(q quantity.Quantity) error {
	if len(a.check.Tools) == 0 {
		if a.intent.With == "" {
			return nil
		}
	} else if a.intent.With == "" {
		return a.refuse(CodeInstrument, a.others(q), "%s", phrase.Of("job.judge.no-instrument-was-named-is-read-with", a.check.Title, strings.Join(a.check.Tools, phrase.Of("job.judge.or"))))
	}
	in, ok := a.ctx.Register.Instrument(a.intent.With)
	if !ok {
		return a.refuse(CodeInstrument, a.others(q), "%s", phrase.Of("job.judge.is-not-in-the-register-of-instruments", a.intent.With))
	}
	if len(a.check.Tools) > 0 && !slices.Contains(a.check.Tools, in.Kind) {
		return a.refuse(CodeInstrument, a.others(q), "%s", phrase.Of("job.judge.is-a-expected-a", in.ID, phrase.Word(in.Kind), strings.Join(phrase.Words(a.check.Tools), phrase.Of("job.judge.or"))))
	}
	if err := in.UsableAt(a.ctx.At); err != nil {
		return a.refuse(CodeInstrument, a.others(q), "%v", err)
	}
	if n := a.ctx.Cycles[in.ID]; in.CycleLimit > 0 && n >= in.CycleLimit {
		return a.refuse(CodeInstrument, a.others(q), "%s", phrase.Of("job.judge.has-done-cycles-since-it-was-calibrated", in.ID, n, in.CycleLimit))
	}
	if a.check.Kind != procedures.RunOut || !q.Negative() {
		if err := in.Reads(q); err != nil {
			return a.refuse(CodeInstrument, a.otherScale(in, q)+a.others(q), "%v", err)
		}
	}
	a.entry.Instrument = &in
	return nil
}

// otherScale says what a wrench without the unit typed would have to be set to on the scale it has,
// or is empty.
func (a *asking) otherScale(in register.Instrument, q quantity.Quantity) string {
	if a.check.Kind != procedures.Torque || a.check.Window == nil || slices.Contains(in.Scales, q.Unit) || !in.Wrench() {
		return ""
	}
	on, err := fastening.OnScale(a.check.Window.Window, in.Scales[0], in.Resolution.Places())
	if err != nil {
		return ""
	}
	return phrase.Of("job.judge.or-2", on.Sentence(in.ID, a.check.Window.Window))
}

// others names the instruments of the register that could give the value today.
func (a *asking) others(q quantity.Quantity) string {
	var ids []string
	for _, in := range a.ctx.Register.Instruments {
		if in.ID != a.intent.With && slices.Contains(a.check.Tools, in.Kind) && in.UsableAt(a.ctx.At) == nil && (q.IsZero() || in.Reads(q) == nil) {
			ids = append(ids, in.ID)
		}
	}
	if len(ids) == 0 {
		return phrase.Of("job.judge.no-other-instrument-of-the-register-can")
	}
	return phrase.Of("job.judge.use", strings.Join(ids, phrase.Of("job.judge.or")))
}

// torque understands a torque or an angle on one fastener, or the number of new fasteners.
func (a *asking) torque() error {
	if a.intent.Item == procedures.ItemNew {
		n := len(a.check.Group.Names)
		return a.count(&n)
	}
	if err := a.passBefore(); err != nil {
		return err
	}
	if slices.Contains(a.check.Items, procedures.ItemNew) {
		if e := a.stage.Current().Entry(a.check.ID, procedures.ItemNew); e == nil || e.Verdict != quantity.Inside {
			return a.refuse(CodeNewOnes, phrase.Of("job.decide.count-the-new-ones-in-first"), "%s", phrase.Of("job.decide.the-are-single-use-and-have-not", a.check.Group.Title))
		}
	}
	if a.intent.Clicked && a.intent.Value == "" {
		if err := a.clicked(); err != nil {
			return err
		}
	} else if err := a.reading(); err != nil {
		return err
	}
	return a.proof()
}

// clicked takes the setting of the wrench from the fastener before.
func (a *asking) clicked() error {
	last := a.stage.Current().lastSetting(a.check.ID, a.intent.With)
	if last == nil {
		return a.refuse(CodeMissing, phrase.Of("job.judge.type-what-the-wrench-is-set-to"), "%s", phrase.Of("job.judge.no-setting-of-has-been-recorded-for", cmpWith(a.intent.With)))
	}
	a.entry.Value = last.Value
	if a.intent.Adapter == nil {
		a.entry.Adapter = last.Adapter
	}
	if err := a.instrument(last.Value); err != nil {
		return err
	}
	if a.entry.Instrument.Kind != register.SettingWrench {
		return a.refuse(CodeEvidence, phrase.Of("job.judge.type-the-value-read"), "%s", phrase.Of("job.judge.is-a-it-is-read-it-does", a.entry.Instrument.ID, a.entry.Instrument.Kind))
	}
	a.entry.Window = a.check.Window
	return nil
}

func cmpWith(id string) string {
	if id == "" {
		return phrase.Of("job.judge.a-wrench")
	}
	return id
}

func (a *Attempt) lastSetting(check, with string) *Entry {
	if a == nil {
		return nil
	}
	for i := len(a.Entries) - 1; i >= 0; i-- {
		if e := &a.Entries[i]; e.Check == check && e.Instrument != nil && e.Instrument.ID == with && e.ReplacedBy == 0 {
			return e
		}
	}
	return nil
}

// adapterOf is the adapter a torque check was done with, or nil.
func (a *Attempt) adapterOf(check string) *AdapterUse {
	for i := len(a.Entries) - 1; i >= 0; i-- {
		if e := &a.Entries[i]; e.Check == check && e.Counts() && e.Adapter != nil {
			return e.Adapter
		}
	}
	return nil
}

// proof judges what the fastener may have got, by the wrench's error and resolution and through the
// adapter, and refuses a wrench no setting of which could prove the window.
func (a *asking) proof() error {
	in := a.entry.Instrument
	w := a.check.Window
	a.entry.Evidence = evidence(in.Kind, a.intent.Source)
	if !in.Wrench() {
		return nil // an angle: judged as a reading
	}
	if a.intent.Adapter != nil {
		a.entry.Adapter = a.intent.Adapter
	}
	if a.check.Adapter && a.entry.Adapter == nil {
		return a.refuse(CodeInstrument, phrase.Of("job.judge.measure-the-adapter-and-enter-its-length"), "%s", phrase.Of("job.judge.is-only-reached-with-an-adapter-beside", a.check.Title))
	}
	adapter := a.entry.Adapter.fastening()
	p, err := fastening.Prove(a.entry.Value, w.Window, accuracy(*in, a.entry.Value), adapter)
	if err != nil {
		return a.refuse(CodeValue, phrase.Of("job.judge.check-the-wrench-and-the-adapter"), "%v", err)
	}
	if p.Verdict == quantity.NotProven && p.SettingLow.IsZero() && p.SettingHigh.IsZero() {
		return a.refuse(CodeInstrument, a.others(a.entry.Value), "%s", p.Sentence(in.ID))
	}
	if p.Adapted {
		a.entry.Bolt = p.Bolt
	}
	a.entry.Verdict = p.Verdict
	if !w.Guarded && p.Verdict == quantity.NotProven {
		a.entry.Verdict = quantity.Inside
	}
	return nil
}

func (u *AdapterUse) fastening() fastening.Adapter {
	if u == nil {
		return fastening.Adapter{}
	}
	return fastening.Adapter{Length: u.Length, Offset: u.Offset, Angle: u.Angle}
}

// accuracy turns the register's error limit into the percentage the proof works with.
func accuracy(in register.Instrument, at quantity.Quantity) fastening.Accuracy {
	e := in.Error
	if e.Unit != quantity.Percent {
		if lim, err := e.In(at.Unit); err == nil && at.Rat().Sign() > 0 {
			e = quantity.FromRat(lim.Quo(lim, at.Rat()).Mul(lim, hundred), quantity.Percent, 6)
		}
	}
	return fastening.Accuracy{Error: e, Resolution: in.Resolution}
}

func evidence(kind, source string) Evidence {
	switch {
	case source == SourcePaper:
		return ToldLater
	case kind == register.ElectronicWrench:
		return StoredPeak
	case kind == register.SettingWrench:
		return ClickHeard
	}
	return ReadByEye
}
