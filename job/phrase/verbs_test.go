package phrase

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var verbParts = regexp.MustCompile(`^%[-+#0]*(?:\[(\d+)\])?(?:\d+|(\*))?(?:\.(?:\d+|(\*))?)?(?:\[(\d+)\])?([a-zA-Z%])$`)

// verbsOf are the verbs of a format by the argument each takes, from 1, by the rules of package fmt:
// an index moves the next argument.
func verbsOf(format string) map[int]string {
	out := map[int]string{}
	next := 1
	for _, v := range verb.FindAllString(format, -1) {
		p := verbParts.FindStringSubmatch(v)
		if p == nil || p[5] == "%" {
			continue
		}
		for _, index := range []string{p[1], p[4]} {
			if index != "" {
				next, _ = strconv.Atoi(index)
			}
		}
		for _, star := range p[2:4] {
			if star != "" {
				out[next] = "*"
				next++
			}
		}
		out[next] += p[5]
		next++
	}
	return out
}

func TestVerbs(t *testing.T) {
	for format, want := range map[string]map[int]string{
		"plain":                {},
		"100 %% of %d":         {1: "d"},
		"%s by %q at %.3f mm":  {1: "s", 2: "q", 3: "f"},
		"%[2]s of %[1]d":       {1: "d", 2: "s"},
		"%[2]s and %s, %[1]d":  {1: "d", 2: "s", 3: "s"},
		"%-*s|%+q":             {1: "*", 2: "s", 3: "q"},
		"%[1]d of %[1]d times": {1: "dd"},
	} {
		if diff := cmp.Diff(want, verbsOf(format)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", format, diff)
		}
	}
}
