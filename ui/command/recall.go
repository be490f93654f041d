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
		Short: "Vehicles to call because something was found wrong afterwards",
		Long: `Lists the recalls with how many vehicles are left, or one recall with every vehicle
and what was done for it. Nothing is ever taken off a recall.

A recall is opened by a certificate that found an instrument off (recall
certificate), by a part batch (recall batch) or by a revision of a spec sheet that
was wrong (recall sheet). pawl find wrench-actions WRENCH lists every action judged
again.`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 {
				return misused("%s takes the number of one recall, or nothing; %d given", c.CommandPath(), len(args))
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
		return 0, misused("%q is no number of a recall; pawl recall lists them", text)
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
			return fmt.Errorf("there is no recall %d; pawl recall lists them", number)
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
		b.WriteString("No recall was ever opened in this file.\n")
	}
	for _, r := range all {
		if number != 0 {
			b.WriteString(recallText(r))
			continue
		}
		b.WriteString(wrap(fmt.Sprintf("Recall %d of %s, %s: %s. %s", r.Number, r.Opened.Format("2006-01-02"), r.Kind, r.Title, leftWords(r)), textWidth, "", "  "))
	}
	_, err = io.WriteString(p.Out, b.String())
	return err
}

func leftWords(r questions.Recall) string {
	switch {
	case len(r.Lines) == 0:
		return "No vehicle has to be called."
	case r.Left() == 0:
		return fmt.Sprintf("All of %s dealt with.", counted(len(r.Lines), "vehicle"))
	}
	return fmt.Sprintf("%d of %s left to deal with.", r.Left(), counted(len(r.Lines), "vehicle"))
}

func recallText(r questions.Recall) string {
	var b strings.Builder
	b.WriteString(wrap(fmt.Sprintf("Recall %d, %s: %s", r.Number, r.Kind, r.Title), textWidth, "", "  "))
	b.WriteString(wrap(fmt.Sprintf("Opened %s by %s. %s", r.Opened.Format("2006-01-02 15:04"), r.By.Name, leftWords(r)), textWidth, "", ""))
	j := r.Judged
	b.WriteString(wrap(fmt.Sprintf("Searched: %s. Judged again: %s: %d still right, %d wrong and put right since, %d could not be judged (their vehicles are called).",
		counted(j.Jobs, "job"), counted(j.Records, "record"), j.Inside, j.Healed, j.Unjudged), textWidth, "", ""))
	for _, l := range r.Lines {
		b.WriteString("\n" + wrap(fmt.Sprintf("Vehicle %s: %s", strings.TrimSpace(l.Vehicle.ID+" "+l.Vehicle.Name), strings.ToUpper(l.State())), textWidth, "", "  "))
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
	c.Flags().StringVar(&id, "by", "", "id of who answers for it; the personal code is read from standard input")
	return func(f *store.File) (register.Person, error) {
		who, ok := f.Register().Person(id)
		if !ok || who.Closed {
			return who, misused("--by: nobody on the register goes by %q", id)
		}
		code, err := bufio.NewReader(p.In).ReadString('\n')
		if code = strings.TrimSpace(code); code == "" || (err != nil && !errors.Is(err, io.EOF)) {
			return who, misused("the personal code of %s is wanted as a line on standard input", who.Name)
		}
		return who, f.CheckCode(id, code)
	}
}

// recalled says what a recall came to.
func (p *Program) recalled(r *questions.Recall) error {
	text := "Kept. Nothing was found off, so no recall was opened.\n"
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
		Short: "Enter a certificate; one that found an error opens a recall",
		Long: `Enters a new certificate of an instrument. With --as-found, what the instrument was
off by before it was adjusted (-7.5 % for a wrench that gave too little; the unit
of the scale for what a measuring instrument showed too much), everything it did
since the certificate before is judged again and a recall is opened.`,
		Args: exactArgs(1, "the number of an instrument"),
	}
	c.Flags().StringVar(&cert.Number, "number", "", "number of the certificate")
	c.Flags().StringVar(&cert.Calibrated, "calibrated", "", "day of the calibration")
	c.Flags().StringVar(&cert.Clock, "at", "", "time of that day, such as 14:00; before work when not given")
	c.Flags().StringVar(&cert.Due, "due", "", "last day it is valid")
	c.Flags().StringVar(&asFound, "as-found", "", "how far it was off, with its unit, such as \"-7.5 %\"")
	c.Flags().StringVar(&of, "of", "setting", "of what a wrench's percentage is: setting or delivered")
	c.Flags().StringVar(&cert.Note, "note", "", "words")
	by := p.signer(c)
	needed(c, "number", "calibrated", "due", "by")
	c.RunE = func(c *cobra.Command, args []string) error {
		cert.Instrument = args[0]
		of, ok := references[of]
		if !ok {
			return misused("--of: %q; expected setting or delivered", c.Flag("of").Value)
		}
		cert.Of = string(of)
		if asFound != "" {
			q, err := quantity.Parse(asFound, "")
			if err != nil {
				return misused("--as-found: %w", err)
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
	c := &cobra.Command{Use: "batch BATCH", Short: "Open a recall of a part batch", Args: exactArgs(1, "the number of a batch")}
	c.Flags().StringVar(&part, "part", "", "only this part number")
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
	c := &cobra.Command{Use: "sheet SHEET REVISION", Short: "Open a recall of a revision of a spec sheet that was wrong", Args: exactArgs(2, "the id of a spec sheet and the revision that was wrong")}
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
		Short: "Write down what was done for a vehicle of a recall",
		Long:  "Adds one of these to the line of a vehicle, with words:\n\n  " + strings.Join(questions.RecallActs(), "\n  ") + "\n\nThe last three end the line, and the words say how it was proved.",
		Args:  exactArgs(2, "the number of a recall and the number of a vehicle"),
	}
	c.Flags().StringVar(&act, "act", "", "what was done: "+strings.Join(questions.RecallActs(), ", "))
	c.Flags().StringVar(&words, "words", "", "what came of it")
	by := p.signer(c)
	needed(c, "act", "words", "by")
	c.RunE = func(_ *cobra.Command, args []string) error {
		n, err := recallNumber(args[0])
		if err != nil {
			return err
		}
		if !slices.Contains(questions.RecallActs(), act) {
			return misused("--act: %q; expected one of %s", act, strings.Join(questions.RecallActs(), ", "))
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
