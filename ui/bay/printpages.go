package bay

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
	"bay.example/pawl/ui/paper"
)

// jobInfo is what a print of a job says besides the job: the seal too.
func jobInfo(f *store.File, c *job.Card) (paper.Info, error) {
	in := printInfo(f)
	short, err := f.ShortSeal(c.Number())
	in.Seal = short
	if b := f.BackupState(); b.Err == nil && !b.At.Before(c.Last().At) {
		in.Backup = phrase.Of("bay.printpages.backed-up", when(b.At))
	}
	return in, err
}

// printFolder is where prints go when no folder is named: beside the workshop file.
func printFolder(f *store.File) string { return f.Path() + ".prints" }

// writeFiles writes one print in several forms, by their endings; dir is empty for the folder beside
// the workshop file. What is there already stays.
func writeFiles(f *store.File, dir, name string, forms map[string][]byte) (any, error) {
	if dir == "" {
		dir = printFolder(f)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, phrase.Error("bay.jobprint.no-folder-for-prints", err)
	}
	name = fmt.Sprintf("%s-%s", name, f.Now().Format("20060102-150405"))
	first := ""
	for _, end := range []string{"txt", "html", "csv", "json"} {
		data, ok := forms[end]
		if !ok {
			continue
		}
		path := filepath.Join(dir, name+"."+end)
		out, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if err == nil {
			_, err = out.Write(data)
			err = errors.Join(err, out.Close())
		}
		if err != nil {
			return nil, phrase.Error("bay.jobprint.the-print-cannot-be-written", err)
		}
		if first == "" {
			first = path
		}
	}
	return printedTo(first), nil
}

// printMenu asks which page of a job is printed, and where to.
type printMenu struct {
	card *job.Card
	page string
}

// Names of the dialogs of the print menu.
const (
	pageName   = "which-page"
	folderName = "which-folder"
)

// pages asks which.
func (p *printMenu) pages() Action {
	var opts []option
	for _, name := range append(paper.Pages(), dataPage) {
		o := option{text: sentence(paper.AboutPage(name))}
		if name == dataPage {
			o.text = phrase.Of("bay.printpages.the-data-json-of-everything-schema", paper.Schema)
		} else if _, err := paper.Page(name, p.card, paper.Info{}); err != nil {
			o.off = sentence(err.Error())
		}
		opts = append(opts, o)
	}
	return Ask{Name: pageName, Dialog: newChooser(phrase.Of("bay.printpages.print-of-job", p.card.Number()), []line{{text: phrase.Of("bay.printpages.written-as-text-for-any-printer-and")}}, opts)}
}

// dataPage is the export in the menu of prints.
const dataPage = "data"

// answer goes on with what a dialog of the menu ended with; false for a dialog of somebody else.
func (p *printMenu) answer(a Answer) (Action, bool) {
	switch a.Name {
	case pageName:
		i, _ := a.Value.(int)
		p.page = append(paper.Pages(), dataPage)[i]
		return Ask{Name: folderName, Dialog: newForm(phrase.Of("bay.printpages.where-to"), []line{{text: phrase.Of("bay.printpages.empty-into-the-folder-for-prints-beside")}},
			[]formField{{label: phrase.Of("bay.printpages.folder"), optional: true, hint: phrase.Of("bay.printpages.a-whole-path-such-as-that-of"), check: wholePath}})}, true
	case folderName:
		v, _ := a.Value.([]string)
		return p.write(strings.TrimSpace(v[0])), true
	}
	return nil, false
}

func wholePath(text string) error {
	if text != "" && !filepath.IsAbs(text) {
		return phrase.Error("bay.printpages.is-not-a-whole-path-type-it", text)
	}
	return nil
}

func (p *printMenu) write(dir string) Action {
	c, page := p.card, p.page
	return Call{Name: "print", Do: func(f *store.File) (any, error) {
		in, err := jobInfo(f, c)
		if err != nil {
			return nil, err
		}
		name := fmt.Sprintf("job-%d-%s", c.Number(), page)
		if page == dataPage {
			data, err := paper.JSON(c, in)
			if err != nil {
				return nil, err
			}
			return writeFiles(f, dir, name, map[string][]byte{"json": data})
		}
		doc, err := paper.Page(page, c, in)
		if err != nil {
			return nil, err
		}
		return writeFiles(f, dir, name, map[string][]byte{"txt": doc.Text(false), "html": doc.HTML()})
	}}
}

// result shows where the print is; false for a result of somebody else.
func (p *printMenu) result(r Result) (Action, bool) {
	if r.Name != "print" {
		return nil, false
	}
	if v, ok := r.Value.(printedTo); ok && r.Err == nil {
		return printed(v), true
	}
	return Say{Text: phrase.Of("bay.printpages.nothing-was-printed", r.Err), Role: draw.Bad}, true
}
