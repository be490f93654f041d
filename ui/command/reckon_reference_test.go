package command

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// These tests ask the calculators through the command line and hold the JSON against the tables of
// testdata/reference; the source of each table stands in its header.

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
	if err != nil || len(records) < 2 {
		t.Fatalf("%s: %v, %d lines", name, err, len(records))
	}
	var out []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, column := range records[0] {
			row[column] = record[i]
		}
		out = append(out, row)
	}
	return out
}

// ask returns the result of a calculator.
func ask(t *testing.T, args ...string) map[string]any {
	t.Helper()
	code, out, messages := pawl(t, "", append(append([]string{"reckon"}, args...), "--as", "json")...)
	if code != exitFine {
		t.Fatalf("%v: exit %d: %s", args, code, messages)
	}
	var a struct{ Result map[string]any }
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	return a.Result
}

// number takes a quantity or a figure out of a result.
func number(t *testing.T, v any) float64 {
	t.Helper()
	if m, ok := v.(map[string]any); ok {
		v = m["number"]
	}
	f, err := strconv.ParseFloat(fmt.Sprint(v), 64)
	if err != nil {
		t.Fatalf("%v is no number", v)
	}
	return f
}

func parse(t *testing.T, text string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, tolerance)
	}
}

// NAVEDTRA 14315, US Army manuals and others: wrench_adapter.csv.
func TestReckonAdapterReference(t *testing.T) {
	for _, row := range reference(t, "wrench_adapter.csv") {
		flag, key := "--target", "setting"
		if strings.HasPrefix(row["source"], "US Army TM 9-254") { // the table's one row from set to applied
			flag, key = "--set", "bolt"
		}
		got := ask(t, "adapter", flag, row["target"]+" "+row["torque_unit"], "--length", row["wrench_length"]+strings.Replace(row["length_unit"], "ft", " m", 1),
			"--adapter", row["adapter_length"]+strings.Replace(row["length_unit"], "ft", " m", 1), "--angle", row["angle_deg"])
		near(t, row["id"], number(t, got[key]), parse(t, row["exact"]), 5e-3)
	}
}

// Published conversion tables: unit_conversions_published.csv. Rows the table marks as rounding
// properly must round to the printed figure.
func TestReckonConvertReference(t *testing.T) {
	n := 0
	for _, row := range reference(t, "unit_conversions_published.csv") {
		if row["verdict"] != "rounds to" {
			continue
		}
		places := 0
		if _, decimals, ok := strings.Cut(row["printed"], "."); ok {
			places = len(decimals)
		}
		got := ask(t, "convert", row["value"]+" "+row["unit"], row["printed_unit"], "--places", strconv.Itoa(places))
		near(t, row["value"]+" "+row["unit"], number(t, got["value"]), parse(t, row["printed"]), 1e-9)
		n++
	}
	if n == 0 {
		t.Error("no row was compared")
	}
}

// VDI 2230: preload_torque_fine_thread.csv, printed to three digits.
func TestReckonPreloadReference(t *testing.T) {
	for _, row := range reference(t, "preload_torque_fine_thread.csv") {
		for _, class := range []string{"8.8", "10.9", "12.9"} {
			got := ask(t, "preload", "--thread", row["thread"], "--class", class, "--friction", row["mu"])
			force, torque := parse(t, row["F_"+class]), parse(t, row["T_"+class])
			near(t, row["thread"]+" F", number(t, got["preload"]), force, force*0.006)
			near(t, row["thread"]+" T", number(t, got["torque"]), torque, torque*0.015)
		}
	}
}

func TestReckonOrderReference(t *testing.T) {
	for _, row := range reference(t, "tightening_order.csv") {
		got := ask(t, "order", row["fasteners"])
		var parts []string
		for _, n := range got["order"].([]any) {
			parts = append(parts, fmt.Sprint(n))
		}
		if order := strings.Join(parts, "-"); order != row["order"] {
			t.Errorf("%s: %s, want %s", row["fasteners"], order, row["order"])
		}
	}
}

// ILAC-G8:09/2019: decision_rules.csv.
func TestReckonWindowReference(t *testing.T) {
	for _, row := range reference(t, "decision_rules.csv") {
		got := ask(t, "window", windowOf(row), row["value"], "--uncertainty", row["expanded_uncertainty"])
		if got["simple"] != row["simple_acceptance"] || got["guarded"] != row["guarded_acceptance"] {
			t.Errorf("%s: %v, %v", row["id"], got["simple"], got["guarded"])
		}
	}
}

func windowOf(row map[string]string) string {
	switch {
	case row["lower"] == "":
		return "<= " + row["upper"] + " mm"
	case row["upper"] == "":
		return ">= " + row["lower"] + " mm"
	}
	return row["lower"] + ".." + row["upper"] + " mm"
}

// JCGM 106:2012, 7.3, arithmetic computed: conformance_probability.csv.
func TestReckonConformReference(t *testing.T) {
	for _, row := range reference(t, "conformance_probability.csv") {
		got := ask(t, "conform", windowOf(row), row["measured"], "--standard", row["standard_uncertainty"])
		near(t, row["id"], number(t, got["probability"]), parse(t, row["probability"]), 1e-8)
	}
}

