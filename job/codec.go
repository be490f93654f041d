package job

import (
	"bytes"
	"time"

	"github.com/fxamacker/cbor/v2"

	"bay.example/pawl/job/phrase"
)

// MaxEvent is the size in bytes above which an encoded event is refused unread.
const MaxEvent = 64 << 10

var (
	encMode = func() cbor.EncMode {
		m, err := cbor.CoreDetEncOptions().EncMode()
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

type wire struct {
	Seq     uint32          `cbor:"1,keyasint"`
	Milli   int64           `cbor:"2,keyasint"` // milliseconds since 1970, UTC
	Offset  int             `cbor:"3,keyasint"` // minutes east of UTC
	By      Who             `cbor:"4,keyasint"`
	Station string          `cbor:"5,keyasint"`
	Kind    kind            `cbor:"6,keyasint"`
	Body    cbor.RawMessage `cbor:"7,keyasint"`
}

// Encode writes an event in its one byte form.
func Encode(e Event) ([]byte, error) {
	body, err := encMode.Marshal(e.Body)
	if err != nil {
		return nil, phrase.Error("job.codec.encode-event", e.Seq, err)
	}
	_, offset := e.At.Zone()
	data, err := encMode.Marshal(wire{e.Seq, e.At.UnixMilli(), offset / 60, e.By, e.Station, e.Body.kind(), body})
	if err != nil {
		return nil, phrase.Error("job.codec.encode-event", e.Seq, err)
	}
	if len(data) > MaxEvent {
		return nil, phrase.Error("job.codec.event-has-bytes-at-most-are-kept", e.Seq, len(data), MaxEvent)
	}
	return data, nil
}

var errForm = phrase.Error("job.codec.the-bytes-are-not-in-the-one")

// Decode reads an event. Bytes that Encode would not have written are refused, so that no two
// encodings of one event exist.
func Decode(data []byte) (Event, error) {
	e, err := decode(data)
	if err != nil {
		return Event{}, err
	}
	again, err := Encode(e)
	if err != nil {
		return Event{}, err
	}
	if !bytes.Equal(again, data) {
		return Event{}, phrase.Error("job.codec.decode-event", e.Seq, errForm)
	}
	return e, nil
}

// decode reads an event without asking whether Encode would have written it so.
func decode(data []byte) (Event, error) {
	if len(data) > MaxEvent {
		return Event{}, phrase.Error("job.codec.an-event-has-bytes-at-most-are", len(data), MaxEvent)
	}
	var w wire
	if err := decMode.Unmarshal(data, &w); err != nil {
		return Event{}, phrase.Error("job.codec.decode-event-2", err)
	}
	if w.Offset < -24*60 || w.Offset > 24*60 || w.Seq == 0 {
		return Event{}, errForm
	}
	body, err := decodeBody(w.Kind, w.Body)
	if err != nil {
		return Event{}, phrase.Error("job.codec.decode-event", w.Seq, err)
	}
	return Event{Seq: w.Seq, At: instant(w.Milli, w.Offset), By: w.By, Station: w.Station, Body: body}, nil
}

func instant(milli int64, offset int) time.Time {
	return time.UnixMilli(milli).In(time.FixedZone("", offset*60))
}

// readers decodes each kind of body.
var readers = map[kind]func([]byte) (Body, error){
	kindOpened:        into[Opened],
	kindEntered:       into[Entered],
	kindSigned:        into[Signed],
	kindCountersigned: into[Countersigned],
	kindReopened:      into[Reopened],
	kindBroken:        into[Broken],
	kindPaused:        into[Paused],
	kindResumed:       into[Resumed],
	kindReleased:      into[Released],
	kindSwapped:       into[Swapped],
	kindChecked:       into[Checked],
	kindAsked:         into[Asked],
	kindUnsure:        into[Unsure],
	kindHelped:        into[Helped],
	kindBlind:         into[Blind],
	kindDeviated:      into[Deviated],
	kindSafeToLeave:   into[SafeToLeave],
	kindWithheld:      into[Withheld],
	kindLifted:        into[Lifted],
	kindAbandoned:     into[Abandoned],
	kindDeclared:      into[Declared],
	kindCancelled:     into[Cancelled],
	kindAdvised:       into[Advised],
	kindAdviceDecided: into[AdviceDecided],
	kindAddendum:      into[Addendum],
	kindFollowUp:      into[FollowUp],
	kindAnswered:      into[Answered],
	kindFound:         into[Found],
	kindTraitChanged:  into[TraitChanged],
	kindSheetAdopted:  into[SheetAdopted],
	kindCalledReal:    into[CalledReal],
}

func decodeBody(k kind, data []byte) (Body, error) {
	read, ok := readers[k]
	if !ok {
		return nil, phrase.Error("job.codec.unknown-kind-of-event-it-may-come", k)
	}
	return read(data)
}

func into[T Body](data []byte) (Body, error) {
	var v T
	if err := decMode.Unmarshal(data, &v); err != nil {
		return nil, err
	}
	return v, nil
}
