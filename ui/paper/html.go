package paper

import (
	"fmt"
	"html"
	"strings"
	"unicode/utf8"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/ui/draw"
)

// markup builds HTML. Everything that comes from outside passes say.
type markup struct{ strings.Builder }

// esc makes text harmless in HTML and SVG: cleaned of what steers and of what XML does not know,
// then escaped.
func esc(s string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if r == 0xfffe || r == 0xffff {
			return utf8.RuneError
		}
		return r
	}, draw.Clean(s)))
}

// raw writes markup of this package.
func (m *markup) raw(format string, args ...any) { fmt.Fprintf(&m.Builder, format, args...) }

// say writes an element around text from anywhere. open is the tag with its attributes.
func (m *markup) say(open, text string) {
	name, _, _ := strings.Cut(open, " ")
	m.raw("<%s>%s</%s>", open, esc(text), name)
}

// HTML writes the document as one file that needs nothing else and is well-formed XML too. It
// prints on A4 and Letter and says its mark and digest on every page; the page numbers are those of
// the browser's paper.
func (d Document) HTML() []byte {
	var m markup
	m.raw("<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\"/>\n", phrase.Language())
	m.raw("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\"/>\n")
	m.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<meta name=\"referrer\" content=\"no-referrer\"/>\n")
	m.say("title", d.Title+" - "+d.about)
	m.raw("\n<style>%s</style>\n</head>\n<body>\n", style)
	// The head of a table is repeated on every page by every browser.
	m.raw("<table class=\"sheet\">\n<thead><tr><td>\n<div class=\"run\"><div>")
	m.say("b", d.who)
	m.raw("<br/>")
	m.say("span", d.Title)
	m.raw("</div>")
	if d.mark != "" {
		m.say("div class=\"mark\"", phrase.Word(d.mark))
	}
	m.raw("<div class=\"right\">")
	m.say("span", d.about)
	m.raw("<br/>")
	m.say("span class=\"seal\"", d.seal)
	m.raw("</div></div>\n</td></tr></thead>\n<tbody><tr><td>\n")
	for _, b := range d.blocks {
		b.write(&m)
	}
	m.raw("</td></tr></tbody>\n</table>\n</body>\n</html>\n")
	return []byte(m.String())
}

// pageNumber is the content of the corner of a page, with the counters of the browser.
func pageNumber() string {
	return strings.TrimSuffix(`"`+phrase.Of("paper.html.page-of", `" counter(page) "`, `" counter(pages) "`)+`"`, ` ""`)
}

