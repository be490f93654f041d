package command

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/register"
	"bay.example/pawl/store"
)

// recallFormat is the version of the JSON that pawl recall writes.
const recallFormat = 1

func (p *Program) recallCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "recall [NUMBER]",
		Short: phrase.Of("command.recall.vehicles-to-call-because-something-was-found"),
		Long:  phrase.Of("command.recall.lists-the-recalls-with-how-many-vehicles"),
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 {
				return misused("%s", phrase.Of("command.recall.takes-the-number-of-one-recall-or", c.CommandPath(), len(args)))
			}
			return nil
		},
	}
	as := formFlag(c)
	c.RunE = func(_ *cobra.Command, args []string) error {
		n, err := uint64(0), error(nil)
		if len(args) == 1 {
			if n, err = recallNumber(args[0]); err != nil {
				return err
			}
		}
		return p.with(func(f *store.File) error { return p.showRecalls(f, n, *as) })
	}
	c.AddCommand(p.recallCertificate(), p.recallBatch(), p.recallSheet(), p.recallDone())
	return c
}

func recallNumber(text string) (uint64, error) {
	n, err := strconv.ParseUint(text, 10, 64)
	if err != nil || n == 0 {
		return 0, misused("%s", phrase.Of("command.recall.is-no-number-of-a-recall-pawl", text))
	}
	return n, nil
}

// showRecalls lists all, or shows the one with a number.
func (p *Program) showRecalls(f *store.File, number uint64, as form) error {
	all, err := f.Recalls()
	if err != nil {
		return err
	}
	if number != 0 {
		all = slices.DeleteFunc(all, func(r questions.Recall) bool { return r.Number != number })
		if len(all) == 0 {
			return phrase.Error("command.recall.there-is-no-recall-pawl-recall-lists", number)
		}
	}
	if as == formJSON {
		if all == nil {
			all = []questions.Recall{}
		}
		return writeJSON(p.Out, object{{"format", recallFormat}, {"as_of", stamp(f.Now())}, {"recalls", all}})
	}
	var b strings.Builder
	if w, _ := f.Workshop(); w.Demo {
		b.WriteString(demoLine + "\n")
	}
	if len(all) == 0 {
		b.WriteString(phrase.Of("command.recall.no-recall-was-ever-opened-in-this"))
	}
	for _, r := range all {
		if number != 0 {
			b.WriteString(recallText(r))
			continue
		}
		b.WriteString(wrap(phrase.Of("command.recall.recall-of", r.Number, r.Opened.Format("2006-01-02"), r.Kind, r.Title, leftWords(r)), textWidth, "", "  "))
	}
	_, err = io.WriteString(p.Out, b.String())
	return err
}

func leftWords(r questions.Recall) string {
	switch {
	case len(r.Lines) == 0:
		return phrase.Of("command.recall.no-vehicle-has-to-be-called")
	case r.Left() == 0:
		return phrase.Of("command.recall.all-of-dealt-with", phrase.Count("count.vehicle", len(r.Lines)))
	}
	return phrase.Of("command.recall.of-left-to-deal-with", r.Left(), phrase.Count("count.vehicle", len(r.Lines)))
}

func recallText(r questions.Recall) string {
	var b strings.Builder
	b.WriteString(wrap(phrase.Of("command.recall.recall", r.Number, r.Kind, r.Title), textWidth, "", "  "))
	b.WriteString(wrap(phrase.Of("command.recall.opened-by", r.Opened.Format("2006-01-02 15:04"), r.By.Name, leftWords(r)), textWidth, "", ""))
	j := r.Judged
	b.WriteString(wrap(phrase.Of("command.recall.searched-judged-again-still-right-wrong-and", phrase.Count("count.job", j.Jobs), phrase.Count("count.record", j.Records), j.Inside, j.Healed, j.Unjudged), textWidth, "", ""))
	for _, l := range r.Lines {
		b.WriteString("\n" + wrap(phrase.Of("command.recall.vehicle", strings.TrimSpace(l.Vehicle.ID+" "+l.Vehicle.Name), strings.ToUpper(l.State())), textWidth, "", "  "))
		for _, w := range l.Why {
			b.WriteString(wrap(sentence(w), textWidth, "  - ", "    "))
		}
		for _, a := range l.Acts {
			b.WriteString(wrap(fmt.Sprintf("%s %s, %s: %s", a.At.Format("2006-01-02 15:04"), a.By.Name, a.Act, sentence(a.Words)), textWidth, "  > ", "    "))
		}
	}
	return b.String()
}

// signer is who answers for a command that writes outside a job; his code is the first line of
// standard input, so that it stands in no list of processes.
func (p *Program) signer(c *cobra.Command) func(f *store.File) (register.Person, error) {
	id := ""
	c.Flags().StringVar(&id, "by", "", phrase.Of("command.recall.id-of-who-answers-for-it-the"))
	return func(f *store.File) (register.Person, error) {
		who, ok := f.Register().Person(id)
		if !ok || who.Closed {
			return who, misused("%s", phrase.Of("command.recall.by-nobody-on-the-register-goes-by", id))
		}
		code, err := bufio.NewReader(io.LimitReader(p.In, maxLine)).ReadString('\n')
		if code = strings.TrimSpace(code); code == "" || (err != nil && !errors.Is(err, io.EOF)) {
			return who, misused("%s", phrase.Of("command.recall.the-personal-code-of-is-wanted-as", who.Name))
		}
		return who, f.CheckCode(id, code)
	}
}

// recalled says what a recall came to.
func (p *Program) recalled(r *questions.Recall) error {
	text := phrase.Of("command.recall.kept-nothing-was-found-off-so-no")
	if r != nil {
		text = recallText(*r)
	}
	_, err := io.WriteString(p.Out, text)
	return err
}

