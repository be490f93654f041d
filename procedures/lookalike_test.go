package procedures

import "testing"

// What looks like plain letters and is not shows its numbers; honest texts of any language do not.
func TestShown(t *testing.T) {
	for text, want := range map[string]string{
		"bent":       `"bent"`,
		"bеnt":       `"b\u0435nt"`,          // Cyrillic e
		"рас":        `"\u0440\u0430\u0441"`, // Cyrillic throughout, looks like pac
		"bent\u200b": `"bent\u200b"`,
		"изношен":    `"изношен"`,
		"изнoшен":    `"\u0438\u0437\u043do\u0448\u0435\u043d"`, // with a Latin o
		"gelöst":     `"gelöst"`,
		"N·m":        `"N·m"`,
	} {
		if got := shown(text); got != want {
			t.Errorf("%+q is shown as %s, want %s", text, got, want)
		}
	}
}

func TestAlike(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"bent", "bеnt", true},
		{"left nut", "left  nut", true},
		{"left nut", "left\u00a0nut", true},
		{"Ｍ8", "M8", true},
		{"bent", "Bent", false},
		{"stern", "stem", false},
		{"oil", "öil", false},
	} {
		if _, got := alike([]string{c.a, c.b}, 1); got != c.want {
			t.Errorf("%+q and %+q: alike %v, want %v", c.a, c.b, got, c.want)
		}
	}
}
