package reckon

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
)

// quantityFlag reads a flag as a quantity; a bare number takes the unit given.
type quantityFlag struct {
	to   *quantity.Quantity
	unit quantity.Unit
}

// String is the value as typed.
func (f quantityFlag) String() string {
	if f.to == nil {
		return ""
	}
	return f.to.String()
}

// Set reads the value.
func (f quantityFlag) Set(text string) error {
	q, err := quantity.Parse(text, f.unit)
	if err != nil {
		return err
	}
	if f.unit != "" && !q.Unit.Same(f.unit) {
		return phrase.Error("reckon.values.is-no-expected-a-value-in", q, f.unit.Dimension(), f.unit)
	}
	*f.to = q
	return nil
}

// Type names the value in the help.
func (f quantityFlag) Type() string {
	if f.unit == "" {
		return phrase.Of("reckon.values.value-with-unit")
	}
	return string(f.unit)
}

// windowFlag reads a flag as a window.
type windowFlag struct{ to *quantity.Window }

// String is the window as written.
func (f windowFlag) String() string {
	if f.to == nil {
		return ""
	}
	return f.to.String()
}

// Set reads the window.
func (f windowFlag) Set(text string) error {
	w, err := quantity.ParseWindow(text)
	if err != nil {
		return err
	}
	*f.to = w
	return nil
}

// Type names the value in the help.
func (f windowFlag) Type() string { return "window" }

// listFlag reads a flag as a list of quantities.
type listFlag struct {
	to   *[]quantity.Quantity
	unit quantity.Unit
}

// String is the list as read.
func (f listFlag) String() string {
	if f.to == nil {
		return ""
	}
	return strings.Join(texts(*f.to), " ")
}

// Set reads the list. Given twice, the flag goes on where it stopped.
func (f listFlag) Set(text string) error {
	qs, err := list(text, f.unit)
	if err != nil {
		return err
	}
	*f.to = append(*f.to, qs...)
	return nil
}

// Type names the value in the help.
func (f listFlag) Type() string { return phrase.Of("reckon.values.list-in", string(f.unit)) }

// list reads values parted by commas, or by blanks or semicolons when the text holds any: then a
// comma is the decimal mark.
func list(text string, unit quantity.Unit) ([]quantity.Quantity, error) {
	var parts []string
	if strings.ContainsAny(text, "; \t") {
		parts = strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == ' ' || r == '\t' })
	} else {
		parts = strings.Split(text, ",")
	}
	var out []quantity.Quantity
	for i, part := range parts {
		q, err := quantity.Parse(part, unit)
		if err != nil {
			return nil, phrase.Error("reckon.values.value", i+1, err)
		}
		if !q.Unit.Same(unit) {
			return nil, phrase.Error("reckon.values.value-is-no-expected-a-value-in", i+1, q, unit.Dimension(), unit)
		}
		out = append(out, q)
	}
	if len(out) == 0 {
		return nil, phrase.Error("reckon.values.the-list-is-empty-expected-values-parted")
	}
	return out, nil
}

func texts(qs []quantity.Quantity) []string {
	out := make([]string, len(qs))
	for i, q := range qs {
		out[i] = q.String()
	}
	return out
}

// quantities is a list of values: a list of quantities in JSON, with its unit once in text.
type quantities []quantity.Quantity

// String is the list as text shows it.
func (qs quantities) String() string {
	if len(qs) == 0 {
		return phrase.Of("reckon.values.none")
	}
	parts := make([]string, len(qs))
	for i, q := range qs {
		if q.Unit != qs[0].Unit {
			return strings.Join(texts(qs), ", ")
		}
		parts[i] = q.Number
	}
	return strings.Join(parts, " ") + " " + string(qs[0].Unit)
}
