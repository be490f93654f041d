package fastening

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Reference says what the percentage of an as-found error is a percentage of.
// A wrench set to 100 N·m that delivers 104 N·m is +4.000 % of the setting, but
// −3.846 % by (setting − delivered)/delivered (hand_torque_tools.csv).
type Reference string

const (
	// OfSetting is (delivered − set)/set: −7.5 % means the bolt got too little.
	OfSetting Reference = "of the setting"
	// OfDelivered is (set − delivered)/delivered, the deviation printed on many
	// calibration certificates: here +8.1 % means the bolt got too little.
	OfDelivered Reference = "of the torque delivered"
)

// AsFound is a recorded setting judged again with what the wrench was later
// found to do.
type AsFound struct {
	// Torque is what the bolt got, at most four decimals, in the window's unit.
	Torque  quantity.Quantity
	Verdict quantity.Verdict // Inside or Outside
}

// JudgeAsFound works out what the bolt got when a wrench set to set was later
// found to be off by percent, and judges it again in exact rationals:
//
//	of the setting:          set·(1 + e)
//	of the torque delivered: set/(1 + e)
//
// times the adapter's gain. Source: workshop paper (trade.md 4.5: 160 at
// −7.5 % → 148.0) and, for the second form, the deviation of ISO 6789 in
// hand_torque_tools.csv (from memory there). The error must be above −100 % and
// below 100 %.
func JudgeAsFound(set, percent quantity.Quantity, of Reference, window quantity.Window, adapter Adapter) (AsFound, error) {
	low, high, err := limits(window, window.Unit())
	if err != nil {
		return AsFound{}, err
	}
	torque, err := positive(phrase.Of("fastening.asfound.the-recorded-setting"), set, window.Unit())
	if err != nil {
		return AsFound{}, err
	}
	if percent.IsZero() {
		return AsFound{}, phrase.Error("fastening.asfound.the-as-found-error-is-missing-expected")
	}
	e, err := percent.In(quantity.Percent)
	if err != nil {
		return AsFound{}, phrase.Error("fastening.asfound.the-as-found-error", err)
	}
	if new(big.Rat).Abs(e).Cmp(hundred) >= 0 {
		return AsFound{}, phrase.Error("fastening.asfound.the-as-found-error-is-expected-less", percent)
	}
	factor := e.Quo(e, hundred)
	factor.Add(factor, one)
	switch of {
	case OfSetting:
		torque.Mul(torque, factor)
	case OfDelivered:
		torque.Quo(torque, factor)
	default:
		return AsFound{}, phrase.Error("fastening.asfound.an-as-found-error-is-not-known", of, OfSetting, OfDelivered)
	}
	gain, err := adapter.Gain()
	if err != nil {
		return AsFound{}, err
	}
	torque.Mul(torque, gain)
	got, err := settled(phrase.Of("fastening.asfound.the-torque-delivered"), torque, window.Unit())
	if err != nil {
		return AsFound{}, err
	}
	found := AsFound{Torque: got, Verdict: quantity.Outside}
	if within(torque, low, high) {
		found.Verdict = quantity.Inside
	}
	return found, nil
}