// references are what the percentage of a wrench can be of.
var references = map[string]fastening.Reference{"setting": fastening.OfSetting, "delivered": fastening.OfDelivered}

func (p *Program) recallCertificate() *cobra.Command {
	var cert register.Certificate
	asFound, of := "", ""
	c := &cobra.Command{
		Use:   "certificate INSTRUMENT",
		Short: phrase.Of("command.recall.enter-a-certificate-one-that-found-an"),
		Long:  phrase.Of("command.recall.enters-a-new-certificate-of-an-instrument"),
		Args:  exactArgs(1, phrase.Of("command.recall.the-number-of-an-instrument")),
	}
	c.Flags().StringVar(&cert.Number, "number", "", phrase.Of("command.recall.number-of-the-certificate"))
	c.Flags().StringVar(&cert.Calibrated, "calibrated", "", phrase.Of("command.recall.day-of-the-calibration"))
	c.Flags().StringVar(&cert.Clock, "at", "", phrase.Of("command.recall.time-of-that-day-such-as-14"))
	c.Flags().StringVar(&cert.Due, "due", "", phrase.Of("command.recall.last-day-it-is-valid"))
	c.Flags().StringVar(&asFound, "as-found", "", phrase.Of("command.recall.how-far-it-was-off-with-its"))
	c.Flags().StringVar(&of, "of", "setting", phrase.Of("command.recall.of-what-a-wrenchs-percentage-is-setting"))
	c.Flags().StringVar(&cert.Note, "note", "", "words")
	by := p.signer(c)
	needed(c, "number", "calibrated", "due", "by")
	c.RunE = func(c *cobra.Command, args []string) error {
		cert.Instrument = args[0]
		of, ok := references[of]
		if !ok {
			return misused("%s", phrase.Of("command.recall.of-expected-setting-or-delivered", c.Flag("of").Value))
		}
		cert.Of = string(of)
		if asFound != "" {
			q, err := quantity.Parse(asFound, "")
			if err != nil {
				return misuse{phrase.Error("command.recall.as-found", err)}
			}
			cert.AsFound = q
		}
		if err := cert.Check(); err != nil {
			return misuse{err}
		}
		return p.recallAs(c.Context(), by, func(ctx context.Context, f *store.File, who register.Person) (*questions.Recall, error) {
			return f.AddCertificate(ctx, who, cert)
		})
	}
	return c
}

// recallAs opens a recall in somebody's name.
func (p *Program) recallAs(ctx context.Context, by func(*store.File) (register.Person, error), open func(context.Context, *store.File, register.Person) (*questions.Recall, error)) error {
	return p.with(func(f *store.File) error {
		who, err := by(f)
		if err != nil {
			return err
		}
		r, err := open(ctx, f, who)
		if err != nil {
			return err
		}
		return p.recalled(r)
	})
}

func (p *Program) recallBatch() *cobra.Command {
	part := ""
	c := &cobra.Command{Use: "batch BATCH", Short: phrase.Of("command.recall.open-a-recall-of-a-part-batch"), Args: exactArgs(1, phrase.Of("command.recall.the-number-of-a-batch"))}
	c.Flags().StringVar(&part, "part", "", phrase.Of("command.recall.only-this-part-number"))
	by := p.signer(c)
	needed(c, "by")
	c.RunE = func(c *cobra.Command, args []string) error {
		return p.recallAs(c.Context(), by, func(ctx context.Context, f *store.File, who register.Person) (*questions.Recall, error) {
			return f.RecallBatch(ctx, who, args[0], part)
		})
	}
	return c
}

func (p *Program) recallSheet() *cobra.Command {
	c := &cobra.Command{Use: "sheet SHEET REVISION", Short: phrase.Of("command.recall.open-a-recall-of-a-revision-of"), Args: exactArgs(2, phrase.Of("command.recall.the-id-of-a-spec-sheet-and"))}
	by := p.signer(c)
	needed(c, "by")
	c.RunE = func(c *cobra.Command, args []string) error {
		return p.recallAs(c.Context(), by, func(ctx context.Context, f *store.File, who register.Person) (*questions.Recall, error) {
			return f.RecallSheet(ctx, who, args[0], args[1])
		})
	}
	return c
}

func (p *Program) recallDone() *cobra.Command {
	act, words := "", ""
	c := &cobra.Command{
		Use:   "work-off NUMBER VEHICLE",
		Short: phrase.Of("command.recall.write-down-what-was-done-for-a"),
		Long:  phrase.Of("command.recall.adds-one-of-these-to-the-line", strings.Join(questions.RecallActs(), "\n  ")),
		Args:  exactArgs(2, phrase.Of("command.recall.the-number-of-a-recall-and-the")),
	}
	c.Flags().StringVar(&act, "act", "", phrase.Of("command.recall.what-was-done", strings.Join(questions.RecallActs(), ", ")))
	c.Flags().StringVar(&words, "words", "", phrase.Of("command.recall.what-came-of-it"))
	by := p.signer(c)
	needed(c, "act", "words", "by")
	c.RunE = func(_ *cobra.Command, args []string) error {
		n, err := recallNumber(args[0])
		if err != nil {
			return err
		}
		if !slices.Contains(questions.RecallActs(), act) {
			return misused("%s", phrase.Of("command.recall.act-expected-one-of", act, strings.Join(questions.RecallActs(), ", ")))
		}
		return p.with(func(f *store.File) error {
			who, err := by(f)
			if err == nil {
				err = f.WorkOff(who, n, args[1], act, words)
			}
			if err != nil {
				return err
			}
			return p.showRecalls(f, n, formText)
		})
	}
	return c
}
