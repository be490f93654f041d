package command

import (
	"encoding/base64"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

func (p *Program) sealsCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "seals",
		Short: phrase.Of("command.seals.write-a-checkpoint-of-the-log-of"),
		Long:  phrase.Of("command.seals.writes-three-lines-whose-log-it-is"),
		Args:  exactArgs(0, phrase.Of("command.seals.no-arguments")),
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
		Short: phrase.Of("command.seals.work-out-anew-what-is-derived-from"),
		Long:  phrase.Of("command.seals.reads-every-job-and-writes-the-list"),
		Args:  exactArgs(0, phrase.Of("command.seals.no-arguments")),
		RunE: func(c *cobra.Command, _ []string) error {
			return p.with(func(f *store.File) error {
				r, err := f.Rebuild(c.Context())
				if err != nil {
					return err
				}
				say := phrase.Of("command.seals.read-everything-derived-was-as-it-should", phrase.Count("count.job", r.Jobs))
				if r.Changed > 0 {
					say = phrase.Of("command.seals.read-of-the-lists-corrected", phrase.Count("count.job", r.Jobs), phrase.Count("count.row", r.Changed))
				}
				_, err = fmt.Fprintln(p.Out, say)
				return err
			})
		},
	}
}
