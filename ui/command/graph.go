package command

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// The forms a graph is written in.
const (
	graphText = "text"
	graphDot  = "dot"
	graphHTML = "html"
)

func (p *Program) graphCommand() *cobra.Command {
	var traits map[string]string
	as := graphText
	c := &cobra.Command{
		Use:   "graph FILE [BLOCK…]",
		Short: phrase.Of("command.graph.draw-the-stages-of-a-procedure-in"),
		Long:  phrase.Of("command.graph.draws-the-stages-of-a-procedure-file"),
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return misused("%s", phrase.Of("command.graph.takes-one-procedure-file-or-the-id", c.CommandPath()))
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			prs, err := proceduresNamed(args)
			if err != nil {
				return err
			}
			if len(prs) != 1 {
				return misused("%s", phrase.Of("command.graph.takes-one-procedure-file-or-the-id", c.CommandPath()))
			}
			pr := prs[0]
			if _, err := pr.Check(); err != nil {
				return err
			}
			drawn, err := procedures.Draw(pr, traits)
			if err != nil {
				return misuse{err}
			}
			switch as {
			case graphText:
				_, err = fmt.Fprint(p.Out, graphAsText(pr, drawn))
			case graphDot:
				_, err = fmt.Fprint(p.Out, graphAsDot(pr, drawn))
			case graphHTML:
				_, err = fmt.Fprint(p.Out, graphAsHTML(pr, drawn))
			default:
				return misused("%s", phrase.Of("command.graph.as-expected-text-dot-or-html", as))
			}
			return err
		},
	}
	c.Flags().StringToStringVar(&traits, "traits", nil, phrase.Of("command.graph.what-the-vehicle-is-such-as-height"))
	c.Flags().StringVar(&as, "as", as, phrase.Of("command.graph.how-it-is-drawn-text-dot-or"))
	return c
}

// graphRow is a stage as the text shows it: both sides in one row where they stand alike.
type graphRow struct {
	procedures.Drawn
	sides string
}

func graphRows(drawn []procedures.Drawn) []graphRow {
	var rows []graphRow
	for _, d := range drawn {
		if n := len(rows); n > 0 && d.Ref.Side == procedures.Right && rows[n-1].Ref.Stage == d.Ref.Stage && rows[n-1].Layer == d.Layer {
			rows[n-1].sides = phrase.Of("command.graph.left-right")
			continue
		}
		rows = append(rows, graphRow{d, string(d.Ref.Side)})
	}
	return rows
}

func graphAsText(pr *procedures.Procedure, drawn []procedures.Drawn) string {
	var b strings.Builder
	b.WriteString(wrap(phrase.Of("command.graph.revision", pr.ID, pr.Title, pr.Revision), textWidth, "", "  "))
	layer := 0
	for _, r := range graphRows(drawn) {
		if r.Layer != layer {
			layer = r.Layer
			fmt.Fprintf(&b, "\n%3d  ", layer)
		} else {
			b.WriteString("     ")
		}
		head := pad(r.Ref.Stage, 28) + " " + pad(r.sides, 11) + " " + string(r.Stage.Who)
		if r.Stage.Hold {
			head += phrase.Of("command.graph.hold")
		}
		if r.Stage.Second == procedures.SecondAlways {
			head += phrase.Of("command.graph.second-person")
		}
		if r.Stage.Act != procedures.NoAct {
			head += ", " + string(r.Stage.Act)
		}
		if width(head) > textWidth-5 {
			head = strings.TrimSpace(wrap(head, textWidth, "     ", "       "))
		}
		b.WriteString(head + "\n")
		for _, line := range graphLines(r.Drawn) {
			b.WriteString(wrap(line, textWidth, "       ", "         "))
		}
	}
	return b.String()
}

