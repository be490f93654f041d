package store

import (
	"encoding/binary"

	"github.com/fxamacker/cbor/v2"

	"bay.example/pawl/job"
)

var (
	encMode = func() cbor.EncMode {
		o := cbor.CoreDetEncOptions()
		o.Time = cbor.TimeRFC3339Nano // keeps the offset of the bay's clock
		m, err := o.EncMode()
		if err != nil {
			panic(err) // the options are constants of the library
		}
		return m
	}()
	decMode = func() cbor.DecMode {
		m, err := cbor.DecOptions{DupMapKey: cbor.DupMapKeyEnforcedAPF, IndefLength: cbor.IndefLengthForbidden,
			ExtraReturnErrors: cbor.ExtraDecErrorUnknownField, TagsMd: cbor.TagsForbidden}.DecMode()
		if err != nil {
			panic(err)
		}
		return m
	}()
)

func uintKey(n uint64) []byte { return binary.BigEndian.AppendUint64(nil, n) }

// eventKey orders the events of all jobs by job and then by number.
func eventKey(number uint64, seq uint32) []byte {
	return binary.BigEndian.AppendUint32(uintKey(number), seq)
}

// head is the newest event of a job and what the list of jobs shows of it.
type head struct {
	Seq     uint32     `cbor:"1,keyasint"`
	Digest  job.Digest `cbor:"2,keyasint"`
	Summary Summary    `cbor:"3,keyasint"`
	Kept    uint32     `cbor:"4,keyasint,omitempty"` // events 1 to this one stand in the table sealed
}
