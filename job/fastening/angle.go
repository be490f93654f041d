package fastening

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// AngleSpec is torque plus angle for one fastener.
type AngleSpec struct {
	// Snug is the window of the torque before turning.
	Snug quantity.Window
	// Angle is the window of the angle turned after it, all steps together.
	Angle quantity.Window
	// End is a band the torque at the end should lie in. It shows a pulled or
	// seized thread and is never a target; the zero value means no band.
	End quantity.Window
}

// AngleReading is what was recorded at one fastener.
type AngleReading struct {
	// Snug is the torque before turning.
	Snug quantity.Quantity
	// Angles are the steps turned, one or more (90° and 90°).
	Angles []quantity.Quantity
	// End is the torque at the end, the zero value when it was not read.
	End quantity.Quantity
}

// AngleJudgement is the outcome for one fastener.
type AngleJudgement struct {
	// Snug and Angle are Inside or Outside their windows. Whether the wrench
	// proves the snug window is asked of Prove.
	Snug, Angle quantity.Verdict
	// Turned is the sum of the steps.
	Turned quantity.Quantity
	// End is Inside, Outside, or Unjudged when no end torque or no band is given.
	End quantity.Verdict
	// Swapped is true when torque and angle are both outside and would both be
	// inside with their numbers exchanged.
	Swapped bool
	// Remark says in words what looks wrong; empty when nothing does.
	Remark string
}

// fullTurn is the angle from which no single step is believed.
var fullTurn = big.NewRat(360, 1)

// Judge judges one fastener. An angle of zero, of a full turn or more, or with a
// minus sign is refused, with the slipped decimal named where there is one.
// Source: workshop paper (trade.md 4.3).
func (s AngleSpec) Judge(r AngleReading) (AngleJudgement, error) {
	var j AngleJudgement
	var err error
	if len(r.Angles) == 0 {
		return j, phrase.Error("fastening.angle.the-angle-is-missing-expected", s.Angle)
	}
	if _, err = positive(phrase.Of("fastening.angle.the-snug-torque"), r.Snug, s.Snug.Unit()); err != nil {
		return j, err
	}
	for i, step := range r.Angles {
		if err = s.believe(step); err != nil {
			return j, err
		}
		if i == 0 {
			j.Turned = step
			continue
		}
		if j.Turned, err = j.Turned.Add(step); err != nil {
			return j, err
		}
	}
	if j.Snug, err = s.Snug.Judge(r.Snug); err != nil {
		return j, err
	}
	if j.Angle, err = s.Angle.Judge(j.Turned); err != nil {
		return j, err
	}
	if !s.End.IsZero() && !r.End.IsZero() {
		if j.End, err = s.End.Judge(r.End); err != nil {
			return j, err
		}
	}
	if j.Snug == quantity.Outside && j.Angle == quantity.Outside {
		j.Swapped, err = s.swapped(r.Snug, j.Turned)
	}
	if err == nil {
		j.Remark, err = s.remark(r, j)
	}
	return j, err
}

// believe refuses an angle that no single step can have.
func (s AngleSpec) believe(step quantity.Quantity) error {
	degrees, err := positive(phrase.Of("fastening.angle.the-angle"), step, quantity.Degree)
	if err != nil {
		return err
	}
	if degrees.Cmp(fullTurn) < 0 {
		return nil
	}
	low, high, err := limits(s.Angle, quantity.Degree)
	if err != nil {
		return err
	}
	if slip := new(big.Rat).Quo(degrees, big.NewRat(10, 1)); within(slip, low, high) {
		return phrase.Error("fastening.angle.the-angle-is-a-full-turn-or", step, s.Angle, rounded(slip, quantity.Degree, places))
	}
	return phrase.Error("fastening.angle.the-angle-is-a-full-turn-or-2", step, s.Angle)
}

// swapped asks whether exchanging the two numbers puts both inside.
func (s AngleSpec) swapped(snug, angle quantity.Quantity) (bool, error) {
	torque, err := s.Snug.Judge(quantity.Quantity{Number: angle.Number, Unit: snug.Unit})
	if err != nil {
		return false, err
	}
	turned, err := s.Angle.Judge(quantity.Quantity{Number: snug.Number, Unit: angle.Unit})
	return torque == quantity.Inside && turned == quantity.Inside, err
}

func (s AngleSpec) remark(r AngleReading, j AngleJudgement) (string, error) {
	if j.Swapped {
		return phrase.Of("fastening.angle.and-are-both-outside-torque-and-angle", r.Snug, j.Turned), nil
	}
	if j.End != quantity.Outside || j.Angle != quantity.Inside {
		return "", nil
	}
	low, _, err := limits(s.End, s.End.Unit())
	if err != nil {
		return "", err
	}
	end, err := r.End.In(s.End.Unit())
	if err != nil {
		return "", err
	}
	if low != nil && end.Cmp(low) < 0 {
		return phrase.Of("fastening.angle.angle-reached-but-torque-hardly-rose-expected", r.End, s.End), nil
	}
	return phrase.Of("fastening.angle.angle-reached-but-torque-rose-too-far", r.End, s.End), nil
}

// Stretch is how far the bolt is drawn when it is turned by angle: pitch ×
// angle/360, in mm, at most four decimals; the clamped parts take up some of it.
// Source: geometry of the thread; worked number in trade.md 4.3 (pitch 1.5 mm,
// 60°: 0.25 mm).
func Stretch(thread Thread, angle quantity.Quantity) (quantity.Quantity, error) {
	degrees, err := positive(phrase.Of("fastening.angle.the-angle"), angle, quantity.Degree)
	if err != nil {
		return quantity.Quantity{}, err
	}
	pitch, err := positive(phrase.Of("fastening.angle.the-thread-pitch"), thread.Pitch, quantity.Millimetre)
	if err != nil {
		return quantity.Quantity{}, err
	}
	degrees.Mul(degrees, pitch).Quo(degrees, fullTurn)
	return rounded(degrees, quantity.Millimetre, places), nil
}
