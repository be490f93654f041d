package command

import (
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
)

// listFormat is the version of the JSON that pawl list writes.
const listFormat = 1

func (p *Program) listCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "list",
		Short: phrase.Of("command.list.every-job-of-the-file-newest-first"),
		Args:  exactArgs(0, phrase.Of("command.list.no-arguments")),
	}
	as := formFlag(c)
	c.RunE = func(*cobra.Command, []string) error {
		return p.with(func(f *store.File) error {
			jobs, err := f.Jobs()
			if err != nil {
				return err
			}
			w, _ := f.Workshop()
			if *as == formJSON {
				return writeJSON(p.Out, listObject(w, jobs))
			}
			_, err = io.WriteString(p.Out, listText(w, jobs))
			return err
		})
	}
	return c
}

func listObject(w store.Workshop, jobs []store.Summary) object {
	o := object{}
	o.add("format", listFormat)
	o.add("workshop", w.Name)
	o.add("demo", w.Demo)
	lines := []object{}
	for _, j := range jobs {
		l := object{}
		l.add("job", j.Number)
		l.add("vehicle", j.Vehicle)
		l.add("procedure", j.Procedure)
		l.add("complaint", j.Complaint)
		l.add("opened", stamp(j.Opened))
		l.add("last", stamp(j.Last))
		l.add("last_by", j.LastBy)
		l.add("status", string(j.Status))
		l.add("done", j.Done)
		l.add("of", j.Of)
		l.add("open", orNone(j.Open))
		l.add("stage", plain(j.Stage))
		l.add("second_owed", j.SecondOwed)
		l.add("demo", j.Demo)
		lines = append(lines, l)
	}
	o.add("jobs", lines)
	return o
}

func orNone(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// stamp is a time as JSON shows it: RFC 3339 with milliseconds and the offset of the station.
func stamp(t time.Time) string { return t.Format("2006-01-02T15:04:05.000Z07:00") }

func listText(w store.Workshop, jobs []store.Summary) string {
	var b strings.Builder
	if w.Demo {
		b.WriteString(demoLine + "\n")
	}
	if len(jobs) == 0 {
		b.WriteString(phrase.Of("command.list.no-jobs-yet"))
		return b.String()
	}
	for _, j := range jobs {
		fmt.Fprintln(&b, phrase.Of("command.list.job-of-stages", j.Number, visible(j.Vehicle.ID+" "+j.Vehicle.Name), j.Status, j.Done, j.Of))
		line := func(title, text string) {
			if text != "" {
				b.WriteString(wrap(text, textWidth, "  "+pad(title, 10)+"  ", strings.Repeat(" ", 14)))
			}
		}
		line(phrase.Of("command.list.work"), j.Procedure)
		line(phrase.Of("command.list.complaint"), j.Complaint)
		line(phrase.Of("command.list.now"), j.Stage)
		line(phrase.Of("command.list.open"), strings.Join(j.Open, "; "))
		if j.SecondOwed > 0 {
			line(phrase.Of("command.list.owed"), phrase.Of("command.list.stages-wait-for-a-second-person", j.SecondOwed))
		}
		line(phrase.Of("command.list.last-entry"), phrase.Of("command.list.by", j.Last.Format("2006-01-02 15:04"), j.LastBy.Name))
	}
	return b.String()
}

// demoLine stands on every page that shows invented content.
var demoLine = phrase.Of("command.list.demo-everything-here-is-invented-people")
