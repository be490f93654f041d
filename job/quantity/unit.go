package quantity

import (
	"math/big"

	"bay.example/pawl/job/phrase"
)

// Dimension is the kind of thing a unit measures. Only units of one dimension
// convert into each other.
type Dimension string

// The dimensions. Distance is the distance driven, apart from Length so that a
// thickness in mm never passes for an odometer reading.
const (
	Torque      Dimension = "torque"
	Length      Dimension = "length"
	Distance    Dimension = "distance"
	Angle       Dimension = "angle"
	Force       Dimension = "force"
	Pressure    Dimension = "pressure"
	Temperature Dimension = "temperature"
	Ratio       Dimension = "ratio"
	Volume      Dimension = "volume"
	Mass        Dimension = "mass"
	Time        Dimension = "time"
	Voltage     Dimension = "voltage"
	Speed       Dimension = "speed"
	Number      Dimension = "number"
)

// article returns the dimension with its article, for use in a sentence.
func (d Dimension) article() string {
	if d == Angle {
		return phrase.Of("quantity.unit.an", string(d))
	}
	return "a " + string(d)
}

// Unit is the canonical symbol of a unit; the zero value means no unit.
type Unit string

// The units, by canonical symbol.
const (
	NewtonMetre             Unit = "N·m"
	PoundFoot               Unit = "lbf·ft"
	PoundInch               Unit = "lbf·in"
	KilogramForceMetre      Unit = "kgf·m"
	KilogramForceCentimetre Unit = "kgf·cm"

	Millimetre Unit = "mm"
	Micrometre Unit = "µm"
	Centimetre Unit = "cm"
	Metre      Unit = "m"
	Inch       Unit = "in"
	Thou       Unit = "thou"

	Kilometre Unit = "km"
	Mile      Unit = "mi"

	Degree Unit = "°"

	Kilonewton    Unit = "kN"
	Newton        Unit = "N"
	Decanewton    Unit = "daN"
	KilogramForce Unit = "kgf"
	PoundForce    Unit = "lbf"

	Bar                              Unit = "bar"
	Kilopascal                       Unit = "kPa"
	Megapascal                       Unit = "MPa"
	PoundPerSquareInch               Unit = "psi"
	KilogramForcePerSquareCentimetre Unit = "kgf/cm²"

	Celsius    Unit = "°C"
	Fahrenheit Unit = "°F"

	Percent Unit = "%"

	Millilitre Unit = "ml"
	Litre      Unit = "l"

	Kilogram Unit = "kg"
	Tonne    Unit = "t"
	Pound    Unit = "lb"

	Second Unit = "s"
	Volt   Unit = "V"

	KilometrePerHour Unit = "km/h"
	MilePerHour      Unit = "mph"

	// Count is the unit of a bare count of things.
	Count Unit = "count"
)

// definition says how a unit relates to the base unit of its dimension:
// base = (value + offset) × factor, with exact rationals.
type definition struct {
	unit      Unit
	dimension Dimension
	factor    *big.Rat
	offset    *big.Rat // nil for every unit whose zero is the base unit's zero
}

// The exact definitions behind the factors: inch 25.4 mm, foot 0.3048 m, pound
// 0.45359237 kg, standard gravity 9.80665 m/s², mile 1.609344 km (NIST SP 811,
// Appendix B).
const (
	inchInMetres  = "0.0254"
	footInMetres  = "0.3048"
	poundInKilos  = "0.45359237"
	gravity       = "9.80665"
	mileInKilos   = "1.609344"
	oneHundredth  = "0.01"
	oneThousandth = "0.001"
	oneMillionth  = "0.000001"
)

