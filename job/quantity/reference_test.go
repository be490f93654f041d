package quantity_test

import (
	"encoding/csv"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bay.example/pawl/job/quantity"
	"github.com/google/go-cmp/cmp"
)

// reference reads a table of testdata/reference as rows keyed by column name.
func reference(t *testing.T, name string) []map[string]string {
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

func rational(t *testing.T, text string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		t.Fatalf("%q in a table is not a number", text)
	}
	return r
}

// decimals counts the decimals printed in a table.
func decimals(text string) int {
	_, after, _ := strings.Cut(text, ".")
	return len(after)
}

func mustUnit(t *testing.T, text string) quantity.Unit {
	t.Helper()
	u, err := quantity.ParseUnit(text)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// one is the exact factor from one unit to another.
func one(t *testing.T, from, to quantity.Unit) *big.Rat {
	t.Helper()
	factor, err := quantity.Quantity{Number: "1", Unit: from}.In(to)
	if err != nil {
		t.Fatal(err)
	}
	return factor
}

// Source: unit_factors.csv, from the exact definitions of the inch, the pound
// and standard gravity (NIST SP 811, Appendix B.8). The expression is worked
// out here by its own arithmetic and must agree exactly.
func TestFactorsAgreeWithExactDefinitions(t *testing.T) {
	rows := reference(t, "unit_factors.csv")
	values := make([]*big.Rat, len(rows))
	var skipped []string
	for i, row := range rows {
		values[i] = evaluate(t, row["exact_expression"], values[:i])
		name := row["from"] + " to " + row["to"]
		if row["from"] == "ozf*in" { // no ounce-force among our units
			skipped = append(skipped, name)
			continue
		}
		from, _, _ := strings.Cut(row["from"], " (")
		got := one(t, mustUnit(t, from), mustUnit(t, row["to"]))
		if got.Cmp(values[i]) != 0 {
			t.Errorf("%s is %s, want %s exactly", name, got, values[i])
		}
		if rounded := got.FloatString(decimals(row["value"])); rounded != row["value"] {
			t.Errorf("%s rounds to %s, printed %s", name, rounded, row["value"])
		}
		_, ends := got.FloatPrec()
		switch {
		case ends != (row["terminates"] == "yes"):
			t.Errorf("%s: the decimal ends: %v, but the table says %s", name, ends, row["terminates"])
		case ends && got.Cmp(rational(t, row["value"])) != 0:
			t.Errorf("%s is %s, printed as exactly %s", name, got, row["value"])
		}
	}
	if diff := cmp.Diff([]string{"ozf*in to N*m"}, skipped); diff != "" {
		t.Errorf("rows out of scope:\n%s", diff)
	}
}

// Source: unit_factors.csv, last column, and unit_conversions_gnu.csv, both
// printed by GNU Units 2.22 (definitions 3.15). Its arithmetic is in floats, so
// one unit in the last printed digit is allowed.
func TestConversionsAgreeWithGNUUnitsTables(t *testing.T) {
	outOfScope := []string{"1 atm to kPa", "1 gravity to m/s^2", "1 ozf*in to N*m"}
	var skipped []string
	check := func(value, from, to, printed string) {
		name := value + " " + from + " to " + to
		if slices.Contains(outOfScope, name) {
			skipped = append(skipped, name)
			return
		}
		from, _, _ = strings.Cut(from, " (")
		got, err := quantity.Quantity{Number: value, Unit: mustUnit(t, from)}.In(mustUnit(t, to))
		if err != nil {
			t.Error(err)
			return
		}
		if offBy(t, got, printed).Cmp(big.NewRat(1, 1)) > 0 {
			t.Errorf("%s is %s, printed %s", name, got.FloatString(decimals(printed)), printed)
		}
	}
	for _, row := range reference(t, "unit_conversions_gnu.csv") {
		value, from, _ := strings.Cut(row["from"], " ")
		check(value, from, row["to"], row["printed"])
	}
	for _, row := range reference(t, "unit_factors.csv") {
		check("1", row["from"], row["to"], row["gnu_units_2.22"])
	}
	slices.Sort(skipped)
	if diff := cmp.Diff(outOfScope, skipped); diff != "" {
		t.Errorf("rows out of scope:\n%s", diff)
	}
}

// offBy is how far a value is from a printed one, in units of the last printed
// digit.
func offBy(t *testing.T, value *big.Rat, printed string) *big.Rat {
	t.Helper()
	off := new(big.Rat).Sub(value, rational(t, printed))
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals(printed))), nil)
	return off.Abs(off.Mul(off, new(big.Rat).SetInt(scale)))
}

