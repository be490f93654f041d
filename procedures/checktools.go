package procedures

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

// tools checks that every kind of instrument a check names can stand in the register: with a kind
// that cannot, its stage could never be done.
func (c *checker) tools(at func(string, ...any), k *Check) {
	for _, kind := range k.Tools {
		if !slices.Contains(Instruments(), kind) {
			at("%s", phrase.Of("procedures.checktools.names-no-kind-of-instrument", kind, strings.Join(Instruments(), ", ")))
		}
	}
	c.distinct(at, "tools", k.Tools)
}
