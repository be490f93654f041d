package command

import (
	"fmt"

	"github.com/spf13/cobra"

	"bay.example/pawl/procedures"
)

func (p *Program) newCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "new",
		Short: "Write a commented procedure or sheet to begin with",
		Long: `Writes a commented file to standard output that passes pawl check as it is. Put it
into a file, change it, and check it again after every step.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return misused("new what? %s procedure ID or %s sheet ID", c.CommandPath(), c.CommandPath())
		},
	}
	one := func(c *cobra.Command, args []string) error {
		if len(args) != 1 {
			return misused("%s takes one id: lower-case letters, digits and single hyphens", c.CommandPath())
		}
		return nil
	}
	write := func(data []byte, err error) error {
		if err != nil {
			return misuse{err}
		}
		_, err = fmt.Fprint(p.Out, string(data))
		return err
	}
	forProcedure := ""
	sheet := &cobra.Command{
		Use:   "sheet ID",
		Short: "A spec sheet with one figure of every kind",
		Long: `A commented spec sheet. With --for it ends with a list of every trait, window, group,
count and part that a procedure asks for.`,
		Args: one,
		RunE: func(_ *cobra.Command, args []string) error {
			var pr *procedures.Procedure
			if forProcedure != "" {
				var err error
				if pr, err = procedureNamed(forProcedure); err != nil {
					return err
				}
			}
			return write(procedures.NewSheet(args[0], pr))
		},
	}
	sheet.Flags().StringVar(&forProcedure, "for", "", "a procedure file, or the id of a shipped procedure")
	c.AddCommand(&cobra.Command{
		Use:   "procedure ID",
		Short: "A procedure with stages of its own and included blocks",
		Args:  one,
		RunE:  func(_ *cobra.Command, args []string) error { return write(procedures.NewProcedure(args[0])) },
	}, sheet)
	return c
}
