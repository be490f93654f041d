package bay

import (
	"slices"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// The smallest terminal the program draws itself in.
const (
	leastWidth  = 60
	leastHeight = 18
	frameRows   = 3 // first row, status line, key bar
)

// View draws the whole terminal: exactly the rows and cells it has.
func (m *Model) View() string {
	w, h := m.env.W, m.env.H
	if w <= 0 || h <= 0 || m.quit {
		return ""
	}
	e := &m.env
	if m.tooSmall() {
		text := phrase.Of("bay.frame.this-window-is-too-small-for-pawl")
		return m.theme.Paint(strings.Join(m.theme.Wrap(text, w), "\n"), w, h)
	}
	s := m.top()
	body := s.View(e, w, h-frameRows)
	if m.dialog != nil {
		body = m.over(body, w, h-frameRows)
	}
	lines := []string{m.firstRow(w), m.theme.Fit(body, w, h-frameRows), m.statusLine(w), m.keyBar(w)}
	return m.theme.Paint(strings.Join(lines, "\n"), w, h)
}

// tooSmall reports whether the program draws nothing of itself: no key but Ctrl-C does anything then.
func (m *Model) tooSmall() bool { return m.env.W < leastWidth || m.env.H < leastHeight }

// firstRow says what one is at, who is signed in and what time it is.
func (m *Model) firstRow(w int) string {
	t := m.theme
	right := m.env.Now.Format("15:04")
	if p := m.env.Person; p.ID != "" {
		right = p.Name + ", " + phrase.Word(p.Role) + "  " + right
	} else {
		right = phrase.Of("bay.frame.nobody-signed-in", right)
	}
	right = t.Truncate(t.Plain(right), w/2)
	left := t.Style(draw.Title, phrase.Of("bay.frame.pawl"))
	if m.demo() {
		left += t.Style(draw.Warn, phrase.Of("bay.frame.demo")) + " "
	}
	left += t.Style(draw.Title, m.top().Head(&m.env))
	return t.Fit(left, w-draw.Width(right)-2, 1) + t.Style(draw.Text, " "+right+" ")
}

// demo reports whether the first row says DEMO: in an invented workshop everywhere, elsewhere on the
// screens of a job that rests on something invented, and on those opened from them.
func (m *Model) demo() bool {
	return m.env.Workshop.Demo || slices.ContainsFunc(m.stack, func(s Screen) bool {
		d, ok := s.(interface{ demo() bool })
		return ok && d.demo()
	})
}

func (m *Model) statusLine(w int) string {
	t := m.theme
	switch {
	case m.pending != nil && m.clock().Sub(m.pending.since) >= slowTime:
		return t.Fit(t.Style(draw.Warn, " "+m.pending.doing+t.Glyphs.Cut+" "), w, 1)
	case m.say.Text == "":
		return t.Fit("", w, 1)
	case m.say.Role == draw.Text || m.say.Role == draw.Title || m.say.Role == draw.Good:
		return t.Fit(" "+t.Style(m.say.Role, m.say.Text), w, 1)
	}
	return t.Fit(t.Style(m.say.Role, " "+m.say.Text+" "), w, 1)
}

func (m *Model) keyBar(w int) string {
	var bar []draw.Binding
	all := m.holder().Keys(&m.env)
	for _, b := range all {
		if b.Bar {
			bar = append(bar, draw.Binding{Key: shortKeys(b.Key), Word: b.Word})
		}
	}
	if len(all) == len(bar) || m.dialog != nil || m.focus() == FocusText || m.focus() == FocusCode {
		return m.theme.KeyBar(bar, w)
	}
	last := m.theme.KeyBar([]draw.Binding{{Key: "?", Word: phrase.Of("bay.frame.keys")}}, 9)
	return m.theme.KeyBar(bar, w-10) + " " + last
}

// over lays the dialog over the body: above the foot of the screen where there is room, so that
// title and standing states stay in view.
func (m *Model) over(body string, w, h int) string {
	t := m.theme
	width := min(w-2, 96)
	side := (w - width) / 2
	want := max(m.dialog.Height(&m.env, width-4), 1) + 2
	end := h
	if s, ok := m.top().(footed); ok && want <= h-s.Foot() {
		end -= s.Foot()
	}
	high := min(want, end)
	box := t.Box(m.dialog.Head(&m.env), m.dialog.View(&m.env, width-4, high-2), width, high)
	lines := strings.Split(t.Fit(body, w, h), "\n")
	for i, line := range strings.Split(box, "\n") {
		lines[end-high+i] = strings.Repeat(" ", side) + line
	}
	return strings.Join(lines, "\n")
}

// shortKeys writes a row of digits as a range.
func shortKeys(keys string) string {
	f := strings.Fields(keys)
	n := 1
	for n < len(f) && len(f[n]) == 1 && len(f[n-1]) == 1 && f[n][0] == f[n-1][0]+1 && f[n-1][0] >= '0' && f[n][0] <= '9' {
		n++
	}
	if n >= 3 {
		f = append([]string{f[0] + "–" + f[n-1]}, f[n:]...)
	}
	for i := range f {
		f[i] = phrase.Word(f[i])
	}
	return strings.Join(f, " ")
}
