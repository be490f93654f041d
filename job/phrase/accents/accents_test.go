package accents

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestMissing(t *testing.T) {
	for text, want := range map[string][]string{
		"Þóŕqûé óf Caliper":                   {"caliper"},
		"\x1b[1mSigned.\x1b[0m by Ylva (two)": {"signed", "ylva"},
		"/tmp/workshop.pawl W-12 wheel…":      nil,
		"ţĥé íš 120 N·m":                      nil,
	} {
		if diff := cmp.Diff(want, Missing(text)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
		}
	}
}

func TestOff(t *testing.T) {
	want := "ţóŕqûé 120 N·m"
	if On() {
		want = "torque 120 N·m"
	}
	if got := Off("ţóŕqûé 120 N·m"); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
