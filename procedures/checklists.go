package procedures

import (
	"slices"

	"bay.example/pawl/job/phrase"
)

// distinct checks that the entries of a list can be told apart, in the file and on a screen.
func (c *checker) distinct(at func(string, ...any), key string, list []string) {
	for i, v := range list {
		if slices.Contains(list[:i], v) {
			at("%s", phrase.Of("procedures.checklists.lists-twice", key, shown(v)))
		} else if other, ok := alike(list, i); ok {
			at("%s", phrase.Of("procedures.checklists.lists-what-looks-alike", key, shown(other), shown(v)))
		}
	}
}
