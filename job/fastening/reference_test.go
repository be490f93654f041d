package fastening

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
	"github.com/google/go-cmp/cmp"
)

// reference reads a table of testdata/reference by column name. The source of
// each table is its header comment.
func reference(t *testing.T, name string) []map[string]string {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name+".csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	records, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(records) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := make(map[string]string)
		for i, column := range records[0] {
			row[column] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func q(text string) quantity.Quantity {
	if text == "" {
		return quantity.Quantity{}
	}
	return quantity.MustParse(text)
}

func window(t *testing.T, text string) quantity.Window {
	t.Helper()
	if text == "" {
		return quantity.Window{}
	}
	w, err := quantity.ParseWindow(text)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func count(number string) quantity.Quantity {
	return quantity.Quantity{Number: number, Unit: quantity.Count}
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	n, err := quantity.ParseNumber(text)
	if err != nil {
		t.Fatal(err)
	}
	return count(n).Float()
}

// refused asserts that err is a sentence holding want.
func refused(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil {
		t.Fatalf("accepted, want a refusal with %q", want)
	}
	if !strings.Contains(err.Error(), want) {
		t.Fatalf("refusal %q does not say %q", err, want)
	}
}

func diff(t *testing.T, want, got any) {
	t.Helper()
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}
