package reckon

import (
	"fmt"
	"math/big"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

var sourceUnits = phrase.Of("reckon.convert.exact-definitions-of-inch-pound-and-standard")

func convertQuestion() *Question {
	var places int
	c := &Question{
		Use:     "convert VALUE UNIT",
		Short:   phrase.Of("reckon.convert.a-value-in-another-unit"),
		Example: "  pawl reckon convert '26 lbf·ft' N·m\n  pawl reckon convert 61430mi km --places 0",
		Long:    phrase.Of("reckon.convert.a-value-in-another-unit-the-value"),
		Args: func(path string, args []string) error {
			if len(args) != 2 && len(args) != 3 {
				return wrong("value", "%s", phrase.Of("reckon.convert.takes-a-value-with-its-unit-and", path))
			}
			return nil
		},
	}
	c.Flags().IntVar(&places, "places", -1, phrase.Of("reckon.convert.decimals-of-the-rounded-value-six-significant"))
	return c.answers(func(args []string) (Answer, error) {
		if len(args) == 3 {
			args = []string{args[0] + " " + args[1], args[2]}
		}
		return convert(args[0], args[1], places)
	})
}

func convert(value, unit string, places int) (Answer, error) {
	q, err := quantity.Parse(value, "")
	if err != nil {
		return Answer{}, wrong("value", "%w", err)
	}
	to, err := quantity.ParseUnit(unit)
	if err != nil {
		return Answer{}, wrong("unit", "%w", err)
	}
	r, err := q.In(to)
	if err != nil {
		return Answer{}, wrong("unit", "%w", err)
	}
	if places < 0 {
		places = significant(r, 6)
	}
	if places > 20 {
		return Answer{}, wrong("places", "%s", phrase.Of("reckon.convert.decimals-at-most-20-are-shown", places))
	}
	shown := quantity.FromRat(r, to, places)
	a := Answer{Source: []string{sourceUnits}}
	a.Given.add("value", phrase.Of("reckon.convert.value"), q)
	a.Given.add("unit", phrase.Of("reckon.convert.wanted-in"), string(to))
	a.Result.add("value", phrase.Of("reckon.convert.rounded"), shown)
	a.Result.add("exact", phrase.Of("reckon.convert.exact"), exact(r))
	relation := phrase.Of("reckon.convert.is-about")
	if shown.Rat().Cmp(r) == 0 {
		relation = phrase.Of("reckon.convert.is-exactly")
	}
	a.Say = []string{fmt.Sprintf("%s %s %s", q, relation, shown)}
	return a, nil
}

// significant is how many decimals show that many significant digits, none superfluous.
func significant(r *big.Rat, digits int) int {
	x := new(big.Rat).Abs(r)
	ten := big.NewRat(10, 1)
	places := digits - 1
	for n := 0; x.Cmp(ten) >= 0 && places > 0 && n < 40; n++ {
		x.Quo(x, ten)
		places--
	}
	for n := 0; x.Sign() > 0 && x.Cmp(big.NewRat(1, 1)) < 0 && places < 20; n++ {
		x.Mul(x, ten)
		places++
	}
	if exactly, ends := r.FloatPrec(); ends && exactly < places {
		return exactly
	}
	return places
}
