package reckon

import (
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/quantity"
)

// forms says how each calculator asks on a form: every input in words, with an example. Hint and
// optional come from the flag where they are not given here.
func forms() []Form {
	return []Form{
		{Name: "window", Title: "Is a value inside its window?", Inputs: []Input{
			{Name: "window", Label: "Window", place: argPlace, Hint: windowHint, example: ">= 16.00 mm", check: isWindow},
			{Name: "value", Label: "Value", place: argPlace, Hint: "A bare number takes the unit of the window", example: "16.04"},
			{Name: "error", Label: "Error limit of the instrument", example: "0.05, or 4 % for a wrench"},
			{Name: "resolution", Label: "Smallest step it shows", example: "0.05"},
			{Name: "uncertainty", Label: "Or its expanded uncertainty", Hint: "Expanded uncertainty of the reading, in place of error and step", example: "0.005"},
		}},
		{Name: "able", Title: "Can this wrench prove a torque window?", Inputs: append([]Input{
			{Name: "window", Label: "Window of the bolt", place: argPlace, Hint: windowHint, example: "27..29 Nm", check: isWindow},
			{Name: "set", Label: "Wrench set to, N·m", example: "28"},
			{Name: "error", Label: "Error of the wrench, %", example: "4"},
			{Name: "resolution", Label: "Step of its scale, N·m", example: "0.5"},
		}, adapterInputs(true)...)},
		{Name: "adapter", Title: "Setting of a wrench with an adapter, and back", Inputs: append(append([]Input{
			{Name: "target", Label: "Wanted at the bolt, N·m", Hint: "Torque wanted at the bolt; the setting is worked out", example: "28"},
			{Name: "set", Label: "Or wrench set to, N·m", Hint: "What the wrench is set to; the torque at the bolt is worked out", example: "24.5"},
		}, adapterInputs(false)...),
			Input{Name: "window", Label: "Window of the bolt", example: "26..30 Nm"})},
		{Name: "preload", Title: "Torque and preload of a bolt", Inputs: []Input{
			{Name: "thread", Label: "Thread", Hint: "M and the diameter, x and the pitch where it is fine", example: "M12x1.5", check: isThread},
			{Name: "class", Label: "Property class", example: "10.9", check: isClass},
			{Name: "friction", Label: "Friction between the threads", Hint: "A coefficient", example: "0.12"},
			{Name: "head-friction", Label: "Friction under the head", example: "0.12"},
			{Name: "window", Label: "Written torque, to be doubted", Hint: windowHint, example: "90..100 Nm"},
		}},
		{Name: "order", Title: "Order of tightening on a circle", Inputs: []Input{
			{Name: "fasteners", Label: "Number of fasteners", place: argPlace, Hint: "Numbered clockwise", example: "6", check: isWhole("the number of fasteners")},
			{Name: "check", Label: "Order to look over", example: "1-4-2-5-3-6"},
		}},
		{Name: "disc", Title: "Thickness and variation of a disc", Inputs: []Input{
			{Name: "points", Label: "Thickness points, mm", example: "16.42 16.41 16.43 16.44"},
			{Name: "min", Label: "Smallest in service, mm", example: "16.00"},
			{Name: "refit", Label: "Smallest to go back on, mm", example: "16.50"},
			{Name: "variation", Label: "Most variation, mm", example: "0.015"},
			{Name: "uncertainty", Label: "Uncertainty of a reading, mm", example: "0.004"},
			{Name: "resolution", Label: "Smallest step, mm", example: "0.001"},
			{Name: "nominal", Label: "Size of a new disc", Hint: "The first point is held against it", example: "18.00 +- 0.10 mm"},
			{Name: "inner", Label: "Points near the inner radius, mm", Hint: "For the taper, as many as the points above", example: "16.40 16.40 16.42 16.43"},
			{Name: "previous", Label: "Thinnest at the last visit, mm", example: "16.60"},
			{Name: "used", Label: "The disc has run"},
		}},
		{Name: "runout", Title: "Run-out of a disc, and its tilt", Inputs: []Input{
			{Name: "points", Label: "Dial readings of one turn, mm", Hint: "Equally spaced, the first at stud 1, signs counted", example: "0 0.02 0.02 -0.01 -0.04 -0.02"},
			{Name: "return", Label: "Back at the start, mm", example: "0"},
			{Name: "limit", Label: "Most run-out, mm", example: "0.08"},
			{Name: "return-within", Label: "Return may miss by, mm", example: "0.01"},
			{Name: "resolution", Label: "Smallest step, mm", example: "0.01"},
			{Name: "radius", Label: "Radius of the gauge, mm", example: "140"},
			{Name: "hub-tir", Label: "Run-out of the hub face, mm", example: "0.03"},
			{Name: "hub-radius", Label: "Measured at radius, mm", example: "60"},
		}},
		{Name: "index", Title: "Which stud position cures a run-out?", Inputs: []Input{
			{Name: "studs", Label: "Number of studs", example: "6"},
			{Name: "at", Label: "Readings as it sits now, mm", lead: "0=", Hint: "One turn, equally spaced, the first at stud 1 of the hub", example: "0 0.02 0.02 -0.01 -0.04 -0.02", List: true, check: isMounting},
			{Name: "at", Label: "Turned by studs = readings, mm", Hint: "How many studs the disc was turned, =, and the readings of that turn", example: "2 = 0 0.01 0.01 0.02 0 -0.01", List: true, check: isMounting},
			{Name: "at", Label: "And once more, turned = readings", Optional: true, Hint: "A third mounting shows how well the others fit", example: "4 = 0 0.01 0.02 0.02 0 -0.01", List: true, check: isMounting},
			{Name: "screws", Label: "Disc screws", example: "2"},
			{Name: "permitted", Label: "Or positions that fit", example: "0,3"},
			{Name: "limit", Label: "Most run-out, mm", example: "0.08"},
		}},
		{Name: "pads", Title: "Wear pattern of the pads", Inputs: []Input{
			{Name: "side", Label: "Side, facing forward", Choices: []string{"left", "right"}, Words: []string{"left", "right"}},
			{Name: "inner", Label: "Inner pad, mm", Hint: "Leading, then trailing end, friction only", example: "3.1 3.0"},
			{Name: "outer", Label: "Outer pad, mm", Hint: "Leading, then trailing end, friction only", example: "7.4 7.5"},
			{Name: "other-inner", Label: "Inner pad, other side, mm", Hint: "Leading, then trailing end", example: "6.2 6.1"},
			{Name: "other-outer", Label: "Outer pad, other side, mm", Hint: "Leading, then trailing end", example: "6.4 6.3"},
			{Name: "new", Label: "Friction of a new pad, mm", example: "11.5"},
			{Name: "plate", Label: "Backing plate, mm", example: "5.5"},
			{Name: "over", Label: "Allowed above a new pad, mm", example: "0.3"},
			{Name: "inner-outer", Label: "Asked about: inner to outer", example: "2.0"},
			{Name: "taper", Label: "Asked about: taper", example: "1.0"},
			{Name: "sides", Label: "Asked about: side to side", example: "1.5"},
		}},
		{Name: "wear", Title: "How far will a part go until its limit?", Inputs: []Input{
			{Name: "limit", Label: "Smallest thickness, mm", example: "2.0"},
			{Name: "visits", Label: "Oldest visit, km = mm", place: argPlace, Hint: visitHint, example: "42180 = 11.5", check: isVisit},
			{Name: "visits", Label: "Next visit, km = mm", place: argPlace, Optional: true, Hint: visitHint, example: "61430 = 7.9", check: isVisit},
			{Name: "visits", Label: "Third visit, km = mm", place: argPlace, Optional: true, Hint: visitHint, example: "74020 = 5.8", check: isVisit},
			{Name: "visits", Label: "Fourth visit, km = mm", place: argPlace, Optional: true, Hint: visitHint, example: "80150 = 4.6", check: isVisit},
			{Name: "uncertainty", Label: "Uncertainty of each, mm", example: "0.2"},
			{Name: "after", Label: "Expected after, km", example: "20000"},
		}},
		{Name: "balance", Title: "Imbalance of an axle on the roller tester", Inputs: append([]Input{
			{Name: "left", Label: "Left wheel, kN", example: "2.10"},
			{Name: "right", Label: "Right wheel, kN", example: "1.65"},
			{Name: "steered", Label: "Steered axle"},
			{Name: "locked", Label: "The lower wheel locked"},
			{Name: "most", Label: "Largest at a steady pedal, kN", Optional: true, Hint: "One wheel; with the smallest", example: "2.30"},
			{Name: "least", Label: "Smallest at a steady pedal, kN", Optional: true, example: "1.90"},
			{Name: "rolling", Label: "Rolling, not braked, kN", Optional: true, Hint: "With the mass on the axle", example: "0.30"},
			{Name: "axle-mass", Label: "Mass on the axle, kg", Optional: true, example: "1140"},
		}, ruleInputs()...)},
		{Name: "efficiency", Title: "Brake efficiency from efforts and mass", Inputs: append([]Input{
			{Name: "forces", Label: "Efforts of all wheels, kN", example: "2.2 2.2 2.1 2.1, or with kgf behind each"},
			{Name: "mass", Label: "Mass, kg", example: "1500"},
			{Name: "required", Label: "Figure to reach, %", Hint: "In place of the rule set", example: "58"},
			{Name: "locked", Label: "Wheels locked", example: "0"},
			{Name: "system", Label: "System", Choices: []string{"service", "secondary", "parking"}, Words: []string{"service brake", "secondary brake", "parking brake"}},
			{Name: "plated", Label: "Plated gross mass, kg", example: "1950"},
		}, ruleInputs()...)},
		{Name: "fluid", Title: "May this brake fluid go in?", Inputs: []Input{
			{Name: "required", Label: "Class on the cap", example: "DOT 4", check: isFluid},
			{Name: "offered", Label: "Class on the bottle", example: "DOT 5.1", check: isFluid},
			{Name: "boiling", Label: "Boiling point measured, °C", example: "168"},
			{Name: "now", Label: "Renewed now below", Hint: "The limit is a demo value unless another is typed", example: "155"},
			{Name: "soon", Label: "Renewed soon below", Hint: "The limit is a demo value unless another is typed", example: "180"},
		}},
		{Name: "vin", Title: "Vehicle number: form and check digit", Inputs: []Input{
			{Name: "number", Label: "Vehicle number (VIN)", place: argPlace, Hint: "17 characters, typed or scanned", example: "1M8GDM9AXKP042788"},
			{Name: "until", Label: "Last model year looked at", Hint: "Next year when not given", example: "2027"},
		}},
		{Name: "convert", Title: "A value in another unit", Inputs: []Input{
			{Name: "value", Label: "Value with its unit", place: argPlace, Hint: "The value carries its own unit", example: "26 lbfft", check: isValue},
			{Name: "unit", Label: "Unit wanted", place: argPlace, Hint: "A unit of the same kind", example: "Nm", check: isUnit},
			{Name: "places", Label: "Decimals", Hint: "Six significant digits when not given", example: "1"},
		}},
		{Name: "conform", Title: "How likely does a measured item conform?", Inputs: []Input{
			{Name: "window", Label: "Window", place: argPlace, Hint: windowHint, example: ">= 16.00 mm", check: isWindow},
			{Name: "value", Label: "Value", place: argPlace, Hint: "A bare number takes the unit of the window", example: "16.004"},
			{Name: "uncertainty", Label: "Expanded uncertainty (k = 2)", Hint: "In the unit of the window", example: "0.005"},
			{Name: "standard", Label: "Or standard uncertainty (k = 1)", Hint: "In place of the expanded one", example: "0.0025"},
		}},
		{Name: "regress", Title: "A straight line through points", Inputs: []Input{
			{Name: "points", Label: "Points, X = Y", place: argsPlace, List: true, Hint: "Three or more, blanks between them", example: "1=2.1 2=3.9 3=6.2"},
			{Name: "at", Label: "Read the line at X", example: "4"},
			{Name: "confidence", Label: "Confidence of the lower bound", Hint: "One-sided", example: "0.95"},
		}},
	}
}

