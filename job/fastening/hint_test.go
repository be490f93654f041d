package fastening

import (
	"testing"

	"bay.example/pawl/job/quantity"
)

type hintCase struct {
	typed, window, likely string
	want                  Hint
}

func checkHints(t *testing.T, hint func(quantity.Quantity, quantity.Window, quantity.Window) (Hint, bool), cases []hintCase) {
	t.Helper()
	for _, tc := range cases {
		got, found := hint(q(tc.typed), window(t, tc.window), window(t, tc.likely))
		if found != (tc.want != Hint{}) {
			t.Errorf("%s in %s: found %v: %+v", tc.typed, tc.window, found, got)
		}
		diff(t, tc.want, got)
	}
}

// Source: trade.md 4.1, worked table, workshop paper, invented demo values; the
// rows after the table follow from the unit factors.
func TestHintTorque(t *testing.T) {
	torque := func(typed quantity.Quantity, w, _ quantity.Window) (Hint, bool) { return HintTorque(typed, w) }
	const again = ": was the wrong scale read? Check the scale, tighten again and type the N·m value."
	checkHints(t, torque, []hintCase{
		{"26 N·m", "32..38 N·m", "", Hint{WrongScale, q("35.2513 N·m"), "26 N·m is below 32 N·m; 26 lbf·ft would be 35.3 N·m" + again}},
		{"118 N·m", "152..168 N·m", "", Hint{WrongScale, q("159.9865 N·m"), "118 N·m is below 152 N·m; 118 lbf·ft would be 160 N·m" + again}},
		{"47.5 N·m", "32..38 N·m", "", Hint{WrongSetting, quantity.Quantity{},
			"47.5 N·m is above 38 N·m; 35 lbf·ft gives 47.5 N·m: was the wrench set to 35 on the lbf·ft scale? Then the fastener has 47.5 N·m: take it off, check or replace it, and begin a new attempt."}},
		{"217 N·m", "152..168 N·m", "", Hint{WrongSetting, quantity.Quantity{},
			"217 N·m is above 168 N·m; 160 lbf·ft gives 216.9 N·m: was the wrench set to 160 on the lbf·ft scale? Then the fastener has 217 N·m: take it off, check or replace it, and begin a new attempt."}},
		{"3.5 N·m", "32..38 N·m", "", Hint{SlippedDecimal, q("35 N·m"), "3.5 N·m is below 32 N·m; 35 N·m would fit, so it looks ten times too small: decimal slip? Type the value again."}},
		{"350 N·m", "32..38 N·m", "", Hint{SlippedDecimal, q("35 N·m"), "350 N·m is above 38 N·m; 35 N·m would fit, so it looks ten times too large: decimal slip? Type the value again."}},
		{"0.035 N·m", "32..38 N·m", "", Hint{KiloUnit, q("35 N·m"), "0.035 N·m is below 32 N·m; it looks like kN·m, which would be 35 N·m: type the value in N·m."}},
		// A target written off the middle is what the wrench was set to.
		{"44.7 N·m", "33 N·m ± 10 %", "", Hint{WrongSetting, quantity.Quantity{},
			"44.7 N·m is above 36.3 N·m; 33 lbf·ft gives 44.7 N·m: was the wrench set to 33 on the lbf·ft scale? Then the fastener has 44.7 N·m: take it off, check or replace it, and begin a new attempt."}},
		{"85 N·m", "9..10 N·m", "", Hint{WrongScale, q("9.6037 N·m"), "85 N·m is above 10 N·m; 85 lbf·in would be 9.6 N·m" + again}},
		{"3.3 N·m", "32..32.9 N·m", "", Hint{WrongScale, q("32.3619 N·m"), "3.3 N·m is below 32 N·m; 3.3 kgf·m would be 32.4 N·m" + again}},
		{"35 lbf·ft", "32..38 N·m", "", Hint{WrongScale, q("35 N·m"), "35 lbf·ft is above 38 N·m; 35 N·m would be 35 N·m" + again}},
		{"2012345678900 N·m", "32..38 N·m", "", Hint{Barcode, quantity.Quantity{}, "2012345678900: that is a barcode, not a measurement."}},
		// Inside, or explained by nothing.
		{"32.0 N·m", "32..38 N·m", "", Hint{}},
		{"38.0 N·m", "32..38 N·m", "", Hint{}},
		{"26 lbf·ft", "32..38 N·m", "", Hint{}},
		{"31 N·m", "32..38 N·m", "", Hint{}},
		{"41 N·m", "32..38 N·m", "", Hint{}},
		{"0 N·m", "32..38 N·m", "", Hint{}},
		{"-26 N·m", "32..38 N·m", "", Hint{}},
		{"250 N·m", ">= 100 N·m", "", Hint{}},
		{"26 mm", "32..38 N·m", "", Hint{}},
		{"26 mm", "32..38 mm", "", Hint{}},
	})
}

