package command

import (
	"fmt"

	"github.com/spf13/cobra"

	"bay.example/pawl/store"
)

func (p *Program) verifyCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "verify JOB",
		Short: "Recompute the digests of a job from the stored bytes",
		Long: `Reads every event of a job as it is stored, recomputes the chain of SHA-256
digests and reads the events anew. The digest printed is that of the newest event:
two copies of one record have the same.`,
		Args: exactArgs(1, "the number of a job"),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := jobNumber(args[0])
			if err != nil {
				return err
			}
			return p.with(func(f *store.File) error {
				if err := f.Verify(n); err != nil {
					return err
				}
				c, err := f.Load(n)
				if err != nil {
					return err
				}
				_, err = fmt.Fprintf(p.Out, "Job %d: %d events, none changed, none missing.\nDigest %s\n", n, c.Seq(), c.Head)
				return err
			})
		},
	}
}
