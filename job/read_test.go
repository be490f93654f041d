package job_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
	"bay.example/pawl/procedures"
)

// Reading the stored bytes says the same as Fold over the events, and only strict reading refuses
// bytes in another form.
func TestRead(t *testing.T) {
	b, w := openReal(t, nil)
	b.walk(w, at("raise-and-support"))
	var stored [][]byte
	for _, e := range b.card.Events {
		data, err := job.Encode(e)
		if err != nil {
			t.Fatal(err)
		}
		stored = append(stored, data)
	}
	plan := func(job.Opened) (*procedures.Plan, error) { return b.plan, nil }
	for _, vouched := range []bool{false, true} {
		c, err := job.Read(stored, vouched, plan)
		if err != nil {
			t.Fatal(err)
		}
		if c.Head != b.card.Head || c.Next() != b.card.Next() || len(c.Open) != len(b.card.Open) {
			t.Errorf("vouched %v: another job was read", vouched)
		}
	}
	other := append([][]byte{}, stored...)
	last := other[len(other)-1] // a map header of one byte, written as the longer form 0xb8 n
	other[len(other)-1] = append([]byte{0xb8, last[0] & 0x1f}, last[1:]...)
	if _, err := job.Read(other, false, plan); err == nil || !strings.Contains(err.Error(), "not in the one form") {
		t.Errorf("a longer form is read: %v", err)
	}
	if c, err := job.Read(other, true, plan); err != nil || cmp.Equal(c.Head, b.card.Head) {
		t.Errorf("vouched for: %v", err)
	}
	if _, err := job.Read(nil, true, plan); err == nil {
		t.Error("no events are a job")
	}
	if _, err := job.Read(stored[1:], true, plan); err == nil {
		t.Error("a job that was never opened is read")
	}
}
