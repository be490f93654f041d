package fastening

import "testing"

// Source: trade.md 4.5, annex A and acceptance case 36, worked example, workshop
// paper, invented demo values.
func TestCyclesWorkedExample(t *testing.T) {
	plan := []Line{
		{"W5", 2, 1, 2}, // disc screws
		{"W7", 6, 1, 2}, // clamping for run-out
		{"W7", 2, 1, 2}, // carrier bolts
		{"W3", 2, 1, 2}, // guide bolts
		{"W7", 6, 2, 2}, // wheel nuts, two passes
	}
	for wrench, want := range map[string]int{"W5": 4, "W3": 4, "W7": 40, "W8": 0} {
		got, err := PlannedPulls(wrench, plan)
		if err != nil || got != want {
			t.Errorf("%s: %d, %v, want %d", wrench, got, err, want)
		}
	}
	c := Cycles{Wrench: "W7", Since: 4988, Limit: RecalibrationCycles, Planned: 40}
	if err := c.Valid(); err != nil {
		t.Fatal(err)
	}
	if c.Left() != 12 || c.Enough() {
		t.Errorf("left %d, enough %v", c.Left(), c.Enough())
	}
	diff(t, "W7 has 12 cycles left, 40 needed. Take W8 or calibrate first.", c.Sentence("W8"))
	diff(t, "W7 has 12 cycles left, 40 needed. Take another wrench or calibrate first.", c.Sentence(""))
}

func TestCyclesLimits(t *testing.T) {
	for _, tc := range []struct {
		since, planned, left int
		enough               bool
	}{{4960, 40, 40, true}, {4961, 40, 39, false}, {5000, 0, 0, true}, {5000, 1, 0, false}, {6000, 1, 0, false}, {0, 5000, 5000, true}} {
		c := Cycles{Wrench: "W7", Since: tc.since, Limit: 5000, Planned: tc.planned}
		if c.Left() != tc.left || c.Enough() != tc.enough || (c.Sentence("W8") == "") != tc.enough {
			t.Errorf("%+v: left %d, enough %v, %q", tc, c.Left(), c.Enough(), c.Sentence("W8"))
		}
	}
	diff(t, "W7 has 1 cycle left, 2 needed. Take W8 or calibrate first.", Cycles{"W7", 4999, 5000, 2}.Sentence("W8"))
	refused(t, Cycles{"W7", -1, 5000, 2}.Valid(), "W7 has -1 pulls done")
	refused(t, Cycles{"W7", 1, 5000, -2}.Valid(), "-2 planned")
	refused(t, Cycles{"W7", 1, 0, 2}.Valid(), "limit of 0 pulls")
	_, err := PlannedPulls("W7", []Line{{"W7", 0, 1, 2}})
	refused(t, err, "W7: 0 fasteners × 1 passes × 2 sides cannot be planned")
}