// graphLines says what belongs to a stage, one thing a line.
func graphLines(d procedures.Drawn) []string {
	var out []string
	add := func(what string, names []string) {
		if len(names) > 0 {
			out = append(out, what+" "+strings.Join(names, ", "))
		}
	}
	if d.When != "" {
		out = append(out, phrase.Of("command.graph.when", d.When))
	}
	add("after", graphAfter(d))
	states := func(list []procedures.StateRef) []string {
		var names []string
		for _, s := range list {
			names = append(names, s.State)
		}
		return names
	}
	add(phrase.Of("command.graph.needs-standing"), d.Stage.NeedsOpen)
	add(phrase.Of("command.graph.needs-put-back"), d.Stage.NeedsShut)
	if len(d.Stage.OtherShut) > 0 {
		out = append(out, phrase.Of("command.graph.one-side-at-a-time", strings.Join(d.Stage.OtherShut, ", ")))
	}
	add(phrase.Of("command.graph.leaves-standing"), states(d.Sets))
	add(phrase.Of("command.graph.puts-back"), states(d.Clears))
	return out
}

// graphAfter names the stages before, both sides in one name.
func graphAfter(d procedures.Drawn) []string {
	var out []string
	for _, r := range d.After {
		switch other := (procedures.Ref{Stage: r.Stage, Side: r.Side.Other()}); {
		case r.Side == d.Ref.Side || r.Side == procedures.NoSide:
			out = append(out, r.Stage)
		case slices.Contains(d.After, other) && r.Side == procedures.Left:
			out = append(out, phrase.Of("command.graph.on-both-sides", r.Stage))
		case !slices.Contains(d.After, other):
			out = append(out, phrase.Of("command.graph.on-the", r.Stage, r.Side))
		}
	}
	return out
}

func graphAsDot(pr *procedures.Procedure, drawn []procedures.Drawn) string {
	var b strings.Builder
	fmt.Fprintf(&b, "digraph %q {\n  rankdir=TB; node [shape=box, fontname=\"sans-serif\"]; edge [arrowsize=0.6];\n  label=%q;\n", pr.ID, phrase.Of("command.graph.revision-2", pr.Title, pr.Revision))
	layer := 0
	for i, d := range drawn {
		if d.Layer != layer {
			if layer > 0 {
				b.WriteString("  }\n")
			}
			layer = d.Layer
			b.WriteString("  { rank=same;\n")
		}
		label := d.Stage.Title
		if d.Ref.Side != procedures.NoSide {
			label += ", " + phrase.Word(d.Ref.Side)
		}
		style := ""
		if d.Stage.Hold {
			style += ", peripheries=2"
		}
		if d.When != "" {
			style += ", style=dashed"
		}
		fmt.Fprintf(&b, "    %q [label=%q%s];\n", d.Ref.String(), label, style)
		if i == len(drawn)-1 {
			b.WriteString("  }\n")
		}
	}
	for _, d := range drawn {
		for _, r := range d.After {
			fmt.Fprintf(&b, "  %q -> %q;\n", r.String(), d.Ref.String())
		}
	}
	for _, d := range drawn {
		if len(d.Stage.OtherShut) > 0 && d.Ref.Side == procedures.Left {
			fmt.Fprintf(&b, "  %q -> %q [dir=none, style=bold, constraint=false, label=%q];\n", d.Ref.String(), d.Ref.Stage+"/right", phrase.Of("command.graph.one-side"))
		}
	}
	for _, e := range stateEdges(drawn) {
		fmt.Fprintf(&b, "  %q -> %q [style=dotted, constraint=false, label=%q];\n", e.from.String(), e.to.String(), e.state)
	}
	b.WriteString("}\n")
	return b.String()
}

// stateEdge leads from where a state is left standing to where it is put back.
type stateEdge struct {
	from, to procedures.Ref
	state    string
}

func stateEdges(drawn []procedures.Drawn) []stateEdge {
	var out []stateEdge
	for _, d := range drawn {
		for _, s := range d.Sets {
			for _, c := range drawn {
				for _, back := range c.Clears {
					if back == s {
						out = append(out, stateEdge{d.Ref, c.Ref, s.String()})
					}
				}
			}
		}
	}
	return out
}
