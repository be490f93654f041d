package brakes

import (
	"fmt"
	"math/big"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// FluidBase is the family of a brake fluid. Families are never mixed.
type FluidBase string

// The families.
const (
	Glycol   FluidBase = "glycol"
	Silicone FluidBase = "silicone"
	Mineral  FluidBase = "mineral oil"
)

// FluidClass is a class of brake fluid with the least boiling points, dry and
// wet (3.7 % water), and the viscosity limits in mm²/s at −40 °C (most) and
// 100 °C (least).
type FluidClass struct {
	Name                        string
	Base                        FluidBase
	DryBoiling, WetBoiling      quantity.Quantity
	ColdViscosity, HotViscosity string
	// FromMemory marks figures that were recalled, not read.
	FromMemory bool
}

// fluidClasses: DOT rows from 49 CFR 571.116 (FMVSS 116), read in secondary
// reproductions of the table; ISO 4925 rows from memory. Mineral oil has no
// figures here: it is listed so that it can be refused by name.
var fluidClasses = []FluidClass{
	{"DOT 3", Glycol, celsius("205"), celsius("140"), "1500", "1.5", false},
	{"DOT 4", Glycol, celsius("230"), celsius("155"), "1800", "1.5", false},
	{"DOT 5", Silicone, celsius("260"), celsius("180"), "900", "1.5", false},
	{"DOT 5.1", Glycol, celsius("260"), celsius("180"), "900", "1.5", false},
	{"ISO 4925 class 3", Glycol, celsius("205"), celsius("140"), "1500", "1.5", true},
	{"ISO 4925 class 4", Glycol, celsius("230"), celsius("155"), "1500", "1.5", true},
	{"ISO 4925 class 5-1", Glycol, celsius("260"), celsius("180"), "900", "1.5", true},
	{"ISO 4925 class 6", Glycol, celsius("250"), celsius("165"), "750", "1.5", true},
	{"ISO 4925 class 7", Glycol, celsius("260"), celsius("180"), "750", "1.5", true},
	{"mineral", Mineral, quantity.Quantity{}, quantity.Quantity{}, "", "", false},
}

// celsius is a temperature of the table.
func celsius(number string) quantity.Quantity {
	return quantity.Quantity{Number: number, Unit: quantity.Celsius}
}

// FluidClasses lists the classes known, in a stable order.
func FluidClasses() []FluidClass { return append([]FluidClass(nil), fluidClasses...) }

// ParseFluidClass finds a class by name; blanks, dots, hyphens and case do not
// matter beyond what tells 5 from 5.1.
func ParseFluidClass(text string) (FluidClass, error) {
	plain := func(s string) string {
		return strings.NewReplacer(" ", "", "-", "", "_", "", "–", "").Replace(strings.ToLower(s))
	}
	want := plain(text)
	for _, c := range fluidClasses {
		if name := plain(c.Name); name == want || strings.Replace(name, "iso4925class", "class", 1) == want {
			return c, nil
		}
	}
	return FluidClass{}, phrase.Error("brakes.fluid.brake-fluid-is-not-known-dot-3", text)
}

// FluidOffer is the answer to "may this fluid go in?".
type FluidOffer struct {
	Accepted bool
	Why      string
}

// OfferFluid compares the class offered with the class required: same family,
// boiling points not lower, cold viscosity not higher, hot viscosity not
// lower. Acceptance of another class still needs the vehicle data.
// Source: the table above and the published rule that silicone and glycol
// fluids are not mixed.
func OfferFluid(required, offered FluidClass) (FluidOffer, error) {
	switch {
	case required.Name == offered.Name:
		return FluidOffer{true, phrase.Of("brakes.fluid.same-class")}, nil
	case required.Base != offered.Base:
		return FluidOffer{false, phrase.Of("brakes.fluid.in-a-system", offered.Base, required.Base)}, nil
	}
	var against []string
	for _, t := range []struct {
		name      string
		want, got quantity.Quantity
	}{{phrase.Of("brakes.fluid.dry-boiling-point"), required.DryBoiling, offered.DryBoiling}, {phrase.Of("brakes.fluid.wet-boiling-point"), required.WetBoiling, offered.WetBoiling}} {
		c, err := t.got.Cmp(t.want)
		if err != nil {
			return FluidOffer{}, fmt.Errorf("%s: %w", t.name, err)
		}
		if c < 0 {
			against = append(against, phrase.Of("brakes.fluid.is-below", t.name, t.got, t.want))
		}
	}
	cold, err := viscosityOrder(offered.ColdViscosity, required.ColdViscosity)
	if err != nil {
		return FluidOffer{}, err
	}
	if cold > 0 {
		against = append(against, phrase.Of("brakes.fluid.viscosity-at-40-c-up-to-is", offered.ColdViscosity, required.ColdViscosity))
	}
	hot, err := viscosityOrder(offered.HotViscosity, required.HotViscosity)
	if err != nil {
		return FluidOffer{}, err
	}
	if hot < 0 {
		against = append(against, phrase.Of("brakes.fluid.viscosity-at-100-c-from-is-below", offered.HotViscosity, required.HotViscosity))
	}
	if len(against) > 0 {
		return FluidOffer{false, strings.Join(against, "; ")}, nil
	}
	return FluidOffer{true, phrase.Of("brakes.fluid.boiling-points-not-lower-viscosity-not-higher")}, nil
}

// viscosityOrder compares two decimals in mm²/s.
func viscosityOrder(a, b string) (int, error) {
	x, okA := new(big.Rat).SetString(a)
	y, okB := new(big.Rat).SetString(b)
	if !okA || !okB {
		return 0, phrase.Error("brakes.fluid.viscosity-or-is-no-number-of-mm", a, b)
	}
	return x.Cmp(y), nil
}

// CheckBottle refuses a bottle that has been open longer than the workshop
// allows: brake fluid takes up water. months is the workshop's rule; 12 is
// common practice, no source. An empty sentence means it may be used.
func CheckBottle(opened, on time.Time, months int) string {
	if opened.After(on) {
		return phrase.Of("brakes.fluid.the-bottle-is-marked-opened-on-which", day(opened))
	}
	if on.After(opened.AddDate(0, months, 0)) {
		return phrase.Of("brakes.fluid.the-bottle-was-opened-on-more-than", day(opened), months)
	}
	return ""
}
