package quantity

import (
	"math/big"

	"bay.example/pawl/job/phrase"
)

// Window is what a reading must lie in: from Low to High, both included. A
// limit with no value does not limit that side. Target is set only when the
// window was written as a target and a tolerance. Text is the window as it was
// written.
type Window struct {
	Low    Quantity `cbor:"1,keyasint" json:"low"`
	High   Quantity `cbor:"2,keyasint" json:"high"`
	Target Quantity `cbor:"3,keyasint" json:"target"`
	Text   string   `cbor:"4,keyasint" json:"text"`
}

// IsZero reports whether the window limits nothing.
func (w Window) IsZero() bool { return w.Low.IsZero() && w.High.IsZero() }

// Unit returns the unit the limits are written in, or "" without limits.
func (w Window) Unit() Unit {
	if w.Low.IsZero() {
		return w.High.Unit
	}
	return w.Low.Unit
}

// Dimension returns what the window is for, or "" without limits.
func (w Window) Dimension() Dimension { return w.Unit().Dimension() }

// String returns the window as it was written; a window made from limits alone
// is shown in the form ParseWindow reads.
func (w Window) String() string {
	switch {
	case w.Text != "":
		return w.Text
	case w.IsZero():
		return ""
	case w.High.IsZero():
		return ">= " + spelled(w.Low)
	case w.Low.IsZero():
		return "<= " + spelled(w.High)
	}
	return w.Low.Number + ".." + spelled(w.High)
}

// Shown is String with the decimal mark that people of the workshop read.
func (w Window) Shown() string { return phrase.Decimal(w.String()) }

// spelled is String with the unit of a count written out, since a window must
// name its unit.
func spelled(q Quantity) string {
	if q.Unit == Count {
		return q.Number + " " + string(q.Unit)
	}
	return q.String()
}

// Valid returns an error unless the window can be relied on: at least one
// limit, limits valid and in one unit, low not above high, the target between
// them, and the text, when there is one, saying the same as the limits. It is
// for data read back from a record.
func (w Window) Valid() error {
	if w.IsZero() {
		return phrase.Error("quantity.window.the-window-has-no-limits")
	}
	for _, q := range []Quantity{w.Low, w.High, w.Target} {
		if q == (Quantity{}) {
			continue
		}
		if err := q.Valid(); err != nil {
			return phrase.Error("quantity.window.the-window-is-damaged", quote(w.Text), err)
		}
		if q.Unit != w.Unit() {
			return phrase.Error("quantity.window.the-window-mixes-and", quote(w.String()), w.Unit(), q.Unit)
		}
	}
	if err := w.ordered(); err != nil {
		return err
	}
	if w.Text == "" {
		return nil
	}
	written, err := ParseWindow(w.Text)
	if err != nil {
		return phrase.Error("quantity.window.the-window-is-damaged-2", err)
	}
	if !alike(written.Low, w.Low) || !alike(written.High, w.High) || !alike(written.Target, w.Target) {
		return phrase.Error("quantity.window.the-window-says-but-its-limits-say", quote(w.Text))
	}
	return nil
}

// ordered returns an error when no value can satisfy the window or its target
// lies outside it.
func (w Window) ordered() error {
	ascending := []Quantity{w.Low, w.Target, w.High}
	if !w.Target.IsZero() && (w.Low.IsZero() || w.High.IsZero()) {
		return phrase.Error("quantity.window.the-window-has-a-target-but-not", quote(w.String()))
	}
	var below Quantity
	for _, q := range ascending {
		if q.IsZero() {
			continue
		}
		if !below.IsZero() {
			order, err := below.Cmp(q)
			if err != nil {
				return err
			}
			if order > 0 {
				return phrase.Error("quantity.window.the-window-is-empty-is-more-than", quote(w.String()), below, q)
			}
		}
		below = q
	}
	return nil
}

// alike reports whether both have no value or both say the same in one unit.
func alike(a, b Quantity) bool {
	if a.IsZero() || b.IsZero() {
		return a == b
	}
	order, err := a.Cmp(b)
	return err == nil && order == 0 && a.Unit == b.Unit
}

// Judge returns Inside or Outside, decided by exact rational arithmetic with
// both limits included. It is an error, and Unjudged, when there is no value,
// no window, or the value measures something else.
func (w Window) Judge(q Quantity) (Verdict, error) {
	return w.JudgeWithin(q, Quantity{})
}

// JudgeWithin is Judge for a reading that is only known to within an expanded
// uncertainty, given as a quantity of the window's dimension. Beyond a limit it
// is Outside; inside but nearer to a limit than the uncertainty it is
// NotProven; exactly at the limit less the uncertainty it is Inside. This is
// the guard band w = U of ILAC-G8:09/2019, 4.2.2. No uncertainty, or zero, is
// Judge; a negative one is an error.
func (w Window) JudgeWithin(q, uncertainty Quantity) (Verdict, error) {
	if w.IsZero() {
		return Unjudged, phrase.Error("quantity.window.there-is-no-window-to-judge-by")
	}
	if err := q.Valid(); err != nil {
		return Unjudged, err
	}
	if !q.Unit.Same(w.Unit()) {
		return Unjudged, phrase.Error("quantity.window.is-but-the-window-is-for", q, q.Unit.Dimension().article(), w, w.Dimension().article())
	}
	value, err := q.In(w.Unit())
	if err != nil {
		return Unjudged, err
	}
	guard, err := w.guard(uncertainty)
	if err != nil {
		return Unjudged, err
	}
	guarded := Inside
	for _, limit := range []struct {
		at   Quantity
		sign int // 1 when values above the limit are inside
	}{{w.Low, 1}, {w.High, -1}} {
		if limit.at.IsZero() {
			continue
		}
		margin, err := limit.at.In(w.Unit())
		if err != nil {
			return Unjudged, err
		}
		margin.Sub(value, margin)
		if limit.sign < 0 {
			margin.Neg(margin)
		}
		if margin.Sign() < 0 {
			return Outside, nil
		}
		if margin.Cmp(guard) < 0 {
			guarded = NotProven
		}
	}
	return guarded, nil
}

// guard returns the width of the guard band in the window's unit.
func (w Window) guard(uncertainty Quantity) (*big.Rat, error) {
	if uncertainty == (Quantity{}) {
		return new(big.Rat), nil
	}
	guard, err := uncertainty.spanIn(w.Unit())
	if err != nil {
		return nil, phrase.Error("quantity.window.the-uncertainty-does-not-fit-the-window", w, err)
	}
	if guard.Sign() < 0 {
		return nil, phrase.Error("quantity.window.the-uncertainty-is-negative-give-it-without", uncertainty)
	}
	return guard, nil
}
