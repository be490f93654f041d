package bay

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

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
	return &care{said: []line{{role: draw.Faint, text: "Nothing was done here yet."}}}
}

// Head says what this is.
func (s *care) Head(*Env) string { return "Desk: care of the record" }

// Focus is nowhere: digits choose.
func (s *care) Focus() Focus { return FocusNone }

var careRows = []struct{ title, about string }{
	{"Verify everything", "every digest, every seal, every table"},
	{"Check a printed seal", "a page against this file"},
	{"Show the checkpoint", "three lines to keep elsewhere"},
	{"Back up now", "a copy, opened and checked"},
	{"Look into the backups", "every copy, the damaged ones named"},
	{"Rehearse a restore", "the newest copy, opened and counted"},
}

// Keys choose.
func (s *care) Keys(*Env) []Binding {
	return []Binding{{Key: "1 2 3 4 5 6", Word: "do it", Bar: true}, {Key: "Up Down", Word: "mark", Bar: true}, {Key: "Enter", Word: "do the marked one", Bar: true},
		{Key: "PageUp PageDown", Word: "scroll what came of it"}, {Key: "Esc", Word: "back", Bar: true}}
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
			return Call{Name: "seal", Doing: "recomputing the digests", Do: func(f *store.File) (any, error) { return f.VerifyPaper(text) }}
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
	dir, off := e.Workshop.Backup, mayDo(e, procedures.Mechanic, "makes a backup")
	if row >= 4 && dir == "" {
		return Say{Text: "No backup folder is set; the foreman chooses one on another disk in the register, under workshop", Role: draw.Warn}
	}
	switch row {
	case 0:
		return Call{Name: "verify", Doing: "recomputing every digest", Do: func(f *store.File) (any, error) { return f.VerifyAll(context.Background()) }}
	case 1:
		return Ask{Name: "seal", Dialog: newWords("Check a printed seal", []line{{text: "The seal stands at the foot of every page: seven groups of four characters. Spaces and hyphens do not matter."}}, "Type the seal, or scan it; Esc goes back")}
	case 2:
		return Call{Name: "checkpoint", Doing: "reading", Do: func(f *store.File) (any, error) { return f.Checkpoint() }}
	case 3:
		if off != "" {
			return Say{Text: off, Role: draw.Warn}
		}
		return Call{Name: "backup", Doing: "copying, and checking the copy", Do: func(f *store.File) (any, error) { return f.Backup(context.Background()) }}
	case 4:
		return Call{Name: "backups", Doing: "opening every backup", Do: func(*store.File) (any, error) { return store.Backups(context.Background(), dir) }}
	}
	return Call{Name: "rehearse", Doing: "restoring into a scratch file", Do: func(*store.File) (any, error) { return rehearseNewest(dir) }}
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
		return nil, fmt.Errorf("none of the %d backups in %s is good; make one now and look at that disk", len(all), dir)
	}
	return nil, errors.New("there is no backup in " + dir + " yet; make one now")
}

// careWords says in words what came of it.
func careWords(e *Env, r Result) []line {
	at := line{role: draw.Faint, text: "At " + when(e.Now)}
	if r.Err != nil {
		return []line{at, {role: draw.Bad, text: " " + strings.ToUpper(r.Name) + ": NOT DONE "}, {text: sentence(r.Err.Error())}}
	}
	switch v := r.Value.(type) {
	case store.Verified:
		return append([]line{at}, verifiedLines(v)...)
	case store.Sealed:
		return []line{at, {role: draw.Good, text: fmt.Sprintf("The seal is of job %d: its first %d events, sealed %s, %s.", v.Job, v.Events, when(v.At), v.Ended)},
			{text: fmt.Sprintf("They are what was sealed; the seal is number %d in the log. The paper and this file belong together.", v.Place)}}
	case store.Checkpoint:
		out := []line{at, {text: "Copy these three lines to paper, a stick or another machine:"}}
		for l := range strings.Lines(v.String()) {
			out = append(out, line{role: draw.Title, text: strings.TrimRight(l, "\n")})
		}
		return append(out, line{text: "pawl verify --against proves with them later that the file only grew."})
	case string:
		return []line{at, {role: draw.Good, text: "Copied, opened and checked:"}, {text: v}}
	case rehearsed:
		return append([]line{at, {role: draw.Good, text: "The restore works: " + filepath.Base(v.path) + " was restored, opened and checked."}}, heldLines(v.held)...)
	case []store.BackupFile:
		return append([]line{at}, backupLines(v)...)
	}
	return []line{at}
}

func verifiedLines(v store.Verified) []line {
	counts := fmt.Sprintf("%s, %s and %s were read and recomputed.", plural(v.Jobs, "job"), plural(v.Events, "event"), plural(v.Seals, "seal"))
	if v.Whole() {
		return []line{{role: draw.Good, text: "Everything fits: none changed, none missing."}, {text: counts},
			{role: draw.Faint, text: "It shows rot, slips and clumsy edits. What the owner of the machine can do only a seal or a checkpoint shows that left it before."}}
	}
	out := []line{{role: draw.Bad, text: fmt.Sprintf(" NOT WHOLE: %s ", plural(len(v.Faults), "fault"))}, {text: counts}}
	for _, x := range v.Faults {
		out = append(out, line{text: "- " + sentence(x.Err.Error()), indent: 2})
	}
	return out
}

func heldLines(r store.Rehearsal) []line {
	out := []line{{text: fmt.Sprintf("It holds %s with %s and %s, %d people, %s and %s.", plural(r.Jobs, "job"), plural(r.Events, "event"), plural(r.Seals, "seal"), r.People, plural(r.Instruments, "instrument"), plural(r.Vehicles, "vehicle"))}}
	if !r.Newest.IsZero() {
		out = append(out, line{text: "Its newest event is of " + when(r.Newest) + "."})
	}
	return out
}

func backupLines(all []store.BackupFile) []line {
	if len(all) == 0 {
		return []line{{role: draw.Warn, text: " There is no backup in the folder yet. "}}
	}
	var out []line
	for _, b := range all {
		if b.Err != nil {
			out = append(out, line{role: draw.Bad, text: " NO GOOD: " + filepath.Base(b.Path) + " "}, line{text: "  " + sentence(b.Err.Error()), indent: 2})
			continue
		}
		out = append(out, line{role: draw.Good, text: "Good: " + filepath.Base(b.Path)}, line{text: fmt.Sprintf("  %s, %s, newest event %s", plural(b.Held.Jobs, "job"), plural(b.Held.Seals, "seal"), when(b.Held.Newest)), indent: 2})
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
