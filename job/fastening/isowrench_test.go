package fastening

import (
	"strconv"
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
)

// Source: hand_torque_tools.csv (ISO 6789 by makers' summaries).
func TestDefaultsAgainstTable(t *testing.T) {
	table := make(map[string]string)
	for _, row := range reference(t, "hand_torque_tools") {
		table[row["item"]] = row["value"]
	}
	for item, maxima := range map[string][]string{
		"setting wrench, adjustable, graduated, maximum > 10 N m: permissible deviation": {"10.01 N·m", "50 N·m", "200 N·m", "150 lbf·ft"},
		"same, maximum <= 10 N m": {"10 N·m", "10.0 N·m", "2 N·m", "88 lbf·in"},
	} {
		printed, found := strings.CutPrefix(table[item], "+-")
		if !found {
			t.Fatalf("%q is %q in the table", item, table[item])
		}
		for _, maximum := range maxima {
			got, err := DefaultDeviation(SettingWrench, q(maximum))
			if err != nil {
				t.Fatal(err)
			}
			diff(t, printed, got.String())
		}
	}
	interval := table["recalibration when no own procedure"]
	diff(t, interval, strconv.Itoa(RecalibrationMonths)+" months or "+strconv.Itoa(RecalibrationCycles)+" cycles")
	if !strings.Contains(table["lowest calibrated point"], "lowest marked scale value (was 20 %)") {
		t.Errorf("the table no longer says where the 20 %% of WorkingRange come from: %q", table["lowest calibrated point"])
	}
}

func TestDefaultDeviationRefusals(t *testing.T) {
	for _, tc := range []struct {
		kind    Kind
		maximum string
		want    string
	}{
		{IndicatingWrench, "50 N·m", "from its certificate"},
		{ElectronicWrench, "50 N·m", "from its certificate"},
		{"beam", "50 N·m", `wrench kind "beam" is not known`},
		{SettingWrench, "", "missing"},
		{SettingWrench, "50 mm", "the wrench's highest value"},
	} {
		_, err := DefaultDeviation(tc.kind, q(tc.maximum))
		refused(t, err, tc.want)
	}
}

// Source: trade.md 4.5 and annex A, worked example, workshop paper, invented
// demo values.
func TestWorkingRange(t *testing.T) {
	for _, tc := range []struct {
		maximum, marked, low, set, want string
	}{
		{"200 N·m", "", "40 N·m", "35 N·m", "35 N·m is below 40 N·m"},
		{"200 N·m", "40 N·m", "40 N·m", "160 N·m", ""},
		{"200 N·m", "40 N·m", "40 N·m", "95 N·m", ""},
		{"200 N·m", "40 N·m", "40 N·m", "40 N·m", ""},
		{"200 N·m", "40 N·m", "40 N·m", "200 N·m", ""},
		{"200 N·m", "40 N·m", "40 N·m", "200.1 N·m", "200.1 N·m is above 200 N·m"},
		{"50 N·m", "10 N·m", "10 N·m", "95 N·m", "95 N·m is above 50 N·m"},
		{"50 N·m", "10 N·m", "10 N·m", "35 N·m", ""},
		{"2.5 N·m", "", "0.5 N·m", "0.4 N·m", "0.4 N·m is below 0.5 N·m"},
		{"150 lbf·ft", "20 lbf·ft", "20 lbf·ft", "35 N·m", ""},
		{"150 lbf·ft", "20 lbf·ft", "20 lbf·ft", "27 N·m", "27 N·m is below 20 lbf·ft"},
	} {
		r, err := WorkingRange(q(tc.maximum), q(tc.marked))
		if err != nil {
			t.Fatal(err)
		}
		diff(t, Range{q(tc.low), q(tc.maximum)}, r)
		err = r.Check(q(tc.set))
		switch {
		case tc.want != "":
			refused(t, err, tc.want)
		case err != nil:
			t.Errorf("%s in %s: %v", tc.set, tc.maximum, err)
		}
	}
	for _, tc := range []struct{ maximum, marked, want string }{
		{"", "", "missing"},
		{"200 mm", "", "no torque"},
		{"200 N·m", "200 N·m", "is not below its highest"},
		{"200 N·m", "40 mm", "lowest marked value"},
	} {
		_, err := WorkingRange(q(tc.maximum), q(tc.marked))
		refused(t, err, tc.want)
	}
	refused(t, Range{q("40 N·m"), q("200 N·m")}.Check(quantity.Quantity{}), "missing")
}
