package command

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/store"
)

func (p *Program) backupCommand() *cobra.Command {
	to := ""
	c := &cobra.Command{
		Use:   "backup",
		Short: "Copy the file to a second place and check the copy",
		Long: `Copies the workshop's file to the backup folder of the settings, or to --to DIR, has
the disk confirm it, opens the copy and checks every digest in it before it gets
its name. The newest 12 stay; older ones in that folder make room.`,
		Args: exactArgs(0, "no arguments; --to names a folder"),
	}
	c.Flags().StringVar(&to, "to", "", "the folder, best on another disk")
	c.RunE = func(c *cobra.Command, _ []string) error {
		return p.with(func(f *store.File) error {
			var path string
			var err error
			if c.Flags().Changed("to") {
				path, err = f.BackupTo(c.Context(), to)
			} else {
				path, err = f.Backup(c.Context())
			}
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(p.Out, "Copied, opened and checked: %s\n", path)
			return err
		})
	}
	return c
}

func (p *Program) restoreCommand() *cobra.Command {
	into := ""
	c := &cobra.Command{
		Use:   "restore BACKUP",
		Short: "Copy a backup into a new workshop file",
		Long: `Copies a backup into a file that must not be there yet, opens it, checks every
digest in it and counts what it holds.`,
		Args: exactArgs(1, "the path of a backup"),
	}
	c.Flags().StringVar(&into, "into", "", "the new file")
	needed(c, "into")
	c.RunE = func(c *cobra.Command, args []string) error {
		r, err := store.Restore(c.Context(), args[0], into)
		if err != nil {
			return err
		}
		_, err = io.WriteString(p.Out, rehearsedText("Restored into "+into, r))
		return err
	}
	return c
}

func (p *Program) rehearseCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "rehearse BACKUP",
		Short: "Prove that a backup can be restored",
		Long: `Restores a backup into a scratch file, opens it, checks every digest, reads the
newest jobs and counts what it holds; then the scratch file is thrown away. Given
a folder it looks into every backup there and names those that are damaged.`,
		Args: exactArgs(1, "the path of a backup, or of the folder they lie in"),
		RunE: func(c *cobra.Command, args []string) error {
			if info, err := os.Stat(args[0]); err == nil && info.IsDir() {
				return p.rehearseFolder(c.Context(), args[0])
			}
			r, err := store.Rehearse(c.Context(), args[0])
			if err != nil {
				return err
			}
			_, err = io.WriteString(p.Out, rehearsedText("The backup can be restored: it was opened and checked", r))
			return err
		},
	}
}

// rehearsedText says what a file holds.
func rehearsedText(head string, r store.Rehearsal) string {
	text := fmt.Sprintf("%s. It holds %s with %s and %s, %d people, %s and %s.", head, counted(r.Jobs, "job"), counted(r.Events, "event"), counted(r.Seals, "seal"),
		r.People, counted(r.Instruments, "instrument"), counted(r.Vehicles, "vehicle"))
	if !r.Newest.IsZero() {
		text += " Its newest event is of " + r.Newest.Format("2006-01-02 15:04") + "."
	}
	return wrap(text, textWidth, "", "")
}

func (p *Program) rehearseFolder(ctx context.Context, dir string) error {
	all, err := store.Backups(ctx, dir)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		return fmt.Errorf("there is no backup in %s", dir)
	}
	var b strings.Builder
	bad := 0
	for _, x := range all {
		if x.Err != nil {
			bad++
			b.WriteString(wrap(filepath.Base(x.Path)+": NO GOOD: "+sentence(x.Err.Error()), textWidth, "", "  "))
			continue
		}
		b.WriteString(wrap(fmt.Sprintf("%s: good: %s, %s, newest event %s", filepath.Base(x.Path), counted(x.Held.Jobs, "job"), counted(x.Held.Seals, "seal"), x.Held.Newest.Format("2006-01-02 15:04")), textWidth, "", "  "))
	}
	if _, err := io.WriteString(p.Out, b.String()); err != nil {
		return err
	}
	if bad > 0 {
		return errAnswered
	}
	return nil
}
