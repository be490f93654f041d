package seal

import (
	"bytes"
	"crypto/sha256"
	"math/big"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func sample() Seal {
	return Seal{Job: 214, Events: 203, Head: sha256.Sum256([]byte("head")), At: time.Date(2026, 3, 3, 12, 4, 5, 6e6, time.FixedZone("", 3600)), Ended: "released"}
}

func TestText(t *testing.T) {
	s := sample()
	lines := strings.Split(string(s.Text()), "\n")
	if lines[0] != "pawl seal 1" || lines[1] != "job 214" || lines[4] != "at 2026-03-03T12:04:05.006+01:00" {
		t.Errorf("text %q", s.Text())
	}
	again, err := Parse(s.Text())
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(s, again, cmp.Comparer(func(a, b time.Time) bool { return a.Equal(b) })); d != "" {
		t.Error(d)
	}
	for _, bad := range []string{"", "pawl seal 2\n", strings.Replace(string(s.Text()), "job 214", "job 0214", 1), string(s.Text()) + "\n",
		strings.Replace(string(s.Text()), "head ", "head 00", 1), strings.Replace(string(s.Text()), ".006", "", 1)} {
		if _, err := Parse([]byte(bad)); err == nil {
			t.Errorf("%q is read", bad)
		}
	}
}

// The leaf is SHA-256 of 00 and the text, RFC 6962 section 2.1.
func TestHash(t *testing.T) {
	s := sample()
	h := sha256.New()
	h.Write([]byte{0})
	h.Write(s.Text())
	if got := s.Hash(); !bytes.Equal(got[:], h.Sum(nil)) {
		t.Errorf("hash %x", got)
	}
}

// The example of the GRid standard: A1-2425G-ABC1234002-M, whose last character is by ISO/IEC 7064
// MOD 37,36 (from memory).
func TestCheckCharacter(t *testing.T) {
	if c := checkCharacter("A12425GABC1234002", "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"); c != 'M' {
		t.Errorf("check character %c, want M", c)
	}
}

func TestShort(t *testing.T) {
	hash := sample().Hash()
	s := Shorten(hash)
	var got big.Int
	for _, v := range s {
		got.Lsh(&got, 5).Or(&got, big.NewInt(int64(v)))
	}
	want := new(big.Int).SetBytes(hash[:])
	want.Rsh(want, 256-5*digits)
	if got.Cmp(want) != 0 {
		t.Errorf("%x is not the beginning of %x", &got, hash)
	}
	text := s.String()
	if len(text) != digits+1+6 {
		t.Errorf("printed %q", text)
	}
	for _, typed := range []string{text, strings.ToLower(text), strings.ReplaceAll(text, "-", " "), strings.ReplaceAll(text, "-", ""),
		strings.NewReplacer("0", "O", "1", "l").Replace(text)} {
		if again, err := ParseShort(typed); err != nil || again != s {
			t.Errorf("%q: %v", typed, err)
		}
	}
	if _, err := ParseShort(text[:20]); err == nil || !strings.Contains(err.Error(), "28 characters") {
		t.Errorf("a short one: %v", err)
	}
	if _, err := ParseShort("U" + text[1:]); err == nil || !strings.Contains(err.Error(), "cannot be 'U'") {
		t.Errorf("a letter that is none: %v", err)
	}
}

// Every single wrong character is noticed.
func TestShortNoticesSlips(t *testing.T) {
	text := strings.ReplaceAll(sample().Short().String(), "-", "")
	for i := range digits {
		for _, r := range alphabet {
			if byte(r) == text[i] {
				continue
			}
			if _, err := ParseShort(text[:i] + string(r) + text[i+1:]); err == nil {
				t.Errorf("%c instead of %c at %d is not noticed", r, text[i], i+1)
			}
		}
	}
}

func FuzzParseShort(f *testing.F) {
	f.Add(sample().Short().String())
	f.Add("0000-0000")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseShort(text)
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Errorf("%q", err)
			}
			return
		}
		if again, err := ParseShort(s.String()); err != nil || again != s {
			t.Errorf("%q: %v", s, err)
		}
	})
}

func FuzzParse(f *testing.F) {
	f.Add(sample().Text())
	f.Fuzz(func(t *testing.T, text []byte) {
		if s, err := Parse(text); err == nil && !bytes.Equal(s.Text(), text) {
			t.Errorf("%q is written as %q", text, s.Text())
		}
	})
}
