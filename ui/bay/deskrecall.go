package bay

import (
	"context"
	"fmt"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// recallList lists the recalls, the newest first. None ever goes away.
type recallList struct {
	list   []questions.Recall
	stock  stock
	loaded bool
	at     int
	goOn   func(e *Env, v any) Action
}

// newRecallList shows the recalls.
func newRecallList() Screen { return &recallList{} }

// Head says what this is.
func (s *recallList) Head(*Env) string { return phrase.Of("bay.deskrecall.desk-recalls") }

// Focus is nowhere.
func (s *recallList) Focus() Focus { return FocusNone }

// Keys open one and a new one.
func (s *recallList) Keys(e *Env) []Binding {
	off := ""
	if len(s.list) == 0 {
		off = phrase.Of("bay.deskrecall.no-recall-was-ever-opened")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.deskrecall.open"), Off: off, Bar: true}, {Key: "N", Word: phrase.Of("bay.deskrecall.new-recall"), Off: mayDo(e, procedures.Foreman, phrase.Of("bay.deskrecall.opens-a-recall")), Bar: true},
		{Key: "Up Down", Word: phrase.Of("bay.deskrecall.move"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.deskrecall.back"), Bar: true}}
}

// recallsRead is what the list reads.
type recallsRead struct {
	list  []questions.Recall
	stock stock
}

// Update moves and opens.
func (s *recallList) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		return Call{Name: "recalls", Doing: phrase.Of("bay.deskrecall.reading"), Do: readRecalls}
	case Result:
		v, ok := in.Value.(recallsRead)
		if in.Err != nil || !ok {
			return Say{Text: phrase.Of("bay.deskrecall.the-recalls-cannot-be-read", in.Err), Role: draw.Bad}
		}
		s.list, s.stock, s.loaded = v.list, v.stock, true
		s.at = max(min(s.at, len(s.list)-1), 0)
		return nil
	case Answer:
		if in.Err != nil {
			return Say{Text: sentence(in.Err.Error()), Role: draw.Bad}
		}
		if v, ok := in.Value.(vouched); ok {
			if r, ok := v.Value.(*questions.Recall); ok && r != nil {
				return Push{newRecallPage(r.Number)}
			}
			return nil
		}
		return s.goOn(e, in.Value)
	case Key:
		if to, ok := moveIn(in, s.at, len(s.list), 10); ok {
			s.at = to
			return nil
		}
		switch {
		case in.Sym == Esc:
			return Pop{}
		case in.Sym == Enter && s.at < len(s.list):
			return Push{newRecallPage(s.list[s.at].Number)}
		case in.Letter() == 'N':
			return s.begin()
		}
	}
	return ignore(in)
}

func readRecalls(f *store.File) (any, error) {
	all, err := f.Recalls()
	if err != nil {
		return nil, err
	}
	var newest []questions.Recall
	for i := range all {
		newest = append(newest, all[len(all)-1-i])
	}
	st, err := readStock(f)
	if err != nil {
		return nil, err
	}
	return recallsRead{newest, st.(stock)}, nil
}

// begin asks what was found wrong.
func (s *recallList) begin() Action {
	s.goOn = func(e *Env, v any) Action {
		switch v.(int) {
		case 0:
			return Push{newCertificatePage(e)}
		case 1:
			return s.batch()
		}
		return s.sheet()
	}
	return Ask{Name: thenName, Dialog: newChooser(phrase.Of("bay.deskrecall.what-was-found-wrong"), nil, []option{
		{text: phrase.Of("bay.deskrecall.an-instrument-was-found-off-enter-its"), note: phrase.Of("bay.deskrecall.everything-it-did-since-the-certificate-before")},
		{text: phrase.Of("bay.deskrecall.a-part-batch"), note: phrase.Of("bay.deskrecall.the-vehicles-that-still-have-parts-of")},
		{text: phrase.Of("bay.deskrecall.a-revision-of-a-spec-sheet"), note: phrase.Of("bay.deskrecall.what-was-recorded-under-it-is-judged")}})}
}

// batch asks for a batch.
func (s *recallList) batch() Action {
	s.goOn = func(e *Env, v any) Action {
		f := v.([]string)
		about := []line{{text: phrase.Of("bay.deskrecall.batch-every-vehicle-that-still-has-a", f[0], f[1])}}
		return Ask{Name: vouchName, Dialog: newCode(phrase.Of("bay.deskrecall.open-the-recall"), about, e.Person, func(file *store.File, who store.Actor) (any, error) {
			return file.RecallBatch(context.Background(), who.Person, strings.TrimSpace(f[0]), strings.TrimSpace(f[1]))
		})}
	}
	return Ask{Name: thenName, Dialog: newForm(phrase.Of("bay.deskrecall.recall-of-a-part-batch"), nil, []formField{{label: phrase.Of("bay.deskrecall.batch"), hint: phrase.Of("bay.deskrecall.as-it-was-entered-when-the-parts")}, {label: phrase.Of("bay.deskrecall.part-number"), optional: true, hint: phrase.Of("bay.deskrecall.empty-every-part-of-that-batch")}})}
}

// sheet asks for a revision of a sheet.
func (s *recallList) sheet() Action {
	s.goOn = func(e *Env, v any) Action {
		f := v.([]string)
		about := []line{{text: phrase.Of("bay.deskrecall.revision-of-what-was-recorded-under-it", f[1], f[0])}}
		return Ask{Name: vouchName, Dialog: newCode(phrase.Of("bay.deskrecall.open-the-recall"), about, e.Person, func(file *store.File, who store.Actor) (any, error) {
			return file.RecallSheet(context.Background(), who.Person, strings.TrimSpace(f[0]), strings.TrimSpace(f[1]))
		})}
	}
	return Ask{Name: thenName, Dialog: newForm(phrase.Of("bay.deskrecall.recall-of-a-revision-of-a-spec"), []line{{text: phrase.Of("bay.deskrecall.the-right-revision-has-to-be-in")}},
		[]formField{{label: phrase.Of("bay.deskrecall.sheet"), hint: phrase.Of("bay.deskrecall.one-of", someOf(sheetIDs(s.stock.sheets)))}, {label: phrase.Of("bay.deskrecall.revision-that-was-wrong"), hint: phrase.Of("bay.deskrecall.as-it-stands-on-the-prints")}})}
}

// leftWords says how far a recall is worked off.
func leftWords(r questions.Recall) string {
	switch {
	case len(r.Lines) == 0:
		return phrase.Of("bay.deskrecall.no-vehicle-to-call")
	case r.Left() == 0:
		return phrase.Of("bay.deskrecall.all-dealt-with", phrase.Count("count.vehicle", len(r.Lines)))
	}
	return phrase.Of("bay.deskrecall.of-left", r.Left(), phrase.Count("count.vehicle", len(r.Lines)))
}

// View shows the list.
func (s *recallList) View(e *Env, w, h int) string {
	if !s.loaded {
		return ""
	}
	t := e.Theme
	tb := draw.Table{Selected: s.at, Empty: phrase.Of("bay.deskrecall.no-recall-was-ever-opened-in-this"),
		Headings: []draw.Heading{{Title: phrase.Of("bay.deskrecall.nr"), Right: true}, {Title: phrase.Of("bay.deskrecall.opened")}, {Title: phrase.Of("bay.deskrecall.what")}, {Title: phrase.Of("bay.deskrecall.found-wrong")}, {Title: phrase.Of("bay.deskrecall.vehicles")}}}
	for _, r := range s.list {
		tb.Rows = append(tb.Rows, cells(fmt.Sprint(r.Number), r.Opened.Format("2006-01-02"), phrase.Word(r.Kind), r.Title, leftWords(r)))
	}
	title := t.Style(draw.Title, phrase.Count("count.recall", len(s.list)))
	if len(s.list) == 0 {
		return indent([]string{t.Style(draw.Title, phrase.Of("bay.deskrecall.recalls-none")), "", tb.Draw(t, w-2, h-2)})
	}
	about := drawLines(t, judgedLines(s.list[s.at]), w-2)
	out := append([]string{title, ""}, strings.Split(tb.Draw(t, w-2, max(h-3-len(about), 4)), "\n")...)
	return indent(append(append(out, ruleLine(t, w-2)), about...))
}

// judgedLines say what a recall went through.
func judgedLines(r questions.Recall) []line {
	j := r.Judged
	return []line{{role: draw.Title, text: phrase.Of("bay.deskrecall.recall", r.Number, r.Title)},
		{text: phrase.Of("bay.deskrecall.opened-by-searched-judged-again-still-right", when(r.Opened), r.By.Name, phrase.Count("count.job", j.Jobs), phrase.Count("count.record", j.Records), j.Inside, j.Healed, j.Unjudged)}}
}
