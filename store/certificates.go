package store

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
)

func certificateKey(c register.Certificate) []byte {
	return []byte(strings.Join(strings.Fields(c.Instrument+"/"+c.Calibrated+" "+c.Clock), " ") + "/" + c.Number)
}

// keepCertificate adds a certificate unless it is there already, by whom and as it was entered first.
func (f *File) keepCertificate(tx *bolt.Tx, by register.Person, c register.Certificate) error {
	own, err := certificatesOf(tx, c.Instrument)
	if err != nil {
		return err
	}
	for _, x := range own {
		if x.Number == c.Number && x.Calibrated == c.Calibrated {
			return nil
		}
	}
	c.Entered, c.By = f.Now(), by.Name
	return f.keep(tx, change{By: by, Act: "certificate added", Table: certified, Key: string(certificateKey(c))}, c)
}

func certificatesOf(tx *bolt.Tx, instrument string) ([]register.Certificate, error) {
	all, err := allRows[register.Certificate](tx, certified)
	return register.OfInstrument(all, instrument), err
}

// Certificates returns every certificate of an instrument, oldest first, or of all with an empty id.
func (f *File) Certificates(instrument string) ([]register.Certificate, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.certificates(instrument)
}

func (f *File) certificates(instrument string) ([]register.Certificate, error) {
	var all []register.Certificate
	err := f.view(func(tx *bolt.Tx) (err error) {
		all, err = allRows[register.Certificate](tx, certified)
		return err
	})
	if instrument != "" {
		all = register.OfInstrument(all, instrument)
	}
	return all, err
}

// CertificatesAround returns the certificates of an instrument around a moment; either may be nil.
func (f *File) CertificatesAround(instrument string, at time.Time) (before, after *register.Certificate, err error) {
	all, err := f.Certificates(instrument)
	if err != nil {
		return nil, nil, err
	}
	before, after = register.Around(all, instrument, at)
	return before, after, nil
}

// AddCertificate enters a new calibration: the instrument is in use again until it is due, the
// certificates before stay. When the certificate found an error, everything the instrument did since
// the certificate before is judged again, and a recall is opened with the vehicles to call; without
// one the recall is nil. Only a mechanic or foreman enters certificates.
func (f *File) AddCertificate(ctx context.Context, by register.Person, c register.Certificate) (*questions.Recall, error) {
	if err := f.checkCertificate(c); err != nil {
		return nil, err
	}
	f.mu.Lock()
	err := f.update(func(tx *bolt.Tx) error {
		by, err := mayChange(tx, by, procedures.Mechanic, phrase.Of("store.certificates.enters-certificates"))
		if err != nil {
			return err
		}
		in, ok, err := getRow[register.Instrument](tx, instruments, []byte(c.Instrument))
		if err != nil {
			return err
		}
		if !ok {
			return phrase.Error("store.certificates.no-instrument-is-on-the-register-add", c.Instrument)
		}
		if err := fitsError(in, c.AsFound); err != nil {
			return err
		}
		own, err := certificatesOf(tx, c.Instrument)
		if err != nil {
			return err
		}
		if n := len(own); n > 0 && own[n-1].Calibrated > c.Calibrated {
			return phrase.Error("store.certificates.has-a-newer-certificate-of-certificates-are", c.Instrument, own[n-1].Number, own[n-1].Calibrated)
		}
		if slices.ContainsFunc(own, func(x register.Certificate) bool { return x.Number == c.Number && x.Calibrated == c.Calibrated }) {
			return phrase.Error("store.certificates.certificate-of-is-kept-already", c.Number, c.Instrument)
		}
		if err := f.keepCertificate(tx, by, c); err != nil {
			return err
		}
		in.Certificate, in.Calibrated, in.Due = c.Number, c.Calibrated, c.Due
		if in.Status == register.Dropped {
			in.Status, in.StatusNote = register.InUse, ""
		}
		return f.keep(tx, change{By: by, Act: "calibrated", Table: instruments, Key: in.ID}, in)
	})
	f.mu.Unlock()
	if err != nil || c.AsFound.IsZero() || c.AsFound.Rat().Sign() == 0 {
		return nil, err
	}
	return f.recallInstrument(ctx, by, c.Instrument)
}

func (f *File) checkCertificate(c register.Certificate) error {
	if err := c.Check(); err != nil {
		return err
	}
	now := f.Now()
	if since, err := c.Since(now); err != nil || since.After(now) {
		return phrase.Error("store.certificates.certificate-lies-in-the-future", c.Number, c.Calibrated)
	}
	return cmp.Or(checkID(phrase.Of("store.certificates.the-instrument"), c.Instrument), checkText(phrase.Of("store.certificates.the-certificate-number"), c.Number), checkText(phrase.Of("store.certificates.the-note"), c.Note))
}

// fitsError checks that an as-found error is of a kind the instrument can have.
func fitsError(in register.Instrument, e quantity.Quantity) error {
	switch {
	case e.IsZero():
		return nil
	case in.Wrench() && e.Unit != quantity.Percent:
		return phrase.Error("store.certificates.the-as-found-error-of-a-wrench", e)
	case e.Unit != quantity.Percent && !e.Unit.Same(in.Low.Unit):
		return phrase.Error("store.certificates.the-as-found-error-is-not-in", e, in.ID)
	}
	return nil
}

// recallInstrument opens the recall of an instrument's newest certificate.
func (f *File) recallInstrument(ctx context.Context, by register.Person, id string) (*questions.Recall, error) {
	own, err := f.Certificates(id)
	if err != nil {
		return nil, err
	}
	in, _ := f.Register().Instrument(id)
	now := f.Now()
	from, to, err := questions.Reach(own, now)
	if err != nil {
		return nil, err
	}
	c := own[len(own)-1]
	r := questions.Recall{Kind: questions.RecallInstrument, Title: phrase.Of("store.certificates.was-found-off-by-certificate", id, c.AsFound, c.Number),
		About: map[string]string{"instrument": id, "certificate": c.Number, "as-found": c.AsFound.String()}}
	judge := func(cs []*job.Card) questions.Share { return questions.InstrumentShare(cs, id, from, to, c.AsFound) }
	if in.Wrench() {
		r.Kind = questions.RecallWrench
		e := questions.WrenchError{Instrument: id, From: from, To: to, Error: c.AsFound, Of: fastening.Reference(cmp.Or(c.Of, string(fastening.OfSetting)))}
		judge = func(cs []*job.Card) questions.Share { return questions.WrenchShare(cs, e) }
	}
	return f.openRecall(ctx, by, r, func(l questions.Line) bool {
		return slices.Contains(l.Tags.Instruments, id)
	}, judge)
}
