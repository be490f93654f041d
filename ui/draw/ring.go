package draw

import (
	"math"
	"strconv"
	"strings"

	"bay.example/pawl/job/phrase"
)

// Ring is a disc seen from outside with a value at each of its points, the
// first at twelve o'clock and the others clockwise at equal distances.
type Ring struct {
	Points []Amount
	Next   int // index of the point to be measured now, -1 for none
	Unit   string
	Notes  []string // lines for the middle, below the thinnest value
}

// thinnest is the index of the smallest value, -1 for none.
func (r Ring) thinnest() int {
	thin := -1
	for i, p := range r.Points {
		if p.known() && (thin < 0 || p.At < r.Points[thin].At) {
			thin = i
		}
	}
	return thin
}

// label is what stands at a point: the value, in brackets where it is the
// thinnest, or the number of a point without one.
func (r Ring) label(t *Theme, i, thin int) label {
	n := strconv.Itoa(i + 1)
	switch p := r.Points[i]; {
	case i == thin:
		return label{Caution, "[" + p.Text + "]"}
	case p.known():
		return label{Text, p.Text}
	case i == r.Next:
		return label{Selected, " " + t.Mark(Now) + n + " "}
	default:
		return label{Text, t.Mark(Missing) + n}
	}
}

// Draw shows the ring in w×h cells; where there is no room for one, or too many
// points, it lists the points instead.
func (r Ring) Draw(t *Theme, w, h int) string {
	wide, thin := 0, r.thinnest()
	for i := range r.Points {
		wide = max(wide, Width(t.Plain(r.label(t, i, thin).text)))
	}
	n := len(r.Points)
	// Labels beside each other at the top need a third of the width each.
	if n < 2 || n > 12 || h < 11 || w < 3*wide+4 || w < 2*h {
		return r.list(t, w, h)
	}
	g := newGrid(t, w, h)
	cy := float64(h-1) / 2
	cx := float64(w-1) / 2
	ry := cy
	rx := min(cx-float64(wide)/2, ry*2.2)
	for a := range 720 {
		at := float64(a) * math.Pi / 360
		g.put(int(math.Round(cx+rx*math.Sin(at))), int(math.Round(cy-ry*math.Cos(at))), Frame, t.Glyphs.Rim)
	}
	for i := range r.Points {
		at := 2 * math.Pi * float64(i) / float64(n)
		l := r.label(t, i, thin)
		lw := Width(t.Plain(l.text))
		x := int(math.Round(cx+rx*math.Sin(at))) - lw/2
		y := int(math.Round(cy - ry*math.Cos(at)))
		x = max(0, min(x, w-lw))
		g.fill(x-1, x+lw, y, Text, " ")
		g.put(x, y, l.role, l.text)
	}
	r.middle(g, int(cx), int(cy), thin)
	return g.String()
}

// middle writes the thinnest value and the notes into the hole of the ring.
func (r Ring) middle(g *grid, cx, cy, thin int) {
	var lines []label
	if thin >= 0 {
		lines = append(lines,
			label{Text, phrase.Of("draw.ring.thinnest-2")},
			label{Title, withUnit(r.Points[thin].Text, r.Unit)},
			label{Text, phrase.Of("draw.ring.point-of", strconv.Itoa(thin+1), strconv.Itoa(len(r.Points)))})
	} else {
		lines = append(lines, label{Text, phrase.Of("draw.ring.no-value-yet")})
	}
	for _, n := range r.Notes {
		lines = append(lines, label{Text, n})
	}
	room := g.h - 6 // the upper and the lower rim with their labels
	if len(lines) > room {
		lines = lines[:room]
	}
	for i, l := range lines {
		l.text = g.t.Truncate(g.t.Plain(l.text), g.w-16)
		g.centre(cx+1, cy-len(lines)/2+i, l)
	}
}

// list is the ring for a narrow place: point and value in columns.
func (r Ring) list(t *Theme, w, h int) string {
	thin, wide := r.thinnest(), 0
	items := make([]label, len(r.Points))
	for i := range r.Points {
		items[i] = r.label(t, i, thin)
		if r.Points[i].known() {
			items[i].text = PadLeft(strconv.Itoa(i+1), 2) + " " + t.Plain(items[i].text)
		}
		wide = max(wide, Width(items[i].text))
	}
	per := max(1, (w+2)/(wide+2))
	var lines []string
	for i := 0; i < len(items); i += per {
		var b strings.Builder
		for _, l := range items[i:min(i+per, len(items))] {
			b.WriteString(t.Style(l.role, Pad(l.text, wide)) + "  ")
		}
		lines = append(lines, strings.TrimSuffix(b.String(), "  "))
	}
	if thin >= 0 {
		lines = append(lines, t.Style(Text, phrase.Of("draw.ring.thinnest"))+t.Style(Title, withUnit(r.Points[thin].Text, r.Unit))+
			t.Style(Text, phrase.Of("draw.ring.at-point-of", strconv.Itoa(thin+1), strconv.Itoa(len(items)))))
	}
	for _, n := range r.Notes {
		lines = append(lines, t.Style(Text, n))
	}
	return t.Fit(strings.Join(lines, "\n"), w, h)
}
