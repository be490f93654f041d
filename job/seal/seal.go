// Package seal writes and reads the seals of jobs: the line that joins the log of seals, and the
// short form printed on paper. It knows no job and no file and imports the standard library only.
package seal

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
)

// Seal says what a job was at a moment: its first so many events end in that digest. A later seal of
// the same job covers more events and rests on the same chain.
type Seal struct {
	Job    uint64    `json:"job"`
	Events uint32    `json:"events"` // events 1 to this one
	Head   [32]byte  `json:"-"`      // digest of that event
	At     time.Time `json:"at"`     // time of that event
	Ended  string    `json:"ended"`  // how the work had ended
}

const first = "pawl seal 1"

// Text is the seal as it joins the log: six lines of plain text.
//
//	pawl seal 1
//	job 214
//	events 203
//	head 9f86d081…
//	at 2026-03-03T12:04:05.000+01:00
//	ended released
func (s Seal) Text() []byte {
	return fmt.Appendf(nil, "%s\njob %d\nevents %d\nhead %x\nat %s\nended %s\n", first, s.Job, s.Events, s.Head, s.At.Format(timeForm), s.Ended)
}

const timeForm = "2006-01-02T15:04:05.000Z07:00"

// Parse reads what Text writes and nothing else.
func Parse(text []byte) (Seal, error) {
	var s Seal
	bad := phrase.Error("seal.seal.is-no-seal-of-a-job", cut(text))
	lines := strings.Split(string(text), "\n")
	if len(lines) != 7 || lines[0] != first {
		return s, bad
	}
	field := func(i int, name string) string {
		v, ok := strings.CutPrefix(lines[i], name+" ")
		if !ok {
			return ""
		}
		return v
	}
	number, err1 := strconv.ParseUint(field(1, "job"), 10, 64)
	events, err2 := strconv.ParseUint(field(2, "events"), 10, 32)
	head, err3 := hex.DecodeString(field(3, "head"))
	at, err4 := time.Parse(timeForm, field(4, "at"))
	if err1 != nil || err2 != nil || err3 != nil || err4 != nil || len(head) != len(s.Head) {
		return s, bad
	}
	s.Job, s.Events, s.At, s.Ended = number, uint32(events), at, field(5, "ended")
	copy(s.Head[:], head)
	if string(s.Text()) != string(text) {
		return s, bad
	}
	return s, nil
}

func cut(text []byte) string {
	if len(text) > 40 {
		text = text[:40]
	}
	return string(text)
}

// Hash is the seal's leaf in the log: SHA-256 of a zero byte and the text (RFC 6962 section 2.1).
func (s Seal) Hash() [32]byte {
	return sha256.Sum256(append([]byte{0}, s.Text()...))
}

// Short is the seal as it is printed.
func (s Seal) Short() Short { return Shorten(s.Hash()) }
