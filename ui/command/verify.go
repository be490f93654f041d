package command

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job"
	"bay.example/pawl/store"
)

// verifyFormat is the version of the JSON that pawl verify writes.
const verifyFormat = 1

func (p *Program) verifyCommand() *cobra.Command {
	var paperSeal, against string
	c := &cobra.Command{
		Use:   "verify [JOB]",
		Short: "Recompute the digests and seals from the stored bytes",
		Long: `Reads every event of a job as it is stored, recomputes the chain of SHA-256
digests, reads the events anew and proves every seal of the job. The digest printed
is that of the newest event: two copies of one record have the same.

Without JOB it does that for every job of the file, on all processors, with the
hashes of the log of seals and every table, and names the first event that does
not fit of every job that has one.

--paper SEAL holds the seal of a printed page against this file. --against FILE
proves that the file only grew since the checkpoints in FILE were written by pawl
seals; - reads them from standard input.

It shows rot, slips and clumsy edits. Whoever owns the machine and the file can
write it all anew; only a seal or a checkpoint that left the machine before shows
that.`,
		Args: func(c *cobra.Command, args []string) error {
			given := len(args)
			for _, name := range []string{"paper", "against"} {
				if c.Flags().Changed(name) {
					given++
				}
			}
			if given > 1 {
				return misused("%s takes one of these: the number of a job, --paper SEAL or --against FILE", c.CommandPath())
			}
			return nil
		},
	}
	c.Flags().StringVar(&paperSeal, "paper", "", "the seal of a printed page, seven groups of four characters")
	c.Flags().StringVar(&against, "against", "", "a file of checkpoints that pawl seals wrote earlier")
	as := formFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		switch {
		case c.Flags().Changed("paper"):
			return p.with(func(f *store.File) error { return p.verifyPaper(f, paperSeal, *as) })
		case c.Flags().Changed("against"):
			return p.verifyAgainst(against, *as)
		case len(args) == 0:
			return p.with(func(f *store.File) error { return p.verifyAll(c.Context(), f, *as) })
		}
		n, err := jobNumber(args[0])
		if err != nil {
			return err
		}
		return p.with(func(f *store.File) error { return p.verifyJob(f, n, *as) })
	}
	return c
}

// verifyJob proves one job and all its seals.
func (p *Program) verifyJob(f *store.File, n uint64, as form) error {
	if err := f.Verify(n); err != nil {
		return err
	}
	c, err := f.Load(n)
	if err != nil {
		return err
	}
	seals, err := f.SealsOf(n)
	if err != nil {
		return err
	}
	for _, s := range seals {
		if _, err := f.VerifyPaper(s.Short); err != nil {
			return err
		}
	}
	if as == formJSON {
		o := object{}
		o.add("format", verifyFormat)
		o.add("job", n)
		o.add("events", c.Seq())
		o.add("digest", c.Head)
		list := []object{}
		for _, s := range seals {
			list = append(list, sealObject(s))
		}
		o.add("seals", list)
		return writeJSON(p.Out, o)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "Job %d: %d events, none changed, none missing.\nDigest %s\n", n, c.Seq(), c.Head)
	if len(seals) == 0 {
		b.WriteString("Not sealed: its work has not ended.\n")
	}
	for _, s := range seals {
		fmt.Fprintf(&b, "Seal   %s  events 1 to %d, %s\n", s.Short, s.Events, s.At.Format("2006-01-02 15:04"))
	}
	_, err = io.WriteString(p.Out, b.String())
	return err
}

func sealObject(s store.Sealed) object {
	o := object{}
	o.add("seal", s.Short)
	o.add("place", s.Place)
	o.add("job", s.Job)
	o.add("events", s.Events)
	o.add("head", job.Digest(s.Head).String())
	o.add("at", stamp(s.At))
	o.add("ended", s.Ended)
	return o
}

// verifyAll proves the whole file.
func (p *Program) verifyAll(ctx context.Context, f *store.File, as form) error {
	v, err := f.VerifyAll(ctx)
	if err != nil {
		return err
	}
	if as == formJSON {
		o := object{}
		o.add("format", verifyFormat)
		o.add("jobs", v.Jobs)
		o.add("events", v.Events)
		o.add("seals", v.Seals)
		o.add("whole", v.Whole())
		faults := []object{}
		for _, x := range v.Faults {
			l := object{}
			l.add("job", x.Job)
			l.add("say", x.Err.Error())
			faults = append(faults, l)
		}
		o.add("faults", faults)
		err = writeJSON(p.Out, o)
	} else {
		_, err = io.WriteString(p.Out, verifiedText(v))
	}
	if err == nil && !v.Whole() {
		return errAnswered
	}
	return err
}

