package bay

import (
	"strings"
	"testing"

	"bay.example/pawl/job/phrase/accents"

	"bay.example/pawl/job/register"
	"bay.example/pawl/ui/draw"
)

// However long the text of a dialog is, the field below it stays in view.
func TestFieldStaysInViewUnderLongText(t *testing.T) {
	theme, err := draw.NewTheme(draw.Options{Palette: "mono", NoColor: true})
	must(t, err)
	e := &Env{Theme: theme}
	text := make([]line, 40)
	for i := range text {
		text[i] = line{text: "one of very many lines of a stop sheet"}
	}
	people := []register.Person{frida, tarik}
	for name, d := range map[string]Dialog{
		"form":  newForm("t", text, []formField{{label: "first"}, {label: "second"}}),
		"words": newWords("t", text, ""),
		"code":  newCode("t", text, frida, nil),
		"who":   newWho("t", text, people, nil),
	} {
		t.Run(name, func(t *testing.T) {
			for h := 8; h <= 60; h++ {
				rows := strings.Split(d.View(e, 60, h), "\n")
				shown := accents.Off(strings.Join(rows, "\n"))
				if len(rows) > h || !strings.Contains(shown, "_") {
					t.Fatalf("in %d lines:\n%s", h, shown)
				}
				if missing := strings.Count(shown, "one of very many") < len(text); missing != strings.Contains(shown, "more line") {
					t.Errorf("in %d lines, some missing: %v\n%s", h, missing, shown)
				}
			}
		})
	}
}
