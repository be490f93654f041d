package bay

import (
	"context"
	"fmt"
	"math/big"
	"strings"
	"time"

	"bay.example/pawl/job/phrase"
	"bay.example/pawl/job/questions"
	"bay.example/pawl/store"
	"bay.example/pawl/ui/draw"
)

// workshopSpan is which days the view of the work covers; empty is the last twelve months.
type workshopSpan struct{ from, to string }

// read reads the view of the span as it is now.
func (s workshopSpan) read() func(*store.File) (any, error) {
	return func(f *store.File) (any, error) { return f.WorkshopView(context.Background(), s.from, s.to) }
}

// newWorkshopView shows how the work went: for training, and for nothing else.
func newWorkshopView() Screen {
	span := &workshopSpan{}
	s := &reading{head: phrase.Of("bay.deskworkshop.desk-how-the-work-goes")}
	s.load = span.read()
	s.lines = func(e *Env, v any, w int) ([]string, []int) { return workshopLines(e, v.(store.WorkshopView), w) }
	s.keys = func(*Env) []Binding {
		return []Binding{{Key: "S", Word: phrase.Of("bay.deskworkshop.span-of-days"), Bar: true}}
	}
	s.press = func(_ *Env, k Key) Action {
		if k.Letter() != 'S' {
			return Unknown{}
		}
		return Ask{Name: "span", Dialog: newForm(phrase.Of("bay.deskworkshop.which-days"), []line{{text: phrase.Of("bay.deskworkshop.empty-the-last-twelve-months")}}, []formField{
			{label: phrase.Of("bay.deskworkshop.from"), value: span.from, optional: true, hint: phrase.Of("bay.deskworkshop.year-month-day-this-day-included"), check: emptyOrDay},
			{label: phrase.Of("bay.deskworkshop.to"), value: span.to, optional: true, hint: phrase.Of("bay.deskworkshop.year-month-day-this-day-included"), check: emptyOrDay}})}
	}
	s.heard = func(_ *Env, in Input) Action {
		if a, ok := in.(Answer); ok && a.Name == "span" {
			v := a.Value.([]string)
			*span = workshopSpan{strings.TrimSpace(v[0]), strings.TrimSpace(v[1])}
			s.load = span.read()
			return s.again()
		}
		return ignore(in)
	}
	return s
}

func emptyOrDay(text string) error {
	if strings.TrimSpace(text) == "" {
		return nil
	}
	return isDay(text)
}

// workshopLines writes the view out.
func workshopLines(e *Env, v store.WorkshopView, w int) (out []string, parts []int) {
	t := e.Theme
	out = drawLines(t, []line{{role: draw.Title, text: phrase.Of("bay.deskworkshop.how-the-work-goes", v.Times.Span())},
		{text: phrase.Of("bay.deskworkshop.for-training-and-for-better-tools-it")}}, w)
	if n := len(v.Unjudged); n > 0 {
		out = append(out, drawLines(t, []line{{role: draw.Warn, text: phrase.Of("bay.deskworkshop.cannot-be-read-the-figures-are-not", phrase.Count("count.job", n))}}, w)...)
	}
	for _, a := range []questions.Answer{v.FirstTimeRight, v.Repeated, v.Times, v.Retorques} {
		parts = append(parts, len(out)+1)
		out = append(out, "")
		out = append(out, answerLines(t, a, w)...)
	}
	parts = append(parts, len(out)+1)
	out = append(out, "", t.Style(draw.Title, phrase.Of("bay.deskworkshop.second-persons-from-signature-to-countersign")))
	tb := draw.Table{Selected: -1, Empty: phrase.Of("bay.deskworkshop.none-found-no-countersign-in-this-span"), Headings: []draw.Heading{{Title: phrase.Of("bay.deskworkshop.stage")}, {Title: phrase.Of("bay.deskworkshop.times"), Right: true}, {Title: phrase.Of("bay.deskworkshop.median"), Right: true}, {Title: phrase.Of("bay.deskworkshop.longest"), Right: true}}}
	for _, d := range v.Delays {
		tb.Rows = append(tb.Rows, cells(d.Stage, fmt.Sprint(d.Times), minutesWords(d.Median), minutesWords(d.Longest)))
	}
	out = append(out, tableLines(t, tb, w)...)
	parts = append(parts, len(out)+1)
	out = append(out, "", t.Style(draw.Title, phrase.Of("bay.deskworkshop.wrenches-what-checks-found-against-what-was")))
	out = append(out, drawLines(t, []line{{text: phrase.Of("bay.deskworkshop.a-reason-to-look-at-a-wrench")}}, w)...)
	if len(v.Drift) == 0 {
		out = append(out, drawLines(t, []line{{text: phrase.Of("bay.deskworkshop.none-found-no-tightening-was-checked-with")}}, w)...)
	}
	for _, d := range v.Drift {
		out = append(out, driftLines(e, d, w)...)
	}
	return out, parts
}

