package command

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/questions"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/paper"
)

// findFormat is the version of the JSON that pawl find writes.
const findFormat = 1

func (p *Program) findCommand() *cobra.Command {
	var q store.Query
	as := formText
	c := &cobra.Command{
		Use:   "find [QUESTION [NAME=VALUE…]]",
		Short: "Answer a question over all jobs, or search them by words",
		Long: `Answers one of the named questions over every job of the file. Without QUESTION it
lists them with their parameters; a value without a name goes to the next parameter
the question needs.

  pawl find wrench-actions W7 from=2026-01-01
  pawl find batch batch=B-2217 --as csv

Every answer says the span it covers, as of when, how many records were searched
and how many could not be judged: none found is not cannot tell.

--words TEXT lists the jobs that hold every one of the words: vehicle, its number,
person, part, batch, wrench, stage, complaint, answers. --from, --to, --vehicle,
--outcome and --exception narrow it down.`,
	}
	c.Flags().StringVar(&as, "as", as, "text, json or csv")
	c.Flags().StringVar(&q.Text, "words", "", "words a job has to hold, all of them")
	c.Flags().StringVar(&q.Vehicle, "vehicle", "", "id of a vehicle, for the search by words")
	c.Flags().StringVar(&q.From, "from", "", "worked on since this day, for the search by words")
	c.Flags().StringVar(&q.To, "to", "", "worked on until this day, for the search by words")
	c.Flags().StringVar(&q.Outcome, "outcome", "", "how the work ended, or open, for the search by words")
	c.Flags().StringVar(&q.Exception, "exception", "", "a kind of exception, for the search by words")
	c.RunE = func(c *cobra.Command, args []string) error {
		searching := false
		for _, name := range []string{"words", "vehicle", "from", "to", "outcome", "exception"} {
			searching = searching || c.Flags().Changed(name)
		}
		switch {
		case as != formText && as != formJSON && as != formCSV:
			return misused("--as: %q; expected text, json or csv", as)
		case searching && len(args) > 0:
			return misused("--words and its filters search jobs; the parameters of a question are written NAME=VALUE")
		case searching:
			if err := checkQuery(q); err != nil {
				return err
			}
			return p.with(func(f *store.File) error { return p.search(f, q, as) })
		case len(args) == 0:
			return p.listQuestions(as)
		}
		given, err := questionArgs(args)
		if err != nil {
			return err
		}
		return p.with(func(f *store.File) error { return p.ask(c.Context(), f, args[0], given, as) })
	}
	return c
}

// questionArgs reads NAME=VALUE; a value without a name goes to the next parameter that must be given.
func questionArgs(args []string) (map[string]string, error) {
	list := questions.List()
	i := slices.IndexFunc(list, func(q questions.Question) bool { return q.Name == args[0] })
	if i < 0 {
		return nil, misused("no question is called %q; pawl find lists them", args[0])
	}
	q := list[i]
	given := map[string]string{}
	for _, a := range args[1:] {
		name, value, named := strings.Cut(a, "=")
		if !named {
			k := slices.IndexFunc(q.Params, func(x questions.Param) bool { _, have := given[x.Name]; return !have && !x.Optional && x.Default == "" })
			if k < 0 {
				return nil, misused("%q has no name, and %s needs no more than it has; write NAME=VALUE", a, q.Name)
			}
			name, value = q.Params[k].Name, a
		}
		k := slices.IndexFunc(q.Params, func(x questions.Param) bool { return x.Name == name })
		if k < 0 {
			return nil, misused("%s has no parameter %q; it takes %s", q.Name, name, paramWords(q))
		}
		if _, twice := given[name]; twice {
			return nil, misused("%s is given twice", name)
		}
		given[name] = value
	}
	if err := q.Check(given); err != nil {
		return nil, misuse{err}
	}
	return given, nil
}

// paramWords names the parameters of a question, those that may be left out in brackets.
func paramWords(q questions.Question) string {
	var out []string
	for _, x := range q.Params {
		word := x.Name
		if x.Optional || x.Default != "" {
			word = "[" + word + "]"
		}
		out = append(out, word)
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, " ")
}

