package paper

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/ui/draw"
)

// tables makes the rows of each table of one job.
var tables = map[string]func(*job.Card) any{
	"readings":   func(c *job.Card) any { return Readings(c) },
	"torque":     func(c *job.Card) any { return Torques(c) },
	"checked":    func(c *job.Card) any { return Checks(c) },
	"figures":    func(c *job.Card) any { return Figures(c) },
	"signatures": func(c *job.Card) any { return Signatures(c) },
	"states":     func(c *job.Card) any { return States(c) },
	"exceptions": func(c *job.Card) any { return Exceptions(c) },
}

// Tables names the tables CSV writes.
func Tables() []string {
	return []string{"readings", "torque", "checked", "figures", "signatures", "states", "exceptions"}
}

// CSV writes one table of any number of jobs by RFC 4180, with a line of names first. A cell of text
// that a spreadsheet would take for a formula gets an apostrophe before it; numbers are exact
// decimals and stay as they are, so that -0.02 is a number. The error names the tables there are.
func CSV(table string, cards ...*job.Card) ([]byte, error) {
	rows, ok := tables[table]
	if !ok {
		return nil, phrase.Error("paper.csv.is-no-table-expected-one-of", draw.Clean(table), strings.Join(Tables(), ", "))
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	var head []string
	for _, c := range cards {
		list := reflect.ValueOf(rows(c))
		if head == nil {
			head = columns(list.Type().Elem())
			if err := w.Write(head); err != nil {
				return nil, phrase.Error("paper.csv.write-table", table, err)
			}
		}
		for i := range list.Len() {
			if err := w.Write(record(list.Index(i))); err != nil {
				return nil, phrase.Error("paper.csv.write-table", table, err)
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// columns are the names of the columns of a row: those of the JSON, a quantity as number and unit.
func columns(t reflect.Type) []string {
	var out []string
	for i := range t.NumField() {
		f := t.Field(i)
		switch {
		case f.Anonymous:
			out = append(out, columns(f.Type)...)
		case f.Type == reflect.TypeFor[quantity.Quantity]():
			out = append(out, f.Tag.Get("json"), f.Tag.Get("json")+"_unit")
		default:
			out = append(out, f.Tag.Get("json"))
		}
	}
	return out
}

func record(v reflect.Value) []string {
	var out []string
	for i := range v.NumField() {
		f := v.Field(i)
		if v.Type().Field(i).Anonymous {
			out = append(out, record(f)...)
			continue
		}
		switch x := f.Interface().(type) {
		case quantity.Quantity:
			out = append(out, decimal(x), textCell(string(x.Unit)))
		case time.Time:
			out = append(out, x.Format(time.RFC3339))
		case *time.Time:
			cell := ""
			if x != nil {
				cell = x.Format(time.RFC3339)
			}
			out = append(out, cell)
		case string:
			out = append(out, textCell(x))
		case bool:
			out = append(out, strconv.FormatBool(x))
		default:
			out = append(out, fmt.Sprint(x)) // whole numbers
		}
	}
	return out
}

// decimal is the number of a quantity, as text where a forged record holds none.
func decimal(q quantity.Quantity) string {
	if q.IsZero() {
		return ""
	}
	if q.Valid() != nil {
		return textCell(q.Number)
	}
	return q.Number
}

// formulas are the characters by which spreadsheets know a formula, their full-width forms included
// (OWASP CSV Injection; CWE-1236).
const formulas = "=+-@\t\r\n\x00＝＋－＠"

// textCell makes a cell of text safe: cleaned, and defused where a spreadsheet would execute it.
func textCell(s string) string {
	lead := strings.TrimLeft(s, " \u00a0")
	first := []rune(lead)
	s = draw.Clean(s)
	if len(first) > 0 && slices.Contains([]rune(formulas), first[0]) {
		return "'" + s
	}
	return s
}
