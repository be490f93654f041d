package fastening

import (
	"fmt"
	"testing"

	"bay.example/pawl/job/quantity"
	"pgregory.net/rapid"
)

// Source: trade.md 4.2, worked example, workshop paper, invented demo values.
// The last three columns of the third and fourth row follow from the formula.
func TestProveWorkedExample(t *testing.T) {
	for _, tc := range []struct {
		set, window, percent, step string
		verdict                    quantity.Verdict
		lowest, highest, wouldDo   string
		from, to                   string
	}{
		{"160 N·m", "152..168 N·m", "4 %", "1 N·m", quantity.Inside, "153.1 N·m", "166.9 N·m", "4.6 %", "159 N·m", "161 N·m"},
		{"35 N·m", "32..38 N·m", "4 %", "0.5 N·m", quantity.Inside, "33.35 N·m", "36.65 N·m", "7.8 %", "34 N·m", "36 N·m"},
		{"28 N·m", "27..29 N·m", "4 %", "0.5 N·m", quantity.NotProven, "26.63 N·m", "29.37 N·m", "2.6 %", "", ""},
		{"33 N·m", "32..38 N·m", "4 %", "0.5 N·m", quantity.NotProven, "31.43 N·m", "34.57 N·m", "2.2 %", "34 N·m", "36 N·m"},
		{"39 N·m", "32..38 N·m", "4 %", "0.5 N·m", quantity.Outside, "37.19 N·m", "40.81 N·m", "", "34 N·m", "36 N·m"},
		{"20 N·m", ">= 10 N·m", "4 %", "0.5 N·m", quantity.Inside, "18.95 N·m", "21.05 N·m", "48.7 %", "11 N·m", ""},
		{"20 N·m", "<= 22 N·m", "4 %", "", quantity.Inside, "19.2 N·m", "20.8 N·m", "10.0 %", "", "21.1538 N·m"},
	} {
		t.Run(tc.set+" in "+tc.window, func(t *testing.T) {
			got, err := Prove(q(tc.set), window(t, tc.window), Accuracy{Error: q(tc.percent), Resolution: q(tc.step)}, Adapter{})
			if err != nil {
				t.Fatal(err)
			}
			want := Proof{Set: q(tc.set), Window: window(t, tc.window), Verdict: tc.verdict, Bolt: q(tc.set),
				Lowest: q(tc.lowest), Highest: q(tc.highest), WouldDo: q(tc.wouldDo), SettingLow: q(tc.from), SettingHigh: q(tc.to)}
			diff(t, want, got)
			if got.Able() != (tc.verdict == quantity.Inside) {
				t.Errorf("Able() = %v with verdict %v", got.Able(), got.Verdict)
			}
		})
	}
}

// Exactly at the limit is proven, a hair beyond is not: 33.6 is inside 35 − 4 %.
func TestProveIsExactAtTheLimits(t *testing.T) {
	w := window(t, "33.6..36.4 N·m")
	for percent, want := range map[string]quantity.Verdict{
		"4 %": quantity.Inside, "4.0000000001 %": quantity.NotProven,
	} {
		got, err := JudgeReading(q("35 N·m"), w, Accuracy{Error: q(percent)}, Adapter{})
		if err != nil || got != want {
			t.Errorf("%s: %v, %v, want %v", percent, got, err, want)
		}
	}
}

// Source: acceptance case 1 of trade.md, worked example, workshop paper,
// invented demo values, with an instrument that has no error.
func TestJudgeReading(t *testing.T) {
	w := window(t, "32..38 N·m")
	for _, tc := range []struct {
		reading, percent, step string
		want                   quantity.Verdict
	}{
		{"32.0 N·m", "0 %", "", quantity.Inside},
		{"38.0 N·m", "0 %", "", quantity.Inside},
		{"31.9 N·m", "0 %", "", quantity.Outside},
		{"38.1 N·m", "0 %", "", quantity.Outside},
		{"32.4 N·m", "1 %", "0.1 N·m", quantity.Inside},    // 32.026
		{"32.3 N·m", "1 %", "0.1 N·m", quantity.NotProven}, // 31.927
		{"37.7 N·m", "1 %", "0.1 N·m", quantity.NotProven}, // 38.127
		{"26 lbf·ft", "4 %", "0.1 lbf·ft", quantity.Inside},
		{"24 lbf·ft", "4 %", "0.1 lbf·ft", quantity.NotProven},
	} {
		got, err := JudgeReading(q(tc.reading), w, Accuracy{q(tc.percent), q(tc.step)}, Adapter{})
		if err != nil || got != tc.want {
			t.Errorf("%s ± %s: %v, %v, want %v", tc.reading, tc.percent, got, err, tc.want)
		}
	}
}

func TestProofSentences(t *testing.T) {
	crowfoot := Adapter{Length: q("300 mm"), Offset: q("40 mm")}
	for _, tc := range []struct {
		set, window, step string
		adapter           Adapter
		want              string
	}{
		{"28 N·m", "27..29 N·m", "0.5 N·m", Adapter{}, "W3 at 28 N·m cannot prove 27..29 N·m: the bolt may have 26.63 N·m to 29.37 N·m; use a wrench with an error of 2.6 % or less here."},
		{"33 N·m", "32..38 N·m", "0.5 N·m", Adapter{}, "W3 at 33 N·m cannot prove 32..38 N·m: the bolt may have 31.43 N·m to 34.57 N·m; set it between 34 N·m and 36 N·m."},
		{"33 N·m", "33..37 N·m", "0.5 N·m", Adapter{}, "W3 at 33 N·m cannot prove 33..37 N·m: the bolt may have 31.43 N·m to 34.57 N·m; set it to 35 N·m."},
		{"35 N·m", "32..38 N·m", "0.5 N·m", Adapter{}, "W3 at 35 N·m gives the bolt 33.35 N·m to 36.65 N·m, inside 32..38 N·m."},
		{"28 N·m", "26..30 N·m", "0.5 N·m", crowfoot, "W3 at 28 N·m with the adapter gives the bolt 31.7 N·m, outside 26..30 N·m; set it between 24.5 N·m and 25 N·m."},
		{"30.01 N·m", "26..30 N·m", "0.5 N·m", Adapter{}, "W3 at 30.01 N·m gives the bolt 30.01 N·m, outside 26..30 N·m; set it between 27.5 N·m and 28.5 N·m."},
		{"28 N·m", "27.9..28.1 N·m", "1 N·m", Adapter{}, "W3 at 28 N·m cannot prove 27.9..28.1 N·m: the bolt may have 26.38 N·m to 29.62 N·m; use a wrench with a finer scale."},
	} {
		proof, err := Prove(q(tc.set), window(t, tc.window), Accuracy{q("4 %"), q(tc.step)}, tc.adapter)
		if err != nil {
			t.Fatal(err)
		}
		diff(t, tc.want, proof.Sentence("W3"))
	}
}

func TestProveRefusals(t *testing.T) {
	w := window(t, "32..38 N·m")
	good := Accuracy{q("4 %"), q("0.5 N·m")}
	for _, tc := range []struct {
		set      quantity.Quantity
		window   quantity.Window
		accuracy Accuracy
		want     string
	}{
		{quantity.Quantity{}, w, good, "the wrench setting is missing"},
		{q("35 N·m"), quantity.Window{}, good, "no window"},
		{q("35 mm"), w, good, "35 mm"},
		{q("-35 N·m"), w, good, "no minus sign"},
		{q("0 N·m"), w, good, "more than zero"},
		{q("99999999999999999999 N·m"), w, good, "beyond anything measured"},
		{q("35 N·m"), w, Accuracy{}, "the wrench error is missing"},
		{q("35 N·m"), w, Accuracy{Error: q("-4 %")}, "no minus sign"},
		{q("35 N·m"), w, Accuracy{Error: q("100 %")}, "less than 100 %"},
		{q("35 N·m"), w, Accuracy{q("4 %"), q("0 N·m")}, "the wrench resolution"},
		{q("35 N·m"), w, Accuracy{q("4 %"), q("0.5 mm")}, "the wrench resolution"},
		{q("35 N·m"), window(t, "32..9999999999 N·m"), good, "beyond anything measured"},
	} {
		_, err := Prove(tc.set, tc.window, tc.accuracy, Adapter{})
		refused(t, err, tc.want)
	}
}

// A wrench with a smaller error proves whatever one with a larger error proves,
// the error said to do does, and 0.1 % more does not.
func TestProofIsMonotoneInTheError(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		low := rapid.IntRange(50, 3000).Draw(rt, "low")
		high := low + rapid.IntRange(0, 800).Draw(rt, "width")
		w := quantity.Window{Low: tenths(low), High: tenths(high)}
		set := tenths(rapid.IntRange(max(1, low-50), high+50).Draw(rt, "set"))
		small := rapid.IntRange(0, 200).Draw(rt, "small")
		large := small + rapid.IntRange(0, 100).Draw(rt, "more")
		step := quantity.MustParse(rapid.SampledFrom([]string{"0.1 N·m", "0.5 N·m", "1 N·m"}).Draw(rt, "step"))
		prove := func(permille int) Proof {
			proof, err := Prove(set, w, Accuracy{q(fmt.Sprintf("%d.%d %%", permille/10, permille%10)), step}, Adapter{})
			if err != nil {
				rt.Fatal(err)
			}
			return proof
		}
		fine, coarse := prove(small), prove(large)
		if coarse.Able() && !fine.Able() {
			rt.Fatalf("able with %d ‰ but not with %d ‰", large, small)
		}
		if !coarse.WouldDo.IsZero() {
			enough := int(coarse.WouldDo.Float()*10 + 0.5)
			if !prove(enough).Able() || enough < 998 && prove(enough+1).Able() {
				rt.Fatalf("%s is said to do, and is not the most that does", coarse.WouldDo)
			}
		} else if prove(1).Able() {
			rt.Fatal("no error is said to do, but 0.1 % does")
		}
		for _, mark := range []quantity.Quantity{coarse.SettingLow, coarse.SettingHigh} {
			if mark.IsZero() {
				continue
			}
			at, err := Prove(mark, w, Accuracy{q(fmt.Sprintf("%d.%d %%", large/10, large%10)), step}, Adapter{})
			if err != nil || !at.Able() {
				rt.Fatalf("setting %s is said to be able and is %v, %v", mark, at.Verdict, err)
			}
		}
	})
}

func tenths(n int) quantity.Quantity {
	return q(fmt.Sprintf("%d.%d N·m", n/10, n%10))
}
