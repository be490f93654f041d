package draw

import (
	"strconv"
	"strings"
	"testing"
)

// The samples draw invented demo data. Every one is compared with a golden file
// in both glyph sets and in its own colours.
type sample struct {
	name string
	w, h int
	draw func(t *Theme, w, h int) string
}

func a(text string) Amount {
	at, err := strconv.ParseFloat(strings.ReplaceAll(text, " ", ""), 64)
	if err != nil {
		panic(err)
	}
	return Amount{At: at, Text: text}
}

func amounts(text string) []Amount {
	var out []Amount
	for _, f := range strings.Fields(text) {
		out = append(out, a(f))
	}
	return out
}

func gauge(name string, w int, g Gauge) sample {
	return sample{name, w, 3, func(t *Theme, w, _ int) string { return g.Draw(t, w) }}
}

var (
	nut     = Gauge{Low: a("108"), High: a("132"), Aim: a("120"), Unit: "N·m"}
	disc    = Gauge{Low: a("16.00"), Full: a("18.00"), Unit: "mm"}
	runout  = Gauge{High: a("0.08"), Unit: "mm"}
	worn    = Ring{Points: amounts("16.421 16.415 16.418 16.427 16.436 16.441 16.433 16.426"), Next: -1, Unit: "mm", Notes: []string{"DTV 0.026"}}
	turned  = Curve{Readings: amounts("0 0.02 0.02 0.01 -0.01 -0.04 -0.08 -0.10 -0.10 -0.09 -0.07 -0.04"), Fit: &Harmonic{Mean: -0.04, Amplitude: 0.0635, Peak: 52}, Unit: "mm", Note: "total 0.12 mm"}
	studs   = Positions{Limit: a("0.08"), Best: 3, Unit: "mm", Rows: []Position{{"as fitted", a("0.127"), true, true}, {"1 stud on", a("0.090"), true, false}, {"2 studs on", a("0.031"), false, false}, {"3 studs on", a("0.042"), false, true}, {"4 studs on", a("0.099"), true, false}, {"5 studs on", a("0.130"), true, false}}}
	seized  = PadPoints{InnerLeading: a("3.1"), InnerTrailing: a("3.0"), OuterLeading: a("7.4"), OuterTrailing: a("7.5"), New: a("11.5"), Limit: a("2.0"), Unit: "mm", State: Inside}
	wearing = WearLine{Points: []WearPoint{{a("42 180"), a("11.5")}, {a("61 430"), a("7.9")}}, Limit: a("2.0"), Warning: a("3.0"), Uncertainty: 0.2, Soonest: a("89 000"), Latest: a("93 000"), Unit: "mm", Note: "check again at 75 000 km"}
	course  = Phases{{Name: "Open", State: Done}, {Name: "Raise", State: Done}, {Name: "Measure", Sided: true, Left: Done, Right: Done}, {Name: "Strip", Sided: true, Left: Done, Right: Stale}, {Name: "Build", Sided: true, Left: Now, Right: Waiting}, {Name: "Lower", State: Blocked}, {Name: "Release", State: Waiting}}
	keys    = []Binding{{"Enter", "accept"}, {"S", "sign"}, {"-", "back"}, {"?", "why not"}, {"/", "list"}, {"O", "what is open"}, {"H", "help"}}
	nuts    = Table{Headings: []Heading{{"nut", true}, {"side", false}, {"value", true}, {"verdict", false}}, Selected: 3, Empty: "No nut is tightened yet.", Rows: [][]Cell{
		{{Text: "1"}, {Text: "REAR LEFT"}, {Text: "120.0 N·m"}, {State: Inside}}, {{Text: "2"}, {Text: "REAR LEFT"}, {Text: "131.5 N·m"}, {State: NotProven}}, {{Text: "3"}, {Text: "REAR LEFT"}, {Text: "139.5 N·m"}, {State: Outside}},
		{{Text: "4"}, {Text: "REAR LEFT"}, {Text: ""}, {State: Missing}}, {{Text: "5"}, {Text: "REAR LEFT"}, {Text: "119.0 N·m"}, {State: Stale}}, {{Text: "6"}, {Text: "REAR LEFT"}, {Text: ""}, {State: Open}}}}
)

// with fills a gauge with a value.
func (g Gauge) with(value string, uncertainty float64, s State) Gauge {
	g.Value, g.Uncertainty, g.State = a(value), uncertainty, s
	return g
}

// half is a ring in the middle of being measured.
func half() Ring {
	r := worn
	r.Points, r.Next = append([]Amount{}, r.Points...), 5
	for i := 5; i < len(r.Points); i++ {
		r.Points[i] = Amount{}
	}
	return r
}

