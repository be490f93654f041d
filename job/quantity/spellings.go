package quantity

import (
	"fmt"
	"strings"
	"unicode"

	"bay.example/pawl/job/phrase"
)

// spellings lists, for each unit, what people type for it after tidy: lower
// case, words and factors joined by "·". Torque units are added by
// spellingsOf, because their two factors come joined, apart and swapped.
var spellings = map[Unit][]string{
	Millimetre: {"mm", "millimetre", "millimetres", "millimeter", "millimeters"},
	Micrometre: {"µm", "um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"},
	Centimetre: {"cm", "centimetre", "centimetres", "centimeter", "centimeters"},
	Metre:      {"m", "metre", "metres", "meter", "meters"},
	Inch:       {"in", "inch", "inches", `"`},
	Thou:       {"thou", "mil", "mils"},

	Kilometre: {"km", "kilometre", "kilometres", "kilometer", "kilometers"},
	Mile:      {"mi", "mile", "miles"},

	Degree: {"°", "deg", "degs", "degree", "degrees"},

	Kilonewton:    {"kn", "kilonewton", "kilonewtons"},
	Newton:        {"n", "newton", "newtons"},
	Decanewton:    {"dan", "decanewton", "decanewtons"},
	KilogramForce: {"kgf", "kilogram·force", "kp"},
	PoundForce:    {"lbf", "pound·force"},

	Bar:                              {"bar", "bars"},
	Kilopascal:                       {"kpa", "kilopascal", "kilopascals"},
	Megapascal:                       {"mpa", "megapascal", "megapascals", "n/mm2"},
	PoundPerSquareInch:               {"psi", "lbf/in2", "lb/in2", "pounds·per·square·inch"},
	KilogramForcePerSquareCentimetre: {"kgf/cm2", "kg/cm2", "kp/cm2"},

	Celsius:    {"°c", "c", "deg·c", "degc", "celsius", "degree·celsius", "degrees·celsius"},
	Fahrenheit: {"°f", "f", "deg·f", "degf", "fahrenheit", "degree·fahrenheit", "degrees·fahrenheit"},

	Percent: {"%", "percent", "per·cent", "pct"},

	Millilitre: {"ml", "millilitre", "millilitres", "milliliter", "milliliters"},
	Litre:      {"l", "litre", "litres", "liter", "liters"},

	Kilogram: {"kg", "kgs", "kilogram", "kilograms", "kilo", "kilos"},
	Tonne:    {"t", "tonne", "tonnes"},
	Pound:    {"lb", "lbs", "pound", "pounds"},

	Second: {"s", "sec", "secs", "second", "seconds"},
	Volt:   {"v", "volt", "volts"},

	KilometrePerHour: {"km/h", "kmh", "kph", "km/hr", "km/hour", "kilometres·per·hour", "kilometers·per·hour"},
	MilePerHour:      {"mph", "mi/h", "mile/h", "mile/hour", "miles·per·hour"},

	Count: {"count", "counts"},
}

// The force and length words of a torque unit. "kg" and "lb" stand for the
// force here, as on most wrench scales.
var (
	newtonWords   = []string{"n", "newton", "newtons"}
	poundWords    = []string{"lbf", "lb", "lbs", "pound", "pounds", "pound·force"}
	kilogramWords = []string{"kgf", "kg", "kp", "kilogram·force"}
	metreWords    = []string{"m", "metre", "metres", "meter", "meters"}
	centiWords    = []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}
	footWords     = []string{"ft", "foot", "feet"}
	inchWords     = []string{"in", "inch", "inches"}
)

var unitBySpelling = func() map[string]Unit {
	bySpelling := map[string]Unit{}
	add := func(u Unit, spelling string) {
		if other, taken := bySpelling[spelling]; taken && other != u {
			panic(fmt.Sprintf("quantity: %q spells both %s and %s", spelling, other, u))
		}
		bySpelling[spelling] = u
	}
	for u, list := range spellings {
		for _, spelling := range list {
			add(u, spelling)
		}
	}
	pairs := func(u Unit, forces, lengths []string, swapped bool) {
		for _, force := range forces {
			for _, length := range lengths {
				add(u, force+"·"+length)
				add(u, force+length)
				if swapped {
					add(u, length+"·"+force)
					add(u, length+force)
				}
			}
		}
	}
	// "mN" would be a millinewton, so the newton metre is never swapped.
	pairs(NewtonMetre, newtonWords, metreWords, false)
	pairs(PoundFoot, poundWords, footWords, true)
	pairs(PoundInch, poundWords, inchWords, true)
	pairs(KilogramForceMetre, kilogramWords, metreWords, true)
	pairs(KilogramForceCentimetre, kilogramWords, centiWords, true)
	return bySpelling
}()

// tidy brings a spelling to the form of the table: lower case, one kind of
// micro, degree and inch mark, no superscripts, every joiner a single "·".
func tidy(text string) string {
	text = strings.TrimSuffix(strings.TrimSpace(text), ".")
	var b strings.Builder
	joined := false
	for _, r := range strings.ToLower(text) {
		switch r {
		case '·', '⋅', '∙', '•', '*', '×', '.', '-', '\u2010', '\u2011', '–', '_':
			joined = true
			continue
		case 'μ':
			r = 'µ'
		case 'º', '˚':
			r = '°'
		case '″', '”', '“':
			r = '"'
		case '²':
			r = '2'
		}
		if unicode.IsSpace(r) {
			joined = true
			continue
		}
		if joined {
			b.WriteRune('·')
			joined = false
		}
		b.WriteRune(r)
	}
	return strings.NewReplacer("·/·", "/", "·/", "/", "/·", "/", "°·", "°", "℃", "°c", "℉", "°f").Replace(b.String())
}

// ParseUnit reads a unit in any of its usual spellings, in upper or lower
// case: N·m, Nm, N*m, N m; ft·lb, lbf-ft, ftlb; um, micron; in, inch, "; deg, °;
// °C, C; km/h. An unknown or empty spelling is an error.
func ParseUnit(text string) (Unit, error) {
	spelling := tidy(text)
	if spelling == "" {
		return "", phrase.Error("quantity.spellings.no-unit-was-given-add-one-for")
	}
	u, ok := unitBySpelling[spelling]
	if !ok {
		return "", phrase.Error("quantity.spellings.is-not-a-unit-known-here-use", quote(strings.TrimSpace(text)))
	}
	return u, nil
}
