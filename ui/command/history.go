package command

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/reckon"
)

// historyFormat is the version of the JSON that pawl history writes.
const historyFormat = 1

func (p *Program) historyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "history VEHICLE",
		Short: "Everything the record says of one vehicle",
		Long: `All visits, the parts fitted and whether they are still on, wear with its forecast,
roller figures before and after, advice not taken, and what was promised.`,
		Args: exactArgs(1, "the number of a vehicle"),
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
	b.WriteString(wrap(strings.TrimSpace(fmt.Sprintf("Vehicle %s %s %s", v.ID, v.Name, v.VIN)), textWidth, "", ""))
	if v.Owner != "" {
		b.WriteString(wrap("Owner: "+v.Owner, textWidth, "", ""))
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
	part("Visits", "None is on record.", len(h.Visits), func(i int) string {
		x := h.Visits[i]
		end := "goes on"
		if x.Outcome != "" {
			end = x.Outcome
		}
		return fmt.Sprintf("%s job %d at %s: %s; %s; %s, %s", x.Opened.Format("2006-01-02"), x.Job, reckon.Words(x.Odometer), x.Work, x.Complaint, end, counted(x.Exceptions, "exception"))
	})
	part("Parts fitted", "None is on record.", len(h.Parts), func(i int) string {
		x := h.Parts[i]
		still := "still on, as far as this file knows"
		if x.Replaced != 0 {
			still = fmt.Sprintf("replaced in job %d", x.Replaced)
		}
		return fmt.Sprintf("%s %s %s: number %s, batch %s %s; job %d; %s", x.When.Format("2006-01-02"), x.Title, x.At.Side, orWord(x.Number), orWord(x.Batch), x.Mark, x.Job, still)
	})
	part("Wear", "Nothing was measured in a visit that has ended.", len(h.Wear), func(i int) string { return wearText(h.Wear[i]) })
	part("Roller tests", "None is on record.", len(h.Roller), func(i int) string {
		x := h.Roller[i]
		when := "after the work"
		if x.Before {
			when = "before the work"
		}
		return fmt.Sprintf("%s job %d, %s: left %s, right %s, imbalance %s; parking brake left %s, right %s, efficiency %s; mass %s", x.When.Format("2006-01-02"), x.Job, when,
			reckon.Words(x.Left), reckon.Words(x.Right), percentOr(x.Imbalance), reckon.Words(x.ParkLeft), reckon.Words(x.ParkRight), percentOr(x.Parking), reckon.Words(x.Mass))
	})
	part("Advice not taken", "None is open.", len(h.Advice), func(i int) string {
		x := h.Advice[i]
		answer := "no answer yet"
		if x.Decided != nil {
			answer = fmt.Sprintf("%s: %s", x.Decided.Answer, x.Decided.Words)
		}
		return fmt.Sprintf("%s job %d (%s): %s %s", x.At.Format("2006-01-02"), x.Job, x.Urgency, sentence(x.Text), sentence(answer))
	})
	part("Promised", "Nothing was promised.", len(h.Owed), func(i int) string {
		x := h.Owed[i]
		due := x.DueDate
		if !x.DueAt.IsZero() {
			due += " or at " + x.DueAt.String()
		}
		return fmt.Sprintf("%s, due %s: %s %s", strings.ToUpper(string(x.State)), due, sentence(x.What), x.LastWord)
	})
	if len(h.Lost) > 0 {
		part("Cannot be read", "", len(h.Lost), func(i int) string { return fmt.Sprintf("job %d: %s", h.Lost[i].Job, h.Lost[i].Why) })
	}
	return b.String()
}

func orWord(s string) string {
	if s == "" {
		return "not written down"
	}
	return s
}

func percentOr(s string) string {
	if s == "" {
		return "cannot be worked out"
	}
	return s + " %"
}

// wearText is one wear line with its readings and forecast.
func wearText(l questions.WearLine) string {
	var at []string
	for _, v := range l.Visits {
		new := ""
		if v.New {
			new = " (new)"
		}
		at = append(at, fmt.Sprintf("%s%s at %s", v.Value, new, v.Odometer))
	}
	text := fmt.Sprintf("%s: %s; limit %s. ", strings.Replace(l.Figure, "/", ", ", 1), strings.Join(at, ", "), reckon.Words(l.Limit))
	if l.Forecast == nil {
		return text + "No forecast: " + sentence(orWord(l.Why))
	}
	left := brakes.TwoFigures(l.Forecast.CautiousRemaining)
	if plain := brakes.TwoFigures(l.Forecast.Remaining); plain != left {
		left += " cautiously to " + plain
	}
	return text + "Left: " + left + "."
}
