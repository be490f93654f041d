package phrase

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

// small is a program with a second language that lacks one of its texts.
var small = fstest.MapFS{
	"en/bay.toml": {Data: []byte(`[page]
sign = "sign %s of %d"
only = "only in English"
raw = "100 % sure"
[page.nut]
one = "%d nut of %s"
other = "%d nuts of %s"
`)},
	"en/word.toml": {Data: []byte(`left = "left"
"typing slip" = "typing slip"
`)},
	"pl/bay.toml": {Data: []byte(`[page]
sign = "z %[2]d: %[1]s"
raw = "100 %"
[page.nut]
one = "%d (one) %s"
few = "%d (few) %s"
many = "%d (many) %s"
other = "%d (other) %s"
`)},
	"pl/word.toml": {Data: []byte(`left = "lewa"
`)},
}

func from(values map[string]string) func(string) string {
	return func(name string) string { return values[name] }
}

// speaking settles a language for a test and gives the old one back.
func speaking(t *testing.T, env map[string]string) {
	t.Helper()
	before := spoken
	spoken = settle(small, from(env))
	t.Cleanup(func() { spoken = before })
}

// The order of the variables is that of POSIX.1-2017, section 8.2, with PAWL_LANGUAGE before them.
func TestLanguageOfTheEnvironment(t *testing.T) {
	for _, c := range []struct {
		env  map[string]string
		want string
	}{
		{nil, "en"},
		{map[string]string{"LANG": "C.UTF-8"}, "en"},
		{map[string]string{"LANG": "POSIX"}, "en"},
		{map[string]string{"LANG": "pl_PL.UTF-8"}, "pl"},
		{map[string]string{"LANG": "pl_PL@euro"}, "pl"},
		{map[string]string{"LANG": "en_GB.UTF-8"}, "en"},
		{map[string]string{"LANG": "ja_JP.UTF-8"}, "en"},
		{map[string]string{"LANG": "pl", "LC_MESSAGES": "en_US"}, "en"},
		{map[string]string{"LANG": "en", "LC_MESSAGES": "en", "LC_ALL": "pl_PL"}, "pl"},
		{map[string]string{"LC_ALL": "en_US", "PAWL_LANGUAGE": "pl"}, "pl"},
		{map[string]string{"LC_ALL": "pl", "PAWL_LANGUAGE": "no such tag"}, "en"},
		{map[string]string{"PAWL_LANGUAGE": "en-XA"}, "en-XA"},
	} {
		speaking(t, c.env)
		if got := Language(); got != c.want {
			t.Errorf("%v speaks %s, want %s", c.env, got, c.want)
		}
	}
}

func TestOf(t *testing.T) {
	speaking(t, map[string]string{"LANG": "pl"})
	type side string
	for _, c := range []struct{ got, want string }{
		{Of("bay.page.sign", "Stage", 3), "z 3: Stage"},
		{Of("bay.page.only"), "only in English"},
		{Of("bay.page.raw"), "100 %"},
		{Of("bay.page.none"), "bay.page.none"},
		{Of("bay.page.sign", side("left"), 1), "z 1: lewa"},
		{Of("bay.page.sign", "left", 1), "z 1: left"}, // somebody typed it
		{Of("bay.page.sign", side("typing slip"), 1), "z 1: typing slip"},
		{Word("left"), "lewa"},
		{Word("up"), "up"},
		{strings.Join(Words([]side{"left", "up"}), " "), "lewa up"},
		{Error("bay.page.sign", "x", 2).Error(), "z 2: x"},
		{Error("bay.page.none").Error(), "bay.page.none"},
		{Capital("żeby nie"), "Żeby nie"},
		{Capital(""), ""},
	} {
		if c.got != c.want {
			t.Errorf("said %q, want %q", c.got, c.want)
		}
	}
}

// The counts and their categories are those of CLDR for Polish (UTS #35, language plural rules).
func TestCount(t *testing.T) {
	speaking(t, map[string]string{"LANG": "pl"})
	for n, want := range map[int]string{0: "many", 1: "one", 2: "few", 4: "few", 5: "many", 12: "many", 21: "many", 22: "few", 25: "many"} {
		if got := Count("bay.page.nut", n, "W"); got != fmt.Sprintf("%d (%s) W", n, want) {
			t.Errorf("%d nuts are %q, want the form %s", n, got, want)
		}
	}
	speaking(t, nil)
	if got := []string{Count("bay.page.nut", 1, "W"), Count("bay.page.nut", 0, "W")}; !slices.Equal(got, []string{"1 nut of W", "0 nuts of W"}) {
		t.Errorf("in English they are %q", got)
	}
}

func TestErrorWraps(t *testing.T) {
	before := spoken
	t.Cleanup(func() { spoken = before })
	spoken = settle(fstest.MapFS{"en/a.toml": {Data: []byte("[b]\nc = \"no %s: %w\"\n")}}, from(nil))
	inner := errors.New("inner")
	if err := Error("a.b.c", "way", inner); !errors.Is(err, inner) || err.Error() != "no way: inner" {
		t.Errorf("%v does not wrap", err)
	}
}