// listQuestions lists every question; it needs no file.
func (p *Program) listQuestions(as string) error {
	if as == formJSON {
		return writeJSON(p.Out, object{{"format", findFormat}, {"questions", questions.List()}})
	}
	var b strings.Builder
	for _, q := range questions.List() {
		b.WriteString(wrap(strings.TrimSuffix(q.Name+" "+paramWords(q), " none"), textWidth, fmt.Sprintf("%2d  ", q.Number), "      "))
		b.WriteString(wrap(sentence(q.Title), textWidth, "    ", "    "))
		for _, x := range q.Params {
			line := x.Name + ": " + x.Title
			switch {
			case len(x.Options) > 0:
				line += " (" + strings.Join(x.Options, ", ") + ")"
			case x.Kind == questions.Day:
				line += " (such as 2026-03-31)"
			case x.Kind == questions.Moment:
				line += " (such as \"2026-03-03 10:12\")"
			}
			if x.Default != "" {
				line += "; " + x.Default + " when not given"
			}
			if x.Name != "from" && x.Name != "to" {
				b.WriteString(wrap(line, textWidth, "        ", "          "))
			}
		}
	}
	b.WriteString("\nIn brackets: may be left out. from and to are days; without them a question that\nhas them covers the last twelve months.\n")
	_, err := io.WriteString(p.Out, b.String())
	return err
}

func (p *Program) ask(ctx context.Context, f *store.File, name string, args map[string]string, as string) error {
	a, err := f.Ask(ctx, name, args)
	if err != nil {
		return err
	}
	return p.writeAnswer(f, a, as)
}

func (p *Program) writeAnswer(f *store.File, a questions.Answer, as string) error {
	switch as {
	case formJSON:
		if a.Rows == nil {
			a.Rows = []questions.Row{}
		}
		if a.Unjudged == nil {
			a.Unjudged = []questions.Unjudged{}
		}
		return writeJSON(p.Out, object{{"format", findFormat}, {"found", a.Found()}, {"answer", a}})
	case formCSV:
		data, err := paper.AnswerCSV(a)
		if err == nil {
			_, err = p.Out.Write(data)
		}
		return err
	}
	head := ""
	if w, _ := f.Workshop(); w.Demo {
		head = demoLine + "\n"
	}
	_, err := io.WriteString(p.Out, head+answerText(a))
	return err
}

// answerText writes an answer for the terminal: a table where it fits, else a paragraph a line.
func answerText(a questions.Answer) string {
	var b strings.Builder
	b.WriteString(wrap(a.Title, textWidth, "", ""))
	b.WriteString(wrap(upper(sentence(a.Found())), textWidth, "", ""))
	b.WriteString(wrap(fmt.Sprintf("Span: %s. As of %s, %s. Searched: %s. Could not be judged: %d.", a.Span(), a.AsOf.Format("2006-01-02 15:04"), a.Revision, counted(a.Searched, "record"), len(a.Unjudged)), textWidth, "", ""))
	if len(a.Rows) > 0 {
		b.WriteString("\n" + answerRows(a))
	}
	if len(a.Unjudged) > 0 {
		b.WriteString("\nCould not be judged:\n")
	}
	for _, u := range a.Unjudged {
		b.WriteString(wrap(sentence(fmt.Sprintf("job %d: %s", u.Job, u.Why)), textWidth, "- ", "  "))
	}
	if len(a.Notes) > 0 {
		b.WriteString("\n")
	}
	for _, n := range a.Notes {
		b.WriteString(wrap(upper(sentence(n)), textWidth, "", "  "))
	}
	return b.String()
}

func answerRows(a questions.Answer) string {
	titles := make([]string, len(a.Columns))
	for i, c := range a.Columns {
		titles[i] = c.Title
	}
	var lines [][]string
	for _, r := range a.Rows {
		lines = append(lines, r.Cells)
	}
	text := table(titles, lines)
	wide := 0
	for line := range strings.Lines(text) {
		wide = max(wide, width(strings.TrimRight(line, "\n")))
	}
	if wide <= textWidth {
		return text
	}
	var b strings.Builder
	for _, r := range a.Rows {
		var parts []string
		for i, cell := range r.Cells {
			if cell != "" && i < len(titles) {
				parts = append(parts, titles[i]+": "+cell)
			}
		}
		b.WriteString(wrap(strings.Join(parts, "; "), textWidth, "- ", "  "))
	}
	return b.String()
}
