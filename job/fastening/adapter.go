package fastening

import (
	"math"
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Adapter is an open-end or crow-foot adapter (or offset extension) on a
// wrench. The zero value means none is fitted. A straight extension in line
// with the drive changes nothing and is not an Adapter.
type Adapter struct {
	// Length is L, from the middle of the drive to the marked hand point.
	Length quantity.Quantity
	// Offset is a, from the middle of the drive to the middle of the bolt.
	Offset quantity.Quantity
	// Angle is θ between adapter and handle: 0° straight ahead, 90° square,
	// 180° folded back. The zero value means straight ahead.
	Angle quantity.Quantity
}

// IsZero reports that no adapter is fitted.
func (a Adapter) IsZero() bool { return a == Adapter{} }

// shortestWrench is the hand point distance below which a wrench is not
// believed: a hand is about 100 mm wide (common practice, no source).
var shortestWrench = big.NewRat(100, 1)

// Gain is the torque at the bolt for each unit on the wrench's scale,
//
//	(L + a·cos θ) / L
//
// Source: NAVEDTRA 14315 fig. 3-45 and US Army TM 9-2350-261-20-1 p. 2-29
// (wrench_adapter.csv). It is exact for 0°, 60°, 90°, 120° and 180°, the only
// whole degrees in range whose cosine is rational; for any other angle the
// cosine is rounded to 12 decimals, so that every machine reckons the same.
// Refused: a missing or too short L, a as long as L or longer, an angle outside
// 0° to 180°.
func (a Adapter) Gain() (*big.Rat, error) {
	if a.IsZero() {
		return new(big.Rat).Set(one), nil
	}
	length, err := positive(phrase.Of("fastening.adapter.the-wrench-length-l"), a.Length, quantity.Millimetre)
	if err != nil {
		return nil, err
	}
	if length.Cmp(shortestWrench) < 0 {
		return nil, tooShort(a.Length)
	}
	offset, err := notNegative(phrase.Of("fastening.adapter.the-adapter-length-a"), a.Offset, quantity.Millimetre)
	if err != nil {
		return nil, err
	}
	if offset.Cmp(length) >= 0 {
		return nil, phrase.Error("fastening.adapter.the-adapter-length-a-is-not-shorter", a.Offset, a.Length)
	}
	cos, err := a.cosine()
	if err != nil {
		return nil, err
	}
	gain := new(big.Rat).Mul(offset, cos)
	return gain.Add(gain, length).Quo(gain, length), nil
}

// Setting is what to set the wrench to so that the bolt gets target:
// target·L/(L + a·cos θ), in target's unit, rounded to four decimals when it
// does not end earlier. Source as Gain.
func (a Adapter) Setting(target quantity.Quantity) (quantity.Quantity, error) {
	value, gain, err := a.torque(phrase.Of("fastening.adapter.the-wanted-torque"), target)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return settled(phrase.Of("fastening.adapter.the-setting"), value.Quo(value, gain), target.Unit)
}

// BoltTorque is what the bolt gets when the wrench is set to set:
// set·(L + a·cos θ)/L, in set's unit, rounded to four decimals when it does not
// end earlier. Judge a window with Prove, which does not round.
func (a Adapter) BoltTorque(set quantity.Quantity) (quantity.Quantity, error) {
	value, gain, err := a.torque(phrase.Of("fastening.adapter.the-wrench-setting"), set)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return settled(phrase.Of("fastening.adapter.the-bolt-torque"), value.Mul(value, gain), set.Unit)
}

// UncorrectedError is by how many percent the bolt misses the wanted torque
// when the wrench is set to it as if no adapter were fitted: 100·(gain − 1),
// at most four decimals. Negative when the adapter points back.
func (a Adapter) UncorrectedError() (quantity.Quantity, error) {
	gain, err := a.Gain()
	if err != nil {
		return quantity.Quantity{}, err
	}
	gain.Sub(gain, one)
	return rounded(gain.Mul(gain, hundred), quantity.Percent, places), nil
}

// Uncorrected gives a sentence when the wrench was set to the wanted torque
// although the adapter changes it; an empty one when there is nothing to say.
func (a Adapter) Uncorrected(set, target quantity.Quantity) (string, error) {
	value, gain, err := a.torque(phrase.Of("fastening.adapter.the-wrench-setting"), set)
	if err != nil {
		return "", err
	}
	same, err := set.Cmp(target)
	if err != nil {
		return "", err
	}
	if same != 0 || gain.Cmp(one) == 0 {
		return "", nil
	}
	setting, err := a.Setting(target)
	if err != nil {
		return "", err
	}
	return phrase.Of("fastening.adapter.set-to-with-this-adapter-the-bolt", set, shown(value.Mul(value, gain), set.Unit, 1), target, shown(setting.Rat(), setting.Unit, 1)), nil
}

func (a Adapter) torque(what string, q quantity.Quantity) (value, gain *big.Rat, err error) {
	value, err = positive(what, q, q.Unit)
	if err != nil {
		return nil, nil, err
	}
	if q.Unit.Dimension() != quantity.NewtonMetre.Dimension() {
		return nil, nil, phrase.Error("fastening.adapter.is-no-torque-expected-a-value-in", what, q)
	}
	gain, err = a.Gain()
	return value, gain, err
}

// cosine gives cos θ, exact where it is rational.
func (a Adapter) cosine() (*big.Rat, error) {
	if a.Angle.IsZero() {
		return new(big.Rat).Set(one), nil
	}
	angle, err := a.Angle.In(quantity.Degree)
	if err != nil {
		return nil, phrase.Error("fastening.adapter.the-adapter-angle", err)
	}
	if angle.Sign() < 0 || angle.Cmp(big.NewRat(180, 1)) > 0 {
		return nil, phrase.Error("fastening.adapter.the-adapter-angle-is-expected-0-straight", a.Angle)
	}
	if angle.IsInt() {
		switch angle.Num().Int64() {
		case 0:
			return big.NewRat(1, 1), nil
		case 60:
			return big.NewRat(1, 2), nil
		case 90:
			return new(big.Rat), nil
		case 120:
			return big.NewRat(-1, 2), nil
		case 180:
			return big.NewRat(-1, 1), nil
		}
	}
	degrees, _ := angle.Float64()
	const scale = 1_000_000_000_000
	return big.NewRat(int64(math.Round(math.Cos(degrees*math.Pi/180)*scale)), scale), nil
}

// tooShort asks for inches only when inches would make a believable wrench.
func tooShort(length quantity.Quantity) error {
	inches := quantity.Quantity{Number: length.Number, Unit: quantity.Inch}
	if mm, err := inches.In(quantity.Millimetre); err == nil && length.Unit != quantity.Inch && mm.Cmp(shortestWrench) >= 0 {
		return phrase.Error("fastening.adapter.length-l-is-shorter-than-a-hand", length)
	}
	return phrase.Error("fastening.adapter.length-l-is-shorter-than-a-hand-2", length)
}
