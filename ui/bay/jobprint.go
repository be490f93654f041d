package bay

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
	"bay.example/pawl/ui/paper"
)

// printKind names what is printed of a job.
type printKind string

// What is printed of a job.
const (
	printStop   printKind = "stop-sheet"
	printNotice printKind = "not-roadworthy"
	printLabels printKind = "labels"
	printRecord printKind = "record"
)

// printedTo is where a print was written.
type printedTo string

// print writes a paper of the job beside the workshop file, as text any printer takes.
func (s *jobScreen) print(e *Env, kind printKind) Action {
	c, name := s.card, fmt.Sprintf("job-%d-%s", s.number, kind)
	return Call{Name: "print", Do: func(f *store.File) (any, error) {
		in, err := jobInfo(f, c)
		if err != nil {
			return nil, err
		}
		doc, err := document(c, kind, in)
		if err != nil {
			return nil, err
		}
		return writePaper(f, name, doc)
	}}
}

func document(c *job.Card, kind printKind, in paper.Info) (paper.Document, error) {
	switch kind {
	case printStop:
		return paper.Stop(c, in), nil
	case printNotice:
		return paper.NotRoadworthy(c, in)
	case printLabels:
		return paper.Labels(c, in)
	case printRecord:
		return paper.Record(c, in), nil
	}
	return paper.Document{}, phrase.Error("bay.jobprint.nothing-is-called", kind)
}

// printInfo is what a print says of the workshop.
func printInfo(f *store.File) paper.Info {
	w, _ := f.Workshop()
	return paper.Info{Workshop: w.Name, Printed: f.Now()}
}

// writePaper writes a document as text into the folder for prints beside the workshop file. A print
// that is there already stays.
func writePaper(f *store.File, name string, doc paper.Document) (any, error) {
	dir := f.Path() + ".prints"
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, phrase.Error("bay.jobprint.no-folder-for-prints", err)
	}
	path := filepath.Join(dir, fmt.Sprintf("%s-%s.txt", name, f.Now().Format("20060102-150405")))
	out, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, phrase.Error("bay.jobprint.the-print-cannot-be-written", err)
	}
	_, err = out.Write(doc.Text(false))
	if err = errors.Join(err, out.Close()); err != nil {
		return nil, phrase.Error("bay.jobprint.the-print-cannot-be-written", err)
	}
	return printedTo(path), nil
}

// printed says where the print is.
func printed(p printedTo) Action {
	return Ask{Name: "printed", Dialog: newPane(phrase.Of("bay.jobprint.written-for-the-printer"), line{role: draw.Title, text: filepath.Base(string(p))},
		line{text: phrase.Of("bay.jobprint.in-the-folder", filepath.Dir(string(p)))}, line{text: phrase.Of("bay.jobprint.plain-text-of-80-columns-any-printer")})}
}

// today is the day in the file's own words.
func today(t time.Time) string { return t.Format(time.DateOnly) }