// First harmonic, computed and checked against an FFT: runout_first_harmonic.csv.
func TestReckonRunoutReference(t *testing.T) {
	for _, row := range reference(t, "runout_first_harmonic.csv") {
		points := strings.Join(strings.Fields(row["readings_um_equally_spaced_from_mark"]), "µm ") + "µm"
		got := ask(t, "runout", "--points", points)
		near(t, row["id"]+" TIR", number(t, got["tir"])*1000, parse(t, row["tir_um"]), 1e-9)
		near(t, row["id"]+" amplitude", number(t, got["amplitude"])*1000, parse(t, row["amplitude_um"]), 0.01)
		near(t, row["id"]+" high spot", number(t, got["high_spot"]), parse(t, row["high_spot_deg"]), 0.1)
		near(t, row["id"]+" residual", number(t, got["residual"])*1000, parse(t, row["largest_residual_um"]), 0.01)
	}
}

// Hub 20 µm at 60°, disc 25 µm at 200°: runout_indexing.csv. Two mountings are made up from that and
// every position of the table must come out of them.
func TestReckonIndexReference(t *testing.T) {
	for _, studs := range []int{4, 5, 6} {
		args := []string{"index", "--studs", strconv.Itoa(studs)}
		for _, k := range []int{0, 1} {
			args = append(args, "--at", fmt.Sprintf("%d=%s", k, mounted(studs, k)))
		}
		positions := ask(t, args...)["positions"].([]any)
		n := 0
		for _, row := range reference(t, "runout_indexing.csv") {
			if row["studs"] != strconv.Itoa(studs) {
				continue
			}
			k, err := strconv.Atoi(row["positions_turned"])
			if err != nil {
				t.Fatal(err)
			}
			at := positions[k].(map[string]any)
			near(t, fmt.Sprintf("%d studs, %d", studs, k), number(t, at["tir"])*1000, parse(t, row["predicted_tir_um"]), 0.11)
			n++
		}
		if n != studs {
			t.Errorf("%d rows for %d studs", n, studs)
		}
	}
}

// mounted is twelve readings of that hub with the disc turned by k studs, in micrometres.
func mounted(studs, k int) string {
	rad := math.Pi / 180
	var out []string
	for i := range 12 {
		at := float64(30*i) * rad
		x := 20*math.Cos(at-60*rad) + 25*math.Cos(at-200*rad-float64(k)*2*math.Pi/float64(studs))
		out = append(out, fmt.Sprintf("%.4fµm", x))
	}
	return strings.Join(out, " ")
}

// UK MOT inspection manual: brake_efficiency_cases.csv, brake_imbalance_cases.csv.
func TestReckonRollerReference(t *testing.T) {
	for _, row := range reference(t, "brake_efficiency_cases.csv") {
		forces := strings.ReplaceAll(row["efforts_kgf"], "+", "kgf ") + "kgf"
		got := ask(t, "efficiency", "--forces", forces, "--mass", row["test_weight_kg"], "--required", row["required_percent"])
		near(t, row["id"], number(t, got["efficiency"]), parse(t, row["efficiency_percent"]), 5e-4)
		if got["grade"] != row["expected"] {
			t.Errorf("%s: %v, want %s", row["id"], got["grade"], row["expected"])
		}
	}
	for _, row := range reference(t, "brake_imbalance_cases.csv") {
		args := []string{"balance", "--left", row["higher_kgf"] + "kgf", "--right", row["lower_kgf"] + "kgf"}
		if row["steered_axle"] == "yes" {
			args = append(args, "--steered")
		}
		if row["lower_wheel_locked"] == "yes" {
			args = append(args, "--locked")
		}
		got := ask(t, args...)
		near(t, row["id"], number(t, got["imbalance"]), parse(t, row["imbalance_percent"]), 0.0501)
		if got["grade"] != row["expected"] {
			t.Errorf("%s: %v, want %s", row["id"], got["grade"], row["expected"])
		}
	}
}

// 49 CFR 571.116: brake_fluid_offer.csv.
func TestReckonFluidReference(t *testing.T) {
	for _, row := range reference(t, "brake_fluid_offer.csv") {
		got := ask(t, "fluid", "--required", row["required"], "--offered", row["offered"])
		if got["accepted"] != (row["expected"] == "accept") {
			t.Errorf("%s for %s: %v", row["offered"], row["required"], got["accepted"])
		}
	}
}

// 49 CFR 565.15: vin_check_digit.csv.
func TestReckonNumberReference(t *testing.T) {
	for _, row := range reference(t, "vin_check_digit.csv") {
		got := ask(t, "vin", row["vin"])
		if number(t, got["sum"]) != parse(t, row["weighted_sum"]) || got["computed"] != row["computed_digit"] || got["fits"] != (row["matches"] == "yes") {
			t.Errorf("%s: %v", row["vin"], got)
		}
	}
}

// NIST StRD Norris, certified values in the header of the table; shown with 15 digits.
func TestReckonRegressReference(t *testing.T) {
	args := []string{"regress"}
	for _, row := range reference(t, "nist_norris.csv") {
		args = append(args, row["x"]+"="+row["y"])
	}
	got := ask(t, args...)
	for key, want := range map[string]float64{"intercept": -0.262323073774029, "slope": 1.00211681802045, "intercept_sd": 0.232818234301152, "slope_sd": 0.000429796848199937} {
		near(t, key, number(t, got[key]), want, math.Abs(want)*1e-12)
	}
}
