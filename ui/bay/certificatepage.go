package bay

import (
	"context"
	"fmt"
	"strings"

	"bay.example/pawl/job/fastening"
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
		ids, words = append(ids, in.ID), append(words, strings.TrimSuffix(in.ID+": "+in.Kind+", "+in.Title, ", "))
	}
	instrument := choiceRow("instrument", "Instrument", "", ids, words, "The instrument the certificate is of: Left and Right change it, a scan chooses it.")
	number := textRow("number", "Certificate", "", "The number on the certificate.")
	cal := textRow("calibrated", "Calibrated on", "", "The day of the calibration, as year-month-day.")
	clock := textRow("clock", "At", "", "The time of that day, such as 14:00, where the instrument was used on that day. Empty: before work.")
	due := textRow("due", "Due on", "", "The last day it may be used, as year-month-day.")
	found := textRow("found", "As found", "", "How far it was off before it was adjusted: for a wrench a percentage such as -7.5 % (it gave too little), else what it showed too much with its unit. Empty: nothing was wrong.")
	of := choiceRow("of", "Percentage of", string(fastening.OfSetting), []string{string(fastening.OfSetting), string(fastening.OfDelivered)},
		[]string{"the setting: -7.5 % means the fastener got 7.5 % less than was set", "the torque delivered, as many certificates print it: the other way round"}, "What the percentage of a wrench is of. The certificate says it.")
	note := textRow("note", "Note", "", "Words. It may stay empty.")
	cal.check, due.check = isDate, isDate
	clock.optional, found.optional, note.optional = true, true, true
	found.check = func(text string) error { _, err := quantity.Parse(text, ""); return err }
	return &certificatePage{page{title: "A certificate", rows: []pageRow{instrument, number, cal, clock, due, found, of, note}, last: "go on to the code",
		intro: []line{{text: "With an error found, everything the instrument did since the certificate before is judged again."}}}}
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
func (s *certificatePage) Head(*Env) string { return "Desk: certificate" }

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
	about := []line{{text: fmt.Sprintf("Certificate %s of %s, calibrated %s, due %s.", c.Number, c.Instrument, c.Calibrated, c.Due)}}
	if c.AsFound.IsZero() {
		about = append(about, line{text: "Nothing was found off: no recall is opened."})
	} else {
		about = append(about, line{role: draw.Warn, text: fmt.Sprintf(" Found off by %s: a recall is opened. ", e.number(c.AsFound))})
	}
	return Ask{Name: vouchName, Dialog: newCode("Certificate of "+c.Instrument, about, e.Person, func(f *store.File, who store.Actor) (any, error) {
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
	return Many{Pop{}, Say{Text: "The certificate is kept; nothing was found off, so no recall was opened", Role: draw.Good}}
}

// View shows the page.
func (s *certificatePage) View(e *Env, w, h int) string { return s.page.view(e.Theme, w, h) }
