package procedures

import (
	_ "embed" // the skeletons
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
)

//go:embed skeleton/procedure.toml
var procedureSkeleton string

//go:embed skeleton/sheet.toml
var sheetSkeleton string

// NewProcedure is a commented procedure file to begin with. It passes Check. The id must have the
// form of one.
func NewProcedure(id string) ([]byte, error) {
	if !idForm.MatchString(id) {
		return nil, phrase.Error("procedures.skeleton.is-no-id-an-id-is-lower", id)
	}
	return []byte(strings.Replace(procedureSkeleton, `id = "new-procedure" `, fmt.Sprintf(`id = "%s" `, id), 1)), nil
}

// NewSheet is a commented sheet file to begin with. It passes Check, and CheckPair with what
// NewProcedure writes. For each procedure given it ends with a list of all that one asks for, as
// comments.
func NewSheet(id string, ps ...*Procedure) ([]byte, error) {
	if !idForm.MatchString(id) {
		return nil, phrase.Error("procedures.skeleton.is-no-id-an-id-is-lower", id)
	}
	text := strings.Replace(sheetSkeleton, `id = "new-sheet" `, fmt.Sprintf(`id = "%s" `, id), 1)
	var b strings.Builder
	b.WriteString(text)
	for _, p := range ps {
		fmt.Fprintln(&b, phrase.Of("procedures.skeleton.what-asks-for-by-vehicle-put-its", p.ID))
		for _, t := range p.Traits {
			fmt.Fprintln(&b, phrase.Of("procedures.skeleton.trait", t.ID, strings.Join(t.Values, ", "), t.Title))
		}
		for _, need := range p.needsOfSheet() {
			fmt.Fprintf(&b, "#   %s\n", need)
		}
	}
	return []byte(b.String()), nil
}

// needsOfSheet lists every window, group, count and part that some vehicle needs, sorted by kind.
func (p *Procedure) needsOfSheet() []string {
	var out []string
	add := func(kind, id string, s Stage, c Check) {
		prefix := kind + " " + id + ":"
		if id != "" && !slices.ContainsFunc(out, func(x string) bool { return strings.HasPrefix(x, prefix) }) {
			out = append(out, fmt.Sprintf("%s %s, %s", prefix, s.Title, c.Title))
		}
	}
	for _, s := range p.Stages {
		for _, c := range s.Checks {
			for _, id := range []string{c.Window, c.Spread, c.Compare, c.Nominal} {
				add("window", id, s, c)
			}
			add("group", c.Group, s, c)
			add("count", c.Count, s, c)
			add("part", c.Part, s, c)
		}
	}
	slices.SortStableFunc(out, func(a, b string) int {
		rank := func(s string) int {
			return slices.Index([]string{"window", "group", "count", "part"}, strings.SplitN(s, " ", 2)[0])
		}
		return rank(a) - rank(b)
	})
	return out
}
