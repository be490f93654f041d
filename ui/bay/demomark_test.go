package bay

import (
	"strings"
	"testing"
)

// TestInventedSheetInARealWorkshop has a workshop of its own with a sheet that is invented: every
// screen of a job that rests on it says so in its first row, the others do not.
func TestInventedSheetInARealWorkshop(t *testing.T) {
	f, now := workshopOf(t, false)
	openJob(t, f)
	r := start(t, f, now)
	first := func() string { return strings.SplitN(r.frame(), "\n", 2)[0] }
	r.signIn(tarik)
	r.sees("Jobs in the bay")
	if strings.Contains(first(), "DEMO") {
		t.Errorf("the list of a workshop of its own is marked: %s", first())
	}
	r.keys("Enter")
	r.sees("Reception")
	if !strings.Contains(first(), "DEMO") {
		t.Errorf("the job rests on an invented sheet; its screen says only %s", first())
	}
}
