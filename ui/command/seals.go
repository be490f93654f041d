package command

import (
	"encoding/base64"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"bay.example/pawl/store"
)

func (p *Program) sealsCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "seals",
		Short: "Write a checkpoint of the log of seals, to be kept elsewhere",
		Long: `Writes three lines: whose log it is, how many seals it has and its root. Add them
to a file on another machine, a stick or a sheet of paper (pawl seals >> FILE);
pawl verify --against FILE proves later that the file only grew.`,
		Args: exactArgs(0, "no arguments"),
	}
	as := formFlag(c)
	c.RunE = func(*cobra.Command, []string) error {
		return p.with(func(f *store.File) error {
			now, err := f.Checkpoint()
			if err != nil {
				return err
			}
			if *as == formJSON {
				return writeJSON(p.Out, object{{"format", verifyFormat}, {"workshop", stamp(now.Workshop)}, {"seals", now.Seals}, {"root", base64.StdEncoding.EncodeToString(now.Root[:])}})
			}
			_, err = io.WriteString(p.Out, now.String())
			return err
		})
	}
	return c
}

func (p *Program) rebuildCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "rebuild",
		Short: "Work out anew what is derived from the events",
		Long: `Reads every job and writes the list of jobs, what jobs are found by, the counts of
pulls and the hashes of the log of seals anew. On a whole file it changes nothing.`,
		Args: exactArgs(0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error {
			return p.with(func(f *store.File) error {
				r, err := f.Rebuild(c.Context())
				if err != nil {
					return err
				}
				say := fmt.Sprintf("%s read; everything derived was as it should be.", counted(r.Jobs, "job"))
				if r.Changed > 0 {
					say = fmt.Sprintf("%s read; %s of the lists corrected.", counted(r.Jobs, "job"), counted(r.Changed, "row"))
				}
				_, err = fmt.Fprintln(p.Out, say)
				return err
			})
		},
	}
}
