package brakes_test

import (
	"encoding/csv"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
)

// reference reads a table of testdata/reference as rows keyed by column name;
// the source of each table stands in its header.
func reference(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	records, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(records) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, column := range records[0] {
			row[column] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func q(text string) quantity.Quantity { return quantity.MustParse(text) }

// mm parses numbers parted by blanks as millimetres.
func mm(t testing.TB, numbers string) []quantity.Quantity {
	t.Helper()
	var qs []quantity.Quantity
	for _, n := range strings.Fields(numbers) {
		v, err := quantity.Parse(n, quantity.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		qs = append(qs, v)
	}
	return qs
}

func window(t testing.TB, text string) quantity.Window {
	t.Helper()
	w, err := quantity.ParseWindow(text)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func rat(t testing.TB, text string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		t.Fatalf("%q is not a number", text)
	}
	return r
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func float(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// printed checks a result against a figure as printed: equal to half a unit of
// its last decimal.
func printed(t testing.TB, name string, got float64, want string) {
	t.Helper()
	_, after, _ := strings.Cut(want, ".")
	half := 0.5*math.Pow(10, -float64(len(after))) + 1e-9
	if !(math.Abs(got-number(t, want)) <= half) {
		t.Errorf("%s: got %.6f, want %s", name, got, want)
	}
}

// near checks a relative difference.
func near(t testing.TB, name string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s: got %.16g, want %.16g within %g", name, got, want, relative)
	}
}
