package brakes_test

import (
	"math"
	"math/big"
	"testing"

	"bay.example/pawl/job/brakes"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// Source: NIST StRD, Mavro. gonum's stat is a second, independent check of
// lesser precision.
func TestMeanAndDeviationMavro(t *testing.T) {
	var values []*big.Rat
	var floats []float64
	for _, row := range reference(t, "nist_mavro.csv") {
		values = append(values, rat(t, row["value"]))
		floats = append(floats, number(t, row["value"]))
	}
	if len(values) != 50 {
		t.Fatalf("%d values, want 50", len(values))
	}
	mean, sd, err := brakes.MeanAndDeviation(values)
	if err != nil {
		t.Fatal(err)
	}
	if mean.Cmp(rat(t, "2.001856")) != 0 {
		t.Errorf("mean %s", mean.FloatString(15))
	}
	near(t, "deviation", sd, 0.000429123454003053, 1e-12)
	near(t, "deviation by gonum", sd, stat.StdDev(floats, nil), 1e-9)
	if _, _, err := brakes.MeanAndDeviation(values[:1]); err == nil {
		t.Error("one value: no error")
	}
}

// Source: NIST StRD, Norris.
func TestLineNorris(t *testing.T) {
	var x, y []*big.Rat
	var fx, fy []float64
	for _, row := range reference(t, "nist_norris.csv") {
		x, y = append(x, rat(t, row["x"])), append(y, rat(t, row["y"]))
		fx, fy = append(fx, number(t, row["x"])), append(fy, number(t, row["y"]))
	}
	if len(x) != 36 {
		t.Fatalf("%d points, want 36", len(x))
	}
	r, err := brakes.Line(x, y)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "B0", float(r.Intercept), -0.262323073774029, 1e-12)
	near(t, "B1", float(r.Slope), 1.00211681802045, 1e-13)
	near(t, "sd of B0", r.InterceptSD, 0.232818234301152, 1e-12)
	near(t, "sd of B1", r.SlopeSD, 0.000429796848199937, 1e-12)
	near(t, "residual sd", r.ResidualSD, 0.884796396144373, 1e-12)
	near(t, "R²", r.RSquared, 0.999993745883712, 1e-14)
	b0, b1 := stat.LinearRegression(fx, fy, nil, false)
	near(t, "B0 by gonum", float(r.Intercept), b0, 1e-9)
	near(t, "B1 by gonum", float(r.Slope), b1, 1e-12)
	at := rat(t, "500")
	if got, want := float(r.At(at)), b0+b1*500; math.Abs(got-want) > 1e-9 {
		t.Errorf("at 500: %v, want %v", got, want)
	}
}

func TestLineRefuses(t *testing.T) {
	n := func(vs ...int64) []*big.Rat {
		var rs []*big.Rat
		for _, v := range vs {
			rs = append(rs, big.NewRat(v, 1))
		}
		return rs
	}
	for name, c := range map[string][2][]*big.Rat{
		"unequal": {n(1, 2, 3), n(1, 2)}, "two": {n(1, 2), n(1, 2)}, "x alike": {n(1, 1, 1), n(1, 2, 3)},
	} {
		if r, err := brakes.Line(c[0], c[1]); err == nil {
			t.Errorf("%s: got %+v, want an error", name, r)
		}
	}
}

// The prediction band against its formula with gonum's Student distribution.
func TestBelowAgainstGonum(t *testing.T) {
	var x, y []*big.Rat
	var fx, fy []float64
	for _, p := range [][2]string{{"0", "11.5"}, {"10", "9.6"}, {"20", "7.9"}, {"31", "5.8"}} {
		x, y = append(x, rat(t, p[0])), append(y, rat(t, p[1]))
		fx, fy = append(fx, number(t, p[0])), append(fy, number(t, p[1]))
	}
	r, err := brakes.Line(x, y)
	if err != nil {
		t.Fatal(err)
	}
	a, b := stat.LinearRegression(fx, fy, nil, false)
	meanX, varX := stat.MeanVariance(fx, nil)
	rss := 0.0
	for i := range fx {
		rss += math.Pow(fy[i]-a-b*fx[i], 2)
	}
	s := math.Sqrt(rss / 2)
	student := distuv.StudentsT{Sigma: 1, Nu: 2}.Quantile(0.95)
	at := 40.0
	want := a + b*at - student*s*math.Sqrt(1+1.0/4+(at-meanX)*(at-meanX)/(varX*3))
	near(t, "lower band", r.Below(at, 0.95), want, 1e-9)
}

// Source: gonum stat/distuv; the first rows are handbook values (NIST/SEMATECH
// e-Handbook 1.3.6.7.2).
func TestStudentQuantile(t *testing.T) {
	for _, c := range []struct {
		p, nu float64
		want  string
	}{{0.95, 1, "6.314"}, {0.95, 2, "2.920"}, {0.975, 10, "2.228"}, {0.99, 30, "2.457"}, {0.975, 100, "1.984"}} {
		printed(t, "t", brakes.StudentQuantile(c.p, c.nu), c.want)
	}
	rapid.Check(t, func(r *rapid.T) {
		p := rapid.Float64Range(0.0005, 0.9995).Draw(r, "p")
		nu := float64(rapid.IntRange(1, 200).Draw(r, "nu"))
		got, want := brakes.StudentQuantile(p, nu), distuv.StudentsT{Sigma: 1, Nu: nu}.Quantile(p)
		// Near the middle a quantile is near zero, so the difference is
		// absolute there.
		if math.Abs(got-want) > 1e-8*max(1, math.Abs(want)) {
			r.Fatalf("p %v nu %v: got %v, want %v", p, nu, got, want)
		}
	})
	for _, c := range [][2]float64{{0, 3}, {1, 3}, {0.5, 0}, {math.NaN(), 3}, {0.5, math.NaN()}} {
		if got := brakes.StudentQuantile(c[0], c[1]); !math.IsNaN(got) {
			t.Errorf("p %v nu %v: got %v, want NaN", c[0], c[1], got)
		}
	}
}
