package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

func (s *registry) libraryKeys(e *Env) []Binding {
	read := ""
	if s.rows(e) == 0 {
		read = phrase.Of("bay.registrylibrary.nothing-is-in-use-yet-i-puts")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.registrylibrary.read"), Off: read, Bar: true},
		{Key: "O", Word: phrase.Of("bay.registryrevisions.other-revisions"), Off: read, Bar: true},
		{Key: "I", Word: phrase.Of("bay.registrylibrary.put-in-use-from-a-file"), Off: mayDo(e, procedures.Foreman, phrase.Of("bay.registrylibrary.puts-procedures-and-sheets-in-use")), Bar: true}}
}

func (s *registry) libraryKey(_ *Env, k Key) Action {
	switch {
	case k.Sym == Enter:
		p, sh := s.inUse()
		switch {
		case p != nil:
			return Ask{Name: "stages", Dialog: newPane(phrase.Of("bay.registrylibrary.revision", p.Title, p.Revision), procedureLines(p)...)}
		case sh != nil:
			return Ask{Name: "figures", Dialog: newPane(phrase.Of("bay.registrylibrary.revision", sh.Title, sh.Revision), sheetLines(sh)...)}
		}
		return nil
	case k.Letter() == 'O':
		return s.readEarlier()
	case k.Letter() == 'I':
		return Push{newImport(s.stock)}
	}
	return Unknown{}
}

// inUse is the marked procedure or spec sheet; procedures stand first.
func (s *registry) inUse() (*procedures.Procedure, *procedures.Sheet) {
	i := s.at[tabLibrary]
	if i < len(s.stock.procedures) {
		return s.stock.procedures[i], nil
	}
	if i -= len(s.stock.procedures); i < len(s.stock.sheets) {
		return nil, s.stock.sheets[i]
	}
	return nil, nil
}

func (s *registry) libraryList(_ *Env, tb draw.Table) (draw.Table, []line) {
	tb.Empty = phrase.Of("bay.registrylibrary.nothing-is-in-use-i-reads-a")
	tb.Headings = []draw.Heading{{Title: phrase.Of("bay.registrylibrary.what")}, {Title: phrase.Of("bay.registrylibrary.id")}, {Title: phrase.Of("bay.registrylibrary.revision-2")}, {Title: phrase.Of("bay.registrylibrary.of")}, {Title: phrase.Of("bay.registrylibrary.author")}}
	for _, p := range s.stock.procedures {
		tb.Rows = append(tb.Rows, cells(phrase.Of("bay.registrylibrary.procedure"), p.ID, p.Revision, p.Date, p.Author))
	}
	for _, sh := range s.stock.sheets {
		tb.Rows = append(tb.Rows, cells(phrase.Of("bay.registrylibrary.sheet"), sh.ID, sh.Revision, sh.Date, sh.Author))
	}
	p, sh := s.inUse()
	demo := line{role: draw.Warn, text: phrase.Of("bay.registrylibrary.demo-what-it-holds-is-invented-never")}
	switch {
	case p != nil:
		var by []string
		for _, x := range s.stock.sheets {
			if x.ServesProcedure(p.ID) {
				by = append(by, x.ID)
			}
		}
		served := phrase.Of("bay.registrylibrary.served-by-no-sheet-in-use-no")
		if len(by) > 0 {
			served = phrase.Of("bay.registrylibrary.served-by", strings.Join(by, ", "))
		}
		about := []line{{role: draw.Title, text: p.Title}, {text: phrase.Of("bay.registrylibrary.that-may-be-granted", phrase.Count("count.stage", len(p.Stages)), phrase.Count("count.standing-state", len(p.States)), phrase.Count("count.deviation", len(p.Deviations)))}, {text: served}}
		if p.Demo {
			about = append(about, demo)
		}
		return tb, about
	case sh != nil:
		var names []string
		for _, x := range s.stock.vehicles {
			if x.Sheet == sh.ID {
				names = append(names, x.ID)
			}
		}
		on := phrase.Of("bay.registrylibrary.no-vehicle-of-the-register-goes-by")
		if len(names) > 0 {
			on = phrase.Of("bay.registrylibrary.vehicles", strings.Join(names, ", "))
		}
		about := []line{{role: draw.Title, text: sh.Title}, {text: phrase.Of("bay.registrylibrary.of-fasteners", phrase.Count("count.window", len(sh.Windows)), phrase.Count("count.group", len(sh.Groups)), phrase.Count("count.part", len(sh.Parts)))}, {text: on}}
		if sh.Demo {
			about = append(about, demo)
		}
		return tb, about
	}
	return tb, nil
}

// madeBy says who wrote a revision and when, as far as its file does.
func madeBy(author, date string) []line {
	if author == "" && date == "" {
		return nil
	}
	return []line{{role: draw.Faint, text: strings.Trim(author+", "+date, ", ")}}
}

// procedureLines is every stage a vehicle may have, in layers, with what decides.
func procedureLines(p *procedures.Procedure) []line {
	out := madeBy(p.Author, p.Date)
	out = append(out, line{role: draw.Faint, text: phrase.Of("bay.registrylibrary.the-number-is-the-layer-stages-of")})
	if p.Notice != "" {
		out = append(out, line{role: draw.Warn, text: p.Notice})
	}
	drawn, err := procedures.Draw(p, nil)
	if err != nil {
		return append(out, line{role: draw.Bad, text: sentence(err.Error())})
	}
	for _, d := range drawn {
		out = append(out, drawnLine(d))
	}
	return out
}

// sheetLines is every figure of a sheet with its document.
func sheetLines(s *procedures.Sheet) []line {
	out := madeBy(s.Author, s.Date)
	if s.Notice != "" {
		out = append(out, line{role: draw.Warn, text: s.Notice})
	}
	from := func(id string) string {
		src, ok := s.Source(id)
		if !ok {
			return ""
		}
		return phrase.Of("bay.registrylibrary.from", src.Document, src.Revision)
	}
	for _, w := range s.Windows {
		out = append(out, line{head: "-", indent: 3, text: w.ID + ": " + w.Value + from(w.Source)})
	}
	for _, g := range s.Groups {
		text := g.ID + ": " + strings.Join(g.Ordered(), ", ")
		if g.SingleUse {
			text += phrase.Of("bay.registrylibrary.single-use")
		}
		out = append(out, line{head: "-", indent: 3, text: text + from(g.Source)})
	}
	for _, c := range s.Counts {
		out = append(out, line{head: "-", indent: 3, text: fmt.Sprintf("%s: %d%s", c.ID, c.Value, from(c.Source))})
	}
	for _, p := range s.Parts {
		out = append(out, line{head: "-", indent: 3, text: p.ID + ": " + p.Number + from(p.Source)})
	}
	return out
}
