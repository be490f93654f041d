package command

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/ui/reckon"
)

func (p *Program) reckonCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "reckon",
		Short: "The bench calculators: one question, one answer with its source",
		Long: `The bench calculators. Each answers one question with plain sentences and a
table, or with --as json in a stable form, and names the source of its formula.

Values are decimals with a point or a comma, with or without their unit; limits
are compared in exact arithmetic. Lists are parted by commas, or by blanks in
quotes. A window is written "108..132 N·m", "120 ± 12 N·m", "120 N·m ± 10 %",
">= 16.00 mm" or "<= 0.05 mm"; limits are inclusive.

The JSON has the members format (` + fmt.Sprint(reckonFormat) + `), reckon, given, result, say and source.
A quantity is {"number": "26.5", "unit": "N·m"}, its number a string of the exact
decimal; what was not given or does not exist is null.

An answer is no refusal: the exit code is 0 whatever the verdict says, and 2 when
the question was not understood.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return misused("reckon what? %s --help lists the calculators", c.CommandPath())
		},
	}
	for _, q := range reckon.Questions(p.Now) {
		c.AddCommand(p.questionCommand(q))
	}
	return c
}

// questionCommand puts a calculator on the command line. Whatever it cannot work with is a mistake
// in the question.
func (p *Program) questionCommand(q *reckon.Question) *cobra.Command {
	c := &cobra.Command{Use: q.Use, Short: q.Short, Long: q.Long, Example: q.Example,
		Args: func(c *cobra.Command, args []string) error {
			if q.Args == nil {
				return cobra.NoArgs(c, args)
			}
			if err := q.Args(c.CommandPath(), args); err != nil {
				return misuse{err}
			}
			return nil
		}}
	c.Flags().AddFlagSet(q.Flags())
	as := formFlag(c)
	needed(c, q.Needed...)
	c.RunE = func(_ *cobra.Command, args []string) error {
		a, err := q.Ask(args)
		if err != nil {
			return misuse{err}
		}
		return writeAnswer(p.Out, a, *as == formJSON)
	}
	return c
}

// exactArgs wants n arguments and says which.
func exactArgs(n int, which string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) != n {
			return misused("%s takes %s; %d given", c.CommandPath(), which, len(args))
		}
		return nil
	}
}

// needed refuses the command without these flags.
func needed(c *cobra.Command, names ...string) {
	c.PreRunE = func(c *cobra.Command, _ []string) error {
		for _, name := range names {
			if !c.Flags().Changed(name) {
				return misused("%s needs --%s; %s --help says more", c.CommandPath(), name, c.CommandPath())
			}
		}
		return nil
	}
}

// negative is an argument that is a number with a minus sign and not a flag.
var negative = regexp.MustCompile(`^-[0-9.,]`)

// guardNegatives writes the minus sign of numbers as U+2212, which every reader of numbers here
// takes and no flag begins with.
func guardNegatives(args []string) []string {
	out := make([]string, len(args))
	for i, a := range args {
		if negative.MatchString(a) {
			a = "−" + strings.TrimPrefix(a, "-")
		}
		out[i] = a
	}
	return out
}
