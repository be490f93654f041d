package bay

import (
	"fmt"
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// blockerLines is every reason with its way out.
func blockerLines(r job.Refused) []line {
	var out []line
	for i, b := range r {
		out = append(out, line{role: draw.Title, text: fmt.Sprintf("%d  %s", i+1, sentence(b.Text)), indent: 3})
		if b.WayOut != "" {
			out = append(out, line{text: phrase.Of("bay.jobpanes.way-out", b.WayOut), indent: 3})
		}
	}
	return out
}

// blocksPane shows what stands against the signature of the stage.
func (s *jobScreen) blocksPane(e *Env) *notice {
	st := s.stage()
	title := phrase.Of("bay.jobpanes.what-blocks", job.Title(st.Node))
	if r := s.card.Blockers(s.at, e.Context()); len(r) > 0 {
		return newPane(title, blockerLines(r)...)
	}
	switch st.Status {
	case job.SecondOwed:
		return newPane(title, line{role: draw.Warn, text: phrase.Of("bay.jobpanes.signed-a-second-person-has-to-look")})
	case job.Complete:
		return newPane(title, line{role: draw.Good, text: phrase.Of("bay.jobpanes.nothing-this-stage-is-complete")})
	}
	return newPane(title, line{role: draw.Good, text: phrase.Of("bay.jobpanes.nothing-s-signs-it")})
}

// whyPane is for the apprentice: the reason, what good looks like, the usual mistake, the question.
func (s *jobScreen) whyPane(own string) *notice {
	st := s.stage().Node.Stage
	var out []line
	add := func(head, text string) {
		if text != "" {
			out = append(out, line{role: draw.Title, text: head}, line{text: text}, line{})
		}
	}
	add(phrase.Of("bay.jobpanes.why"), st.Why)
	add(phrase.Of("bay.jobpanes.what-good-looks-like"), st.Good)
	add(phrase.Of("bay.jobpanes.common-mistake"), st.Mistake)
	add(phrase.Of("bay.jobpanes.in-this-workshop"), own)
	add(phrase.Of("bay.jobpanes.question-for-the-supervisor"), st.Question)
	add(phrase.Of("bay.jobpanes.if-it-fails"), st.WayOut)
	if it, ok := s.current(); ok && it.check.Help != "" {
		add(label(it), it.check.Help)
	}
	if len(st.Steps) > 0 {
		out = append(out, line{role: draw.Title, text: phrase.Of("bay.jobpanes.steps")})
	}
	for i, step := range st.Steps {
		out = append(out, line{head: fmt.Sprint(i + 1), text: step, indent: 4})
	}
	return newPane(job.Title(s.stage().Node), out...)
}

// openPane is the list of what was opened, hung, raised or borrowed and is not put back.
func (s *jobScreen) openPane(e *Env) *notice {
	if len(s.card.Open) == 0 {
		return newPane(phrase.Of("bay.jobpanes.what-stands-open"), line{role: draw.Good, text: phrase.Of("bay.jobpanes.nothing-stands-open")})
	}
	var out []line
	for i, o := range s.card.Open {
		if i > 0 {
			out = append(out, line{})
		}
		out = append(out, line{role: draw.Title, text: fmt.Sprintf("%d  %s", i+1, s.stateTitle(o.Ref))},
			line{text: phrase.Of("bay.jobpanes.since-by-at", since(e.Now, o.Since.At), o.Since.By.Name, s.title(o.SetAt)), indent: 3},
			line{text: phrase.Of("bay.jobpanes.put-back-at", s.titles(o.PutBackAt)), indent: 3},
			line{role: draw.Warn, text: "   " + o.State.Danger, indent: 3},
			line{text: phrase.Of("bay.jobpanes.if-the-job-stops", o.State.IfStopped), indent: 3})
	}
	return newPane(phrase.Of("bay.jobpanes.what-stands-open-2", len(s.card.Open)), out...)
}

func (s *jobScreen) title(r procedures.Ref) string {
	if st := s.card.Stage(r); st != nil {
		return job.Title(st.Node)
	}
	return r.String()
}

func (s *jobScreen) titles(rs []procedures.Ref) string {
	if len(rs) == 0 {
		return phrase.Of("bay.jobpanes.no-stage-of-this-job-ask-the")
	}
	var out []string
	for _, r := range rs {
		out = append(out, s.title(r))
	}
	return strings.Join(out, phrase.Of("bay.jobpanes.or"))
}

// stageList is the whole graph by phase and side; Enter goes to the marked stage.
type stageList struct {
	card  *job.Card
	at    int
	first int
	page  int
}

func newStageList(c *job.Card, at procedures.Ref) *stageList {
	return &stageList{card: c, at: max(c.Plan.Index(at), 0)}
}

// Head is the title.
func (d *stageList) Head(*Env) string {
	return phrase.Of("bay.jobpanes.stages-of", d.card.Plan.Procedure.Title)
}

// Focus is nowhere.
func (d *stageList) Focus() Focus { return FocusNone }

// Keys move and go.
func (d *stageList) Keys(*Env) []Binding {
	return []Binding{{Key: "Up Down", Word: phrase.Of("bay.jobpanes.move"), Bar: true}, {Key: "Left Right", Word: phrase.Of("bay.jobpanes.page"), Bar: true}, {Key: "Enter", Word: phrase.Of("bay.jobpanes.go-there"), Bar: true}, {Key: "Esc", Word: phrase.Of("bay.jobpanes.back"), Bar: true}}
}

// Update moves and chooses.
func (d *stageList) Update(_ *Env, in Input) Action {
	k, ok := in.(Key)
	if !ok {
		return ignore(in)
	}
	switch k.Sym {
	case Up:
		d.at--
	case Down:
		d.at++
	case Left, PageUp:
		d.at -= max(d.page, 1)
	case Right, PageDown:
		d.at += max(d.page, 1)
	case Enter:
		return Done{Value: d.card.Stages[d.at].Node.Ref}
	case Esc:
		return Cancel{}
	default:
		return Unknown{}
	}
	d.at = max(min(d.at, len(d.card.Stages)-1), 0)
	return nil
}

// Height is all of it.
func (d *stageList) Height(e *Env, w int) int {
	rows, _ := stageRows(e.Theme, d.card, d.at, w)
	return len(rows)
}

// View shows the part around the marked stage.
func (d *stageList) View(e *Env, w, h int) string {
	rows, at := stageRows(e.Theme, d.card, d.at, w)
	d.page = max(h-1, 1)
	if len(rows) <= h {
		return strings.Join(rows, "\n")
	}
	d.first = inView(d.first, at, d.page, len(rows))
	return strings.Join(append(rows[d.first:d.first+d.page:d.first+d.page], scrollNote(e.Theme, d.first, len(rows)-d.first-d.page)), "\n")
}

// stageRows draws the stages by phase, w cells wide, and says which row is the marked one.
func stageRows(t *draw.Theme, c *job.Card, marked, w int) (rows []string, at int) {
	phase := ""
	for i := range c.Stages {
		st := &c.Stages[i]
		if st.Node.Phase.ID != phase {
			phase = st.Node.Phase.ID
			rows = append(rows, t.Style(draw.Title, st.Node.Phase.Title))
		}
		state := stageState(st.Status)
		word := shortStatus(st.Status)
		if st.Status == job.Ready && c.Barred(st.Node.Ref) {
			state, word = draw.Waiting, barredWord(c, st)
		}
		name := st.Node.Stage.Title
		if side := st.Node.Ref.Side; side != procedures.NoSide {
			name = strings.ToUpper(phrase.Word(side)) + " " + name
		}
		name = t.Truncate(t.Plain(name), max(w-6-draw.Width(word)-2, 10))
		text := " " + name + strings.Repeat(" ", max(w-6-draw.Width(name)-draw.Width(word), 1)) + word + " "
		mark := mark(t, state)
		if i == marked {
			at = len(rows)
			rows = append(rows, t.Style(draw.Selected, t.Glyphs.Marker+" "+mark+text))
			continue
		}
		role := draw.Text
		if state == draw.Waiting || state == draw.NoState {
			role = draw.Faint
		}
		ink := state.Role()
		if state == draw.Now {
			ink = draw.Title
		}
		rows = append(rows, "  "+t.Style(ink, mark)+t.Style(role, text))
	}
	return rows, at
}

// barredWord says what a stage waits for that is ready but for a standing state.
func barredWord(c *job.Card, st *job.StageCard) string {
	for _, o := range c.Open {
		if o.Ref.Side == st.Node.Ref.Side.Other() && contains(st.Node.Stage.OtherShut, o.Ref.State) {
			return phrase.Of("bay.jobpanes.other-side-first")
		}
	}
	return phrase.Of("bay.jobpanes.a-state-in-the-way")
}

func mark(t *draw.Theme, s draw.State) string {
	if m := t.Mark(s); m != "" {
		return m
	}
	return " "
}

// shortStatus is a status where there is little room.
func shortStatus(s job.Status) string {
	switch s {
	case job.Undecided:
		return phrase.Of("bay.jobpanes.undecided")
	case job.SecondOwed:
		return phrase.Of("bay.jobpanes.second-owed")
	}
	return phrase.Word(s.String())
}

// stageState is the mark of a status.
func stageState(s job.Status) draw.State {
	switch s {
	case job.Complete:
		return draw.Done
	case job.Begun, job.Ready:
		return draw.Now
	case job.SecondOwed:
		return draw.NotProven
	case job.Stale:
		return draw.Stale
	case job.Waiting:
		return draw.Waiting
	}
	return draw.NoState
}
