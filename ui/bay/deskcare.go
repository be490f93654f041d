package bay

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// care is where the record is verified, copied, and a restore rehearsed; what came of it stands
// below.
type care struct {
	at   int
	said []line
	pane scrollPane
}

// newCare shows what can be done for the record.
func newCare() Screen {
	return &care{said: []line{{role: draw.Faint, text: phrase.Of("bay.deskcare.nothing-was-done-here-yet")}}}
}

// Head says what this is.
func (s *care) Head(*Env) string { return phrase.Of("bay.deskcare.desk-care-of-the-record") }

// Focus is nowhere: digits choose.
func (s *care) Focus() Focus { return FocusNone }

var careRows = []struct{ title, about string }{
	{phrase.Of("bay.deskcare.verify-everything"), phrase.Of("bay.deskcare.every-digest-every-seal-every-table")},
	{phrase.Of("bay.deskcare.check-a-printed-seal"), phrase.Of("bay.deskcare.a-page-against-this-file")},
	{phrase.Of("bay.deskcare.show-the-checkpoint"), phrase.Of("bay.deskcare.three-lines-to-keep-elsewhere")},
	{phrase.Of("bay.deskcare.back-up-now"), phrase.Of("bay.deskcare.a-copy-opened-and-checked")},
	{phrase.Of("bay.deskcare.look-into-the-backups"), phrase.Of("bay.deskcare.every-copy-the-damaged-ones-named")},
	{phrase.Of("bay.deskcare.rehearse-a-restore"), phrase.Of("bay.deskcare.the-newest-copy-opened-and-counted")},
}

// Keys choose.
func (s *care) Keys(*Env) []Binding {
	return []Binding{{Key: "1 2 3 4 5 6", Word: phrase.Of("bay.deskcare.do-it"), Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.deskcare.mark"), Bar: true}, {Key: "Enter", Word: phrase.Of("bay.deskcare.do-the-marked-one"), Bar: true},
		{Key: "PageUp PageDown", Word: phrase.Of("bay.deskcare.scroll-what-came-of-it")}, {Key: "Esc", Word: phrase.Of("bay.deskcare.back"), Bar: true}}
}

// Update does what was chosen.
func (s *care) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Result:
		s.pane = scrollPane{}
		s.said = careWords(e, in)
		return nil
	case Answer:
		if text, ok := in.Value.(string); ok && in.Name == "seal" {
			return Call{Name: "seal", Doing: phrase.Of("bay.deskcare.recomputing-the-digests"), Do: func(f *store.File) (any, error) { return f.VerifyPaper(text) }}
		}
		return nil
	case Key:
		switch {
		case in.Sym == Esc:
			return Pop{}
		case in.Sym == Up:
			s.at = max(s.at-1, 0)
			return nil
		case in.Sym == Down:
			s.at = min(s.at+1, len(careRows)-1)
			return nil
		case in.Sym == PageUp || in.Sym == PageDown:
			return s.pane.key(in)
		case in.Sym == Enter && !in.Again:
			return s.do(e, s.at)
		case in.Digit() > 0 && in.Digit() <= len(careRows) && !in.Again:
			s.at = in.Digit() - 1
			return s.do(e, s.at)
		}
	}
	return ignore(in)
}

// do begins one of the rows.
func (s *care) do(e *Env, row int) Action {
	dir, off := e.Workshop.Backup, mayDo(e, procedures.Mechanic, phrase.Of("bay.deskcare.makes-a-backup"))
	if row >= 4 && dir == "" {
		return Say{Text: phrase.Of("bay.deskcare.no-backup-folder-is-set-the-foreman"), Role: draw.Warn}
	}
	switch row {
	case 0:
		return Call{Name: "verify", Doing: phrase.Of("bay.deskcare.recomputing-every-digest"), Do: func(f *store.File) (any, error) { return f.VerifyAll(context.Background()) }}
	case 1:
		return Ask{Name: "seal", Dialog: newWords(phrase.Of("bay.deskcare.check-a-printed-seal"), []line{{text: phrase.Of("bay.deskcare.the-seal-stands-at-the-foot-of")}}, phrase.Of("bay.deskcare.type-the-seal-or-scan-it-esc"))}
	case 2:
		return Call{Name: "checkpoint", Doing: phrase.Of("bay.deskcare.reading"), Do: func(f *store.File) (any, error) { return f.Checkpoint() }}
	case 3:
		if off != "" {
			return Say{Text: off, Role: draw.Warn}
		}
		return Call{Name: "backup", Doing: phrase.Of("bay.deskcare.copying-and-checking-the-copy"), Do: func(f *store.File) (any, error) { return f.Backup(context.Background()) }}
	case 4:
		return Call{Name: "backups", Doing: phrase.Of("bay.deskcare.opening-every-backup"), Do: func(*store.File) (any, error) { return store.Backups(context.Background(), dir) }}
	}
	return Call{Name: "rehearse", Doing: phrase.Of("bay.deskcare.restoring-into-a-scratch-file"), Do: func(*store.File) (any, error) { return rehearseNewest(dir) }}
}

// rehearsed is a rehearsal with the backup it was of.
type rehearsed struct {
	path string
	held store.Rehearsal
}

func rehearseNewest(dir string) (any, error) {
	all, err := store.Backups(context.Background(), dir)
	if err != nil {
		return nil, err
	}
	for _, b := range all {
		if b.Err == nil {
			held, err := store.Rehearse(context.Background(), b.Path)
			return rehearsed{b.Path, held}, err
		}
	}
	if len(all) > 0 {
		return nil, phrase.Error("bay.deskcare.none-of-the-backups-in-is-good", len(all), dir)
	}
	return nil, errors.New(phrase.Of("bay.deskcare.there-is-no-backup-in-yet-make", dir))
}

// careWords says in words what came of it.
func careWords(e *Env, r Result) []line {
	at := line{role: draw.Faint, text: phrase.Of("bay.deskcare.at", when(e.Now))}
	if r.Err != nil {
		return []line{at, {role: draw.Bad, text: " " + phrase.Of("bay.deskcare.not-done", strings.ToUpper(phrase.Word(r.Name)))}, {text: sentence(r.Err.Error())}}
	}
	switch v := r.Value.(type) {
	case store.Verified:
		return append([]line{at}, verifiedLines(v)...)
	case store.Sealed:
		return []line{at, {role: draw.Good, text: phrase.Of("bay.deskcare.the-seal-is-of-job-its-first", v.Job, v.Events, when(v.At), v.Ended)},
			{text: phrase.Of("bay.deskcare.they-are-what-was-sealed-the-seal", v.Place)}}
	case store.Checkpoint:
		out := []line{at, {text: phrase.Of("bay.deskcare.copy-these-three-lines-to-paper-a")}}
		for l := range strings.Lines(v.String()) {
			out = append(out, line{role: draw.Title, text: strings.TrimRight(l, "\n")})
		}
		return append(out, line{text: phrase.Of("bay.deskcare.pawl-verify-against-proves-with-them-later")})
	case string:
		return []line{at, {role: draw.Good, text: phrase.Of("bay.deskcare.copied-opened-and-checked")}, {text: v}}
	case rehearsed:
		return append([]line{at, {role: draw.Good, text: phrase.Of("bay.deskcare.the-restore-works-was-restored-opened-and", filepath.Base(v.path))}}, heldLines(v.held)...)
	case []store.BackupFile:
		return append([]line{at}, backupLines(v)...)
	}
	return []line{at}
}

func verifiedLines(v store.Verified) []line {
	counts := phrase.Of("bay.deskcare.and-were-read-and-recomputed", phrase.Count("count.job", v.Jobs), phrase.Count("count.event", v.Events), phrase.Count("count.seal", v.Seals))
	if v.Whole() {
		return []line{{role: draw.Good, text: phrase.Of("bay.deskcare.everything-fits-none-changed-none-missing")}, {text: counts},
			{role: draw.Faint, text: phrase.Of("bay.deskcare.it-shows-rot-slips-and-clumsy-edits")}}
	}
	out := []line{{role: draw.Bad, text: phrase.Of("bay.deskcare.not-whole", phrase.Count("count.fault", len(v.Faults)))}, {text: counts}}
	for _, x := range v.Faults {
		out = append(out, line{text: "- " + sentence(x.Err.Error()), indent: 2})
	}
	return out
}

func heldLines(r store.Rehearsal) []line {
	out := []line{{text: phrase.Of("bay.deskcare.it-holds-with-and-people-and", phrase.Count("count.job", r.Jobs), phrase.Count("count.event", r.Events), phrase.Count("count.seal", r.Seals), r.People, phrase.Count("count.instrument", r.Instruments), phrase.Count("count.vehicle", r.Vehicles))}}
	if !r.Newest.IsZero() {
		out = append(out, line{text: phrase.Of("bay.deskcare.its-newest-event-is-of", when(r.Newest))})
	}
	return out
}

func backupLines(all []store.BackupFile) []line {
	if len(all) == 0 {
		return []line{{role: draw.Warn, text: phrase.Of("bay.deskcare.there-is-no-backup-in-the-folder")}}
	}
	var out []line
	for _, b := range all {
		if b.Err != nil {
			out = append(out, line{role: draw.Bad, text: phrase.Of("bay.deskcare.no-good", filepath.Base(b.Path)) + " "}, line{text: "  " + sentence(b.Err.Error()), indent: 2})
			continue
		}
		out = append(out, line{role: draw.Good, text: phrase.Of("bay.deskcare.good", filepath.Base(b.Path))}, line{text: phrase.Of("bay.deskcare.newest-event", phrase.Count("count.job", b.Held.Jobs), phrase.Count("count.seal", b.Held.Seals), when(b.Held.Newest)), indent: 2})
	}
	return out
}

// View shows the rows and what came of the last one.
func (s *care) View(e *Env, w, h int) string {
	t := e.Theme
	var out []string
	for i, r := range careRows {
		mark, role, title := "  ", draw.Title, draw.Pad(r.title, 22)
		if i == s.at {
			mark, role = t.Glyphs.Marker+" ", draw.Selected
		}
		about := t.Truncate(r.about, max(w-32, 0))
		out = append(out, t.Style(draw.Title, fmt.Sprintf("%s%d  ", mark, i+1))+t.Style(role, " "+title)+t.Style(draw.Text, " "+about))
	}
	out = append(out, ruleLine(t, w-2))
	return indent(append(out, s.pane.window(t, drawLines(t, s.said, w-2), max(h-len(out), 1))...))
}
