package command

import (
	"errors"
	"fmt"
	"os"
	"slices"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

func (p *Program) checkCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "check FILE…",
		Short: "Prove procedure and sheet files sound",
		Long: `Reads procedure and spec sheet files and proves each sound, naming file and line of
every fault. Every sheet is also held against every procedure given with it, and
each torque of such a pair against what its fastener can carry; a doubt about
that is a warning and no fault.`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return misused("%s takes one or more procedure or sheet files", c.CommandPath())
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return p.check(args) },
	}
}

func (p *Program) check(files []string) error {
	var ps []*procedures.Procedure
	var ss []*procedures.Sheet
	failed := false
	report := func(err error) {
		failed = true
		fmt.Fprintln(p.Err, err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			report(fmt.Errorf("%s cannot be read: %w", name, withoutPath(err)))
			continue
		}
		if procedures.IsSheet(data) {
			s, err := procedures.LoadSheet(name, data)
			if err == nil {
				err = s.Check()
			}
			if err != nil {
				report(err)
				continue
			}
			ss = append(ss, s)
			fmt.Fprintf(p.Out, "%s: sheet %s revision %s: %d windows, %d groups of fasteners, %d counts, %d parts, each with its source\n",
				name, s.ID, s.Revision, len(s.Windows), len(s.Groups), len(s.Counts), len(s.Parts))
			continue
		}
		pr, err := procedures.LoadProcedure(name, data)
		if err != nil {
			report(err)
			continue
		}
		proved, err := pr.Check()
		if err != nil {
			report(err)
			continue
		}
		ps = append(ps, pr)
		fmt.Fprintf(p.Out, "%s: %s\n", name, proved)
	}
	for _, pr := range ps {
		for _, s := range ss {
			if err := procedures.CheckPair(pr, s); err != nil {
				report(err)
				continue
			}
			fmt.Fprintf(p.Out, "%s serves %s: every trait, window, group, count and part it asks for is there\n", s.ID, pr.ID)
			if err := p.plausible(pr, s); err != nil {
				report(err)
			}
		}
	}
	if failed {
		return errAnswered
	}
	return nil
}

// withoutPath drops the path from an error of the file system; it has been named already.
func withoutPath(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// plausible warns where a written torque is not what the fastener named could carry.
func (p *Program) plausible(pr *procedures.Procedure, s *procedures.Sheet) error {
	plan, err := procedures.Resolve(pr, s, nil)
	if err != nil {
		return err
	}
	var told []string
	for _, n := range plan.Nodes {
		for _, k := range n.Checks {
			if k.Kind != procedures.Torque || k.Group == nil || k.Group.Thread == "" || k.Group.Class == "" || k.Window == nil || k.Window.Window.Dimension() != quantity.Torque {
				continue
			}
			doubt, err := doubtOf(k)
			if err != nil {
				return fmt.Errorf("%s: group %q: %w", s.ID, k.Group.ID, err)
			}
			line := fmt.Sprintf("warning: %s: group %q, window %q: %s", s.ID, k.Group.ID, k.Window.ID, doubt)
			if doubt != "" && !slices.Contains(told, line) {
				told = append(told, line)
				fmt.Fprintln(p.Err, line)
			}
		}
	}
	return nil
}

func doubtOf(k procedures.PlanCheck) (string, error) {
	t, err := fastening.ParseThread(k.Group.Thread)
	if err != nil {
		return "", err
	}
	c, err := fastening.ParseClass(k.Group.Class)
	if err != nil {
		return "", err
	}
	f := fastening.UsualFriction
	if k.Group.Friction != "" {
		q, err := quantity.Parse(k.Group.Friction, quantity.Count)
		if err != nil {
			return "", fmt.Errorf("friction: %w", err)
		}
		f = fastening.Friction{Thread: q.Float(), Head: q.Float()}
	}
	return fastening.Plausible(k.Window.Window, t, c, f)
}
