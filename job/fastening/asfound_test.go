package fastening

import (
	"testing"

	"bay.example/pawl/job/quantity"
)

// Source: trade.md 4.5 and acceptance case 27, worked example, workshop paper,
// invented demo values; the last three rows are the 100 N·m edge in the header
// of hand_torque_tools.csv, both ways.
func TestJudgeAsFound(t *testing.T) {
	for _, tc := range []struct {
		set, percent string
		of           Reference
		window       string
		adapter      Adapter
		want         AsFound
	}{
		{"160 N·m", "-7.5 %", OfSetting, "152..168 N·m", Adapter{}, AsFound{q("148 N·m"), quantity.Outside}},
		{"95 N·m", "-7.5 %", OfSetting, "90..100 N·m", Adapter{}, AsFound{q("87.875 N·m"), quantity.Outside}},
		{"160 N·m", "-5 %", OfSetting, "152..168 N·m", Adapter{}, AsFound{q("152 N·m"), quantity.Inside}},
		{"160 N·m", "5.0000000001 %", OfSetting, "152..168 N·m", Adapter{}, AsFound{q("168 N·m"), quantity.Outside}},
		{"24.5 N·m", "-7.5 %", OfSetting, "26..30 N·m", Adapter{Length: q("300 mm"), Offset: q("40 mm")}, AsFound{q("25.6842 N·m"), quantity.Outside}},
		{"118 lbf·ft", "0 %", OfSetting, "152..168 N·m", Adapter{}, AsFound{q("159.9865 N·m"), quantity.Inside}},
		{"100 N·m", "4 %", OfSetting, "104..110 N·m", Adapter{}, AsFound{q("104 N·m"), quantity.Inside}},
		{"100 N·m", "-3.846 %", OfDelivered, "103.9..104.1 N·m", Adapter{}, AsFound{q("103.9998 N·m"), quantity.Inside}},
		{"100 N·m", "-3.846 %", OfDelivered, "104..110 N·m", Adapter{}, AsFound{q("103.9998 N·m"), quantity.Outside}},
	} {
		got, err := JudgeAsFound(q(tc.set), q(tc.percent), tc.of, window(t, tc.window), tc.adapter)
		if err != nil {
			t.Fatal(err)
		}
		diff(t, tc.want, got)
	}
	w := window(t, "152..168 N·m")
	for _, tc := range []struct {
		set, percent string
		of           Reference
		want         string
	}{
		{"", "-7.5 %", OfSetting, "the recorded setting is missing"},
		{"160 N·m", "", OfSetting, "the as-found error is missing"},
		{"160 N·m", "-7.5 N·m", OfSetting, "the as-found error"},
		{"160 N·m", "-100 %", OfSetting, "less than 100 % either way"},
		{"160 N·m", "100 %", OfDelivered, "less than 100 % either way"},
		{"160 N·m", "-99.99999999999999 %", OfDelivered, "beyond anything measured"},
		{"160 N·m", "-7.5 %", "", "is not known, expected one of the setting or of the torque delivered"},
		{"160 mm", "-7.5 %", OfSetting, "the recorded setting"},
	} {
		_, err := JudgeAsFound(q(tc.set), q(tc.percent), tc.of, w, Adapter{})
		refused(t, err, tc.want)
	}
	_, err := JudgeAsFound(q("160 N·m"), q("-7.5 %"), OfSetting, quantity.Window{}, Adapter{})
	refused(t, err, "no window")
}
