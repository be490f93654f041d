package brakes

import (
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// InstrumentKind is a kind of length instrument with a typical error limit.
type InstrumentKind string

// The kinds.
const (
	OutsideMicrometer InstrumentKind = "outside micrometer"
	Caliper           InstrumentKind = "caliper"
	CaliperInside     InstrumentKind = "caliper, inside or depth"
	DialIndicator     InstrumentKind = "dial indicator"
)

// ErrorLimit is a default for the register until the certificate is known.
type ErrorLimit struct {
	Limit  quantity.Quantity // ± in millimetres
	Source string
}

// TypicalErrorLimit gives the error limit for a measured length; graduation is
// needed for the dial indicator only, whose repeatability is a fifth of it.
// Errors: unknown kind, a length beyond the range of the published figure.
func TypicalErrorLimit(kind InstrumentKind, measured, graduation quantity.Quantity) (ErrorLimit, error) {
	micrometres := func(n int64) *big.Rat { return ratio(n, 1000) }
	if kind == DialIndicator {
		step, err := exactIn(graduation, quantity.Millimetre, "graduation")
		if err != nil {
			return ErrorLimit{}, err
		}
		return ErrorLimit{asQuantity(over(step, ratio(5, 1)), quantity.Millimetre), phrase.Of("brakes.errorlimit.repeatability-us-army-tb-9-5210-210")}, nil
	}
	mm, err := exactIn(measured, quantity.Millimetre, phrase.Of("brakes.errorlimit.measured-length"))
	if err != nil {
		return ErrorLimit{}, err
	}
	if mm.Sign() < 0 {
		return ErrorLimit{}, phrase.Error("brakes.errorlimit.measured-length-is-negative", measured)
	}
	beyond := func(most string) error {
		return phrase.Error("brakes.errorlimit.no-published-error-limit-for-a-at", kind, measured, most)
	}
	// 6 in and 0.001 in, exact.
	reach, thou := ratio(1524, 10), ratio(254, 10000)
	switch kind {
	case OutsideMicrometer:
		switch {
		case mm.Cmp(ratio(50, 1)) <= 0:
			return ErrorLimit{asQuantity(micrometres(4), quantity.Millimetre), phrase.Of("brakes.errorlimit.din-863-summary")}, nil
		case mm.Cmp(ratio(100, 1)) <= 0:
			return ErrorLimit{asQuantity(micrometres(5), quantity.Millimetre), phrase.Of("brakes.errorlimit.din-863-summary")}, nil
		}
		return ErrorLimit{}, beyond("100 mm")
	case Caliper, CaliperInside:
		if mm.Cmp(reach) > 0 {
			return ErrorLimit{}, beyond("6 in")
		}
		if kind == Caliper {
			return ErrorLimit{asQuantity(thou, quantity.Millimetre), phrase.Of("brakes.errorlimit.us-army-tb-9-5210-208-35")}, nil
		}
		return ErrorLimit{asQuantity(plus(thou, micrometres(20)), quantity.Millimetre), phrase.Of("brakes.errorlimit.us-army-tb-9-5210-208-35-2")}, nil
	}
	return ErrorLimit{}, phrase.Error("brakes.errorlimit.instrument-is-not-known-outside-micrometer", kind)
}
