package reckon

import (
	"fmt"
	"time"

	"bay.example/pawl/job/brakes"
)

func vinQuestion(now func() time.Time) *Question {
	var until int
	c := &Question{
		Use:     "vin NUMBER",
		Short:   "A vehicle identification number: form, check digit, model year, scanner slips",
		Example: "  pawl reckon vin 1M8GDM9AXKP042788",
		Long: `A vehicle identification number of 17 characters. The check digit binds where the
number begins with 1 to 5; elsewhere position 9 may be a filler and a mismatch is
a warning. A scanner on the wrong keyboard layout is recognised; the scan is then
repeated.

Result: number, null when it is none; why; sum, computed, printed, fits, binding;
years, the model years position 10 may mean; slips, each with cause and meant.`,
		Args: exactly(1, "one number"),
	}
	c.Flags().IntVar(&until, "until", 0, "last model year looked at; next year when not given")
	return c.answers(func(args []string) (Answer, error) {
		if until == 0 {
			until = now().Year() + 1
		}
		return vin(args[0], until)
	})
}

func vin(text string, until int) (Answer, error) {
	a := Answer{Source: []string{"ISO 3779 for the form, 49 CFR 565.15 tables III and IV for the check digit; the year from the table of 49 CFR 565"}}
	a.Given.add("number", "Number", text)
	slips := Grid{Keys: []string{"cause", "meant"}, Titles: []string{"Cause", "Meant"}}
	for _, s := range brakes.KeyboardSlips(text) {
		slips.Lines = append(slips.Lines, []any{s.Cause, string(s.Meant)})
	}
	v, err := brakes.ParseVehicleNumber(text)
	if err != nil {
		if len(slips.Lines) == 0 {
			return Answer{}, err
		}
		a.Result.add("number", "Number", "")
		a.Result.add("why", "Because", err.Error())
		a.Say = append(a.Say, err.Error())
	} else {
		c, err := v.CheckDigit()
		if err != nil {
			return Answer{}, err
		}
		a.Result.add("number", "Number", string(v))
		a.Result.add("sum", "Weighted sum", c.Sum)
		a.Result.add("computed", "Check digit computed", string(c.Computed))
		a.Result.add("printed", "Position 9 reads", string(c.Printed))
		a.Result.add("fits", "Fits", c.Fits())
		a.Result.add("binding", "Check digit binds here", c.Binding)
		a.Result.add("years", "Model year may be", years(v.ModelYears(until)))
		text := c.Text
		if text == "" {
			text = "The check digit fits; it proves little, for exchanged characters of equal value fit too"
		}
		a.Say = append(a.Say, text)
	}
	for _, line := range slips.Lines {
		a.Say = append(a.Say, fmt.Sprintf("%s: %s was meant? Set the scanner right and scan again", Words(line[0]), line[1]))
	}
	if len(slips.Lines) > 0 {
		a.Result.add("slips", "Scanner slips", slips)
	} else {
		a.Result.add("slips", "Scanner slips", []string{})
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
			s += " or "
		}
		s += fmt.Sprint(n)
	}
	if s == "" {
		return "no code"
	}
	return s
}
