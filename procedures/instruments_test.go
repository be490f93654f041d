package procedures

import (
	"strings"
	"testing"
)

// The guide names every kind of instrument, in the order of the register.
func TestGuideNamesInstruments(t *testing.T) {
	guide := strings.Join(strings.Fields(string(readFile(t, "GUIDE.md"))), " ")
	if want := "as the register has them: " + strings.Join(Instruments(), ", ") + "."; !strings.Contains(guide, want) {
		t.Errorf("the guide does not say %q", want)
	}
}
