package bay

import (
	"fmt"
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/procedures"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// recallPage is one recall: the vehicles to call, worked off one by one.
type recallPage struct {
	number uint64
	r      *questions.Recall
	at     int
	goOn   func(e *Env, v any) Action
}

func newRecallPage(number uint64) Screen { return &recallPage{number: number} }

// Head says which.
func (s *recallPage) Head(*Env) string { return phrase.Of("bay.deskrecallpage.desk-recall", s.number) }

// Focus is nowhere.
func (s *recallPage) Focus() Focus { return FocusNone }

func (s *recallPage) line() (questions.RecallLine, bool) {
	if s.r == nil || s.at >= len(s.r.Lines) {
		return questions.RecallLine{}, false
	}
	return s.r.Lines[s.at], true
}

// Keys work off and look into it.
func (s *recallPage) Keys(e *Env) []Binding {
	l, ok := s.line()
	work, one, again := mayDo(e, procedures.Mechanic, phrase.Of("bay.deskrecallpage.works-recalls-off")), "", ""
	switch {
	case !ok:
		one = phrase.Of("bay.deskrecallpage.no-vehicle-is-on-this-recall")
		work = one
	case work == "" && l.Ended() != "":
		work = phrase.Of("bay.deskrecallpage.vehicle-is-done-with", l.Vehicle.ID, l.Ended())
	}
	if s.r == nil || s.r.Kind != questions.RecallWrench {
		again = phrase.Of("bay.deskrecallpage.only-what-a-wrench-did-is-listed")
	}
	return []Binding{{Key: "Enter", Word: phrase.Of("bay.deskrecallpage.work-off"), Off: work, Bar: true}, {Key: "V", Word: phrase.Of("bay.deskrecallpage.why-and-what-was-done"), Off: one, Bar: true}, {Key: "J", Word: phrase.Of("bay.deskrecallpage.judged-again"), Off: again, Bar: true},
		{Key: "Y", Word: phrase.Of("bay.deskrecallpage.vehicle-4"), Off: one, Bar: true}, {Key: "Up Down", Word: phrase.Of("bay.deskrecallpage.move"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.deskrecallpage.back"), Bar: true}}
}

// Update moves and acts.
func (s *recallPage) Update(e *Env, in Input) Action {
	switch in := in.(type) {
	case Shown:
		n := s.number
		return Call{Name: "recall", Doing: phrase.Of("bay.deskrecallpage.reading"), Do: func(f *store.File) (any, error) { return readRecall(f, n) }}
	case Result:
		switch v := in.Value.(type) {
		case questions.Recall:
			if in.Err == nil {
				s.r, s.at = &v, max(min(s.at, len(v.Lines)-1), 0)
				return nil
			}
		case questions.Answer:
			if in.Err == nil {
				return Push{newAnswerFrom(v, "fastener")}
			}
		}
		return Say{Text: phrase.Of("bay.deskrecallpage.the-recall-cannot-be-read", in.Err), Role: draw.Bad}
	case Answer:
		switch v := in.Value.(type) {
		case vouched:
			if in.Err != nil {
				return Say{Text: sentence(in.Err.Error()), Role: draw.Bad}
			}
			r := v.Value.(questions.Recall)
			s.r = &r
			return Say{Text: phrase.Of("bay.deskrecallpage.written-down", sentence(leftWords(r))), Role: draw.Good}
		default:
			if in.Err == nil && s.goOn != nil {
				return s.goOn(e, v)
			}
		}
		return nil
	case Key:
		return s.key(in)
	}
	return ignore(in)
}

func readRecall(f *store.File, number uint64) (any, error) {
	all, err := f.Recalls()
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(all, func(r questions.Recall) bool { return r.Number == number })
	if i < 0 {
		return nil, phrase.Error("bay.deskrecallpage.there-is-no-recall", number)
	}
	return all[i], nil
}

func (s *recallPage) key(k Key) Action {
	if s.r == nil {
		return Unknown{}
	}
	if to, ok := moveIn(k, s.at, len(s.r.Lines), 10); ok {
		s.at = to
		return nil
	}
	l, ok := s.line()
	switch {
	case k.Sym == Esc:
		return Pop{}
	case k.Letter() == 'J':
		args := map[string]string{"wrench": s.r.About["instrument"]}
		if first := s.first(); first != "" {
			args["from"] = first
		}
		return askCall("wrench-actions", args)
	case !ok:
		return Unknown{}
	case k.Sym == Enter:
		return s.workOff(l)
	case k.Letter() == 'V':
		return Ask{Name: "why", Dialog: newPane(phrase.Of("bay.deskrecallpage.vehicle", l.Vehicle.ID, l.Vehicle.Name), recallLines(l)...)}
	case k.Letter() == 'Y':
		return Push{newHistory(l.Vehicle.ID)}
	}
	return Unknown{}
}

// first is a day before which nothing of this recall lies: far enough back for any certificate.
func (s *recallPage) first() string { return s.r.Opened.AddDate(-4, 0, 0).Format("2006-01-02") }

// workOff asks what was done for a vehicle, in which words, and for the code.
func (s *recallPage) workOff(l questions.RecallLine) Action {
	acts := questions.RecallActs()
	var opts []option
	for _, a := range acts {
		o := option{text: sentence(phrase.Word(a))}
		if a == questions.RecallPutRight || a == questions.RecallSound || a == questions.RecallGone {
			o.note = phrase.Of("bay.deskrecallpage.ends-the-line-the-words-say-how")
		}
		opts = append(opts, o)
	}
	s.goOn = func(_ *Env, v any) Action {
		act := acts[v.(int)]
		s.goOn = func(e *Env, v any) Action { return s.sign(e, l, act, v.(string)) }
		return Ask{Name: thenName, Dialog: newWords(phrase.Of("bay.deskrecallpage.vehicle-2", sentence(phrase.Word(act)), l.Vehicle.ID), []line{{text: phrase.Of("bay.deskrecallpage.what-came-of-it-it-stays-on")}}, phrase.Of("bay.deskrecallpage.say-in-a-few-words-what-came"))}
	}
	return Ask{Name: thenName, Dialog: newChooser(phrase.Of("bay.deskrecallpage.what-was-done-for-vehicle", l.Vehicle.ID), nil, opts)}
}

func (s *recallPage) sign(e *Env, l questions.RecallLine, act, words string) Action {
	n := s.number
	about := []line{{text: phrase.Of("bay.deskrecallpage.vehicle-3", l.Vehicle.ID, l.Vehicle.Name, phrase.Word(act), sentence(words))}}
	return Ask{Name: vouchName, Dialog: newCode(phrase.Of("bay.deskrecallpage.recall", n), about, e.Person, func(f *store.File, who store.Actor) (any, error) {
		if err := f.WorkOff(who.Person, n, l.Vehicle.ID, act, words); err != nil {
			return nil, err
		}
		return readRecall(f, n)
	})}
}

// recallLines say why a vehicle is called and what was done for it.
func recallLines(l questions.RecallLine) []line {
	var out []line
	for _, a := range l.Acts {
		out = append(out, line{head: when(a.At), text: fmt.Sprintf("%s, %s: %s", a.By.Name, phrase.Word(a.Act), a.Words), indent: 18})
	}
	if len(l.Acts) == 0 {
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.deskrecallpage.nothing-was-done-for-it-yet")})
	}
	for _, w := range l.Why {
		out = append(out, line{text: "- " + sentence(w), indent: 2})
	}
	return out
}

// View shows the vehicles and the marked one in full.
func (s *recallPage) View(e *Env, w, h int) string {
	if s.r == nil {
		return ""
	}
	t := e.Theme
	out := drawLines(t, judgedLines(*s.r), w-2)
	role := draw.Warn
	if s.r.Left() == 0 {
		role = draw.Good
	}
	out = append(out, t.Style(role, sentence(leftWords(*s.r))), "")
	l, ok := s.line()
	if !ok {
		return indent(append(out, t.Style(draw.Text, phrase.Of("bay.deskrecallpage.none-of-what-was-judged-again-calls"))))
	}
	tb := draw.Table{Selected: s.at, Headings: []draw.Heading{{Title: phrase.Of("bay.deskrecallpage.vehicle-4")}, {Title: phrase.Of("bay.deskrecallpage.name")}, {Title: phrase.Of("bay.deskrecallpage.where-it-stands")}, {Title: phrase.Of("bay.deskrecallpage.records"), Right: true}, {Title: phrase.Of("bay.deskrecallpage.jobs")}}}
	for _, x := range s.r.Lines {
		var jobs []string
		for _, n := range x.Jobs {
			jobs = append(jobs, fmt.Sprint(n))
		}
		state := x.State()
		if x.Ended() == "" {
			state = strings.ToUpper(state)
		}
		tb.Rows = append(tb.Rows, cells(x.Vehicle.ID, x.Vehicle.Name, state, fmt.Sprint(len(x.Why)), strings.Join(jobs, ", ")))
	}
	about := drawLines(t, recallLines(l), w-2)
	rows := min(len(tb.Rows)+1, max((h-len(out))/2, 4))
	out = append(out, strings.Split(tb.Draw(t, w-2, rows), "\n")...)
	out = append(out, ruleLine(t, w-2))
	if room := h - len(out); len(about) > room && room > 0 {
		about = append(about[:room-1:room-1], t.Style(draw.Faint, phrase.Of("bay.deskrecallpage.more-lines-v", t.Glyphs.Cut, len(about)-room+1)))
	}
	return indent(append(out, about...))
}
