package paper

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bay.example/pawl/job"
)

// TestSpansAgreeWithTheCard compares, after many prefixes of the job, what the list of openings says
// stands open with the card's own reckoning, which is made another way.
func TestSpansAgreeWithTheCard(t *testing.T) {
	b := played(t)
	for n := 1; n <= len(b.card.Events); n += 3 {
		c, err := job.Fold(b.plan, b.card.Events[:n])
		if err != nil {
			t.Fatal(err)
		}
		var mine, theirs []string
		for _, s := range spans(c) {
			if s.back == nil {
				mine = append(mine, s.ref.String())
			}
		}
		for _, s := range c.Open {
			theirs = append(theirs, s.Ref.String())
		}
		slices.Sort(mine)
		slices.Sort(theirs)
		if diff := cmp.Diff(theirs, mine); diff != "" {
			t.Fatalf("after event %d (-card +list):\n%s", n, diff)
		}
	}
}

func TestEverySpanOfAFinishedJobIsClosedAfterItOpened(t *testing.T) {
	for _, s := range spans(played(t).card) {
		if s.back == nil || s.back.Seq <= s.opened.Seq {
			t.Errorf("%s was opened by event %d and put back by %+v", s.name(), s.opened.Seq, s.back)
		}
	}
}
