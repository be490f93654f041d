package bay

import (
	"fmt"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// jobs lists the jobs in the bay.
type jobs struct {
	list   []store.Summary
	loaded bool
	at     int
	number field // a job number being typed
}

func newJobs() *jobs { return &jobs{number: field{most: 8}} }

// Head is the name of the workshop.
func (s *jobs) Head(e *Env) string { return e.Workshop.Name }

// Focus takes digits of a job number.
func (s *jobs) Focus() Focus { return FocusNone }

// Keys are the ways from here.
func (s *jobs) Keys(e *Env) []Binding {
	off := ""
	if len(s.list) == 0 && s.number.text == "" {
		off = phrase.Of("bay.jobs.there-is-no-job-to-open-n")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.jobs.open"), Off: off, Bar: true}, {Key: "N", Word: phrase.Of("bay.jobs.new-job"), Bar: true},
		{Key: "F", Word: phrase.Of("bay.jobs.finished"), Bar: true}, {Key: "D", Word: phrase.Of("bay.jobs.desk"), Off: deskOff(e), Bar: true}, {Key: "R", Word: phrase.Of("bay.jobs.register"), Bar: true}, {Key: "H", Word: phrase.Of("bay.jobs.hand-over"), Bar: true},
		{Key: "W", Word: phrase.Of("bay.jobs.who-waits"), Bar: true}, {Key: "U", Word: phrase.Of("bay.jobs.follow-ups"), Bar: true}, {Key: "P", Word: phrase.Of("bay.jobs.practice-2"), Bar: true}, {Key: "B", Word: phrase.Of("bay.jobs.bench"), Bar: true},
		{Key: "Up Down", Word: phrase.Of("bay.jobs.move"), Bar: true}, {Key: "0 1 2 3 4 5 6 7 8 9 Backspace", Word: phrase.Of("bay.jobs.job-number")}, {Key: "Esc", Word: phrase.Of("bay.jobs.leave"), Bar: true}}
}

// Update moves and opens.
func (s *jobs) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "jobs", Do: func(f *store.File) (any, error) { return inTheBay(f) }}
	case Result:
		list, ok := in.Value.([]store.Summary)
		if in.Err != nil || !ok {
			return Say{Text: phrase.Of("bay.finished.the-jobs-cannot-be-read", in.Err), Role: draw.Bad}
		}
		s.list, s.loaded = list, true
		s.at = max(min(s.at, len(list)-1), 0)
	case Answer:
		return handedOver(in)
	case Scan:
		return s.scanned(string(in))
	case Key:
		return s.key(e, in)
	}
	return ignore(in)
}

// inTheBay reads the jobs that are not closed.
func inTheBay(f *store.File) ([]store.Summary, error) {
	all, err := f.Jobs()
	var out []store.Summary
	for _, j := range all {
		if j.Status != "closed" {
			out = append(out, j)
		}
	}
	return out, err
}

func (s *jobs) key(e *Env, k Key) Action {
	switch {
	case k.Digit() >= 0 || k.Sym == Erase:
		s.number.take(k, FocusNumber)
		return nil
	case k.Sym == Esc && s.number.text != "":
		s.number.clear()
		return nil
	case k.Sym == Esc:
		return leave()
	case k.Sym == Up:
		s.at = max(s.at-1, 0)
		return nil
	case k.Sym == Down:
		s.at = max(min(s.at+1, len(s.list)-1), 0)
		return nil
	case k.Sym == Enter && s.number.text != "":
		return s.byNumber()
	case k.Sym == Enter && s.at < len(s.list):
		return Push{newJobScreen(s.list[s.at].Number)}
	}
	switch k.Letter() {
	case 'N':
		return Push{newNewJob()}
	case 'F':
		return Push{newFinished()}
	case 'D':
		return Push{newDesk()}
	case 'R':
		return Push{newRegister()}
	case 'W':
		return Push{newWaiting()}
	case 'U':
		return Push{newFollowUps()}
	case 'P':
		return Push{newProgress()}
	case 'B':
		return Push{newBench()}
	case 'H':
		return handOver(e)
	}
	return Unknown{}
}

// byNumber opens the job typed. What was typed is not said again: it may have been a code, typed where
// everybody can read it.
func (s *jobs) byNumber() Action {
	text := s.number.text
	s.number.clear()
	for _, j := range s.list {
		if fmt.Sprint(j.Number) == text {
			return Push{newJobScreen(j.Number)}
		}
	}
	return Say{Text: phrase.Of("bay.jobs.no-job-in-the-bay-has-the"), Role: draw.Warn}
}

// scanned opens the job of a vehicle.
func (s *jobs) scanned(text string) Action {
	for _, j := range s.list {
		if strings.EqualFold(j.Vehicle.ID, text) || strings.EqualFold(j.Vehicle.VIN, text) {
			return Push{newJobScreen(j.Number)}
		}
	}
	return Say{Text: phrase.Of("bay.jobs.is-no-vehicle-with-a-job-in", text), Role: draw.Warn}
}

