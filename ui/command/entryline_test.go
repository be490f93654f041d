package command

import (
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"bay.example/pawl/job/phrase/accents"
)

func TestEntryLineRefusals(t *testing.T) {
	for _, c := range []struct{ line, say string }{
		{`{`, "ends too early"},
		{`[1]`, "no JSON object"},
		{`"sign"`, "no JSON object"},
		{`{"do":"sign","by":"M04"} {}`, "one line holds one object"},
		{`{"do":"sign","do":"enter","by":"M04"}`, `"do" stands twice`},
		{`{"by":"M04"}`, `"do" is missing`},
		{`{"do":"sign"}`, `"by" is missing`},
		{`{"do":"approve","by":"M04"}`, "nothing to do"},
		{`{"do":"sign","by":"M04","stage":"a","Stage":"b"}`, `no field "Stage"`},
		{`{"do":"sign","by":"M04","value":"3"}`, `"sign" has no field "value"; expected stage, side, note`},
		{`{"do":"sign","by":"M04","stage":["a"]}`, "neither text nor a number"},
		{`{"do":"enter","by":"M04","clicked":"yes"}`, "expected true or false"},
		{`{"do":"enter","by":"M04","value":"1","values":["1"]}`, "not both"},
		{`{"do":"enter","by":"M04","values":[]}`, "is no list"},
		{`{"do":"enter","by":"M04","adapter":{"size":"1 mm"}}`, `no field "size"`},
		{`{"do":"enter","by":"M04","adapter":{"length":"long"}}`, "adapter length"},
		{`{"do":"enter","by":"M04","second_code":"1"}`, `without "second"`},
		{`{"do":"enter","by":"M04","stage":"a/left","side":"right"}`, "names a side already"},
		{`{"do":"resume","by":"M04","read":1.5}`, "a whole number"},
		{`{"do":"open","by":"M04","traits":{"a":1}}`, "an object of texts"},
		{"{\"do\":\"sign\",\"by\":\"\xff\"}", "UTF-8"},
		{`{"do":"sign","by":"M04","stage":"` + strings.Repeat("x", maxLine) + `"}`, "longer than"},
	} {
		_, err := parseLine([]byte(c.line))
		if err == nil || !strings.Contains(accents.Off(err.Error()), c.say) {
			t.Errorf("%.60s: %v, want %q", c.line, err, c.say)
		}
	}
}

// A bare number keeps its digits: 33.60 typed is 33.60 recorded, and 1e3 stays what no reader takes.
func TestEntryLineKeepsNumbers(t *testing.T) {
	for _, value := range []string{"33.60", "1e3", "0.1000000000000000055", "-0"} {
		l, err := parseLine([]byte(`{"do":"enter","by":"M04","value":` + value + `}`))
		if err != nil {
			t.Fatal(err)
		}
		if got := l.intent.FieldByName("Value").String(); got != value {
			t.Errorf("%s became %s", value, got)
		}
	}
}

func FuzzEntryLine(f *testing.F) {
	names, err := scripts.ReadDir("demo")
	if err != nil || len(names) == 0 {
		f.Fatal("no scripts to begin with")
	}
	for _, name := range names {
		data, err := scripts.ReadFile("demo/" + name.Name())
		if err != nil {
			f.Fatal(err)
		}
		for line := range strings.Lines(string(data)) {
			if !blank([]byte(line)) {
				f.Add([]byte(strings.TrimSpace(line)))
			}
		}
	}
	f.Add([]byte(`{"do":"declare","by":"M04","state":"raised/left","words":"x"}`))
	f.Add([]byte(`{"do":"enter","by":"M04","second":"M07","second_code":"1","adapter":{"angle":"90"}}`))
	known := deeds()
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := parseLine(data)
		if err != nil {
			if text := err.Error(); text == "" || !utf8.ValidString(text) || strings.ContainsFunc(text, unicode.IsControl) || len(text) > 2000 {
				t.Errorf("no plain sentence: %q", text)
			}
			return
		}
		if !slices.Contains(known, l.do) || l.by == "" || (l.open == nil) == (l.do == doOpen) || l.intent.IsValid() == (l.do == doOpen) {
			t.Errorf("half understood: %+v", l)
		}
	})
}

func TestEachLine(t *testing.T) {
	long := strings.Repeat("y", maxLine+1)
	var got []string
	err := eachLine(strings.NewReader("one\r\n\n"+long+"\nfour"), func(n int, data []byte, tooLong bool) error {
		if tooLong {
			data = []byte("too long")
		}
		got = append(got, string(data))
		return nil
	})
	if err != nil || !slices.Equal(got, []string{"one", "", "too long", "four"}) {
		t.Errorf("%q, %v", got, err)
	}
	// Exactly as long as allowed is allowed.
	err = eachLine(strings.NewReader(strings.Repeat("y", maxLine)+"\r\n"), func(_ int, data []byte, tooLong bool) error {
		if tooLong || len(data) != maxLine {
			t.Errorf("a line of %d bytes counts as too long: %v", len(data), tooLong)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}
