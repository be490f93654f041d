package paper

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
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
	{"customer", "the page for whoever ordered the work", sure(Customer)},
	{"file", "the whole record, for the file", sure(Record)},
	{"handover", "the list gone through with the driver", sure(HandOver)},
	{"stop", "the sheet on the steering wheel while the work stands", sure(Stop)},
	{"notice", "the notice on a vehicle that is not roadworthy", NotRoadworthy},
	{"labels", "the labels the job needs now", Labels},
	{"blank", "the checklist of the job, empty, to fill in by hand", sure(func(c *job.Card, in Info) Document { return Blank(c.Plan, in) })},
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
	return Document{}, fmt.Errorf("%q is no page; expected one of %s", draw.Clean(name), strings.Join(Pages(), ", "))
}
