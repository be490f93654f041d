package reckon

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"bay.example/pawl/job/phrase/accents"
	"github.com/spf13/pflag"
)

var testDay = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)

// Every calculator has a form, and every flag of it a line, so that the screen can ask whatever the
// command line can.
func TestFormsCoverEveryInput(t *testing.T) {
	byName := map[string]Form{}
	for _, f := range Forms() {
		byName[f.Name] = f
	}
	questions := Questions(noDay)
	if len(questions) == 0 || len(byName) != len(questions) {
		t.Fatalf("%d forms for %d calculators", len(byName), len(questions))
	}
	for _, q := range questions {
		f, ok := byName[q.Name()]
		if !ok {
			t.Errorf("%s has no form", q.Name())
			continue
		}
		var asked []string
		for _, in := range f.Inputs {
			if in.place == flagPlace {
				asked = append(asked, in.Name)
				if q.Flags().Lookup(in.Name) == nil {
					t.Errorf("%s asks for %s, which is no flag", f.Name, in.Name)
				}
			}
			if in.Label == "" || in.Hint == "" || in.Choices == nil && in.example == "" {
				t.Errorf("%s, %s: no label, hint or example", f.Name, in.Name)
			}
			if len(in.Choices) != len(in.Words) {
				t.Errorf("%s, %s: %d choices, %d words", f.Name, in.Name, len(in.Choices), len(in.Words))
			}
		}
		q.Flags().VisitAll(func(flag *pflag.Flag) {
			if !slices.Contains(asked, flag.Name) {
				t.Errorf("%s does not ask for %s", f.Name, flag.Name)
			}
		})
		for _, name := range q.Needed {
			i := slices.IndexFunc(f.Inputs, func(in Input) bool { return in.Name == name })
			if i < 0 || f.Inputs[i].Optional {
				t.Errorf("%s: %s is needed and may stay empty", f.Name, name)
			}
		}
	}
}

// What stands on a form at the beginning, and the example of every line, would be taken.
func TestFormExamples(t *testing.T) {
	for _, f := range Forms() {
		for i, in := range f.Inputs {
			if in.Value != "" {
				if err := f.Check(i, in.Value); err != nil {
					t.Errorf("%s, %s: the value at the beginning: %v", f.Name, in.Name, err)
				}
			}
			if in.Choices != nil {
				continue
			}
			example, _, _ := strings.Cut(in.example, ", ")
			if err := f.Check(i, example); err != nil {
				t.Errorf("%s, %s: the example %q: %v", f.Name, in.Name, in.example, err)
			}
		}
	}
}

// texts of a form by label; lines that are not named keep what stands there.
func fill(t *testing.T, name string, given map[string]string) (Form, []string) {
	t.Helper()
	for _, f := range Forms() {
		if f.Name != name {
			continue
		}
		texts, used := make([]string, len(f.Inputs)), 0
		for i, in := range f.Inputs {
			texts[i] = in.Value
			if v, ok := given[accents.Off(in.Label)]; ok {
				texts[i], used = v, used+1
			}
		}
		if used != len(given) {
			t.Fatalf("%s: %d of %d lines were found", name, used, len(given))
		}
		return f, texts
	}
	t.Fatalf("no form %s", name)
	return Form{}, nil
}

// A mistake names the line it lies with, in the words of the form.
func TestFormMistakes(t *testing.T) {
	for _, c := range []struct {
		form  string
		given map[string]string
		input string
		say   string
	}{
		{"window", map[string]string{"Window": "27..29 N·m", "Value": "28 mm"}, "value", "expected a value in N·m"},
		{"window", map[string]string{"Window": "27..29 N·m", "Value": ""}, "value", "nothing is given"},
		{"window", map[string]string{"Window": "27..29 N·m", "Value": "28", "Smallest step it shows": "1"}, "resolution", "<resolution> belongs to <error>"},
		{"adapter", map[string]string{"Drive to hand point (L), mm": "300", "Drive to bolt (a), mm": "40"}, "target", "<target>"},
		{"index", map[string]string{"Number of studs": "6", "Readings as it sits now, mm": "0 1 x", "Turned by studs = readings, mm": "2=0 1 2"}, "at", "value 3"},
		{"pads", map[string]string{"Inner pad, mm": "3", "Outer pad, mm": "3 4"}, "inner", "expected two"},
		{"efficiency", map[string]string{"Efforts of all wheels, kN": "1 1", "Mass, kg": "1000", "Figure to reach, %": "0"}, "required", "more than nothing"},
		{"vin", map[string]string{"Vehicle number (VIN)": "1M8GDM9AXKP042788", "Last model year looked at": "soon"}, "until", "soon"},
	} {
		f, texts := fill(t, c.form, c.given)
		_, err := f.Ask(testDay, texts)
		var w Wrong
		if !errors.As(err, &w) {
			t.Errorf("%s: %v is no mistake of an input", c.form, err)
			continue
		}
		words := accents.Off(w.Words(func(name string) string { return "<" + name + ">" }))
		if w.Inputs[0] != c.input || !strings.Contains(words, c.say) || strings.Contains(words, "--") {
			t.Errorf("%s: %v %q; want %s and %q", c.form, w.Inputs, words, c.input, c.say)
		}
	}
}

// Decimals may have a comma, pairs blanks round their equals sign.
func TestFormDecimals(t *testing.T) {
	for _, c := range []struct {
		form        string
		point, mark map[string]string
	}{
		{"regress", map[string]string{"Points, X = Y": "1=2.1 2=3.9 3=6.2"}, map[string]string{"Points, X = Y": "1 = 2,1 2 =3,9; 3= 6,2"}},
		{"wear", map[string]string{"Smallest thickness, mm": "2.0", "Oldest visit, km = mm": "42180=11.5", "Next visit, km = mm": "61430=7.9"},
			map[string]string{"Smallest thickness, mm": "2,0", "Oldest visit, km = mm": "42180 = 11,5", "Next visit, km = mm": "61430 = 7,9 mm"}},
		{"disc", map[string]string{"Thickness points, mm": "16.42,16.41,16.43"}, map[string]string{"Thickness points, mm": "16,42 16,41 16,43"}},
	} {
		f, a := fill(t, c.form, c.point)
		_, b := fill(t, c.form, c.mark)
		one, err1 := f.Ask(testDay, a)
		two, err2 := f.Ask(testDay, b)
		if err1 != nil || err2 != nil {
			t.Errorf("%s: %v, %v", c.form, err1, err2)
			continue
		}
		if len(one.Say) == 0 || !slices.Equal(one.Say, two.Say) {
			t.Errorf("%s: %q and %q", c.form, one.Say, two.Say)
		}
	}
}
