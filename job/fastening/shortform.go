package fastening

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// TorqueFactor is K of the short form for one surface.
type TorqueFactor struct {
	K         quantity.Quantity // a bare count
	Condition string
}

// TorqueFactors lists K by surface. Source: Shigley, Mechanical Engineering
// Design, table 8-15 (torque_factor_K.csv).
func TorqueFactors() []TorqueFactor {
	k := func(number string) quantity.Quantity {
		return quantity.Quantity{Number: number, Unit: quantity.Count}
	}
	return []TorqueFactor{
		{k("0.30"), phrase.Of("fastening.shortform.non-plated-black-finish")},
		{k("0.20"), "zinc-plated"},
		{k("0.18"), "lubricated"},
		{k("0.16"), "cadmium-plated"},
		{k("0.12"), phrase.Of("fastening.shortform.anti-seize-compound")},
		{k("0.09"), phrase.Of("fastening.shortform.proprietary-grip-nuts")},
	}
}

// ShortTorque is the short form T = K·D·F in unit u, exact and then rounded to
// four decimals: K a bare count, D the nominal diameter, F the preload. Source:
// Shigley, Mechanical Engineering Design, section 8-8; worked values in
// torque_short_form.csv.
func ShortTorque(k, d, f quantity.Quantity, u quantity.Unit) (quantity.Quantity, error) {
	arm, err := lever(k, d)
	if err != nil {
		return quantity.Quantity{}, err
	}
	force, err := positive(phrase.Of("fastening.shortform.the-preload-f"), f, quantity.Newton)
	if err != nil {
		return quantity.Quantity{}, err
	}
	step, err := quantity.Quantity{Number: "1", Unit: u}.In(quantity.NewtonMetre)
	if err != nil {
		return quantity.Quantity{}, err
	}
	torque := arm.Mul(arm, force)
	return settled(phrase.Of("fastening.shortform.the-torque"), torque.Quo(torque, step), u)
}

// ShortPreload is the short form turned round, F = T/(K·D), in N with at most
// four decimals. Source as ShortTorque.
func ShortPreload(k, d, torque quantity.Quantity) (quantity.Quantity, error) {
	arm, err := lever(k, d)
	if err != nil {
		return quantity.Quantity{}, err
	}
	t, err := positive(phrase.Of("fastening.shortform.the-torque-t"), torque, quantity.NewtonMetre)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return settled(phrase.Of("fastening.shortform.the-preload"), t.Quo(t, arm), quantity.Newton)
}

// lever is K·D in metres.
func lever(k, d quantity.Quantity) (*big.Rat, error) {
	factor, err := positive(phrase.Of("fastening.shortform.the-torque-factor-k"), k, quantity.Count)
	if err != nil {
		return nil, err
	}
	if factor.Cmp(one) >= 0 {
		return nil, phrase.Error("fastening.shortform.the-torque-factor-k-is-expected-one", k)
	}
	diameter, err := positive(phrase.Of("fastening.shortform.the-diameter-d"), d, quantity.Metre)
	if err != nil {
		return nil, err
	}
	return factor.Mul(factor, diameter), nil
}
