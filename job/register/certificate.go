package register

import (
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// Certificate is one calibration of an instrument. A new one keeps the old ones, so that which was
// valid at a moment can be told for ever.
type Certificate struct {
	Instrument string `cbor:"1,keyasint" json:"instrument"`
	Number     string `cbor:"2,keyasint" json:"number"`
	Calibrated string `cbor:"3,keyasint" json:"calibrated"`                // ISO date
	Clock      string `cbor:"4,keyasint,omitempty" json:"clock,omitempty"` // "14:00" when it was done that day; empty: before work
	Due        string `cbor:"5,keyasint" json:"due"`                       // ISO date, itself still valid
	// AsFound is how far the instrument was off before it was adjusted: for a wrench a percentage, for
	// a measuring instrument what it showed too much, in the unit of its scale. Empty: nothing was wrong.
	AsFound quantity.Quantity `cbor:"6,keyasint,omitzero" json:"as_found,omitzero"`
	// Of says what a wrench's percentage is of: fastening.OfSetting or fastening.OfDelivered.
	Of      string    `cbor:"7,keyasint,omitempty" json:"of,omitempty"`
	Entered time.Time `cbor:"8,keyasint" json:"entered"`
	By      string    `cbor:"9,keyasint" json:"by"` // name of who entered it
	Note    string    `cbor:"10,keyasint,omitempty" json:"note,omitempty"`
}

// Check returns what is wrong with the certificate itself, one sentence, or nil.
func (c Certificate) Check() error {
	cal, err1 := time.Parse(time.DateOnly, c.Calibrated)
	due, err2 := time.Parse(time.DateOnly, c.Due)
	var err3 error
	if c.Clock != "" {
		_, err3 = time.Parse("15:04", c.Clock)
	}
	switch {
	case strings.TrimSpace(c.Instrument) == "":
		return phrase.Error("register.certificate.the-certificate-names-no-instrument")
	case strings.TrimSpace(c.Number) == "":
		return phrase.Error("register.certificate.the-certificate-of-has-no-number", c.Instrument)
	case err1 != nil || err2 != nil:
		return phrase.Error("register.certificate.a-date-of-certificate-reads-or-expected", c.Number, c.Calibrated, c.Due)
	case err3 != nil:
		return phrase.Error("register.certificate.the-time-of-certificate-reads-expected-hours", c.Number, c.Clock)
	case due.Before(cal):
		return phrase.Error("register.certificate.certificate-is-due-on-before-the-calibration", c.Number, c.Due, c.Calibrated)
	case due.After(cal.AddDate(3, 0, 0)):
		return phrase.Error("register.certificate.certificate-would-be-valid-for-more-than", c.Number, c.Due)
	}
	return nil
}

// begins is the certificate's moment as text that sorts: the day and the time of day.
func (c Certificate) begins() string { return c.Calibrated + " " + c.clock() }

func (c Certificate) clock() string {
	if c.Clock == "" {
		return "00:00"
	}
	return c.Clock
}

// Since is the moment from which the certificate counts, in the time zone of near.
func (c Certificate) Since(near time.Time) (time.Time, error) {
	return time.ParseInLocation("2006-01-02 15:04", c.begins(), near.Location())
}

// Around returns the certificates of one instrument that lie around a moment: the newest one begun at
// or before it and the first one after it. Either may be nil.
func Around(all []Certificate, instrument string, at time.Time) (before, after *Certificate) {
	own := OfInstrument(all, instrument)
	moment := at.Format("2006-01-02 15:04")
	for i := range own {
		if own[i].begins() <= moment {
			before = &own[i]
		} else if after == nil {
			after = &own[i]
		}
	}
	return before, after
}

// OfInstrument returns the certificates of one instrument, oldest first.
func OfInstrument(all []Certificate, instrument string) []Certificate {
	var own []Certificate
	for _, c := range all {
		if c.Instrument == instrument {
			own = append(own, c)
		}
	}
	slices.SortStableFunc(own, func(a, b Certificate) int { return strings.Compare(a.begins(), b.begins()) })
	return own
}
