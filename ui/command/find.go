package command

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
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
		Short: phrase.Of("command.find.answer-a-question-over-all-jobs-or"),
		Long:  phrase.Of("command.find.answers-one-of-the-named-questions-over"),
	}
	c.Flags().StringVar(&as, "as", as, phrase.Of("command.find.text-json-or-csv"))
	c.Flags().StringVar(&q.Text, "words", "", phrase.Of("command.find.words-a-job-has-to-hold-all"))
	c.Flags().StringVar(&q.Vehicle, "vehicle", "", phrase.Of("command.find.id-of-a-vehicle-for-the-search"))
	c.Flags().StringVar(&q.From, "from", "", phrase.Of("command.find.worked-on-since-this-day-for-the"))
	c.Flags().StringVar(&q.To, "to", "", phrase.Of("command.find.worked-on-until-this-day-for-the"))
	c.Flags().StringVar(&q.Outcome, "outcome", "", phrase.Of("command.find.how-the-work-ended-or-open-for"))
	c.Flags().StringVar(&q.Exception, "exception", "", phrase.Of("command.find.a-kind-of-exception-for-the-search"))
	c.RunE = func(c *cobra.Command, args []string) error {
		searching := false
		for _, name := range []string{"words", "vehicle", "from", "to", "outcome", "exception"} {
			searching = searching || c.Flags().Changed(name)
		}
		switch {
		case as != formText && as != formJSON && as != formCSV:
			return misused("%s", phrase.Of("command.find.as-expected-text-json-or-csv", as))
		case searching && len(args) > 0:
			return misused("%s", phrase.Of("command.find.words-and-its-filters-search-jobs-the"))
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
		return nil, misused("%s", phrase.Of("command.find.no-question-is-called-pawl-find-lists", args[0]))
	}
	q := list[i]
	given := map[string]string{}
	for _, a := range args[1:] {
		name, value, named := strings.Cut(a, "=")
		if !named {
			k := slices.IndexFunc(q.Params, func(x questions.Param) bool { _, have := given[x.Name]; return !have && !x.Optional && x.Default == "" })
			if k < 0 {
				return nil, misused("%s", phrase.Of("command.find.has-no-name-and-needs-no-more", a, q.Name))
			}
			name, value = q.Params[k].Name, a
		}
		k := slices.IndexFunc(q.Params, func(x questions.Param) bool { return x.Name == name })
		if k < 0 {
			return nil, misused("%s", phrase.Of("command.find.has-no-parameter-it-takes", q.Name, name, paramWords(q)))
		}
		if _, twice := given[name]; twice {
			return nil, misused("%s", phrase.Of("command.find.is-given-twice", name))
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
				line += phrase.Of("command.find.such-as-2026-03-31")
			case x.Kind == questions.Moment:
				line += phrase.Of("command.find.such-as-2026-03-03-10-12")
			}
			if x.Default != "" {
				line += phrase.Of("command.find.when-not-given", x.Default)
			}
			if x.Name != "from" && x.Name != "to" {
				b.WriteString(wrap(line, textWidth, "        ", "          "))
			}
		}
	}
	b.WriteString(phrase.Of("command.find.in-brackets-may-be-left-out-from"))
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
	b.WriteString(wrap(phrase.Capital(sentence(a.Found())), textWidth, "", ""))
	b.WriteString(wrap(phrase.Of("command.find.span-as-of-searched-could-not-be", a.Span(), a.AsOf.Format("2006-01-02 15:04"), a.Revision, phrase.Count("count.record", a.Searched), len(a.Unjudged)), textWidth, "", ""))
	if len(a.Rows) > 0 {
		b.WriteString("\n" + answerRows(a))
	}
	if len(a.Unjudged) > 0 {
		b.WriteString(phrase.Of("command.find.could-not-be-judged"))
	}
	for _, u := range a.Unjudged {
		b.WriteString(wrap(sentence(phrase.Of("command.find.job", u.Job, u.Why)), textWidth, "- ", "  "))
	}
	if len(a.Notes) > 0 {
		b.WriteString("\n")
	}
	for _, n := range a.Notes {
		b.WriteString(wrap(phrase.Capital(sentence(n)), textWidth, "", "  "))
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
