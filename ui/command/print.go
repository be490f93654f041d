package command

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/paper"
)

// formHTML is one self-contained page for a browser.
const formHTML = "html"

func (p *Program) printCommand() *cobra.Command {
	page, as := "file", formText
	var ascii bool
	var about strings.Builder
	for _, name := range paper.Pages() {
		fmt.Fprintf(&about, "  %-9s %s\n", name, paper.AboutPage(name))
	}
	c := &cobra.Command{
		Use:   "print JOB",
		Short: phrase.Of("command.print.a-page-of-a-job-for-the"),
		Long:  phrase.Of("command.print.writes-a-page-of-a-job-to", about.String()),
		Args:  exactArgs(1, phrase.Of("command.print.the-number-of-a-job")),
	}
	c.Flags().StringVar(&page, "page", page, phrase.Of("command.print.which-page", strings.Join(paper.Pages(), ", ")))
	c.Flags().StringVar(&as, "as", as, phrase.Of("command.print.text-or-html"))
	c.Flags().BoolVar(&ascii, "ascii", false, phrase.Of("command.print.text-in-ascii-characters-only"))
	c.RunE = func(_ *cobra.Command, args []string) error {
		n, err := jobNumber(args[0])
		switch {
		case err != nil:
			return err
		case as != formText && as != formHTML:
			return misused("%s", phrase.Of("command.print.as-expected-text-or-html", as))
		case paper.AboutPage(page) == "":
			return misused("%s", phrase.Of("command.print.page-expected-one-of", page, strings.Join(paper.Pages(), ", ")))
		}
		return p.with(func(f *store.File) error {
			card, err := f.Load(n)
			if err != nil {
				return err
			}
			in, err := printInfo(f, card)
			if err != nil {
				return err
			}
			d, err := paper.Page(page, card, in)
			if err != nil {
				return phrase.Error("command.print.job", n, err)
			}
			if as == formHTML {
				_, err = p.Out.Write(d.HTML())
			} else {
				_, err = p.Out.Write(d.Text(ascii))
			}
			return err
		})
	}
	return c
}

// printInfo is what a print of a job says besides the job.
func printInfo(f *store.File, c *job.Card) (paper.Info, error) {
	w, _ := f.Workshop()
	short, err := f.ShortSeal(c.Number())
	return paper.Info{Workshop: w.Name, Printed: f.Now(), Seal: short}, err
}
