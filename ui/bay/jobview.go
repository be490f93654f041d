package bay

import (
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// A screen this wide has the stages beside the stage shown, which keeps a share of it.
const (
	wideFrom  = 100
	leftShare = 57 // per cent
	leftLeast = 60
)

// View draws the stage: phases, title, cautions, steps, items, the field, what stands open, what
// blocks. A wide screen has the stages and the history beside it.
func (s *jobScreen) View(e *Env, w, h int) string {
	if s.card == nil {
		return ""
	}
	s.sync(e)
	t := e.Theme
	rule := t.Style(draw.Frame, strings.Repeat(t.Glyphs.Across, w))
	foot := append([]string{rule}, s.foot(e, w)...)
	room := h - 2 - len(foot)
	var body string
	if w < wideFrom {
		body = strings.Join(pad1(s.left(e, w-2, room)), "\n")
	} else {
		lw := min(max(w*leftShare/100, leftLeast), 96)
		rw := w - lw - 3
		bar := strings.TrimSuffix(strings.Repeat(t.Style(draw.Frame, t.Glyphs.Down)+"\n", room), "\n")
		body = t.Columns(room, 1, draw.Column{Block: strings.Join(pad1(s.left(e, lw-1, room)), "\n"), Width: lw},
			draw.Column{Block: bar, Width: 1}, draw.Column{Block: strings.Join(s.right(e, rw, room), "\n"), Width: rw})
	}
	return strings.Join([]string{s.phases(t, w), rule, t.Fit(body, w, room)}, "\n") + "\n" + strings.Join(foot, "\n")
}

// Foot is the rows a dialog leaves in view: what stands open, and what blocks.
func (s *jobScreen) Foot() int { return 3 }

func pad1(lines []string) []string {
	for i := range lines {
		lines[i] = " " + lines[i]
	}
	return lines
}

// phases is the course of the job in one row: every phase by its mark, the present one by name.
func (s *jobScreen) phases(t *draw.Theme, w int) string {
	type phase struct {
		title string
		state draw.State
		here  bool
	}
	var list []phase
	seen := map[string]int{}
	for i := range s.card.Stages {
		st := &s.card.Stages[i]
		id := st.Node.Phase.ID
		k, ok := seen[id]
		if !ok {
			k = len(list)
			seen[id] = k
			list = append(list, phase{title: st.Node.Phase.Title})
		}
		list[k].here = list[k].here || st.Node.Ref == s.at
		list[k].state = together(list[k].state, stageState(st.Status))
	}
	build := func(names bool) (string, int) {
		var b strings.Builder
		n := 1
		for _, p := range list {
			if p.state == draw.NoState {
				p.state = draw.Waiting // depends on what is not decided yet
			}
			text := mark(t, p.state)
			role := p.state.Role()
			if role == draw.Selected {
				role = draw.Title
			}
			if names || p.here {
				text += " " + t.Plain(p.title)
			}
			if p.here {
				role, text = draw.Selected, " "+text+" "
			} else {
				text = " " + text
			}
			b.WriteString(t.Style(role, text) + " ")
			n += draw.Width(text) + 1
		}
		return b.String(), n
	}
	out, n := build(true)
	if n <= w {
		return t.Fit(out, w, 1)
	}
	out, _ = build(false)
	here := 0
	for i := range list {
		if list[i].here {
			here = i + 1
		}
	}
	return t.Fit(out+t.Style(draw.Faint, phrase.Of("bay.jobview.phase-of", here, len(list))), w, 1)
}

// together is the state of a phase with another of its stages: the one that asks for more wins.
func together(a, b draw.State) draw.State {
	rank := map[draw.State]int{draw.NoState: 0, draw.Done: 1, draw.Waiting: 2, draw.Now: 3, draw.NotProven: 4, draw.Stale: 5}
	if a == draw.Done && b == draw.Waiting || a == draw.Waiting && b == draw.Done {
		return draw.Now
	}
	if rank[b] > rank[a] {
		return b
	}
	return a
}

// side is the side in capitals, always spelled out.
func (s *jobScreen) side() string {
	if s.at.Side == procedures.NoSide {
		return phrase.Of("bay.jobview.whole-vehicle")
	}
	side := strings.ToUpper(phrase.Word(s.at.Side))
	if axle := s.card.Plan.Procedure.Axle; axle != "" {
		return strings.ToUpper(axle) + " " + side
	}
	return phrase.Of("bay.jobview.side", side)
}

// head is the title block: side and place on the first row, title and standing words below.
func (s *jobScreen) head(e *Env, w int) []string {
	t := e.Theme
	st := s.stage()
	n, of := 0, 0
	for i := range s.card.Stages {
		if s.card.Stages[i].Status == job.LeftOut {
			continue
		}
		of++
		if s.card.Stages[i].Node.Ref == s.at {
			n = of
		}
	}
	side := " " + s.side() + " "
	right := phrase.Of("bay.jobview.stage-of", n, of)
	who := phrase.Word(st.Node.Stage.Who)
	if st.Node.Stage.Who != procedures.Foreman {
		who += phrase.Of("bay.jobview.or-above")
	}
	right = who + ", " + right
	first := t.Style(draw.Selected, side) + strings.Repeat(" ", max(w-draw.Width(side)-draw.Width(right), 1)) + t.Style(draw.Faint, right)
	second := t.Style(draw.Title, st.Node.Stage.Title)
	for _, b := range s.badges() {
		second += "  " + t.Style(b.role, " "+b.text+" ")
	}
	out := []string{first, second}
	if s.card.Paused != nil {
		out = append(out, t.Style(draw.Warn, phrase.Of("bay.jobview.paused-by-p-resumes", since(e.Now, s.card.Paused.At), s.card.Paused.By.Name, s.card.PauseFor)))
	}
	for _, l := range s.standingWords(e) {
		out = append(out, t.Style(draw.Warn, " "+t.Truncate(t.Plain(l), w-2)+" "))
	}
	if st.Status == job.Stale {
		out = append(out, t.Style(draw.Warn, " "+t.Truncate(t.Plain(phrase.Of("bay.jobview.enter-new-values", phrase.Capital(s.card.StaleWhy(s.at)))), w-2)+" "))
	}
	return out
}

// standingWords is what holds the whole job up, one line each: somebody was fetched, the vehicle is
// withheld, the work has ended.
func (s *jobScreen) standingWords(e *Env) []string {
	var out []string
	if a := s.stage().Current(); a != nil && a.Unsure != nil {
		out = append(out, phrase.Of("bay.jobview.not-sure-fetched-somebody-whoever-comes-answers", a.Unsure.By.Name, since(e.Now, a.Unsure.At)))
	}
	if a := s.stage().Current(); a != nil && a.Signed == nil && s.brokenAt == nil {
		for i := range s.stage().Node.Checks {
			if pc := &s.stage().Node.Checks[i]; pc.Kind == procedures.Torque && brokenOff(a, pc) {
				out = append(out, phrase.Of("bay.jobview.the-pass-was-broken-off-and-begins", pc.Title))
			}
		}
	}
	if h := s.card.Withheld; h != nil {
		out = append(out, phrase.Of("bay.jobview.withheld", phrase.Word(h.Class), h.Words))
	}
	if s.card.Abandoned != nil && s.card.Released == nil {
		out = append(out, phrase.Of("bay.jobview.work-ended-to-make-it-safe-m", phrase.Count("count.stage", len(s.card.MakeSafe()))))
	}
	return out
}

// brokenOff reports whether a pass was broken off and is not complete since.
func brokenOff(a *job.Attempt, pc *procedures.PlanCheck) bool {
	broken, missing := false, false
	for _, x := range a.Entries {
		broken = broken || x.Check == pc.ID && x.Broken
	}
	for _, name := range pc.Items {
		missing = missing || a.Entry(pc.ID, name) == nil
	}
	return broken && missing
}

// badges are the words that stand beside the title.
func (s *jobScreen) badges() []line {
	st := s.stage()
	var out []line
	if s.card.Opened.Practice {
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.jobview.practice")})
	}
	if st.Node.Stage.Hold {
		out = append(out, line{role: draw.Caution, text: phrase.Of("bay.jobview.hold-point")})
	}
	if a := st.Current(); a != nil && a.No > 1 {
		out = append(out, line{role: draw.Caution, text: phrase.Of("bay.jobview.attempt", a.No)})
	}
	switch st.Status {
	case job.SecondOwed:
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.jobview.second-person-owed")})
	case job.Stale:
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.jobview.stale")})
	case job.Complete:
		out = append(out, line{role: draw.Good, text: phrase.Of("bay.jobview.complete")})
	case job.Waiting:
		out = append(out, line{role: draw.Caution, text: phrase.Of("bay.jobview.waiting")})
	case job.LeftOut:
		out = append(out, line{role: draw.Faint, text: phrase.Of("bay.jobview.left-out")})
	case job.Undecided:
		out = append(out, line{role: draw.Caution, text: phrase.Of("bay.jobview.depends-on-a-decision")})
	}
	switch {
	case s.card.Cancelled != nil:
		out = append(out, line{role: draw.Warn, text: phrase.Of("bay.jobview.cancelled")})
	case s.card.Released == nil:
	case s.card.Released.Outcome == "" || s.card.Released.Outcome == job.OutcomeReleased:
		out = append(out, line{role: draw.Good, text: phrase.Of("bay.jobview.released")})
	default:
		out = append(out, line{role: draw.Warn, text: strings.ToUpper(phrase.Word(s.card.Released.Outcome))})
	}
	return out
}

// foot is what is always in view: the standing states, and what blocks.
func (s *jobScreen) foot(e *Env, w int) []string {
	t := e.Theme
	return []string{t.Fit(" "+s.standing(t, w-2), w, 1), t.Fit(" "+s.verdict(e), w, 1)}
}

// standing is the strip of what is not put back, as much as fits, and how many more there are.
func (s *jobScreen) standing(t *draw.Theme, w int) string {
	if len(s.card.Open) == 0 {
		return t.Style(draw.Good, phrase.Of("bay.jobview.nothing-stands-open"))
	}
	head := phrase.Of("bay.jobview.still-open", len(s.card.Open))
	room := w - draw.Width(head) - 1
	text := ""
	for i, o := range s.card.Open {
		one := s.stateTitle(o.Ref)
		if i > 0 {
			one = "; " + one
		}
		more := phrase.Of("bay.jobview.more", len(s.card.Open)-i)
		left := draw.Width(more)
		if i == len(s.card.Open)-1 {
			left = 0
		}
		if i > 0 && draw.Width(t.Plain(text+one))+left > room {
			text += more
			break
		}
		text += one
	}
	return t.Style(draw.Standing, head) + " " + t.Style(draw.Text, t.Truncate(t.Plain(text), room))
}

// verdict says in words whether the stage can be signed.
func (s *jobScreen) verdict(e *Env) string {
	t := e.Theme
	st := s.stage()
	switch st.Status {
	case job.Complete:
		a := st.Current()
		text := phrase.Of("bay.jobview.signed-by-at", a.Signed.By.Name, since(e.Now, a.Signed.At))
		if a.Countersigned != nil {
			text += phrase.Of("bay.jobview.countersigned-by", a.Countersigned.By.Name)
		} else if a.NoSecond {
			text += phrase.Of("bay.jobview.no-second-person-was-there")
		}
		return t.Style(draw.Good, text)
	case job.SecondOwed:
		return t.Style(draw.Warn, phrase.Of("bay.jobview.signed-by-a-second-person-has-to", st.Current().Signed.By.Name))
	}
	if !e.SignedIn() {
		return t.Style(draw.Text, phrase.Of("bay.jobview.nobody-is-signed-in"))
	}
	r := s.card.Blockers(s.at, e.Context())
	switch len(r) {
	case 0:
		return t.Style(draw.Good, phrase.Of("bay.jobview.ready-to-sign-s"))
	case 1:
		return t.Style(draw.Text, phrase.Of("bay.jobview.1-reason-blocks-b", sentence(r[0].Text)))
	}
	return t.Style(draw.Text, phrase.Of("bay.jobview.reasons-block-b", len(r), sentence(r[0].Text)))
}
