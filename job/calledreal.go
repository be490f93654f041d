package job

import (
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// CallReal answers the question about a value outside its window: it is no slip, the vehicle is so.
type CallReal struct {
	Stage procedures.Ref
	Check string
	Item  string
}

func (CallReal) intent() {}

// CalledReal says that a value outside its window is real. From then on it cannot be corrected as a
// typing slip: one of the two would be untrue.
type CalledReal struct {
	Stage   procedures.Ref `cbor:"1,keyasint"`
	Attempt int            `cbor:"2,keyasint"`
	Check   string         `cbor:"3,keyasint"`
	Item    string         `cbor:"4,keyasint,omitempty"`
	Entry   uint32         `cbor:"5,keyasint"` // the event that entered it
}

func (CalledReal) kind() kind { return kindCalledReal }

func (c *Card) decideReal(w CallReal) ([]Body, error) {
	s := c.Stage(w.Stage)
	if s == nil {
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.decide.this-vehicle-has-no-stage", w.Stage), phrase.Of("job.decide.choose-a-stage-from-the-list"))
	}
	a := s.Current()
	e := a.Entry(w.Check, w.Item)
	switch {
	case e == nil || e.Verdict != quantity.Outside || e.Value.IsZero():
		return nil, refuse(CodeUnknown, w.Stage, phrase.Of("job.real.no-value-outside-its-window-stands-there"), phrase.Of("job.wayout.go-on"))
	case a.Signed != nil:
		return nil, refuse(CodeSigned, w.Stage, phrase.Of("job.decide.is-signed", c.title(w.Stage)), phrase.Of("job.decide.begin-a-new-attempt-with-a-reason"))
	case e.Real != nil:
		return nil, refuse(CodeFilled, w.Stage, phrase.Of("job.real.it-has-been-called-real-already"), phrase.Of("job.real.begin-a-new-attempt"))
	}
	return []Body{CalledReal{w.Stage, a.No, w.Check, w.Item, e.Seq}}, nil
}

func (c *Card) applyReal(mark Mark, b CalledReal) error {
	a, err := c.attempt(b.Stage, b.Attempt)
	if err != nil {
		return err
	}
	e := a.Entry(b.Check, b.Item)
	if e == nil || e.Seq != b.Entry {
		return phrase.Error("job.real.calls-event-real-which-is-not-the", b.Entry)
	}
	e.Real = &mark
	return nil
}
