package command

import (
	"bytes"
	"encoding/json"
	"io"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/ui/reckon"
)

// reckonFormat is the version of the JSON that pawl reckon writes; see the package comment.
const reckonFormat = 1

// writeAnswer writes an answer of a calculator in the form asked for. Text and JSON come from the
// same rows, so that neither can say what the other does not.
func writeAnswer(w io.Writer, a reckon.Answer, asJSON bool) error {
	if asJSON {
		return writeAnswerJSON(w, a)
	}
	return writeAnswerText(w, a)
}

func writeAnswerText(w io.Writer, a reckon.Answer) error {
	var b strings.Builder
	for _, part := range []struct {
		title string
		rows  reckon.Rows
	}{{phrase.Of("command.answer.given"), a.Given}, {phrase.Of("command.answer.result"), a.Result}} {
		if len(part.rows) == 0 {
			continue
		}
		b.WriteString(part.title + "\n")
		b.WriteString(rowsText(part.rows))
	}
	for _, s := range a.Say {
		if s != "" {
			b.WriteString("\n" + wrap(phrase.Capital(sentence(s)), textWidth, "", ""))
		}
	}
	if len(a.Source) > 0 {
		b.WriteByte('\n')
	}
	for _, s := range a.Source {
		b.WriteString(wrap(phrase.Of("command.answer.source", sentence(s)), textWidth, "", "        "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// text lays the rows out in two columns; grids follow under their title.
func rowsText(r reckon.Rows) string {
	wide := 0
	for _, x := range r {
		if _, isTable := x.Table(); !isTable {
			wide = max(wide, width(x.Title))
		}
	}
	var b strings.Builder
	for _, x := range r {
		if g, isTable := x.Table(); isTable {
			b.WriteString("  " + x.Title + "\n")
			b.WriteString(indent(table(g.Titles, cells(g)), "    "))
			continue
		}
		b.WriteString(wrap(reckon.Words(x.Value), textWidth, "  "+pad(x.Title, wide)+"  ", strings.Repeat(" ", wide+4)))
	}
	return b.String()
}

func cells(g reckon.Grid) [][]string {
	out := make([][]string, len(g.Lines))
	for i, line := range g.Lines {
		for _, v := range line {
			out[i] = append(out[i], reckon.Words(v))
		}
	}
	return out
}

func writeAnswerJSON(w io.Writer, a reckon.Answer) error {
	o := object{}
	o.add("format", reckonFormat)
	o.add("reckon", a.Name)
	o.add("given", rowsObject(a.Given))
	o.add("result", rowsObject(a.Result))
	say := []string{}
	for _, s := range a.Say {
		if s != "" {
			say = append(say, phrase.Capital(sentence(s)))
		}
	}
	o.add("say", say)
	o.add("source", a.Source)
	return writeJSON(w, o)
}

func rowsObject(r reckon.Rows) object {
	o := object{}
	for _, x := range r {
		if g, isGrid := x.Value.(reckon.Grid); isGrid {
			lines := []object{}
			for _, line := range g.Lines {
				l := object{}
				for i, v := range line {
					l.add(g.Keys[i], plain(v))
				}
				lines = append(lines, l)
			}
			o.add(x.Key, lines)
			continue
		}
		o.add(x.Key, plain(x.Value))
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