func TestAccent(t *testing.T) {
	for text, want := range map[string]string{
		"set %-8[2]s to %.1f %%": "šéţ %-8[2]s ţó %.1f %%",
		"give --hub-radius too":  "ĝívé --hub-radius ţóó",
		"  120 N·m ":             "  120 Ñ·m ",
	} {
		if got := accentText(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

func TestCatalogueRefuses(t *testing.T) {
	for file, want := range map[string]string{
		"[a]\nb = 3":                             "a.toml: a.a.b is no text; expected one in quotes",
		"[a]\nb = [\"x\"]":                       "a.toml: a.a.b is no text; expected one in quotes",
		"[a]\nb = \"x\"\nb = \"y\"":              "a.toml: a.a.b stands twice",
		"[[a]]\nb = \"x\"":                       "a.toml: a: only tables of texts stand in this file",
		"[a.b]\nother = \"%d\"\nsingle = \"%d\"": "a.toml: a.a.b holds more than plural forms; expected few, many, one, other, two, zero",
		"[a]\nb = \"x":                           "a.toml: unterminated basic string",
	} {
		_, err := read(fstest.MapFS{"xx/a.toml": {Data: []byte(file)}}, "xx")
		if err == nil || !strings.HasSuffix(err.Error(), want) {
			t.Errorf("%q: %v, want %q", file, err, want)
		}
	}
	if _, err := languages(fstest.MapFS{"en": {Mode: fs.ModeDir}, "not a tag": {Mode: fs.ModeDir}}); err == nil {
		t.Error("a folder that is no language is taken")
	}
}

// FuzzCatalogue reads files of a language: a bad one is an error, a good one says what it holds.
func FuzzCatalogue(f *testing.F) {
	for _, x := range small {
		f.Add(x.Data)
	}
	f.Add([]byte("a = 1"))
	f.Fuzz(func(t *testing.T, data []byte) {
		c := catalogue{}
		if err := c.add("f", data); err != nil {
			return
		}
		for key, text := range c {
			s := &speech{tag: language.English, texts: c, english: c}
			if got := s.say(key, nil); got != text.other {
				t.Errorf("%s says %q, holds %q", key, got, text.other)
			}
			if text.forms != nil {
				s.count(key, 2, nil)
			}
		}
	})
}

// TestLanguages holds every language beside English against it: it has no text that English has not,
// each text takes the same arguments, begins and ends with the same white space, and has the plural
// forms that CLDR asks of the language.
func TestLanguages(t *testing.T) {
	tags, err := languages(files)
	if err != nil {
		t.Fatal(err)
	}
	english, err := read(files, "en")
	if err != nil {
		t.Fatal(err)
	}
	if len(english) < 4000 {
		t.Fatalf("English has %d texts", len(english))
	}
	for _, tag := range tags {
		other, err := read(files, tag.String())
		if err != nil {
			t.Fatal(err)
		}
		for _, fault := range faults(english, other, tag) {
			t.Errorf("%s: %s", path.Join("job/phrase", tag.String()), fault)
		}
		t.Logf("%s: %d of %d texts", tag, len(other), len(english))
	}
	pl, err := read(small, "pl")
	if err != nil {
		t.Fatal(err)
	}
	en, err := read(small, "en")
	if err != nil {
		t.Fatal(err)
	}
	if got := faults(en, pl, language.Polish); len(got) > 0 {
		t.Errorf("the language of the tests has faults: %q", got)
	}
	bad := catalogue{
		"bay.page.sign": {other: "%d of %s"}, "bay.page.only": {other: " only"}, "bay.page.more": {other: "more"},
		"bay.page.nut": {other: "%d %s", forms: map[plural.Form]string{plural.One: "%d %s", plural.Few: "%d", plural.Other: "%d %s"}},
	}
	want := []string{
		`bay.page.more is no text of English`,
		`bay.page.nut lacks the plural form of 0`,
		`bay.page.nut: "%d" takes map[1:d], in English map[1:d 2:s]`,
		`bay.page.only: " only" begins or ends with other white space than "only in English"`,
		`bay.page.sign: "%d of %s" takes map[1:d 2:s], in English map[1:s 2:d]`,
	}
	if diff := cmp.Diff(want, faults(en, bad, language.Polish)); diff != "" {
		t.Errorf("the faults of a bad language (-want +got):\n%s", diff)
	}
}

// faults lists what is wrong with a language.
func faults(english, other catalogue, tag language.Tag) []string {
	var out []string
	note := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for key, text := range other {
		en, ok := english[key]
		if !ok {
			note("%s is no text of English", key)
			continue
		}
		all := []string{text.other}
		for _, s := range text.forms {
			all = append(all, s)
		}
		slices.Sort(all)
		for _, s := range slices.Compact(all) {
			if got, want := verbsOf(s), verbsOf(en.other); !cmp.Equal(got, want) && strings.Contains(en.other, "%") {
				note("%s: %q takes %v, in English %v", key, s, got, want)
			}
			if edges(s) != edges(en.other) {
				note("%s: %q begins or ends with other white space than %q", key, s, en.other)
			}
		}
		if (text.forms != nil) != (en.forms != nil) {
			note("%s has plural forms in one of the two languages", key)
		}
		if text.forms != nil {
			for n := range 200 {
				if _, ok := text.forms[plural.Cardinal.MatchPlural(tag, n, 0, 0, 0, 0)]; !ok {
					note("%s lacks the plural form of %d", key, n)
					break
				}
			}
		}
	}
	slices.Sort(out)
	return out
}

// edges is the white space around a text.
func edges(s string) [2]string {
	inner := strings.TrimSpace(s)
	i := strings.Index(s, inner)
	return [2]string{s[:i], s[i+len(inner):]}
}

// BenchmarkSettle is what every start of the program spends on its texts.
func BenchmarkSettle(b *testing.B) {
	for b.Loop() {
		settle(files, from(nil))
	}
}

func BenchmarkOf(b *testing.B) {
	for b.Loop() {
		Of("job.gates.is-outside", "Guide bolts upper", "34 N·m", "28..40 N·m")
	}
}
