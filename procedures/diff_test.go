package procedures

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestDiffProcedures(t *testing.T) {
	old, _ := small(t)
	if got := DiffProcedures(old, old); len(got) != 0 {
		t.Errorf("a procedure differs from itself: %v", got)
	}
	data := string(readFile(t, "testdata", "small.toml"))
	for _, r := range [][2]string{
		{`revision = "1"`, `revision = "2"`},
		{`values = ["steel", "air"]`, `values = ["steel", "air", "coil"]`},
		{`good = "It clicks."`, `good = "It clicks once."`},
		{"[[stage.check]]\nid = \"slides\"\nkind = \"choice\"\ntitle = \"Slides\"\noptions = [\"free\", \"seized\"]\nfinding = \"slides\"\n", "[[stage.check]]\nid = \"paint\"\nkind = \"confirm\"\ntitle = \"Paint mark\"\n"},
		{`when = [{ decision = "scope", is = ["all"] }]`, ""},
	} {
		if !strings.Contains(data, r[0]) {
			t.Fatalf("the small procedure lacks %q", r[0])
		}
		data = strings.Replace(data, r[0], r[1], 1)
	}
	next, err := LoadProcedure("next.toml", []byte(data))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range DiffProcedures(old, next) {
		got = append(got, c.String())
	}
	want := []string{
		`revision: "1" → "2"`,
		`trait "springs" values: ["steel", "air"] → ["steel", "air", "coil"]`,
		`stage "tighten" good: "It clicks." → "It clicks once."`,
		`stage "tighten" when: gone; was [{ decision = "scope", is = ["all"] }]`,
		`stage "tighten" check "paint": new: "Paint mark"`,
		`stage "tighten" check "slides": gone; was "Slides"`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestDiffSheets(t *testing.T) {
	_, old := small(t)
	data := strings.NewReplacer(`"90..100 N·m"`, `"95..105 N·m"`, `springs = "steel"`, `springs = "air"`).Replace(string(readFile(t, "testdata", "small-sheet.toml")))
	next, err := LoadSheet("next.toml", []byte(data+"\n[[count]]\nid = \"nuts\"\nvalue = 6\nsource = \"book\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range DiffSheets(old, next) {
		got = append(got, c.String())
	}
	want := []string{`traits springs: "steel" → "air"`, `window "bolt-torque" value: "90..100 N·m" → "95..105 N·m"`, `count "nuts": new: 6`}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
