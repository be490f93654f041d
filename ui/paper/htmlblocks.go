package paper

import (
	"fmt"
	"strings"
)

func (h heading) write(m *markup) {
	m.say(fmt.Sprintf("h%d", h.rank), h.text)
	m.raw("\n")
}

func (p para) write(m *markup) {
	if p.small {
		m.say("p class=\"small\"", p.text)
	} else {
		m.say("p", p.text)
	}
	m.raw("\n")
}

func (p pairs) write(m *markup) {
	if len(p) == 0 {
		return
	}
	m.raw("<dl>\n")
	for _, x := range p {
		m.say("dt", x[0])
		m.say("dd", x[1])
		m.raw("\n")
	}
	m.raw("</dl>\n")
}

func (x table) write(m *markup) {
	if len(x.rows) == 0 {
		return
	}
	class := "list"
	if x.close {
		class += " close"
	}
	m.raw("<table class=\"%s\">\n<thead><tr>", class)
	for i, h := range x.head {
		open := "th"
		if i < len(x.wide) && x.wide[i] > 0 {
			open = fmt.Sprintf("th style=\"width:%d%%\"", x.wide[i])
		}
		m.say(open, h)
	}
	m.raw("</tr></thead>\n<tbody>\n")
	for _, r := range x.rows {
		m.raw("<tr>")
		for _, c := range r {
			if x.lined {
				m.cell(c)
			} else {
				m.say("td", c)
			}
		}
		m.raw("</tr>\n")
	}
	m.raw("</tbody>\n</table>\n")
}

// cell writes one cell; lines joined by lines come under each other.
func (m *markup) cell(text string) {
	m.raw("<td>")
	for i, l := range strings.Split(text, "\n") {
		if i > 0 {
			m.raw("<br/>")
		}
		m.raw("%s", esc(l))
	}
	m.raw("</td>")
}

func (x items) write(m *markup) {
	if len(x.lines) == 0 {
		return
	}
	if x.tick {
		m.raw("<ul class=\"tick\">\n")
	} else {
		m.raw("<ul>\n")
	}
	for _, l := range x.lines {
		m.say("li", l)
		m.raw("\n")
	}
	m.raw("</ul>\n")
}

func (c callout) write(m *markup) {
	m.raw("<div class=\"callout\">")
	m.say("b", c.title)
	m.say("span", c.words)
	m.raw("</div>\n")
}

func (f figures) write(m *markup) {
	if len(f) == 0 {
		return
	}
	m.raw("<div class=\"figures\">\n")
	for _, x := range f {
		m.raw("<figure>")
		if x.caption != "" {
			m.say("figcaption", x.caption)
		}
		m.raw("%s</figure>\n", x.svg)
	}
	m.raw("</div>\n")
}

func (s signatures) write(m *markup) {
	for _, what := range s {
		m.raw("<div class=\"sign\">")
		m.say("span", what)
		m.raw("<i></i></div>\n")
	}
}

func (l label) write(m *markup) {
	m.raw("<div class=\"label\">")
	m.say("b", l.words)
	for _, s := range l.lines {
		m.say("span", s)
	}
	m.raw("</div>\n")
}

func (k kept) write(m *markup) {
	m.raw("<div class=\"kept\">\n")
	for _, b := range k {
		b.write(m)
	}
	m.raw("</div>\n")
}

func (x dense) write(m *markup) {
	m.raw("<div class=\"dense\">\n")
	for _, b := range x {
		b.write(m)
	}
	m.raw("</div>\n")
}

func (turn) write(m *markup) { m.raw("<div class=\"turn\"></div>\n") }