// Source: trade.md 4.7, 4.8 and 4.10 and acceptance case 30, worked examples,
// workshop paper, invented demo values.
func TestHintLength(t *testing.T) {
	const unit = ": was the unit mixed up? Type the value again in mm."
	checkHints(t, HintLength, []hintCase{
		{"0.646 mm", ">= 16.00 mm", "", Hint{WrongScale, q("16.4084 mm"), "0.646 mm is below 16.00 mm; 0.646 in would be 16.41 mm" + unit}},
		{"1.64 mm", ">= 16.00 mm", "", Hint{SlippedDecimal, q("16.4 mm"), "1.64 mm is below 16.00 mm; 16.4 mm would fit, so it looks ten times too small: decimal slip? Type the value again."}},
		{"164 mm", ">= 16.00 mm", "", Hint{SlippedDecimal, q("16.4 mm"), "164 mm is hardly possible here; 16.4 mm would fit, so it looks ten times too large: decimal slip? Type the value again."}},
		{"1642 mm", ">= 16.00 mm", "12..18.10 mm", Hint{SlippedDecimal, q("16.42 mm"), "1642 mm is hardly possible here; 16.42 mm would fit, so it looks a hundred times too large: decimal slip? Type the value again."}},
		{"31 mm", ">= 2.0 mm", "0..11.8 mm", Hint{SlippedDecimal, q("3.1 mm"), "31 mm is hardly possible here; 3.1 mm would fit, so it looks ten times too large: decimal slip? Type the value again."}},
		{"8 mm", "<= 0.08 mm", "", Hint{SlippedDecimal, q("0.08 mm"), "8 mm is above 0.08 mm; 0.08 mm would fit, so it looks a hundred times too large: decimal slip? Type the value again."}},
		{"35 mm", "<= 0.08 mm", "", Hint{WrongScale, q("0.035 mm"), "35 mm is above 0.08 mm; 35 µm would be 0.035 mm" + unit}},
		{"645 mm", "16.00..18.10 mm", "", Hint{WrongScale, q("16.383 mm"), "645 mm is above 18.10 mm; 645 thou would be 16.38 mm" + unit}},
		{"16.4 in", ">= 16.00 mm", "", Hint{WrongScale, q("16.4 mm"), "16.4 in is hardly possible here; 16.4 mm would be 16.4 mm" + unit}},
		{"2012345678900 mm", ">= 16.00 mm", "", Hint{Barcode, quantity.Quantity{}, "2012345678900: that is a barcode, not a measurement."}},
		// Real values, good and bad.
		{"16.415 mm", ">= 16.00 mm", "", Hint{}},
		{"15.94 mm", ">= 16.00 mm", "", Hint{}},
		{"14.99 mm", ">= 16.00 mm", "12..18.10 mm", Hint{}},
		{"0.12 mm", "<= 0.08 mm", "", Hint{}},
		{"0.002 mm", "<= 0.08 mm", "", Hint{}},
		{"16.4 N·m", ">= 16.00 mm", "", Hint{}},
	})
}

// Source: the unit factors of trade.md 4.1; the windows are invented demo values.
func TestHintForce(t *testing.T) {
	const unit = ": was the unit mixed up? Type the value again in N."
	checkHints(t, HintForce, []hintCase{
		{"2.5 N", ">= 2000 N", "", Hint{WrongScale, q("2500 N"), "2.5 N is below 2000 N; 2.5 kN would be 2500 N" + unit}},
		{"250 N", ">= 2000 N", "", Hint{WrongScale, q("2500 N"), "250 N is below 2000 N; 250 daN would be 2500 N" + unit}},
		{"205 N", "2000..2020 N", "", Hint{WrongScale, q("2010.3633 N"), "205 N is below 2000 N; 205 kgf would be 2010.4 N" + unit}},
		{"25000 N", "2000..4000 N", "", Hint{SlippedDecimal, q("2500 N"), "25000 N is above 4000 N; 2500 N would fit, so it looks ten times too large: decimal slip? Type the value again."}},
		{"2500 kN", "2000..4000 N", "", Hint{WrongScale, q("2500 N"), "2500 kN is above 4000 N; 2500 N would be 2500 N" + unit}},
		{"1900 N", "2000..4000 N", "", Hint{}},
		{"2500 N", ">= 2000 N", "", Hint{}},
		{"2500 mm", ">= 2000 N", "", Hint{}},
	})
}