// View shows the table and more of the marked job.
func (s *jobs) View(e *Env, w, h int) string {
	t := e.Theme
	if !s.loaded {
		return ""
	}
	tb := draw.Table{Selected: s.at, Empty: phrase.Of("bay.jobs.no-job-is-in-the-bay-n"),
		Headings: []draw.Heading{{Title: phrase.Of("bay.jobs.job-2"), Right: true}, {Title: phrase.Of("bay.jobs.vehicle")}, {Title: phrase.Of("bay.jobs.stage")}, {Title: phrase.Of("bay.jobs.done"), Right: true}, {Title: phrase.Of("bay.jobs.open"), Right: true}, {Title: phrase.Of("bay.jobs.state")}}}
	for _, j := range s.list {
		row := []draw.Cell{{Text: fmt.Sprint(j.Number)}, {Text: j.Vehicle.ID}, {Text: sideFirst(j.Stage)},
			{Text: fmt.Sprintf("%d/%d", j.Done, j.Of)}, {Text: fmt.Sprint(len(j.Open))}, {Text: statusWords(j)}}
		if w >= wideFrom {
			row[1].Text += " " + j.Vehicle.Name
			row = append(row, draw.Cell{Text: since(e.Now, j.Last) + " " + j.LastBy.Name})
		}
		tb.Rows = append(tb.Rows, row)
	}
	if w >= wideFrom {
		tb.Headings = append(tb.Headings, draw.Heading{Title: phrase.Of("bay.jobs.last-entry")})
	}
	title := t.Style(draw.Title, phrase.Of("bay.jobs.jobs-in-the-bay", len(s.list)))
	if s.number.text != "" {
		title += t.Style(draw.Text, phrase.Of("bay.jobs.job-number-2")) + s.number.draw(t, 12, true)
	}
	if len(s.list) == 0 {
		return title + "\n\n" + t.Fit(tb.Draw(t, w-2, h-2), w, h-2)
	}
	detail := s.detail(t, s.list[s.at], e.Now, w-2)
	room := max(h-2-len(detail)-1, 4)
	out := []string{title, "", tb.Draw(t, w-1, room), t.Style(draw.Frame, strings.Repeat(t.Glyphs.Across, w))}
	for _, l := range detail {
		out = append(out, " "+l)
	}
	return strings.Join(out, "\n")
}

// detail is what the marked job is about.
func (s *jobs) detail(t *draw.Theme, j store.Summary, now time.Time, w int) []string {
	demo := ""
	if j.Demo {
		demo = t.Style(draw.Warn, phrase.Of("bay.jobs.demo")) + " "
	}
	out := []string{demo + t.Style(draw.Title, phrase.Of("bay.jobs.job", j.Number, j.Vehicle.ID, j.Vehicle.Name)),
		t.Style(draw.Text, j.Procedure), t.Style(draw.Text, t.Truncate(t.Plain(phrase.Of("bay.jobs.complaint", j.Complaint)), w)),
		t.Style(draw.Text, phrase.Of("bay.jobs.opened-last-entry-by", j.Opened.Format("2006-01-02 15:04"), since(now, j.Last), j.LastBy.Name))}
	if len(j.Open) > 0 {
		out = append(out, t.Style(draw.Standing, phrase.Of("bay.jobs.still-open"))+" "+t.Style(draw.Text, t.Truncate(t.Plain(strings.Join(j.Open, ", ")), w-15)))
	} else {
		out = append(out, t.Style(draw.Good, phrase.Of("bay.jobs.nothing-stands-open")))
	}
	return out
}

func statusWords(j store.Summary) string {
	words := phrase.Word(j.Status)
	if j.SecondOwed > 0 {
		owed := phrase.Of("bay.jobs.owed", phrase.Count("count.countersign", j.SecondOwed))
		if j.Status == store.InBay {
			words = owed // that it is in the bay says the list
		} else {
			words += ", " + owed
		}
	}
	if j.Practice {
		words = phrase.Of("bay.jobs.practice", words)
	}
	return words
}

// sideFirst puts the side of a stage before its title, where a narrow column does not cut it.
func sideFirst(title string) string {
	for _, side := range []procedures.Side{procedures.Left, procedures.Right} {
		if rest, ok := strings.CutSuffix(title, ", "+phrase.Word(side)); ok {
			return strings.ToUpper(phrase.Word(side)) + " " + rest
		}
	}
	return title
}

// since is a time as people say it: the hour for today, the day before that.
func since(now, at time.Time) string {
	if now.Format(time.DateOnly) == at.In(now.Location()).Format(time.DateOnly) {
		return at.In(now.Location()).Format("15:04")
	}
	return at.In(now.Location()).Format("2006-01-02")
}
