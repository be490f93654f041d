package paper

import (
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// pageKind is a print of one job by its name.
type pageKind struct {
	name, what string
	make       func(*job.Card, Info) (Document, error)
}

// sure is a print that every job has.
func sure(make func(*job.Card, Info) Document) func(*job.Card, Info) (Document, error) {
	return func(c *job.Card, in Info) (Document, error) { return make(c, in), nil }
}

var pageKinds = []pageKind{
	{"customer", phrase.Of("paper.pages.the-page-for-whoever-ordered-the-work"), sure(Customer)},
	{"file", phrase.Of("paper.pages.the-whole-record-for-the-file"), sure(Record)},
	{"handover", phrase.Of("paper.pages.the-list-gone-through-with-the-driver"), sure(HandOver)},
	{"stop", phrase.Of("paper.pages.the-sheet-on-the-steering-wheel-while"), sure(Stop)},
	{"notice", phrase.Of("paper.pages.the-notice-on-a-vehicle-that-is"), NotRoadworthy},
	{"labels", phrase.Of("paper.pages.the-labels-the-job-needs-now"), Labels},
	{"blank", phrase.Of("paper.pages.the-checklist-of-the-job-empty-to"), sure(func(c *job.Card, in Info) Document { return Blank(c.Plan, in) })},
}

// Pages names the prints of one job, in the order of the work's papers.
func Pages() []string {
	var out []string
	for _, k := range pageKinds {
		out = append(out, k.name)
	}
	return out
}

// AboutPage says in a few words what a page is for; empty for a name that is none.
func AboutPage(name string) string {
	for _, k := range pageKinds {
		if k.name == name {
			return k.what
		}
	}
	return ""
}

// Page makes a print of a job by its name. The error names the pages there are, or says why this job
// has none of that kind.
func Page(name string, c *job.Card, in Info) (Document, error) {
	for _, k := range pageKinds {
		if k.name == name {
			return k.make(c, in)
		}
	}
	return Document{}, phrase.Error("paper.pages.is-no-page-expected-one-of", draw.Clean(name), strings.Join(Pages(), ", "))
}
