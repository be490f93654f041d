package bay

import (
	"context"
	"strings"

	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/register"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// certificatePage enters a certificate. One that found the instrument off opens a recall.
type certificatePage struct {
	page page
}

func newCertificatePage(e *Env) Screen {
	ids, words := []string{}, []string{}
	for _, in := range e.Register.Instruments {
		ids, words = append(ids, in.ID), append(words, strings.TrimSuffix(in.ID+": "+phrase.Word(in.Kind)+", "+in.Title, ", "))
	}
	instrument := choiceRow("instrument", phrase.Of("bay.certificatepage.instrument"), "", ids, words, phrase.Of("bay.certificatepage.the-instrument-the-certificate-is-of-left"))
	number := textRow("number", phrase.Of("bay.certificatepage.certificate"), "", phrase.Of("bay.certificatepage.the-number-on-the-certificate"))
	cal := textRow("calibrated", phrase.Of("bay.certificatepage.calibrated-on"), "", phrase.Of("bay.certificatepage.the-day-of-the-calibration-as-year"))
	clock := textRow("clock", "At", "", phrase.Of("bay.certificatepage.the-time-of-that-day-such-as"))
	due := textRow("due", phrase.Of("bay.certificatepage.due-on"), "", phrase.Of("bay.certificatepage.the-last-day-it-may-be-used"))
	found := textRow("found", phrase.Of("bay.certificatepage.as-found"), "", phrase.Of("bay.certificatepage.how-far-it-was-off-before-it"))
	of := choiceRow("of", phrase.Of("bay.certificatepage.percentage-of"), string(fastening.OfSetting), []string{string(fastening.OfSetting), string(fastening.OfDelivered)},
		[]string{phrase.Of("bay.certificatepage.the-setting-7-5-eans-the-fastener"), phrase.Of("bay.certificatepage.the-torque-delivered-as-many-certificates-print")}, phrase.Of("bay.certificatepage.what-the-percentage-of-a-wrench-is"))
	note := textRow("note", phrase.Of("bay.certificatepage.note"), "", phrase.Of("bay.certificatepage.words-it-may-stay-empty"))
	cal.check, due.check = isDate, isDate
	clock.optional, found.optional, note.optional = true, true, true
	found.check = func(text string) error { _, err := quantity.Parse(text, ""); return err }
	return &certificatePage{page{title: phrase.Of("bay.certificatepage.a-certificate"), rows: []pageRow{instrument, number, cal, clock, due, found, of, note}, last: phrase.Of("bay.certificatepage.go-on-to-the-code"),
		intro: []line{{text: phrase.Of("bay.certificatepage.with-an-error-found-everything-the-instrument")}}}}
}

func (s *certificatePage) certificate() (register.Certificate, error) {
	c := register.Certificate{Instrument: s.page.value("instrument"), Number: s.page.value("number"), Calibrated: s.page.value("calibrated"), Clock: s.page.value("clock"),
		Due: s.page.value("due"), Of: s.page.value("of"), Note: s.page.value("note")}
	if text := s.page.value("found"); text != "" {
		var err error
		if c.AsFound, err = quantity.Parse(text, ""); err != nil {
			return c, err
		}
	}
	return c, c.Check()
}

// Head says what this is.
func (s *certificatePage) Head(*Env) string { return phrase.Of("bay.certificatepage.desk-certificate") }

// Focus is the row's.
func (s *certificatePage) Focus() Focus { return s.page.focus() }

// Keys are the row's.
func (s *certificatePage) Keys(*Env) []Binding { return s.page.keys() }

// Update fills the page in and signs it.
func (s *certificatePage) Update(e *Env, in Input) Action {
	if a, ok := in.(Answer); ok && a.Name == vouchName {
		return s.signed(a)
	}
	act, done := s.page.update(in)
	if !done {
		return act
	}
	c, err := s.certificate()
	if err != nil {
		return Say{Text: sentence(err.Error()), Role: draw.Warn}
	}
	about := []line{{text: phrase.Of("bay.certificatepage.certificate-of-calibrated-due", c.Number, c.Instrument, c.Calibrated, c.Due)}}
	if c.AsFound.IsZero() {
		about = append(about, line{text: phrase.Of("bay.certificatepage.nothing-was-found-off-no-recall-is")})
	} else {
		about = append(about, line{role: draw.Warn, text: phrase.Of("bay.certificatepage.found-off-by-a-recall-is-opened", e.number(c.AsFound))})
	}
	return Ask{Name: vouchName, Dialog: newCode(phrase.Of("bay.certificatepage.certificate-of", c.Instrument), about, e.Person, func(f *store.File, who store.Actor) (any, error) {
		return f.AddCertificate(context.Background(), who.Person, c)
	})}
}

func (s *certificatePage) signed(a Answer) Action {
	if a.Err != nil {
		return Say{Text: sentence(a.Err.Error()), Role: draw.Bad}
	}
	v, _ := a.Value.(vouched)
	if r, ok := v.Value.(*questions.Recall); ok && r != nil {
		return Replace{newRecallPage(r.Number)}
	}
	return Many{Pop{}, Say{Text: phrase.Of("bay.certificatepage.the-certificate-is-kept-nothing-was-found"), Role: draw.Good}}
}

// View shows the page.
func (s *certificatePage) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }
