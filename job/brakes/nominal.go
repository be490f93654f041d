package brakes

import (
	"fmt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// NewPart is one feature of a part out of the box held against its own
// nominal size.
type NewPart struct {
	Verdict quantity.Verdict
	// Code is empty when the feature is inside, CodeOtherPart or CodeUsedPart.
	Code Code
	// Off is measured − nominal.
	Off quantity.Quantity
	// Text is one sentence, empty when the feature is inside.
	Text string
}

// CheckNewPart asks whether the right part was unpacked: measured against
// nominal ± tolerance, guarded by the uncertainty when it is given. Thinner
// than nominal but not below wearLimit means a used part; wearLimit may be
// zero for features that do not wear (diameter, height, bore).
// Source of the two suspicions: common practice, no source.
func CheckNewPart(feature string, nominal quantity.Window, measured, uncertainty, wearLimit quantity.Quantity) (NewPart, error) {
	if nominal.Low.IsZero() || nominal.High.IsZero() {
		return NewPart{}, phrase.Error("brakes.nominal.a-nominal-size-with-a-tolerance-is", feature)
	}
	v, err := judgeGuarded(nominal, measured, uncertainty)
	if err != nil {
		return NewPart{}, fmt.Errorf("%s: %w", feature, err)
	}
	low, err := exactIn(nominal.Low, quantity.Millimetre, feature)
	if err != nil {
		return NewPart{}, err
	}
	high, err := exactIn(nominal.High, quantity.Millimetre, feature)
	if err != nil {
		return NewPart{}, err
	}
	m, err := exactIn(measured, quantity.Millimetre, feature)
	if err != nil {
		return NewPart{}, err
	}
	target := over(plus(low, high), ratio(2, 1))
	part := NewPart{Verdict: v, Off: asQuantity(minus(m, target), quantity.Millimetre)}
	size := asQuantity(target, quantity.Millimetre)
	if !nominal.Target.IsZero() {
		size = nominal.Target
	}
	off := asQuantity(magnitude(minus(m, target)), quantity.Millimetre)
	switch {
	case v == quantity.NotProven:
		part.Text = phrase.Of("brakes.nominal.is-nearer-to-the-limit-of-than", feature, measured, nominal)
	case v == quantity.Inside || v == quantity.Unjudged:
	case m.Cmp(high) > 0:
		part.Code = CodeOtherPart
		part.Text = phrase.Of("brakes.nominal.is-more-than-another-part-of-the", feature, measured, off, size)
	default:
		part.Code = CodeOtherPart
		part.Text = phrase.Of("brakes.nominal.is-less-than-another-part-of-the", feature, measured, off, size)
		if wearLimit.IsZero() {
			break
		}
		worn, err := exactIn(wearLimit, quantity.Millimetre, phrase.Of("brakes.nominal.wear-limit"))
		if err != nil {
			return NewPart{}, err
		}
		if m.Cmp(worn) >= 0 {
			part.Code = CodeUsedPart
			part.Text = phrase.Of("brakes.nominal.is-less-than-this-is-a-used", feature, measured, off, size)
		}
	}
	return part, nil
}

// SidesAgree compares the same feature of the left and the right part. The
// difference is |left − right|; allowed is inclusive.
func SidesAgree(feature string, left, right, allowed quantity.Quantity) (difference quantity.Quantity, odd []Oddity, err error) {
	l, err := exactIn(left, quantity.Millimetre, phrase.Of("brakes.nominal.left", feature))
	if err != nil {
		return quantity.Quantity{}, nil, err
	}
	r, err := exactIn(right, quantity.Millimetre, phrase.Of("brakes.nominal.right", feature))
	if err != nil {
		return quantity.Quantity{}, nil, err
	}
	a, err := exactIn(allowed, quantity.Millimetre, phrase.Of("brakes.nominal.allowed-difference", feature))
	if err != nil {
		return quantity.Quantity{}, nil, err
	}
	d := magnitude(minus(l, r))
	difference = asQuantity(d, quantity.Millimetre)
	if d.Cmp(a) > 0 {
		odd = []Oddity{{Code: CodeSidesUnlike,
			Text: phrase.Of("brakes.nominal.left-and-right-differ-by-at-most", feature, left, right, difference, allowed)}}
	}
	return difference, odd, nil
}

// NewDiscLimits are limits for a replacement disc measured as a new part. They
// are no in-service limits.
type NewDiscLimits struct {
	Variation, RunOut quantity.Window
	// Flatness of the location face; zero when the rule names none.
	Flatness quantity.Window
}

// ReplacementDisc gives the limits of UN Regulation No. 90 for replacement
// discs by vehicle category (M1, M2, M3, N1, N2, N3, O1 … O4).
// Source: table seen in UNECE informal document GRRF-80-12.
func ReplacementDisc(category string) (NewDiscLimits, error) {
	most := func(number string) quantity.Window {
		q := quantity.Quantity{Number: number, Unit: quantity.Millimetre}
		return quantity.Window{High: q, Text: "≤ " + q.String()}
	}
	switch category {
	case "M1", "N1", "O1", "O2":
		return NewDiscLimits{Variation: most("0.015"), RunOut: most("0.050"), Flatness: most("0.050")}, nil
	case "M2", "M3", "N2", "N3", "O3", "O4":
		return NewDiscLimits{Variation: most("0.030"), RunOut: most("0.15")}, nil
	}
	return NewDiscLimits{}, phrase.Error("brakes.nominal.vehicle-category-is-not-known-m1-to", category)
}
