package command

import (
	"fmt"
	"html"
	"strings"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/procedures"
)

// The measures of the drawing, in units of its view box.
const (
	boxWide, boxHigh = 190, 44
	boxGap, layerGap = 14, 34
)

const graphStyle = `body{font:15px/1.45 system-ui,sans-serif;margin:1.5rem;color:#1b1f24;background:#fff}
svg{max-width:100%;height:auto}
.box{fill:#f4f6f8;stroke:#57606a}.hold{stroke-width:3}.maybe{stroke-dasharray:5 3}
text{font:12px system-ui,sans-serif;fill:#1b1f24}.who{font-size:10px;fill:#57606a}
.edge{fill:none;stroke:#8c959f}.state{fill:none;stroke:#9a3412;stroke-dasharray:2 3}
table{border-collapse:collapse}td,th{text-align:left;vertical-align:top;padding:.2rem .7rem .2rem 0;border-bottom:1px solid #d0d7de}
@media(prefers-color-scheme:dark){body{color:#e6edf3;background:#0d1117}text{fill:#e6edf3}.box{fill:#161b22;stroke:#9ea7b3}.who{fill:#9ea7b3}.edge{stroke:#6e7681}.state{stroke:#f0883e}td,th{border-color:#30363d}}
`

// graphAsHTML is one page: the drawing, left to the left, right to the right, and a table that says
// the same in words.
func graphAsHTML(pr *procedures.Procedure, drawn []procedures.Drawn) string {
	title := html.EscapeString(phrase.Of("command.graphhtml.revision", pr.Title, pr.Revision))
	var b strings.Builder
	fmt.Fprintf(&b, "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">\n<title>%s</title>\n<style>\n%s</style></head><body>\n<h1>%s</h1>\n", title, graphStyle, title)
	b.WriteString("<p>A thick edge is a hold, a broken one depends on a trait, a decision or a finding; a dotted line leads from where a state is left standing to where it is put back.</p>\n")
	b.WriteString(graphSVG(drawn))
	b.WriteString("<table><tr><th>Layer</th><th>Stage</th><th>Who</th><th>What</th></tr>\n")
	for _, d := range drawn {
		fmt.Fprintf(&b, "<tr><td>%d</td><td>%s</td><td>%s</td><td>%s</td></tr>\n", d.Layer, html.EscapeString(drawnTitle(d)), html.EscapeString(string(d.Stage.Who)),
			strings.Join(escaped(graphLines(d)), "<br>"))
	}
	b.WriteString("</table>\n</body></html>\n")
	return b.String()
}

func escaped(lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = html.EscapeString(l)
	}
	return out
}

func drawnTitle(d procedures.Drawn) string {
	if d.Ref.Side == procedures.NoSide {
		return d.Stage.Title
	}
	return d.Stage.Title + ", " + phrase.Word(d.Ref.Side)
}

type spot struct{ x, y int }

// graphSpots places the boxes: a layer is a row, left of the vehicle first and right last.
func graphSpots(drawn []procedures.Drawn) (at map[procedures.Ref]spot, wide, high int) {
	rows := map[int][]procedures.Drawn{}
	layers := 0
	for _, d := range drawn {
		rows[d.Layer] = append(rows[d.Layer], d)
		layers = max(layers, d.Layer)
	}
	for _, r := range rows {
		wide = max(wide, len(r)*(boxWide+boxGap))
	}
	at = map[procedures.Ref]spot{}
	for layer := 1; layer <= layers; layer++ {
		x := (wide - len(rows[layer])*(boxWide+boxGap) + boxGap) / 2
		for _, side := range []procedures.Side{procedures.Left, procedures.NoSide, procedures.Right} {
			for _, d := range rows[layer] {
				if d.Ref.Side == side {
					at[d.Ref] = spot{x, (layer - 1) * (boxHigh + layerGap)}
					x += boxWide + boxGap
				}
			}
		}
	}
	return at, wide, layers * (boxHigh + layerGap)
}

func graphSVG(drawn []procedures.Drawn) string {
	at, wide, high := graphSpots(drawn)
	var b strings.Builder
	fmt.Fprintf(&b, "<svg viewBox=\"-4 -4 %d %d\" width=\"%d\" role=\"img\" aria-label=\"%s\">\n", wide+8, high+8, wide, html.EscapeString(phrase.Of("command.graphhtml.stages-in-layers")))
	line := func(class string, from, to spot) {
		y := (from.y + boxHigh + to.y) / 2
		fmt.Fprintf(&b, "<path class=\"%s\" d=\"M%d %dC%d %d %d %d %d %d\"/>\n", class, from.x+boxWide/2, from.y+boxHigh, from.x+boxWide/2, y, to.x+boxWide/2, y, to.x+boxWide/2, to.y)
	}
	for _, d := range drawn {
		for _, r := range d.After {
			line("edge", at[r], at[d.Ref])
		}
	}
	for _, e := range stateEdges(drawn) {
		line("state", at[e.from], at[e.to])
	}
	for _, d := range drawn {
		p, class := at[d.Ref], "box"
		if d.Stage.Hold {
			class += " hold"
		}
		if d.When != "" {
			class += " maybe"
		}
		fmt.Fprintf(&b, "<g><title>%s</title><rect class=\"%s\" x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\" rx=\"4\"/>", html.EscapeString(drawnTitle(d)+": "+strings.Join(graphLines(d), "; ")), class, p.x, p.y, boxWide, boxHigh)
		for i, words := range boxLines(drawnTitle(d)) {
			fmt.Fprintf(&b, "<text x=\"%d\" y=\"%d\">%s</text>", p.x+8, p.y+16+14*i, html.EscapeString(words))
		}
		fmt.Fprintf(&b, "<text class=\"who\" x=\"%d\" y=\"%d\" text-anchor=\"end\">%s</text></g>\n", p.x+boxWide-6, p.y+boxHigh-5, html.EscapeString(string(d.Stage.Who)))
	}
	b.WriteString("</svg>\n")
	return b.String()
}

// boxLines breaks a title into the two lines a box has room for.
func boxLines(title string) []string {
	lines := strings.Split(strings.TrimSpace(wrap(title, 28, "", "")), "\n")
	if len(lines) > 2 {
		lines = append(lines[:1], strings.TrimSpace(lines[1])+" …")
	}
	return lines
}
