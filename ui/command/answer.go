package command

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"math/big"
	"strings"

	"bay.example/pawl/job/quantity"
)

// reckonFormat is the version of the JSON that pawl reckon writes; see the package comment.
const reckonFormat = 1

// answer is what one calculation gives back. Text and JSON are written from the same rows, so that
// neither can say what the other does not.
type answer struct {
	name   string // the subcommand
	given  rows
	result rows
	say    []string // plain sentences, the most important first
	source []string // where the formula comes from
}

// row is one figure. The key is the stable name in JSON, the title the words in text. Value is a
// string, bool, int, quantity.Quantity, []string or grid.
type row struct {
	key, title string
	value      any
}

type rows []row

func (r *rows) add(key, title string, value any) { *r = append(*r, row{key, title, value}) }

// grid is a table: in JSON a list of objects with the keys of its columns.
type grid struct {
	keys, titles []string
	lines        [][]any
}

// exact writes a rational as the decimal it is, or as a fraction when it never ends.
func exact(r *big.Rat) string {
	if r == nil {
		return ""
	}
	if digits, ends := r.FloatPrec(); ends && digits <= 30 {
		return r.FloatString(digits)
	}
	return r.RatString()
}

// approx is a figure that came out of floating point, in unit u with that many decimals. It is
// shown and never judged.
func approx(f float64, u quantity.Unit, places int) quantity.Quantity {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return quantity.Quantity{}
	}
	return quantity.FromRat(new(big.Rat).SetFloat64(f), u, places)
}

// decimal writes a number that came out of floating point in full, for figures without a unit.
func decimal(f float64, digits int) string {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return "none"
	}
	return fmt.Sprintf("%.*f", digits, f)
}

// write writes the answer in the form asked for.
func (a answer) write(w io.Writer, asJSON bool) error {
	if asJSON {
		return a.writeJSON(w)
	}
	return a.writeText(w)
}

func (a answer) writeText(w io.Writer) error {
	var b strings.Builder
	for _, part := range []struct {
		title string
		rows  rows
	}{{"Given", a.given}, {"Result", a.result}} {
		if len(part.rows) == 0 {
			continue
		}
		b.WriteString(part.title + "\n")
		b.WriteString(part.rows.text())
	}
	for _, s := range a.say {
		if s != "" {
			b.WriteString("\n" + wrap(upper(sentence(s)), textWidth, "", ""))
		}
	}
	if len(a.source) > 0 {
		b.WriteByte('\n')
	}
	for _, s := range a.source {
		b.WriteString(wrap("Source: "+sentence(s), textWidth, "", "        "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// text lays the rows out in two columns; grids follow under their title.
func (r rows) text() string {
	wide := 0
	for _, x := range r {
		if _, isGrid := x.value.(grid); !isGrid {
			wide = max(wide, width(x.title))
		}
	}
	var b strings.Builder
	for _, x := range r {
		if g, isGrid := x.value.(grid); isGrid {
			b.WriteString("  " + x.title + "\n")
			b.WriteString(indent(table(g.titles, g.words()), "    "))
			continue
		}
		b.WriteString(wrap(words(x.value), textWidth, "  "+pad(x.title, wide)+"  ", strings.Repeat(" ", wide+4)))
	}
	return b.String()
}

// words is a value as text shows it.
func words(value any) string {
	switch v := value.(type) {
	case string:
		if v == "" {
			return "none"
		}
		return v
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case quantity.Quantity:
		if v.IsZero() {
			return "none"
		}
		return v.String()
	case []string:
		if len(v) == 0 {
			return "none"
		}
		return strings.Join(v, ", ")
	}
	return fmt.Sprint(value)
}

func (g grid) words() [][]string {
	out := make([][]string, len(g.lines))
	for i, line := range g.lines {
		for _, v := range line {
			out[i] = append(out[i], words(v))
		}
	}
	return out
}

func (a answer) writeJSON(w io.Writer) error {
	o := object{}
	o.add("format", reckonFormat)
	o.add("reckon", a.name)
	o.add("given", a.given.object())
	o.add("result", a.result.object())
	say := []string{}
	for _, s := range a.say {
		if s != "" {
			say = append(say, upper(sentence(s)))
		}
	}
	o.add("say", say)
	o.add("source", a.source)
	return writeJSON(w, o)
}

func (r rows) object() object {
	o := object{}
	for _, x := range r {
		if g, isGrid := x.value.(grid); isGrid {
			lines := []object{}
			for _, line := range g.lines {
				l := object{}
				for i, v := range line {
					l.add(g.keys[i], plain(v))
				}
				lines = append(lines, l)
			}
			o.add(x.key, lines)
			continue
		}
		o.add(x.key, plain(x.value))
	}
	return o
}

// plain turns a value into what JSON holds: a missing quantity or text is null, an empty list a list.
func plain(value any) any {
	switch v := value.(type) {
	case quantity.Quantity:
		if v.IsZero() {
			return nil
		}
	case string:
		if v == "" {
			return nil
		}
	case []string:
		if v == nil {
			return []string{}
		}
	}
	return value
}

// object is a JSON object whose members keep the order they were added in.
type object []member

type member struct {
	key   string
	value any
}

func (o *object) add(key string, value any) { *o = append(*o, member{key, value}) }

// MarshalJSON writes the members in order.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := marshal(m.key)
		if err != nil {
			return nil, err
		}
		value, err := marshal(m.value)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// marshal writes JSON without the escapes meant for web pages.
func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// writeJSON writes v indented, with a newline at its end.
func writeJSON(w io.Writer, v any) error {
	data, err := marshal(v)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, data, "", "  "); err != nil {
		return err
	}
	b.WriteByte('\n')
	_, err = w.Write(b.Bytes())
	return err
}
