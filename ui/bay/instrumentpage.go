package bay

import (
	"fmt"
	"strconv"
	"strings"

	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/register"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// instrumentPage adds an instrument to the register or changes its entry.
type instrumentPage struct {
	page page
	old  *register.Instrument
}

// newInstrumentPage asks what the register needs of an instrument; old is nil for a new one.
func newInstrumentPage(old *register.Instrument) *instrumentPage {
	s := &instrumentPage{old: old}
	in, title := register.Instrument{Status: register.InUse}, "An instrument for the register"
	if old != nil {
		in, title = *old, fmt.Sprintf("%s, %s, serial number %s", old.ID, old.Kind, old.Serial)
	}
	var rows []pageRow
	if old == nil {
		id := textRow("id", "Number", "", "The short number marked on the tool, such as W3. It is typed and scanned, and never changes.")
		kind := choiceRow("kind", "Kind", "", register.Kinds(), register.Kinds(), "A setting wrench clicks at the value set, a dial wrench is read by eye, an electronic one keeps the peak.")
		serial := textRow("serial", "Serial number", "", "What is stamped on it. It stands on the register once.")
		rows = append(rows, id, kind, serial)
	}
	rows = append(rows, s.valueRows(in)...)
	s.page = page{title: title, rows: append(rows, s.paperRows(in)...), last: "write it down"}
	return s
}

// valueRows asks what it reads.
func (s *instrumentPage) valueRows(in register.Instrument) []pageRow {
	name := textRow("title", "Name", in.Title, "What it is called here. It may stay empty.")
	name.optional = true
	scales := textRow("scales", "Scales", scaleWords(in.Scales), "Every unit that is really on it, separated by commas, such as Nm, lbf-ft. The first one counts where none is typed below.")
	scales.check = func(text string) error { _, err := parseScales(text); return err }
	low := textRow("low", "Reads from", in.Low.String(), "The lowest value of its range.")
	high := textRow("high", "Reads to", in.High.String(), "The highest value of its range.")
	step := textRow("step", "Smallest step", in.Resolution.String(), "The smallest difference that can be read from it.")
	for _, r := range []*pageRow{&low, &high, &step} {
		r.check = func(text string) error { _, err := s.value(text); return err }
	}
	limit := textRow("error", "Largest error", in.Error.String(), "From the certificate: per cent of the reading, such as 4 %, or a value with its unit, such as 0.01 mm. Empty for a setting wrench, micrometer, caliper or dial gauge: the published figure of its class.")
	limit.optional = true
	limit.check = func(text string) error { _, err := quantity.Parse(text, ""); return err }
	return []pageRow{name, scales, low, high, step, limit}
}

// paperRows asks what vouches for it.
func (s *instrumentPage) paperRows(in register.Instrument) []pageRow {
	limit := ""
	if in.CycleLimit > 0 {
		limit = strconv.Itoa(in.CycleLimit)
	}
	pulls := textRow("pulls", "Pulls at most", limit, "How many pulls until it is calibrated again, for wrenches. Empty where only the date counts.")
	pulls.optional, pulls.check = true, pullsCheck
	cal := textRow("calibrated", "Calibrated on", in.Calibrated, "The date of the certificate, as year-month-day such as 2026-03-31.")
	due := textRow("due", "Due on", in.Due, "The last day it may be used, as year-month-day.")
	cal.check, due.check = isDate, isDate
	statuses := []string{string(register.InUse), string(register.Dropped), string(register.Withdrawn)}
	status := choiceRow("status", "Status", string(in.Status), statuses, []string{"in use", "dropped or overloaded: out of use until calibrated", "withdrawn"}, "A tool that was dropped comes back into use with a new certificate only.")
	status.check = s.statusCheck
	note := textRow("note", "Note", in.StatusNote, "Why it is out of use. It may stay empty.")
	note.optional = true
	return []pageRow{textRow("certificate", "Certificate", in.Certificate, "The number of its calibration certificate."), cal, due, pulls, status, note}
}

func pullsCheck(text string) error {
	if n, err := strconv.Atoi(text); err != nil || n < 1 {
		return fmt.Errorf("%q is no number of pulls; expected a whole number such as 5000, or nothing", text)
	}
	return nil
}

// parseScales reads units separated by commas.
func parseScales(text string) ([]quantity.Unit, error) {
	var out []quantity.Unit
	for part := range strings.SplitSeq(text, ",") {
		u, err := quantity.ParseUnit(strings.TrimSpace(part))
		if err != nil {
			return nil, err
		}
		out = append(out, u)
	}
	return out, nil
}

// value reads a quantity, in the first scale where no unit is typed.
func (s *instrumentPage) value(text string) (quantity.Quantity, error) {
	unit := quantity.Unit("")
	if us, err := parseScales(s.page.value("scales")); err == nil {
		unit = us[0]
	}
	return quantity.Parse(text, unit)
}

// statusCheck lets a tool that was out of use come back only with a new certificate.
func (s *instrumentPage) statusCheck(text string) error {
	if s.old == nil || s.old.Status == register.InUse || text != string(register.InUse) {
		return nil
	}
	if s.page.value("certificate") == s.old.Certificate || s.page.value("calibrated") <= s.old.Calibrated {
		return fmt.Errorf("%s is %s: it comes back into use with a new certificate and a later date; go up and type them", s.old.ID, s.old.Status)
	}
	return nil
}

// instrument is what the page says.
func (s *instrumentPage) instrument() (register.Instrument, error) {
	in := register.Instrument{ID: s.page.value("id"), Kind: s.page.value("kind"), Serial: s.page.value("serial")}
	if s.old != nil {
		in = *s.old
	}
	in.Title, in.Certificate, in.Calibrated, in.Due = s.page.value("title"), s.page.value("certificate"), s.page.value("calibrated"), s.page.value("due")
	in.Status, in.StatusNote = register.Status(s.page.value("status")), s.page.value("note")
	in.CycleLimit = 0
	if n, err := strconv.Atoi(s.page.value("pulls")); err == nil {
		in.CycleLimit = n
	}
	var err error
	if in.Scales, err = parseScales(s.page.value("scales")); err != nil {
		return in, err
	}
	for _, x := range []struct {
		row string
		to  *quantity.Quantity
	}{{"low", &in.Low}, {"high", &in.High}, {"step", &in.Resolution}} {
		if *x.to, err = s.value(s.page.value(x.row)); err != nil {
			return in, err
		}
	}
	if text := s.page.value("error"); text == "" {
		in.Error, err = register.DefaultError(in.Kind, in.High, in.Resolution)
	} else {
		in.Error, err = quantity.Parse(text, "")
	}
	if err != nil {
		return in, err
	}
	return in, in.Check()
}

// Head says what this is.
func (s *instrumentPage) Head(*Env) string { return "Register: instruments" }

// Focus is the row's.
func (s *instrumentPage) Focus() Focus { return s.page.focus() }

// Keys are the row's.
func (s *instrumentPage) Keys(*Env) []Binding { return s.page.keys() }

// Update fills the page in and writes it.
func (s *instrumentPage) Update(e *Env, in Input) Action {
	if r, ok := in.(Result); ok {
		if r.Err != nil {
			return Say{Text: sentence(r.Err.Error()), Role: draw.Bad}
		}
		return Many{Pop{}, Say{Text: fmt.Sprint(r.Value), Role: draw.Good}}
	}
	act, done := s.page.update(in)
	if !done {
		return act
	}
	tool, err := s.instrument()
	if err != nil {
		return Say{Text: sentence(err.Error()), Role: draw.Warn}
	}
	by := e.Person
	return Call{Name: "instrument", Do: func(f *store.File) (any, error) {
		return tool.ID + " is on the register as typed", f.PutInstrument(by, tool)
	}}
}

// View shows the page.
func (s *instrumentPage) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }
