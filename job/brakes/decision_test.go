package brakes_test

import (
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strings"
	"testing"

	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/quantity"
	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// A grade without a word would be printed as its number; none is.
func TestGradeWords(t *testing.T) {
	for g := brakes.GradeNone; g <= brakes.GradeDisregard; g++ {
		if strings.HasPrefix(g.String(), "grade ") {
			t.Errorf("grade %d has no word", g)
		}
	}
	if got := (brakes.GradeDisregard + 1).String(); got != "grade 6" {
		t.Errorf("beyond the last: %q", got)
	}
}

// limits builds a window from two columns of a table, either may be empty.
func limits(lower, upper, unit string) quantity.Window {
	var w quantity.Window
	if lower != "" {
		w.Low = q(lower + " " + unit)
	}
	if upper != "" {
		w.High = q(upper + " " + unit)
	}
	w.Text = strings.TrimSpace(lower + ".." + upper + " " + unit)
	return w
}

// Source: computed from ILAC-G8:09/2019 4.2.1 and 4.2.2.
func TestDecisionRules(t *testing.T) {
	for _, row := range reference(t, "decision_rules.csv") {
		d, err := brakes.Decide(limits(row["lower"], row["upper"], "N·m"), q(row["value"]+" N·m"), q(row["expanded_uncertainty"]+" N·m"))
		if err != nil {
			t.Fatal(err)
		}
		if d.Simple.String() != row["simple_acceptance"] || d.Guarded.String() != row["guarded_acceptance"] {
			t.Errorf("%s: %v, %v; want %s, %s", row["id"], d.Simple, d.Guarded, row["simple_acceptance"], row["guarded_acceptance"])
		}
		if inside := d.Simple == quantity.Inside; inside != (d.Probability >= 0.5) && d.Probability != 0.5 {
			t.Errorf("%s: %v with probability %v", row["id"], d.Simple, d.Probability)
		}
	}
}

// Inputs of three rows are from memory; the arithmetic is computed and may
// fail (status column).
func TestConformanceProbability(t *testing.T) {
	for _, row := range reference(t, "conformance_probability.csv") {
		got, err := brakes.ConformanceProbability(limits(row["lower"], row["upper"], "mm"), q(row["measured"]+" mm"), q(row["standard_uncertainty"]+" mm"))
		if err != nil {
			t.Fatal(err)
		}
		printed(t, row["id"], got, row["probability"])
	}
	one, err := brakes.ConformanceProbability(limits("1", "2", "mm"), q("2 mm"), q("0 mm"))
	if err != nil || one != 1 {
		t.Errorf("certain and on the limit: %v, %v", one, err)
	}
	zero, err := brakes.ConformanceProbability(limits("1", "2", "mm"), q("2.001 mm"), q("0 mm"))
	if err != nil || zero != 0 {
		t.Errorf("certain and beyond: %v, %v", zero, err)
	}
}

// The independent check is the normal distribution of gonum.
func TestConformanceProbabilityAgainstGonum(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		low := rapid.IntRange(-500, 500).Draw(r, "low")
		high := low + rapid.IntRange(0, 500).Draw(r, "width")
		y := rapid.IntRange(-1500, 1500).Draw(r, "measured")
		u := rapid.IntRange(1, 400).Draw(r, "u")
		um := func(n int) quantity.Quantity { return q(fmt.Sprintf("%d µm", n)) }
		got, err := brakes.ConformanceProbability(quantity.Window{Low: um(low), High: um(high)}, um(y), um(u))
		if err != nil {
			r.Fatal(err)
		}
		n := distuv.Normal{Mu: float64(y), Sigma: float64(u)}
		if want := n.CDF(float64(high)) - n.CDF(float64(low)); math.Abs(got-want) > 1e-12 {
			r.Fatalf("got %v, want %v", got, want)
		}
	})
}

func TestGuardedVerdictMonotone(t *testing.T) {
	rank := map[quantity.Verdict]int{quantity.Inside: 0, quantity.NotProven: 1, quantity.Outside: 2}
	rapid.Check(t, func(r *rapid.T) {
		nm := func(n int) quantity.Quantity { return q(fmt.Sprintf("%d.%d N·m", n/10, n%10)) }
		low := rapid.IntRange(0, 1000).Draw(r, "low")
		w := quantity.Window{Low: nm(low), High: nm(low + rapid.IntRange(0, 300).Draw(r, "width"))}
		value := nm(rapid.IntRange(0, 1400).Draw(r, "value"))
		small := rapid.IntRange(0, 100).Draw(r, "small")
		a, err := brakes.Decide(w, value, nm(small))
		if err != nil {
			r.Fatal(err)
		}
		b, err := brakes.Decide(w, value, nm(small+rapid.IntRange(0, 100).Draw(r, "more")))
		if err != nil {
			r.Fatal(err)
		}
		if rank[b.Guarded] < rank[a.Guarded] || a.Simple != b.Simple || rank[a.Guarded] < rank[a.Simple] {
			r.Fatalf("%+v then %+v", a, b)
		}
	})
}

// Source: the summaries named in the table; U = 2a/√3 is JCGM 100:2008 4.3.7.
func TestTypicalErrorLimits(t *testing.T) {
	kinds := map[string]brakes.InstrumentKind{
		"outside micrometer": brakes.OutsideMicrometer, "caliper, vernier, dial or digital": brakes.Caliper,
		"dial indicator, repeatability": brakes.DialIndicator, "inside and depth measurement with a caliper": brakes.CaliperInside,
	}
	lengths := map[string][]string{
		"0-25 and 25-50 mm": {"0 mm", "18 mm", "50 mm"}, "50-75 and 75-100 mm": {"50.001 mm", "100 mm"}, "first 6 in": {"6 in", "18 mm"}, "": {"18 mm"},
	}
	for _, row := range reference(t, "instrument_limits.csv") {
		kind, ok := kinds[row["instrument"]]
		if !ok {
			t.Fatalf("instrument %q is not covered", row["instrument"])
		}
		var want quantity.Quantity
		switch row["error_limit"] {
		case "1/5 graduation":
			want = q("0.002 mm") // of 0.01 mm
		case "limit + 20 um":
			want = q("0.0454 mm") // 0.001 in + 20 µm
		default:
			want = q(row["error_limit"])
		}
		for _, length := range lengths[row["range"]] {
			got, err := brakes.TypicalErrorLimit(kind, q(length), q("0.01 mm"))
			if err != nil {
				t.Fatal(err)
			}
			if c, err := got.Limit.Cmp(want); err != nil || c != 0 || got.Source == "" {
				t.Errorf("%s at %s: %+v, want %v", kind, length, got, want)
			}
		}
	}
	for _, beyond := range []struct {
		kind   brakes.InstrumentKind
		length string
	}{{brakes.OutsideMicrometer, "100.1 mm"}, {brakes.Caliper, "153 mm"}, {"ruler", "18 mm"}, {brakes.Caliper, "-1 mm"}} {
		if got, err := brakes.TypicalErrorLimit(beyond.kind, q(beyond.length), quantity.Quantity{}); err == nil {
			t.Errorf("%s at %s: %+v", beyond.kind, beyond.length, got)
		}
	}
	u, err := brakes.ExpandedUncertainty(q("0.004 mm"), quantity.Quantity{})
	if err != nil || u != q("0.004619 mm") {
		t.Errorf("U of ±4 µm: %v, %v", u, err)
	}
	u, err = brakes.ExpandedUncertainty(q("4 µm"), q("0.01 mm"))
	if err != nil || math.Abs(u.Float()-2*math.Sqrt(16.0/3+100.0/12)/1000) > 1e-6 {
		t.Errorf("U of ±4 µm read to 0.01 mm: %v, %v", u, err)
	}
}

// Source: NIST/SEMATECH e-Handbook 6.1.6 and 6.3.2.2, see the header of the
// table.
func TestProcessCapability(t *testing.T) {
	rows := map[string]map[string]string{}
	for _, row := range reference(t, "process_capability.csv") {
		rows[row["id"]] = row
	}
	wanted := func(id, name string) string {
		m := regexp.MustCompile(`(?:^|, )` + name + ` ([-0-9.]+)`).FindStringSubmatch(rows[id]["expected"])
		if m == nil {
			t.Fatalf("%s has no %s: %q", id, name, rows[id]["expected"])
		}
		return m[1]
	}
	if rows["Q01"]["input"] != "USL 20, LSL 8, mean 16, s 2" {
		t.Fatalf("Q01 reads %q", rows["Q01"]["input"])
	}
	c, err := brakes.CapabilityOf(8, 20, 16, 2)
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "Cp", c.Cp, wanted("Q01", "Cp"))
	printed(t, "Cpk", c.Cpk, wanted("Q01", "Cpk"))
	printed(t, "Cpu", c.CpUpper, wanted("Q01", "Cpu"))
	printed(t, "Cpl", c.CpLower, wanted("Q01", "Cpl"))

	_, list, ok := strings.Cut(rows["Q03"]["input"], "individuals chart of ")
	if !ok {
		t.Fatalf("Q03 reads %q", rows["Q03"]["input"])
	}
	var values []*big.Rat
	for _, n := range strings.Fields(list) {
		values = append(values, rat(t, n))
	}
	chart, err := brakes.IndividualsChart(values)
	if err != nil {
		t.Fatal(err)
	}
	printed(t, "mean", float(chart.Mean), wanted("Q03", "mean"))
	printed(t, "moving range", float(chart.MovingRange), wanted("Q03", "mean moving range"))
	printed(t, "upper", float(chart.Upper), wanted("Q03", "UCL"))
	printed(t, "lower", float(chart.Lower), wanted("Q03", "LCL"))
	if chart.Beyond != nil {
		t.Errorf("beyond: %v", chart.Beyond)
	}
	outlier, err := brakes.IndividualsChart(append(values, rat(t, "90")))
	if d := cmp.Diff([]int{11}, outlier.Beyond); err != nil || d != "" {
		t.Errorf("90 added: %v %s", err, d)
	}
	for _, bad := range [][4]float64{{8, 20, 16, 0}, {20, 8, 16, 2}, {8, 20, 16, math.NaN()}} {
		if c, err := brakes.CapabilityOf(bad[0], bad[1], bad[2], bad[3]); err == nil {
			t.Errorf("%v: %+v", bad, c)
		}
	}
}

// Source: UK MOT manual and 49 CFR, see the table. Rows without a figure are
// the stamped minimum and the wall of a pipe, which are no thickness limits.
func TestInServiceLimits(t *testing.T) {
	bySource := map[string]brakes.InServiceLimit{}
	for _, l := range brakes.InServiceLimits() {
		bySource[l.Source] = l
	}
	units := map[string]string{"mm": "mm", "inch": "in", "percent of total travel": "%"}
	checked := 0
	for _, row := range reference(t, "inservice_limits.csv") {
		unit, ok := units[row["unit"]]
		if !ok {
			continue
		}
		checked++
		l, ok := bySource[row["source"]]
		if !ok || l.Item != row["item"] || string(l.Fails) != row["fails_when"] {
			t.Errorf("%s: got %+v", row["source"], l)
			continue
		}
		limit := rat(t, row["limit"])
		at := func(change *big.Rat) quantity.Quantity {
			sum := new(big.Rat).Add(limit, change)
			places, _ := sum.FloatPrec()
			return quantity.FromRat(sum, quantity.Unit(unit), places)
		}
		step := big.NewRat(1, 1000)
		for i, change := range []*big.Rat{new(big.Rat).Neg(step), new(big.Rat), step} {
			got, err := l.Failed(at(change))
			want := map[brakes.FailsWhen][3]bool{brakes.LessThan: {true, false, false}, brakes.ThatOrLess: {true, true, false}, brakes.MoreThan: {false, false, true}}[l.Fails][i]
			if err != nil || got != want {
				t.Errorf("%s at %v: failed %v, %v", row["source"], at(change), got, err)
			}
		}
	}
	if checked != len(bySource) {
		t.Errorf("%d rows checked, %d limits known", checked, len(bySource))
	}
	// 1/16 inch is 1.5875 mm: 1.59 mm passes, 1.58 mm does not.
	bonded := bySource["49 CFR 570.59(c) bonded"]
	for mm, want := range map[string]bool{"1.5875 mm": false, "1.59 mm": false, "1.58 mm": true} {
		if got, err := bonded.Failed(q(mm)); err != nil || got != want {
			t.Errorf("bonded at %s: %v, %v", mm, got, err)
		}
	}
}
