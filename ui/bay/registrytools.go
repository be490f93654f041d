package bay

import (
	"fmt"
	"strings"
	"time"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// Names of the dialogs about instruments.
const (
	droppedName   = "instrument dropped"
	withdrawnName = "instrument withdrawn"
)

// soon is how many days before the end of a certificate the register warns (common practice, no
// source: time to send the tool in).
const soon = 30

func (s *registry) tool(e *Env) (register.Instrument, bool) {
	if i := s.at[tabTools]; i < len(e.Register.Instruments) {
		return e.Register.Instruments[i], true
	}
	return register.Instrument{}, false
}

func (s *registry) toolKeys(e *Env) []Binding {
	off := mayDo(e, procedures.Mechanic, "changes the register of instruments")
	in, ok := s.tool(e)
	change, drop, out := off, off, off
	switch {
	case off != "":
	case !ok:
		change, drop, out = "There is no instrument on this list", "There is no instrument on this list", "There is no instrument on this list"
	case in.Status == register.Dropped:
		drop = in.ID + " is marked as dropped already"
	case in.Status == register.Withdrawn:
		out = in.ID + " is withdrawn already"
		drop = out
	}
	return []Binding{{Key: "A", Word: "add", Off: off, Bar: true}, {Key: "E", Word: "change", Off: change, Bar: true},
		{Key: "D", Word: "dropped", Off: drop, Bar: true}, {Key: "W", Word: "withdraw", Off: out, Bar: true}}
}

func (s *registry) toolKey(e *Env, k Key) Action {
	in, ok := s.tool(e)
	switch l := k.Letter(); {
	case l == 'A':
		return Push{newInstrumentPage(nil)}
	case !ok:
		return Unknown{}
	case l == 'E':
		return Push{newInstrumentPage(&in)}
	case l == 'D':
		s.about = in.ID
		return Ask{Name: droppedName, Dialog: newWords(in.ID+" was dropped or overloaded", []line{{text: "It may not be used until it has been calibrated again. What happened, and when?"}}, "Say in a few words what happened; Esc goes back and nothing is changed")}
	case l == 'W':
		s.about = in.ID
		return Ask{Name: withdrawnName, Dialog: newWords("Withdraw "+in.ID, []line{{text: "It goes out of use. The records made with it stay as they are. Why?"}}, "Say in a few words why; Esc goes back and nothing is changed")}
	}
	return Unknown{}
}

// markTool writes that an instrument is out of use.
func (s *registry) markTool(e *Env, a Answer) Action {
	note, _ := a.Value.(string)
	in, ok := e.Register.Instrument(s.about)
	if !ok {
		return nil
	}
	in.Status, in.StatusNote = register.Dropped, note
	if a.Name == withdrawnName {
		in.Status = register.Withdrawn
	}
	by := e.Person
	return Call{Name: "mark", Do: func(f *store.File) (any, error) {
		return fmt.Sprintf("%s is %s and may not be used", in.ID, in.Status), f.PutInstrument(by, in)
	}}
}

// validity is one word on whether an instrument may be used, and a sentence about it.
func validity(in register.Instrument, now time.Time) (word, words string, role draw.Role) {
	err := in.UsableAt(now)
	switch {
	case in.Status != register.InUse:
		return strings.ToUpper(string(in.Status)), sentence(err.Error()), draw.Bad
	case err != nil && now.Format(time.DateOnly) > in.Due:
		return "RAN OUT", sentence(err.Error()), draw.Bad
	case err != nil:
		return "NOT YET", sentence(err.Error()), draw.Bad
	}
	due, err := time.Parse(time.DateOnly, in.Due)
	today, err2 := time.Parse(time.DateOnly, now.Format(time.DateOnly))
	if err != nil || err2 != nil {
		return "valid", fmt.Sprintf("Valid today, until %s.", in.Due), draw.Good
	}
	switch days := int(due.Sub(today).Hours() / 24); {
	case days == 0:
		return "last day", "Valid today for the last time: the certificate ends today.", draw.Warn
	case days <= soon:
		return "ends soon", fmt.Sprintf("Valid today; the certificate ends in %s, on %s.", plural(days, "day"), in.Due), draw.Warn
	default:
		return "valid", fmt.Sprintf("Valid today, and until %s: %s.", in.Due, plural(days, "day")), draw.Good
	}
}

func rangeWords(e *Env, in register.Instrument) string {
	if in.Low.Unit == in.High.Unit {
		return e.decimals(in.Low.Number) + " to " + e.number(in.High)
	}
	return e.number(in.Low) + " to " + e.number(in.High)
}

func scaleWords(us []quantity.Unit) string {
	out := make([]string, len(us))
	for i, u := range us {
		out[i] = string(u)
	}
	return strings.Join(out, ", ")
}

func (s *registry) toolList(e *Env, tb draw.Table) (draw.Table, []line) {
	tb.Empty = "No instrument is on the register; without one no value can be recorded. A adds one."
	tb.Headings = []draw.Heading{{Title: "nr"}, {Title: "kind"}, {Title: "range"}, {Title: "error", Right: true}, {Title: "due"}, {Title: "today"}}
	for _, in := range e.Register.Instruments {
		word, _, _ := validity(in, e.Now)
		tb.Rows = append(tb.Rows, cells(in.ID, in.Kind, rangeWords(e, in), e.number(in.Error), in.Due, word))
	}
	in, ok := s.tool(e)
	if !ok {
		return tb, nil
	}
	_, words, role := validity(in, e.Now)
	title := in.Kind
	if in.Title != "" && in.Title != in.Kind {
		title = in.Title + ", " + in.Kind
	}
	about := []line{{role: draw.Title, text: in.ID + "  " + title}, {role: role, text: words},
		{text: fmt.Sprintf("Scales %s; reads to %s; serial number %s", scaleWords(in.Scales), e.number(in.Resolution), in.Serial)},
		{text: fmt.Sprintf("Certificate %s of %s", in.Certificate, in.Calibrated)}}
	if in.CycleLimit > 0 {
		about = append(about, line{text: fmt.Sprintf("To be calibrated again after %d pulls at the latest", in.CycleLimit)})
	}
	return tb, about
}