var definitions = []definition{
	{NewtonMetre, Torque, product("1"), nil},
	{PoundFoot, Torque, product(footInMetres, poundInKilos, gravity), nil},
	{PoundInch, Torque, product(inchInMetres, poundInKilos, gravity), nil},
	{KilogramForceMetre, Torque, product(gravity), nil},
	{KilogramForceCentimetre, Torque, product(gravity, oneHundredth), nil},

	{Millimetre, Length, product(oneThousandth), nil},
	{Micrometre, Length, product(oneMillionth), nil},
	{Centimetre, Length, product(oneHundredth), nil},
	{Metre, Length, product("1"), nil},
	{Inch, Length, product(inchInMetres), nil},
	{Thou, Length, product(inchInMetres, oneThousandth), nil},

	{Kilometre, Distance, product("1"), nil},
	{Mile, Distance, product(mileInKilos), nil},

	{Degree, Angle, product("1"), nil},

	{Kilonewton, Force, product("1000"), nil},
	{Newton, Force, product("1"), nil},
	{Decanewton, Force, product("10"), nil},
	{KilogramForce, Force, product(gravity), nil},
	{PoundForce, Force, product(poundInKilos, gravity), nil},

	{Bar, Pressure, product("100000"), nil},
	{Kilopascal, Pressure, product("1000"), nil},
	{Megapascal, Pressure, product("1000000"), nil},
	{PoundPerSquareInch, Pressure, quotient(product(poundInKilos, gravity), product(inchInMetres, inchInMetres)), nil},
	{KilogramForcePerSquareCentimetre, Pressure, product(gravity, "10000"), nil},

	{Celsius, Temperature, product("1"), nil},
	{Fahrenheit, Temperature, quotient(product("5"), product("9")), product("-32")},

	{Percent, Ratio, product(oneHundredth), nil},

	{Millilitre, Volume, product(oneThousandth), nil},
	{Litre, Volume, product("1"), nil},

	{Kilogram, Mass, product("1"), nil},
	{Tonne, Mass, product("1000"), nil},
	{Pound, Mass, product(poundInKilos), nil},

	{Second, Time, product("1"), nil},
	{Volt, Voltage, product("1"), nil},

	{KilometrePerHour, Speed, product("1"), nil},
	{MilePerHour, Speed, product(mileInKilos), nil},

	{Count, Number, product("1"), nil},
}

var definitionOf = func() map[Unit]definition {
	byUnit := make(map[Unit]definition, len(definitions))
	for _, d := range definitions {
		byUnit[d.unit] = d
	}
	return byUnit
}()

// product multiplies decimals exactly; the arguments are constants of this file.
func product(decimals ...string) *big.Rat {
	result := big.NewRat(1, 1)
	for _, decimal := range decimals {
		factor, ok := new(big.Rat).SetString(decimal)
		if !ok {
			panic(phrase.Of("quantity.unit.quantity-bad-constant") + decimal)
		}
		result.Mul(result, factor)
	}
	return result
}

func quotient(above, below *big.Rat) *big.Rat {
	return new(big.Rat).Quo(above, below)
}

// Units returns every unit, grouped by dimension, always in the same order.
func Units() []Unit {
	units := make([]Unit, len(definitions))
	for i, d := range definitions {
		units[i] = d.unit
	}
	return units
}

// Dimension returns what the unit measures, or "" for an unknown unit.
func (u Unit) Dimension() Dimension { return definitionOf[u].dimension }

// Same reports whether both units are known and measure the same dimension.
func (u Unit) Same(v Unit) bool {
	d := u.Dimension()
	return d != "" && d == v.Dimension()
}

// toBase turns a value in the unit into the base unit, in place.
func (d definition) toBase(value *big.Rat) *big.Rat {
	if d.offset != nil {
		value.Add(value, d.offset)
	}
	return value.Mul(value, d.factor)
}

// fromBase turns a value in the base unit into the unit, in place.
func (d definition) fromBase(value *big.Rat) *big.Rat {
	value.Quo(value, d.factor)
	if d.offset != nil {
		value.Sub(value, d.offset)
	}
	return value
}
