package procedures

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func TestPinReadsBackTheSame(t *testing.T) {
	p, s := shippedPair(t, "demo-minibus")
	data, digest, err := p.Pin()
	if err != nil {
		t.Fatal(err)
	}
	if IsSheet(data) || digest != Digest(data) {
		t.Errorf("pinned procedure: sheet %v, digest %s", IsSheet(data), digest)
	}
	p2, err := LoadProcedure("pinned", data)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p, p2, cmpopts.IgnoreUnexported(Procedure{}), cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("procedure changed (-before +after):\n%s", diff)
	}
	if _, err := p2.Check(); err != nil {
		t.Errorf("pinned procedure: %v", err)
	}
	if _, again, err := p2.Pin(); err != nil || again != digest {
		t.Errorf("digest %s, then %s (%v)", digest, again, err)
	}

	data, digest, err = s.Pin()
	if err != nil {
		t.Fatal(err)
	}
	if !IsSheet(data) {
		t.Error("pinned sheet is not seen as a sheet")
	}
	s2, err := LoadSheet("pinned", data)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(s, s2, cmpopts.IgnoreUnexported(Sheet{}), cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("sheet changed (-before +after):\n%s", diff)
	}
	if _, again, err := s2.Pin(); err != nil || again != digest {
		t.Errorf("digest %s, then %s (%v)", digest, again, err)
	}
}

func TestDigestTellsChangesApart(t *testing.T) {
	p, _ := small(t)
	_, before, err := p.Pin()
	if err != nil {
		t.Fatal(err)
	}
	p.Stages[0].Checks[0].Title += "."
	_, after, err := p.Pin()
	if err != nil || before == after {
		t.Errorf("one changed character leaves the digest %s (%v)", after, err)
	}
	// FIPS 180-4 example: the digest of "abc".
	if got := Digest([]byte("abc")); got != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Errorf("digest of abc is %s", got)
	}
}
