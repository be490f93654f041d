package brakes

import (
	"fmt"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// EffortOddities asks about an effort that no wheel of a road vehicle up to
// 3.5 t shows: above 20 kN it was read in kgf or daN, between nothing and 20 N
// in kN. The bounds are common practice, no source.
func EffortOddities(effort quantity.Quantity) ([]Oddity, error) {
	f, err := exactIn(effort, quantity.Newton, "effort")
	if err != nil {
		return nil, err
	}
	plausible := func(u quantity.Unit) (string, bool) {
		meant := quantity.Quantity{Number: effort.Number, Unit: u}
		n, err := meant.In(quantity.Newton)
		if err != nil || !within(n, ratio(20, 1), ratio(20000, 1)) {
			return "", false
		}
		return fmt.Sprintf("%s = %s", meant, shown(over(n, ratio(1000, 1)), quantity.Kilonewton, 2)), true
	}
	var candidates []quantity.Unit
	switch {
	case f.Cmp(ratio(20000, 1)) > 0:
		candidates = []quantity.Unit{quantity.KilogramForce, quantity.Decanewton, quantity.Newton}
	case f.Sign() > 0 && f.Cmp(ratio(20, 1)) < 0:
		candidates = []quantity.Unit{quantity.Kilonewton}
	default:
		return nil, nil
	}
	text := phrase.Of("brakes.rolleroddity.at-one-wheel", effort)
	for _, u := range candidates {
		if hint, ok := plausible(u); ok {
			text += " " + hint + "?"
		}
	}
	return []Oddity{{Code: CodeOtherUnit, Text: text}}, nil
}

// MassOddities asks about a test mass that was typed in tonnes or lies above
// the plated gross mass; plated may be zero when it is not known.
func MassOddities(mass, plated quantity.Quantity) ([]Oddity, error) {
	kg, err := exactIn(mass, quantity.Kilogram, "mass")
	if err != nil {
		return nil, err
	}
	if kg.Sign() <= 0 {
		return []Oddity{{Code: CodeImpossible, Refused: true, Text: phrase.Of("brakes.rolleroddity.is-no-mass-of-a-vehicle-more", mass)}}, nil
	}
	if mass.Unit == quantity.Kilogram && kg.Cmp(ratio(100, 1)) < 0 {
		return []Oddity{{Code: CodeMass, Text: phrase.Of("brakes.rolleroddity.for-a-vehicle-t", mass, mass.Number, asQuantity(times(kg, ratio(1000, 1)), quantity.Kilogram))}}, nil
	}
	if plated.IsZero() {
		return nil, nil
	}
	c, err := mass.Cmp(plated)
	if err != nil {
		return nil, phrase.Error("brakes.rolleroddity.plated-mass", err)
	}
	if c > 0 {
		return []Oddity{{Code: CodeMass, Text: phrase.Of("brakes.rolleroddity.is-more-than-the-plated-typing-or", mass, plated)}}, nil
	}
	return nil, nil
}

// SameOnAllAxles asks when left equals right to the last digit on two or more
// axles: one number was copied.
func SameOnAllAxles(axles []AxleTest) []Oddity {
	if len(axles) < 2 {
		return nil
	}
	for _, a := range axles {
		if a.Left.IsZero() || a.Left != a.Right {
			return nil
		}
	}
	return []Oddity{{Code: CodeSameEverywhere, Text: phrase.Of("brakes.rolleroddity.left-and-right-are-equal-to-the", len(axles))}}
}

// LessThanBefore asks when an effort after the work is lower than before it;
// the foreman sees it before release.
func LessThanBefore(name string, before, after quantity.Quantity) ([]Oddity, error) {
	c, err := after.Cmp(before)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if c >= 0 {
		return nil, nil
	}
	return []Oddity{{Code: CodeLessThanBefore, Text: phrase.Of("brakes.rolleroddity.after-the-work-before-pads-not-bedded", name, after, before)}}, nil
}
