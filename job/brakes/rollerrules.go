package brakes

import (
	_ "embed" // the rule file
	"encoding/csv"
	"slices"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// rollerCSV carries its sources in its header.
//
//go:embed rules/roller.csv
var rollerCSV string

// RollerFigure names what a rule limits.
type RollerFigure string

// The figures of a rule set; the words are those of the rule file.
const (
	LeastEfficiency   RollerFigure = "efficiency least"
	DangerousShare    RollerFigure = "dangerous below share of efficiency"
	LowerWheelLeast   RollerFigure = "lower wheel least"
	LowerWheelSteered RollerFigure = "lower wheel least on steered axle"
	LowerWheelWarned  RollerFigure = "lower wheel warned below"
	ImbalanceFloor    RollerFigure = "imbalance disregarded up to"
	MostFluctuation   RollerFigure = "fluctuation most"
	MostBind          RollerFigure = "bind most"
)

// RollerSystem is the brake system tested.
type RollerSystem string

// The systems.
const (
	Service   RollerSystem = "service"
	Secondary RollerSystem = "secondary"
	Parking   RollerSystem = "parking"
)

// anyOf stands in the rule file for "every class without a row of its own".
const anyOf = "any"

// rollerRow is one line of the rule file.
type rollerRow struct {
	set                 string
	inForce             time.Time
	figure              RollerFigure
	vehicle             string
	usedFrom, usedUntil time.Time // zero = open
	system              string
	value               quantity.Quantity
}

// RollerRules is one rule set as it stood on a day.
type RollerRules struct {
	Name    string
	InForce time.Time
	rows    []rollerRow
}

// RollerRuleSets lists the names of the rule sets shipped.
func RollerRuleSets() ([]string, error) {
	rows, err := parseRollerRules(rollerCSV)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, r := range rows {
		if !slices.Contains(names, r.set) {
			names = append(names, r.set)
		}
	}
	return names, nil
}

// RollerRulesOn gives the rule set of that name in force on a day: the newest
// one that had begun.
func RollerRulesOn(name string, on time.Time) (RollerRules, error) {
	rows, err := parseRollerRules(rollerCSV)
	if err != nil {
		return RollerRules{}, err
	}
	rules := RollerRules{Name: name}
	known := false
	for _, r := range rows {
		if r.set != name {
			continue
		}
		known = true
		if r.inForce.After(on) || r.inForce.Before(rules.InForce) {
			continue
		}
		if r.inForce.After(rules.InForce) {
			rules.InForce, rules.rows = r.inForce, nil
		}
		rules.rows = append(rules.rows, r)
	}
	switch {
	case !known:
		return RollerRules{}, phrase.Error("brakes.rollerrules.rule-set-is-not-known", name)
	case len(rules.rows) == 0:
		return RollerRules{}, phrase.Error("brakes.rollerrules.rule-set-was-not-in-force-on", name, day(on))
	}
	return rules, nil
}

// Value finds one figure for a vehicle class (M1, N1 …), its first use and a
// system. A row for the class goes before a row for any class. ok is false
// when the set has no such figure.
func (r RollerRules) Value(figure RollerFigure, vehicle string, firstUsed time.Time, system RollerSystem) (value quantity.Quantity, ok bool) {
	for _, class := range []string{vehicle, anyOf} {
		for _, row := range r.rows {
			if row.figure == figure && row.vehicle == class &&
				(row.system == anyOf || row.system == string(system)) &&
				!firstUsed.Before(row.usedFrom) && (row.usedUntil.IsZero() || firstUsed.Before(row.usedUntil)) {
				return row.value, true
			}
		}
	}
	return quantity.Quantity{}, false
}

// parseRollerRules reads the rule file; errors name the line.
func parseRollerRules(text string) ([]rollerRow, error) {
	reader := csv.NewReader(strings.NewReader(text))
	reader.Comment = '#'
	reader.FieldsPerRecord = 9
	records, err := reader.ReadAll()
	if err != nil {
		return nil, phrase.Error("brakes.rollerrules.roller-rules", err)
	}
	if len(records) < 2 {
		return nil, phrase.Error("brakes.rollerrules.roller-rules-a-heading-and-at-least")
	}
	var rows []rollerRow
	for _, c := range records[1:] {
		row := rollerRow{set: c[0], figure: RollerFigure(c[2]), vehicle: c[3], system: c[6]}
		for _, d := range []struct {
			text string
			to   *time.Time
		}{{c[1], &row.inForce}, {c[4], &row.usedFrom}, {c[5], &row.usedUntil}} {
			if d.text == "" {
				continue
			}
			if *d.to, err = time.Parse(time.DateOnly, d.text); err != nil {
				return nil, phrase.Error("brakes.rollerrules.roller-rules-date-year-month-day-is", row.set, row.figure, d.text)
			}
		}
		if row.value, err = quantity.Parse(c[7]+" "+c[8], ""); err != nil {
			return nil, phrase.Error("brakes.rollerrules.roller-rules-2", row.set, row.figure, err)
		}
		rows = append(rows, row)
	}
	return rows, nil
}
