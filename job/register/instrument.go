package register

import (
	"math/big"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/fastening"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
)

// The kinds of instrument, as the checks of a procedure name them.
const (
	SettingWrench    = procedures.SettingWrench
	DialWrench       = procedures.DialWrench
	ElectronicWrench = procedures.ElectronicWrench
	AngleGauge       = procedures.AngleGauge
	Micrometer       = procedures.Micrometer
	SlidingCaliper   = procedures.SlidingCaliper
	DepthGauge       = procedures.DepthGauge
	DialGauge        = procedures.DialGauge
	PadGauge         = procedures.PadGauge
	FluidTester      = procedures.FluidTester
	RollerTester     = procedures.RollerTester
	Thermometer      = procedures.Thermometer
	Tape             = procedures.Tape
)

// Kinds lists every instrument kind in the order the register shows them.
func Kinds() []string { return procedures.Instruments() }

// Status says whether an instrument may be used at all.
type Status string

// The statuses of an instrument.
const (
	InUse     Status = "in use"
	Dropped   Status = "dropped" // or overloaded: out of use until calibrated
	Withdrawn Status = "withdrawn"
)

// Instrument is one tool of the register with the certificate that vouches for it.
type Instrument struct {
	ID          string            `cbor:"1,keyasint" json:"id"`
	Kind        string            `cbor:"2,keyasint" json:"kind"`
	Title       string            `cbor:"3,keyasint,omitempty" json:"title,omitempty"`
	Serial      string            `cbor:"4,keyasint" json:"serial"`
	Scales      []quantity.Unit   `cbor:"5,keyasint" json:"scales"` // those it really has
	Low         quantity.Quantity `cbor:"6,keyasint" json:"low"`
	High        quantity.Quantity `cbor:"7,keyasint" json:"high"`
	Resolution  quantity.Quantity `cbor:"8,keyasint" json:"resolution"`
	Error       quantity.Quantity `cbor:"9,keyasint" json:"error"` // largest error: per cent of the reading, or in the unit of the scale
	Certificate string            `cbor:"10,keyasint" json:"certificate"`
	Calibrated  string            `cbor:"11,keyasint" json:"calibrated"` // ISO date
	Due         string            `cbor:"12,keyasint" json:"due"`        // ISO date, itself still valid
	CycleLimit  int               `cbor:"13,keyasint,omitempty" json:"cycle_limit,omitempty"`
	Status      Status            `cbor:"14,keyasint" json:"status"`
	StatusNote  string            `cbor:"15,keyasint,omitempty" json:"status_note,omitempty"`
}

// Wrench reports whether the instrument tightens.
func (i Instrument) Wrench() bool {
	return i.Kind == SettingWrench || i.Kind == DialWrench || i.Kind == ElectronicWrench
}

// Check returns what is wrong with the entry itself, one sentence, or nil.
func (i Instrument) Check() error {
	cal, err1 := time.Parse(time.DateOnly, i.Calibrated)
	due, err2 := time.Parse(time.DateOnly, i.Due)
	switch {
	case strings.TrimSpace(i.ID) == "":
		return phrase.Error("register.instrument.the-instrument-has-no-number-expected-a")
	case !slices.Contains(Kinds(), i.Kind):
		return phrase.Error("register.instrument.is-no-kind-of-instrument-expected-one", i.Kind, strings.Join(Kinds(), ", "))
	case len(i.Scales) == 0:
		return phrase.Error("register.instrument.has-no-scale-name-the-units-it", i.ID)
	case i.Low.IsZero() || i.High.IsZero() || i.Resolution.IsZero() || i.Error.IsZero():
		return phrase.Error("register.instrument.needs-a-range-a-resolution-and-an", i.ID)
	case err1 != nil || err2 != nil:
		return phrase.Error("register.instrument.a-date-reads-or-expected-year-month", i.ID, i.Calibrated, i.Due)
	case due.Before(cal):
		return phrase.Error("register.instrument.is-due-on-before-it-was-calibrated", i.ID, i.Due, i.Calibrated)
	case strings.TrimSpace(i.Certificate) == "":
		return phrase.Error("register.instrument.has-no-certificate-number", i.ID)
	}
	if c, err := i.Low.Cmp(i.High); err != nil || c >= 0 {
		return phrase.Error("register.instrument.the-range-to-is-empty-or-in", i.ID, i.Low, i.High)
	}
	for _, u := range i.Scales {
		if !u.Same(i.Low.Unit) {
			return phrase.Error("register.instrument.the-scale-does-not-fit-the-range", i.ID, u, i.Low.Unit)
		}
	}
	if i.Error.Unit != quantity.Percent && !i.Error.Unit.Same(i.Low.Unit) {
		return phrase.Error("register.instrument.the-error-limit-is-in-expected-or", i.ID, i.Error.Unit)
	}
	return nil
}