const (
	windowHint = "Written as 27..29 Nm, 120 +- 12 Nm, 120 Nm +- 10 %, >= 16.00 mm or <= 0.05 mm; limits are inclusive"
	visitHint  = "Odometer, = and the thinnest point; new: before it when the part had been renewed"
)

func adapterInputs(optional bool) []Input {
	return []Input{
		{Name: "length", Label: "Drive to hand point (L), mm", Optional: optional, Hint: "From the middle of the drive to the marked hand point of the wrench", example: "300"},
		{Name: "adapter", Label: "Drive to bolt (a), mm", Optional: optional, Hint: "From the middle of the drive to the middle of the bolt", example: "40"},
		{Name: "angle", Label: "Adapter to handle, degrees", Hint: "0 is straight ahead, 90 square to it", example: "0"},
	}
}

func ruleInputs() []Input {
	sets := ruleSets()
	return []Input{
		{Name: "rules", Label: "Rule set", Choices: sets, Words: sets},
		{Name: "class", Label: "Vehicle class", Hint: "As the rule set names it", example: "M1"},
		{Name: "on", Label: "Day of the test", Hint: "Today when not given", example: "2026-03-31", check: isDay("on")},
		{Name: "first-used", Label: "Day of first use", Hint: "The day of the test when not given", example: "2019-05-20", check: isDay("first-used")},
	}
}

func isWindow(text string) error   { _, err := parseWindow(text); return err }
func isThread(text string) error   { _, err := fastening.ParseThread(text); return err }
func isClass(text string) error    { _, err := fastening.ParseClass(text); return err }
func isFluid(text string) error    { _, err := brakes.ParseFluidClass(text); return err }
func isMounting(text string) error { _, _, err := mounting(text); return err }
func isVisit(text string) error    { _, err := visit(joined(text)); return err }
func isValue(text string) error    { _, err := quantity.Parse(text, ""); return err }
func isUnit(text string) error     { _, err := quantity.ParseUnit(text); return err }

func isWhole(what string) func(string) error {
	return func(text string) error { _, err := Whole(text, what); return err }
}

func isDay(flag string) func(string) error {
	return func(text string) error { _, err := day(text, flag); return err }
}
