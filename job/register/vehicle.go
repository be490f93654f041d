package register

import "bay.example/pawl/job/quantity"

// Vehicle is one vehicle the workshop knows, with its traits and every odometer reading taken.
type Vehicle struct {
	ID       string            `cbor:"1,keyasint" json:"id"` // the workshop's own short number or the plate
	Name     string            `cbor:"2,keyasint" json:"name"`
	VIN      string            `cbor:"3,keyasint,omitempty" json:"vin,omitempty"`
	Sheet    string            `cbor:"4,keyasint" json:"sheet"` // id of the spec sheet of its type
	Traits   map[string]string `cbor:"5,keyasint,omitempty" json:"traits,omitempty"`
	Odometer []OdometerReading `cbor:"6,keyasint,omitempty" json:"odometer,omitempty"`
	Owner    string            `cbor:"7,keyasint,omitempty" json:"owner,omitempty"`
	Demo     bool              `cbor:"8,keyasint,omitempty" json:"demo,omitempty"`
}

// OdometerReading is what the instrument showed on a day.
type OdometerReading struct {
	Date  string            `cbor:"1,keyasint" json:"date"` // ISO date
	Job   uint64            `cbor:"2,keyasint" json:"job"`
	Value quantity.Quantity `cbor:"3,keyasint" json:"value"`
}

// LastOdometer returns the newest reading, and false when there is none.
func (v Vehicle) LastOdometer() (OdometerReading, bool) {
	if len(v.Odometer) == 0 {
		return OdometerReading{}, false
	}
	return v.Odometer[len(v.Odometer)-1], true
}
