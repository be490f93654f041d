package bay

import (
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// Names of the dialogs about instruments.
const (
	droppedName   = "instrument-dropped"
	withdrawnName = "instrument-withdrawn"
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
	off := mayDo(e, procedures.Mechanic, phrase.Of("bay.registrytools.changes-the-register-of-instruments"))
	in, ok := s.tool(e)
	change, drop, out := off, off, off
	switch {
	case off != "":
	case !ok:
		change, drop, out = phrase.Of("bay.registrytools.there-is-no-instrument-on-this-list"), phrase.Of("bay.registrytools.there-is-no-instrument-on-this-list"), phrase.Of("bay.registrytools.there-is-no-instrument-on-this-list")
	case in.Status == register.Dropped:
		drop = phrase.Of("bay.registrytools.is-marked-as-dropped-already", in.ID)
	case in.Status == register.Withdrawn:
		out = phrase.Of("bay.registrytools.is-withdrawn-already", in.ID)
		drop = out
	}
	return []Binding{{Key: "A", Word: phrase.Of("bay.registrytools.add"), Off: off, Bar: true}, {Key: "E", Word: phrase.Of("bay.registrytools.change"), Off: change, Bar: true},
		{Key: "D", Word: phrase.Of("bay.registrytools.dropped"), Off: drop, Bar: true}, {Key: "W", Word: phrase.Of("bay.registrytools.withdraw-2"), Off: out, Bar: true}}
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
		return Ask{Name: droppedName, Dialog: newWords(phrase.Of("bay.registrytools.was-dropped-or-overloaded", in.ID), []line{{text: phrase.Of("bay.registrytools.it-may-not-be-used-until-it")}}, phrase.Of("bay.registrytools.say-in-a-few-words-what-happened"))}
	case l == 'W':
		s.about = in.ID
		return Ask{Name: withdrawnName, Dialog: newWords(phrase.Of("bay.registrytools.withdraw", in.ID), []line{{text: phrase.Of("bay.registrytools.it-goes-out-of-use-the-records")}}, phrase.Of("bay.registrytools.say-in-a-few-words-why-esc"))}
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
		return phrase.Of("bay.registrytools.is-and-may-not-be-used", in.ID, in.Status), f.PutInstrument(by, in)
	}}
}

// validity is one word on whether an instrument may be used, and a sentence about it.
func validity(in register.Instrument, now time.Time) (word, words string, role draw.Role) {
	err := in.UsableAt(now)
	switch {
	case in.Status != register.InUse:
		return strings.ToUpper(phrase.Word(in.Status)), sentence(err.Error()), draw.Bad
	case err != nil && now.Format(time.DateOnly) > in.Due:
		return phrase.Of("bay.registrytools.ran-out"), sentence(err.Error()), draw.Bad
	case err != nil:
		return phrase.Of("bay.registrytools.not-yet"), sentence(err.Error()), draw.Bad
	}
	due, err := time.Parse(time.DateOnly, in.Due)
	today, err2 := time.Parse(time.DateOnly, now.Format(time.DateOnly))
	if err != nil || err2 != nil {
		return phrase.Of("bay.registrytools.valid"), phrase.Of("bay.registrytools.valid-today-until", in.Due), draw.Good
	}
	switch days := int(due.Sub(today).Hours() / 24); {
	case days == 0:
		return phrase.Of("bay.registrytools.last-day"), phrase.Of("bay.registrytools.valid-today-for-the-last-time-the"), draw.Warn
	case days <= soon:
		return phrase.Of("bay.registrytools.ends-soon"), phrase.Of("bay.registrytools.valid-today-the-certificate-ends-in-on", phrase.Count("count.day", days), in.Due), draw.Warn
	default:
		return phrase.Of("bay.registrytools.valid"), phrase.Of("bay.registrytools.valid-today-and-until", in.Due, phrase.Count("count.day", days)), draw.Good
	}
}

func rangeWords(e *Env, in register.Instrument) string {
	if in.Low.Unit == in.High.Unit {
		return phrase.Of("bay.registrytools.to", e.decimals(in.Low.Number), e.number(in.High))
	}
	return phrase.Of("bay.registrytools.to", e.number(in.Low), e.number(in.High))
}

func scaleWords(us []quantity.Unit) string {
	out := make([]string, len(us))
	for i, u := range us {
		out[i] = string(u)
	}
	return strings.Join(out, ", ")
}

func (s *registry) toolList(e *Env, tb draw.Table) (draw.Table, []line) {
	tb.Empty = phrase.Of("bay.registrytools.no-instrument-is-on-the-register-without")
	tb.Headings = []draw.Heading{{Title: phrase.Of("bay.registrytools.nr")}, {Title: phrase.Of("bay.registrytools.kind")}, {Title: phrase.Of("bay.registrytools.range")}, {Title: phrase.Of("bay.registrytools.error"), Right: true}, {Title: phrase.Of("bay.registrytools.due")}, {Title: phrase.Of("bay.registrytools.today")}}
	for _, in := range e.Register.Instruments {
		word, _, _ := validity(in, e.Now)
		tb.Rows = append(tb.Rows, cells(in.ID, phrase.Word(in.Kind), rangeWords(e, in), e.number(in.Error), in.Due, word))
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
		{text: phrase.Of("bay.registrytools.scales-reads-to-serial-number", scaleWords(in.Scales), e.number(in.Resolution), in.Serial)},
		{text: phrase.Of("bay.registrytools.certificate-of", in.Certificate, in.Calibrated)}}
	if in.CycleLimit > 0 {
		about = append(about, line{text: phrase.Of("bay.registrytools.to-be-calibrated-again-after-pulls-at", in.CycleLimit)})
	}
	return tb, about
}
