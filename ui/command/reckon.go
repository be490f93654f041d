package command

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/reckon"
)

func (p *Program) reckonCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "reckon",
		Short: phrase.Of("command.reckon.the-bench-calculators-one-question-one-answer"),
		Long:  phrase.Of("command.reckon.the-bench-calculators-each-answers-one-question", fmt.Sprint(reckonFormat)),
		Args:  cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return misused("%s", phrase.Of("command.reckon.reckon-what-help-lists-the-calculators", c.CommandPath()))
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
			return misused("%s", phrase.Of("command.reckon.takes-given", c.CommandPath(), which, len(args)))
		}
		return nil
	}
}

// needed refuses the command without these flags.
func needed(c *cobra.Command, names ...string) {
	c.PreRunE = func(c *cobra.Command, _ []string) error {
		for _, name := range names {
			if !c.Flags().Changed(name) {
				return misused("%s", phrase.Of("command.reckon.needs-help-says-more", c.CommandPath(), name, c.CommandPath()))
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
