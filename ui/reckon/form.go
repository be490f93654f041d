package reckon

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"bay.example/pawl/job/phrase"
)

// Form is a question as lines to be filled in: the same inputs as flags and arguments, in words.
type Form struct {
	Name   string // the calculator
	Title  string // what it answers, in a few words
	Inputs []Input
}

// Input is one line of a form.
type Input struct {
	Name     string   // the flag or argument; several lines may feed one
	Label    string   // what is asked, with the unit a bare number takes
	Hint     string   // more about it, with an example
	Value    string   // what stands there at the beginning
	Choices  []string // what may be chosen, nil for typed text
	Words    []string // how the choices are said
	Optional bool
	List     bool // one value after the other

	place   place
	lead    string // put before what was typed, such as "0="
	example string
	check   func(text string) error // for what is not checked by its flag
}

// place is where an input goes.
type place uint8

const (
	flagPlace place = iota
	argPlace        // an argument
	argsPlace       // several arguments, separated by blanks or semicolons
)

// Forms lists every calculator as a form, in the order they are offered.
func Forms() []Form {
	made := map[string]*Question{}
	for _, q := range Questions(noDay) {
		made[q.Name()] = q
	}
	var out []Form
	for _, f := range forms() {
		q := made[f.Name]
		for i := range f.Inputs {
			f.Inputs[i].fill(q)
		}
		out = append(out, f)
	}
	return out
}

// noDay serves where nothing is asked of the rules of a day.
func noDay() time.Time { return time.Time{} }

// fill takes from the flag of an input what the form shows.
func (in *Input) fill(q *Question) {
	said := in.Hint
	if f := q.Flags().Lookup(in.Name); f != nil && in.place == flagPlace {
		in.Optional = in.Optional || !slices.Contains(q.Needed, f.Name)
		if said == "" {
			said = phrase.Capital(f.Usage)
		}
		_, in.List = f.Value.(listFlag)
		if !plainZero(f) {
			in.Value = f.DefValue
		}
		if f.Value.Type() == "bool" {
			in.Choices, in.Words = []string{"false", "true"}, []string{phrase.Of("reckon.form.no"), phrase.Of("reckon.form.yes")}
			in.Value = "false"
		}
	}
	in.Hint = said
	if in.example != "" {
		in.Hint += phrase.Of("reckon.form.example", in.example)
	}
	if in.Optional && in.Choices == nil {
		in.Hint += phrase.Of("reckon.form.may-stay-empty")
	}
	in.Hint += "."
}

// plainZero reports whether a flag has no default that means anything to who fills in a form.
func plainZero(f *pflag.Flag) bool {
	switch f.Value.Type() {
	case "int", "stringArray":
		return true
	}
	return false
}

// Check says what is wrong with the text typed for an input, nil for nothing that can be told from
// it alone.
func (f Form) Check(i int, text string) error {
	in := &f.Inputs[i]
	if in.check != nil {
		return in.check(in.lead + text)
	}
	if in.place != flagPlace || in.Choices != nil {
		return nil
	}
	return set(f.question(noDay), in, text)
}

// set gives a flag its text. Whole numbers are read here: the flag library speaks of its parser.
func set(q *Question, in *Input, text string) error {
	flag := q.Flags().Lookup(in.Name)
	if flag.Value.Type() == "int" {
		n, err := Whole(text, in.Label)
		if err != nil {
			return err
		}
		text = fmt.Sprint(n)
	}
	return flag.Value.Set(in.lead + text)
}

func (f Form) question(now func() time.Time) *Question {
	for _, q := range Questions(now) {
		if q.Name() == f.Name {
			return q
		}
	}
	return nil
}

// Ask works the answer out from the texts of all inputs, in order; an empty text is nothing given.
// The time is the day of a test that names none. A mistake is a Wrong where it lies with certain
// inputs.
func (f Form) Ask(now time.Time, texts []string) (Answer, error) {
	q := f.question(func() time.Time { return now })
	var args []string
	for i := range f.Inputs {
		in := &f.Inputs[i]
		text := strings.TrimSpace(texts[i])
		switch {
		case text != "":
		case in.Optional:
			continue
		default:
			return Answer{}, Wrong{Inputs: []string{in.Name}, err: phrase.Error("reckon.form.nothing-is-given", in.Label)}
		}
		switch in.place {
		case argPlace:
			args = append(args, in.lead+text)
		case argsPlace:
			args = append(args, strings.FieldsFunc(joined(text), func(r rune) bool { return r == ' ' || r == ';' })...)
		default:
			if err := set(q, in, text); err != nil {
				return Answer{}, Wrong{Inputs: []string{in.Name}, err: err}
			}
		}
	}
	return q.Ask(args)
}

// joined takes the blanks round the equals signs out, so that blanks part only pairs.
func joined(text string) string {
	parts := strings.Split(text, "=")
	for i := range parts {
		if i > 0 {
			parts[i] = strings.TrimLeft(parts[i], " ")
		}
		if i < len(parts)-1 {
			parts[i] = strings.TrimRight(parts[i], " ")
		}
	}
	return strings.Join(parts, "=")
}
