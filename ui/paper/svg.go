package paper

import (
	"math"
	"strconv"
	"strings"
)

// The pictures are drawn in black and greys only, with shapes and words telling everything apart.
// Lengths are in the picture's own units; geometry may be rounded, the texts never are.

// picture builds one SVG.
type picture struct{ markup }

// number writes a coordinate to a hundredth, never as not-a-number.
func number(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = 0
	}
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func (p *picture) line(x1, y1, x2, y2 float64, style string) {
	p.raw(`<line x1="%s" y1="%s" x2="%s" y2="%s" %s/>`, number(x1), number(y1), number(x2), number(y2), style)
}

func (p *picture) rect(x, y, w, h float64, style string) {
	p.raw(`<rect x="%s" y="%s" width="%s" height="%s" %s/>`, number(x), number(y), number(w), number(h), style)
}

func (p *picture) circle(x, y, r float64, style string) {
	p.raw(`<circle cx="%s" cy="%s" r="%s" %s/>`, number(x), number(y), number(r), style)
}

// words writes text; anchor is start, middle or end.
func (p *picture) words(x, y float64, anchor, style, text string) {
	p.raw(`<text x="%s" y="%s" text-anchor="%s" %s>%s</text>`, number(x), number(y), anchor, style, esc(text))
}

// path draws through points.
func (p *picture) path(points [][2]float64, style string) {
	var d strings.Builder
	for i, q := range points {
		if i == 0 {
			d.WriteString("M")
		} else {
			d.WriteString(" L")
		}
		d.WriteString(number(q[0]) + " " + number(q[1]))
	}
	p.raw(`<path d="%s" %s/>`, d.String(), style)
}

// diamond is the mark of a value.
func (p *picture) diamond(x, y, r float64, style string) {
	p.path([][2]float64{{x, y - r}, {x + r, y}, {x, y + r}, {x - r, y}, {x, y - r}}, style)
}

// done closes the picture: w by h units, shown millimetres wide.
func (p *picture) done(w, h, millimetres float64, title string) string {
	var out markup
	out.raw(`<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 %s %s" style="width:%smm" font-family="Liberation Sans, Arial, Helvetica, sans-serif" font-size="9">`, number(w), number(h), number(millimetres))
	out.say("title", title)
	out.raw("%s</svg>", p.String())
	return out.String()
}

// The strokes and fills.
const (
	inkLine  = `stroke="#000" stroke-width="1" fill="none"`
	inkThick = `stroke="#000" stroke-width="1.8" fill="none"`
	inkThin  = `stroke="#888" stroke-width="0.6" fill="none"`
	inkDash  = `stroke="#000" stroke-width="0.9" stroke-dasharray="4 2.5" fill="none"`
	inkSolid = `fill="#000" stroke="#000"`
	inkOpen  = `fill="#fff" stroke="#000" stroke-width="1.4"`
	inkBand  = `fill="#e2e2e2" stroke="none"`
	inkSmall = `font-size="8"`
	inkBold  = `font-weight="bold"`
)

// stretch maps a span of numbers on a stretch of the picture.
type stretch struct{ from, to, a, b float64 }

func (s stretch) at(v float64) float64 {
	if s.to == s.from || math.IsNaN(v) {
		return (s.a + s.b) / 2
	}
	part := (v - s.from) / (s.to - s.from)
	return s.a + min(max(part, 0), 1)*(s.b-s.a)
}

// known reports whether a number can be placed.
func known(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
