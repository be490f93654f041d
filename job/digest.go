package job

import (
	"crypto/sha256"
	"encoding/hex"
	"strconv"

	"bay.example/pawl/job/phrase"
)

// Digest is a SHA-256 sum.
type Digest [sha256.Size]byte

// String is the digest in lower-case hexadecimal.
func (d Digest) String() string { return hex.EncodeToString(d[:]) }

// MarshalText writes the digest in hexadecimal, for JSON.
func (d Digest) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the form MarshalText writes.
func (d *Digest) UnmarshalText(text []byte) error {
	if len(text) != 2*len(d) {
		return phrase.Error("job.digest.a-digest-has-hexadecimal-digits-not", 2*len(d), len(text))
	}
	_, err := hex.Decode(d[:], text)
	return err
}

// Origin is the digest before the first event of a job.
func Origin(number uint64) Digest {
	return sha256.Sum256([]byte("pawl job\n" + strconv.FormatUint(number, 10) + "\n"))
}

// Link is the digest of an event, from the digest of the one before and its bytes.
func Link(prev Digest, event []byte) Digest {
	h := sha256.New()
	h.Write(prev[:])
	h.Write(event)
	return Digest(h.Sum(nil))
}