func verifiedText(v store.Verified) string {
	var b strings.Builder
	b.WriteString(wrap(fmt.Sprintf("%s, %s and %s were read and recomputed.", counted(v.Jobs, "job"), counted(v.Events, "event"), counted(v.Seals, "seal")), textWidth, "", ""))
	if v.Whole() {
		b.WriteString("Everything fits: none changed, none missing.\n")
		return b.String()
	}
	fmt.Fprintf(&b, "%s:\n", upper(counted(len(v.Faults), "fault")))
	for _, x := range v.Faults {
		b.WriteString(wrap(sentence(x.Err.Error()), textWidth, "  ", "    "))
	}
	return b.String()
}

// counted is a number with its word.
func counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// verifyPaper holds a printed seal against the file.
func (p *Program) verifyPaper(f *store.File, text string, as form) error {
	s, err := f.VerifyPaper(text)
	if err != nil {
		return err
	}
	c, err := f.Load(s.Job)
	if err != nil {
		return err
	}
	later := int(c.Seq()) - int(s.Events)
	if as == formJSON {
		o := sealObject(s)
		o.add("later_events", later)
		return writeJSON(p.Out, append(object{{"format", verifyFormat}}, o...))
	}
	var b strings.Builder
	b.WriteString(wrap(fmt.Sprintf("The seal is of job %d, %s: its first %d events, sealed %s, %s. They are what was sealed, and the seal is number %d in the log.",
		s.Job, strings.TrimSpace(c.Opened.Vehicle.ID+" "+c.Opened.Vehicle.Name), s.Events, s.At.Format("2006-01-02 15:04"), s.Ended, s.Place), textWidth, "", ""))
	if later > 0 {
		b.WriteString(wrap(fmt.Sprintf("The job went on after that: %s stand in the record that the paper does not show.", counted(later, "later event")), textWidth, "", ""))
	}
	_, err = io.WriteString(p.Out, b.String())
	return err
}

// verifyAgainst proves that the file only grew since each of some checkpoints.
func (p *Program) verifyAgainst(path string, as form) error {
	points, err := p.readCheckpoints(path)
	if err != nil {
		return err
	}
	return p.with(func(f *store.File) error {
		var b strings.Builder
		list := []object{}
		for _, then := range points {
			g, err := f.VerifyAgainst(then)
			if err != nil {
				return err
			}
			b.WriteString(wrap(fmt.Sprintf("The %s of the checkpoint stand where they stood; %s were added since.", counted(int(then.Seals), "seal"), counted(int(g.New), "seal")), textWidth, "", ""))
			o := object{}
			o.add("then", then.Seals)
			o.add("now", g.Now.Seals)
			o.add("new", g.New)
			list = append(list, o)
		}
		if as == formJSON {
			return writeJSON(p.Out, object{{"format", verifyFormat}, {"grown", list}})
		}
		b.WriteString("The file only grew. pawl verify proves the jobs against the seals.\n")
		_, err := io.WriteString(p.Out, b.String())
		return err
	})
}

// readCheckpoints reads one or more checkpoints, one after the other.
func (p *Program) readCheckpoints(path string) ([]store.Checkpoint, error) {
	var data []byte
	var err error
	if path == "-" {
		data, err = io.ReadAll(p.In)
	} else {
		data, err = os.ReadFile(path)
	}
	if err != nil {
		return nil, misused("the checkpoints %s cannot be read: %w", path, withoutPath(err))
	}
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(string(data), "\r\n", "\n")), "\n")
	var out []store.Checkpoint
	for i := 0; i < len(lines); i += 3 {
		c, err := store.ParseCheckpoint(strings.Join(lines[i:min(i+3, len(lines))], "\n") + "\n")
		if err != nil {
			return nil, misused("%s, from line %d: %w", path, i+1, err)
		}
		out = append(out, c)
	}
	return out, nil
}
