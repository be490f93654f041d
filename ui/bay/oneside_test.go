package bay

import (
	"slices"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/phrase/accents"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// TestOtherSideWaitsInTheStageList: while the left shoes are off, the right ones are not "ready".
func TestOtherSideWaitsInTheStageList(t *testing.T) {
	h, p := handOn(t, "rear-drum-shoes")
	theme, err := draw.NewTheme(draw.Options{Palette: "mono", NoColor: true})
	must(t, err)
	row := func() string {
		rows, _ := stageRows(theme, h.card(), 0, 78)
		for _, r := range rows {
			if r = accents.Off(r); strings.Contains(r, "RIGHT") && strings.Contains(r, "other side first") {
				return r
			}
		}
		return ""
	}
	for range 3000 {
		if row() != "" {
			break
		}
		move, more, err := h.walker.Next(h.card(), h.f.Context(store.Actor{Person: h.walker.Crew.Doer}))
		if err != nil || !more {
			t.Fatalf("no stage ever waited for the other side: %v", err)
		}
		*h.now = h.now.Add(time.Minute) // nobody countersigns in a row
		_, _, err = h.f.Do(h.job, store.Actor{Person: move.By, CodeGiven: true}, move.Want)
		must(t, err)
	}
	if row() == "" {
		t.Fatal("no stage ever waited for the other side")
	}
	drawn, err := procedures.Draw(p, nil)
	must(t, err)
	if !slices.ContainsFunc(drawn, func(d procedures.Drawn) bool {
		return strings.Contains(accents.Off(drawnLine(d).text), "one side at a time")
	}) {
		t.Error("the preview does not say that one side is done at a time")
	}
}