// minutesWords is a time as people say it.
func minutesWords(d time.Duration) string {
	if d < time.Minute {
		return phrase.Of("bay.deskworkshop.under-1-min")
	}
	if d < 2*time.Hour {
		return phrase.Of("bay.deskworkshop.min", int(d.Minutes()))
	}
	return fmt.Sprintf("%.1f h", d.Hours())
}

// answerLines is a whole answer in lines, for a page that scrolls.
func answerLines(t *draw.Theme, a questions.Answer, w int) []string {
	out := answerHead(t, a, w)
	tb := draw.Table{Selected: -1}
	for _, c := range a.Columns {
		tb.Headings = append(tb.Headings, draw.Heading{Title: c.Title, Right: c.Numeric})
	}
	for _, r := range a.Rows {
		tb.Rows = append(tb.Rows, cells(r.Cells...))
	}
	if len(a.Rows) > 0 {
		out = append(out, tableLines(t, tb, w)...)
	}
	for _, n := range a.Notes {
		out = append(out, drawLines(t, []line{{role: draw.Faint, text: sentence(n)}}, w)...)
	}
	return out
}

// tableLines is a table with all its rows.
func tableLines(t *draw.Theme, tb draw.Table, w int) []string {
	return strings.Split(tb.Draw(t, w, max(len(tb.Rows)+1, 1)), "\n")
}

// driftLines is the control chart of one wrench: a row a check, its place between the limits.
func driftLines(e *Env, d questions.Drift, w int) []string {
	t := e.Theme
	out := drawLines(t, []line{{text: e.decimals(d.Words())}}, w)
	if d.Chart == nil {
		return out
	}
	beyond := map[int]bool{}
	for _, i := range d.Chart.Beyond {
		beyond[i] = true
	}
	low, high := float(d.Chart.Lower), float(d.Chart.Upper)
	from, to := low, high
	for _, p := range d.Points {
		from, to = min(from, float(p.Percent)), max(to, float(p.Percent))
	}
	wide := max(min(w-46, 60), 10)
	place := func(x float64) int {
		if to == from {
			return wide / 2
		}
		return int((x - from) / (to - from) * float64(wide-1))
	}
	for i, p := range d.Points {
		row := []string{}
		for range wide {
			row = append(row, " ")
		}
		row[place(low)], row[place(high)] = t.Glyphs.Down, t.Glyphs.Down
		row[place(float(d.Chart.Mean))] = "."
		row[place(float(p.Percent))] = t.Glyphs.Reading
		word, role := "", draw.Text
		if beyond[i+1] {
			word, role = phrase.Of("bay.deskworkshop.beyond"), draw.Warn
		}
		out = append(out, t.Style(role, phrase.Of("bay.deskworkshop.job", p.When.Format("2006-01-02"), p.Job, e.decimals(p.Percent.FloatString(1))))+t.Style(draw.Title, strings.Join(row, ""))+t.Style(role, " "+word))
	}
	return out
}

func float(r *big.Rat) float64 { f, _ := r.Float64(); return f }
