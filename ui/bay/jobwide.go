package bay

import (
	"strings"

	"bay.example/pawl/job"
	"bay.example/pawl/job/brakes"
	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/quantity"
	"bay.example/pawl/procedures"
	"bay.example/pawl/ui/draw"
)

// right is what stands beside the stage on a wide screen: the stages around it, and what happened
// on this one.
func (s *jobScreen) right(e *Env, w, h int) []string {
	t := e.Theme
	rows, at := stageRows(t, s.card, s.card.Plan.Index(s.at), w)
	history := s.history(e, w)
	room := max(h-len(history)-3, h/2)
	first := inView(at-room/2, at, min(room, len(rows)), len(rows))
	out := append([]string{}, rows[first:min(first+room, len(rows))]...)
	if len(history) == 0 {
		return out
	}
	out = append(out, "", t.Style(draw.Title, phrase.Of("bay.jobwide.what-happened-on-this-stage")))
	if n := h - len(out); len(history) > n {
		history = history[len(history)-max(n, 0):]
	}
	return append(out, history...)
}

// history is every entry of the stage with who and when, the newest last.
func (s *jobScreen) history(e *Env, w int) []string {
	var out []line
	add := func(role draw.Role, m job.Mark, text string) {
		out = append(out, line{role: role, text: since(e.Now, m.At) + " " + m.By.ID + " " + text, indent: 6})
	}
	st := s.stage()
	for k := range st.Attempts {
		a := &st.Attempts[k]
		if k > 0 {
			out = append(out, line{role: draw.Caution, text: phrase.Of("bay.jobwide.attempt", a.No, a.Reason)})
		}
		for i := range a.Entries {
			x := &a.Entries[i]
			text := label(item{check: st.Node.Check(x.Check), name: x.Item}) + " " + shown(x)
			if w := verdictWord(x.Verdict); w != "" && x.Verdict != quantity.Inside {
				text += " " + strings.ToUpper(w)
			}
			switch {
			case x.Broken:
				text += phrase.Of("bay.jobwide.pass-broken-off")
			case x.ReplacedBy != 0:
				text += phrase.Of("bay.jobwide.replaced")
			case x.Replaces != 0:
				text += phrase.Of("bay.jobwide.corrects", phrase.Word(x.Reason))
			}
			add(draw.Text, x.Mark, text)
		}
		if a.Signed != nil {
			add(draw.Good, *a.Signed, phrase.Of("bay.jobwide.signed"))
		}
		if a.Countersigned != nil {
			add(draw.Good, *a.Countersigned, phrase.Of("bay.jobwide.countersigned"))
		}
	}
	return drawLines(e.Theme, out, w)
}

// points are the amounts of a set in order; those not entered are empty.
func (s *jobScreen) points(e *Env, pc *procedures.PlanCheck) []draw.Amount {
	var out []draw.Amount
	for _, it := range s.items() {
		if it.check.ID != pc.ID || it.name == procedures.ItemReturn {
			continue
		}
		a := draw.Amount{}
		if it.entry != nil {
			a = amount(e, it.entry.Value)
		}
		out = append(out, a)
	}
	return out
}

// isPads reports whether the four points are the ends of a pair of pads.
func isPads(pc *procedures.PlanCheck) bool {
	for _, p := range padPoints {
		if !contains(pc.Items, p) {
			return false
		}
	}
	return true
}

var padPoints = [4]string{"outer leading", "outer trailing", "inner leading", "inner trailing"}

func contains(list []string, x string) bool {
	for _, v := range list {
		if v == x {
			return true
		}
	}
	return false
}

func (s *jobScreen) pads(e *Env, points []draw.Amount, it item) draw.PadPoints {
	at := map[string]draw.Amount{}
	for i, name := range it.check.Items {
		at[name] = points[i]
	}
	p := draw.PadPoints{OuterLeading: at[padPoints[0]], OuterTrailing: at[padPoints[1]], InnerLeading: at[padPoints[2]], InnerTrailing: at[padPoints[3]]}
	if it.check.Window != nil {
		p.Limit, p.Unit = amount(e, it.check.Window.Window.Low), string(it.check.Window.Window.Unit())
		p.New = draw.Amount{At: p.Limit.At * 5, Text: ""}
	}
	if it.check.Nominal != nil {
		p.New, p.Unit = amount(e, it.check.Nominal.Window.Target), string(it.check.Nominal.Window.Unit())
	}
	p.State = s.worst(it.check)
	return p
}

// worst is the worst verdict among the entries of a check.
func (s *jobScreen) worst(pc *procedures.PlanCheck) draw.State {
	state := draw.NoState
	for _, it := range s.items() {
		if it.check.ID != pc.ID || it.entry == nil {
			continue
		}
		switch v := verdictState(it.entry.Verdict); {
		case v == draw.Outside:
			return v
		case v == draw.NotProven, state == draw.NoState:
			state = v
		}
	}
	return state
}

func (s *jobScreen) ring(points []draw.Amount, it item) draw.Ring {
	r := draw.Ring{Points: points, Next: it.no - 1}
	if it.check.Window != nil {
		r.Unit = string(it.check.Window.Window.Unit())
	}
	if it.check.Nominal != nil {
		r.Unit = string(it.check.Nominal.Window.Unit())
	}
	return r
}

func (s *jobScreen) curve(e *Env, points []draw.Amount, it item) draw.Curve {
	c := draw.Curve{Readings: points}
	if it.check.Window != nil {
		c.Unit = string(it.check.Window.Window.Unit())
	}
	var mm []float64
	sum := 0.0
	for _, p := range points {
		if p.Text == "" {
			c.Note = phrase.Of("bay.jobwide.point-of-is-next", it.no, len(it.check.Items))
			return c
		}
		mm = append(mm, p.At)
		sum += p.At
	}
	h, err := brakes.FirstHarmonic(mm)
	if err != nil {
		return c
	}
	c.Fit = &draw.Harmonic{Mean: sum / float64(len(mm)), Amplitude: h.Amplitude, Peak: h.HighSpot}
	for _, f := range s.figures(it.check.ID) {
		if f.Name == job.FigureRunOut {
			c.Note = phrase.Of("bay.jobwide.run-out", e.number(f.Value), phrase.Of("bay.jobwide.high-spot-at", h.HighSpot, e.Theme.Plain("°")))
		}
	}
	return c
}
