package bay

import "testing"

// TestEarlierRevisionIsRead: a revision that is not in use any more stays readable, with what the one
// in use says otherwise.
func TestEarlierRevisionIsRead(t *testing.T) {
	r := inRegister(t, frida, "5 Down O")
	r.sees("No other revision of it has been in use here")
	r.keys("I")
	r.importFiles("testdata/import/sheet-3.toml", "")
	r.keys("Enter")
	r.type_(codes["fh"])
	r.keys("Enter")
	r.sees("In use: sheet test-van revision 3")
	r.keys("O")
	r.sees("revision 2")
	r.sees("Not in use any more")
	r.sees(`"28..40 N·m" → "30..38 N·m"`)
	r.sees("28..40 N·m, from Test workshop book")
}
