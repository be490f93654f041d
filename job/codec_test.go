package job_test

import (
	"bytes"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"bay.example/pawl/job"
)

// sameTime compares times by the instant and the offset, which is what is stored.
var sameTime = cmp.Comparer(func(a, b time.Time) bool {
	_, x := a.Zone()
	_, y := b.Zone()
	return a.UnixMilli() == b.UnixMilli() && x == y
})

func wholeJob(t testing.TB) *job.Card {
	b := openBay(t)
	b.toRelease()
	b.sign(quill, "release")
	return b.card
}

func TestEveryEventReadsBackAsWritten(t *testing.T) {
	card := wholeJob(t)
	head := job.Origin(card.Number())
	for _, e := range card.Events {
		data, err := job.Encode(e)
		if err != nil {
			t.Fatal(err)
		}
		back, err := job.Decode(data)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(e, back, sameTime, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("event %d (-written +read):\n%s", e.Seq, diff)
		}
		head = job.Link(head, data)
	}
	if head != card.Head {
		t.Errorf("the chain of digests ends in %s, the card says %s", head, card.Head)
	}
}

func TestDecodeRefusesAnotherForm(t *testing.T) {
	data, err := job.Encode(wholeJob(t).Events[0])
	if err != nil {
		t.Fatal(err)
	}
	longer := append([]byte{}, data...)
	longer = append(longer, 0)
	// A map of seven entries written as one of unknown length is the same meaning in other bytes.
	indefinite := append([]byte{0xbf}, data[1:]...)
	indefinite = append(indefinite, 0xff)
	for name, bad := range map[string][]byte{"trailing byte": longer, "indefinite map": indefinite, "empty": nil, "cut": data[:len(data)/2]} {
		if _, err := job.Decode(bad); err == nil {
			t.Errorf("%s was read as an event", name)
		}
	}
	for i := range data {
		flipped := bytes.Clone(data)
		flipped[i] ^= 1
		e, err := job.Decode(flipped)
		if err != nil {
			continue
		}
		again, err := job.Encode(e)
		if err != nil || !bytes.Equal(again, flipped) {
			t.Fatalf("byte %d flipped decodes to an event that encodes otherwise", i)
		}
	}
}

func FuzzEvent(f *testing.F) {
	for _, e := range wholeJob(f).Events {
		data, err := job.Encode(e)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		e, err := job.Decode(data)
		if err != nil {
			return
		}
		again, err := job.Encode(e)
		if err != nil || !bytes.Equal(again, data) {
			t.Fatalf("two byte forms of one event: %x and %x (%v)", data, again, err)
		}
	})
}

// FuzzHistory lets the fuzzer cut, double and reorder a real history: Fold may refuse it, never panic.
func FuzzHistory(f *testing.F) {
	events := wholeJob(f).Events
	plan := smallPlan(f)
	f.Add([]byte{0, 1, 2, 3})
	f.Add([]byte{1, 0, 0, 7, 200})
	f.Fuzz(func(t *testing.T, picks []byte) {
		if len(picks) > 200 {
			picks = picks[:200]
		}
		var chosen []job.Event
		for i, p := range picks {
			e := events[int(p)%len(events)]
			e.Seq = uint32(i + 1)
			chosen = append(chosen, e)
		}
		card, err := job.Fold(plan, chosen)
		if err != nil {
			return
		}
		if card.Seq() != uint32(len(chosen)) {
			t.Fatalf("folded %d events into %d", len(chosen), card.Seq())
		}
	})
}

func BenchmarkFold(b *testing.B) {
	t := openBay(b)
	t.toDecision("replace")
	for len(t.card.Events) < 290 {
		t.must(ninna, job.Again{Stage: ref("pads/left"), Reason: "measured again"})
		for _, p := range []string{"inner leading", "inner trailing", "outer leading", "outer trailing"} {
			t.enter(ninna, "pads/left", "thickness", p, "6.1", "PG1")
		}
	}
	events := t.card.Events[:290]
	b.ReportMetric(float64(len(events)), "events")
	for b.Loop() {
		if _, err := job.Fold(t.plan, events); err != nil {
			b.Fatal(err)
		}
	}
}
