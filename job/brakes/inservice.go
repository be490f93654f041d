package brakes

import (
	"fmt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// FailsWhen says on which side of a public limit a part fails.
type FailsWhen string

// The three ways in which public rules word a limit.
const (
	LessThan   FailsWhen = "less than"
	ThatOrLess FailsWhen = "that or less"
	MoreThan   FailsWhen = "more than"
)

// InServiceLimit is a minimum printed in a public roadside or periodic rule. It
// is never a sign-off limit: the workshop's limit is the vehicle maker's figure
// or the one stamped on the part.
type InServiceLimit struct {
	Source, Item string
	Limit        quantity.Quantity
	Fails        FailsWhen
}

// inServiceLimits keep the unit of record: 1/16 inch is 1.5875 mm, not 1.6.
var inServiceLimits = []InServiceLimit{
	{phrase.Of("brakes.inservice.uk-mot-manual-1-1-13-a"), phrase.Of("brakes.inservice.brake-pad-or-lining"), inUnit("1.5", quantity.Millimetre), LessThan},
	{phrase.Of("brakes.inservice.49-cfr-393-47-d-steering-axle"), "lining", inUnit("1.6", quantity.Millimetre), ThatOrLess},
	{phrase.Of("brakes.inservice.49-cfr-393-47-d-non-steering"), "lining", inUnit("1.6", quantity.Millimetre), LessThan},
	{phrase.Of("brakes.inservice.49-cfr-393-47-d-steering-axle-2"), "lining", inUnit("3.2", quantity.Millimetre), LessThan},
	{phrase.Of("brakes.inservice.49-cfr-570-59-c-riveted"), phrase.Of("brakes.inservice.lining-over-rivet"), inUnit("0.03125", quantity.Inch), LessThan},
	{phrase.Of("brakes.inservice.49-cfr-570-59-c-bonded"), "lining", inUnit("0.0625", quantity.Inch), LessThan},
	{phrase.Of("brakes.inservice.49-cfr-570-55-c"), phrase.Of("brakes.inservice.pedal-travel-under-50-lbf"), inUnit("80", quantity.Percent), MoreThan},
}

// inUnit is a figure of the table.
func inUnit(number string, u quantity.Unit) quantity.Quantity {
	return quantity.Quantity{Number: number, Unit: u}
}

// InServiceLimits lists the public limits known, each with its source.
func InServiceLimits() []InServiceLimit { return append([]InServiceLimit(nil), inServiceLimits...) }

// Failed compares a measured value with the limit, exactly and in the unit of
// record.
func (l InServiceLimit) Failed(measured quantity.Quantity) (bool, error) {
	c, err := measured.Cmp(l.Limit)
	if err != nil {
		return false, fmt.Errorf("%s: %w", l.Item, err)
	}
	switch l.Fails {
	case LessThan:
		return c < 0, nil
	case ThatOrLess:
		return c <= 0, nil
	case MoreThan:
		return c > 0, nil
	}
	return false, phrase.Error("brakes.inservice.limit-worded-is-not-known", l.Item, l.Fails)
}
