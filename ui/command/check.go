package command

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

func (p *Program) checkCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "check FILE…",
		Short: phrase.Of("command.check.prove-procedure-and-sheet-files-sound"),
		Long:  phrase.Of("command.check.reads-procedure-and-spec-sheet-files-and"),
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return misused("%s", phrase.Of("command.check.takes-one-or-more-procedure-or-sheet", c.CommandPath()))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return p.check(args) },
	}
}

func (p *Program) check(files []string) error {
	c := checking{p: p}
	read := map[string][]byte{}
	for _, name := range files {
		data, err := readProcedureFile(name)
		if err != nil {
			c.fault(phrase.Error("command.check.cannot-be-read", name, withoutPath(err)))
			continue
		}
		read[name] = data
	}
	blocks := procedures.OwnBlocks(read) // blocks given with the files go before those shipped
	for _, name := range files {
		if data, ok := read[name]; ok {
			c.file(name, data, blocks)
		}
	}
	if twice := procedures.Twice(c.blocks, c.procedures, c.sheets); len(twice) > 0 {
		c.fault(twice)
	}
	for _, pr := range c.procedures {
		for _, s := range c.sheets {
			c.pair(pr, s)
		}
	}
	c.served()
	switch {
	case c.unwritten != nil:
		return c.unwritten
	case c.failed:
		return errAnswered
	}
	return nil
}

// checking is one run of the checker over some files.
type checking struct {
	p          *Program
	blocks     []*procedures.Block
	procedures []*procedures.Procedure
	sheets     []*procedures.Sheet
	failed     bool
	unwritten  error // why an answer could not be written
}

// say writes one line of what was proved. When that fails the run fails: nobody has read it.
func (c *checking) say(line string) {
	if _, err := fmt.Fprintln(c.p.Out, line); err != nil && c.unwritten == nil {
		c.unwritten = err
	}
}

func (c *checking) fault(err error) {
	c.failed = true
	fmt.Fprintln(c.p.Err, err)
}

func (c *checking) warn(fs procedures.Faults) {
	for _, f := range fs {
		fmt.Fprintln(c.p.Err, phrase.Of("command.check.warning", f.String()))
	}
}

// file proves one file by itself.
func (c *checking) file(name string, data []byte, blocks procedures.Lookup) {
	switch {
	case procedures.IsBlock(data):
		b, err := procedures.LoadBlock(name, data)
		if err != nil {
			c.fault(err)
			return
		}
		c.blocks = append(c.blocks, b)
		c.say(phrase.Of("command.check.block-stages-proved-where-a-procedure-includes", name, b.ID, len(b.Stages)))
	case procedures.IsSheet(data):
		s, err := procedures.LoadSheet(name, data)
		if err == nil {
			err = s.Check()
		}
		if err != nil {
			c.fault(err)
			return
		}
		c.sheets = append(c.sheets, s)
		c.say(phrase.Of("command.check.sheet-revision-windows-groups-of-fasteners", name, s.ID, s.Revision, len(s.Windows), len(s.Groups), len(s.Counts), len(s.Parts)))
	default:
		pr, err := procedures.LoadProcedureWith(name, data, blocks)
		var proved procedures.Report
		if err == nil {
			proved, err = pr.Check()
		}
		if err != nil {
			c.fault(err)
			return
		}
		c.procedures = append(c.procedures, pr)
		c.say(fmt.Sprintf("%s: %s", name, proved))
	}
}

// pair holds a sheet against a procedure that it serves, and says so where it does not serve it.
func (c *checking) pair(pr *procedures.Procedure, s *procedures.Sheet) {
	if !s.ServesProcedure(pr.ID) {
		c.say(phrase.Of("command.check.were-not-held-against-each-other", s.ID, pr.ID))
		return
	}
	if err := procedures.CheckPair(pr, s); err != nil {
		c.fault(err)
		return
	}
	c.say(phrase.Of("command.check.serves-every-trait-window-group-count-and", s.ID, pr.ID))
	doubts, err := procedures.Doubts(pr, s)
	if err != nil {
		c.fault(err)
	}
	c.warn(doubts)
}

// served warns of procedures the sheets list that are nowhere: mostly a slip in the id. A procedure
// among the files that has faults of its own is not asked for either.
func (c *checking) served() {
	if c.failed || len(c.sheets) == 0 {
		return
	}
	var known []string
	for _, pr := range c.procedures {
		known = append(known, pr.ID)
	}
	shipped, err := procedures.Library()
	if err != nil {
		c.fault(err)
		return
	}
	for _, pr := range shipped {
		known = append(known, pr.ID)
	}
	for _, s := range c.sheets {
		c.warn(s.UnknownServed(known))
	}
}

// withoutPath drops the path from an error of the file system; it has been named already.
func withoutPath(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
