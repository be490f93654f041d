package command

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

func (p *Program) checkCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "check FILE…",
		Short: phrase.Of("command.check.prove-procedure-and-sheet-files-sound"),
		Long:  phrase.Of("command.check.reads-procedure-and-spec-sheet-files-and"),
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return misused("%s", phrase.Of("command.check.takes-one-or-more-procedure-or-sheet", c.CommandPath()))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return p.check(args) },
	}
}

func (p *Program) check(files []string) error {
	var ps []*procedures.Procedure
	var ss []*procedures.Sheet
	failed := false
	report := func(err error) {
		failed = true
		fmt.Fprintln(p.Err, err)
	}
	read := map[string][]byte{}
	for _, name := range files {
		data, err := readProcedureFile(name)
		if err != nil {
			report(phrase.Error("command.check.cannot-be-read", name, withoutPath(err)))
			continue
		}
		read[name] = data
	}
	blocks := procedures.OwnBlocks(read) // blocks given with the files go before those shipped
	for _, name := range files {
		data, ok := read[name]
		if !ok {
			continue
		}
		if procedures.IsBlock(data) {
			b, err := procedures.LoadBlock(name, data)
			if err != nil {
				report(err)
				continue
			}
			fmt.Fprintln(p.Out, phrase.Of("command.check.block-stages-proved-where-a-procedure-includes", name, b.ID, len(b.Stages)))
			continue
		}
		if procedures.IsSheet(data) {
			s, err := procedures.LoadSheet(name, data)
			if err == nil {
				err = s.Check()
			}
			if err != nil {
				report(err)
				continue
			}
			ss = append(ss, s)
			fmt.Fprintln(p.Out, phrase.Of("command.check.sheet-revision-windows-groups-of-fasteners", name, s.ID, s.Revision, len(s.Windows), len(s.Groups), len(s.Counts), len(s.Parts)))
			continue
		}
		pr, err := procedures.LoadProcedureWith(name, data, blocks)
		if err != nil {
			report(err)
			continue
		}
		proved, err := pr.Check()
		if err != nil {
			report(err)
			continue
		}
		ps = append(ps, pr)
		fmt.Fprintf(p.Out, "%s: %s\n", name, proved)
	}
	for _, pr := range ps {
		for _, s := range ss {
			if !s.ServesProcedure(pr.ID) {
				continue
			}
			if err := procedures.CheckPair(pr, s); err != nil {
				report(err)
				continue
			}
			fmt.Fprintln(p.Out, phrase.Of("command.check.serves-every-trait-window-group-count-and", s.ID, pr.ID))
			doubts, err := procedures.Doubts(pr, s)
			if err != nil {
				report(err)
			}
			for _, d := range doubts {
				fmt.Fprintln(p.Err, phrase.Of("command.check.warning", d.String()))
			}
		}
	}
	if failed {
		return errAnswered
	}
	return nil
}

// withoutPath drops the path from an error of the file system; it has been named already.
func withoutPath(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
