package brakes

import (
	"math/big"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// RollerVehicle is what the rules must know of the vehicle.
type RollerVehicle struct {
	Class     string // M1, M2, M3, N1 …
	FirstUsed time.Time
}

// AxleTest is one axle on the roller at one moment, before a wheel locks.
type AxleTest struct {
	Left, Right             quantity.Quantity // efforts
	LeftLocked, RightLocked bool
	Steered                 bool
}

// JudgeImbalance grades the two wheels of an axle. A lower wheel exactly on a
// share is not below it. The figure is disregarded when the lower wheel locked
// or the higher effort is not above the floor of the rule set.
func (r RollerRules) JudgeImbalance(v RollerVehicle, t AxleTest) (RollerResult, error) {
	percent, err := Imbalance(t.Left, t.Right)
	if err != nil {
		return RollerResult{}, err
	}
	result := RollerResult{Percent: percent, Grade: GradePass, Text: phrase.Of("brakes.rollerjudge.imbalance", shown(percent, quantity.Percent, 1))}
	order, err := t.Left.Cmp(t.Right)
	if err != nil {
		return RollerResult{}, err
	}
	higher, lowerLocked := t.Left, t.RightLocked
	if order < 0 {
		higher, lowerLocked = t.Right, t.LeftLocked
	}
	if lowerLocked && order != 0 {
		result.Grade, result.Text = GradeDisregard, phrase.Of("brakes.rollerjudge.disregarded-the-lower-wheel-locked", result.Text)
		return result, nil
	}
	if floor, ok := r.Value(ImbalanceFloor, v.Class, v.FirstUsed, Service); ok {
		c, err := higher.Cmp(floor)
		if err != nil {
			return RollerResult{}, err
		}
		if c <= 0 {
			result.Grade, result.Text = GradeDisregard, phrase.Of("brakes.rollerjudge.disregarded-the-higher-effort-is-not-above", result.Text, floor)
			return result, nil
		}
	}
	// The lower wheel's share of the higher is 100 % − imbalance.
	share := minus(hundred, percent)
	below := func(f RollerFigure) (bool, error) {
		least, ok := r.Value(f, v.Class, v.FirstUsed, Service)
		if !ok {
			return false, nil
		}
		p, err := exactIn(least, quantity.Percent, string(f))
		return err == nil && share.Cmp(p) < 0, err
	}
	for _, step := range []struct {
		figure RollerFigure
		grade  Grade
		when   bool
	}{{LowerWheelWarned, GradeWarn, true}, {LowerWheelLeast, GradeMajor, true}, {LowerWheelSteered, GradeDangerous, t.Steered}} {
		is, err := below(step.figure)
		if err != nil {
			return RollerResult{}, err
		}
		if is && step.when {
			result.Grade = step.grade
		}
	}
	result.Text += ": " + result.Grade.String()
	return result, nil
}

// SystemTest is one brake system over all its wheels.
type SystemTest struct {
	System  RollerSystem
	Efforts []quantity.Quantity // one per wheel
	Mass    quantity.Quantity   // the mass the rule takes; it is printed
	Locked  int                 // wheels of the system that locked
}

// JudgeEfficiency grades a system: less than the dangerous share of the
// required figure is dangerous, otherwise a shortfall is major; more than half
// of the wheels locking counts as met, for then the tyre is the limit.
func (r RollerRules) JudgeEfficiency(v RollerVehicle, t SystemTest) (RollerResult, error) {
	if t.Locked < 0 || t.Locked > len(t.Efforts) {
		return RollerResult{}, phrase.Error("brakes.rollerjudge.of-wheels-locked-a-number-between-is", t.Locked, len(t.Efforts))
	}
	percent, err := Efficiency(t.Efforts, t.Mass)
	if err != nil {
		return RollerResult{}, err
	}
	result := RollerResult{Percent: percent, Text: phrase.Of("brakes.rollerjudge.brake-of", t.System, shown(percent, quantity.Percent, 1), t.Mass)}
	least, ok := r.Value(LeastEfficiency, v.Class, v.FirstUsed, t.System)
	if !ok {
		result.Text += phrase.Of("brakes.rollerjudge.rule-set-has-no-figure-for-a", r.Name, t.System, v.Class)
		return result, nil
	}
	required, err := exactIn(least, quantity.Percent, phrase.Of("brakes.rollerjudge.required-efficiency"))
	if err != nil {
		return RollerResult{}, err
	}
	result.Grade = GradePass
	switch {
	case percent.Cmp(required) >= 0:
	case 2*t.Locked > len(t.Efforts):
		result.Text += phrase.Of("brakes.rollerjudge.required-met-more-than-half-of-the", least)
		return result, nil
	default:
		result.Grade = GradeMajor
		share, has := r.Value(DangerousShare, v.Class, v.FirstUsed, t.System)
		if !has {
			break
		}
		p, err := exactIn(share, quantity.Percent, phrase.Of("brakes.rollerjudge.dangerous-share"))
		if err != nil {
			return RollerResult{}, err
		}
		if percent.Cmp(over(times(required, p), hundred)) < 0 {
			result.Grade = GradeDangerous
		}
	}
	result.Text += phrase.Of("brakes.rollerjudge.required", least, result.Grade)
	return result, nil
}

// JudgeMost grades a fluctuation or a bind: above the figure is a warning to
// look for the cause, on it is still a pass.
func (r RollerRules) JudgeMost(figure RollerFigure, v RollerVehicle, percent *big.Rat) (RollerResult, error) {
	result := RollerResult{Percent: percent}
	most, ok := r.Value(figure, v.Class, v.FirstUsed, Service)
	if !ok {
		result.Text = phrase.Of("brakes.rollerjudge.rule-set-has-no-figure-for", r.Name, figure)
		return result, nil
	}
	p, err := exactIn(most, quantity.Percent, string(figure))
	if err != nil {
		return RollerResult{}, err
	}
	result.Grade = GradePass
	if percent.Cmp(p) > 0 {
		result.Grade = GradeWarn
	}
	result.Text = phrase.Of("brakes.rollerjudge.at-most", shown(percent, quantity.Percent, 1), most, result.Grade)
	return result, nil
}
