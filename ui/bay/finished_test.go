package bay

import (
	"strings"
	"testing"
)

// containsText looks for a text in frames, whatever was wrapped.
func containsText(frames, want string) bool {
	plain := func(s string) string { return strings.Join(strings.Fields(strings.ReplaceAll(s, "\n", " ")), " ") }
	return strings.Contains(plain(frames), plain(want))
}

// TestFinished searches the list by vehicle and number.
func TestFinished(t *testing.T) {
	f, now := workshop(t)
	r := start(t, f, now)
	r.signIn(tarik)
	r.keys("F")
	r.sees("No job is finished yet")
	r.both("finished-none")
	r.keys("Enter")
	r.sees("No job is finished yet")
	r.keys("Esc")
	walked(t, f, now)
	r.keys("F")
	r.sees("Finished jobs: 1")
	r.both("finished")
	r.type_("zz")
	r.sees(`Nothing here has "zz" in it`)
	r.keys("Enter")
	r.sees(`Nothing on this list has "zz" in it`)
	r.keys("Esc")
	r.sees("Van of the laundry")
	r.type_("1")
	r.keys("Enter")
	r.sees("record of job 1")
	r.keys("Esc")
	r.press("V-7x")
	r.press("Enter")
	r.sees(`"V-7x" is nothing on this list`)
}
