package command

import (
	"fmt"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

func (p *Program) newCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "new",
		Short: phrase.Of("command.new.write-a-commented-procedure-or-sheet-to"),
		Long:  phrase.Of("command.new.writes-a-commented-file-to-standard-output"),
		Args:  cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return misused("%s", phrase.Of("command.new.new-what-procedure-id-or-sheet-id", c.CommandPath(), c.CommandPath()))
		},
	}
	one := func(c *cobra.Command, args []string) error {
		if len(args) != 1 {
			return misused("%s", phrase.Of("command.new.takes-one-id-lower-case-letters-digits", c.CommandPath()))
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
	var forProcedures []string
	sheet := &cobra.Command{
		Use:   "sheet ID",
		Short: phrase.Of("command.new.a-spec-sheet-with-one-figure-of"),
		Long:  phrase.Of("command.new.a-commented-spec-sheet-with-for-it"),
		Args:  one,
		RunE: func(_ *cobra.Command, args []string) error {
			prs, err := proceduresNamed(forProcedures)
			if err != nil {
				return err
			}
			if len(forProcedures) > 0 && len(prs) == 0 {
				return misused("%s", phrase.Of("command.new.for-names-no-procedure"))
			}
			return write(procedures.NewSheet(args[0], prs...))
		},
	}
	sheet.Flags().StringArrayVar(&forProcedures, "for", nil, phrase.Of("command.new.a-procedure-file-or-the-id-of"))
	c.AddCommand(&cobra.Command{
		Use:   "procedure ID",
		Short: phrase.Of("command.new.a-procedure-with-stages-of-its-own"),
		Args:  one,
		RunE:  func(_ *cobra.Command, args []string) error { return write(procedures.NewProcedure(args[0])) },
	}, sheet)
	return c
}
