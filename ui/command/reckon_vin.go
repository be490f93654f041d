package command

import (
	"fmt"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/brakes"
)

func (p *Program) vinCommand() *cobra.Command {
	var until int
	c := &cobra.Command{
		Use:     "vin NUMBER",
		Short:   "A vehicle identification number: form, check digit, model year, scanner slips",
		Example: "  pawl reckon vin 1M8GDM9AXKP042788",
		Long: `A vehicle identification number of 17 characters. The check digit binds where the
number begins with 1 to 5; elsewhere position 9 may be a filler and a mismatch is
a warning. A scanner on the wrong keyboard layout is recognised; the scan is then
repeated.

Result: number, null when it is none; why; sum, computed, printed, fits, binding;
years, the model years position 10 may mean; slips, each with cause and meant.`,
		Args: exactArgs(1, "one number"),
	}
	c.Flags().IntVar(&until, "until", 0, "last model year looked at; next year when not given")
	return p.reckon(c, func(args []string) (answer, error) {
		if until == 0 {
			until = p.Now().Year() + 1
		}
		return vin(args[0], until)
	})
}

func vin(text string, until int) (answer, error) {
	a := answer{source: []string{"ISO 3779 for the form, 49 CFR 565.15 tables III and IV for the check digit; the year from the table of 49 CFR 565"}}
	a.given.add("number", "Number", text)
	slips := grid{keys: []string{"cause", "meant"}, titles: []string{"Cause", "Meant"}}
	for _, s := range brakes.KeyboardSlips(text) {
		slips.lines = append(slips.lines, []any{s.Cause, string(s.Meant)})
	}
	v, err := brakes.ParseVehicleNumber(text)
	if err != nil {
		if len(slips.lines) == 0 {
			return answer{}, err
		}
		a.result.add("number", "Number", "")
		a.result.add("why", "Because", err.Error())
		a.say = append(a.say, err.Error())
	} else {
		c, err := v.CheckDigit()
		if err != nil {
			return answer{}, err
		}
		a.result.add("number", "Number", string(v))
		a.result.add("sum", "Weighted sum", c.Sum)
		a.result.add("computed", "Check digit computed", string(c.Computed))
		a.result.add("printed", "Position 9 reads", string(c.Printed))
		a.result.add("fits", "Fits", c.Fits())
		a.result.add("binding", "Check digit binds here", c.Binding)
		a.result.add("years", "Model year may be", years(v.ModelYears(until)))
		text := c.Text
		if text == "" {
			text = "The check digit fits; it proves little, for exchanged characters of equal value fit too"
		}
		a.say = append(a.say, text)
	}
	for _, line := range slips.lines {
		a.say = append(a.say, fmt.Sprintf("%s: %s was meant? Set the scanner right and scan again", words(line[0]), line[1]))
	}
	if len(slips.lines) > 0 {
		a.result.add("slips", "Scanner slips", slips)
	} else {
		a.result.add("slips", "Scanner slips", []string{})
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
