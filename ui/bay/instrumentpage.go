package bay

import (
	"fmt"
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
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
	in, title := register.Instrument{Status: register.InUse}, phrase.Of("bay.instrumentpage.an-instrument-for-the-register")
	if old != nil {
		in, title = *old, phrase.Of("bay.instrumentpage.serial-number", old.ID, phrase.Word(old.Kind), old.Serial)
	}
	var rows []pageRow
	if old == nil {
		id := textRow("id", phrase.Of("bay.instrumentpage.number"), "", phrase.Of("bay.instrumentpage.the-short-number-marked-on-the-tool"))
		kind := choiceRow("kind", phrase.Of("bay.instrumentpage.kind"), "", register.Kinds(), phrase.Words(register.Kinds()), phrase.Of("bay.instrumentpage.a-setting-wrench-clicks-at-the-value"))
		serial := textRow("serial", phrase.Of("bay.instrumentpage.serial-number-2"), "", phrase.Of("bay.instrumentpage.what-is-stamped-on-it-it-stands"))
		rows = append(rows, id, kind, serial)
	}
	rows = append(rows, s.valueRows(in)...)
	s.page = page{title: title, rows: append(rows, s.paperRows(in)...), last: phrase.Of("bay.instrumentpage.write-it-down")}
	return s
}

// valueRows asks what it reads.
func (s *instrumentPage) valueRows(in register.Instrument) []pageRow {
	name := textRow("title", phrase.Of("bay.instrumentpage.name"), in.Title, phrase.Of("bay.instrumentpage.what-it-is-called-here-it-may"))
	name.optional = true
	scales := textRow("scales", phrase.Of("bay.instrumentpage.scales"), scaleWords(in.Scales), phrase.Of("bay.instrumentpage.every-unit-that-is-really-on-it"))
	scales.check = func(text string) error { _, err := parseScales(text); return err }
	low := textRow("low", phrase.Of("bay.instrumentpage.reads-from"), in.Low.String(), phrase.Of("bay.instrumentpage.the-lowest-value-of-its-range"))
	high := textRow("high", phrase.Of("bay.instrumentpage.reads-to"), in.High.String(), phrase.Of("bay.instrumentpage.the-highest-value-of-its-range"))
	step := textRow("step", phrase.Of("bay.instrumentpage.smallest-step"), in.Resolution.String(), phrase.Of("bay.instrumentpage.the-smallest-difference-that-can-be-read"))
	for _, r := range []*pageRow{&low, &high, &step} {
		r.check = func(text string) error { _, err := s.value(text); return err }
	}
	limit := textRow("error", phrase.Of("bay.instrumentpage.largest-error"), in.Error.String(), phrase.Of("bay.instrumentpage.from-the-certificate-per-cent-of-the"))
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
	pulls := textRow("pulls", phrase.Of("bay.instrumentpage.pulls-at-most"), limit, phrase.Of("bay.instrumentpage.how-many-pulls-until-it-is-calibrated"))
	pulls.optional, pulls.check = true, pullsCheck
	cal := textRow("calibrated", phrase.Of("bay.instrumentpage.calibrated-on"), in.Calibrated, phrase.Of("bay.instrumentpage.the-date-of-the-certificate-as-year"))
	due := textRow("due", phrase.Of("bay.instrumentpage.due-on"), in.Due, phrase.Of("bay.certificatepage.the-last-day-it-may-be-used"))
	cal.check, due.check = isDate, isDate
	statuses := []string{string(register.InUse), string(register.Dropped), string(register.Withdrawn)}
	status := choiceRow("status", phrase.Of("bay.instrumentpage.status"), string(in.Status), statuses, []string{phrase.Word(register.InUse), phrase.Of("bay.instrumentpage.dropped-or-overloaded-out-of-use-until"), phrase.Word(register.Withdrawn)}, phrase.Of("bay.instrumentpage.a-tool-that-was-dropped-comes-back"))
	status.check = s.statusCheck
	note := textRow("note", phrase.Of("bay.instrumentpage.note"), in.StatusNote, phrase.Of("bay.instrumentpage.why-it-is-out-of-use-it"))
	note.optional = true
	return []pageRow{textRow("certificate", phrase.Of("bay.instrumentpage.certificate"), in.Certificate, phrase.Of("bay.instrumentpage.the-number-of-its-calibration-certificate")), cal, due, pulls, status, note}
}

func pullsCheck(text string) error {
	if n, err := strconv.Atoi(text); err != nil || n < 1 {
		return phrase.Error("bay.instrumentpage.is-no-number-of-pulls-expected-a", text)
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
		return phrase.Error("bay.instrumentpage.is-it-comes-back-into-use-with", s.old.ID, s.old.Status)
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
func (s *instrumentPage) Head(*Env) string {
	return phrase.Of("bay.instrumentpage.register-instruments")
}

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
		return phrase.Of("bay.instrumentpage.is-on-the-register-as-typed", tool.ID), f.PutInstrument(by, tool)
	}}
}

// View shows the page.
func (s *instrumentPage) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }
