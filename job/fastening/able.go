package fastening

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Accuracy is what is known of a wrench's error on the day.
type Accuracy struct {
	// Error is the permissible deviation or the certificate's worst point, as a
	// percentage of the setting or reading, both ways.
	Error quantity.Quantity
	// Resolution is the step of the scale or display. The zero value means the
	// wrench has no scale to read (a fixed setting) and adds nothing.
	Resolution quantity.Quantity
}

// Proof says what torque a bolt may have got and whether that proves a window.
type Proof struct {
	// Set is the setting or reading on the wrench, as typed.
	Set quantity.Quantity
	// Window is the window of the bolt.
	Window quantity.Window
	// Verdict is Inside when every torque the bolt may have got is inside the
	// window, Outside when the setting alone already misses it, else NotProven.
	Verdict quantity.Verdict
	// Bolt is the torque at the bolt if the wrench were free of error; Lowest
	// and Highest are what the bolt may have got. In the window's unit, at most
	// four decimals.
	Bolt, Lowest, Highest quantity.Quantity
	// WouldDo is the largest wrench error, in percent cut down to one decimal,
	// that would prove the window at this setting; the zero value when even 0.1 %
	// would not.
	WouldDo quantity.Quantity
	// SettingLow and SettingHigh are the lowest and highest marks of this
	// wrench's scale that would be able, in the unit of Set, rounded inwards to
	// the resolution. Both are zero values when no mark is able; one is when the
	// window has no limit on that side.
	SettingLow, SettingHigh quantity.Quantity
	// Adapted is true when an adapter was reckoned in.
	Adapted bool
}

// Able reports whether the wrench proves the window at this setting.
func (p Proof) Able() bool { return p.Verdict == quantity.Inside }

// Prove works out whether a wrench set to set proves the window of the bolt:
//
//	set·(1+p) + r/2 <= high  and  set·(1−p) − r/2 >= low
//
// with p the wrench's error and r its resolution, in exact rationals; with an
// adapter both sides are multiplied by its gain. Both limits are inclusive.
// Source: workshop paper (trade.md 4.2); it is the guard band of ILAC-G8 with
// the wrench's whole error and half a scale step as the guard. The default
// errors are in DefaultDeviation. The zero Adapter means none is fitted.
func Prove(set quantity.Quantity, window quantity.Window, accuracy Accuracy, adapter Adapter) (Proof, error) {
	low, high, err := limits(window, window.Unit())
	if err != nil {
		return Proof{}, err
	}
	scale, err := positive(phrase.Of("fastening.able.the-wrench-setting"), set, set.Unit)
	if err != nil {
		return Proof{}, err
	}
	if set.Unit.Dimension() != window.Dimension() {
		return Proof{}, phrase.Error("fastening.able.the-wrench-setting-is-no-expected-a", set, window.Dimension(), window.Unit())
	}
	p, half, err := accuracy.parts(set.Unit)
	if err != nil {
		return Proof{}, err
	}
	gain, err := adapter.Gain()
	if err != nil {
		return Proof{}, err
	}
	// unit is what one step of the wrench's scale unit is at the bolt, in the
	// window's unit.
	unit, err := quantity.Quantity{Number: "1", Unit: set.Unit}.In(window.Unit())
	if err != nil {
		return Proof{}, err
	}
	unit.Mul(unit, gain)

	if err := believable(window, unit, low, high); err != nil {
		return Proof{}, err
	}
	bolt := new(big.Rat).Mul(scale, unit)
	lowest := reach(scale, p, half, unit, -1)
	if lowest.Sign() < 0 {
		lowest.SetInt64(0) // a bolt never gets less than nothing
	}
	highest := reach(scale, p, half, unit, +1)
	proof := Proof{
		Set: set, Window: window, Adapted: gain.Cmp(one) != 0,
		Bolt:    rounded(bolt, window.Unit(), places),
		Lowest:  rounded(lowest, window.Unit(), places),
		Highest: rounded(highest, window.Unit(), places),
	}
	switch {
	case !within(bolt, low, high):
		proof.Verdict = quantity.Outside
	case within(lowest, low, high) && within(highest, low, high):
		proof.Verdict = quantity.Inside
	default:
		proof.Verdict = quantity.NotProven
	}
	proof.WouldDo = wouldDo(scale, half, toScale(low, unit), toScale(high, unit))
	proof.SettingLow, proof.SettingHigh = settings(p, half, toScale(low, unit), toScale(high, unit), set.Unit)
	return proof, nil
}

// JudgeReading judges one reading of an indicating or electronic wrench with
// its error and resolution: Outside when the reading misses the window, NotProven
// when it is inside but the wrench's error reaches over a limit. Same formula
// as Prove.
func JudgeReading(reading quantity.Quantity, window quantity.Window, accuracy Accuracy, adapter Adapter) (quantity.Verdict, error) {
	proof, err := Prove(reading, window, accuracy, adapter)
	return proof.Verdict, err
}

// Sentence says in words what the proof is, naming the wrench, and what to do
// when it is none.
func (p Proof) Sentence(wrench string) string {
	low, high, err := limits(p.Window, p.Window.Unit())
	if err != nil {
		return err.Error()
	}
	figure := func(q quantity.Quantity, n int) quantity.Quantity {
		return shown(q.Rat(), q.Unit, n, low, high)
	}
	switch p.Verdict {
	case quantity.Inside:
		return phrase.Of("fastening.able.at-gives-the-bolt-to-inside", wrench, p.Set, figure(p.Lowest, 2), figure(p.Highest, 2), p.Window)
	case quantity.Outside:
		with := ""
		if p.Adapted {
			with = phrase.Of("fastening.able.with-the-adapter")
		}
		return phrase.Of("fastening.able.at-gives-the-bolt-outside", wrench, p.Set, with, figure(p.Bolt, 1), p.Window, p.wayOut("; "))
	default:
		return phrase.Of("fastening.able.at-cannot-prove-the-bolt-may-have", wrench, p.Set, p.Window, figure(p.Lowest, 2), figure(p.Highest, 2), p.wayOut("; "))
	}
}

