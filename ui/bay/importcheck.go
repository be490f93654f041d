package bay

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/register"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
)

// imported is what the checker made of the files a foreman wants to put in use.
type imported struct {
	procedures []*procedures.Procedure
	sheets     []*procedures.Sheet
	blocks     []*procedures.Block
	faults     procedures.Faults // nothing is put in use while there is one
	proved     []string          // one line for every file that is sound
	warnings   []string          // what does not keep it from being used
	changes    []changed
	previews   []ahead
	same       bool // all of it is in use already, word for word
}

// changed is what one of the files says otherwise than the revision in use.
type changed struct {
	title   string
	changes []procedures.Change
}

// ahead is what one of the files means for the vehicle chosen.
type ahead struct {
	title  string
	stages []procedures.Drawn
	words  []string // for a sheet: what each procedure it serves comes to
}

// readImport reads the files and proves them as pawl check does; blocks among them go before those
// that come with the program. The vehicle of the preview may be the zero one. An error is a file
// that cannot be read at all.
func readImport(f *store.File, paths []string, v register.Vehicle) (*imported, error) {
	read := map[string][]byte{}
	for i, path := range paths {
		data, err := readSmall(path)
		if err != nil {
			return nil, unread{i, err}
		}
		read[path] = data
	}
	im := &imported{}
	blocks := procedures.OwnBlocks(read)
	for _, path := range paths {
		im.load(path, read[path], blocks)
	}
	im.faults = append(im.faults, procedures.Twice(im.blocks, im.procedures, im.sheets)...)
	if len(im.faults) == 0 && len(im.procedures)+len(im.sheets) == 0 {
		im.faults = append(im.faults, procedures.Fault{File: paths[0], Text: phrase.Of("bay.importcheck.a-block-is-put-in-use-with")})
	}
	if len(im.faults) > 0 {
		return im, nil
	}
	have := stock{procedures: f.Procedures(), sheets: f.Sheets()}
	im.unserved(have)
	im.compare(have)
	im.pairs(have)
	im.served(have)
	if len(im.faults) == 0 && v.ID != "" {
		im.preview(have, v)
	}
	return im, nil
}

// unread says which of the files cannot be read at all.
type unread struct {
	at int
	error
}

// readSmall reads a plain file that is no larger than a procedure may be.
func readSmall(path string) ([]byte, error) {
	plain := func(err error) error {
		var pe *os.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return phrase.Error("bay.importcheck.cannot-be-read", path, err)
	}
	st, err := os.Stat(path)
	if err != nil {
		return nil, plain(err)
	}
	if !st.Mode().IsRegular() {
		return nil, phrase.Error("bay.importcheck.is-no-plain-file-expected-a-procedure", path)
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, plain(err)
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, procedures.MaxFile+1))
	if err != nil {
		return nil, plain(err)
	}
	return data, nil
}

// load proves one file by itself.
func (im *imported) load(path string, data []byte, blocks procedures.Lookup) {
	switch {
	case procedures.IsBlock(data):
		b, err := procedures.LoadBlock(path, data)
		if err != nil {
			im.fault(path, err)
			return
		}
		im.blocks = append(im.blocks, b)
		im.proved = append(im.proved, phrase.Of("bay.importcheck.block-proved-where-the-procedure-includes-it", b.ID, phrase.Count("count.stage", len(b.Stages))))
	case procedures.IsSheet(data):
		s, err := procedures.LoadSheet(path, data)
		if err == nil {
			err = s.Check()
		}
		if err != nil {
			im.fault(path, err)
			return
		}
		im.sheets = append(im.sheets, s)
		im.proved = append(im.proved, phrase.Of("bay.importcheck.sheet-revision-of-fasteners-each-with-its", s.ID, s.Revision, phrase.Count("count.window", len(s.Windows)), phrase.Count("count.group", len(s.Groups)), phrase.Count("count.count", len(s.Counts)), phrase.Count("count.part", len(s.Parts))))
	default:
		p, err := procedures.LoadProcedureWith(path, data, blocks)
		var proved procedures.Report
		if err == nil {
			proved, err = p.Check()
		}
		if err != nil {
			im.fault(path, err)
			return
		}
		im.procedures = append(im.procedures, p)
		im.proved = append(im.proved, proved.String())
	}
}

