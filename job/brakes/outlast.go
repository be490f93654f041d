package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Outlast answers whether a disc that stays will outlast the new pads.
type Outlast struct {
	DiscRate, PadRate *big.Rat // mm per 1000 km
	PadLife           *big.Rat // km a new pad set lasts
	DiscThen          *big.Rat // mm, disc thickness when those pads are worn out
	Verdict           quantity.Verdict
	Text              string
}

// DiscOutlastsPads takes the wear rates of the disc and of a healthy pad and
// works out the disc thickness when a new pad set is worn to its minimum:
// life = (new pad − minimum) ÷ pad rate; disc then = disc − disc rate × life.
// discMinimum is inclusive: a disc that ends exactly on it outlasts.
// Source: linear wear, common practice, no source.
func DiscOutlastsPads(disc, pad Interval, newPad, padMinimum, discMinimum quantity.Quantity) (Outlast, error) {
	var o Outlast
	var err error
	if o.DiscRate, err = disc.Rate(); err != nil {
		return Outlast{}, phrase.Error("brakes.outlast.disc", err)
	}
	if o.PadRate, err = pad.Rate(); err != nil {
		return Outlast{}, phrase.Error("brakes.outlast.pad", err)
	}
	if o.PadRate.Sign() == 0 {
		return Outlast{}, phrase.Error("brakes.outlast.pad-no-wear-between-and-so-its", pad.From, pad.To)
	}
	full, err := exactIn(newPad, quantity.Millimetre, phrase.Of("brakes.outlast.new-pad"))
	if err != nil {
		return Outlast{}, err
	}
	empty, err := exactIn(padMinimum, quantity.Millimetre, phrase.Of("brakes.outlast.pad-minimum"))
	if err != nil {
		return Outlast{}, err
	}
	if full.Cmp(empty) <= 0 {
		return Outlast{}, phrase.Error("brakes.outlast.new-pad-is-not-thicker-than-its", newPad, padMinimum)
	}
	now, err := exactIn(disc.After, quantity.Millimetre, "disc")
	if err != nil {
		return Outlast{}, err
	}
	least, err := exactIn(discMinimum, quantity.Millimetre, phrase.Of("brakes.outlast.disc-minimum"))
	if err != nil {
		return Outlast{}, err
	}
	thousands := over(minus(full, empty), o.PadRate)
	o.PadLife = times(thousands, ratio(1000, 1))
	o.DiscThen = minus(now, times(o.DiscRate, thousands))
	then := shown(o.DiscThen, quantity.Millimetre, 2)
	if o.DiscThen.Cmp(least) < 0 {
		o.Verdict = quantity.Outside
		o.Text = phrase.Of("brakes.outlast.not-with-new-pads-the-disc-would", then, discMinimum)
		return o, nil
	}
	o.Verdict = quantity.Inside
	o.Text = phrase.Of("brakes.outlast.the-disc-would-be-when-new-pads", then, discMinimum)
	return o, nil
}
