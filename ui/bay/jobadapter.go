package bay

import (
	"errors"
	"math/big"

	"bay.example/pawl/job"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// adapterName is the dialog of the adapter's measures.
const adapterName = "adapter"

// adapterPlace names the check an adapter is used at: another check of another stage is reached otherwise.
func (s *jobScreen) adapterPlace(it item) string { return s.at.String() + "." + it.check.ID }

// adapter is the adapter on the wrench at the check in focus, or nil.
func (s *jobScreen) adapter(it item) *job.AdapterUse {
	if it.check.Kind != procedures.Torque || s.withAt != s.adapterPlace(it) {
		return nil
	}
	return s.with
}

// wrenchInHand reports whether the tool in hand turns the fastener: an angle gauge takes no adapter.
func (s *jobScreen) wrenchInHand(e *Env, it item) bool {
	in, ok := e.Register.Instrument(s.tool(e, it.check))
	return ok && in.Wrench()
}

// askAdapter asks for the measures; those of the last time stand there to be confirmed.
func (s *jobScreen) askAdapter(it item) Action {
	length0, offset0, angle0 := "", "", "0"
	if s.with != nil {
		length0, offset0, angle0 = s.with.Length.Number, s.with.Offset.Number, s.with.Angle.Number
	}
	text := []line{{text: phrase.Of("bay.jobadapter.lengths-in-mm-unless-another-unit-is")}}
	if it.check.Adapter {
		text = append(text, line{role: draw.Warn, text: phrase.Of("bay.jobadapter.only-an-adapter-reaches-without-its-measures", it.check.Title)})
	}
	f := newForm(phrase.Of("bay.jobadapter.adapter-on-the-wrench"), text, []formField{
		{label: phrase.Of("bay.jobadapter.drive-to-hand-point"), value: length0, hint: phrase.Of("bay.jobadapter.from-the-middle-of-the-square-drive"), check: length},
		{label: phrase.Of("bay.jobadapter.drive-to-fastener"), value: offset0, hint: phrase.Of("bay.jobadapter.from-the-middle-of-the-square-drive-2"), check: length},
		{label: phrase.Of("bay.jobadapter.angle-to-the-handle"), value: angle0, hint: phrase.Of("bay.jobadapter.0-is-straight-ahead-90-is-square"), check: angle},
	})
	f.whole = adapterFits
	return Ask{Name: adapterName, Dialog: f}
}

// measures reads the three lines of the form.
func measures(v []string) (*job.AdapterUse, error) {
	u := &job.AdapterUse{}
	var err1, err2, err3 error
	u.Length, err1 = quantity.Parse(v[0], quantity.Millimetre)
	u.Offset, err2 = quantity.Parse(v[1], quantity.Millimetre)
	u.Angle, err3 = quantity.Parse(v[2], quantity.Degree)
	return u, errors.Join(err1, err2, err3)
}

// adapterFits says what is wrong with the measures together, in the words of the form, while they
// still stand there.
func adapterFits(v []string) (int, string) {
	u, err := measures(v)
	if err != nil {
		return 0, phrase.Of("bay.jobadapter.the-measures-of-the-adapter-cannot-be")
	}
	_, err = fasteningAdapter(u).Gain()
	if err == nil {
		return 0, ""
	}
	if c, e := u.Offset.Cmp(u.Length); e == nil && c >= 0 {
		return 0, phrase.Of("bay.jobadapter.drive-to-hand-point-is-not-longer", u.Length, u.Offset)
	}
	if c, e := u.Length.Cmp(shortestHandPoint); e == nil && c < 0 {
		return 0, phrase.Of("bay.jobadapter.drive-to-hand-point-is-shorter-than", u.Length)
	}
	return 2, sentence(err.Error())
}

// shortestHandPoint is as in job/fastening: common practice, no source.
var shortestHandPoint = quantity.MustParse("100 mm")

func length(text string) error {
	q, err := quantity.Parse(text, quantity.Millimetre)
	if err == nil && (q.Unit.Dimension() != quantity.Length || q.Rat().Sign() <= 0) {
		err = phrase.Error("bay.jobadapter.is-no-length-expected-millimetres-such-as", text)
	}
	return err
}

func angle(text string) error {
	q, err := quantity.Parse(text, quantity.Degree)
	if err == nil && q.Unit.Dimension() != quantity.Angle {
		err = phrase.Error("bay.jobadapter.is-no-angle-expected-degrees-such-as", text)
	}
	return err
}

// adapterTyped takes the measures of the adapter and goes on with what waited for them.
func (s *jobScreen) adapterTyped(e *Env, v []string) Action {
	it, ok := s.current()
	if !ok {
		return nil
	}
	u, err := measures(v)
	if err != nil {
		return Say{Text: phrase.Of("bay.jobadapter.the-measures-of-the-adapter-cannot-be"), Role: draw.Warn}
	}
	s.with, s.withAt = u, s.adapterPlace(it)
	if s.want != nil {
		want := *s.want
		return s.prepare(e, it, want)
	}
	if q, ok := s.setting(it); ok {
		return Say{Text: phrase.Of("bay.jobadapter.adapter-taken-set-the-wrench-to-for", e.number(q)), Role: draw.Warn}
	}
	return Say{Text: phrase.Of("bay.jobadapter.adapter-taken-the-torque-at-the-fastener"), Role: draw.Warn}
}

func fasteningAdapter(u *job.AdapterUse) fastening.Adapter {
	return fastening.Adapter{Length: u.Length, Offset: u.Offset, Angle: u.Angle}
}

// setFor is what the wrench is set to beside an adapter so that the fastener gets a torque; the torque
// itself where the measures cannot be.
func setFor(u *job.AdapterUse, torque quantity.Quantity) quantity.Quantity {
	if q, err := fasteningAdapter(u).Setting(torque); err == nil {
		return q
	}
	return torque
}

// setting is what the wrench is set to with the adapter, so that the fastener gets the middle of the
// window, to a tenth.
func (s *jobScreen) setting(it item) (quantity.Quantity, bool) {
	u := s.adapter(it)
	if u == nil || it.check.Window == nil || it.check.Window.Window.Dimension() != quantity.Torque {
		return quantity.Quantity{}, false
	}
	w := it.check.Window.Window
	aim := w.Target
	if aim.IsZero() {
		if w.Low.IsZero() || w.High.IsZero() {
			return quantity.Quantity{}, false
		}
		low, err1 := w.Low.In(w.Unit())
		high, err2 := w.High.In(w.Unit())
		if err1 != nil || err2 != nil {
			return quantity.Quantity{}, false
		}
		sum := new(big.Rat).Add(low, high)
		aim = quantity.FromRat(sum.Quo(sum, big.NewRat(2, 1)), w.Unit(), 4)
	}
	q, err := fasteningAdapter(u).Setting(aim)
	if err != nil {
		return quantity.Quantity{}, false
	}
	return quantity.FromRat(q.Rat(), q.Unit, 1), true
}

// atFastener is what the fastener gets from what the scale says.
func (s *jobScreen) atFastener(it item, v quantity.Quantity) quantity.Quantity {
	u := s.adapter(it)
	if u == nil {
		return v
	}
	bolt, err := fasteningAdapter(u).BoltTorque(v)
	if err != nil {
		return v
	}
	return quantity.FromRat(bolt.Rat(), bolt.Unit, max(v.Places(), 1))
}

// shortBolt is what the fastener got, as exact as a wrench is read; the record keeps all of it.
func shortBolt(x *job.Entry) quantity.Quantity {
	if q, err := x.Bolt.Convert(x.Bolt.Unit, 1); err == nil {
		return q
	}
	return x.Bolt
}

// adapterWords says what the adapter does, for the lines under the field.
func (s *jobScreen) adapterWords(e *Env, it item) string {
	u := s.adapter(it)
	if u == nil {
		if it.check.Adapter && it.name != procedures.ItemNew {
			return phrase.Of("bay.jobadapter.only-reached-with-an-adapter-beside-the")
		}
		return ""
	}
	text := phrase.Of("bay.jobadapter.adapter-on", e.number(u.Offset), e.number(u.Length), e.number(u.Angle))
	if q, ok := s.setting(it); ok {
		text = phrase.Of("bay.jobadapter.set-to-for-the-middle-of-the", e.number(q), text)
	}
	return text
}