// wayOut names the settings that would be able, or the error a wrench must not
// exceed.
func (p Proof) wayOut(join string) string {
	switch {
	case !p.SettingLow.IsZero() && p.SettingLow == p.SettingHigh:
		return phrase.Of("fastening.able.set-it-to", join, p.SettingLow.Shown())
	case !p.SettingLow.IsZero() && !p.SettingHigh.IsZero():
		return join + phrase.Of("fastening.able.set-it-between-and", p.SettingLow, p.SettingHigh)
	case !p.SettingLow.IsZero():
		return phrase.Of("fastening.able.set-it-to-at-least", join, p.SettingLow.Shown())
	case !p.SettingHigh.IsZero():
		return phrase.Of("fastening.able.set-it-to-at-most", join, p.SettingHigh.Shown())
	case !p.WouldDo.IsZero():
		return join + phrase.Of("fastening.able.use-a-wrench-with-an-error-of", p.WouldDo)
	default:
		return phrase.Of("fastening.able.use-a-wrench-with-a-finer-scale", join)
	}
}

// parts gives the error as a fraction and half the resolution in unit u.
func (a Accuracy) parts(u quantity.Unit) (p, half *big.Rat, err error) {
	p, err = notNegative(phrase.Of("fastening.able.the-wrench-error"), a.Error, quantity.Percent)
	if err != nil {
		return nil, nil, err
	}
	if p.Cmp(hundred) >= 0 {
		return nil, nil, phrase.Error("fastening.able.the-wrench-error-is-expected-less-than", a.Error)
	}
	p.Quo(p, hundred)
	half = new(big.Rat)
	if a.Resolution.IsZero() {
		return p, half, nil
	}
	half, err = positive(phrase.Of("fastening.able.the-wrench-resolution"), a.Resolution, u)
	if err != nil {
		return nil, nil, err
	}
	return p, half.Quo(half, big.NewRat(2, 1)), nil
}

// reach is the furthest torque at the bolt on one side: (s·(1 ± p) ± half)·unit.
func reach(s, p, half, unit *big.Rat, side int64) *big.Rat {
	sign := big.NewRat(side, 1)
	r := new(big.Rat).Mul(s, p)
	r.Add(r, half).Mul(r, sign).Add(r, s)
	return r.Mul(r, unit)
}

// believable refuses a window whose limits, on the wrench's scale, are beyond
// anything measured.
func believable(window quantity.Window, unit *big.Rat, bounds ...*big.Rat) error {
	for _, limit := range bounds {
		if limit != nil && toScale(limit, unit).Cmp(beyond) >= 0 {
			return phrase.Error("fastening.able.the-window-is-beyond-anything-measured", window)
		}
	}
	return nil
}

// toScale turns a limit at the bolt into the figure on the wrench's scale.
func toScale(limit, unit *big.Rat) *big.Rat {
	if limit == nil {
		return nil
	}
	return new(big.Rat).Quo(limit, unit)
}

// wouldDo solves the two conditions for p at setting s. Limits are on the scale.
func wouldDo(s, half, low, high *big.Rat) quantity.Quantity {
	best := big.NewRat(999, 1000) // an error of 100 % or more is no wrench
	if high != nil {              // p <= (high − half)/s − 1
		p := new(big.Rat).Sub(high, half)
		p.Quo(p, s).Sub(p, one)
		if p.Cmp(best) < 0 {
			best = p
		}
	}
	if low != nil { // p <= 1 − (low + half)/s
		p := new(big.Rat).Add(low, half)
		p.Quo(p, s).Sub(one, p)
		if p.Cmp(best) < 0 {
			best = p
		}
	}
	percent := floorTo(new(big.Rat).Mul(best, hundred), big.NewRat(1, 10))
	if percent.Sign() <= 0 {
		return quantity.Quantity{}
	}
	return quantity.FromRat(percent, quantity.Percent, 1)
}

// settings solves the two conditions for the setting and rounds inwards to the
// marks of the scale. Limits are on the scale.
func settings(p, half, low, high *big.Rat, u quantity.Unit) (least, most quantity.Quantity) {
	step := new(big.Rat).Add(half, half)
	if step.Sign() == 0 {
		step = big.NewRat(1, 10_000)
	}
	var from, to *big.Rat
	if low != nil {
		from = new(big.Rat).Add(low, half)
		from = ceilTo(from.Quo(from, new(big.Rat).Sub(one, p)), step)
	}
	if high != nil {
		to = new(big.Rat).Sub(high, half)
		to = floorTo(to.Quo(to, new(big.Rat).Add(one, p)), step)
	}
	if to != nil && (to.Sign() <= 0 || from != nil && from.Cmp(to) > 0) {
		return least, most
	}
	if from != nil {
		least = markOf(from, u)
	}
	if to != nil {
		most = markOf(to, u)
	}
	return least, most
}

// markOf writes a mark of the scale in full: marks are multiples of the
// resolution. A resolution given in another unit than the setting may not end
// and is cut to four decimals.
func markOf(r *big.Rat, u quantity.Unit) quantity.Quantity {
	if digits, exact := r.FloatPrec(); exact && digits <= 8 {
		return rounded(r, u, digits)
	}
	return rounded(r, u, places)
}
