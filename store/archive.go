package store

import (
	"encoding/binary"

	"github.com/klauspost/compress/zstd"
	bolt "go.etcd.io/bbolt"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
)

// A sealed job is one compressed value in the table sealed: the bytes of its events one after the
// other, without the digests before them, which do not compress and can be worked out again. Four
// bytes of each stay, so that a check can name the event that does not fit. Packed and before
// compression it is
//
//	number of events        4 bytes, big-endian
//	for each event          the first 4 bytes of the digest before it
//	for each event          its length, as an unsigned varint
//	for each event          its bytes
const prefixSize = 4

// mostPacked is the size above which a packed job is not unpacked: no real job comes near it, and a
// forged value could otherwise fill the memory.
const mostPacked = 64 << 20

var (
	encoder = func() *zstd.Encoder {
		e, err := zstd.NewWriter(nil, zstd.WithEncoderConcurrency(1), zstd.WithEncoderCRC(true))
		if err != nil {
			panic(err) // the options are constants of the library
		}
		return e
	}()
	decoder = func() *zstd.Decoder {
		d, err := zstd.NewReader(nil, zstd.WithDecoderConcurrency(0), zstd.WithDecoderMaxMemory(mostPacked))
		if err != nil {
			panic(err)
		}
		return d
	}()
)

// pack writes rows as one compressed value.
func pack(rows []row) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(rows)))
	for _, r := range rows {
		b = append(b, r.prev[:prefixSize]...)
	}
	for _, r := range rows {
		b = binary.AppendUvarint(b, uint64(len(r.event)))
	}
	for _, r := range rows {
		b = append(b, r.event...)
	}
	return encoder.EncodeAll(b, nil)
}

var errPacked = phrase.Error("store.archive.its-sealed-events-cannot-be-unpacked")

// unpack reads what pack writes.
func unpack(value []byte) ([]row, error) {
	b, err := decoder.DecodeAll(value, nil)
	if err != nil || len(b) < 4 {
		return nil, errPacked
	}
	n := int(binary.BigEndian.Uint32(b))
	if b = b[4:]; n > len(b)/(prefixSize+2) {
		return nil, errPacked
	}
	rows := make([]row, n)
	prefixes := b[:n*prefixSize]
	b = b[n*prefixSize:]
	sizes := make([]int, n)
	for i := range rows {
		size, k := binary.Uvarint(b)
		if k <= 0 || size > job.MaxEvent {
			return nil, errPacked
		}
		sizes[i], b = int(size), b[k:]
	}
	for i, size := range sizes {
		if size > len(b) {
			return nil, errPacked
		}
		rows[i] = row{prefixes[i*prefixSize : (i+1)*prefixSize], b[:size:size]}
		b = b[size:]
	}
	if len(b) != 0 {
		return nil, errPacked
	}
	return rows, nil
}

// keepSealed moves every event of a job that stands in a row of its own into the sealed value.
func keepSealed(tx *bolt.Tx, number uint64, h *head) error {
	value, err := sealed.get(tx, uintKey(number))
	if err != nil {
		return err
	}
	rows, err := eventRows(tx, number, h.Kept)
	if err != nil {
		return err
	}
	if rows, err = joinRows(number, *h, value, rows); err != nil {
		return err
	}
	if err := sealed.put(tx, uintKey(number), pack(rows)); err != nil {
		return err
	}
	b, err := bucket(tx, bucketJobs)
	if err != nil {
		return err
	}
	for seq := h.Kept + 1; seq <= h.Seq; seq++ {
		if err := b.Delete(eventKey(number, seq)); err != nil {
			return phrase.Error("store.archive.move-event-of-job", seq, number, err)
		}
	}
	h.Kept = h.Seq
	return nil
}

// unpackJob unpacks the sealed events of a job.
func unpackJob(number uint64, kept uint32, value []byte) ([]row, error) {
	if value == nil {
		return nil, Damaged{What: phrase.Of("store.archive.the-sealed-events-of-job-are-missing", number)}
	}
	rows, err := unpack(value)
	if err != nil {
		return nil, Damaged{What: phrase.Of("store.archive.job", number, err)}
	}
	if len(rows) != int(kept) {
		return nil, Damaged{What: phrase.Of("store.archive.job-has-sealed-events-where-were-written", number, len(rows), kept)}
	}
	return rows, nil
}