// fault keeps an error of the checker, each fault by itself.
func (im *imported) fault(path string, err error) {
	var fs procedures.Faults
	if errors.As(err, &fs) {
		im.faults = append(im.faults, fs...)
		return
	}
	im.faults = append(im.faults, procedures.Fault{File: path, Text: err.Error()})
}

// compare holds each against the revision in use. Other contents under the same revision are a
// fault: a record could not say which of the two it was made by.
func (im *imported) compare(have stock) {
	all := true
	one := func(what, id, revision, was, digest, now string, diff func() []procedures.Change) {
		switch {
		case was == "":
			all = false
			im.changes = append(im.changes, changed{title: phrase.Of("bay.importcheck.new-here-revision", what, id, revision)})
		case digest == now:
			im.changes = append(im.changes, changed{title: phrase.Of("bay.importcheck.revision-is-in-use-already-word-for", what, id, revision)})
		case was == revision:
			all = false
			im.faults = append(im.faults, procedures.Fault{File: id, Text: phrase.Of("bay.importcheck.revision-is-in-use-already-with-other", revision)})
		default:
			all = false
			im.changes = append(im.changes, changed{phrase.Of("bay.importcheck.revision-in-use-becomes", what, id, was, revision), diff()})
		}
	}
	for _, p := range im.procedures {
		old, was, now := have.procedure(p.ID), "", ""
		if old != nil {
			was, now = old.Revision, digestOf(old)
		}
		one(phrase.Of("bay.importcheck.procedure"), p.ID, p.Revision, was, digestOf(p), now, func() []procedures.Change { return procedures.DiffProcedures(old, p) })
	}
	for _, s := range im.sheets {
		old, was, now := have.sheet(s.ID), "", ""
		if old != nil {
			was, now = old.Revision, digestOf(old)
		}
		one(phrase.Of("bay.importcheck.sheet"), s.ID, s.Revision, was, digestOf(s), now, func() []procedures.Change { return sheetChanges(old, s) })
	}
	im.same = all
}

// windowKey is what a window is called in a sheet and in the changes of one.
const windowKey = "window"

// sheetChanges is what a sheet says otherwise than the one before it, its windows by their titles:
// an id alone tells little to whoever has the sheet on paper.
func sheetChanges(old, next *procedures.Sheet) []procedures.Change {
	out := procedures.DiffSheets(old, next)
	for i := range out {
		for _, w := range append(slices.Clone(next.Windows), old.Windows...) {
			if rest, ok := strings.CutPrefix(out[i].Where, windowKey+" "+strconv.Quote(w.ID)); ok && w.Title != "" {
				out[i].Where = fmt.Sprintf("%s (%s)%s", w.Title, w.ID, rest)
				break
			}
		}
	}
	return out
}

func digestOf(x interface {
	Pin() ([]byte, string, error)
}) string {
	_, digest, err := x.Pin()
	if err != nil {
		return ""
	}
	return digest
}

// unserved warns of a procedure that no sheet serves, and of a sheet that serves none, once the files
// are in use: no job could be opened.
func (im *imported) unserved(have stock) {
	ss, ps := append(slices.Clone(im.sheets), have.sheets...), append(slices.Clone(im.procedures), have.procedures...)
	for _, p := range im.procedures {
		if !slices.ContainsFunc(ss, func(s *procedures.Sheet) bool { return s.ServesProcedure(p.ID) }) {
			im.warnings = append(im.warnings, phrase.Of("bay.importcheck.no-spec-sheet-serves-procedure", p.ID))
		}
	}
	for _, s := range im.sheets {
		for _, id := range s.Serves {
			if !slices.ContainsFunc(ps, func(p *procedures.Procedure) bool { return p.ID == id }) {
				im.warnings = append(im.warnings, phrase.Of("bay.importcheck.sheet-serves-which-is-not-in-use", s.ID, id))
			}
		}
	}
}

// pairs holds every sheet against every procedure it serves, once the files are in use. What does not
// fit is a fault where both come in now, and a warning where one of them is in use already.
func (im *imported) pairs(have stock) {
	ps := slices.Clone(im.procedures)
	for _, p := range have.procedures {
		if !slices.ContainsFunc(ps, func(x *procedures.Procedure) bool { return x.ID == p.ID }) {
			ps = append(ps, p)
		}
	}
	ss := slices.Clone(im.sheets)
	for _, s := range have.sheets {
		if !slices.ContainsFunc(ss, func(x *procedures.Sheet) bool { return x.ID == s.ID }) {
			ss = append(ss, s)
		}
	}
	for i, p := range ps {
		for k, s := range ss {
			newP, newS := i < len(im.procedures), k < len(im.sheets)
			if !s.ServesProcedure(p.ID) || !newP && !newS {
				continue
			}
			if err := procedures.CheckPair(p, s); err != nil {
				if newP && newS {
					im.fault(s.ID, err)
				} else {
					im.warnings = append(im.warnings, phrase.Of("bay.importcheck.no-job-of-can-be-opened-with", p.ID, s.ID, firstFault(err)))
				}
				continue
			}
			im.proved = append(im.proved, phrase.Of("bay.importcheck.serves-every-trait-window-group-count-and", s.ID, p.ID))
			doubts, err := procedures.Doubts(p, s)
			if err != nil {
				im.fault(s.ID, err)
			}
			for _, d := range doubts {
				if text := d.String(); !slices.Contains(im.warnings, text) {
					im.warnings = append(im.warnings, text)
				}
			}
		}
	}
}

// served warns of procedures the new sheets list that are nowhere: mostly a slip in the id.
func (im *imported) served(have stock) {
	if len(im.sheets) == 0 {
		return
	}
	shipped, err := procedures.Library()
	if err != nil {
		im.fault(im.sheets[0].ID, err)
		return
	}
	var known []string
	for _, p := range slices.Concat(im.procedures, have.procedures, shipped) {
		known = append(known, p.ID)
	}
	for _, s := range im.sheets {
		for _, f := range s.UnknownServed(known) {
			im.warnings = append(im.warnings, f.String())
		}
	}
}

// firstFault is the first of an error's faults in words, with how many more there are.
func firstFault(err error) string {
	var fs procedures.Faults
	if !errors.As(err, &fs) || len(fs) == 0 {
		return err.Error()
	}
	if len(fs) == 1 {
		return fs[0].Text
	}
	return phrase.Of("bay.importcheck.and-more", fs[0].Text, len(fs)-1)
}

// preview works out what the files mean for one vehicle.
func (im *imported) preview(have stock, v register.Vehicle) {
	sheet := have.sheet(v.Sheet)
	for _, s := range im.sheets {
		if s.ID == v.Sheet {
			sheet = s
		}
	}
	if sheet == nil {
		im.warnings = append(im.warnings, phrase.Of("bay.importcheck.no-preview-the-spec-sheet-of-vehicle", v.Sheet, v.ID))
		return
	}
	for _, p := range im.procedures {
		known := map[string]string{}
		for _, t := range p.Traits {
			if value, _ := sheetTrait(v, sheet, t.ID); value != "" {
				known[t.ID] = value
			}
		}
		drawn, err := procedures.Draw(p, known)
		if err != nil {
			im.warnings = append(im.warnings, phrase.Of("bay.importcheck.no-preview-for-vehicle", v.ID, firstFault(err)))
			continue
		}
		im.previews = append(im.previews, ahead{title: phrase.Of("bay.importcheck.on-vehicle", p.ID, v.ID, phrase.Count("count.stage", len(drawn))), stages: drawn})
	}
	for _, s := range im.sheets {
		if s.ID != v.Sheet {
			continue
		}
		a := ahead{title: phrase.Of("bay.importcheck.for-vehicle", s.ID, v.ID)}
		for _, p := range have.procedures {
			if !s.ServesProcedure(p.ID) {
				continue
			}
			plan, err := procedures.Resolve(p, s, v.Traits)
			if err != nil {
				continue // CheckPair has said why
			}
			a.words = append(a.words, fmt.Sprintf("%s: %s", p.ID, phrase.Count("count.stage", len(plan.Nodes))))
		}
		im.previews = append(im.previews, a)
	}
}

// install puts everything in use, in the name of the foreman whose code was given.
func (im *imported) install(f *store.File, who store.Actor) (any, error) {
	if err := f.InstallAll(who.Person, im.procedures, im.sheets); err != nil {
		return nil, err
	}
	return phrase.Of("bay.importcheck.in-use", im.names()), nil
}