var samples = []sample{
	gauge("gauge-inside", 60, nut.with("120.5", 0, Inside)),
	gauge("gauge-not-proven", 60, nut.with("131.5", 1.3, NotProven)),
	gauge("gauge-over", 60, nut.with("139.5", 1.4, Outside)),
	gauge("gauge-under-far", 60, nut.with("60", 0.6, Outside)),
	gauge("gauge-empty", 60, Gauge{Low: a("108"), High: a("132"), Aim: a("120"), Unit: "N·m", State: Missing}),
	gauge("gauge-at-limit", 60, nut.with("132", 0, Inside)),
	gauge("gauge-narrow", 30, nut.with("139.5", 1.4, Outside)),
	gauge("gauge-wide", 100, nut.with("112.0", 1.1, Inside)),
	gauge("gauge-least", 60, disc.with("16.415", 0.01, Inside)),
	gauge("gauge-least-under", 60, disc.with("15.98", 0.01, Outside)),
	gauge("gauge-most", 60, runout.with("0.04", 0.01, Inside)),
	gauge("gauge-most-over", 60, runout.with("0.12", 0.01, Outside)),
	{"gauge-lines", 72, 4, func(t *Theme, w, _ int) string {
		return strings.Join([]string{nut.with("120.5", 1, Inside).Line(t, w), nut.with("139.5", 1, Outside).Line(t, w), disc.with("16.01", 0.02, NotProven).Line(t, w), runout.with("0.04", 0.01, Inside).Line(t, w)}, "\n")
	}},
	{"ring", 30, 13, worn.Draw},
	{"ring-half", 34, 13, half().Draw},
	{"ring-twelve", 40, 15, Ring{Points: amounts("27.98 27.97 27.97 27.96 27.95 27.95 27.94 27.95 27.96 27.97 27.98 27.98"), Next: -1, Unit: "mm"}.Draw},
	{"ring-list", 24, 6, worn.Draw},
	{"curve", 72, 14, turned.Draw},
	{"curve-narrow", 36, 9, turned.Draw},
	{"positions", 76, 7, studs.Draw},
	{"positions-narrow", 48, 7, studs.Draw},
	{"pads", 60, padHeight, func(t *Theme, w, _ int) string { return seized.Draw(t, w) }},
	{"pads-empty", 60, padHeight, func(t *Theme, w, _ int) string {
		return PadPoints{New: a("11.5"), Limit: a("2.0"), Unit: "mm"}.Draw(t, w)
	}},
	{"wear", 72, 14, wearing.Draw},
	{"big-five", 76, 5, func(t *Theme, w, h int) string { return t.BigText(Title, "-16.4028", w, h) }},
	{"big-three", 70, 3, func(t *Theme, w, h int) string { return t.BigText(Title, "+13579.0246 -8", w, h) }},
	{"big-no-room", 20, 5, func(t *Theme, w, h int) string { return t.BigText(Title, "16.415", w, h) }},
	{"phases", 80, phaseHeight, func(t *Theme, w, _ int) string { return course.Draw(t, w) }},
	{"phases-narrow", 44, len(course), func(t *Theme, w, _ int) string { return course.Draw(t, w) }},
	{"table", 60, 7, nuts.Draw},
	{"table-cut", 40, 5, nuts.Draw},
	{"table-empty", 40, 2, Table{Selected: -1, Empty: nuts.Empty}.Draw},
	{"keybar", 80, 1, func(t *Theme, w, _ int) string { return t.KeyBar(keys, w) }},
	{"keybar-narrow", 40, 1, func(t *Theme, w, _ int) string { return t.KeyBar(keys, w) }},
	{"states", 20, int(stateCount) - 1, func(t *Theme, w, h int) string {
		var lines []string
		for s := NoState + 1; s < stateCount; s++ {
			lines = append(lines, t.Badge(s))
		}
		return t.Fit(strings.Join(lines, "\n"), w, h)
	}},
	{"box-columns", 70, 8, func(t *Theme, w, h int) string {
		left := t.Box("What to do", strings.Join(t.Wrap("Clean the hub face. Fit the disc at the mark, and turn it by hand: it must sit flat all round.", 30), "\n"), 34, h)
		right := t.Box("Caution", t.Style(Caution, "Never hang it by the hose.")+"\n"+t.Badge(Open)+t.Style(Text, " caliper hung"), 34, h)
		return t.Columns(h, 2, Column{left, 34}, Column{right, 34})
	}},
}

func theme(tb testing.TB, o Options) *Theme {
	tb.Helper()
	th, err := NewTheme(o)
	if err != nil {
		tb.Fatal(err)
	}
	return th
}