// lengthKinds are the length instruments that published figures name an error limit for.
var lengthKinds = map[string]brakes.InstrumentKind{Micrometer: brakes.OutsideMicrometer, SlidingCaliper: brakes.Caliper,
	DepthGauge: brakes.CaliperInside, DialGauge: brakes.DialIndicator}

// DefaultError is the error limit of an instrument whose certificate names none: for a setting wrench
// that of its class by ISO 6789 (fastening.DefaultDeviation), for a length instrument the published
// figure of its kind (brakes.TypicalErrorLimit). Every other kind needs the figure of its certificate,
// which the error says.
func DefaultError(kind string, high, resolution quantity.Quantity) (quantity.Quantity, error) {
	if length, ok := lengthKinds[kind]; ok {
		limit, err := brakes.TypicalErrorLimit(length, high, resolution)
		return limit.Limit, err
	}
	if kind != SettingWrench {
		return quantity.Quantity{}, phrase.Error("register.instrument.a-has-no-error-limit-by-its", kind)
	}
	return fastening.DefaultDeviation(fastening.SettingWrench, high)
}

// UsableAt returns why the instrument may not be used at that moment, or nil. The due date itself
// is still valid, and so is the day of calibration.
func (i Instrument) UsableAt(at time.Time) error {
	day := at.Format(time.DateOnly)
	switch {
	case i.Status != InUse:
		note := ""
		if i.StatusNote != "" {
			note = " (" + i.StatusNote + ")"
		}
		return phrase.Error("register.instrument.is-and-may-not-be-used-until", i.ID, i.Status, note)
	case day > i.Due:
		return phrase.Error("register.instrument.the-calibration-of-ran-out-on", i.ID, i.Due)
	case day < i.Calibrated:
		return phrase.Error("register.instrument.was-calibrated-on-after-today", i.ID, i.Calibrated)
	}
	return nil
}

// Reads returns why the instrument cannot give that value, or nil: no such scale, outside its
// range, or finer than it resolves.
func (i Instrument) Reads(q quantity.Quantity) error {
	if !slices.Contains(i.Scales, q.Unit) {
		return phrase.Error("register.instrument.has-no-scale-its-scales-are", i.ID, q.Unit, joinUnits(i.Scales))
	}
	if c, err := q.Cmp(i.Low); err != nil {
		return err
	} else if c < 0 {
		return phrase.Error("register.instrument.is-below-the-range-of-to", q, i.ID, i.Low, i.High)
	}
	if c, err := q.Cmp(i.High); err != nil {
		return err
	} else if c > 0 {
		return phrase.Error("register.instrument.is-above-the-range-of-to", q, i.ID, i.Low, i.High)
	}
	if q.Unit == i.Resolution.Unit {
		step := i.Resolution.Rat()
		if step.Sign() > 0 && !new(big.Rat).Quo(q.Rat(), step).IsInt() {
			return phrase.Error("register.instrument.is-finer-than-resolves-which-is", q, i.ID, i.Resolution)
		}
	}
	return nil
}

func joinUnits(us []quantity.Unit) string {
	parts := make([]string, len(us))
	for k, u := range us {
		parts[k] = string(u)
	}
	return strings.Join(parts, ", ")
}

// Uncertainty is the largest error of a reading q: the limit itself, or its percentage of q. It is
// taken as the expanded uncertainty of the reading.
func (i Instrument) Uncertainty(q quantity.Quantity) quantity.Quantity {
	if i.Error.Unit != quantity.Percent {
		return i.Error
	}
	r := new(big.Rat).Mul(q.Rat(), i.Error.Rat())
	r.Quo(r, big.NewRat(100, 1)).Abs(r)
	// Two more digits than typed keep the product of two short decimals exact.
	return quantity.FromRat(r, q.Unit, q.Places()+i.Error.Places()+2)
}
