package phrase

import (
	"io/fs"
	"os"
	"strings"
	"testing"

	"golang.org/x/text/language"
)

// speech is the language in use, over the English that stands in for what it lacks.
type speech struct {
	tag     language.Tag
	texts   catalogue
	english catalogue
	words   map[string]string // what a word of the record is called
}

var spoken = settle(files, environment)

// accented is the pseudo-language of CLDR whose texts are the English ones in letters with accents:
// whatever is read without them on a screen does not come from here.
var accented = language.MustParse("en-XA")

// environment reads a variable. Under go test the locale of the machine does not count, since the
// tests know the English texts; PAWL_LANGUAGE does.
func environment(name string) string {
	if testing.Testing() && name != "PAWL_LANGUAGE" {
		return ""
	}
	return os.Getenv(name)
}

// settle takes the language that the environment asks for. The files are part of the program and its
// tests read all of them; one that cannot be read stops the program at once.
func settle(from fs.FS, env func(string) string) *speech {
	tags, err := languages(from)
	if err != nil {
		panic(err)
	}
	english, err := read(from, "en")
	if err != nil {
		panic(err)
	}
	s := &speech{tag: language.English, texts: english, english: english}
	defer s.name()
	asked := wanted(env)
	if asked == accented {
		s.tag, s.texts = accented, english.accent()
		return s
	}
	if _, i, sure := language.NewMatcher(tags).Match(asked); sure != language.No && i > 0 {
		if s.texts, err = read(from, tags[i].String()); err != nil {
			panic(err)
		}
		s.tag = tags[i]
	}
	return s
}

// wanted is the language of the environment; no language at all where it names none, or C, or POSIX.
func wanted(env func(string) string) language.Tag {
	for _, name := range []string{"PAWL_LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"} {
		v := env(name)
		if v == "" {
			continue
		}
		// A locale is language[_territory][.codeset][@modifier].
		v, _, _ = strings.Cut(v, ".")
		v, _, _ = strings.Cut(v, "@")
		tag, err := language.Parse(v)
		if err != nil {
			return language.Und
		}
		return tag
	}
	return language.Und
}

// name makes the list of words, which are looked up far more often than texts.
func (s *speech) name() {
	s.words = map[string]string{}
	for key := range s.english {
		if word, ok := strings.CutPrefix(key, "word."); ok {
			t, _ := s.text(key)
			s.words[word] = t.other
		}
	}
}

func (s *speech) text(key string) (text, bool) {
	if t, ok := s.texts[key]; ok {
		return t, true
	}
	t, ok := s.english[key]
	return t, ok
}

// tagOf is the language whose plural rule counts for a key.
func (s *speech) tagOf(key string) language.Tag {
	if _, ok := s.texts[key]; ok {
		return s.tag
	}
	return language.English
}
