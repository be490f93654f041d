package command

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/reckon"
)

// historyFormat is the version of the JSON that pawl history writes.
const historyFormat = 1

func (p *Program) historyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "history VEHICLE",
		Short: phrase.Of("command.history.everything-the-record-says-of-one-vehicle"),
		Long:  phrase.Of("command.history.all-visits-the-parts-fitted-and-whether"),
		Args:  exactArgs(1, phrase.Of("command.history.the-number-of-a-vehicle")),
	}
	as := formFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		return p.with(func(f *store.File) error {
			h, err := f.VehicleHistory(c.Context(), args[0])
			if err != nil {
				return err
			}
			if *as == formJSON {
				return writeJSON(p.Out, object{{"format", historyFormat}, {"as_of", stamp(f.Now())}, {"history", h}})
			}
			head := ""
			if w, _ := f.Workshop(); w.Demo || h.Vehicle.Demo {
				head = demoLine + "\n"
			}
			_, err = io.WriteString(p.Out, head+historyText(h))
			return err
		})
	}
	return c
}

func historyText(h questions.History) string {
	var b strings.Builder
	v := h.Vehicle
	b.WriteString(wrap(strings.TrimSpace(phrase.Of("command.history.vehicle", v.ID, v.Name, v.VIN)), textWidth, "", ""))
	if v.Owner != "" {
		b.WriteString(wrap(phrase.Of("command.history.owner", v.Owner), textWidth, "", ""))
	}
	part := func(title, none string, n int, each func(i int) string) {
		b.WriteString("\n" + title + "\n")
		if n == 0 {
			b.WriteString(wrap(none, textWidth, "  ", "  "))
		}
		for i := range n {
			b.WriteString(wrap(each(i), textWidth, "- ", "  "))
		}
	}
	part(phrase.Of("command.history.visits"), phrase.Of("command.history.none-is-on-record"), len(h.Visits), func(i int) string {
		x := h.Visits[i]
		end := phrase.Of("command.history.goes-on")
		if x.Outcome != "" {
			end = x.Outcome
		}
		return phrase.Of("command.history.job-at", x.Opened.Format("2006-01-02"), x.Job, reckon.Words(x.Odometer), x.Work, x.Complaint, end, phrase.Count("count.exception", x.Exceptions))
	})
	part(phrase.Of("command.history.parts-fitted"), phrase.Of("command.history.none-is-on-record"), len(h.Parts), func(i int) string {
		x := h.Parts[i]
		still := phrase.Of("command.history.still-on-as-far-as-this-file")
		if x.Replaced != 0 {
			still = phrase.Of("command.history.replaced-in-job", x.Replaced)
		}
		return phrase.Of("command.history.number-batch-job", x.When.Format("2006-01-02"), x.Title, x.At.Side, orWord(x.Number), orWord(x.Batch), x.Mark, x.Job, still)
	})
	part(phrase.Of("command.history.wear"), phrase.Of("command.history.nothing-was-measured-in-a-visit-that"), len(h.Wear), func(i int) string { return wearText(h.Wear[i]) })
	part(phrase.Of("command.history.roller-tests"), phrase.Of("command.history.none-is-on-record"), len(h.Roller), func(i int) string {
		x := h.Roller[i]
		when := phrase.Of("command.history.after-the-work")
		if x.Before {
			when = phrase.Of("command.history.before-the-work")
		}
		return phrase.Of("command.history.job-left-right-imbalance-parking-brake-left", x.When.Format("2006-01-02"), x.Job, when, reckon.Words(x.Left), reckon.Words(x.Right), percentOr(x.Imbalance), reckon.Words(x.ParkLeft), reckon.Words(x.ParkRight), percentOr(x.Parking), reckon.Words(x.Mass))
	})
	part(phrase.Of("command.history.advice-not-taken"), phrase.Of("command.history.none-is-open"), len(h.Advice), func(i int) string {
		x := h.Advice[i]
		answer := phrase.Of("command.history.no-answer-yet")
		if x.Decided != nil {
			answer = fmt.Sprintf("%s: %s", x.Decided.Answer, x.Decided.Words)
		}
		return phrase.Of("command.history.job", x.At.Format("2006-01-02"), x.Job, phrase.Word(x.Urgency), sentence(x.Text), sentence(answer))
	})
	part(phrase.Of("command.history.promised"), phrase.Of("command.history.nothing-was-promised"), len(h.Owed), func(i int) string {
		x := h.Owed[i]
		due := x.DueDate
		if !x.DueAt.IsZero() {
			due += phrase.Of("command.history.or-at", x.DueAt.String())
		}
		return phrase.Of("command.history.due", strings.ToUpper(string(x.State)), due, sentence(x.What), x.LastWord)
	})
	if len(h.Lost) > 0 {
		part(phrase.Of("command.history.cannot-be-read"), "", len(h.Lost), func(i int) string { return phrase.Of("command.history.job-2", h.Lost[i].Job, h.Lost[i].Why) })
	}
	return b.String()
}

func orWord(s string) string {
	if s == "" {
		return phrase.Of("command.history.not-written-down")
	}
	return s
}

func percentOr(s string) string {
	if s == "" {
		return phrase.Of("command.history.cannot-be-worked-out")
	}
	return s + " %"
}

// wearText is one wear line with its readings and forecast.
func wearText(l questions.WearLine) string {
	var at []string
	for _, v := range l.Visits {
		new := ""
		if v.New {
			new = phrase.Of("command.history.new")
		}
		at = append(at, phrase.Of("command.history.at", v.Value, new, v.Odometer))
	}
	text := phrase.Of("command.history.limit", strings.Replace(l.Figure, "/", ", ", 1), strings.Join(at, ", "), reckon.Words(l.Limit))
	if l.Forecast == nil {
		return phrase.Of("command.history.no-forecast", text, sentence(orWord(l.Why)))
	}
	left := brakes.TwoFigures(l.Forecast.CautiousRemaining)
	if plain := brakes.TwoFigures(l.Forecast.Remaining); plain != left {
		left += phrase.Of("command.history.cautiously-to", plain)
	}
	return phrase.Of("command.history.left", text, left)
}
