package bay

import "testing"

// TestAdoptedSheetShowsBothVerdicts has pads measured above the limit of one revision and below that
// of the next: before the code, on the stage and in the record both verdicts are read.
func TestAdoptedSheetShowsBothVerdicts(t *testing.T) {
	f, now := toBolts(t)
	putRevision(t, f, "small-sheet.toml", ">= 2.0 mm", ">= 9.0 mm")
	r := start(t, f, now)
	r.signIn(frida)
	r.keys("Enter M 8 4 1")
	r.fill("measured at the rim")
	r.sees("values on record are judged by other windows of revision 3")
	r.sees("outside (at least 9.0 mm) by revision 3")
	r.both("adopt-code")
	r.code(frida)
	r.sees("stages must be done again")
	r.keys("Enter")
	r.goTo("Pads measured, left")
	r.sees("The spec sheet in use now judges it otherwise")
	r.sees("8.4 mm was inside by revision 2 and is outside by revision 3")
	r.both("adopted")
}
