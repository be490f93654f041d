package command

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

// verifyFormat is the version of the JSON that pawl verify writes.
const verifyFormat = 1

func (p *Program) verifyCommand() *cobra.Command {
	var paperSeal, against string
	c := &cobra.Command{
		Use:   "verify [JOB]",
		Short: phrase.Of("command.verify.recompute-the-digests-and-seals-from-the"),
		Long:  phrase.Of("command.verify.reads-every-event-of-a-job-as"),
		Args: func(c *cobra.Command, args []string) error {
			given := len(args)
			for _, name := range []string{"paper", "against"} {
				if c.Flags().Changed(name) {
					given++
				}
			}
			if given > 1 {
				return misused("%s", phrase.Of("command.verify.takes-one-of-these-the-number-of", c.CommandPath()))
			}
			return nil
		},
	}
	c.Flags().StringVar(&paperSeal, "paper", "", phrase.Of("command.verify.the-seal-of-a-printed-page-seven"))
	c.Flags().StringVar(&against, "against", "", phrase.Of("command.verify.a-file-of-checkpoints-that-pawl-seals"))
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
	fmt.Fprintln(&b, phrase.Of("command.verify.job-events-none-changed-none-missing-digest", n, c.Seq(), c.Head))
	if len(seals) == 0 {
		b.WriteString(phrase.Of("command.verify.not-sealed-its-work-has-not-ended"))
	}
	for _, s := range seals {
		fmt.Fprintln(&b, phrase.Of("command.verify.seal-events-1-to", s.Short, s.Events, s.At.Format("2006-01-02 15:04")))
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
	b.WriteString(wrap(phrase.Of("command.verify.and-were-read-and-recomputed", phrase.Count("count.job", v.Jobs), phrase.Count("count.event", v.Events), phrase.Count("count.seal", v.Seals)), textWidth, "", ""))
	if v.Whole() {
		b.WriteString(phrase.Of("command.verify.everything-fits-none-changed-none-missing"))
		return b.String()
	}
	fmt.Fprintf(&b, "%s:\n", phrase.Capital(phrase.Count("count.fault", len(v.Faults))))
	for _, x := range v.Faults {
		b.WriteString(wrap(sentence(x.Err.Error()), textWidth, "  ", "    "))
	}
	return b.String()
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
	b.WriteString(wrap(phrase.Of("command.verify.the-seal-is-of-job-its-first", s.Job, strings.TrimSpace(c.Opened.Vehicle.ID+" "+c.Opened.Vehicle.Name), s.Events, s.At.Format("2006-01-02 15:04"), s.Ended, s.Place), textWidth, "", ""))
	if later > 0 {
		b.WriteString(wrap(phrase.Of("command.verify.the-job-went-on-after-that-stand", phrase.Count("count.later-event", later)), textWidth, "", ""))
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
			b.WriteString(wrap(phrase.Of("command.verify.the-of-the-checkpoint-stand-where-they", phrase.Count("count.seal", int(then.Seals)), phrase.Count("count.seal", int(g.New))), textWidth, "", ""))
			o := object{}
			o.add("then", then.Seals)
			o.add("now", g.Now.Seals)
			o.add("new", g.New)
			list = append(list, o)
		}
		if as == formJSON {
			return writeJSON(p.Out, object{{"format", verifyFormat}, {"grown", list}})
		}
		b.WriteString(phrase.Of("command.verify.the-file-only-grew-pawl-verify-proves"))
		_, err := io.WriteString(p.Out, b.String())
		return err
	})
}

// readCheckpoints reads one or more checkpoints, one after the other.
func (p *Program) readCheckpoints(path string) ([]store.Checkpoint, error) {
	data, err := readCheckpointFile(path, p.In)
	if err != nil {
		return nil, misuse{phrase.Error("command.verify.the-checkpoints-cannot-be-read", path, withoutPath(err))}
	}
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(string(data), "\r\n", "\n")), "\n")
	var out []store.Checkpoint
	for i := 0; i < len(lines); i += 3 {
		c, err := store.ParseCheckpoint(strings.Join(lines[i:min(i+3, len(lines))], "\n") + "\n")
		if err != nil {
			return nil, misuse{phrase.Error("command.verify.from-line", path, i+1, err)}
		}
		out = append(out, c)
	}
	return out, nil
}
