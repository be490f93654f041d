package command

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job"
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
		Short: "A page of a job for the printer",
		Long: `Writes a page of a job to standard output: text of 80 columns for any printer, or
with --as html one file with its pictures inside, for A4 and Letter. The short seal
of the job stands on every page; pawl verify --paper checks it.

The pages:
` + about.String(),
		Args: exactArgs(1, "the number of a job"),
	}
	c.Flags().StringVar(&page, "page", page, "which page: "+strings.Join(paper.Pages(), ", "))
	c.Flags().StringVar(&as, "as", as, "text or html")
	c.Flags().BoolVar(&ascii, "ascii", false, "text in ASCII characters only")
	c.RunE = func(_ *cobra.Command, args []string) error {
		n, err := jobNumber(args[0])
		switch {
		case err != nil:
			return err
		case as != formText && as != formHTML:
			return misused("--as: %q; expected text or html", as)
		case paper.AboutPage(page) == "":
			return misused("--page: %q; expected one of %s", page, strings.Join(paper.Pages(), ", "))
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
				return fmt.Errorf("job %d: %w", n, err)
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
