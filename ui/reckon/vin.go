package reckon

import (
	"fmt"
	"time"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
)

func vinQuestion(now func() time.Time) *Question {
	var until int
	c := &Question{
		Use:     "vin NUMBER",
		Short:   phrase.Of("reckon.vin.a-vehicle-identification-number-form-check"),
		Example: "  pawl reckon vin 1M8GDM9AXKP042788",
		Long:    phrase.Of("reckon.vin.a-vehicle-identification-number-of-17"),
		Args:    exactly(1, phrase.Of("reckon.vin.one-number")),
	}
	c.Flags().IntVar(&until, "until", 0, phrase.Of("reckon.vin.last-model-year-looked-at-next-year"))
	return c.answers(func(args []string) (Answer, error) {
		if until == 0 {
			until = now().Year() + 1
		}
		return vin(args[0], until)
	})
}

func vin(text string, until int) (Answer, error) {
	a := Answer{Source: []string{phrase.Of("reckon.vin.iso-3779-for-the-form-49-cfr")}}
	a.Given.add("number", phrase.Of("reckon.vin.number"), text)
	slips := Grid{Keys: []string{"cause", "meant"}, Titles: []string{phrase.Of("reckon.vin.cause"), phrase.Of("reckon.vin.meant")}}
	for _, s := range brakes.KeyboardSlips(text) {
		slips.Lines = append(slips.Lines, []any{s.Cause, string(s.Meant)})
	}
	v, err := brakes.ParseVehicleNumber(text)
	if err != nil {
		if len(slips.Lines) == 0 {
			return Answer{}, err
		}
		a.Result.add("number", phrase.Of("reckon.vin.number"), "")
		a.Result.add("why", phrase.Of("reckon.vin.because"), err.Error())
		a.Say = append(a.Say, err.Error())
	} else {
		c, err := v.CheckDigit()
		if err != nil {
			return Answer{}, err
		}
		a.Result.add("number", phrase.Of("reckon.vin.number"), string(v))
		a.Result.add("sum", phrase.Of("reckon.vin.weighted-sum"), c.Sum)
		a.Result.add("computed", phrase.Of("reckon.vin.check-digit-computed"), string(c.Computed))
		a.Result.add("printed", phrase.Of("reckon.vin.position-9-reads"), string(c.Printed))
		a.Result.add("fits", phrase.Of("reckon.vin.fits"), c.Fits())
		a.Result.add("binding", phrase.Of("reckon.vin.check-digit-binds-here"), c.Binding)
		a.Result.add("years", phrase.Of("reckon.vin.model-year-may-be"), years(v.ModelYears(until)))
		text := c.Text
		if text == "" {
			text = phrase.Of("reckon.vin.the-check-digit-fits-it-proves-little")
		}
		a.Say = append(a.Say, text)
	}
	for _, line := range slips.Lines {
		a.Say = append(a.Say, phrase.Of("reckon.vin.was-meant-set-the-scanner-right-and", Words(line[0]), line[1]))
	}
	if len(slips.Lines) > 0 {
		a.Result.add("slips", phrase.Of("reckon.vin.scanner-slips"), slips)
	} else {
		a.Result.add("slips", phrase.Of("reckon.vin.scanner-slips"), []string{})
	}
	return a, nil
}

// years is a list of years: numbers in JSON, words in text.
type years []int

// String lists the years.
func (y years) String() string {
	s := ""
	for i, n := range y {
		if i > 0 {
			s += phrase.Of("reckon.vin.or")
		}
		s += fmt.Sprint(n)
	}
	if s == "" {
		return phrase.Of("reckon.vin.no-code")
	}
	return s
}
