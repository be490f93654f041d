package command

import (
	"io"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

func (p *Program) showCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "show JOB",
		Short: phrase.Of("command.show.the-whole-record-of-a-job"),
		Long:  phrase.Of("command.show.the-whole-record-of-a-job-readable"),
		Args:  exactArgs(1, phrase.Of("command.print.the-number-of-a-job")),
	}
	as := formFlag(c)
	c.RunE = func(_ *cobra.Command, args []string) error {
		n, err := jobNumber(args[0])
		if err != nil {
			return err
		}
		return p.with(func(f *store.File) error {
			card, err := f.Load(n)
			if err != nil {
				return err
			}
			status, err := statusOf(f, n)
			if err != nil {
				return err
			}
			if *as == formJSON {
				return writeJSON(p.Out, cardObject(card, status))
			}
			_, err = io.WriteString(p.Out, cardText(card, status))
			return err
		})
	}
	return c
}

// statusOf is where a job stands as a whole, in words.
func statusOf(f *store.File, number uint64) (string, error) {
	jobs, err := f.Jobs()
	if err != nil {
		return "", err
	}
	for _, j := range jobs {
		if j.Number == number {
			return string(j.Status), nil
		}
	}
	return "", phrase.Error("command.show.job", number, store.ErrNoJob)
}
