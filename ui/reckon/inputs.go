package reckon

import (
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// forms says how each calculator asks on a form: every input in words, with an example. Hint and
// optional come from the flag where they are not given here.
func forms() []Form {
	return []Form{
		{Name: "window", Title: phrase.Of("reckon.inputs.is-a-value-inside-its-window"), Inputs: []Input{
			{Name: "window", Label: phrase.Of("reckon.inputs.window"), place: argPlace, Hint: windowHint, example: ">= 16.00 mm", check: isWindow},
			{Name: "value", Label: phrase.Of("reckon.inputs.value"), place: argPlace, Hint: phrase.Of("reckon.inputs.a-bare-number-takes-the-unit-of"), example: "16.04"},
			{Name: "error", Label: phrase.Of("reckon.inputs.error-limit-of-the-instrument"), example: phrase.Of("reckon.inputs.0-05-or-4-or-a-wrench")},
			{Name: "resolution", Label: phrase.Of("reckon.inputs.smallest-step-it-shows"), example: "0.05"},
			{Name: "uncertainty", Label: phrase.Of("reckon.inputs.or-its-expanded-uncertainty"), Hint: phrase.Of("reckon.inputs.expanded-uncertainty-of-the-reading-in-place"), example: "0.005"},
		}},
		{Name: "able", Title: phrase.Of("reckon.inputs.can-this-wrench-prove-a-torque-window"), Inputs: append([]Input{
			{Name: "window", Label: phrase.Of("reckon.inputs.window-of-the-bolt"), place: argPlace, Hint: windowHint, example: "27..29 Nm", check: isWindow},
			{Name: "set", Label: phrase.Of("reckon.inputs.wrench-set-to-n-m"), example: "28"},
			{Name: "error", Label: phrase.Of("reckon.inputs.error-of-the-wrench"), example: "4"},
			{Name: "resolution", Label: phrase.Of("reckon.inputs.step-of-its-scale-n-m"), example: "0.5"},
		}, adapterInputs(true)...)},
		{Name: "adapter", Title: phrase.Of("reckon.inputs.setting-of-a-wrench-with-an-adapter"), Inputs: append(append([]Input{
			{Name: "target", Label: phrase.Of("reckon.inputs.wanted-at-the-bolt-n-m"), Hint: phrase.Of("reckon.inputs.torque-wanted-at-the-bolt-the-setting"), example: "28"},
			{Name: "set", Label: phrase.Of("reckon.inputs.or-wrench-set-to-n-m"), Hint: phrase.Of("reckon.inputs.what-the-wrench-is-set-to-the"), example: "24.5"},
		}, adapterInputs(false)...),
			Input{Name: "window", Label: phrase.Of("reckon.inputs.window-of-the-bolt"), example: "26..30 Nm"})},
		{Name: "preload", Title: phrase.Of("reckon.inputs.torque-and-preload-of-a-bolt"), Inputs: []Input{
			{Name: "thread", Label: phrase.Of("reckon.inputs.thread"), Hint: phrase.Of("reckon.inputs.m-and-the-diameter-x-and-the"), example: "M12x1.5", check: isThread},
			{Name: "class", Label: phrase.Of("reckon.inputs.property-class"), example: "10.9", check: isClass},
			{Name: "friction", Label: phrase.Of("reckon.inputs.friction-between-the-threads"), Hint: phrase.Of("reckon.inputs.a-coefficient"), example: "0.12"},
			{Name: "head-friction", Label: phrase.Of("reckon.inputs.friction-under-the-head"), example: "0.12"},
			{Name: "window", Label: phrase.Of("reckon.inputs.written-torque-to-be-doubted"), Hint: windowHint, example: "90..100 Nm"},
		}},
		{Name: "order", Title: phrase.Of("reckon.inputs.order-of-tightening-on-a-circle"), Inputs: []Input{
			{Name: "fasteners", Label: phrase.Of("reckon.inputs.number-of-fasteners"), place: argPlace, Hint: phrase.Of("reckon.inputs.numbered-clockwise"), example: "6", check: isWhole(phrase.Of("reckon.inputs.the-number-of-fasteners"))},
			{Name: "check", Label: phrase.Of("reckon.inputs.order-to-look-over"), example: "1-4-2-5-3-6"},
		}},
		{Name: "disc", Title: phrase.Of("reckon.inputs.thickness-and-variation-of-a-disc"), Inputs: []Input{
			{Name: "points", Label: phrase.Of("reckon.inputs.thickness-points-mm"), example: "16.42 16.41 16.43 16.44"},
			{Name: "min", Label: phrase.Of("reckon.inputs.smallest-in-service-mm"), example: "16.00"},
			{Name: "refit", Label: phrase.Of("reckon.inputs.smallest-to-go-back-on-mm"), example: "16.50"},
			{Name: "variation", Label: phrase.Of("reckon.inputs.most-variation-mm"), example: "0.015"},
			{Name: "uncertainty", Label: phrase.Of("reckon.inputs.uncertainty-of-a-reading-mm"), example: "0.004"},
			{Name: "resolution", Label: phrase.Of("reckon.inputs.smallest-step-mm"), example: "0.001"},
			{Name: "nominal", Label: phrase.Of("reckon.disc.size-of-a-new-disc"), Hint: phrase.Of("reckon.inputs.the-first-point-is-held-against-it"), example: "18.00 +- 0.10 mm"},
			{Name: "inner", Label: phrase.Of("reckon.inputs.points-near-the-inner-radius-mm"), Hint: phrase.Of("reckon.inputs.for-the-taper-as-many-as-the"), example: "16.40 16.40 16.42 16.43"},
			{Name: "previous", Label: phrase.Of("reckon.inputs.thinnest-at-the-last-visit-mm"), example: "16.60"},
			{Name: "used", Label: phrase.Of("reckon.inputs.the-disc-has-run")},
		}},
		{Name: "runout", Title: phrase.Of("reckon.inputs.run-out-of-a-disc-and-its"), Inputs: []Input{
			{Name: "points", Label: phrase.Of("reckon.inputs.dial-readings-of-one-turn-mm"), Hint: phrase.Of("reckon.inputs.equally-spaced-the-first-at-stud-1"), example: "0 0.02 0.02 -0.01 -0.04 -0.02"},
			{Name: "return", Label: phrase.Of("reckon.inputs.back-at-the-start-mm"), example: "0"},
			{Name: "limit", Label: phrase.Of("reckon.inputs.most-run-out-mm"), example: "0.08"},
			{Name: "return-within", Label: phrase.Of("reckon.inputs.return-may-miss-by-mm"), example: "0.01"},
			{Name: "resolution", Label: phrase.Of("reckon.inputs.smallest-step-mm"), example: "0.01"},
			{Name: "radius", Label: phrase.Of("reckon.inputs.radius-of-the-gauge-mm"), example: "140"},
			{Name: "hub-tir", Label: phrase.Of("reckon.inputs.run-out-of-the-hub-face-mm"), example: "0.03"},
			{Name: "hub-radius", Label: phrase.Of("reckon.inputs.measured-at-radius-mm"), example: "60"},
		}},
		{Name: "index", Title: phrase.Of("reckon.inputs.which-stud-position-cures-a-run-out"), Inputs: []Input{
			{Name: "studs", Label: phrase.Of("reckon.inputs.number-of-studs"), example: "6"},
			{Name: "at", Label: phrase.Of("reckon.inputs.readings-as-it-sits-now-mm"), lead: "0=", Hint: phrase.Of("reckon.inputs.one-turn-equally-spaced-the-first-at"), example: "0 0.02 0.02 -0.01 -0.04 -0.02", List: true, check: isMounting},
			{Name: "at", Label: phrase.Of("reckon.inputs.turned-by-studs-readings-mm"), Hint: phrase.Of("reckon.inputs.how-many-studs-the-disc-was-turned"), example: "2 = 0 0.01 0.01 0.02 0 -0.01", List: true, check: isMounting},
			{Name: "at", Label: phrase.Of("reckon.inputs.and-once-more-turned-readings"), Optional: true, Hint: phrase.Of("reckon.inputs.a-third-mounting-shows-how-well-the"), example: "4 = 0 0.01 0.02 0.02 0 -0.01", List: true, check: isMounting},
			{Name: "screws", Label: phrase.Of("reckon.inputs.disc-screws"), example: "2"},
			{Name: "permitted", Label: phrase.Of("reckon.inputs.or-positions-that-fit"), example: "0,3"},
			{Name: "limit", Label: phrase.Of("reckon.inputs.most-run-out-mm"), example: "0.08"},
		}},
		{Name: "pads", Title: phrase.Of("reckon.inputs.wear-pattern-of-the-pads"), Inputs: []Input{
			{Name: "side", Label: phrase.Of("reckon.inputs.side-facing-forward"), Choices: []string{"left", "right"}, Words: []string{"left", "right"}},
			{Name: "inner", Label: phrase.Of("reckon.inputs.inner-pad-mm"), Hint: phrase.Of("reckon.inputs.leading-then-trailing-end-friction-only"), example: "3.1 3.0"},
			{Name: "outer", Label: phrase.Of("reckon.inputs.outer-pad-mm"), Hint: phrase.Of("reckon.inputs.leading-then-trailing-end-friction-only"), example: "7.4 7.5"},
			{Name: "other-inner", Label: phrase.Of("reckon.inputs.inner-pad-other-side-mm"), Hint: phrase.Of("reckon.inputs.leading-then-trailing-end"), example: "6.2 6.1"},
			{Name: "other-outer", Label: phrase.Of("reckon.inputs.outer-pad-other-side-mm"), Hint: phrase.Of("reckon.inputs.leading-then-trailing-end"), example: "6.4 6.3"},
			{Name: "new", Label: phrase.Of("reckon.inputs.friction-of-a-new-pad-mm"), example: "11.5"},
			{Name: "plate", Label: phrase.Of("reckon.inputs.backing-plate-mm"), example: "5.5"},
			{Name: "over", Label: phrase.Of("reckon.inputs.allowed-above-a-new-pad-mm"), example: "0.3"},
			{Name: "inner-outer", Label: phrase.Of("reckon.inputs.asked-about-inner-to-outer"), example: "2.0"},
			{Name: "taper", Label: phrase.Of("reckon.inputs.asked-about-taper"), example: "1.0"},
			{Name: "sides", Label: phrase.Of("reckon.inputs.asked-about-side-to-side"), example: "1.5"},
		}},
		{Name: "wear", Title: phrase.Of("reckon.inputs.how-far-will-a-part-go-until"), Inputs: []Input{
			{Name: "limit", Label: phrase.Of("reckon.inputs.smallest-thickness-mm"), example: "2.0"},
			{Name: "visits", Label: phrase.Of("reckon.inputs.oldest-visit-km-mm"), place: argPlace, Hint: visitHint, example: "42180 = 11.5", check: isVisit},
			{Name: "visits", Label: phrase.Of("reckon.inputs.next-visit-km-mm"), place: argPlace, Optional: true, Hint: visitHint, example: "61430 = 7.9", check: isVisit},
			{Name: "visits", Label: phrase.Of("reckon.inputs.third-visit-km-mm"), place: argPlace, Optional: true, Hint: visitHint, example: "74020 = 5.8", check: isVisit},
			{Name: "visits", Label: phrase.Of("reckon.inputs.fourth-visit-km-mm"), place: argPlace, Optional: true, Hint: visitHint, example: "80150 = 4.6", check: isVisit},
			{Name: "uncertainty", Label: phrase.Of("reckon.inputs.uncertainty-of-each-mm"), example: "0.2"},
			{Name: "after", Label: phrase.Of("reckon.inputs.expected-after-km"), example: "20000"},
		}},
		{Name: "balance", Title: phrase.Of("reckon.inputs.imbalance-of-an-axle-on-the-roller"), Inputs: append([]Input{
			{Name: "left", Label: phrase.Of("reckon.inputs.left-wheel-kn"), example: "2.10"},
			{Name: "right", Label: phrase.Of("reckon.inputs.right-wheel-kn"), example: "1.65"},
			{Name: "steered", Label: phrase.Of("reckon.inputs.steered-axle")},
			{Name: "locked", Label: phrase.Of("reckon.inputs.the-lower-wheel-locked")},
			{Name: "most", Label: phrase.Of("reckon.inputs.largest-at-a-steady-pedal-kn"), Optional: true, Hint: phrase.Of("reckon.inputs.one-wheel-with-the-smallest"), example: "2.30"},
			{Name: "least", Label: phrase.Of("reckon.inputs.smallest-at-a-steady-pedal-kn"), Optional: true, example: "1.90"},
			{Name: "rolling", Label: phrase.Of("reckon.inputs.rolling-not-braked-kn"), Optional: true, Hint: phrase.Of("reckon.inputs.with-the-mass-on-the-axle"), example: "0.30"},
			{Name: "axle-mass", Label: phrase.Of("reckon.inputs.mass-on-the-axle-kg"), Optional: true, example: "1140"},
		}, ruleInputs()...)},
		{Name: "efficiency", Title: phrase.Of("reckon.inputs.brake-efficiency-from-efforts-and-mass"), Inputs: append([]Input{
			{Name: "forces", Label: phrase.Of("reckon.inputs.efforts-of-all-wheels-kn"), Hint: phrase.Of("reckon.inputs.a-unit-may-stand-behind-each"), example: "2.2 2.2 2.1 2.1"},
			{Name: "mass", Label: phrase.Of("reckon.inputs.mass-kg"), example: "1500"},
			{Name: "required", Label: phrase.Of("reckon.inputs.figure-to-reach"), Hint: phrase.Of("reckon.inputs.in-place-of-the-rule-set"), example: "58"},
			{Name: "locked", Label: phrase.Of("reckon.inputs.wheels-locked"), example: "0"},
			{Name: "system", Label: phrase.Of("reckon.inputs.system"), Choices: []string{"service", "secondary", "parking"}, Words: []string{phrase.Of("reckon.inputs.service-brake"), phrase.Of("reckon.inputs.secondary-brake"), phrase.Of("reckon.inputs.parking-brake")}},
			{Name: "plated", Label: phrase.Of("reckon.inputs.plated-gross-mass-kg"), example: "1950"},
		}, ruleInputs()...)},
		{Name: "fluid", Title: phrase.Of("reckon.inputs.may-this-brake-fluid-go-in"), Inputs: []Input{
			{Name: "required", Label: phrase.Of("reckon.inputs.class-on-the-cap"), example: "DOT 4", check: isFluid},
			{Name: "offered", Label: phrase.Of("reckon.inputs.class-on-the-bottle"), example: "DOT 5.1", check: isFluid},
			{Name: "boiling", Label: phrase.Of("reckon.inputs.boiling-point-measured-c"), example: "168"},
			{Name: "now", Label: phrase.Of("reckon.inputs.renewed-now-below"), Hint: phrase.Of("reckon.inputs.the-limit-is-a-demo-value-unless"), example: "155"},
			{Name: "soon", Label: phrase.Of("reckon.inputs.renewed-soon-below"), Hint: phrase.Of("reckon.inputs.the-limit-is-a-demo-value-unless"), example: "180"},
		}},
		{Name: "vin", Title: phrase.Of("reckon.inputs.vehicle-number-form-and-check-digit"), Inputs: []Input{
			{Name: "number", Label: phrase.Of("reckon.inputs.vehicle-number-vin"), place: argPlace, Hint: phrase.Of("reckon.inputs.17-characters-typed-or-scanned"), example: "1M8GDM9AXKP042788"},
			{Name: "until", Label: phrase.Of("reckon.inputs.last-model-year-looked-at"), Hint: phrase.Of("reckon.inputs.next-year-when-not-given"), example: "2027"},
		}},
		{Name: "convert", Title: phrase.Of("reckon.convert.a-value-in-another-unit"), Inputs: []Input{
			{Name: "value", Label: phrase.Of("reckon.inputs.value-with-its-unit"), place: argPlace, Hint: phrase.Of("reckon.inputs.the-value-carries-its-own-unit"), example: "26 lbfft", check: isValue},
			{Name: "unit", Label: phrase.Of("reckon.inputs.unit-wanted"), place: argPlace, Hint: phrase.Of("reckon.inputs.a-unit-of-the-same-kind"), example: "Nm", check: isUnit},
			{Name: "places", Label: phrase.Of("reckon.inputs.decimals"), Hint: phrase.Of("reckon.inputs.six-significant-digits-when-not-given"), example: "1"},
		}},
		{Name: "conform", Title: phrase.Of("reckon.inputs.how-likely-does-a-measured-item-conform"), Inputs: []Input{
			{Name: "window", Label: phrase.Of("reckon.inputs.window"), place: argPlace, Hint: windowHint, example: ">= 16.00 mm", check: isWindow},
			{Name: "value", Label: phrase.Of("reckon.inputs.value"), place: argPlace, Hint: phrase.Of("reckon.inputs.a-bare-number-takes-the-unit-of"), example: "16.004"},
			{Name: "uncertainty", Label: phrase.Of("reckon.inputs.expanded-uncertainty-k-2"), Hint: phrase.Of("reckon.inputs.in-the-unit-of-the-window"), example: "0.005"},
			{Name: "standard", Label: phrase.Of("reckon.inputs.or-standard-uncertainty-k-1"), Hint: phrase.Of("reckon.inputs.in-place-of-the-expanded-one"), example: "0.0025"},
		}},
		{Name: "regress", Title: phrase.Of("reckon.inputs.a-straight-line-through-points"), Inputs: []Input{
			{Name: "points", Label: phrase.Of("reckon.inputs.points-x-y"), place: argsPlace, List: true, Hint: phrase.Of("reckon.inputs.three-or-more-blanks-between-them"), example: "1=2.1 2=3.9 3=6.2"},
			{Name: "at", Label: phrase.Of("reckon.inputs.read-the-line-at-x"), example: "4"},
			{Name: "confidence", Label: phrase.Of("reckon.inputs.confidence-of-the-lower-bound"), Hint: phrase.Of("reckon.inputs.one-sided"), example: "0.95"},
		}},
	}
}

var (
	windowHint = phrase.Of("reckon.inputs.written-as")
	visitHint  = phrase.Of("reckon.inputs.odometer-and-the-thinnest-point-new-before")
)

func adapterInputs(optional bool) []Input {
	return []Input{
		{Name: "length", Label: phrase.Of("reckon.inputs.drive-to-hand-point-l-mm"), Optional: optional, Hint: phrase.Of("reckon.inputs.from-the-middle-of-the-drive-to"), example: "300"},
		{Name: "adapter", Label: phrase.Of("reckon.inputs.drive-to-bolt-a-mm"), Optional: optional, Hint: phrase.Of("reckon.inputs.from-the-middle-of-the-drive-to-2"), example: "40"},
		{Name: "angle", Label: phrase.Of("reckon.inputs.adapter-to-handle-degrees"), Hint: phrase.Of("reckon.inputs.0-is-straight-ahead-90-square-to"), example: "0"},
	}
}

func ruleInputs() []Input {
	sets := ruleSets()
	return []Input{
		{Name: "rules", Label: phrase.Of("reckon.inputs.rule-set"), Choices: sets, Words: sets},
		{Name: "class", Label: phrase.Of("reckon.inputs.vehicle-class"), Hint: phrase.Of("reckon.inputs.as-the-rule-set-names-it"), example: "M1"},
		{Name: "on", Label: phrase.Of("reckon.inputs.day-of-the-test"), Hint: phrase.Of("reckon.inputs.today-when-not-given"), example: "2026-03-31", check: isDay("on")},
		{Name: "first-used", Label: phrase.Of("reckon.inputs.day-of-first-use"), Hint: phrase.Of("reckon.inputs.the-day-of-the-test-when-not"), example: "2019-05-20", check: isDay("first-used")},
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