// style is calm on the screen and black on white on paper.
var style = `
@page { margin: 10mm 14mm 13mm 14mm; @bottom-right { content: ` + pageNumber() + `; font: 8.5pt "Liberation Sans", Arial, Helvetica, sans-serif; } }
* { box-sizing: border-box; }
html { background: #e9e9e7; }
body { margin: 0; color: #000; font: 9.5pt/1.35 "Liberation Sans", Arial, Helvetica, sans-serif; font-variant-numeric: tabular-nums; }
table { border-collapse: collapse; width: 100%; }
td, th { text-align: left; vertical-align: top; padding: 0; }
.sheet { width: 182mm; max-width: 100%; margin: 8mm auto; background: #fff; }
.sheet > tbody > tr > td, .sheet > thead > tr > td { padding: 0 8mm; }
.sheet > thead > tr > td { padding-top: 7mm; }
.sheet > tbody > tr > td { padding-bottom: 9mm; }
.run { display: flex; justify-content: space-between; gap: 6mm; border-bottom: 1.2pt solid #000; padding-bottom: 1.5mm; margin-bottom: 4mm; font-size: 8.5pt; line-height: 1.35; }
.run > div:first-child { flex: 0 0 auto; max-width: 45%; }
.run .right { text-align: right; overflow-wrap: anywhere; }
.seal { font-family: "Liberation Mono", "DejaVu Sans Mono", Consolas, monospace; font-size: 7.5pt; }
.mark { align-self: center; border: 1.6pt solid #000; padding: 0.6mm 4mm; font-weight: bold; font-size: 11pt; letter-spacing: 0.15em; white-space: nowrap; }
h1 { font-size: 15pt; line-height: 1.2; margin: 0 0 3mm; }
h2 { font-size: 11pt; margin: 4mm 0 1.2mm; border-bottom: 0.6pt solid #000; padding-bottom: 0.6mm; }
h3 { font-size: 9.5pt; margin: 3.5mm 0 1mm; }
h1, h2, h3 { break-after: avoid; page-break-after: avoid; }
p { margin: 0 0 2mm; orphans: 3; widows: 3; }
p.small { font-size: 8.5pt; color: #222; }
dl { display: grid; grid-template-columns: minmax(28mm, max-content) 1fr; gap: 0.8mm 5mm; margin: 0 0 2mm; }
dt { color: #333; max-width: 58mm; }
dd { margin: 0; }
.list { margin: 0 0 2mm; font-size: 9pt; line-height: 1.3; }
.list.close { font-size: 8pt; }
.list th { font-weight: bold; border-bottom: 0.8pt solid #000; padding: 0.7mm 2.5mm 0.7mm 0; vertical-align: bottom; }
.list td { border-bottom: 0.4pt solid #999; padding: 0.7mm 2.5mm 0.7mm 0; overflow-wrap: anywhere; }
.list tr { break-inside: avoid; page-break-inside: avoid; }
ul { margin: 0 0 2mm; padding-left: 5mm; }
li { margin-bottom: 0.6mm; break-inside: avoid; }
ul.tick { list-style: none; padding-left: 0; }
ul.tick li { padding-left: 7mm; position: relative; margin-bottom: 1.4mm; }
ul.tick li::before { content: ""; position: absolute; left: 0; top: 0.5mm; width: 3.6mm; height: 3.6mm; border: 0.9pt solid #000; }
.callout { border: 1.6pt solid #000; border-left-width: 5pt; padding: 2mm 4mm; margin: 3mm 0; break-inside: avoid; }
.callout b { display: block; font-size: 11pt; }
.figures { display: flex; flex-wrap: wrap; gap: 3mm 6mm; margin: 1mm 0 2mm; }
figure { margin: 0; break-inside: avoid; flex: 0 1 auto; max-width: 100%; }
figure svg { display: block; max-width: 100%; height: auto; }
figcaption { font-size: 8.5pt; margin-bottom: 1mm; font-weight: bold; }
.sign + p { margin-top: 3mm; }
.sign { display: flex; gap: 3mm; align-items: flex-end; margin-top: 10mm; break-inside: avoid; }
.sign i { flex: 1; border-bottom: 0.8pt solid #000; }
.label { border: 4pt solid #000; outline: 1pt solid #000; outline-offset: 1.5mm; min-height: 108mm; margin: 6mm 2mm 12mm; padding: 8mm; display: flex; flex-direction: column; justify-content: center; text-align: center; break-inside: avoid; }
.label b { font-size: 34pt; line-height: 1.15; text-transform: uppercase; margin-bottom: 8mm; overflow-wrap: anywhere; }
.dense { font-size: 8.7pt; line-height: 1.2; }
.dense h1 { font-size: 13pt; margin-bottom: 1.5mm; }
.dense h2 { font-size: 10pt; margin: 2mm 0 0.7mm; }
.dense .list { font-size: 8.4pt; line-height: 1.15; margin-bottom: 1mm; }
.dense .list th, .dense .list td { padding-top: 0.3mm; padding-bottom: 0.3mm; }
.dense dl { gap: 0.3mm 5mm; margin-bottom: 1mm; }
.dense .callout { padding: 1mm 3mm; margin: 1.5mm 0; }
.dense .callout b { display: inline; margin-right: 3mm; }
.dense .sign { margin: 6mm 0 1mm; }
.dense p { margin-bottom: 1mm; }
.dense p.small { font-size: 7.5pt; }
.kept { break-inside: avoid; page-break-inside: avoid; }
.turn { break-before: page; page-break-before: always; }
@media screen { .turn { border-top: 1pt dashed #888; margin: 9mm -8mm; } }
@media print {
html { background: none; }
.sheet { width: 100%; margin: 0; }
.sheet > tbody > tr > td, .sheet > thead > tr > td { padding: 0; }
}
`