// Source: unit_conversions_published.csv, pairs printed in public manuals and
// handbooks, each row naming its own. The rows wrong in print are negative
// tests: a conversion that agrees with them is wrong itself.
func TestConversionsAgreeWithPublishedTables(t *testing.T) {
	half, whole := big.NewRat(1, 2), big.NewRat(1, 1)
	counts := map[string]int{}
	for _, row := range reference(t, "unit_conversions_published.csv") {
		counts[row["verdict"]]++
		q, err := quantity.Parse(row["value"]+" "+row["unit"], "")
		if err != nil {
			t.Error(err)
			continue
		}
		unit := mustUnit(t, row["printed_unit"])
		exact, err := q.In(unit)
		if err != nil {
			t.Error(err)
			continue
		}
		places := decimals(row["printed"])
		rounded, err := q.Convert(unit, places)
		if err != nil {
			t.Error(err)
			continue
		}
		off := offBy(t, exact, row["printed"])
		agrees := rounded.Number == row["printed"]
		if agrees != (off.Cmp(half) <= 0) {
			t.Errorf("%v: %v disagrees with its own rounding", q, rounded)
		}
		switch row["verdict"] {
		case "rounds to":
			if !agrees {
				t.Errorf("%v is %v, printed %s (%s)", q, rounded, row["printed"], row["source"])
			}
		case "coarser":
			if agrees || off.Cmp(whole) > 0 {
				t.Errorf("%v is %v, printed %s: not a coarser rounding (%s)", q, rounded, row["printed"], row["source"])
			}
		case "wrong in print":
			if off.Cmp(whole) <= 0 {
				t.Errorf("%v is %v and agrees with %s, which is wrong in print (%s)", q, rounded, row["printed"], row["source"])
			}
		default:
			t.Errorf("verdict %q is not known", row["verdict"])
		}
	}
	want := map[string]int{"rounds to": 46, "coarser": 2, "wrong in print": 4}
	if diff := cmp.Diff(want, counts); diff != "" {
		t.Error(diff)
	}
}

// Source: decision_rules.csv, computed from ILAC-G8:09/2019, 4.2.1 and 4.2.2.
// Each row is also judged with the reading and its uncertainty converted
// exactly to another unit, which must not change the verdict.
func TestJudgeWithinAgreesWithDecisionRules(t *testing.T) {
	verdicts := map[string]int{}
	for _, row := range reference(t, "decision_rules.csv") {
		for _, units := range [][2]quantity.Unit{
			{quantity.NewtonMetre, quantity.NewtonMetre},
			{quantity.PoundFoot, quantity.NewtonMetre},
			{quantity.KilogramForceMetre, quantity.NewtonMetre},
			{quantity.Inch, quantity.Micrometre},
		} {
			text := row["lower"] + ".." + row["upper"] + " " + string(units[0])
			if row["upper"] == "" {
				text = ">= " + row["lower"] + " " + string(units[0])
			}
			w, err := quantity.ParseWindow(text)
			if err != nil {
				t.Fatal(err)
			}
			read := func(number string) quantity.Quantity {
				q := quantity.Quantity{Number: number, Unit: units[0]}
				exact, err := q.In(units[1])
				if err != nil {
					t.Fatal(err)
				}
				places, ends := exact.FloatPrec()
				if !ends {
					t.Fatalf("%v has no exact decimal in %s", q, units[1])
				}
				return quantity.FromRat(exact, units[1], places)
			}
			value, uncertainty := read(row["value"]), read(row["expanded_uncertainty"])
			if got, err := w.Judge(value); err != nil || got.String() != row["simple_acceptance"] {
				t.Errorf("%s: %v against %v is %v, %v; want %s", row["id"], value, w, got, err, row["simple_acceptance"])
			}
			got, err := w.JudgeWithin(value, uncertainty)
			if err != nil || got.String() != row["guarded_acceptance"] {
				t.Errorf("%s: %v ± %v against %v is %v, %v; want %s", row["id"], value, uncertainty, w, got, err, row["guarded_acceptance"])
			}
			verdicts[got.String()]++
			if plain, err := w.JudgeWithin(value, quantity.Quantity{Number: "0", Unit: units[1]}); err != nil || plain.String() != row["simple_acceptance"] {
				t.Errorf("%s: without uncertainty %v, %v; want %s", row["id"], plain, err, row["simple_acceptance"])
			}
		}
	}
	if diff := cmp.Diff(map[string]int{"inside": 12, "not proven": 16, "outside": 8}, verdicts); diff != "" {
		t.Error(diff)
	}
}
