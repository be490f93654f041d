package bay

import (
	"fmt"
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
				if missing := strings.Count(shown, "one of very many") < len(text); missing != (strings.Contains(shown, "more line") || strings.Contains(shown, "above")) {
					t.Errorf("in %d lines, some missing: %v\n%s", h, missing, shown)
				}
			}
		})
	}
}

// TestCodeTextIsReadToItsEnd scrolls what is signed with the arrow keys, past either end too.
func TestCodeTextIsReadToItsEnd(t *testing.T) {
	theme, err := draw.NewTheme(draw.Options{Palette: "mono", NoColor: true})
	must(t, err)
	e := &Env{Theme: theme}
	var text []line
	for i := range 12 {
		text = append(text, line{text: fmt.Sprintf("line %d of what is signed", i+1)})
	}
	d := newCode("t", text, frida, nil)
	seen := map[string]bool{}
	for range 20 {
		d.Height(e, 60)
		for _, row := range strings.Split(d.View(e, 60, 8), "\n") {
			seen[strings.TrimSpace(row)] = true
		}
		if act := d.Update(e, Key{Sym: Down}); act != nil {
			t.Fatalf("Down does %T", act)
		}
	}
	for i := range 12 {
		if want := fmt.Sprintf("line %d of what is signed", i+1); !seen[want] {
			t.Errorf("%q is never shown", want)
		}
	}
	for range 30 {
		d.Update(e, Key{Sym: Up})
		d.View(e, 60, 8)
	}
	if !strings.HasPrefix(d.View(e, 60, 8), "line 1 ") {
		t.Errorf("Up does not lead back to the beginning:\n%s", d.View(e, 60, 8))
	}
}
