package command

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

func (p *Program) backupCommand() *cobra.Command {
	to := ""
	c := &cobra.Command{
		Use:   "backup",
		Short: phrase.Of("command.backup.copy-the-file-to-a-second-place"),
		Long:  phrase.Of("command.backup.copies-the-workshops-file-to-the-backup"),
		Args:  exactArgs(0, phrase.Of("command.backup.no-arguments-to-names-a-folder")),
	}
	c.Flags().StringVar(&to, "to", "", phrase.Of("command.backup.the-folder-best-on-another-disk"))
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
			_, err = fmt.Fprintln(p.Out, phrase.Of("command.backup.copied-opened-and-checked", path))
			return err
		})
	}
	return c
}

func (p *Program) restoreCommand() *cobra.Command {
	into := ""
	c := &cobra.Command{
		Use:   "restore BACKUP",
		Short: phrase.Of("command.backup.copy-a-backup-into-a-new-workshop"),
		Long:  phrase.Of("command.backup.copies-a-backup-into-a-file-that"),
		Args:  exactArgs(1, phrase.Of("command.backup.the-path-of-a-backup")),
	}
	c.Flags().StringVar(&into, "into", "", phrase.Of("command.backup.the-new-file"))
	needed(c, "into")
	c.RunE = func(c *cobra.Command, args []string) error {
		r, err := store.Restore(c.Context(), args[0], into)
		if err != nil {
			return err
		}
		_, err = io.WriteString(p.Out, rehearsedText(phrase.Of("command.backup.restored-into", into), r))
		return err
	}
	return c
}

func (p *Program) rehearseCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "rehearse BACKUP",
		Short: phrase.Of("command.backup.prove-that-a-backup-can-be-restored"),
		Long:  phrase.Of("command.backup.restores-a-backup-into-a-scratch-file"),
		Args:  exactArgs(1, phrase.Of("command.backup.the-path-of-a-backup-or-of")),
		RunE: func(c *cobra.Command, args []string) error {
			if info, err := os.Stat(args[0]); err == nil && info.IsDir() {
				return p.rehearseFolder(c.Context(), args[0])
			}
			r, err := store.Rehearse(c.Context(), args[0])
			if err != nil {
				return err
			}
			_, err = io.WriteString(p.Out, rehearsedText(phrase.Of("command.backup.the-backup-can-be-restored-it-was"), r))
			return err
		},
	}
}

// rehearsedText says what a file holds.
func rehearsedText(head string, r store.Rehearsal) string {
	text := phrase.Of("command.backup.it-holds-with-and-people-and", head, phrase.Count("count.job", r.Jobs), phrase.Count("count.event", r.Events), phrase.Count("count.seal", r.Seals), r.People, phrase.Count("count.instrument", r.Instruments), phrase.Count("count.vehicle", r.Vehicles))
	if !r.Newest.IsZero() {
		text += phrase.Of("command.backup.its-newest-event-is-of", r.Newest.Format("2006-01-02 15:04"))
	}
	return wrap(text, textWidth, "", "")
}

func (p *Program) rehearseFolder(ctx context.Context, dir string) error {
	all, err := store.Backups(ctx, dir)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		return phrase.Error("command.backup.there-is-no-backup-in", dir)
	}
	var b strings.Builder
	bad := 0
	for _, x := range all {
		if x.Err != nil {
			bad++
			b.WriteString(wrap(phrase.Of("command.backup.no-good", filepath.Base(x.Path), sentence(x.Err.Error())), textWidth, "", "  "))
			continue
		}
		b.WriteString(wrap(phrase.Of("command.backup.good-newest-event", filepath.Base(x.Path), phrase.Count("count.job", x.Held.Jobs), phrase.Count("count.seal", x.Held.Seals), x.Held.Newest.Format("2006-01-02 15:04")), textWidth, "", "  "))
	}
	if _, err := io.WriteString(p.Out, b.String()); err != nil {
		return err
	}
	if bad > 0 {
		return errAnswered
	}
	return nil
}