// Source: °F = 1.8·°C + 32; the windows are invented demo values.
func TestHintTemperature(t *testing.T) {
	const unit = ": was the unit mixed up? Type the value again in °C."
	checkHints(t, HintTemperature, []hintCase{
		{"446 °C", ">= 230 °C", "", Hint{WrongScale, q("230 °C"), "446 °C is hardly possible here; 446 °F would be 230 °C" + unit}},
		{"311 °C", "155..160 °C", "", Hint{WrongScale, q("155 °C"), "311 °C is above 160 °C; 311 °F would be 155 °C" + unit}},
		{"23.5 °C", ">= 230 °C", "", Hint{SlippedDecimal, q("235 °C"), "23.5 °C is below 230 °C; 235 °C would fit, so it looks ten times too small: decimal slip? Type the value again."}},
		{"240 °F", ">= 446 °F", "", Hint{WrongScale, q("464 °F"), "240 °F is below 446 °F; 240 °C would be 464 °F: was the unit mixed up? Type the value again in °F."}},
		{"260 °C", ">= 230 °C", "", Hint{}},
		{"180 °C", ">= 230 °C", "", Hint{}},
	})
}

// Source: GS1 check digit, from memory, computed by hand. The numbers are from
// the range for use inside a shop and belong to no article.
func TestLooksLikeBarcode(t *testing.T) {
	for text, want := range map[string]bool{
		"2012345678900": true, "2012345678901": true, "20123451": true, "20123452": false, "201234567899": true, "201234567890": false,
		"12012345678900": true, "12012345678901": false, "": false, "16": false, "16.42": false, "201234567890.1": false, "-012345678900": false, "12345678901": false,
	} {
		if got := LooksLikeBarcode(text); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// Source: trade.md 4.1, last row, worked example, workshop paper, invented demo
// values. The paper prints 23.6 as the lowest mark, which is 31.997 N·m and
// below the window; the limits here are rounded inwards, so it is 23.7.
func TestOnScale(t *testing.T) {
	w := window(t, "32..38 N·m")
	got, err := OnScale(w, quantity.PoundFoot, 1)
	if err != nil {
		t.Fatal(err)
	}
	diff(t, ScaleWindow{Unit: quantity.PoundFoot, Target: q("25.8 lbf·ft"), Low: q("23.7 lbf·ft"), High: q("28.0 lbf·ft")}, got)
	diff(t, "W9 has no N·m scale. For 32..38 N·m set 25.8 lbf·ft (allowed 23.7 to 28.0). Type what the wrench was set to in lbf·ft.", got.Sentence("W9", w))
	printed, err := q("32 N·m").Convert(quantity.PoundFoot, 1)
	if err != nil {
		t.Fatal(err)
	}
	diff(t, q("23.6 lbf·ft"), printed)
	for mark, want := range map[string]quantity.Verdict{"23.6 lbf·ft": quantity.Outside, "23.7 lbf·ft": quantity.Inside, "28.0 lbf·ft": quantity.Inside, "28.1 lbf·ft": quantity.Outside} {
		verdict, err := w.Judge(q(mark))
		if err != nil || verdict != want {
			t.Errorf("%s: %v, %v", mark, verdict, err)
		}
	}
	open, err := OnScale(window(t, ">= 32 N·m"), quantity.PoundFoot, 0)
	if err != nil {
		t.Fatal(err)
	}
	diff(t, ScaleWindow{Unit: quantity.PoundFoot, Low: q("24 lbf·ft")}, open)
	diff(t, "W9 has no N·m scale. For >= 32 N·m the marks >= 24 lbf·ft are allowed. Type what the wrench was set to in lbf·ft.", open.Sentence("W9", window(t, ">= 32 N·m")))
	// 32.2 to 32.6 N·m is 23.75 to 24.04 lbf·ft: the only mark is 24.
	narrow, err := OnScale(window(t, "32.4 N·m ± 0.2 N·m"), quantity.PoundFoot, 0)
	if err != nil {
		t.Fatal(err)
	}
	diff(t, ScaleWindow{Unit: quantity.PoundFoot, Target: q("24 lbf·ft"), Low: q("24 lbf·ft"), High: q("24 lbf·ft")}, narrow)
	_, err = OnScale(window(t, "32..32.1 N·m"), quantity.PoundFoot, 0)
	refused(t, err, "32..32.1 N·m has no mark on a scale of 1 lbf·ft; use a wrench with a N·m scale")
	_, err = OnScale(w, quantity.PoundFoot, 9)
	refused(t, err, "expected 0 to 4")
	_, err = OnScale(w, quantity.Millimetre, 1)
	if err == nil {
		t.Error("a torque window was put on a scale in mm")
	}
}
