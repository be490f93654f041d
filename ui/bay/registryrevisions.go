package bay

import (
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// earlierName is the dialog of the revisions that were in use before.
const earlierName = "earlier-revisions"

// earlier are the revisions of one procedure or sheet besides the one in use, ready to be read.
type earlier struct {
	title string
	rows  []option
	panes []*notice
}

// readEarlier reads the other revisions of the marked row. They stay for the jobs that were made by
// them, and can be read as long as the file lasts.
func (s *registry) readEarlier() Action {
	p, sh := s.inUse()
	return Call{Name: earlierName, Doing: phrase.Of("bay.registryrevisions.reading"), Do: func(f *store.File) (any, error) {
		out := earlier{}
		add := func(title, revision, date, author string, changes []procedures.Change, lines []line) {
			out.title = title
			out.rows = append(out.rows, option{text: phrase.Of("bay.registryrevisions.revision", revision), note: strings.Trim(date+", "+author, ", ")})
			top := []line{{role: draw.Warn, text: " " + phrase.Of("bay.registryrevisions.not-in-use-any-more-jobs-opened") + " "}}
			if len(changes) > 0 {
				top = append(top, line{role: draw.Title, text: phrase.Of("bay.registryrevisions.what-the-one-in-use-says-otherwise")})
			}
			for _, c := range changes {
				top = append(top, line{head: "-", indent: 3, text: c.String()})
			}
			out.panes = append(out.panes, newPane(phrase.Of("bay.registrylibrary.revision", title, revision), append(append(top, line{}), lines...)...))
		}
		switch {
		case p != nil:
			list, err := f.ProcedureRevisions(p.ID)
			if err != nil {
				return nil, err
			}
			for _, x := range list {
				if digestOf(x) != digestOf(p) {
					add(x.Title, x.Revision, x.Date, x.Author, procedures.DiffProcedures(x, p), procedureLines(x))
				}
			}
		case sh != nil:
			list, err := f.SheetRevisions(sh.ID)
			if err != nil {
				return nil, err
			}
			for _, x := range list {
				if digestOf(x) != digestOf(sh) {
					add(x.Title, x.Revision, x.Date, x.Author, sheetChanges(x, sh), sheetLines(x))
				}
			}
		}
		return out, nil
	}}
}

// earlierRead offers them by number; a single one is shown at once.
func (s *registry) earlierRead(list earlier) Action {
	s.earlier = list
	switch len(list.rows) {
	case 0:
		return Say{Text: phrase.Of("bay.registryrevisions.no-other-revision-of-it-has-been"), Role: draw.Warn}
	case 1:
		return Ask{Name: "stages", Dialog: list.panes[0]}
	}
	title := phrase.Of("bay.registryrevisions.earlier-revisions-of", list.title)
	return Ask{Name: earlierName, Dialog: newChooser(title, []line{{text: phrase.Of("bay.registryrevisions.which-one-is-read")}}, list.rows)}
}
